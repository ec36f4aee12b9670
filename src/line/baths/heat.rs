//! Heaters and lids by the rules: when they are switched on and off, and who is left alone with them.
//!
//! # Known and left
//!
//! - A bath that a break just before `ready by` lets cool too far is not hot in time: its heater goes on no earlier
//!   for that.

use super::Baths;
use super::tank::{at_least, midnight};
use crate::day::{Away, Day, Event};
use crate::ids::TankIx;
use crate::kernel::ENDS;
use tankday_base::bath::{Heater, Lid};
use tankday_base::shop::{Chore, HeatOff, HeatOn, LidRule, OrderId, Trigger};
use tankday_base::units::{Moment, Span};
use tankday_record::LogEntry;

/// For less than this nobody switches a heater off and on again (assumption, no source).
const SHORTEST_REST: Span = Span::whole_minutes(10);

/// Stands for the time of a heating-up that never comes to its end.
const NEVER: Span = Span::whole_minutes(24 * 60);

impl Baths<'_> {
    /// Puts the next switching-on before or at the coming opening on the calendar.
    pub(super) fn expect_heat(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let Some(opens) = day.next_opening(day.now()).filter(|o| *o < Moment::NEVER) else {
            return;
        };
        let on = match self.plan.rules.heat.on {
            HeatOn::AtOpening => opens,
            HeatOn::At(clock) => midnight(opens) + clock,
            HeatOn::ReadyBy(clock) => self.start_for(day, tank, midnight(opens) + clock),
        };
        let on = match self.planned_heat(tank, opens) {
            Some(ready) => on.max(self.start_for(day, tank, ready)),
            None => on,
        };
        let on = if self.plan.rules.heat.unattended || day.stays() {
            on
        } else {
            on.max(opens)
        };
        let on = on.max(day.now());
        let handle = day.schedule(on, ENDS, Event::HeatOn(tank));
        let t = &mut self.tanks[tank];
        t.heater.heat_on = Some(handle);
        t.at = t.at.min(on);
    }

    /// When to switch on so that the band is reached at `ready`: the later it starts, the colder the bath has become.
    fn start_for(&self, day: &Day<'_>, tank: TankIx, ready: Moment) -> Moment {
        let table = &self.heat[tank];
        let least = self.band(tank).least;
        let mut start = ready;
        for _ in 0..4 {
            let mut heat = self.tanks[tank].heat;
            if heat.heater() != Heater::Off {
                heat.switch(Heater::Off);
                heat.set_lid(self.lid_when_off());
            }
            heat.advance(table, (start - self.tanks[tank].at).max(Span::ZERO));
            heat.switch(Heater::Keep(self.band(tank).hold));
            let takes = heat.time_until_temperature(table, least).unwrap_or(NEVER);
            start = (ready - takes).max(day.now());
        }
        let between = |a: &Away| a.from < ready && a.until > start;
        if day.alone_in_breaks().any(between) {
            self.start_around_breaks(day, tank, ready, start)
        } else {
            start
        }
    }

    fn lid_when_off(&self) -> Lid {
        match self.plan.rules.heat.lid {
            LidRule::Never => Lid::Off,
            LidRule::BetweenLoads | LidRule::WhenOff => Lid::On,
        }
    }

    /// The same where breaks lie between in which the heater is off, since nobody stays: so much earlier as that costs. A bath
    /// that a break just before lets cool too far is not hot in time whenever it starts.
    fn start_around_breaks(&self, day: &Day<'_>, tank: TankIx, ready: Moment, start: Moment) -> Moment {
        let (mut best, mut late) = (start, self.hot_from(day, tank, start, ready) - ready);
        for _ in 0..8 {
            // Whatever moment of a break it is switched on at, it heats from its end on.
            let within = day.alone_in_breaks().find(|a| a.from <= best && best < a.until);
            let earlier = (within.map_or(best, |a| a.from) - late).max(day.now());
            let left = self.hot_from(day, tank, earlier, ready) - ready;
            if late <= Span::ZERO || left >= late {
                break;
            }
            (best, late) = (earlier, left);
        }
        best
    }

    /// From when on a bath stays in its band that is switched on at a moment, with its heater off and lid on in every break
    /// up to `ready` that nobody stays for.
    pub(super) fn hot_from(&self, day: &Day<'_>, tank: TankIx, on: Moment, ready: Moment) -> Moment {
        let (table, band) = (&self.heat[tank], self.band(tank));
        let t = &self.tanks[tank];
        let mut heat = t.heat;
        if heat.heater() != Heater::Off {
            heat.switch(Heater::Off);
            heat.set_lid(self.lid_when_off());
        }
        heat.advance(table, (on - t.at).max(Span::ZERO));
        let mut now = on;
        let breaks = day.alone_in_breaks();
        for away in breaks.filter(|a| a.until > on && a.from < ready) {
            heat.switch(Heater::Keep(band.hold));
            heat.advance(table, (away.from - now).max(Span::ZERO));
            heat.switch(Heater::Off);
            heat.set_lid(Lid::On);
            heat.advance(table, away.until - away.from.max(on));
            now = away.until;
        }
        heat.switch(Heater::Keep(band.hold));
        let takes = heat.time_until_temperature(table, band.least);
        let warm = at_least(heat.temperature(), band.least);
        now + if warm { Span::ZERO } else { takes.unwrap_or(NEVER) }
    }

    pub(crate) fn heat_on(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.tanks[tank].heater.heat_on = None;
        self.touch(day, tank);
        let needed = self.tanks[tank].care.is_none() && self.expects_load(day, tank);
        // In a break nobody switches it on: whoever comes back does.
        if needed && !self.must_be_off(day) && self.is_worth_heating(day, tank) {
            self.switch_on(day, tank);
            let station = self.tanks[tank].station;
            let until = day.back_on_duty();
            if day.away().is_some() && !day.on_duty() && until > day.now() {
                day.note(|| LogEntry::LeftAlone { tank: station, until });
            }
        }
        self.mark_tank(day, tank);
    }

    /// Whether somebody who is there switches a heater on for work that is to come.
    pub(super) fn is_worth_heating(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let can_be_hot = !self.is_cut_off(tank) && !self.must_cool_first(tank);
        can_be_hot && self.may_work(day, tank) && self.can_finish(day, tank)
    }

    /// Whether a load could be out before closing of a bath that is switched on now, as short as it may stay. A plan answers for
    /// itself, and so does a bath that is kept hot over closing, or that no stretch of the hours is long enough for.
    pub(super) fn can_finish(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let (closes, least) = (day.closes(), self.recipe(tank).least);
        if self.planned_before(tank, closes).is_some()
            || self.plan.rules.heat.off == HeatOff::Never
            || self.longest.find(tank).is_some_and(|l| *l < least)
        {
            return true;
        }
        // A heater that is too weak for its band goes on all the same, and what it comes to is told.
        let takes = self.hot_from(day, tank, day.now(), closes) - day.now();
        day.now() > closes || takes >= NEVER || day.now() + takes + least <= closes
    }

    /// Whether a load may still go in: the bath takes one, or care is due that may mend it.
    fn may_work(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let bath = self.tanks[tank].chemistry.as_ref();
        let foul = bath.is_some_and(|b| b.contaminants.any());
        let takes_some = self.is_fit_to_coat(tank) && !self.keeps_all_back(day, tank);
        !foul && (takes_some || self.care_due(tank).is_some())
    }

    /// Whether the bath takes scrap only, and none is to come today.
    pub(super) fn keeps_all_back(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let coming = &self.plan.scrap[tank];
        self.takes_scrap_only(tank)
            && self.tanks[tank].coming.scrap <= 0
            && !coming.come_between(day.now(), day.closes())
            && !self.any_left(&coming.streams)
    }

    /// Care is due for which the bath is cooled, and until then no load goes in: it is not heated first. What it settled
    /// since its heater went off counts.
    fn must_cool_first(&self, tank: TankIx) -> bool {
        let due = self.care_due(tank).map(|rule| self.chore(tank, rule));
        matches!(due, Some(Chore::Stop(_) | Chore::Renew { .. }))
    }

    /// Work has come to a cold tank after the heaters were switched on for the day: somebody lights it again.
    pub(super) fn light_again(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let t = &self.tanks[tank];
        if day.on_duty() && t.heater.heat_on.is_none() && !t.is_on() && t.care.is_none() {
            let handle = day.schedule(day.now(), ENDS, Event::HeatOn(tank));
            self.tanks[tank].heater.heat_on = Some(handle);
        }
    }

    pub(super) fn switch_on(&mut self, day: &mut Day<'_>, tank: TankIx) {
        if self.is_cut_off(tank) {
            return;
        }
        let (least, hold) = (self.band(tank).least, self.band(tank).hold);
        let t = &mut self.tanks[tank];
        if !t.is_on() {
            t.heater.on_since = day.now();
            t.heat.switch(Heater::Keep(hold));
            t.heater.was_in_band = at_least(t.heat.temperature(), least);
        }
        self.set_lid(day, tank);
        self.renew(day, tank);
    }

    pub(super) fn switch_off(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let now = day.now();
        let t = &mut self.tanks[tank];
        t.heat.switch(Heater::Off);
        t.heater.off_since = now;
        self.heater_off(tank);
        self.set_lid(day, tank);
        self.renew(day, tank);
    }

    pub(super) fn set_lid(&mut self, day: &Day<'_>, tank: TankIx) {
        let (rule, reaching) = (self.plan.rules.heat.lid, self.reaching(tank).is_some());
        let away = day.away().is_some();
        let t = &mut self.tanks[tank];
        let off = !t.is_on();
        let cools = off && reaching && day.on_duty();
        let lid = match rule {
            LidRule::BetweenLoads => t.inside.is_empty() && !cools,
            LidRule::WhenOff => off && t.inside.is_empty() && !cools,
            LidRule::Never => false,
        } || (off && t.inside.is_empty() && away);
        t.heat.set_lid(if lid { Lid::On } else { Lid::Off });
    }

    /// Whether a load can still go into this tank today: by the plan, where it knows of all.
    pub(super) fn expects_load(&self, day: &Day<'_>, tank: TankIx) -> bool {
        if !self.tanks[tank].inside.is_empty() {
            return true;
        }
        self.planned_before(tank, day.closes())
            .unwrap_or_else(|| self.expects_work(day, tank))
    }

    /// The plan has the bath hot again later in the day, and no load goes in before: off until then, if there is time to
    /// cool. Whether it was switched off.
    pub(super) fn rests(&mut self, day: &mut Day<'_>, tank: TankIx) -> bool {
        let Some(hot) = self.hot_next(day, tank) else {
            return false;
        };
        if self.planned_before(tank, hot) != Some(false) {
            return false;
        }
        let on = self.start_for(day, tank, hot);
        if on - day.now() < SHORTEST_REST {
            return false;
        }
        self.switch_off(day, tank);
        let handle = day.schedule(on, ENDS, Event::HeatOn(tank));
        if let Some(old) = self.tanks[tank].heater.heat_on.replace(handle) {
            day.cancel(old);
        }
        true
    }

    /// Whether work can still come to this tank, today or later.
    pub(super) fn expects_work(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let t = &self.tanks[tank];
        if t.coming.loads > 0 || !t.inside.is_empty() {
            return true;
        }
        let coming = &self.plan.arrivals[tank];
        coming.come_between(day.now(), day.closes()) || self.any_left(&coming.streams)
    }

    /// Whether any of these sources of orders still has one to come.
    fn any_left(&self, sources: &[OrderId]) -> bool {
        sources.iter().any(|&source| self.streams[source])
    }

    pub(crate) fn tanks_at_opening(&mut self, day: &mut Day<'_>) {
        self.expect_clock_care(day);
        for tank in self.tanks.ids() {
            self.touch(day, tank);
            self.come_back(day, tank);
            self.lid_of_cooling(day, tank);
            self.renew(day, tank);
            self.mark_tank(day, tank);
        }
    }

    /// A bath that cools under care is open while somebody is there.
    fn lid_of_cooling(&mut self, day: &Day<'_>, tank: TankIx) {
        if self.reaching(tank).is_some() {
            self.set_lid(day, tank);
        }
    }

    /// At the beginning or end of a break.
    pub(crate) fn tanks_looked_at(&mut self, day: &mut Day<'_>) {
        for tank in self.tanks.ids() {
            if day.on_duty() {
                self.come_back(day, tank);
                if self.expects_load(day, tank) {
                    // Care that ended in the break, or work that came in it, found nobody to light the tank.
                    self.light_again(day, tank);
                }
            } else {
                self.call_at_break(day, tank);
                self.leave(day, tank);
            }
            if self.reaching(tank).is_some() {
                self.touch(day, tank);
                self.lid_of_cooling(day, tank);
                self.renew(day, tank);
            }
            self.mark_tank(day, tank);
        }
    }

    /// Care at the break: on every day in its first one, in later ones where loads came since.
    fn call_at_break(&mut self, day: &Day<'_>, tank: TankIx) {
        let first = day.opened_before();
        let rules = self.plan.rules.care.iter();
        for (rule, track) in rules.zip(&mut self.tanks[tank].tracks) {
            if rule.when.contains(&Trigger::AtBreak) && (first || track.loads > 0) {
                track.called = true;
            }
        }
    }

    pub(crate) fn tanks_at_closing(&mut self, day: &mut Day<'_>) {
        for tank in self.tanks.ids() {
            self.touch(day, tank);
            let station = self.tanks[tank].station;
            let on = self.tanks[tank].is_on();
            let alone = day.away().is_some();
            let may = self.plan.rules.heat.unattended || !alone;
            let goes_on = self.plan.rules.heat.off == HeatOff::Never && may;
            if on && goes_on && self.tanks[tank].heat.temperature() > tankday_base::bath::HOT {
                let until = day.back_on_duty();
                if alone {
                    day.note(|| LogEntry::LeftAlone { tank: station, until });
                }
            } else if on && self.tanks[tank].inside.is_empty() {
                self.tanks[tank].heater.resumes = self.warms_wool(tank);
                self.switch_off(day, tank);
            }
            if self.tanks[tank].inside.is_empty() {
                self.call_care(tank, |w| matches!(w, Trigger::Overnight | Trigger::AfterLast));
            }
            self.cover(day, tank);
            if self.reaching(tank).is_some() {
                self.renew(day, tank);
            }
            self.sample(day, tank);
            self.expect_heat(day, tank);
        }
    }
}
