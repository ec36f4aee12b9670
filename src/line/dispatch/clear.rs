//! A place that work needs as soon as it comes out of a bath, or of acid, is kept clear of work that can wait.

use super::Dispatch;
use super::places::{SOONEST, reserve};
use crate::floor::Floor;
use crate::ids::{LoadIx, bit};
use crate::prepared::CompiledStep;
use crate::state::{Load, NONE, Place, Waiting};
use tankday_base::shop::{StationId, StepIx};
use tankday_base::units::Moment;

impl Dispatch<'_> {
    /// Whether a load leaves a place for what comes wet meanwhile; where it is coated or wet itself, if it can wait to
    /// the end of that work. Else somebody looks again then. A plan answers for itself.
    pub(super) fn keeps_clear(&mut self, floor: &mut Floor<'_>, station: StationId, entry: &Waiting) -> bool {
        let (plan, load) = (self.plan, &floor.flow[entry.load]);
        let step = floor.flow.plan_of(entry);
        let stations = &plan.lines[step.line];
        let apart = |s: &StationId| plan.stations[*s].tank.is_some() || plan.stations[*s].together > 1;
        let coated = load.done & plan.routes[load.route].coats != 0;
        if floor.flow.is_planned(entry.load) || stations.iter().any(apart) {
            return true;
        }
        let wet = step.wet();
        let soonest = floor.day.now() + SOONEST;
        let over = self.over(floor, step, &load.cargo, floor.day.now());
        match self.in_its_way(floor, (entry.load, over), stations) {
            Some((comes, leaves)) if !(wet || coated) || leaves.max(soonest) <= entry.latest => {
                let again = comes.max(soonest);
                self.look_for_place(floor, station, entry.load, again);
                false
            }
            _ => true,
        }
    }

    /// When a load comes wet, and leaves the place again, that would wait too long for a place at these stations if another
    /// stood there from now on until a moment, and not without it.
    fn in_its_way(
        &self,
        floor: &Floor<'_>,
        (load, over): (LoadIx, Moment),
        stations: &[StationId],
    ) -> Option<(Moment, Moment)> {
        let places: usize = stations
            .iter()
            .map(|s| self.plan.stations[*s].places as usize)
            .sum();
        let others = || floor.flow.all().filter(|(i, _)| *i != load).map(|(_, l)| l);
        let mut coming: Vec<(Moment, &CompiledStep, &Load)> = others()
            .filter_map(|l| self.comes_wet(floor, l, stations).map(|(at, its)| (at, its, l)))
            .filter(|(at, ..)| *at < over)
            .collect();
        if coming.is_empty() {
            return None;
        }
        coming.sort_by_key(|c| (c.0, c.2.no));
        let stands = |l: &&Load| l.held.place != Place::None && stations.contains(&l.station);
        let mut without: Vec<(Moment, Moment)> = others()
            .filter(stands)
            .map(|l| (floor.day.now(), self.leaves(floor, l)))
            .collect();
        let mut with = without.clone();
        with.push((floor.day.now(), over));
        for (comes, its, l) in coming {
            let within = its.within.unwrap_or_default();
            let may = comes + (within - reserve(within));
            let one = (its, &l.cargo);
            let (late, soon) = (
                self.first_free(floor, (&with, places), comes, one),
                self.first_free(floor, (&without, places), comes, one),
            );
            let leaves = self.over(floor, its, &l.cargo, soon);
            if late > may && soon < late {
                return Some((comes, leaves));
            }
            with.push((late, self.over(floor, its, &l.cargo, late)));
            without.push((soon, leaves));
        }
        None
    }

    /// When what is in a bath, or at another step behind which it is wet, comes to one of these stations, and for which step.
    fn comes_wet<'f>(
        &self,
        floor: &'f Floor<'_>,
        l: &Load,
        stations: &[StationId],
    ) -> Option<(Moment, &'f CompiledStep)> {
        if l.held.place == Place::None || l.step == StepIx(NONE) {
            return None;
        }
        if floor.flow.step_plan(l, l.step).bath.is_some() {
            return self.comes(floor, l, stations, true);
        }
        let steps = &self.plan.routes[l.route].steps;
        let open = |s: &StepIx| *s != l.step && l.done & bit(*s) == 0;
        let next = floor.flow.step_plan(l, steps.ids().find(open)?);
        let here = self.plan.lines[next.line].iter().any(|s| stations.contains(s));
        let follows = here && next.wet() && next.after & bit(l.step) != 0;
        follows.then(|| (self.leaves(floor, l), next))
    }
}
