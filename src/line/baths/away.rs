//! Times when nobody is in sight of the tanks: breaks and nights for which the scenario does not say `stays: yes`.
//!
//! Before a break begins that nobody stays for, loads are out, heaters off and lids on. A load that would not be out in
//! time waits, or goes in earlier; only one that no stretch between two breaks could take goes in all the same, and then
//! somebody must stay until it is out, which the record says. What is in a bath is lifted whatever the hour, and the
//! heater goes off with the last of it.
//!
//! # Known and left
//!
//! - Hands stay up to four hours after closing for what cannot wait, in a bath as long as it takes; in the night and
//!   before the first opening nobody comes, and the limit that breaks is told.

use super::Baths;
use crate::day::Day;
use crate::ids::{Of, TankIx};
use tankday_base::bath::{Bath, HOT, Heater, Lid, TankHeat};
use tankday_base::shop::{Calendar, HeatOff, HeatOn, Shop, Tank as Inside};
use tankday_base::units::Span;
use tankday_record::LogEntry;

/// For each tank the longest time that a load can take with somebody there from first to last, the bath being hot again;
/// nothing where no break is without somebody.
pub(crate) fn longest(shop: &Shop, heat: &Of<TankIx, TankHeat>) -> Of<TankIx, Span> {
    let mut stretches = stretches(&shop.calendar);
    if stretches.iter().all(|s| s.0.is_none()) {
        return Of::new();
    }
    stretches.sort_unstable();
    stretches.dedup();
    let tanks = shop.tanks().zip(heat);
    tanks
        .map(|((.., tank), table)| {
            let usable = |s: &(Option<Span>, Span)| s.1 - recovery(shop, tank, table, s.0);
            stretches.iter().map(usable).max().unwrap_or_default()
        })
        .collect()
}

/// Stretches with somebody there: after a break of what length, none after opening; and how long.
fn stretches(calendar: &Calendar) -> Vec<(Option<Span>, Span)> {
    let mut all = Vec::new();
    for day in &calendar.days {
        let (mut from, mut after) = (day.open, None);
        for pause in day.breaks.iter().filter(|b| !b.stays) {
            all.push((after, pause.from - from));
            (from, after) = (pause.until, Some(pause.until - pause.from));
        }
        all.push((after, day.close - from));
    }
    all
}

/// How long a bath takes to its band after a break, or from cold at opening.
fn recovery(shop: &Shop, tank: &Inside, table: &TankHeat, after: Option<Span>) -> Span {
    let band = shop.baths[tank.bath.index()].band;
    let rule = shop.rules.heat;
    let early = rule.on != HeatOn::AtOpening || rule.off == HeatOff::Never;
    let from = match after {
        None if early && rule.unattended => return Span::ZERO,
        None => shop.air.temperature,
        Some(_) => band.hold,
    };
    let mut bath = Bath::new(table, tank.volume, from);
    bath.set_lid(Lid::On);
    bath.advance(table, after.unwrap_or_default());
    if bath.temperature() >= band.least {
        return Span::ZERO;
    }
    bath.switch(Heater::Keep(band.hold));
    let takes = bath.time_until_temperature(table, band.least);
    takes.unwrap_or(Span::FOREVER)
}

impl Baths<'_> {
    /// Whether heaters must be off now but for a load that is in.
    pub(super) fn must_be_off(&self, day: &Day<'_>) -> bool {
        let by_timer = self.plan.rules.heat.unattended;
        day.away().is_some_and(|a| a.in_break || !by_timer)
    }

    /// Nobody is at a tank from now on: its heater goes off, its lid on. With a load in it somebody stays, and this comes
    /// when that is out.
    pub(super) fn leave(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let Some(away) = day.away().filter(|a| a.in_break) else {
            return;
        };
        self.touch(day, tank);
        if !self.tanks[tank].inside.is_empty() || self.tanks[tank].hands.filling > 0 {
            return;
        }
        let t = &mut self.tanks[tank];
        let hot = t.is_on() || t.heat.temperature() > HOT;
        if t.is_on() {
            t.heater.resumes = true;
            self.switch_off(day, tank);
        } else {
            self.set_lid(day, tank);
            self.renew(day, tank);
        }
        let (station, until) = (self.tanks[tank].station, away.until);
        if self.holds_wool(tank) {
            day.note(|| LogEntry::LeftAlone { tank: station, until });
        } else if hot {
            day.note(|| LogEntry::Left { tank: station, until });
        }
    }

    /// The shop closes and nobody stays: a tank whose heater is off is covered. Of a hot one the record says so.
    pub(super) fn cover(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.set_lid(day, tank);
        let Some(away) = day.away() else { return };
        let t = &self.tanks[tank];
        let left = !t.is_on() && t.inside.is_empty() && !self.holds_wool(tank);
        if left && t.heat.temperature() > HOT {
            let (station, until) = (t.station, away.until);
            day.note(|| LogEntry::Left { tank: station, until });
        }
    }

    /// Somebody is there again: a bath goes on as it was left. One that is off after its last load is switched on only for
    /// work that is to come.
    pub(super) fn come_back(&mut self, day: &mut Day<'_>, tank: TankIx) {
        if !std::mem::take(&mut self.tanks[tank].heater.resumes) {
            return;
        }
        self.touch(day, tank);
        if self.warms_wool(tank) {
            self.warm_wool(day, tank);
            self.set_lid(day, tank);
            self.renew(day, tank);
        } else if self.tanks[tank].care.is_none()
            && self.plan.rules.heat.off != HeatOff::AfterLast
            && self.can_finish(day, tank)
        {
            self.switch_on(day, tank);
        }
    }

    /// Whether wool that goes into a bath now, or once it is warm enough, is out again before nobody is there. What could
    /// never be is not kept back from the bath while somebody is there.
    pub(super) fn wool_out_in_time(&self, day: &Day<'_>, tank: TankIx, takes: Span) -> bool {
        if day.away().is_some() {
            return false;
        }
        let Some(away) = day.coming_away() else {
            return true;
        };
        let longest = self.longest.find(tank).copied();
        takes <= away.from - day.now() || longest.is_some_and(|l| takes > l)
    }
}
