//! Nothing is laid bare long before its bath can take it: a step from which on a load may wait only so long for its bath is
//! begun when the bath is hot and empty by then, as far as can be seen.

use super::Dispatch;
use super::charge::holds;
use super::places::SOONEST;
use crate::floor::Floor;
use crate::ids::{LoadIx, TankIx, bit};
use crate::state::{Load, NONE, Phase, Place, Waiting};
use tankday_base::shop::{Combine, StationId, StepIx};
use tankday_base::units::{Moment, Span};

/// When a tank takes its next load, and what would be in it.
pub(super) struct Next {
    tank: TankIx,
    pub(super) from: Moment,
    /// The load that goes in then: its bulk, and how long it keeps the tank.
    load: Option<([f64; 3], Span)>,
}

impl Dispatch<'_> {
    /// Whether a load would wait for its bath longer than half the time that it may if it began a step now, since hands may be
    /// busy or the bath low when it could go in; somebody looks again then. That it is half is a choice. A plan answers for
    /// itself.
    pub(super) fn is_early(&mut self, floor: &mut Floor<'_>, station: StationId, entry: &Waiting) -> bool {
        let load = &floor.flow[entry.load];
        let Some(ahead) = self.plan.routes[load.route].steps[entry.step].ahead else {
            return false;
        };
        if load.done & bit(ahead.step) != 0 || floor.flow.is_planned(entry.load) {
            return false;
        }
        let latest = floor.day.now() + ahead.lead + ahead.slack.times(0.5);
        let Some(takes) = self.bath_takes_from(floor, entry.load, ahead.step) else {
            return false;
        };
        let again = floor.day.now() + (takes - latest).max(SOONEST);
        if takes <= latest || again > entry.latest {
            return false;
        }
        self.look_for_place(floor, station, entry.load, again);
        true
    }

    /// From when on a bath takes a load, behind those that are on their way to it; none where that cannot be foreseen.
    fn bath_takes_from(&self, floor: &Floor<'_>, load: LoadIx, step: StepIx) -> Option<Moment> {
        let own = &floor.flow[load];
        let line = self.plan.routes[own.route].steps[step].line;
        let stations = &self.plan.lines[line];
        let mut tanks = Vec::with_capacity(stations.len());
        for tank in stations.iter().filter_map(|s| self.plan.stations[*s].tank) {
            if floor.flow.admits(tank, load) {
                let hot = floor.baths.hot_by(&floor.day, tank)?;
                tanks.push(self.next_in(floor, tank, hot));
            }
        }
        let mut before: Vec<&Load> = floor
            .flow
            .all()
            .filter(|(i, l)| *i != load && self.is_on_its_way(l, stations))
            .map(|(_, l)| l)
            .collect();
        before.sort_by_key(|l| (l.times.ended, l.no));
        for l in before {
            self.goes_in(floor, &mut tanks, l);
        }
        let (at, stay, tank) = self.goes_in(floor, &mut tanks, own)?;
        Some(clear_of_breaks(floor, (at, stay), tank))
    }

    pub(super) fn next_in(&self, floor: &Floor<'_>, tank: TankIx, hot: Moment) -> Next {
        let station = self.plan.tanks[tank];
        let inside = floor
            .flow
            .all()
            .filter(|(_, l)| l.station == station && l.held.place != Place::None && l.phase != Phase::Gone);
        let out = inside.map(|(_, l)| {
            let step = floor.flow.step_plan(l, l.step);
            let over = match l.phase {
                Phase::PuttingIn => l.times.until + floor.baths.expected_dwell(tank, &l.cargo),
                Phase::Working => l.times.until,
                _ => floor.day.now(),
            };
            over.max(floor.day.now()) + step.chain.max(step.take_out)
        });
        Next {
            tank,
            from: out.fold(hot, Moment::max),
            load: None,
        }
    }

    /// Whether a load is on its way to a bath at these stations and is held back no more: it waits for the bath, or has begun a
    /// step from which on the way has no gap.
    fn is_on_its_way(&self, l: &Load, stations: &[StationId]) -> bool {
        let steps = &self.plan.routes[l.route].steps;
        let comes = |b: StepIx| l.done & bit(b) == 0 && self.plan.lines[steps[b].line] == stations;
        if l.phase == Phase::Gone {
            return false;
        }
        let begun = l.step != StepIx(NONE) && steps[l.step].ahead.is_some_and(|a| comes(a.step));
        let next = steps.ids().find(|s| l.done & bit(*s) == 0);
        let waits = l.phase == Phase::Waiting && next.is_some_and(|s| steps[s].bath.is_some() && comes(s));
        begun || waits
    }

    /// A load goes into the tank that takes it first, with others if they may go in together. Returns when, for how
    /// long, and where.
    fn goes_in(&self, floor: &Floor<'_>, tanks: &mut [Next], l: &Load) -> Option<(Moment, Span, TankIx)> {
        let alone = self.plan.rules.combine == Combine::Never;
        let with = |n: &Next| match n.load {
            None => Some(l.cargo.bulk),
            Some((bulk, _)) if !alone => Some([0, 1, 2].map(|i| bulk[i] + l.cargo.bulk[i]))
                .filter(|sum| holds(self.plan.room[n.tank], *sum)),
            Some(_) => None,
        };
        let from = |n: &Next| match (with(n), n.load) {
            (None, Some((_, stay))) => n.from + stay,
            _ => n.from,
        };
        let next = tanks.iter_mut().min_by_key(|n| from(n))?;
        let stay = floor.baths.expected_dwell(next.tank, &l.cargo) + self.handling(l);
        let (begins, joined) = (from(next), with(next));
        next.from = begins;
        next.load = match (joined, next.load) {
            (Some(sum), Some((_, before))) => Some((sum, before.max(stay))),
            _ => Some((l.cargo.bulk, stay)),
        };
        Some((begins, stay, next.tank))
    }

    /// Putting a load into its next bath and taking it out.
    fn handling(&self, l: &Load) -> Span {
        let steps = &self.plan.routes[l.route].steps;
        let next = steps
            .ids()
            .find(|s| steps[*s].bath.is_some() && l.done & bit(*s) == 0);
        next.map_or(Span::ZERO, |s| steps[s].put_in + steps[s].take_out)
    }
}

/// From a moment on, when a load can be in a bath for so long with nobody away: not in a break that nobody stays for, after
/// which the bath must be hot again, and not over closing. A load for which no stretch is long enough waits for none.
fn clear_of_breaks(floor: &Floor<'_>, (mut at, stay): (Moment, Span), tank: TankIx) -> Moment {
    if floor
        .baths
        .longest_stretch(tank)
        .is_some_and(|longest| stay > longest)
    {
        return at;
    }
    for away in floor.day.alone_in_breaks().filter(|a| a.until > floor.day.now()) {
        if at < away.until && at + stay > away.from {
            at = floor
                .baths
                .hot_after(&floor.day, tank, away.until)
                .max(away.until);
        }
    }
    let closes = floor.day.closes();
    if at <= closes && at + stay > closes {
        return floor.day.next_opening(closes).unwrap_or(Moment::NEVER);
    }
    at
}
