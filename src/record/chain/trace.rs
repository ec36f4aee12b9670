//! The walk from the end back to the opening.

use super::facts::Facts;
use super::{Cause, Chain, Piece};
use crate::analysis::Analysis;
use crate::event::{LoadNo, TaskKind};
use crate::tank_state::TankState;
use crate::visit::Visit;
use tankday_base::shop::{Shop, StationId, StepRef, StepTime};
use tankday_base::units::Moment;

/// Turns at one moment without going back in time: after so many the load's own way is followed.
const MOST_TURNS: u32 = 64;

/// What a load was doing until a moment.
enum Doing {
    /// It was under way: since when, and with what.
    Busy(Moment, Cause),
    /// It lay still in a break or over night.
    Paused(Moment),
    /// It waited for a step or to be taken out: since when, until when, for which visit.
    Waiting {
        since: Moment,
        until: Moment,
        visit: usize,
    },
    /// It had just come; nothing before.
    Came,
}

pub(super) fn chain(read: &Analysis<'_>) -> Option<Chain> {
    let (shop, facts) = (read.shop, Facts::of(read));
    let from = shop.calendar.days.first()?.open;
    let (to, load) = read
        .ways
        .iter()
        .filter_map(|(no, w)| Some((w.ready?, *no)))
        .max()?;
    if to <= from {
        return None;
    }
    let mut walk = Walk {
        facts: &facts,
        from,
        at: to,
        load,
        turns: 0,
        pieces: Vec::new(),
    };
    while walk.at > from {
        walk.step();
    }
    walk.pieces.reverse();
    Some(Chain {
        from,
        to,
        pieces: walk.pieces,
    })
}

struct Walk<'f, 's> {
    facts: &'f Facts<'s>,
    from: Moment,
    at: Moment,
    load: LoadNo,
    turns: u32,
    pieces: Vec<Piece>,
}

impl Walk<'_, '_> {
    fn step(&mut self) {
        match self.doing() {
            Doing::Busy(since, cause) => self.charge(since, cause),
            Doing::Paused(since) => self.rest(since),
            Doing::Waiting { since, until, visit } => self.waited(since, until, visit),
            Doing::Came => self.charge(self.from, Cause::NotThere),
        }
    }

    /// Gives the time from `since` to here its cause and goes there.
    fn charge(&mut self, since: Moment, cause: Cause) {
        let since = since.max(self.from);
        if since >= self.at {
            // Nothing gained: never stand still, whatever a record says.
            self.turns = MOST_TURNS;
            return self.charge_rest_unexplained(cause);
        }
        self.push(since, cause);
    }

    fn charge_rest_unexplained(&mut self, cause: Cause) {
        if self.at > self.from {
            self.push(self.from, cause);
        }
    }

    fn push(&mut self, since: Moment, cause: Cause) {
        let load = Some(self.load);
        match self.pieces.last_mut() {
            Some(last) if last.cause == cause && last.load == load => last.from = since,
            _ => self.pieces.push(Piece {
                from: since,
                to: self.at,
                cause,
                load,
            }),
        }
        self.at = since;
        self.turns = 0;
    }

    /// Lying still: a break or closed hours, as the calendar says.
    fn rest(&mut self, since: Moment) {
        match self.facts.resting(self.at) {
            Some((from, pause)) => self.charge(from.max(since), rest_cause(pause)),
            None => self.charge(since, Cause::Hands),
        }
    }

    fn doing(&self) -> Doing {
        let Some(way) = self.facts.way(self.load) else {
            return Doing::Came;
        };
        for (i, visit) in way.visits.iter().enumerate().rev() {
            if visit.waits < self.at {
                return self.within(visit, i);
            }
        }
        Doing::Came
    }

    /// What the load was doing just before now on this visit, which it began to wait for before now.
    fn within(&self, visit: &Visit, index: usize) -> Doing {
        let shop = self.facts.shop;
        let before = |moment: Option<Moment>| moment.filter(|m| *m < self.at);
        if let Some(lift) = before(visit.lift) {
            return Doing::Busy(lift, Cause::PutInTakeOut);
        }
        if let Some(ends) = before(visit.ends) {
            let until = visit.lift.unwrap_or(self.at);
            return Doing::Waiting {
                since: ends,
                until,
                visit: index,
            };
        }
        if let Some(begins) = before(visit.begins) {
            if let Some((from, _)) = visit
                .pauses
                .iter()
                .find(|(from, to)| *from < self.at && self.at <= *to)
            {
                return Doing::Paused(*from);
            }
            let resumed = visit.pauses.iter().map(|p| p.1).filter(|to| *to < self.at).max();
            return Doing::Busy(resumed.unwrap_or(begins), work_cause(shop, visit.step));
        }
        if visit.set_in < self.at {
            return Doing::Busy(visit.set_in, Cause::PutInTakeOut);
        }
        Doing::Waiting {
            since: visit.waits,
            until: visit.set_in,
            visit: index,
        }
    }

    fn waited(&mut self, since: Moment, until: Moment, visit: usize) {
        self.turns += 1;
        let facts = self.facts;
        let Some(visit) = facts.way(self.load).and_then(|w| w.visits.get(visit)) else {
            return self.charge(since, Cause::Hands);
        };
        let to_lift = until != visit.set_in;
        if self.turns >= MOST_TURNS {
            return self.charge(since, guess(facts.shop, visit, to_lift));
        }
        if let Some((from, pause)) = facts.rest_ended(self.at) {
            return self.charge(from.max(since), rest_cause(pause));
        }
        if self.follow_hands(since, until) || (!to_lift && self.follow_place(visit.station)) {
            return;
        }
        if !to_lift && self.follow_care(since, visit.station) {
            return;
        }
        if !to_lift && self.follow_heat(since, visit.station) {
            return;
        }
        if !to_lift && facts.company_came(self.load, self.at) {
            return self.charge(since, Cause::Company);
        }
        let stop = self.latest_change(since, visit, to_lift);
        let cause = match facts.resting(self.at) {
            Some((from, pause)) if from >= stop => return self.charge(from, rest_cause(pause)),
            _ => guess(facts.shop, visit, to_lift),
        };
        self.charge(stop, cause);
    }

    /// The wait ended because hands came from something else: go to that.
    fn follow_hands(&mut self, since: Moment, until: Moment) -> bool {
        let taken = self.facts.task_begun(self.load, until);
        let ended = match taken {
            Some(task) => self.facts.task_ended(task.hand, self.at),
            None => None,
        };
        let Some(task) = ended else { return false };
        match task.task.load {
            Some((load, _)) if load != self.load => {
                self.load = load;
                // What the hands did with it is the way of that load just before now.
                self.at_work_of(task.task.kind, task.from);
            }
            Some(_) => return false,
            None => self.charge(task.from.max(since), tank_work(task.task.kind)),
        }
        true
    }

    /// Stands now at the end of a task with another load, and gives that task its minutes.
    fn at_work_of(&mut self, kind: TaskKind, from: Moment) {
        let facts = self.facts;
        let way = facts.way(self.load);
        let visit = way.and_then(|w| w.visits.iter().rev().find(|v| v.set_in <= from));
        let cause = match (kind, visit) {
            (TaskKind::Work, Some(visit)) => work_cause(facts.shop, visit.step),
            (kind, _) if kind.is_care() => tank_work(kind),
            _ => Cause::PutInTakeOut,
        };
        self.charge(from, cause);
    }

    /// The wait ended because a place became free: go to the load that had it.
    fn follow_place(&mut self, station: StationId) -> bool {
        let Some(load) = self.facts.left(station, self.at, self.load) else {
            return false;
        };
        self.load = load;
        true
    }

    /// The tank was under care until now.
    fn follow_care(&mut self, since: Moment, tank: StationId) -> bool {
        let ended = |c: &&(StationId, Moment, Moment)| c.0 == tank && c.1 < self.at && self.at <= c.2;
        let Some(&(_, from, _)) = self.facts.cares().iter().find(ended) else {
            return false;
        };
        self.charge(from.max(since), Cause::Care);
        true
    }

    /// The wait ended because the bath was hot enough.
    fn follow_heat(&mut self, since: Moment, tank: StationId) -> bool {
        let facts = self.facts;
        let freed = facts.last_freed(tank, self.at).unwrap_or(since);
        match (facts.heat_ended(tank, self.at), facts.tank_before(tank, self.at)) {
            (Some(Some(on)), _) if on < self.at => {
                // The heat sets the pace from its switching on, whatever the load did meanwhile.
                self.charge(self.opened_before(self.at).max(on), Cause::HeatUp);
            }
            (_, Some((TankState::Heating, from))) => self.charge(from.max(since), Cause::HeatUp),
            (Some(_), _) => self.charge(freed.max(since), Cause::Recovery),
            (_, Some((TankState::Recovering, from))) => {
                self.charge(from.max(since).max(freed), Cause::Recovery);
            }
            _ => return false,
        }
        true
    }

    /// The last opening at or before a moment.
    fn opened_before(&self, at: Moment) -> Moment {
        let days = self.facts.shop.calendar.days.iter();
        days.map(|d| d.open)
            .filter(|open| *open < at)
            .max()
            .unwrap_or(self.from)
    }

    /// The last moment before now, within the wait, at which a question may have another answer.
    fn latest_change(&self, since: Moment, visit: &Visit, to_lift: bool) -> Moment {
        let within = |at: &Moment| since < *at && *at < self.at;
        let rests = self.facts.rests.iter().map(|(_, to, _)| *to).filter(within).max();
        let freed = self
            .facts
            .freed()
            .iter()
            .filter(|(s, ..)| !to_lift && *s == visit.station);
        let freed = freed.map(|(_, at, _)| *at).filter(within).max();
        let tank = self.facts.states(visit.station).filter(|_| !to_lift);
        let tank = tank.into_iter().flatten().map(|s| s.to).filter(within).max();
        let hands = self
            .facts
            .tasks()
            .map(|d| d.to)
            .filter(within)
            .max()
            .filter(|_| to_lift);
        [rests, freed, tank, hands]
            .into_iter()
            .flatten()
            .max()
            .unwrap_or(since)
    }
}

fn rest_cause(pause: bool) -> Cause {
    if pause { Cause::Break } else { Cause::Closed }
}

fn work_cause(shop: &Shop, at: StepRef) -> Cause {
    let step = shop.find_step(at);
    match step {
        Some(step) if step.time == StepTime::Coat => Cause::Dwell,
        Some(step) => Cause::Work(step.name.clone()),
        None => Cause::Hands,
    }
}

/// Work of hands that no load stands behind.
fn tank_work(kind: TaskKind) -> Cause {
    match kind {
        TaskKind::TopUp => Cause::TopUp,
        TaskKind::Renew => Cause::Work("fresh rinse water".into()),
        _ => Cause::Care,
    }
}

/// A wait that nothing in the record ends: what it is by its kind.
fn guess(shop: &Shop, visit: &Visit, to_lift: bool) -> Cause {
    let tank = shop.tank(visit.station).is_some();
    let fills = shop.rules.fill.at_least.in_fraction() > 0.0;
    match (to_lift, tank) {
        (true, _) => Cause::Hands,
        (false, true) if fills => Cause::Company,
        (false, true) => Cause::KeptBack,
        (false, false) if shop.rules.look_ahead => Cause::KeptBack,
        (false, false) => Cause::Hands,
    }
}
