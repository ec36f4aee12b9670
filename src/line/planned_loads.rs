//! The loads that a plan has for each tank: for them its heater is on, and for nothing else.

use super::compile::Compiled;
use super::engine::Engine;
use super::follow::Following;
use super::plan::{Plan, PlanLot};
use super::state::NONE;
use tankday_base::shop::StationId;
use tankday_base::units::Moment;

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
    pub(super) fn pass(&mut self, started: &[bool]) {
        let next = self.loads.iter().skip(self.gone);
        self.gone += next.take_while(|l| started[l.1 as usize]).count();
    }
}

/// For each tank the loads that a plan has for it; none where loads may come of which it does not know.
pub(super) fn of(plan: &Plan, line: &Compiled) -> Option<Vec<Planned>> {
    knows_all(plan, line).then(|| line.tanks.iter().map(|t| planned_for(plan, *t)).collect())
}

/// Whether no load comes to a bath of which the plan does not know: no order comes by chance, and no route has two baths.
fn knows_all(plan: &Plan, line: &Compiled) -> bool {
    let once = |lot: &PlanLot| (line.routes[lot.route as usize].coats & !lot.skip).count_ones() <= 1;
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

impl Following<'_> {
    /// Whether a load that has not gone in may go into a tank before a moment; none where the plan does not say, since
    /// loads may come of which it does not know.
    fn goes_in_before(&self, tank: u32, until: Moment) -> Option<bool> {
        let bath = self.baths.as_ref().filter(|_| !self.again)?.get(tank as usize)?;
        let mut left = bath.loads.iter().skip(bath.gone);
        Some(left.any(|(hold, task)| *hold < until && !self.started[*task as usize]))
    }
}

impl Engine<'_> {
    /// Whether a load may still go into a tank before a moment, by the plan; none where it does not say.
    pub(super) fn planned_before(&self, tank: u32, until: Moment) -> Option<bool> {
        self.follow.as_ref()?.goes_in_before(tank, until)
    }

    /// Whether the plan has a load go into a tank at a time that is before a moment.
    pub(super) fn is_timed_before(&self, tank: u32, until: Moment) -> bool {
        let baths = self.follow.as_ref().and_then(|f| f.baths.as_ref());
        let bath = baths.and_then(|b| b.get(tank as usize));
        bath.is_some_and(|b| {
            let mut left = b.loads.iter().skip(b.gone);
            left.any(|(hold, _)| Moment::ZERO < *hold && *hold < until)
        })
    }

    /// When the plan wants a bath to be hot next, within the day.
    pub(super) fn hot_next(&self, tank: u32) -> Option<Moment> {
        let (station, now) = (self.tanks[tank as usize].station, self.day.now());
        let heat = self.follow.as_ref()?.plan.heat.iter();
        let later = heat.filter(|h| h.0 == station && h.1 > now).map(|h| h.1).min();
        later.filter(|at| *at < self.day.closes())
    }
}
