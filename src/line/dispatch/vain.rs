//! Nothing is made ready for a bath that takes no load any more.

use super::Dispatch;
use crate::floor::Floor;
use crate::ids::bit;
use crate::state::Waiting;
use tankday_base::units::Moment;

impl Dispatch<'_> {
    /// Whether a step would only make a load ready for a bath that takes none any more: what is clean and bright rusts while
    /// it waits. What is coated goes on. A plan answers for itself.
    pub(super) fn is_vain(&self, floor: &Floor<'_>, entry: &Waiting) -> bool {
        let load = &floor.flow[entry.load];
        let steps = &self.plan.routes[load.route].steps;
        let coated = load.times.coated < Moment::NEVER;
        if coated || steps[entry.step].bath.is_some() || floor.flow.is_planned(entry.load) {
            return false;
        }
        let comes = |b: &_| {
            let step = &steps[*b];
            step.bath.is_some() && load.done & bit(*b) == 0 && step.before & bit(entry.step) != 0
        };
        let Some(next) = steps.ids().find(comes) else {
            return false;
        };
        let stations = self.plan.lines[steps[next].line].iter();
        let mut tanks = stations.filter_map(|s| self.plan.stations[*s].tank);
        tanks.all(|tank| floor.baths.takes_none_any_more(tank))
    }
}
