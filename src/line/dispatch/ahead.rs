//! Looking ahead: no task of hands may start that would let a load in a tank pass its longest dwell.

use super::Dispatch;
use super::MUST;
use crate::floor::Floor;
use crate::ids::LoadIx;
use crate::state::{Phase, Waiting};
use tankday_base::shop::{Hands, StationId};
use tankday_base::units::{Moment, Span};

/// What takes hands so long is done before a load that is late whatever they do: three that each wait for the others would else
/// keep hands from everything. A choice.
const SHORT_TASK: Span = Span::whole_minutes(3);

/// A load that somebody must take out: not before, not after, and how long that keeps the hands.
pub(super) type Promise = (Moment, Moment, Span);

/// A load at which hands would begin something now.
#[derive(Debug, Clone, Copy)]
pub(super) struct Begins {
    pub(super) load: LoadIx,
    /// By when they must, where it lies bare.
    pub(super) by: Option<Promise>,
}

impl Dispatch<'_> {
    /// Whether hands may do this now: in working hours anything; outside them only what cannot wait until they are back, and
    /// as long as somebody stays; what is in a bath comes out whatever the hour.
    pub(super) fn allowed(&self, floor: &Floor<'_>, class: u8, latest: Moment, from_bath: bool) -> bool {
        let presses = class == MUST && latest < floor.day.back_on_duty();
        floor.day.on_duty()
            || (from_bath && floor.day.away().is_some())
            || (presses && (from_bath || floor.day.somebody_stays()))
    }

    /// What starting this load will oblige somebody to do later.
    pub(super) fn promise_of(
        &self,
        floor: &Floor<'_>,
        entry: &Waiting,
        put_in: Span,
        station: StationId,
    ) -> Option<Promise> {
        let step = floor.flow.plan_of(entry);
        if step.hands != Hands::Ends || step.overnight {
            return None;
        }
        let begins = floor.day.now() + put_in;
        let stay = match self.plan.stations[station].tank {
            Some(tank) => floor.baths.expected_dwell(tank, &floor.flow[entry.load].cargo),
            None => step.expected.of(&floor.flow[entry.load].cargo),
        };
        let (in_bath, takes) = (step.bath.is_some(), step.take_out);
        let by = |latest| match in_bath {
            true => floor.day.lifted_by(begins + stay, latest, takes),
            false => latest,
        };
        floor
            .flow
            .most_stay(entry.load, entry.step)
            .or(step.lies.map(|lies| stay + lies))
            .map(|most| {
                (
                    begins + stay,
                    by(begins + most.max(stay)),
                    step.chain.of(&floor.flow[entry.load].cargo),
                )
            })
    }

    /// Whether it can be over before the shop closes. Work that may be laid down always can.
    pub(super) fn before_closing(
        &self,
        floor: &Floor<'_>,
        time: Span,
        pausable: bool,
        promise: Option<Promise>,
    ) -> bool {
        let closes = floor.day.closes();
        if !pausable && floor.day.now() + time > closes {
            return false;
        }
        let Some((from, until, takes)) = promise.filter(|_| self.plan.rules.look_ahead) else {
            return true;
        };
        let lifted = floor.day.next_opening(from).unwrap_or(Moment::NEVER);
        lifted <= until && lifted + takes <= closes
    }

    /// Whether, with hands busy for `time` from now on, with a load that starts or else, every load that must come out still
    /// can in time, the new one too, and none lies bare too long. The hands go from one to the next in the order of their latest times.
    pub(super) fn leaves_time(
        &mut self,
        floor: &mut Floor<'_>,
        time: Span,
        pausable: bool,
        (own, promise): (Option<Begins>, Option<Promise>),
    ) -> bool {
        let own_load = own.as_ref().map(|own| own.load);
        let nobody_waits = self.plan.bare_lines.is_empty() && self.plan.bath_lines.is_empty();
        let nothing = self.watched.is_empty() && promise.is_none() && nobody_waits;
        if !self.plan.rules.look_ahead || nothing {
            return true;
        }
        let mut promises = std::mem::take(&mut self.scratch);
        promises.clear();
        promises.extend(self.watched.iter().map(|&load| self.standing(floor, load)));
        self.bare_waiting(floor, own_load, &mut promises);
        if let Some(load) = own_load.filter(|_| !pausable) {
            self.bath_waiting(floor, (load, time), &mut promises);
        }
        if promises.is_empty() && promise.is_none() {
            self.scratch = promises;
            return true;
        }
        promises.sort_unstable_by_key(|p| (p.1, p.0));
        let others = promises.len();
        let at = promise.map(|new| promises.partition_point(|p| (p.1, p.0) <= (new.1, new.0)));
        if let (Some(at), Some(new)) = (at, promise) {
            promises.insert(at, new);
        }
        let mut free = self.hands_free_at(floor);
        if !pausable {
            take_first(&mut free, floor.day.now(), time);
        }
        let kept = promises
            .iter()
            .all(|&(from, until, takes)| take_first(&mut free, from, takes) <= until)
            || (others > 0
                && no_later(
                    (&promises, at),
                    own.and_then(|own| own.by),
                    self.hands_free_at(floor),
                    (!pausable).then_some((floor.day.now(), time)),
                ));
        self.scratch = promises;
        kept
    }

    /// The promise that stands for a load that is in.
    fn standing(&self, floor: &Floor<'_>, load: LoadIx) -> Promise {
        let l = &floor.flow[load];
        let from = match l.phase {
            Phase::PuttingIn => {
                l.times.until
                    + self.plan.stations[l.station]
                        .tank
                        .map_or(Span::ZERO, |t| floor.baths.expected_dwell(t, &l.cargo))
            }
            Phase::Working => l.times.until,
            _ => floor.day.now(),
        };
        // One that is not done before its longest stay is over comes out when it is done: to keep hands idle until then helps
        // nobody.
        let until = l.times.latest.max(from).max(floor.day.now());
        (from, until, self.chain_of(floor, load))
    }

    /// Hands' time from the lift of a load on until it may be laid down.
    pub(super) fn chain_of(&self, floor: &Floor<'_>, load: LoadIx) -> Span {
        floor.flow.step_of(load).chain.of(&floor.flow[load].cargo)
    }

    /// When each pair of hands is expected to be free; work that may be laid down does not count.
    fn hands_free_at(&self, floor: &Floor<'_>) -> Vec<Moment> {
        let at = |h: &crate::state::Hand| {
            if h.task.is_none() || floor.flow.may_lay_down(h.load) {
                floor.day.now()
            } else {
                h.until.max(floor.day.now())
            }
        };
        self.hands_here().map(|h| at(&self.hands[h])).collect()
    }
}

/// Whether hands that are busy for a time, and with the new promise, come to every load in time, or no later than without
/// them: a load that must wait too long anyway, as one of two whose longest stays pass at one moment, keeps hands from nothing.
/// What they would be busy with may be to begin by a time itself: without it they come to that in its turn.
fn no_later(
    (promises, new): (&[Promise], Option<usize>),
    mut own: Option<Promise>,
    free: Vec<Moment>,
    busy: Option<(Moment, Span)>,
) -> bool {
    let mut without = free.clone();
    let mut with = free;
    if let Some((now, time)) = busy {
        take_first(&mut with, now, time);
    }
    promises.iter().enumerate().all(|(i, &(from, until, takes))| {
        if let Some(own) = own.take_if(|own| (own.1, own.0) <= (until, from)) {
            take_first(&mut without, own.0, own.2);
        }
        let begins = take_first(&mut with, from, takes);
        let anyway = (Some(i) != new).then(|| take_first(&mut without, from, takes));
        let hardly_later =
            |anyway: Moment| begins <= anyway || (anyway > until && begins - anyway <= SHORT_TASK);
        begins <= until || anyway.is_some_and(hardly_later)
    })
}

/// The hands that are free first turn to something that may begin at `from`. Returns when they begin.
fn take_first(free: &mut [Moment], from: Moment, takes: Span) -> Moment {
    let Some(first) = free.iter_mut().min() else {
        return Moment::NEVER;
    };
    let begins = from.max(*first);
    *first = begins + takes;
    begins
}
