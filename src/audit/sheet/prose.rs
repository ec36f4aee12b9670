//! The sentence of a row: every length, amount, count and time that it states must be what its cells say.

use super::Faults;
use super::acts::Done;
use super::held::Held;
use super::nameless::nameless;
use super::table::{Act, Row};
use tankday_base::print::plural;
use tankday_base::shop::Shop;
use tankday_base::units::Span;
use tankday_record::TaskKind;

/// A number with its unit, as it stands in a sentence.
#[derive(Debug, Clone, PartialEq)]
struct Stated {
    number: String,
    unit: String,
}

pub(super) fn check(held: &Held<'_>, row: &Row, acts: &[&Done], faults: &mut Faults) {
    let whole = row.cell("task");
    let told = Told {
        whole,
        nameless: nameless(held, acts, whole),
    };
    hands(row, acts, &told, faults);
    lengths(row, acts, &told, faults);
    amounts(row, acts, &told, faults);
    heat(held.shop, row, acts, whole, faults);
    if acts.first().is_some_and(|d| d.act == Act::PutIn) {
        charged(held, row, acts, faults);
    }
    let latest = row.cell("latest");
    let clock = latest.rsplit(' ').next().unwrap_or_default();
    if row.is_task() && !latest.is_empty() && !whole.contains(clock) {
        faults.of_row(row, &format!("it does not say that the latest is {latest}"));
    }
}

/// A sentence as it stands, and without its names. What it states is read without them; what it must say may be all that a
/// name leaves of it, so that is looked for in both.
struct Told<'a> {
    whole: &'a str,
    nameless: String,
}

/// Every number that a unit follows.
fn stated(task: &str) -> Vec<Stated> {
    let task = task.replace("under 1 min", "");
    let clean = |w: &str| {
        w.trim_matches(|c: char| !c.is_alphanumeric() && c != '²')
            .to_owned()
    };
    let words: Vec<String> = task.split_whitespace().map(clean).collect();
    let pairs = words.iter().zip(words.iter().skip(1));
    pairs
        .filter(|(n, _)| n.parse::<f64>().is_ok())
        .map(|(n, unit)| Stated {
            number: n.clone(),
            unit: unit.clone(),
        })
        .collect()
}

/// Lengths of time in the sentence, in minutes, each with what rounding may hide: `3 h 05 min` is one of them.
fn spans(stated: &[Stated], task: &str) -> Vec<(f64, f64)> {
    let minutes = |s: &Stated| {
        let factor = match s.unit.as_str() {
            "min" => 1.0,
            "h" => 60.0,
            "d" => 1_440.0,
            _ => return None,
        };
        Some((s.number.parse::<f64>().ok()? * factor, factor))
    };
    let mut all: Vec<(f64, f64, f64)> = Vec::new();
    for s in stated {
        let Some((value, factor)) = minutes(s) else {
            continue;
        };
        match all.last_mut() {
            Some(last) if factor < last.2 && follows(task, last.1, last.2, s) => {
                (last.0, last.2) = (last.0 + value, factor);
            }
            _ => all.push((value, value / factor, factor)),
        }
    }
    // A day is stated with its hours, an hour with its minutes.
    all.into_iter()
        .map(|(value, _, factor)| {
            (
                value,
                if factor > 60.0 || value > 2_880.0 {
                    31.0
                } else {
                    0.51
                },
            )
        })
        .collect()
}

/// Whether a length goes on with a smaller unit at once: `3 h` with `05 min`.
fn follows(task: &str, number: f64, factor: f64, next: &Stated) -> bool {
    let unit = if factor > 60.0 { "d" } else { "h" };
    task.contains(&format!("{number:.0} {unit} {} {}", next.number, next.unit))
}

/// A step that goes on without hands for longer than this says how long hands are busy.
const LONG: Span = Span::whole_minutes(90);

/// `you: 4 min` is how long hands are busy, and stands where a stage of care, or a long step, goes on without them.
fn hands(row: &Row, acts: &[&Done], told: &Told<'_>, faults: &mut Faults) {
    let task = told.nameless.as_str();
    let busy: Span = acts.iter().map(|d| d.hands).sum();
    let care = |d: &&Done| d.load.is_none() && d.step.is_some_and(|s| s != d.hands);
    let long = |d: &&Done| {
        let put_in = d.task.is_some_and(|t| t.kind == TaskKind::PutIn);
        d.act == Act::Start && put_in && d.step.is_some_and(|s| s > LONG)
    };
    let free = acts
        .iter()
        .filter(|d| d.hand.is_some())
        .any(|d| care(d) || long(d));
    let said = |text: &str| {
        let (_, said) = text.rsplit_once("you: ")?;
        Some(spans(&stated(said), said))
    };
    let spans = said(task).filter(|said| !said.is_empty()).or_else(|| match free {
        true => said(told.whole),
        false => said(task),
    });
    match spans.as_deref() {
        None if free => faults.of_row(
            row,
            &format!(
                "it does not say that hands are busy for {:.1} min",
                busy.in_minutes()
            ),
        ),
        Some([(minutes, slack)]) if (busy.in_minutes() - minutes).abs() > *slack => {
            faults.of_row(
                row,
                &format!(
                    "hands are busy for {:.1} min, not {minutes:.0}",
                    busy.in_minutes()
                ),
            );
        }
        Some([]) if busy >= Span::whole_minutes(1) || !told.whole.ends_with("you: under 1 min") => {
            faults.of_row(row, "it does not say how long hands are busy");
        }
        Some(several) if several.len() > 1 => faults.of_row(row, "it says twice how long hands are busy"),
        _ => {}
    }
}

/// What a sentence states of time is how long a step lasts, or how long hands are busy; and no step's length is left out.
fn lengths(row: &Row, acts: &[&Done], told: &Told<'_>, faults: &mut Faults) {
    let lengths = |text: &str| spans(&stated(text), text);
    let stated = lengths(&told.nameless);
    let hands: Span = acts.iter().map(|d| d.hands).sum();
    let known = || acts.iter().filter_map(|d| d.step).chain([hands]);
    for (minutes, slack) in &stated {
        if !known().any(|k| (k.in_minutes() - minutes).abs() <= *slack) {
            faults.of_row(row, &format!("nothing in it lasts {minutes:.0} min"));
        }
    }
    let spans: Vec<(f64, f64)> = stated.into_iter().chain(lengths(told.whole)).collect();
    for step in acts.iter().filter(|d| d.hand.is_some()).filter_map(|d| d.step) {
        let short = step.in_minutes() < 0.5 && (told.whole.contains("under 1 min") || step == Span::ZERO);
        let said = spans
            .iter()
            .any(|(m, slack)| (step.in_minutes() - m).abs() <= *slack);
        if !short && !said {
            let what = format!(
                "it does not say that a step of it lasts {:.1} min",
                step.in_minutes()
            );
            faults.of_row(row, &what);
        }
    }
}

/// How hot work gets that is warmed to relieve it.
fn heat(shop: &Shop, row: &Row, acts: &[&Done], task: &str, faults: &mut Faults) {
    for (_, at) in acts.iter().filter(|d| d.act == Act::Start).filter_map(|d| d.load) {
        let step = shop
            .routes
            .get(at.route.index())
            .and_then(|r| r.steps.get(at.step.index()));
        let Some(heat) = step.and_then(|s| s.relief?.heat) else {
            continue;
        };
        let should = format!("{:.0} °C", heat.in_celsius());
        if !task.contains(&should) {
            faults.of_row(row, &format!("it does not say {should}"));
        }
    }
}

/// Litres, millilitres and grams are those of the columns, all of them and no others.
fn amounts(row: &Row, acts: &[&Done], told: &Told<'_>, faults: &mut Faults) {
    let (own, whole) = (stated(&told.nameless), stated(told.whole));
    let known: Vec<&(String, &str)> = acts.iter().flat_map(|d| &d.amounts).collect();
    let said = own.iter().filter(|s| matches!(s.unit.as_str(), "L" | "mL" | "g"));
    for s in said {
        if !known.iter().any(|(n, unit)| *n == s.number && *unit == s.unit) {
            faults.of_row(row, &format!("{} {} is none of its amounts", s.number, s.unit));
        }
    }
    for (number, unit) in known {
        if !own
            .iter()
            .chain(&whole)
            .any(|s| s.number == *number && s.unit == *unit)
        {
            faults.of_row(row, &format!("it does not say {number} {unit}"));
        }
    }
}

/// A load that goes into a bath: its pieces by kind, its area and its mass.
fn charged(held: &Held<'_>, row: &Row, acts: &[&Done], faults: &mut Faults) {
    let Some((done, (load, _))) = acts.first().and_then(|d| Some((d, d.load?))) else {
        return;
    };
    let (mut area, mut mass) = (0.0, 0.0);
    for (part, count) in held.names.inside(load, done.at) {
        let Some(part) = held.shop.parts.get(part.index()) else {
            continue;
        };
        area += part.area.in_square_decimetres() * f64::from(count);
        mass += part.mass.in_kilograms() * f64::from(count);
        // What is several of a thing may end otherwise than its name.
        let cut = part
            .name
            .char_indices()
            .nth_back(2)
            .map_or(part.name.len(), |(i, _)| i);
        let stem = part.name.get(..cut).unwrap_or(&part.name);
        let several = plural(&part.name);
        let named = |text: &str, before: &str| {
            [stem, &several]
                .iter()
                .any(|n| text.contains(&format!("{before}{n}")))
        };
        if !named(row.cell("task"), &format!("{count} ")) {
            faults.of_row(row, &format!("it does not say {count} of {}", part.name));
        }
        if !named(row.cell("part"), "") {
            faults.of_row(row, &format!("part does not name {}", part.name));
        }
    }
    for (value, unit) in [(area, "dm²"), (mass, "kg")] {
        // Exactly between two tenths either may stand there.
        let near = |value: f64| row.cell("task").contains(&format!("{value:.1} {unit}"));
        if !near(value - 1e-9) && !near(value + 1e-9) {
            faults.of_row(row, &format!("it does not say {value:.1} {unit}"));
        }
    }
}
