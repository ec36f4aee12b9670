//! Times of every stay, and limits: kept, or reported by the right amount at the right moment.

use super::found::{FaultKind, Findings};
use super::life::transfer;
use super::stage::{Story, Visit};
use tankday_base::random::Spread;
use tankday_base::shop::{
    AtBreak, BathRecipe, CoatRule, Day, Hands, HandsFirst, Relieves, Shop, Step, StepRef, StepTime,
};
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, LoadNo, LogEntry, Record};

/// What rounding to whole microseconds may change in a time that is computed.
const ROUNDING: Span = Span::micros(2);

pub(super) fn check(shop: &Shop, record: &Record, story: &Story, found: &mut Findings<'_>) {
    let mut expected: Vec<Report> = Vec::new();
    for visit in &story.visits {
        let Some(step) = step(shop, visit.step) else {
            continue;
        };
        begins(shop, story, visit, step, found);
        work(shop, visit, step, found);
        out(visit, step, found);
        expected.extend(waits(shop, story, visit, step));
        expected.extend(stay(shop, visit, step));
        expected.extend(in_at_break(shop, visit, step));
    }
    compare(story, record, expected, found);
}

fn step(shop: &Shop, at: StepRef) -> Option<&Step> {
    shop.routes.get(at.route.index())?.steps.get(at.step.index())
}

fn recipe<'a>(shop: &'a Shop, visit: &Visit) -> Option<&'a BathRecipe> {
    let tank = shop.stations.get(visit.station.index())?.tank?;
    shop.baths.get(tank.bath.index())
}

/// Putting in takes its time; what is planned then, and the longest stay, follow from step and bath.
fn begins(shop: &Shop, story: &Story, visit: &Visit, step: &Step, found: &mut Findings<'_>) {
    let Some(begins) = visit.begins else { return };
    if begins - visit.set_in != transfer(step).0 {
        found.of_load(
            begins,
            FaultKind::Duration,
            visit.load,
            "takes another time to be put in than the route says",
        );
    }
    let own = own_window(shop, story, visit);
    let coat = step.time == StepTime::Coat;
    let bath = recipe(shop, visit).filter(|_| coat);
    if visit.most != bath.map_or(step.most, |b| Some(b.most.min(own.1))) {
        found.of_load(
            begins,
            FaultKind::Duration,
            visit.load,
            "has another longest stay than the route says",
        );
    }
    let (least, most) = match (bath, &step.time) {
        (Some(bath), _) => {
            let (least, most) = coat_range(bath);
            (least.max(own.0).min(own.1), most.max(own.0).min(own.1))
        }
        (None, StepTime::Work { load, each }) => work_range(shop, story, visit, load, *each),
        (None, StepTime::Coat) => (Span::ZERO, Span::FOREVER),
    };
    if visit.planned < least - ROUNDING || visit.planned > most + ROUNDING {
        found.of_load(
            begins,
            FaultKind::Duration,
            visit.load,
            "is planned to stay for a time that the scenario does not give",
        );
    }
}

/// The dwell that all parts of a load can bear, where they say so.
fn own_window(shop: &Shop, story: &Story, visit: &Visit) -> (Span, Span) {
    let parts = visit.lots.iter().filter_map(|&l| story.lots.get(l));
    let windows = parts.filter_map(|l| shop.parts.get(l.part.index())?.dwell);
    windows.fold((Span::ZERO, Span::FOREVER), |w, d| (w.0.max(d.0), w.1.min(d.1)))
}

fn coat_range(bath: &BathRecipe) -> (Span, Span) {
    match &bath.coat {
        CoatRule::Target(_) => (bath.least, bath.most),
        CoatRule::Time(spread) => {
            let (least, most) = range(spread);
            (
                least.min(bath.most).max(bath.least),
                most.min(bath.most).max(bath.least),
            )
        }
    }
}

fn work_range(shop: &Shop, story: &Story, visit: &Visit, load: &Spread, each: Span) -> (Span, Span) {
    let (least, most) = range(load);
    let pieces: u32 = visit
        .lots
        .iter()
        .filter_map(|&l| story.lots.get(l))
        .map(|l| l.pieces)
        .sum();
    let for_pieces = Span::micros(each.in_micros().saturating_mul(pieces.into()));
    let grouped = shop
        .stations
        .get(visit.station.index())
        .is_some_and(|s| s.together > 1);
    if grouped && each > Span::ZERO {
        return (least, Span::FOREVER);
    }
    (least + for_pieces, most + for_pieces)
}

/// The times that a spread can give.
fn range(spread: &Spread) -> (Span, Span) {
    match spread {
        Spread::Fixed(time) => (*time, *time),
        Spread::Uniform { least, most } | Spread::Triangular { least, most, .. } => (*least, *most),
        Spread::Readings(all) => (
            all.iter().copied().min().unwrap_or_default(),
            all.iter().copied().max().unwrap_or_default(),
        ),
        Spread::Normal { .. }
        | Spread::Exponential { .. }
        | Spread::Lognormal { .. }
        | Spread::Gamma { .. } => (Span::ZERO, Span::FOREVER),
    }
}

/// The work lasts as planned, less what it was laid down for; it is laid down only where the step allows it.
fn work(shop: &Shop, visit: &Visit, step: &Step, found: &mut Findings<'_>) {
    let Some(begins) = visit.begins else { return };
    for &(at, _) in &visit.pauses {
        let hands = step.hands == Hands::Throughout;
        let may = match step.at_break {
            AtBreak::FinishFirst => false,
            AtBreak::StartAgain => hands && hours_end(shop, at),
            AtBreak::Pause => hands && (hours_end(shop, at) || shop.rules.hands == HandsFirst::Urgent),
        };
        if !may {
            found.of_load(
                at,
                FaultKind::Hours,
                visit.load,
                "is laid down where its step does not allow it",
            );
        }
    }
    let Some(ends) = visit.ends else { return };
    let mut stretches = vec![begins];
    stretches.extend(visit.pauses.iter().flat_map(|p| [Some(p.0), p.1]).flatten());
    stretches.push(ends);
    let mut worked = stretches.chunks_exact(2).map(|c| c[1] - c[0]);
    let worked: Span = match step.at_break {
        AtBreak::StartAgain => worked.next_back().unwrap_or_default(),
        _ => worked.sum(),
    };
    if worked != visit.planned {
        let by = (worked - visit.planned).in_minutes();
        let text = format!(
            "is worked on for {:.3} min {} than planned",
            by.abs(),
            if by < 0.0 { "less" } else { "more" }
        );
        found.of_load(ends, FaultKind::Duration, visit.load, &text);
    }
}

/// Whether a break or closing begins just then.
fn hours_end(shop: &Shop, at: Moment) -> bool {
    shop.calendar
        .days
        .iter()
        .any(|d| d.close == at || d.breaks.iter().any(|b| b.from == at))
}

/// Without hands for taking out, a load leaves when its work is done; else taking out takes its time.
fn out(visit: &Visit, step: &Step, found: &mut Findings<'_>) {
    let take_out = transfer(step).1;
    let Some(lift) = visit.lift else { return };
    if take_out == Span::ZERO && visit.ends != Some(lift) {
        found.of_load(
            lift,
            FaultKind::Duration,
            visit.load,
            "stays although nobody need take it out",
        );
    }
    if visit.done.is_some_and(|done| done - lift != take_out) {
        found.of_load(
            lift,
            FaultKind::Duration,
            visit.load,
            "takes another time to be taken out than the route says",
        );
    }
}

/// A limit that was not kept: when, whose, at which step, and which by how much.
type Report = (Moment, LoadNo, StepRef, Breach);

/// Hydrogen is to be relieved soon after the bath: its wait counts from the last coating, all others from the step before.
fn coated_until(shop: &Shop, story: &Story, visit: &Visit) -> Option<Moment> {
    let coats = |v: &&Visit| step(shop, v.step).is_some_and(|s| s.time == StepTime::Coat);
    let own = story.visits.iter().filter(|v| v.load == visit.load);
    let before = own.filter(coats).filter_map(|v| v.done);
    before.filter(|done| *done <= visit.set_in).max()
}

fn waits(shop: &Shop, story: &Story, visit: &Visit, step: &Step) -> Vec<Report> {
    let Some(within) = step.within else {
        return Vec::new();
    };
    let relieves = step.relief.is_some_and(|r| r.what == Relieves::Hydrogen);
    let coated = if relieves {
        coated_until(shop, story, visit)
    } else {
        None
    };
    let late = |&(load, from): &(LoadNo, Option<Moment>)| {
        let from = from.map(|from| left_in(shop, story, visit, (load, from)));
        let by = visit.set_in - coated.or(from)? - within;
        (by > Span::ZERO).then_some((visit.set_in, load, visit.step, Breach::WaitedTooLong { by }))
    };
    visit.waited_from.iter().filter_map(late).collect()
}

/// What was left in has waited since it was done, where it lay wet or bare or over night where it may not: no rack and no rinse
/// keeps work from rusting.
fn left_in(shop: &Shop, story: &Story, visit: &Visit, (load, from): (LoadNo, Moment)) -> Moment {
    // A step of no time is over when the one before it is.
    let before = story.visits.iter().take_while(|v| !std::ptr::eq(*v, visit));
    let own = before.filter(|v| v.load == load && v.done == Some(from));
    let since = own.last().and_then(|before| {
        let step = step(shop, before.step)?;
        let (begins, ends, lift) = (before.begins?, before.ends?, before.lift?);
        let opens = |d: &Day| begins < d.open && d.open <= lift;
        let may = step.overnight || step.time == StepTime::Coat;
        let left = !may && (lies_open(step) || shop.calendar.days.iter().any(opens));
        left.then_some(ends + transfer(step).1)
    });
    since.unwrap_or(from)
}

/// Where work that is done rusts until somebody takes it out, and the route states no longest stay.
fn lies_open(step: &Step) -> bool {
    use tankday_base::shop::StepKind as Kind;
    let by_hand = step.hands == Hands::Ends && step.most.is_none() && step.relief.is_none();
    let keeps_dry = [Kind::Preheat, Kind::Relieve, Kind::DryByOven];
    let keeps_wet = [
        Kind::DegreaseHotAlkaline,
        Kind::Degrease,
        Kind::DegreaseSolvent,
        Kind::Pickle,
        Kind::Seal,
        Kind::SealHexavalent,
    ];
    let keeps_oiled = [Kind::Oil, Kind::OilHot];
    let nothing_done = step.after.is_empty() && [Kind::Rest, Kind::Inspect, Kind::Other].contains(&step.kind);
    by_hand
        && !nothing_done
        && ![&keeps_dry[..], &keeps_wet, &keeps_oiled]
            .concat()
            .contains(&step.kind)
}

fn stay(shop: &Shop, visit: &Visit, step: &Step) -> Option<Report> {
    let (begins, lift) = (visit.begins?, visit.lift?);
    let by = lift - begins - visit.most?;
    let overnight = step.overnight
        && shop
            .calendar
            .days
            .iter()
            .any(|d| begins < d.close && d.close <= lift);
    let report = (lift, visit.load, visit.step, Breach::StayedTooLong { by });
    (by > Span::ZERO && !overnight).then_some(report)
}

/// A load that is in a tank when a break begins that nobody stays for.
fn in_at_break(shop: &Shop, visit: &Visit, step: &Step) -> Option<Report> {
    recipe(shop, visit)?;
    let out = visit.lift? + transfer(step).1;
    let days = shop.calendar.days.iter();
    let alone = days.flat_map(|d| &d.breaks).filter(|b| !b.stays).map(|b| b.from);
    let first = alone.filter(|from| visit.set_in < *from && *from < out).min()?;
    let what = Breach::InAtBreak { by: out - first };
    Some((visit.lift?, visit.load, visit.step, what))
}

fn compare(story: &Story, record: &Record, mut expected: Vec<Report>, found: &mut Findings<'_>) {
    for entry in &record.entries {
        let LogEntry::Breaks { load, step, what } = entry.event else {
            continue;
        };
        let report = (entry.at, load, step, what);
        match expected.iter().position(|e| *e == report) {
            Some(i) => {
                expected.swap_remove(i);
            }
            None => {
                let text = format!(
                    "is reported for a limit of {} that it kept, or by the wrong amount",
                    found.step(step)
                );
                found.of_load(entry.at, FaultKind::Limit, load, &text);
            }
        }
    }
    for (at, load, step, what) in expected {
        if story.load(load).is_none_or(|l| l.lost) {
            continue;
        }
        let name = found.step(step);
        let text = match what {
            Breach::WaitedTooLong { by } => format!(
                "waited {:.3} min too long for {name}, and nothing says so",
                by.in_minutes()
            ),
            Breach::StayedTooLong { by } => format!(
                "stayed {:.3} min too long at {name}, and nothing says so",
                by.in_minutes()
            ),
            Breach::InAtBreak { by } => format!(
                "is at {name} when a break begins that nobody stays for, {:.3} min long, and nothing says so",
                by.in_minutes()
            ),
        };
        found.of_load(at, FaultKind::Limit, load, &text);
    }
}
