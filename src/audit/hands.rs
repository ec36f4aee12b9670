//! Hands: no pair at two tasks, no work without hands, no hands without work.

use super::found::{FaultKind, Findings};
use super::life::transfer;
use super::stage::{Story, Visit};
use std::collections::BTreeMap;
use tankday_base::shop::{Hands, Shop, StationId, Step, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{LoadNo, LogEntry, Record, Task, TaskKind};

/// What a pair of hands did, from when to when; no end if the record ends first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Doing {
    pub(super) from: Moment,
    pub(super) to: Option<Moment>,
    pub(super) station: StationId,
    pub(super) load: Option<(LoadNo, StepRef)>,
    pub(super) kind: Kind,
}

/// [`TaskKind`] with an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    PutIn,
    Work,
    TakeOut,
    TopUp,
    Renew,
    Care,
}

fn kind(task: TaskKind) -> Kind {
    match task {
        TaskKind::PutIn => Kind::PutIn,
        TaskKind::Work => Kind::Work,
        TaskKind::TakeOut => Kind::TakeOut,
        TaskKind::TopUp => Kind::TopUp,
        TaskKind::Renew => Kind::Renew,
        _ => Kind::Care,
    }
}

/// Every task that took time, in the order of beginning.
pub(super) fn tasks(record: &Record, found: &mut Findings<'_>) -> Vec<Doing> {
    let mut busy: BTreeMap<u32, Doing> = BTreeMap::new();
    let mut done = Vec::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { hand, task } => {
                let before = busy.insert(hand, begun(entry.at, &task));
                if let Some(at) = before.map(|b| found.station(b.station)) {
                    let text = format!("hands {} turn to a task while at another, at {at}", hand + 1);
                    found.say(entry.at, FaultKind::Hands, text);
                }
            }
            LogEntry::HandsFree { hand } => match busy.remove(&hand) {
                Some(task) => done.push(Doing {
                    to: Some(entry.at),
                    ..task
                }),
                None => {
                    let text = format!("hands {} come free of nothing", hand + 1);
                    found.say(entry.at, FaultKind::Hands, text);
                }
            },
            _ => {}
        }
    }
    done.extend(busy.into_values());
    done.retain(|t| t.to != Some(t.from));
    done.sort();
    done
}

fn begun(from: Moment, task: &Task) -> Doing {
    Doing {
        from,
        to: None,
        station: task.station,
        load: task.load,
        kind: kind(task.kind),
    }
}

/// Compares what hands did with what the loads and tanks needed.
pub(super) fn check(shop: &Shop, record: &Record, story: &Story, tasks: &[Doing], found: &mut Findings<'_>) {
    let mut needed: Vec<Doing> = Vec::new();
    for visit in &story.visits {
        if story.load(visit.load).is_some_and(|l| l.lost) {
            continue;
        }
        let route = shop.routes.get(visit.step.route.index());
        if let Some(step) = route.and_then(|r| r.steps.get(visit.step.step.index())) {
            needs(visit, step, &mut needed);
        }
    }
    needed.retain(|n| n.to != Some(n.from));
    needed.sort();
    let mut idle: Vec<Doing> = tasks
        .iter()
        .filter(|t| !matches!(t.kind, Kind::TopUp | Kind::Renew | Kind::Care))
        .copied()
        .collect();
    for need in &needed {
        match idle.binary_search(need) {
            Ok(i) => {
                idle.remove(i);
            }
            Err(_) => {
                if let Some((load, step)) = need.load {
                    let text = format!(
                        "has no hands for {} from just then to just when it needs them",
                        found.step(step)
                    );
                    found.of_load(need.from, FaultKind::Hands, load, &text);
                }
            }
        }
    }
    for task in idle
        .iter()
        .filter(|t| t.load.is_none_or(|(l, _)| story.load(l).is_some_and(|l| !l.lost)))
    {
        let text = format!(
            "hands are at {} without a load that needs them",
            found.station(task.station)
        );
        found.say(task.from, FaultKind::Hands, text);
    }
    top_ups(shop, record, tasks, found);
}

/// The times at which a stay needs hands.
fn needs(visit: &Visit, step: &Step, needed: &mut Vec<Doing>) {
    let load = Some((visit.load, visit.step));
    let mut need = |kind, from, to| {
        needed.push(Doing {
            from,
            to,
            station: visit.station,
            load,
            kind,
        })
    };
    let (put_in, take_out) = transfer(step);
    if put_in > Span::ZERO {
        need(Kind::PutIn, visit.set_in, visit.begins);
    }
    if let Some(lift) = visit.lift.filter(|_| take_out > Span::ZERO) {
        need(Kind::TakeOut, lift, visit.done);
    }
    if step.hands != Hands::Throughout {
        return;
    }
    let mut from = visit.begins.unwrap_or(visit.set_in);
    for &(laid_down, taken_up) in &visit.pauses {
        need(Kind::Work, from, Some(laid_down));
        match taken_up {
            Some(at) => from = at,
            None => return,
        }
    }
    need(Kind::Work, from, visit.ends);
}

/// A top-up takes its time, and water comes at its end.
fn top_ups(shop: &Shop, record: &Record, tasks: &[Doing], found: &mut Findings<'_>) {
    let takes = shop.rules.top_up.takes;
    let mut filled: Vec<(Moment, StationId)> = Vec::new();
    for entry in &record.entries {
        if let LogEntry::ToppedUp { tank, .. } = entry.event {
            filled.push((entry.at, tank));
        }
    }
    for task in tasks.iter().filter(|t| t.kind == Kind::TopUp) {
        let Some(to) = task.to else { continue };
        let water = filled.iter().position(|f| *f == (to, task.station));
        if to - task.from != takes || water.is_none() || task.load.is_some() {
            let text = format!(
                "topping up {} takes another time, or brings no water",
                found.station(task.station)
            );
            found.say(task.from, FaultKind::Hands, text);
        }
        if let Some(i) = water {
            filled.swap_remove(i);
        }
    }
    for (at, tank) in filled.into_iter().filter(|_| takes > Span::ZERO) {
        found.say(
            at,
            FaultKind::Hands,
            format!("nobody tops up {}", found.station(tank)),
        );
    }
}
