//! What is told of assumptions behind a time or a life: a figure to the minute is no promise of chemistry.

use super::Results;
use super::reading::reading;
use tankday_base::print::number;
use tankday_base::shop::Shop;
use tankday_base::units::Span;
use tankday_record::{BathFigure, DwellRange, WarningKind};

/// Of a bath for which no next limit is known, how it stands: it takes no load, and why; it did no work; or it runs into
/// no limit. None where a limit is known.
#[must_use]
pub fn stands(results: &Results<'_>, bath: &BathFigure) -> Option<String> {
    let foreign: Vec<&str> = bath.now.contaminants.names().collect();
    if !foreign.is_empty() {
        return Some(format!("takes no load: {} in it", foreign.join(", ")));
    }
    let warned = |kind| results.figures.warnings.iter().filter(move |w| w.kind == kind);
    let mut dry = warned(WarningKind::BoilsDry).flat_map(|w| &w.at);
    if dry.any(|c| c.station == Some(bath.tank) && c.by == Span::FOREVER) {
        return Some("takes no load: it has boiled dry".to_owned());
    }
    let stopped = warned(WarningKind::BathStopped).flat_map(|w| &w.at);
    let own: Vec<String> = stopped
        .filter(|c| c.station == Some(bath.tank))
        .filter_map(|c| c.reading.map(reading))
        .collect();
    if !own.is_empty() {
        return Some(format!("takes no load: {}", own.join(", ")));
    }
    match bath.life.as_ref().or(bath.spare.as_ref()) {
        None => Some("did no work, so how far it goes is not known".to_owned()),
        Some(life) if life.first().is_none() => Some("no limit in sight".to_owned()),
        Some(_) => None,
    }
}

/// ` (8 to 19 loads by what is known of such baths)`; nothing where the shop has measured its own, or both ends agree.
#[must_use]
pub fn believed(bath: &BathFigure, shop: &Shop) -> String {
    let Some((least, most)) = bath.loads_believed(shop) else {
        return String::new();
    };
    let (least, most) = (
        number(least.floor().max(0.0), 0),
        number(most.floor().max(0.0), 0),
    );
    if least == most {
        return String::new();
    }
    format!(" ({least} to {most} loads by what is known of such baths)")
}

/// `10 to 19`, in minutes: between which times a load is done by what is known of growth.
#[must_use]
pub fn dwell_believed(range: &DwellRange) -> String {
    let (quick, slow) = (
        number(range.quick.in_minutes(), 0),
        number(range.slow.in_minutes(), 0),
    );
    if quick == slow {
        quick
    } else {
        format!("{quick} to {slow}")
    }
}

/// What to look for when a load comes out, as the trade does: the gas that the steel gives off. In shares that are told
/// apart by eye.
#[must_use]
pub fn look_for(range: &DwellRange) -> &'static str {
    match range.fizz.in_percent() {
        _ if range.has_all_but_stopped() => "when the fizzing has all but stopped",
        fizz if fizz <= 25.0 => "when the fizzing is down to a fifth",
        fizz if fizz <= 40.0 => "when the fizzing is down to a third",
        fizz if fizz <= 60.0 => "when the fizzing is down to half",
        _ => "while it still fizzes well",
    }
}
