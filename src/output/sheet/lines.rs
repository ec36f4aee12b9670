//! Which tasks stand in one line: what the same hands do one after the other, there and then.

use super::tasks::{SheetTask, is_tank};
use tankday_base::shop::Shop;
use tankday_base::units::Span;
use tankday_record::TaskKind;

/// Stretches of work that stand in one line at most, and tasks in them.
const MOST: usize = 3;
const MOST_TASKS: usize = 4;
/// All but the last of a line together take no longer than this: what comes later than that has a time of its own.
const QUICK: Span = Span::whole_minutes(4);
/// What a line costs, and what one more costs that ends with a load in the hand: what is done with it should follow.
const LINE: u32 = 10;
const HELD: u32 = 4;

/// Deeds in order of their beginning, as lines.
pub(super) fn lines(shop: &Shop, deeds: Vec<SheetTask>) -> Vec<Vec<SheetTask>> {
    let mut runs: Vec<Vec<SheetTask>> = Vec::new();
    for deed in deeds {
        let goes_on = |run: &&mut Vec<SheetTask>| run.last().is_some_and(|last| follows(shop, last, &deed));
        match runs.iter_mut().rev().find(goes_on) {
            Some(run) => run.push(deed),
            None => runs.push(vec![deed]),
        }
    }
    runs.into_iter().flat_map(divided).collect()
}

/// Whether the same hands go on with the next deed without a pause, away from baths.
fn follows(shop: &Shop, last: &SheetTask, next: &SheetTask) -> bool {
    let handling = |d: &SheetTask| d.load().is_some() && d.tasks().all(|t| !is_tank(shop, t));
    last.hand == next.hand && last.to == next.from && handling(last) && handling(next)
}

/// A run in as few lines as may be; among those, lines that end with a load in the hand are few.
fn divided(run: Vec<SheetTask>) -> Vec<Vec<SheetTask>> {
    // For each end of a part from the beginning: what it costs, and where its last line begins.
    let mut best: Vec<(u32, usize)> = vec![(0, 0)];
    for end in 1..=run.len() {
        let from = (end.saturating_sub(MOST)..end).filter(|from| fits(run.get(*from..end).unwrap_or(&[])));
        let cost = |from: usize| {
            let held = run.get(end - 1).is_some_and(ends_in_hand);
            best.get(from).map_or(u32::MAX, |b| b.0) + LINE + if held { HELD } else { 0 }
        };
        // One deed alone always fits.
        let found = from.map(|from| (cost(from), from)).min();
        best.push(found.unwrap_or((u32::MAX, end - 1)));
    }
    cut(run, &best)
}

fn cut(mut run: Vec<SheetTask>, best: &[(u32, usize)]) -> Vec<Vec<SheetTask>> {
    let mut lines = Vec::new();
    while let Some(&(_, from)) = best.get(run.len()).filter(|_| !run.is_empty()) {
        lines.push(run.split_off(from.min(run.len() - 1)));
    }
    lines.reverse();
    lines
}

fn fits(line: &[SheetTask]) -> bool {
    let tasks: usize = line.iter().map(|d| d.tasks().len()).sum();
    let Some((_, before)) = line.split_last() else {
        return false;
    };
    let lead: Span = before.iter().map(|d| d.to - d.from).sum();
    line.len() == 1 || (tasks <= MOST_TASKS && lead <= QUICK)
}

fn ends_in_hand(deed: &SheetTask) -> bool {
    deed.tasks()
        .next_back()
        .is_some_and(|t| t.kind == TaskKind::TakeOut)
}
