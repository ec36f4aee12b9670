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

use super::engine::Engine;
use super::state::Waiting;
use tankday_base::bath::{Bath, HOT, Heater, Lid, Load as Work, SolidHeat, TankHeat};
use tankday_base::luck::Spread;
use tankday_base::shop::{Calendar, CoatRule, HeatOff, HeatOn, Shop, Tank as Inside};
use tankday_base::units::{HeatCapacity, Mass, Moment, Span};
use tankday_record::{Breach, Event, TaskKind};

/// What a dwell that follows from the bath may take longer than foreseen.
const SLACK: Span = Span::micros(30_000_000);
const MINUTE: i64 = 60_000_000;

/// For each tank the longest time that a load can take with somebody there from first to last, the bath being hot again;
/// nothing where no break is without somebody.
pub(super) fn longest(shop: &Shop, heat: &[TankHeat]) -> Vec<Span> {
    let mut stretches = stretches(&shop.calendar);
    if stretches.iter().all(|s| s.0.is_none()) {
        return Vec::new();
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

impl Engine<'_> {
    /// Whether heaters must be off now but for a load that is in.
    pub(super) fn must_be_off(&self) -> bool {
        let by_timer = self.plan.rules.heat.unattended;
        self.day.away().is_some_and(|a| a.in_break || !by_timer)
    }

    /// Whether a load that goes in now with its company is out again before nobody is there. One that could never be is not
    /// kept back.
    pub(super) fn out_in_time(&self, tank: u32, line: u32, entry: &Waiting) -> bool {
        let Some(from) = self.day.out_before() else {
            return true;
        };
        let step = self.plan_of(entry);
        let hands = step.put_in + step.take_out;
        let left = from - self.day.now() - hands;
        let longest = self.longest.get(tank as usize).copied().unwrap_or_default();
        let most = self.recipe(tank).most.min(self.loads[entry.load].window.1);
        if most <= left {
            return true;
        }
        let least = self.expected_dwell(tank, entry.load);
        if least > left {
            return least + hands > longest;
        }
        let stay = self.foreseen(tank, line, entry);
        stay <= left || stay + hands > longest
    }

    /// Until when a load may wait for company if it is to be out before nobody is there.
    pub(super) fn waits_at_most(&self, tank: u32, line: u32, entry: &Waiting, until: Moment) -> Moment {
        let Some(from) = self.day.out_before() else {
            return until;
        };
        let step = self.plan_of(entry);
        let hands = step.put_in + step.take_out;
        let most = self.recipe(tank).most.min(self.loads[entry.load].window.1);
        if until + hands + most <= from {
            return until;
        }
        let last = from - hands - self.foreseen(tank, line, entry);
        // To the whole minute, so that it does not move each time that it is asked for.
        let last = Moment::micros(last.in_micros().div_euclid(MINUTE) * MINUTE);
        if last < self.day.now() {
            until
        } else {
            until.min(last)
        }
    }

    /// How long a load would stay that went in now with its company, at most.
    fn foreseen(&self, tank: u32, line: u32, entry: &Waiting) -> Span {
        let recipe = self.recipe(tank);
        let mut with = Together::of(self, entry.load);
        for other in &self.lines[line as usize].0 {
            if let Some(sum) = self.company(tank, entry, other, with.bulk) {
                with.add(self, other.load);
                with.bulk = sum;
            }
        }
        let stay = match &recipe.coat {
            CoatRule::Time(spread) => at_most(spread),
            CoatRule::Target(weight) => {
                let growth = self.growth(tank);
                let need = |load| self.needs(load, &growth, *weight);
                let own = need(entry.load);
                let others = self.lines[line as usize].0.iter();
                let joined = others
                    .filter(|o| o.load != entry.load && self.company(tank, entry, o, [0.0; 3]).is_some());
                let needs = joined.map(|o| need(o.load)).fold(own, |mut all, other| {
                    for (all, other) in all.iter_mut().zip(other) {
                        all.1 = all.1.max(other.1);
                    }
                    all
                });
                let mut bath = self.tanks[tank as usize].heat;
                bath.set_lid(Lid::Off);
                bath.add_load(&with.work(), self.shop.air.temperature);
                bath.set_growth(Some(&growth));
                let table = &self.heat[tank as usize];
                let times = needs.map(|(from, need)| bath.time_until_conversion_on(from, table, need));
                let time = times
                    .into_iter()
                    .try_fold(Span::ZERO, |longest, t| t.map(|t| longest.max(t)));
                time.map_or(recipe.most, |t| t + SLACK)
            }
        };
        stay.max(recipe.least.max(with.window.0))
            .min(recipe.most.min(with.window.1))
    }

    /// Nobody is at a tank from now on: its heater goes off, its lid on. With a load in it somebody stays, and this comes
    /// when that is out.
    pub(super) fn leave(&mut self, tank: u32) {
        let Some(away) = self.day.away().filter(|a| a.in_break) else {
            return;
        };
        self.touch(tank);
        if !self.tanks[tank as usize].inside.is_empty() || self.is_being_filled(tank) {
            return;
        }
        let t = &mut self.tanks[tank as usize];
        let hot = t.is_on() || t.heat.temperature() > HOT;
        if t.is_on() {
            t.resumes = true;
            self.switch_off(tank);
        } else {
            self.set_lid(tank);
            self.renew(tank);
        }
        let (station, until) = (self.tanks[tank as usize].station, away.until);
        if self.holds_wool(tank) {
            self.day.note(|| Event::LeftAlone { tank: station, until });
        } else if hot {
            self.day.note(|| Event::Left { tank: station, until });
        }
    }

    /// The shop closes and nobody stays: a tank whose heater is off is covered. Of a hot one the record says so.
    pub(super) fn cover(&mut self, tank: u32) {
        self.set_lid(tank);
        let Some(away) = self.day.away() else { return };
        let t = &self.tanks[tank as usize];
        let left = !t.is_on() && t.inside.is_empty() && !self.holds_wool(tank);
        if left && t.heat.temperature() > HOT {
            let (station, until) = (t.station, away.until);
            self.day.note(|| Event::Left { tank: station, until });
        }
    }

    fn is_being_filled(&self, tank: u32) -> bool {
        let station = self.tanks[tank as usize].station;
        let fills = |t: &tankday_record::Task| t.kind == TaskKind::PutIn && t.station == station;
        self.hands.iter().any(|h| h.task.as_ref().is_some_and(fills))
    }

    /// Somebody is there again: a bath goes on as it was left. One that is off after its last load is switched on only for
    /// work that is to come.
    pub(super) fn come_back(&mut self, tank: u32) {
        if !std::mem::take(&mut self.tanks[tank as usize].resumes) {
            return;
        }
        self.touch(tank);
        if self.warms_wool(tank) {
            self.warm_wool(tank);
            self.set_lid(tank);
            self.renew(tank);
        } else if self.tanks[tank as usize].care.is_none() && self.plan.rules.heat.off != HeatOff::AfterLast {
            self.switch_on(tank);
        }
    }

    /// Whether wool that goes into a bath now, or once it is warm enough, is out again before nobody is there. What could
    /// never be is not kept back from the bath while somebody is there.
    pub(super) fn wool_out_in_time(&self, tank: u32, takes: Span) -> bool {
        if self.day.away().is_some() {
            return false;
        }
        let Some(away) = self.day.coming_away() else {
            return true;
        };
        let longest = self.longest.get(tank as usize).copied();
        takes <= away.from - self.day.now() || longest.is_some_and(|l| takes > l)
    }

    /// A load is being lifted: says so if a break began while it was in that nobody stays for.
    pub(super) fn told_of_break(&mut self, load: u32) {
        let (step, begun) = (self.step_of(load), self.loads[load].begun);
        let (set_in, out) = (begun - step.put_in, self.day.now() + step.take_out);
        let Some(first) = self.day.first_break_within(set_in, out) else {
            return;
        };
        let (by, no, step) = (out - first.from, self.loads[load].no, self.step_ref(load));
        self.day.note(|| Event::Breaks {
            load: no,
            step,
            what: Breach::InAtBreak { by },
        });
    }
}

/// What would go in together.
struct Together {
    bulk: [f64; 3],
    heat: f64,
    window: (Span, Span),
}

impl Together {
    fn of(engine: &Engine<'_>, load: u32) -> Self {
        let l = &engine.loads[load];
        Self {
            bulk: l.bulk,
            heat: l.heat,
            window: l.window,
        }
    }

    fn add(&mut self, engine: &Engine<'_>, load: u32) {
        let l = &engine.loads[load];
        self.heat += l.heat;
        self.window = (self.window.0.max(l.window.0), self.window.1.min(l.window.1));
    }

    fn work(&self) -> Work {
        let mass = self.bulk[1].max(1e-9);
        Work {
            mass: Mass::kilograms(mass),
            heat: SolidHeat::constant(HeatCapacity::joules_per_kilogram_kelvin(self.heat / mass)),
        }
    }
}

/// The longest time that a spread gives; where there is none its mean.
fn at_most(spread: &Spread) -> Span {
    match spread {
        Spread::Uniform { most, .. } | Spread::Triangular { most, .. } => *most,
        Spread::Readings(all) => all.iter().copied().max().unwrap_or_default(),
        _ => spread.mean(),
    }
}
