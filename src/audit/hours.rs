//! The shop's hours: marked as its calendar says, and kept by hands but where something must not wait.

use super::found::{FaultKind, Findings};
use super::hands::{Doing, Kind};
use super::stage::{Story, Visit};
use tankday_base::shop::{AtBreak, Hands, STAYS, Shop, Step, StepIx};
use tankday_base::units::Moment;
use tankday_record::{LogEntry, Record};

/// Opening, closing and breaks stand in the record at the times of the calendar, up to the moment at which the run must
/// stop: a run goes on for as long as something can happen.
pub(super) fn check_marks(shop: &Shop, record: &Record, found: &mut Findings<'_>) {
    let mut stated: Vec<(Moment, LogEntry)> = Vec::new();
    for day in &shop.calendar.days {
        stated.push((day.open, LogEntry::Opens));
        for pause in &day.breaks {
            stated.extend([
                (pause.from, LogEntry::BreakBegins),
                (pause.until, LogEntry::BreakEnds),
            ]);
        }
        stated.push((day.close, LogEntry::Closes));
    }
    let end = shop.rules.stop.min(Moment::NEVER);
    let is_mark = |e: &LogEntry| {
        matches!(
            e,
            LogEntry::Opens | LogEntry::Closes | LogEntry::BreakBegins | LogEntry::BreakEnds
        )
    };
    for entry in record.entries.iter().filter(|e| is_mark(&e.event)) {
        match stated.iter().position(|s| s.0 == entry.at && s.1 == entry.event) {
            Some(i) => {
                stated.remove(i);
            }
            None => found.say(
                entry.at,
                FaultKind::Hours,
                "the shop opens, closes or rests at a time that is not in its calendar",
            ),
        }
    }
    for (at, _) in stated.into_iter().filter(|s| s.0 < end) {
        found.say(
            at,
            FaultKind::Hours,
            "the shop should open, close or rest now and does not",
        );
    }
}

/// Whether hands are on duty.
fn on_duty(shop: &Shop, at: Moment) -> bool {
    let open = |d: &&tankday_base::shop::Day| d.open <= at && at < d.close;
    let day = shop.calendar.days.iter().find(open);
    day.is_some_and(|d| !d.breaks.iter().any(|b| b.from <= at && at < b.until))
}

/// Whether somebody is still near: in a break, or for a while after closing.
fn stays(shop: &Shop, at: Moment) -> bool {
    let near = |d: &tankday_base::shop::Day| {
        let rests = d.breaks.iter().any(|b| b.from <= at && at < b.until);
        rests || (d.close <= at && at - d.close <= STAYS)
    };
    shop.calendar.days.iter().any(near)
}

/// The first break or closing after `from` and before `to`.
fn next_rest(shop: &Shop, from: Moment, to: Moment) -> Option<Moment> {
    let days = shop.calendar.days.iter();
    let rests = days.flat_map(|d| d.breaks.iter().map(|b| b.from).chain([d.close]));
    rests.filter(|r| from < *r && *r < to).min()
}

pub(super) fn check_tasks(shop: &Shop, story: &Story, tasks: &[Doing], found: &mut Findings<'_>) {
    for task in tasks {
        let visit = task.load.and_then(|(load, step)| {
            let mut stays = story.visits.iter().rev();
            stays.find(|v| v.load == load && v.step == step && v.set_in <= task.from)
        });
        let pressed = visit.is_some_and(|v| must_not_wait(shop, v, task.kind));
        let place = found.station(task.station);
        let from_bath = task.kind == Kind::TakeOut
            && shop
                .stations
                .get(task.station.index())
                .is_some_and(|s| s.tank.is_some());
        // Whoever has a load in hand does not lay it down wet because the hour is late.
        let in_hand = tasks
            .iter()
            .any(|t| t.to == Some(task.from) && same_load(t, task));
        if !on_duty(shop, task.from) && pressed && !from_bath && !in_hand && !stays(shop, task.from) {
            found.say(
                task.from,
                FaultKind::Hours,
                format!("hands turn to {place} when nobody is there"),
            );
        }
        if !on_duty(shop, task.from) && !pressed {
            found.say(
                task.from,
                FaultKind::Hours,
                format!("hands turn to {place} outside of working hours, though it could wait"),
            );
        }
        let end = task.to.unwrap_or(task.from);
        if task.kind == Kind::Work
            && next_rest(shop, task.from, end).is_some()
            && visit.is_some_and(|v| rests(shop, v))
        {
            found.say(
                task.from,
                FaultKind::Hours,
                format!("hands at {place} go on where a break or closing should stop them"),
            );
        }
    }
}

fn same_load(a: &Doing, b: &Doing) -> bool {
    a.load.is_some() && a.load.map(|l| l.0) == b.load.map(|l| l.0)
}

fn step_of<'a>(shop: &'a Shop, visit: &Visit) -> Option<&'a Step> {
    shop.routes
        .get(visit.step.route.index())?
        .steps
        .get(visit.step.step.index())
}

fn wet(step: &Step) -> bool {
    step.at_once || step.within.is_some()
}

/// A load in a tank or with a longest stay must come out; one that was begun and whose step is limited in its waiting
/// goes on, as does one whose next step is.
fn must_not_wait(shop: &Shop, visit: &Visit, kind: Kind) -> bool {
    let Some(step) = step_of(shop, visit) else {
        return false;
    };
    let tank = shop
        .stations
        .get(visit.station.index())
        .is_some_and(|s| s.tank.is_some());
    let goes_on = wet(step) && visit.begun_before;
    match kind {
        Kind::TopUp | Kind::Renew | Kind::Care => false,
        Kind::PutIn | Kind::Work => goes_on,
        Kind::TakeOut => tank || step.most.is_some() || goes_on || next_is_wet(shop, visit),
    }
}

fn next_is_wet(shop: &Shop, visit: &Visit) -> bool {
    let steps = shop
        .routes
        .get(visit.step.route.index())
        .map_or(&[][..], |r| &r.steps);
    steps
        .iter()
        .any(|s| s.after.contains(&StepIx(visit.step.step.0)) && wet(s))
}

/// Whether work on it stops at a break.
fn rests(shop: &Shop, visit: &Visit) -> bool {
    let step = step_of(shop, visit);
    step.is_some_and(|s| s.hands == Hands::Throughout && s.at_break != AtBreak::FinishFirst && !wet(s))
}
