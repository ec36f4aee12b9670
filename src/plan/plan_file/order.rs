//! Mends the order and the times of the tasks of a plan.

use super::loads::Grouped;
use super::tasks::Known;
use super::times::longest_rising;
use super::{Names, Reader};
use std::collections::BTreeSet;
use tankday_base::shop::Shop;
use tankday_base::units::Moment;
use tankday_line::Line;
use tankday_scenario::{PlanFile, Whose, WrittenTask};

/// A task with what it means.
pub(super) type Pair = (WrittenTask, Known);

/// Tasks that nothing stands behind go; lines go to the places of their times and of their routes; times that cannot
/// be kept are left open.
pub(super) fn mend_tasks(shop: &Shop, line: &Line<'_>, file: &mut PlanFile, said: &mut Vec<String>) {
    let whole = file.clone();
    let mut reader = Reader {
        shop,
        line,
        file: &whole,
        names: Names::of(shop),
        found: Vec::new(),
    };
    let grouped = reader.loads();
    let mut list = understood(&mut reader, &grouped, said);
    leave_open(&mut reader, &grouped, &mut list, said);
    to_their_times(&mut list, said);
    to_their_routes(&reader, &grouped, &mut list, said);
    never_backwards(&mut list, said);
    super::heats::mend_heat(&reader, &grouped, &list, file, said);
    file.tasks = list.into_iter().map(|p| p.0).collect();
}

fn named(task: &WrittenTask) -> String {
    let whose = match &task.whose {
        Whose::Order(name, 1) => name.value.clone(),
        Whose::Order(name, lot) => format!("{}, lot {lot}", name.value),
        Whose::Load(name) => name.value.clone(),
    };
    let out = if task.out { "taking out of " } else { "" };
    format!("{out}`{}` of {whose}", task.step.value)
}

fn understood<'a>(reader: &mut Reader<'a>, grouped: &Grouped<'a>, said: &mut Vec<String>) -> Vec<Pair> {
    let file = reader.file;
    let mut seen = BTreeSet::new();
    let mut list = Vec::new();
    for task in &file.tasks {
        match reader.known(task, grouped) {
            None => said.push(format!("{}: there is no such task; left out", named(task))),
            Some(known) if !seen.insert(known.task) => {
                said.push(format!("{} stood twice; once is left", named(task)));
            }
            Some(known) => list.push((task.clone(), known)),
        }
    }
    list
}

/// Lines that stand wrong for their times go where they belong.
fn to_their_times(list: &mut Vec<Pair>, said: &mut Vec<String>) {
    let timed: Vec<(usize, Moment)> = list
        .iter()
        .enumerate()
        .filter_map(|(i, p)| Some((i, p.1.time?.value)))
        .collect();
    let stays = longest_rising(&timed.iter().map(|t| t.1).collect::<Vec<_>>());
    let wrong: BTreeSet<usize> = timed
        .iter()
        .zip(&stays)
        .filter(|(_, s)| !**s)
        .map(|(t, _)| t.0)
        .collect();
    let mut kept = Vec::new();
    let mut moved = Vec::new();
    for (i, pair) in std::mem::take(list).into_iter().enumerate() {
        if wrong.contains(&i) {
            moved.push(pair);
        } else {
            kept.push(pair);
        }
    }
    for pair in moved {
        let Some(time) = pair.1.time else { continue };
        let later = |p: &Pair| p.1.time.is_some_and(|t| t.value > time.value);
        let at = kept.iter().position(later).unwrap_or(kept.len());
        said.push(format!(
            "{} goes to the place of its time, {}",
            named(&pair.0),
            time.value.clock()
        ));
        kept.insert(at, pair);
    }
    *list = kept;
}

/// What must be done first goes before what waits for it.
fn to_their_routes(reader: &Reader<'_>, grouped: &Grouped<'_>, list: &mut Vec<Pair>, said: &mut Vec<String>) {
    let mut left: Vec<Option<Pair>> = std::mem::take(list).into_iter().map(Some).collect();
    for i in 0..left.len() {
        let Some(pair) = left[i].take() else { continue };
        // Predecessors behind it, in their own order along the route.
        let mut first: Vec<Pair> = Vec::new();
        for later in left.iter_mut().skip(i + 1) {
            let precedes = later
                .as_ref()
                .is_some_and(|p| reader.must_precede(&p.1, &pair.1, grouped));
            if precedes {
                first.extend(later.take());
            }
        }
        while !first.is_empty() {
            let free = (0..first.len())
                .find(|&a| {
                    !(0..first.len())
                        .any(|b| b != a && reader.must_precede(&first[b].1, &first[a].1, grouped))
                })
                .unwrap_or(0);
            let one = first.remove(free);
            said.push(format!("{} goes before {}", named(&one.0), named(&pair.0)));
            list.push(one);
        }
        list.push(pair);
    }
}

/// Times that go back are left open.
fn never_backwards(list: &mut [Pair], said: &mut Vec<String>) {
    let mut latest = Moment::ZERO;
    for pair in list.iter_mut() {
        let Some(time) = pair.1.time else { continue };
        if time.value < latest {
            open(pair, said);
        } else {
            latest = time.value;
        }
    }
}

/// Times that lie outside the hours or outside a dwell window are left open.
fn leave_open<'a>(reader: &mut Reader<'a>, grouped: &Grouped<'a>, list: &mut [Pair], said: &mut Vec<String>) {
    let known: Vec<Known> = list.iter().map(|p| p.1).collect();
    reader.found.clear();
    reader.in_hours(&known, &grouped.plan);
    reader.in_windows(&known, grouped);
    let wrong: BTreeSet<(usize, usize)> = reader.found.iter().map(|f| (f.at.start, f.at.end)).collect();
    for pair in list.iter_mut() {
        if pair
            .1
            .time
            .is_some_and(|t| wrong.contains(&(t.at.start, t.at.end)))
        {
            open(pair, said);
        }
    }
}

fn open(pair: &mut Pair, said: &mut Vec<String>) {
    let time = pair.1.time.take().map_or(String::new(), |t| t.value.clock());
    pair.0.time = None;
    said.push(format!("{}: no time is set, {time} cannot be", named(&pair.0)));
}
