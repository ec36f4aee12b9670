//! Whether the record goes on for as long as something was due.

use super::found::{FaultKind, Findings};
use super::hands::Doing;
use super::life::transfer;
use super::stage::{Load, Stage, Story};
use tankday_base::shop::{AtBreak, Day, Hands, Shop, Step, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::Record;

pub(super) fn check(shop: &Shop, record: &Record, story: &Story, tasks: &[Doing], found: &mut Findings<'_>) {
    // Hands that tend a bath or a rinse when the record ends are not there for a load.
    let busy = tasks.iter().filter(|t| t.to.is_none()).count();
    let end = record.entries.last().map_or(Moment::ZERO, |e| e.at);
    let idle = (shop.hands_at(end) as usize).saturating_sub(busy);
    for load in story.loads.iter().filter(|l| !l.lost) {
        if due(shop, story, load).is_some_and(|at| at < shop.rules.stop) {
            found.of_load(
                end,
                FaultKind::Undone,
                load.no,
                &format!(
                    "{} at the end, though that was due to be over",
                    load.stage.words()
                ),
            );
        }
        if load.stage == Stage::Waiting && could_begin(shop, story, load, end, idle) {
            found.of_load(
                end,
                FaultKind::Undone,
                load.no,
                "waits at the end, though place, hands and time are there",
            );
        }
    }
}

/// When the stage in which a load is left must be over.
fn due(shop: &Shop, story: &Story, load: &Load) -> Option<Moment> {
    let visit = story.visits.get(load.visit?)?;
    let step = shop
        .routes
        .get(visit.step.route.index())?
        .steps
        .get(visit.step.step.index())?;
    let (put_in, take_out) = transfer(step);
    match load.stage {
        Stage::PuttingIn => Some(load.since + put_in),
        Stage::Working => Some(load.since + visit.planned),
        Stage::TakingOut => Some(load.since + take_out),
        _ => None,
    }
}

/// Whether nothing keeps a load from a step for which it waits: a station that is no tank has a place, hands are idle
/// or not needed, and the shop is open for a while yet or needs no hands.
fn could_begin(shop: &Shop, story: &Story, load: &Load, end: Moment, idle: usize) -> bool {
    let busy = |s: &Load| {
        matches!(
            s.stage,
            Stage::PuttingIn | Stage::TakingOut | Stage::Working | Stage::Paused
        )
    };
    let idle_shop = !story.loads.iter().any(busy);
    let steps = load
        .waits
        .iter()
        .filter(|w| !would_lie_bare(shop, **w, end))
        .filter_map(|w| shop.routes.get(w.route.index())?.steps.get(w.step.index()));
    let begins = |step: &Step| {
        let first = !stands_far_back(shop, story, load, step);
        first && free_station(shop, story, step) && hands_come(shop, step, end, idle)
    };
    idle_shop && steps.into_iter().any(begins)
}

/// So deep a line is searched for a load that may start; those behind are not judged.
const DEPTH: usize = 12;

/// Whether so many loads wait for the same stations that the line may not have been searched as far as this one.
fn stands_far_back(shop: &Shop, story: &Story, load: &Load, step: &Step) -> bool {
    let here = |w: &StepRef| {
        let other = shop
            .routes
            .get(w.route.index())
            .and_then(|r| r.steps.get(w.step.index()));
        other.is_some_and(|o| o.stations == step.stations)
    };
    let waits = |l: &&Load| l.no != load.no && l.stage == Stage::Waiting && l.waits.iter().any(here);
    story.loads.iter().filter(waits).count() >= DEPTH
}

/// Whether nobody will be there for a later step that must follow within a time: the load is kept out of what comes before,
/// even where it may go on without a place behind it (`WhenFull::Go` judges by the end of a day, and no day is left).
fn would_lie_bare(shop: &Shop, at: StepRef, end: Moment) -> bool {
    let over = !shop.calendar.days.iter().any(|d| d.close > end);
    let steps = shop.routes.get(at.route.index()).map_or(&[][..], |r| &r.steps);
    let later = steps.iter().skip(at.step.index() + 1);
    over && later.into_iter().any(|s| s.within.is_some())
}

fn free_station(shop: &Shop, story: &Story, step: &Step) -> bool {
    step.stations.iter().any(|&id| {
        let taken = story
            .visits
            .iter()
            .filter(|v| v.station == id && v.free.is_none())
            .count();
        shop.stations
            .get(id.index())
            .is_some_and(|s| s.tank.is_none() && taken < s.places as usize)
    })
}

/// Whether hands are not needed at the start, or will be there again for long enough before the run must stop. Work under
/// hands that cannot be laid down, and what looking ahead may keep back, is not judged.
fn hands_come(shop: &Shop, step: &Step, end: Moment, idle: usize) -> bool {
    let (put_in, _) = transfer(step);
    let takes = match step.hands {
        Hands::Throughout if step.at_break != AtBreak::Pause => return false,
        Hands::Throughout => Span::micros(1),
        _ => put_in,
    };
    if takes == Span::ZERO {
        return end < shop.rules.stop;
    }
    let kept_back = shop.rules.look_ahead && step.most.is_some();
    let long_enough = |d: &Day| d.open.max(end) + takes < d.close.min(shop.rules.stop);
    idle > 0 && !kept_back && shop.calendar.days.iter().any(long_enough)
}
