//! Where a plan serves or heats a bath otherwise than the rules of the scenario would by themselves.

use super::Results;
use tankday_base::print::{clock_or_date, list};
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, Span};
use tankday_plan::Found;
use tankday_record::{CareKind, LogEntry, Record};

/// Times of a plan are whole seconds: what follows a load may begin that much before the load was out in the search.
const TOLERANCE: Span = Span::micros(1_000_000);

/// Care that is brought forward and baths that are heated later, each in a sentence; nothing where the rules are followed.
#[must_use]
pub fn otherwise(results: &Results<'_>) -> Vec<String> {
    let Some(found) = results.planned else {
        return Vec::new();
    };
    let shop = results.shop;
    let served = brought_forward(found, results.record);
    let served = served
        .into_iter()
        .map(|(tank, kind, at)| format!("{} {} at {}", kind.words(), name(shop, tank), clock(shop, at)));
    let heated = found
        .plan
        .heat
        .iter()
        .map(|(tank, at)| format!("{} is hot by {}", name(shop, *tank), clock(shop, *at)));
    let sentence = |what: &str, all: Vec<String>| {
        let said = (!all.is_empty()).then(|| list(&all));
        said.map(|said| format!("{what}: {said}."))
    };
    let served = sentence("Before its rule asks for it", served.collect());
    served
        .into_iter()
        .chain(sentence("Heated later than the rules say", heated.collect()))
        .collect()
}

/// For each call of the plan the care that came of it.
fn brought_forward(found: &Found, record: &Record) -> Vec<(StationId, CareKind, Moment)> {
    let plan = &found.plan;
    let mut all: Vec<_> = plan
        .calls
        .iter()
        .filter_map(|&(tank, kind, lot)| {
            let head = plan.head[lot as usize];
            let step = plan.lots[head as usize].bath_step?;
            let lifted = found.begun[plan.task(head, step) as usize + 1];
            let begins = |e: &&tankday_record::Entry| {
                matches!(e.event, LogEntry::CareBegins { tank: t, care } if t == tank && care == kind)
            };
            let care = record.entries.iter().filter(begins);
            let at = care.map(|e| e.at).find(|at| *at >= lifted - TOLERANCE)?;
            Some((tank, kind, at))
        })
        .collect();
    all.sort_by_key(|c| (c.2, c.0));
    all.dedup();
    all
}

fn name(shop: &Shop, tank: StationId) -> &str {
    shop.stations.get(tank.index()).map_or("", |s| s.name.as_str())
}

fn clock(shop: &Shop, at: Moment) -> String {
    clock_or_date(&shop.calendar, at)
}
