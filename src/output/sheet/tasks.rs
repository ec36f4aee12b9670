//! Tasks of hands, put together as one would say them: what follows at once with the same load is one deed.

use std::collections::{BTreeMap, BTreeSet};
use tankday_base::shop::{Hands, Shop, StationId, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{LoadNo, LogEntry, Record, Task, TaskKind};

/// The hand of what takes none.
const ANY: u32 = u32::MAX;

/// A stretch of work under one pair of hands with one load, or a top-up.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SheetTask {
    pub(super) hand: u32,
    pub(super) from: Moment,
    pub(super) to: Moment,
    /// Time under hands, pauses left out.
    pub(super) takes: Span,
    pub(super) taken: Vec<Taken>,
}

/// A task, and when hands turn to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Taken {
    pub(super) at: Moment,
    pub(super) task: Task,
}

impl SheetTask {
    pub(super) fn load(&self) -> Option<LoadNo> {
        self.tasks().next()?.load.map(|(load, _)| load)
    }

    /// Its tasks in their order.
    pub(super) fn tasks(&self) -> impl DoubleEndedIterator<Item = &Task> + ExactSizeIterator {
        self.taken.iter().map(|t| &t.task)
    }
}

/// All deeds in order of their beginning.
pub(super) fn deeds(shop: &Shop, record: &Record) -> Vec<SheetTask> {
    let mut deeds: Vec<SheetTask> = Vec::new();
    let mut busy: BTreeMap<u32, (Moment, Task)> = BTreeMap::new();
    let mut last: BTreeMap<LoadNo, usize> = BTreeMap::new();
    let mut resumed: BTreeSet<LoadNo> = BTreeSet::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { hand, task } => {
                busy.insert(hand, (entry.at, task));
            }
            LogEntry::HandsFree { hand } => {
                if let Some((from, task)) = busy.remove(&hand) {
                    let takes = entry.at - from;
                    let deed = SheetTask {
                        hand,
                        from,
                        to: entry.at,
                        takes,
                        taken: vec![Taken { at: from, task }],
                    };
                    let again = deed.load().is_some_and(|load| resumed.remove(&load));
                    add(shop, &mut deeds, &mut last, deed, again);
                }
            }
            LogEntry::WorkResumes { load } => {
                resumed.insert(load);
            }
            LogEntry::SetIn { load, step, station } if takes_no_time(shop, step) => {
                let set_in = set_in(&deeds, &last, (load, step, station), entry.at);
                add(shop, &mut deeds, &mut last, set_in, false);
            }
            _ => {}
        }
    }
    deeds.sort_by_key(|d| (d.from, d.hand));
    deeds
}

/// Whether a load is put in at a step in no time: the record then tells of no hands, and it goes in all the same.
fn takes_no_time(shop: &Shop, at: StepRef) -> bool {
    shop.find_step(at)
        .is_some_and(|s| s.hands == Hands::Ends && s.put_in <= Span::ZERO)
}

/// Putting in that takes no time: by the hand that had the load just before, or by any.
fn set_in(
    deeds: &[SheetTask],
    last: &BTreeMap<LoadNo, usize>,
    (load, step, station): (LoadNo, StepRef, StationId),
    at: Moment,
) -> SheetTask {
    let before = last.get(&load).and_then(|i| deeds.get(*i)).filter(|d| d.to == at);
    let task = Task {
        kind: TaskKind::PutIn,
        station,
        load: Some((load, step)),
        vessel: None,
    };
    SheetTask {
        hand: before.map_or(ANY, |d| d.hand),
        from: at,
        to: at,
        takes: Span::ZERO,
        taken: vec![Taken { at, task }],
    }
}

fn add(
    shop: &Shop,
    deeds: &mut Vec<SheetTask>,
    last: &mut BTreeMap<LoadNo, usize>,
    next: SheetTask,
    again: bool,
) {
    let Some(taken) = next.taken.first().copied() else {
        return;
    };
    let task = taken.task;
    let load = next.load();
    if let Some(before) = load.and_then(|l| last.get(&l)).and_then(|i| deeds.get_mut(*i)) {
        let same = before.tasks().next_back() == Some(&task);
        let resumed = again && same;
        let follows =
            !same && before.hand == next.hand && before.to == next.from && joins(shop, before, &task);
        if resumed || follows {
            before.to = next.to;
            before.takes += next.takes;
            if !resumed {
                before.taken.push(taken);
            }
            return;
        }
    }
    if let Some(load) = load {
        last.insert(load, deeds.len());
    }
    deeds.push(next);
}

/// Taking out goes on with what follows at once, but a tank is charged in a row of its own.
fn joins(shop: &Shop, before: &SheetTask, task: &Task) -> bool {
    let into_tank = task.kind == TaskKind::PutIn && is_tank(shop, task);
    let begun_by_taking_out = before.tasks().next().is_some_and(|t| t.kind == TaskKind::TakeOut);
    let at_once = task
        .load
        .and_then(|(_, at)| shop.find_step(at))
        .is_some_and(|s| s.at_once);
    !into_tank && task.kind != TaskKind::TakeOut && (begun_by_taking_out || at_once)
}

pub(super) fn is_tank(shop: &Shop, task: &Task) -> bool {
    shop.tank(task.station).is_some()
}
