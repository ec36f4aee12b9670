//! What to watch: a fact, and what to do. Nothing is said that the run it is said of could contradict.

use super::Results;
use super::reading::reading;
use tankday_base::print::{
    capital, clock_or_date, count_word, how_long, list, litres, minutes, number, plural,
};
use tankday_base::shop::{HeatOff, LidKind, Step, StepKind, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Caution, Reading, Warning, WarningKind};

/// Places or times that are named in one.
const MOST_PLACES: usize = 4;
/// Times that are named in one where somebody could be hurt: as many as a finisher reads.
const MOST_SPELLS: usize = 12;

/// Fact of a warning, and what to do.
#[must_use]
pub fn watch(results: &Results<'_>, warning: &Warning) -> (String, &'static str) {
    let places = places(results, warning);
    let (head, tail) = warning.kind.fact().split_once("{places}").unwrap_or_default();
    let head = head.replace("{subject}", &subject(results, warning));
    let deed = match suits(results, warning) {
        true => warning.kind.deed(),
        false => warning.kind.other_deed(),
    };
    (capital(&format!("{head}{places}{tail}")), deed)
}

/// What a warning is about, where its words begin with that.
fn subject(results: &Results<'_>, warning: &Warning) -> String {
    match warning.kind {
        WarningKind::NotRelieved | WarningKind::Hardened => are(results, warning),
        WarningKind::TopUp => {
            let many = match warning.at.len() {
                1 => "One top-up".to_owned(),
                count => format!("{} top-ups", capital(&count_word(count))),
            };
            format!("{many}, {}", litres(warning.at.iter().map(|c| c.volume).sum()))
        }
        _ => String::new(),
    }
}

/// Whether the deed that stands first suits this shop.
fn suits(results: &Results<'_>, warning: &Warning) -> bool {
    match warning.kind {
        WarningKind::NeverHot => bare(results, warning),
        WarningKind::BathStopped => !comes_back(results, warning),
        WarningKind::HotForNothing => results.shop.rules.heat.off == HeatOff::AtClosing,
        WarningKind::StayedTooLong => in_baths(results, warning),
        WarningKind::WaitedTooLong => !all_kept(results, warning),
        WarningKind::HeavyLoad => preheated(results, warning),
        _ => true,
    }
}

/// The steps that a warning is about.
fn steps<'a>(results: &'a Results<'_>, warning: &'a Warning) -> impl Iterator<Item = &'a Step> {
    warning.at.iter().filter_map(|c| results.shop.find_step(c.step?))
}

/// Whether all of it happens in baths.
fn in_baths(results: &Results<'_>, warning: &Warning) -> bool {
    steps(results, warning).all(|s| s.kind == StepKind::Coat)
}

/// Whether a rule of care brings back all that is outside its limits.
fn comes_back(results: &Results<'_>, warning: &Warning) -> bool {
    let mut all = warning.at.iter();
    all.all(|c| super::mends::rule(results.shop, c).is_some())
}

/// Whether all of it is oiled or sealed.
fn all_kept(results: &Results<'_>, warning: &Warning) -> bool {
    let mut steps = warning.at.iter().filter_map(|c| c.step);
    steps.all(|s| super::bare::is_kept(results, s))
}

/// Whether all of it comes straight from being warmed.
fn preheated(results: &Results<'_>, warning: &Warning) -> bool {
    let warmed = |at: StepRef| {
        let own = results.shop.find_step(at)?;
        let mut before = own
            .after
            .iter()
            .filter_map(|i| results.shop.find_step(StepRef { step: *i, ..at }));
        Some(before.any(|s| s.kind == StepKind::Preheat))
    };
    warning
        .at
        .iter()
        .all(|c| c.step.and_then(warmed).unwrap_or(false))
}

/// Whether a tank that it is about has no lid.
fn bare(results: &Results<'_>, warning: &Warning) -> bool {
    let tanks = warning
        .at
        .iter()
        .filter_map(|c| results.shop.stations.get(c.station?.index())?.tank);
    tanks.into_iter().any(|t| t.lid == LidKind::None)
}

/// `Springs (A3, load L4) are`
fn are(results: &Results<'_>, warning: &Warning) -> String {
    let mut parts: Vec<String> = Vec::new();
    for caution in &warning.at {
        let load = results
            .figures
            .loads
            .iter()
            .find(|l| Some(l.load) == caution.load);
        for (id, _) in load.map_or(&[][..], |l| l.parts.as_slice()) {
            let part = results.shop.parts.get(id.index());
            let hardened = part
                .and_then(|p| results.shop.materials.get(p.material.index()))
                .is_some_and(|m| m.hardened);
            if let Some(name) = part.filter(|_| hardened).map(|p| plural(&p.name))
                && !parts.contains(&name)
            {
                parts.push(name);
            }
        }
    }
    format!("{} are", capital(&list(&parts)))
}

fn places(results: &Results<'_>, warning: &Warning) -> String {
    let most = match warning.kind.hurts() {
        true => MOST_SPELLS,
        false => MOST_PLACES,
    };
    let orders = warning
        .orders
        .iter()
        .filter_map(|i| results.figures.orders.get(*i));
    let orders = orders.map(|o| o.id.clone());
    let places = warning.at.iter().map(|c| place(results, warning.kind, c));
    shortened(orders.chain(places).collect(), most)
}

/// Where and when one of them is.
fn place(results: &Results<'_>, kind: WarningKind, c: &Caution) -> String {
    let clock = clock_or_date(&results.shop.calendar, c.at);
    let station = c
        .station
        .and_then(|s| results.shop.stations.get(s.index()))
        .map(|s| s.name.clone());
    let at_step = c.step.and_then(|s| results.shop.find_step(s));
    let load = c.load.map(|l| results.labels.at(l, c.at).to_owned());
    let reading = c.reading.map(|r| format!(", {}", reading(r))).unwrap_or_default();
    match (kind, load, at_step, station) {
        (WarningKind::TopUp, ..) => clock,
        (WarningKind::HotTankAlone | WarningKind::NoLid, _, _, Some(tank)) => {
            if c.by > Span::ZERO && c.at + c.by < Moment::NEVER {
                format!("{tank}, {clock} to {}", until(results, c))
            } else {
                format!("{tank}, from {clock} on")
            }
        }
        (WarningKind::BathStopped, _, _, Some(tank)) => {
            let rule = super::mends::rule(results.shop, c);
            let rule = rule.map_or(String::new(), |rule| format!(" ({rule})"));
            format!("{tank} from {clock} on{reading}{rule}")
        }
        (WarningKind::WeakHeater, _, _, Some(tank)) => {
            format!("{tank} levels off near {}", reading.trim_start_matches(", "))
        }
        (
            WarningKind::HotForNothing | WarningKind::HotNothingFits | WarningKind::HotEarly,
            _,
            _,
            Some(tank),
        ) => {
            format!(
                "{tank}, {clock} to {}{reading}{}",
                until(results, c),
                costs(results, c)
            )
        }
        (WarningKind::InAtBreak, Some(load), ..) => {
            format!("{load} until {clock}, {}", into_the_break(results, c))
        }
        (WarningKind::HotStepAlone, Some(load), Some(step), Some(station)) => {
            format!(
                "{load} at {} in the {station}, {clock} to {}",
                step.name,
                until(results, c)
            )
        }
        (WarningKind::StayedTooLong | WarningKind::WaitedTooLong, Some(load), Some(step), _) => {
            format!("{load} at {} {clock}, {} over", step.name, how_long(c.by))
        }
        (WarningKind::KeptBack, Some(load), Some(step), _) => {
            format!("{load} from {clock}, {}, for {}", how_long(c.by), step.name)
        }
        (WarningKind::FoamRoom, Some(load), _, Some(tank)) => {
            format!(
                "{tank}, hot and with {load} in it: only {}",
                reading.trim_start_matches(", ")
            )
        }
        (WarningKind::RunsOver, Some(load), _, Some(tank)) => {
            let by = reading.trim_start_matches(", ");
            format!("{tank} from {clock}, with {load} in it, by {by}")
        }
        (WarningKind::Contaminated, _, _, Some(tank)) if c.by < Span::FOREVER => {
            format!("{tank}, {clock} to {}{reading}", until(results, c))
        }
        (WarningKind::WaitsForSupply, _, _, Some(tank)) => {
            format!("{tank} from {clock}, {} min", minutes(c.by))
        }
        (_, Some(load), _, _) => format!("{load} {clock}{reading}"),
        (_, None, _, Some(station)) => format!("{station} {clock}{reading}"),
        _ => format!("{clock}{reading}"),
    }
}

/// `, 0.93 EUR`: what the power costs that a caution is about, where it has a price.
fn costs(results: &Results<'_>, caution: &Caution) -> String {
    match caution.reading {
        Some(Reading::Power(_, costs)) if costs > 0.0 => {
            format!(", {} {}", number(costs, 2), results.shop.prices.currency)
        }
        _ => String::new(),
    }
}

/// `17 min into the break`, or `through the break to 08:50` where it is over by then.
fn into_the_break(results: &Results<'_>, c: &Caution) -> String {
    let days = results.shop.calendar.days.iter();
    let began = c.at - c.by;
    let over = days
        .flat_map(|d| &d.breaks)
        .find(|b| b.holds(began) && b.until < c.at);
    match over {
        Some(b) => format!("through the break to {}", b.until.clock()),
        None => format!("{} into the break", how_long(c.by)),
    }
}

fn until(results: &Results<'_>, caution: &Caution) -> String {
    let at: Moment = caution.at + caution.by.max(Span::ZERO);
    clock_or_date(&results.shop.calendar, at)
}

/// The first few of them by name, `most` at most, the others by their number.
fn shortened(mut names: Vec<String>, most: usize) -> String {
    let more = names.len().saturating_sub(most);
    names.truncate(most);
    match more {
        0 => names.join(", "),
        _ => format!("{} and {more} more", names.join(", ")),
    }
}
