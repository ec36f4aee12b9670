//! What a plan says of the baths: the loads for each tank, for which its heater is on and for nothing else; when a bath is
//! to be hot; which care begins when; how baths were found to read.

use super::Baths;
use super::tank::midnight;
use crate::compile::Compiled;
use crate::day::{Day, Event};
use crate::ids::{Of, TankIx};
use crate::kernel::{ENDS, STARTS};
use crate::plan::{BathReading, Plan, PlanLot};
use crate::state::NONE;
use tankday_base::bath::chemistry::{Chemistry, Readings};
use tankday_base::shop::{RouteId, StationId};
use tankday_base::units::{Moment, Span, Strength, Volume};
use tankday_record::CareKind;

/// Loads that are to go into a tank.
#[derive(Debug, Clone, Default)]
pub(super) struct Planned {
    /// Before which moment none goes in, and its task.
    loads: Vec<(Moment, u32)>,
    /// So many of them have gone in without a gap.
    gone: usize,
}

impl Planned {
    /// What has gone in without a gap is passed.
    fn pass(&mut self, started: &[bool]) {
        let next = self.loads.iter().skip(self.gone);
        self.gone += next.take_while(|l| started[l.1 as usize]).count();
    }
}

/// For each tank the loads that a plan has for it; none where loads may come of which it does not know.
pub(super) fn of(plan: &Plan, line: &Compiled) -> Option<Of<TankIx, Planned>> {
    knows_all(plan, line).then(|| line.tanks.iter().map(|t| planned_for(plan, *t)).collect())
}

/// Whether no load comes to a bath of which the plan does not know: no order comes by chance, and no route has two baths.
fn knows_all(plan: &Plan, line: &Compiled) -> bool {
    let once = |lot: &PlanLot| (line.routes[RouteId(lot.route)].coats & !lot.skip).count_ones() <= 1;
    plan.has_all_orders() && plan.lots.iter().all(once)
}

/// What a plan has for a tank, or for any.
fn planned_for(plan: &Plan, tank: StationId) -> Planned {
    let heads = (0..plan.lots.len() as u32).filter(|&l| plan.head[l as usize] == l);
    let mut loads: Vec<(Moment, u32)> = heads
        .filter(|&l| plan.tank[l as usize] == tank.0 || plan.tank[l as usize] == NONE)
        .filter_map(|l| {
            let lot = &plan.lots[l as usize];
            let task = plan.task(l, lot.bath_step.filter(|s| lot.passes(*s))?);
            Some((plan.hold[task as usize], task))
        })
        .collect();
    loads.sort_unstable();
    Planned { loads, gone: 0 }
}

/// What a plan says of the baths, and how far that has been followed.
#[derive(Debug)]
pub(super) struct Follows<'a> {
    plan: &'a Plan,
    started: Vec<bool>,
    /// Whether a task that has started may start once more: an inspection failed, or lots of one load go apart.
    again: bool,
    /// For each tank the loads that the plan has for it, in the order of their times; none where others may come.
    tanks: Option<Of<TankIx, Planned>>,
    /// For each care of the plan whether it has begun.
    cared: Vec<bool>,
    /// And whether it was asked for before its time.
    asked: Vec<bool>,
}

impl<'a> Follows<'a> {
    pub(super) fn new(plan: &'a Plan, line: &Compiled) -> Self {
        Self {
            plan,
            started: vec![false; plan.rank.len()],
            again: false,
            tanks: of(plan, line),
            cared: vec![false; plan.care.len()],
            asked: vec![false; plan.care.len()],
        }
    }

    /// The next care of a kind at a tank that has not begun.
    fn next_care(&self, station: StationId, kind: CareKind) -> Option<usize> {
        let all = self.plan.care.iter().zip(&self.cared);
        all.enumerate()
            .find(|(_, (c, done))| !**done && c.0 == station && c.1 == kind)
            .map(|(i, _)| i)
    }
}

impl Baths<'_> {
    /// A task of the plan has started; `again` says whether it was one that may start once more.
    pub(crate) fn task_starts(&mut self, task: u32) {
        if let Some(follows) = &mut self.follows {
            follows.started[task as usize] = true;
            for tank in follows.tanks.iter_mut().flat_map(|tanks| tanks.iter_mut()) {
                tank.pass(&follows.started);
            }
        }
    }

    /// A task of the plan may start once more: from here on the plan does not say what is still to come.
    pub(crate) fn starts_again(&mut self) {
        if let Some(follows) = &mut self.follows {
            follows.again = true;
        }
    }

    /// Whether a load that has not gone in may go into a tank before a moment, by the plan; none where the plan does not
    /// say, since loads may come of which it does not know.
    pub(super) fn planned_before(&self, tank: TankIx, until: Moment) -> Option<bool> {
        let follows = self.follows.as_ref().filter(|f| !f.again)?;
        let bath = follows.tanks.as_ref()?.find(tank)?;
        let mut left = bath.loads.iter().skip(bath.gone);
        Some(left.any(|(hold, task)| *hold < until && !follows.started[*task as usize]))
    }

    /// Whether the plan has a load go into a tank at a time that is before a moment.
    fn is_timed_before(&self, tank: TankIx, until: Moment) -> bool {
        let tanks = self.follows.as_ref().and_then(|f| f.tanks.as_ref());
        let bath = tanks.and_then(|b| b.find(tank));
        bath.is_some_and(|b| {
            let mut left = b.loads.iter().skip(b.gone);
            left.any(|(hold, _)| Moment::ZERO < *hold && *hold < until)
        })
    }

    /// When the plan wants a bath to be hot next, within the day.
    pub(super) fn hot_next(&self, day: &Day<'_>, tank: TankIx) -> Option<Moment> {
        let (station, now) = (self.tanks[tank].station, day.now());
        let heat = self.follows.as_ref()?.plan.heat.iter();
        let later = heat.filter(|h| h.0 == station && h.1 > now).map(|h| h.1).min();
        later.filter(|at| *at < day.closes())
    }

    /// When the plan wants a bath to be hot on the day of this opening.
    pub(super) fn planned_heat(&self, tank: TankIx, opens: Moment) -> Option<Moment> {
        let station = self.tanks[tank].station;
        let day = midnight(opens);
        let plan = self.follows.as_ref()?.plan;
        let all = plan.heat.iter().filter(|h| h.0 == station).map(|h| h.1);
        let ready = all
            .filter(|at| (day..day + Span::hours(24.0)).contains(at))
            .min()?;
        // What is heated for a later load says nothing of those before.
        (!self.is_timed_before(tank, ready)).then_some(ready)
    }

    /// A load was lifted: marks the rules whose care the plan brings forward to here as called for.
    pub(super) fn call_planned(&mut self, tank: TankIx, lot: u32) {
        let Some(plan) = self
            .follows
            .as_ref()
            .map(|f| f.plan)
            .filter(|p| !p.calls.is_empty())
        else {
            return;
        };
        if lot == NONE {
            return;
        }
        let head = plan.head[lot as usize];
        let station = self.tanks[tank].station;
        for (at, what, after) in &plan.calls {
            if *at != station || plan.head[*after as usize] != head {
                continue;
            }
            for rule in 0..self.plan.rules.care.len() {
                if CareKind::of(&self.chore(tank, rule)) == *what {
                    self.tanks[tank].tracks[rule].called = true;
                }
            }
        }
    }

    /// Whether care may begin at a tank now; if it is held back, looks again at its time.
    pub(super) fn care_may_begin(&mut self, day: &mut Day<'_>, station: StationId, kind: CareKind) -> bool {
        let Some(follows) = &mut self.follows else {
            return true;
        };
        if follows.plan.care_from > day.now() {
            return false;
        }
        let Some(i) = follows.next_care(station, kind) else {
            return true;
        };
        let hold = follows.plan.care[i].2;
        if hold <= day.now() {
            return true;
        }
        if !std::mem::replace(&mut follows.asked[i], true) {
            day.schedule(hold, STARTS, Event::Look(station));
        }
        false
    }

    /// Before this no care begins.
    pub(super) fn care_from(&self) -> Moment {
        self.follows.as_ref().map_or(Moment::ZERO, |f| f.plan.care_from)
    }

    /// Whether something is noted to have begun within so long from now: nothing that is only supposed keeps hands from it.
    pub(super) fn noted_within(&self, day: &Day<'_>, time: Span) -> bool {
        let Some(plan) = self.follows.as_ref().map(|f| f.plan) else {
            return false;
        };
        let (now, until) = (day.now(), day.now() + time);
        let mut noted = plan.hold.iter().zip(&plan.pinned);
        now < plan.care_from && noted.any(|(at, pinned)| *pinned && now <= *at && *at < until)
    }

    /// The care of the plan with this number that was done as noted: its tank, its kind.
    pub(super) fn noted_care(&self, nth: u32) -> Option<(StationId, CareKind)> {
        let noted = self.follows.as_ref()?.plan.cared.get(nth as usize)?;
        Some((noted.0, noted.1))
    }

    /// The top-up with this number, as noted: which tank, how much.
    pub(super) fn noted_water(&self, nth: u32) -> Option<(StationId, Volume)> {
        let noted = self.follows.as_ref()?.plan.watered.get(nth as usize)?;
        Some((noted.0, noted.1))
    }

    /// Whether it is noted when this tank was topped up, so that no rule did it up to the time of planning.
    pub(super) fn water_is_noted(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let station = self.tanks[tank].station;
        let noted = |plan: &Plan| plan.watered.iter().any(|w| w.0 == station);
        day.now() < self.care_from() && self.follows.as_ref().is_some_and(|f| noted(f.plan))
    }

    /// Care has begun.
    pub(super) fn planned_care(&mut self, station: StationId, kind: CareKind) {
        if let Some(follows) = &mut self.follows
            && let Some(i) = follows.next_care(station, kind)
        {
            follows.cared[i] = true;
        }
    }

    /// Puts the readings of the plan on the calendar, and the moment from which care may begin.
    pub(crate) fn expect_readings(&mut self, day: &mut Day<'_>) {
        let care_from = self.care_from();
        if care_from > Moment::ZERO {
            for tank in self.tanks.ids() {
                day.schedule(care_from, STARTS, Event::Look(self.tanks[tank].station));
            }
        }
        let cared = self.follows.as_ref().map_or(&[][..], |f| f.plan.cared.as_slice());
        for (i, (.., done)) in (0..).zip(cared) {
            day.schedule(*done, ENDS, Event::Cared(i));
        }
        let watered = self
            .follows
            .as_ref()
            .map_or(&[][..], |f| f.plan.watered.as_slice());
        for (i, (.., at)) in (0..).zip(watered) {
            day.schedule(*at, ENDS, Event::Watered(i));
        }
        // What is read in the same minute is read after it.
        let readings = self
            .follows
            .as_ref()
            .map_or(&[][..], |f| f.plan.readings.as_slice());
        for (i, reading) in (0..).zip(readings) {
            day.schedule(reading.at, ENDS, Event::Reading(i));
        }
    }

    /// A bath is from now on as it was read.
    pub(crate) fn read_bath(&mut self, day: &mut Day<'_>, nth: u32) {
        let reading = self
            .follows
            .as_ref()
            .and_then(|f| f.plan.readings.get(nth as usize))
            .cloned();
        let Some(reading) = reading else { return };
        let Some(tank) = self.tanks.ids().find(|t| self.tanks[*t].station == reading.tank) else {
            return;
        };
        self.touch(day, tank);
        let table = &self.heat[tank];
        let recipe = &self.shop.baths[self.tanks[tank].bath.index()];
        let t = &mut self.tanks[tank];
        if let Some(temperature) = reading.temperature {
            t.heat.read_as(table, temperature);
        }
        if let Some(now) = &t.chemistry {
            let reads = reading.over(&now.readings());
            // One that no bath can read so is refused where the notes are read.
            if let Ok(mut new) = Chemistry::new(&recipe.chemistry, &reads) {
                new.contaminants = now.contaminants;
                t.chemistry = Some(new.with_history(now.area(), now.uses(), now.hot()));
            }
        }
        self.renew(day, tank);
        self.mark_tank(day, tank);
    }
}

impl BathReading {
    /// A reading laid over what the bath would read. Where one of the acids is read, the other comes with it in the ratio
    /// that the bath had.
    #[must_use]
    pub fn over(&self, now: &Readings) -> Readings {
        let has_both = now.total_acid > Strength::ZERO && now.free_acid > Strength::ZERO;
        let (total_acid, free_acid) = match (self.total_acid, self.free_acid) {
            (Some(total), None) if has_both => (total, now.free_acid * (total / now.total_acid)),
            (None, Some(free)) if has_both => (now.total_acid * (free / now.free_acid), free),
            (total, free) => (total.unwrap_or(now.total_acid), free.unwrap_or(now.free_acid)),
        };
        Readings {
            volume: now.volume,
            total_acid,
            free_acid,
            iron: self.iron.unwrap_or(now.iron),
            sludge: self.sludge.unwrap_or(now.sludge),
        }
    }
}
