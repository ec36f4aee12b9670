//! What a line says of taking a load out of a bath: what its gas must look like, and from when on it may come out. Both
//! follow from what the load's coating came to and from the growth laws that are believed.

use super::Faults;
use super::acts::Done;
use super::held::{Held, minute};
use super::table::{Act, Row};
use tankday_base::bath::Substrate;
use tankday_base::shop::{BathRecipe, CoatRule, Growth, StationId};
use tankday_base::units::{CoatWeight, Moment, Span, Temperature};
use tankday_record::{LoadNo, LogEntry, Record};

/// Up to which share of the gas that rose at first what is left is called so.
const LEFT: [(f64, &str); 4] = [
    (0.15, "when the fizzing has all but stopped"),
    (0.25, "when the fizzing is down to a fifth"),
    (0.4, "when the fizzing is down to a third"),
    (0.6, "when the fizzing is down to half"),
];
/// A coating counts as done when this share of its gas is left.
const DONE: f64 = 0.05;

/// What is to be expected of a load that comes out.
struct Expected {
    /// By the quickest law it may come out from here on.
    may: Moment,
    /// Gas that is left, as a share of what rose at first.
    gas: f64,
}

pub(super) fn check(held: &Held<'_>, record: &Record, row: &Row, acts: &[&Done], faults: &mut Faults) {
    let out = acts.iter().find(|d| d.act == Act::TakeOut);
    let expected = out.and_then(|done| expected(held, record, done));
    let (task, cell) = (row.cell("task"), row.cell("earliest"));
    let own = super::nameless::nameless(held, acts, task);
    let Some(expected) = expected else {
        if !cell.is_empty() || own.contains("fizz") || own.contains("not before") {
            faults.of_row(row, "nothing is known of when it may come out");
        }
        return;
    };
    let latest = out.and_then(|done| done.latest);
    if let Some(passed) = latest.filter(|at| minute(*at) < row.at) {
        let says = own.contains("at once: the latest was") && task.contains(&passed.clock());
        if !says || own.contains("fizz") || own.contains("not before") || !cell.is_empty() {
            let what = format!(
                "it does not say that it should have been out at {}",
                passed.clock()
            );
            faults.of_row(row, &what);
        }
        return;
    }
    if own.contains("at once: the latest was") {
        faults.of_row(row, "its latest time has not passed");
    }
    let words = words(expected.gas);
    if !task.contains(words) {
        faults.of_row(row, &format!("it does not say to take it out {words}"));
    }
    // The next whole minute; what is lost in adding up may round it otherwise.
    let next = |at: Moment| minute(at + Span::micros(59_999_999));
    let near = [-1e-3, 0.0, 1e-3].map(|s| next(expected.may + Span::seconds(s)));
    let stated = |at: &Moment| {
        let says = at.day_and_time().0 == row.at.day_and_time().0 && cell == at.clock()
            || cell == format!("{} {}", held.shop.calendar.date(*at), at.clock());
        says && *at < row.at && task.contains("not before") && task.contains(&at.clock())
    };
    let silent = near.iter().any(|at| *at >= row.at) && cell.is_empty() && !own.contains("not before");
    if !silent && !near.iter().any(stated) {
        let what = format!("earliest says `{cell}`, and it is `{}`", near[1].clock());
        faults.of_row(row, &what);
    }
}

fn words(gas: f64) -> &'static str {
    let left = LEFT.iter().find(|(most, _)| gas <= *most);
    left.map_or("while it still fizzes well", |(_, words)| words)
}

fn expected(held: &Held<'_>, record: &Record, done: &Done) -> Option<Expected> {
    let ((load, _), station) = (done.load?, done.station?);
    let tank = held.shop.stations.get(station.index())?.tank.as_ref()?;
    let recipe = held.shop.baths.get(tank.bath.index())?;
    let CoatRule::Target(target) = recipe.coat else {
        return None;
    };
    let begins = begins(record, load, station, done.at)?;
    let stay = done.at - begins;
    let at = mean_temperature(record, station, begins, done.at)?;
    let coated = record.entries.iter().find_map(|e| match &e.event {
        LogEntry::Coated { load: l, coated, .. } if *l == load && e.at == done.at => Some(coated),
        _ => None,
    })?;
    let [quick, _] = recipe.growth.believed(at);
    let (mut needs, mut gas, mut least) = (Span::ZERO, 0.0_f64, recipe.least);
    for (part, _) in held.names.inside(load, done.at) {
        let part = held.shop.parts.get(part.index())?;
        let material = held.shop.materials.get(part.material.index())?;
        let had = coated.conversion_on(material.from);
        if had <= 0.0 {
            return None;
        }
        let on = Substrate::of(material);
        let share = conversion(&quick, target, on) / (had * faster(&quick, recipe, at));
        needs = needs.max(stay.times(share));
        gas = gas.max(libm::exp(-had / on.slower));
        least = least.max(part.dwell.map_or(Span::ZERO, |d| d.0));
    }
    let may = begins + needs.min(stay).max(least.min(stay));
    (stay > Span::ZERO).then_some(Expected { may, gas })
}

/// When the dwell began that ends at a moment.
fn begins(record: &Record, load: LoadNo, station: StationId, out: Moment) -> Option<Moment> {
    let before = record.entries.iter().rev().filter(|e| e.at <= out);
    before.into_iter().find_map(|e| match e.event {
        LogEntry::WorkBegins {
            load: l, station: s, ..
        } if (l, s) == (load, station) => Some(e.at),
        _ => None,
    })
}

/// Of a bath between two moments; a sample holds until the next.
fn mean_temperature(record: &Record, station: StationId, from: Moment, to: Moment) -> Option<Temperature> {
    let (mut sum, mut last) = (0.0, None);
    let mut add = |until: Moment, last: Option<(Moment, f64)>| {
        if let Some((since, celsius)) = last {
            let held = until.min(to).max(from) - since.max(from).min(to);
            sum += celsius * held.in_seconds();
        }
    };
    for entry in &record.entries {
        if let LogEntry::Bath { tank, sample } = &entry.event
            && *tank == station
        {
            add(entry.at, last);
            last = Some((entry.at, sample.temperature.in_celsius()));
        }
    }
    add(to, last);
    (to > from).then(|| Temperature::celsius(sum / (to - from).in_seconds()))
}

/// How many times faster a law is than that of a recipe, at a temperature.
fn faster(law: &Growth, recipe: &BathRecipe, at: Temperature) -> f64 {
    let tens = (at.in_celsius() - 95.0) / 10.0;
    let taus = recipe.growth.tau95.in_seconds() / law.tau95.in_seconds();
    taus * libm::pow(law.q10, tens) / libm::pow(recipe.growth.q10, tens)
}

/// Conversion at which a surface has a weight by a law, or its gas is gone.
fn conversion(law: &Growth, target: CoatWeight, on: Substrate) -> f64 {
    let bare = 1.0 - target / (law.full * on.heavier);
    -libm::log(bare.max(DONE)) * on.slower
}
