//! Nothing is laid bare long before its bath can take it: a step from which on a load may wait only so long for its bath is
//! begun when the bath is hot and empty by then, as far as can be seen.

use super::Dispatch;
use super::charge::holds;
use super::places::SOONEST;
use crate::behind::takes;
use crate::floor::Floor;
use crate::ids::{LoadIx, TankIx, bit};
use crate::state::{Load, NONE, Phase, Place, Waiting};
use tankday_base::shop::{Combine, Company, SHORT_WAIT, StationId, StepIx};
use tankday_base::units::{Moment, Span};

/// What is foreseen to be out of its bath later than so long before closing is not counted on: what comes between would leave it
/// stripped until the shop opens again. A choice.
pub(super) const BEFORE_CLOSING: Span = Span::whole_minutes(20);

/// When a tank takes its next load, and what would be in it.
pub(super) struct Next {
    tank: TankIx,
    pub(super) from: Moment,
    /// So many loads go in before care, where a rule goes by loads.
    left: Option<u32>,
    /// The load that goes in then.
    load: Option<Batch>,
}

/// A load on its way to its bath, if it began a step now.
#[derive(Clone, Copy)]
pub(super) struct Foreseen {
    /// It is at the bath from here on.
    there: Moment,
    /// The bath takes it from here on.
    takes: Moment,
    /// So long it may wait for it.
    slack: Span,
    /// So much longer than such loads as a rule it stays in it.
    pub(super) longer: Span,
}

impl Foreseen {
    /// How long it waits for its bath.
    pub(super) fn waits(&self) -> Span {
        (self.takes - self.there).max(Span::ZERO)
    }
}

/// What goes in together: its bulk, how long it keeps the tank, and what may join it.
#[derive(Clone, Copy)]
struct Batch {
    bulk: [f64; 3],
    stay: Span,
    company: Option<Company>,
}

impl Dispatch<'_> {
    /// When a load would be at its bath if it began a step now from which on it may wait only so long for it, and when the bath
    /// takes it; none where that doesn't matter, or cannot be foreseen. A plan answers for itself.
    pub(super) fn bath_foreseen(&self, floor: &Floor<'_>, entry: &Waiting) -> Option<Foreseen> {
        let load = &floor.flow[entry.load];
        let ahead = self.plan.routes[load.route].steps[entry.step].ahead?;
        if load.done & bit(ahead.step) != 0 || floor.flow.is_planned(entry.load) {
            return None;
        }
        let there = floor.day.now() + ahead.lead.of(&load.cargo);
        let (takes, tank) = self.bath_takes_from(floor, (entry.load, there), (entry.step, ahead.step))?;
        let as_a_rule = self.plan.routes[load.route].steps[ahead.step]
            .expected
            .of(&load.cargo);
        let longer = floor.baths.expected_dwell(tank, &load.cargo) - as_a_rule;
        Some(Foreseen {
            there,
            takes,
            slack: ahead.slack,
            longer: longer.max(Span::ZERO),
        })
    }

    /// Whether a load would wait for its bath longer than half the time that it may if it began a step now, since hands may be
    /// busy or the bath low when it could go in; somebody looks again then. That it is half is a choice.
    pub(super) fn is_early(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        (entry, foreseen): (&Waiting, Option<Foreseen>),
    ) -> bool {
        let Some(Foreseen {
            there, takes, slack, ..
        }) = foreseen
        else {
            return false;
        };
        let limit = there + slack;
        let latest = limit - slack.times(0.5);
        let again = floor.day.now() + (takes - latest).max(SOONEST);
        // What would come too late anyway waits here, as it is, and not stripped; what is wet cannot.
        let must_go_on = again > entry.latest && (takes <= limit || floor.flow.plan_of(entry).wet());
        if takes <= latest || must_go_on {
            return false;
        }
        self.look_for_place(floor, station, entry.load, again);
        true
    }

    /// From when on a bath takes a load that begins a step here and is there at a moment, behind those that are on their way to
    /// it, and which; none where that cannot be foreseen.
    fn bath_takes_from(
        &self,
        floor: &Floor<'_>,
        (load, there): (LoadIx, Moment),
        (here, step): (StepIx, StepIx),
    ) -> Option<(Moment, TankIx)> {
        let own = &floor.flow[load];
        let line = self.plan.routes[own.route].steps[step].line;
        let stations = &self.plan.lines[line];
        // The only hands are busy with this step first.
        let busy = match self.plan.hands {
            1 => {
                floor.day.now()
                    + self.plan.routes[own.route].steps[here]
                        .hands_at_start()
                        .of(&own.cargo)
            }
            _ => floor.day.now(),
        };
        let mut tanks = Vec::with_capacity(stations.len());
        for tank in stations.iter().filter_map(|s| self.plan.stations[*s].tank) {
            if floor.flow.admits(tank, load) && holds(self.plan.room[tank], own.cargo.bulk) {
                tanks.push(self.next_in(floor, tank, busy)?);
            }
        }
        // What comes back to the bath while the load would be in it goes before it.
        let out = tanks
            .iter()
            .map(|n| n.from.max(there) + self.keeps_tank(floor, n.tank, own));
        let out = out.min().unwrap_or(there);
        let all = floor.flow.all().filter(|(i, _)| *i != load);
        let before = all
            .map(|(_, l)| l)
            .filter(|l| self.is_on_its_way(l, stations) || self.comes_again(floor, l, (stations, out)))
            .filter(|l| !self.waits_behind(floor, l, load));
        let first: Vec<(TankIx, Moment)> = tanks.iter().map(|n| (n.tank, n.from)).collect();
        let mut before: Vec<&Load> = before.collect();
        before.sort_by_key(|l| (l.times.ended, l.no));
        for l in before {
            self.goes_in(floor, &mut tanks, l);
        }
        let (at, stay, tank) = self.goes_in(floor, &mut tanks, own)?;
        let since = first.iter().find(|f| f.0 == tank).map_or(at, |f| f.1);
        let begins = at.max(there);
        // When it is there itself is known better than when the bath is free.
        let spare = if at > there { BEFORE_CLOSING } else { Span::ZERO };
        let clear = |at: Moment| {
            let cared = floor.baths.after_clock(&floor.day, tank, (since, at));
            clear_of_breaks(floor, (cared, stay, spare), tank)
        };
        // A break moves it to where other care may come first.
        let goes_in = clear(clear(begins));
        Some((if goes_in > begins { goes_in } else { at }, tank))
    }

    /// The loads that stand in a tank.
    pub(super) fn inside<'f>(&self, floor: &'f Floor<'_>, tank: TankIx) -> impl Iterator<Item = &'f Load> {
        let station = self.plan.tanks[tank];
        let stands =
            move |l: &&Load| l.station == station && l.held.place != Place::None && l.phase != Phase::Gone;
        floor.flow.all().map(|(_, l)| l).filter(stands)
    }

    /// When a tank takes its next load, if hands see to it from a moment on; none where that cannot be foreseen.
    pub(super) fn next_in(&self, floor: &Floor<'_>, tank: TankIx, hands: Moment) -> Option<Next> {
        let out = self.inside(floor, tank).map(|l| {
            let step = floor.flow.step_plan(l, l.step);
            let over = match l.phase {
                Phase::PuttingIn => l.times.until + floor.baths.expected_dwell(tank, &l.cargo),
                Phase::Working => l.times.until,
                _ => floor.day.now(),
            };
            over.max(hands) + step.chain.of(&l.cargo).max(step.take_out)
        });
        let empty = out.fold(hands, Moment::max);
        let left = floor.baths.loads_until_care(tank);
        Some(Next {
            tank,
            from: floor.baths.takes_loads_by(&floor.day, tank, empty)?,
            left: left.map(|left| left.saturating_sub(self.inside(floor, tank).count() as u32)),
            load: None,
        })
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

    /// Whether a load that is in a bath, or was, goes into one at these stations again before a moment: its other end, say.
    fn comes_again(&self, floor: &Floor<'_>, l: &Load, (stations, by): (&[StationId], Moment)) -> bool {
        let coats = self.plan.routes[l.route].coats;
        let been = l.done & coats != 0 || l.step != StepIx(NONE) && coats & bit(l.step) != 0;
        let comes = || self.comes(floor, l, stations, false);
        been && l.phase != Phase::Gone && comes().is_some_and(|(at, step)| step.bath.is_some() && at <= by)
    }

    /// A load goes into the tank that takes it first, with others if they may go in together. Returns when, for how
    /// long, and where.
    fn goes_in(&self, floor: &Floor<'_>, tanks: &mut [Next], l: &Load) -> Option<(Moment, Span, TankIx)> {
        let alone = self.plan.rules.combine == Combine::Never;
        let company = self.plan.orders[l.of.source].company;
        let with = |n: &Next| match n.load {
            None => Some(l.cargo.bulk),
            Some(b) if !alone && company.is_some() && b.company == company => {
                Some([0, 1, 2].map(|i| b.bulk[i] + l.cargo.bulk[i]))
                    .filter(|sum| holds(self.plan.room[n.tank], *sum))
            }
            Some(_) => None,
        };
        let from = |n: &Next| match (with(n), n.load) {
            (None, Some(before)) => n.from + before.stay,
            _ => n.from,
        };
        let takes = |n: &&mut Next| holds(self.plan.room[n.tank], l.cargo.bulk);
        let next = tanks.iter_mut().filter(takes).min_by_key(|n| from(n))?;
        let stay = self.keeps_tank(floor, next.tank, l);
        let (begins, joined) = (from(next), with(next));
        next.from = begins;
        let joins = next.load.is_some() && joined.is_some();
        if !joins && next.left == Some(0) {
            next.from = begins + floor.baths.care_by_loads_takes(next.tank);
            next.left = None;
        }
        let begins = next.from;
        next.left = next.left.map(|left| left.saturating_sub(1));
        next.load = match (joined, next.load) {
            (Some(bulk), Some(before)) => Some(Batch {
                bulk,
                stay: before.stay.max(stay),
                company,
            }),
            _ => Some(Batch {
                bulk: l.cargo.bulk,
                stay,
                company,
            }),
        };
        Some((begins, stay, next.tank))
    }

    /// How long a load keeps a tank from the next: its dwell with what hands do, or until the bath is hot again; as often as it
    /// goes in one after the other.
    pub(super) fn keeps_tank(&self, floor: &Floor<'_>, tank: TankIx, l: &Load) -> Span {
        let stay = floor.baths.expected_dwell(tank, &l.cargo) + self.handling(l);
        let once = stay.max(floor.baths.recovers(tank, &l.cargo));
        once.times(f64::from(self.in_a_row(l)))
    }

    /// How often a load goes into the bath that comes next, with so little between that no other goes in there.
    fn in_a_row(&self, l: &Load) -> u32 {
        let steps = &self.plan.routes[l.route].steps;
        let open = |s: StepIx| steps[s].bath.is_some() && l.done & bit(s) == 0;
        let Some(next) = steps.ids().find(|s| open(*s)) else {
            return 1;
        };
        let first = &steps[next];
        let soon = |lead: Span| lead - takes(first).of(&l.cargo) <= SHORT_WAIT;
        let again = first
            .behind
            .iter()
            .filter(|b| open(b.step) && steps[b.step].line == first.line);
        1 + again.filter(|b| soon(b.lead.of(&l.cargo))).count() as u32
    }

    /// Putting a load into its next bath and taking it out, up to where hands may lay it down.
    fn handling(&self, l: &Load) -> Span {
        let steps = &self.plan.routes[l.route].steps;
        let next = steps
            .ids()
            .find(|s| steps[*s].bath.is_some() && l.done & bit(*s) == 0);
        next.map_or(Span::ZERO, |s| {
            steps[s].put_in + steps[s].chain.of(&l.cargo).max(steps[s].take_out)
        })
    }
}

/// From a moment on, when a load can be in a bath for so long with nobody away: not in a break that nobody stays for, after
/// which the bath must be hot again, and not over closing, with some time to spare before that. A load for which no stretch is long enough waits for none.
fn clear_of_breaks(floor: &Floor<'_>, (mut at, stay, spare): (Moment, Span, Span), tank: TankIx) -> Moment {
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
    let opens = floor.day.next_opening(closes).unwrap_or(Moment::NEVER);
    // What is hot only after closing takes nothing before the shop opens again.
    if at < opens && at + stay + spare > closes {
        opens
    } else {
        at
    }
}
