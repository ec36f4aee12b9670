//! Every note that is taken, said again in plain words, so that a slip is seen before the rest is planned on it.

use super::Reader;
use super::passed::Meant;
use tankday_base::print::{clock_beside, list, litres, number, pieces_of};
use tankday_base::shop::{Arrival, Shop};
use tankday_base::units::Moment;
use tankday_line::{Plan, PlanLot};
use tankday_scenario::{NotedCare, NotedLoad, NotedReading, NotedStep, NotedWater, NotedWhose, Notes, Seen};

/// `L1: 400 wood screws of A1, in the black tank 08:07 to 08:20; the fizzing had all but stopped`.
pub(super) fn loads(shop: &Shop, notes: &Notes, now: Moment) -> Vec<String> {
    notes.loads.iter().map(|load| one_load(shop, load, now)).collect()
}

fn one_load(shop: &Shop, load: &NotedLoad, now: Moment) -> String {
    let clock = |at: Moment| clock_beside(&shop.calendar, at, now);
    let holds: Vec<String> = load
        .holds
        .iter()
        .map(|h| {
            let order = shop.orders.iter().find(|o| o.id == h.value.order);
            let part = order.and_then(|o| shop.parts.get(o.part.index()));
            let pieces = pieces_of(h.value.pieces, part.map_or("piece", |p| &p.name));
            format!("{pieces} of {}", h.value.order)
        })
        .collect();
    let (tank, into) = (&load.tank.value, clock(load.into.value));
    let when = match load.out {
        Some(out) if out.value == load.into.value => {
            format!("in the {tank} at {into} for under 1 min")
        }
        Some(out) => format!("in the {tank} from {into} to {}", clock(out.value)),
        None => format!("in the {tank} since {into}, and still in it"),
    };
    let seen = match load.seen.map(|s| s.value) {
        None => "",
        Some(Seen::StillFizzing) => ", still fizzing when it came out",
        Some(Seen::Stopped) => ", no longer fizzing when it came out",
    };
    format!("{}: {}, {when}{seen}", load.id.value, list(&holds))
}

/// `A2, 3 of 6 vise jaws: blast done at 08:15, and degrease before it`; one sentence for each lot.
pub(super) fn step(
    reader: &Reader<'_>,
    plan: &Plan,
    note: &NotedStep,
    meant: &Meant,
    now: Moment,
) -> Vec<String> {
    let shop = reader.shop;
    let clock = |at: Moment| clock_beside(&shop.calendar, at, now);
    let when = match (note.begun, note.done) {
        (Some(begun), Some(done)) => format!("from {} to {}", clock(begun.value), clock(done.value)),
        (None, Some(done)) => format!("done at {}", clock(done.value)),
        (Some(begun), None) => format!("begun at {}, not done yet", clock(begun.value)),
        (None, None) => String::new(),
    };
    let say = |&lot: &u32| {
        let planned = plan.lots.get(lot as usize)?;
        let steps = &shop.routes.get(planned.route as usize)?.steps;
        let name = |s: u32| steps.get(s as usize).map_or("", |s| s.name.as_str()).to_owned();
        let what = match &note.step {
            None => "everything".to_owned(),
            Some(_) => name(meant.step),
        };
        let bath = planned
            .bath_step
            .filter(|_| matches!(note.whose, NotedWhose::Load(_)));
        let counts = |s: &u32| {
            let own = planned.skip & (1 << s) == 0;
            own && bath.is_none_or(|b| *s > b) && plan.comes_before(reader.line, lot, *s, meant.step)
        };
        let before: Vec<String> = (0..planned.steps).filter(counts).map(name).collect();
        let before = match before.as_slice() {
            [] => String::new(),
            _ if note.step.is_none() => String::new(),
            all => format!(", and {} before it", list(all)),
        };
        Some(format!("{}: {what} {when}{before}", whose(shop, plan, note, lot)))
    };
    meant.lots.iter().filter_map(say).collect()
}

/// `L1`, `A2, all 6 vise jaws`, `A2, 3 of 6 vise jaws`, and which lot that is where another has as many.
fn whose(shop: &Shop, plan: &Plan, note: &NotedStep, lot: u32) -> String {
    let id = match &note.whose {
        NotedWhose::Load(name) => return name.value.clone(),
        NotedWhose::Order(name, _) => &name.value,
    };
    let Some(planned) = plan.lots.get(lot as usize) else {
        return id.clone();
    };
    let part = shop.parts.get(planned.part as usize).map_or("piece", |p| &p.name);
    let count = shop.orders.get(planned.order as usize).map_or(0, |o| o.count);
    let all = pieces_of(count, part);
    let like = |l: &&PlanLot| l.order == planned.order && l.pieces == planned.pieces;
    let which = match plan.lots.iter().filter(like).count() {
        0 | 1 => String::new(),
        _ => format!(" (lot {})", planned.nth + 1),
    };
    match (planned.pieces, count) {
        (1, 1) => format!("{id}, {all}"),
        (own, count) if own == count => format!("{id}, all {all}"),
        (own, _) => format!("{id}, {own} of {all}{which}"),
    }
}

/// `A4 comes at 11:00, not at 08:00`.
pub(super) fn late(shop: &Shop, notes: &Notes, now: Moment) -> Vec<String> {
    let clock = |at: Moment| clock_beside(&shop.calendar, at, now);
    let say = |note: &tankday_scenario::NotedLate| {
        let order = shop.orders.iter().find(|o| o.id == note.order.value);
        let stated = order.and_then(|o| match o.arrival {
            Arrival::At(at) if at != note.arrives.value => Some(format!(", not at {}", clock(at))),
            _ => None,
        });
        let (id, arrives) = (&note.order.value, clock(note.arrives.value));
        format!("{id} comes at {arrives}{}", stated.unwrap_or_default())
    };
    notes.late.iter().map(say).collect()
}

/// `black tank at 08:45: 93 °C, total acid 33 points`.
pub(super) fn readings(shop: &Shop, notes: &Notes, now: Moment) -> Vec<String> {
    let say = |note: &NotedReading| {
        let points = |name: &str, v: f64| format!("{name} {} points", number(v, 1));
        let grams = |name: &str, v: f64| format!("{name} {} g/L", number(v, 2));
        let read = [
            note.temperature
                .map(|t| format!("{} °C", number(t.value.in_celsius(), 1))),
            note.total_acid.map(|v| points("total acid", v.in_points())),
            note.free_acid.map(|v| points("free acid", v.in_points())),
            note.iron.map(|v| grams("iron", v.in_grams_per_litre())),
            note.sludge.map(|v| grams("sludge", v.in_grams_per_litre())),
        ];
        let read: Vec<String> = read.into_iter().flatten().collect();
        let at = clock_beside(&shop.calendar, note.time.value, now);
        format!("{} at {at}: {}", note.tank.value, read.join(", "))
    };
    notes.readings.iter().map(say).collect()
}

/// `black tank: 0.6 L topped up at 10:05`.
pub(super) fn water(shop: &Shop, notes: &Notes, now: Moment) -> Vec<String> {
    let say = |note: &NotedWater| {
        let at = clock_beside(&shop.calendar, note.at.value, now);
        let amount = litres(note.amount.value);
        format!("{}: {amount} topped up at {at}", note.tank.value)
    };
    notes.water.iter().map(say).collect()
}

/// `black tank: filter done at 10:40`.
pub(super) fn care(shop: &Shop, notes: &Notes, now: Moment) -> Vec<String> {
    let say = |note: &NotedCare| {
        let at = clock_beside(&shop.calendar, note.done.value, now);
        format!("{}: {} done at {at}", note.tank.value, note.what.value)
    };
    notes.care.iter().map(say).collect()
}
