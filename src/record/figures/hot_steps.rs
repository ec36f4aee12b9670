//! Ovens, hot caustic and hot oil with work in them and nobody there: in breaks and between closing and opening.

use super::alone_watch::still_there;
use super::open_watch::unattended;
use super::warning_kind::WarningKind;
use super::warnings::{Caution, at};
use crate::analysis::Analysis;
use crate::visit::Visit;
use tankday_base::bath::HOT;
use tankday_base::shop::{Shop, Step, StepKind};
use tankday_base::units::{Moment, Span};

/// Every such spell, in order. What the record does not reach has its end where the record ends, or where it was to end.
pub(super) fn of(read: &Analysis<'_>) -> Vec<(WarningKind, Caution)> {
    let shop = read.shop;
    let closes = |at: Moment| shop.calendar.days.iter().any(|d| d.close == at);
    let nobody: Vec<(Moment, Moment, bool)> = unattended(shop)
        .into_iter()
        .map(|(from, until)| (still_there(read, from), until, closes(from)))
        .collect();
    let mut all = Vec::new();
    for (load, way) in &read.ways {
        for (visit, (from, to), least) in way.visits.iter().filter_map(|v| hot(shop, v)) {
            for spell in &nobody {
                let (from, to) = (from.max(spell.0), to.min(spell.1));
                let least = if spell.2 { Span::ZERO } else { least };
                if from + least < to {
                    let caution = Caution {
                        by: to - from,
                        load: Some(*load),
                        step: Some(visit.step),
                        ..at(from, Some(visit.station))
                    };
                    all.push((WarningKind::HotStepAlone, caution));
                }
            }
        }
    }
    all.sort_by_key(|(_, c)| (c.at, c.load));
    all
}

/// Every break in which nobody is by an oven that is on with work in it, and which is no longer than an oven may be left for:
/// no warning, but the sheet says it.
pub(super) fn ovens(read: &Analysis<'_>) -> Vec<Caution> {
    let shop = read.shop;
    let breaks = shop.calendar.days.iter().flat_map(|d| &d.breaks);
    let alone: Vec<(Moment, Moment)> = breaks.filter(|b| !b.stays).map(|b| (b.from, b.until)).collect();
    let mut all = Vec::new();
    for (load, way) in &read.ways {
        for (visit, (from, to), least) in way.visits.iter().filter_map(|v| hot(shop, v)) {
            let inside = |pause: &&(Moment, Moment)| {
                let by = to.min(pause.1) - pause.0;
                from <= pause.0 && Span::ZERO < by && by <= least
            };
            all.extend(alone.iter().filter(inside).map(|pause| Caution {
                by: to.min(pause.1) - pause.0,
                load: Some(*load),
                step: Some(visit.step),
                ..at(pause.0, Some(visit.station))
            }));
        }
    }
    all.sort_by_key(|c| (c.at, c.load));
    all
}

/// From when to when a stay is one in something hot, and for how long nobody need be there; none if it is not.
fn hot<'a>(shop: &Shop, visit: &'a Visit) -> Option<(&'a Visit, (Moment, Moment), Span)> {
    let route = shop.routes.get(visit.step.route.index())?;
    let step = route.steps.get(visit.step.step.index())?;
    let least = may_be_left(step)?;
    let begins = visit.begins?;
    // Relief, and what may stay in overnight, is left to a timer; all else is hot for as long as it is in.
    let over = visit.ends.unwrap_or(begins + visit.planned);
    let ends = match visit.lift {
        _ if step.overnight || step.kind == StepKind::Relieve => over,
        Some(lift) => lift.max(over),
        None if visit.ends.is_some() => Moment::NEVER,
        None => over,
    };
    Some((visit, (begins, ends), least))
}

/// For how long what a step is done in may be left by itself, where that is hot enough to scald or to set oil alight; none
/// where it is not. By what the step is. Hot caustic and hot oil not at all; an oven for a break (common practice, no source).
fn may_be_left(step: &Step) -> Option<Span> {
    let heated = || step.relief.is_some_and(|r| r.heat.is_some_and(|heat| heat > HOT));
    match step.kind {
        StepKind::DegreaseHotAlkaline | StepKind::OilHot => Some(Span::ZERO),
        StepKind::DryByOven | StepKind::Preheat => Some(BREAK),
        _ => heated().then_some(BREAK),
    }
}

/// As long as a break.
const BREAK: Span = Span::whole_minutes(45);
