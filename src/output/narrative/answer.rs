//! The answer: how many orders are on time, and what to promise instead for those that are not.

use super::Results;
use super::bare::{first_line, kept_out};
use super::beyond::by_planning;
use super::promise::{Harm, Promise, Sure, promises};
use super::three::finish;
use tankday_base::print::{Line, Style, capital, clock_or_date, count_word, plural};
use tankday_base::shop::{StationId, Step, StepKind};
use tankday_base::units::{Moment, Span};
use tankday_record::{Caution, LoadNo, WarningKind};

/// What was kept out of a bath for less is not why an order is not finished. A choice.
const WORTH_A_WORD: Span = Span::whole_minutes(60);

/// Orders at risk that are named one by one.
const NAMED: usize = 3;

/// The answer in styled lines: one sentence, one for each order at risk, and what planning gained.
#[must_use]
pub fn answer(results: &Results<'_>) -> Vec<Line> {
    lines(results, &promises(results))
}

fn lines(results: &Results<'_>, promises: &[Promise]) -> Vec<Line> {
    let (bare, alone): (String, Vec<String>) = (first_line(results), alone(results).collect());
    // Chances are of many days; what lies bare or is left alone was seen on one.
    let drawn = results.many().is_some() && !(bare.is_empty() && alone.is_empty());
    let of_day = match drawn {
        true => format!(" On the {} shown here:", results.each().one()),
        false => String::new(),
    };
    let mut first = Line::of(
        Style::Bold,
        format!("{}{of_day}{bare}", sentence(results, promises)),
    );
    for fact in alone {
        first = first.and(Style::Late, format!(" {fact}"));
    }
    let mut lines = vec![first];
    lines.extend(super::some_days::lines(results));
    let mut at_risk: Vec<&Promise> = promises.iter().filter(|p| !p.in_time()).collect();
    at_risk.sort_by_key(|p| p.sure);
    for promise in at_risk.iter().take(NAMED) {
        lines.push(risk(results, promise));
    }
    if at_risk.len() > NAMED {
        let more = at_risk.len() - NAMED;
        lines.push(Line::of(
            Style::Bold,
            format!(
                "{} more {} at risk.",
                capital(&count_word(more)),
                if more == 1 { "is" } else { "are" }
            ),
        ));
    }
    lines.extend(by_planning(results).map(Line::plain));
    if results.study.is_some() && results.many().is_none() {
        let one = results.each().simulated(1);
        lines.push(Line::plain(format!(
            "This is {one}: it says nothing about chances. --replications 200 does."
        )));
    }
    lines
}

/// Where nobody is by a hot bath, by one with a load in it, or by anything else that is hot, and what comes out without a coat:
/// the first that anybody must know.
fn alone(results: &Results<'_>) -> impl Iterator<Item = String> {
    let warnings = results.figures.warnings.iter();
    let first = warnings.filter(|w| w.kind.hurts() || w.kind == WarningKind::TooColdToCoat);
    first.map(|w| super::watch(results, w).0)
}

fn sentence(results: &Results<'_>, promises: &[Promise]) -> String {
    let total = promises.len();
    if let Some(words) = some_harmed(results, promises) {
        return words;
    }
    let kept = promises.iter().filter(|p| p.on_time()).count();
    let promised = promises.iter().any(|p| p.order.due.is_some());
    let ready = if promised { "ready on time" } else { "ready" };
    let (be, done) = (be(promises), done(results));
    let safely = safely(promises);
    match (kept, total) {
        (_, 0) => "No order comes.".to_owned(),
        (1, 1) => format!("The order will {be} {ready}{done}."),
        (0, 1) => format!("The order will not be {ready}."),
        (0, 2) => format!("Neither of the two orders will be {ready}."),
        (0, 3..) => format!("None of {} orders will be {ready}.", count_word(total)),
        (2, 2) => format!("Both orders will {be} {ready}{safely}{done}."),
        _ if kept == total => format!(
            "All {} orders will {be} {ready}{safely}{done}.",
            count_word(total)
        ),
        _ => format!(
            "{} of {} orders will {be} {ready}{safely}.",
            capital(&count_word(kept)),
            count_word(total)
        ),
    }
}

/// `be`, or `usually be` where some of the orders on time are not so on nearly all days.
fn be(promises: &[Promise]) -> &'static str {
    match promises.iter().any(|p| p.sure == Sure::Tight) {
        true => "usually be",
        false => "be",
    }
}

/// `, nine of them safely`, where some of several are only usually on time.
fn safely(promises: &[Promise]) -> String {
    let safe = promises.iter().filter(|p| p.sure >= Sure::Safe).count();
    match promises.iter().any(|p| p.sure == Sure::Tight) {
        true if safe == 0 => ", none of them safely".to_owned(),
        true => format!(", {} of them safely", count_word(safe)),
        false => String::new(),
    }
}

/// The sentence where orders are ready when they should be, but harmed: parts of them lie bare too long or take no coat. They
/// do not count as ready on time.
fn some_harmed(results: &Results<'_>, promises: &[Promise]) -> Option<String> {
    let total = promises.len();
    let in_time = promises.iter().filter(|p| p.in_time()).count();
    let sound = promises.iter().filter(|p| p.on_time()).count();
    if in_time <= sound {
        return None;
    }
    // What is late as well is harmed all the same, where one day is told.
    let told = |p: &&Promise| !p.on_time() && (p.in_time() || results.many().is_none());
    let harmed: Vec<&Promise> = promises
        .iter()
        .filter(told)
        .filter(|p| p.harm.bare || p.harm.uncoated)
        .collect();
    let bare = harmed.len();
    let harm = harmed.iter().fold(Harm::default(), |all, p| Harm {
        bare: all.bare || p.harm.bare,
        uncoated: all.uncoated || p.harm.uncoated,
    });
    let promised = promises.iter().any(|p| p.order.due.is_some());
    let ready = if promised { "ready on time" } else { "ready" };
    let (count, lies) = (count_word(bare), harm.words(bare));
    match (bare, total) {
        (0, _) => None,
        (1, 1) => Some(format!(
            "The order will not be {ready} without harm: it {lies}{}.",
            done(results)
        )),
        _ if sound == 0 => Some(format!(
            "None of {} orders will be {ready} without harm: {count} of them {lies}.",
            count_word(total)
        )),
        _ => Some(format!(
            "{} of {} orders will be {ready} without harm; {count} more {lies}.",
            capital(&count_word(sound)),
            count_word(total)
        )),
    }
}

/// `; last hands-on work done by 13:48`: the figure that the tile shows, too.
fn done(results: &Results<'_>) -> String {
    let usually = match results.many() {
        Some(_) => "usually ",
        None => "",
    };
    finish(results).map_or(String::new(), |at| {
        format!(
            "; last hands-on work {usually}done by {}",
            clock_or_date(&results.shop.calendar, at)
        )
    })
}

/// An order with what it is of, nothing of it said twice: `A3 vise jaws`, `feet 6`, `screws (lever cap screws)`, `W 3 (screws)`.
fn called(id: &str, part: &str, count: u32) -> String {
    let pieces = match count {
        1 => part.to_owned(),
        _ => plural(part),
    };
    let holds = |text: &str, inner: &str| {
        let words = |t: &str| format!(" {} ", t.to_lowercase());
        words(text).contains(&words(inner))
    };
    match (
        holds(id, part) || holds(id, &pieces),
        holds(&pieces, id) || holds(part, id),
    ) {
        (true, _) => id.to_owned(),
        (false, true) => format!("{id} ({pieces})"),
        (false, false) if id.contains(' ') => format!("{id} ({pieces})"),
        (false, false) => format!("{id} {pieces}"),
    }
}

fn risk(results: &Results<'_>, promise_of: &Promise) -> Line {
    let order = promise_of.order;
    let calendar = &results.shop.calendar;
    let part = results
        .shop
        .parts
        .get(order.part.index())
        .map_or("", |p| p.name.as_str());
    let name = called(&order.id, part, order.pieces);
    let at = |at: Moment| clock_or_date(calendar, at);
    if promise_of.sure == Sure::Cannot {
        let kept = kept_out(results, promise_of, WORTH_A_WORD);
        let words = format!(
            "{name} won't be finished: {}{kept}.",
            left_over(results, promise_of)
        );
        return Line::of(Style::Late, words);
    }
    let (how, rest) = match (promise_of.chance.is_some(), promise_of.instead(), promise_of.due) {
        (true, Some(instead), Some(due)) => (
            "probably be late",
            format!(": due {}, ready by {} on nine days in ten.", at(due), at(instead)),
        ),
        (false, Some(instead), Some(due)) => (
            "be late",
            format!(
                ": due {}, ready {}{}.",
                at(due),
                at(instead),
                kept_out(results, promise_of, instead - due)
            ),
        ),
        (true, None, _) => (
            "not be ready",
            " at all on some days: don't promise it.".to_owned(),
        ),
        _ => ("probably be late", ".".to_owned()),
    };
    Line::of(Style::Bold, format!("{name} will "))
        .and(Style::Late, how)
        .and(Style::Bold, rest)
}

/// Why an order is not done, as far as the record tells: where its loads stand at the end.
fn left_over(results: &Results<'_>, promise_of: &Promise) -> String {
    let ways = tankday_record::Analysis::of(results.shop, results.record).ways;
    let stands = results.record.entries.iter().filter_map(|e| match e.event {
        tankday_record::LogEntry::LoadMade { load, order, .. } if order == promise_of.order.order => {
            Some(load)
        }
        _ => None,
    });
    for load in stands {
        let holder = results.labels.holder(load);
        let Some(way) = ways.get(&holder).filter(|w| w.ready.is_none()) else {
            continue;
        };
        let label = results.labels.load(load);
        if let Some(visit) = way.visits.last().filter(|v| v.done.is_none()) {
            let station = results.shop.station_name(visit.station);
            return format!("{label} is still at the {station} when the days are over");
        }
        let open = way
            .waiting
            .iter()
            .max_by_key(|(_, at)| *at)
            .map(|(step, _)| *step);
        let steps = open.and_then(|s| {
            let route = results.shop.routes.get(s.route.index())?;
            route.steps.get(s.step.index()..)
        });
        if let Some((step, behind)) = steps.and_then(<[_]>::split_first) {
            // What is made ready for a bath waits for that.
            let mut to_bath = std::iter::once(step).chain(behind);
            let bath = to_bath.find(|s| s.kind == StepKind::Coat).unwrap_or(step);
            return match boiled_dry(results, bath).or_else(|| stopped(results, bath)) {
                Some(tank) => format!("{label} still waits to {}, as {tank}", step.name),
                None => format!(
                    "{label} still waits to {} when the days are over{}",
                    step.name,
                    nobody_then(results, load)
                ),
            };
        }
    }
    "it is not ready when the days are over".to_owned()
}

/// `: nobody would be there in time for oil`, where that is why a load was kept back last.
fn nobody_then(results: &Results<'_>, held: LoadNo) -> String {
    let told = results.record.entries.iter().rev().find_map(|e| match e.event {
        tankday_record::LogEntry::NobodyThen { load, behind, .. } if load == held => Some(behind),
        tankday_record::LogEntry::SetIn { load, .. } if load == held => None,
        _ => None,
    });
    let step = told.and_then(|at| results.shop.find_step(at));
    step.map_or_else(String::new, |step| {
        format!(": nobody would be there in time for {}", step.name)
    })
}

/// `the tub boils dry at 05:20`, where all that would do a step have.
fn boiled_dry(results: &Results<'_>, step: &Step) -> Option<String> {
    let warned = results.figures.warnings.iter();
    let dry: Vec<&Caution> = warned
        .filter(|w| w.kind == WarningKind::BoilsDry)
        .flat_map(|w| &w.at)
        .collect();
    let of = |id: &StationId| {
        dry.iter()
            .find(|c| c.station == Some(*id) && c.by == Span::FOREVER)
    };
    let last = step.stations.iter().map(of).collect::<Option<Vec<_>>>()?;
    let last = last.into_iter().max_by_key(|c| c.at)?;
    let tank = results.shop.station_name(last.station?);
    let at = clock_or_date(&results.shop.calendar, last.at);
    Some(format!("the {tank} boils dry at {at}"))
}

/// `the tank takes no load from 08:00 on: its bath is outside its limits`, where none is left that would do a step.
fn stopped(results: &Results<'_>, step: &Step) -> Option<String> {
    let warned = results.figures.warnings.iter();
    let stops: Vec<&Caution> = warned
        .filter(|w| w.kind == WarningKind::BathStopped)
        .flat_map(|w| &w.at)
        .collect();
    let of = |id: &StationId| {
        let own = stops.iter().filter(|c| c.station == Some(*id));
        own.min_by_key(|c| c.at)
    };
    let last = step.stations.iter().map(of).collect::<Option<Vec<_>>>()?;
    let last = last.into_iter().max_by_key(|c| c.at)?;
    let tank = results.shop.stations.get(last.station?.index())?;
    let from = clock_or_date(&results.shop.calendar, last.at);
    Some(format!(
        "the {} takes no load from {from} on: its bath is outside its limits",
        tank.name
    ))
}
