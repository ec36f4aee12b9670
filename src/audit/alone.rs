//! Nobody is away from a bath with its heater on or a load in it: from the first moment of a break that nobody stays for,
//! or from when the last load is out if one was in, heaters are off and lids on to its end. Overnight a heater is on only
//! where the scenario allows it.

use super::found::{FaultKind, Findings};
use super::stage::Story;
use tankday_base::shop::{LidKind, Shop, StationId, Tank};
use tankday_base::units::Moment;
use tankday_record::{BathSample, HeaterState, LogEntry, Record};

/// Tolerated in a volume: what "full" weighs.
const FILLING: f64 = 0.005;

/// From when until when nobody is there, and whether in a break.
type Alone = (Moment, Moment, bool);

pub(super) fn check(shop: &Shop, record: &Record, story: &Story, found: &mut Findings<'_>) {
    let alone = alone(shop);
    // A run may stop before its last closing: what would have been done then is not asked for.
    let end = record.entries.last().map_or(Moment::ZERO, |e| e.at);
    for (id, _, tank) in shop.tanks() {
        let samples: Vec<(Moment, &BathSample)> = samples(record, id).collect();
        for &(from, until, pause) in &alone {
            let stays = story
                .visits
                .iter()
                .filter(|v| v.station == id && v.set_in < until);
            let out = stays.map(|v| v.lift.unwrap_or(Moment::NEVER)).max();
            let begins = out.unwrap_or(from).max(from);
            if begins < until && begins < end {
                quiet(
                    &samples,
                    (begins, until),
                    (tank, pause),
                    |at, what| {
                        let text = format!("{}: {what}", found.station(id));
                        found.say(at, FaultKind::Hours, text);
                    },
                    shop,
                );
            }
        }
    }
    for (id, _, tank) in shop.tanks().filter(|_| shop.hands > 0) {
        low(record, id, tank, found);
    }
    left(shop, record, found);
}

/// No heater is on over less than its cut-off: only at the moment at which it comes to that.
fn low(record: &Record, id: StationId, tank: &Tank, found: &mut Findings<'_>) {
    let least = 998.2 * tank.fill.in_cubic_metres() * tank.heater.cut_off.in_fraction() * (1.0 - FILLING);
    let all: Vec<(Moment, &BathSample)> = samples(record, id).collect();
    for pair in all.windows(2) {
        let [a, b] = pair else { continue };
        if a.1.heater != HeaterState::Off && b.0 > a.0 && a.1.water.in_kilograms() < least {
            let text = format!("{} is heated below its cut-off", found.station(id));
            found.say(a.0, FaultKind::Heater, text);
        }
    }
}

fn alone(shop: &Shop) -> Vec<Alone> {
    let days = &shop.calendar.days;
    let opens = days.iter().skip(1).map(|d| d.open).chain([Moment::NEVER]);
    let nights = days.iter().zip(opens).filter(|(d, _)| !d.stays);
    let breaks = days.iter().flat_map(|d| &d.breaks).filter(|b| !b.stays);
    let nights = nights.map(|(d, opens)| (d.close, opens, false));
    breaks.map(|b| (b.from, b.until, true)).chain(nights).collect()
}

fn samples(record: &Record, id: StationId) -> impl Iterator<Item = (Moment, &BathSample)> {
    record.entries.iter().filter_map(move |e| match &e.event {
        LogEntry::Bath { tank, sample } if *tank == id => Some((e.at, &**sample)),
        _ => None,
    })
}

/// Heater off and lid on, from a moment until another.
fn quiet(
    samples: &[(Moment, &BathSample)],
    (from, until): (Moment, Moment),
    (tank, pause): (&Tank, bool),
    mut say: impl FnMut(Moment, &str),
    shop: &Shop,
) {
    let first = samples.partition_point(|s| s.0 <= from).saturating_sub(1);
    let last = samples.partition_point(|s| s.0 < until);
    let here = samples.get(first..last).unwrap_or_default();
    if (pause || !shop.rules.heat.unattended) && here.iter().any(|s| s.1.heater != HeaterState::Off) {
        say(from, "its heater is on while nobody is there");
    }
    let open = |s: &&(Moment, &BathSample)| !s.1.lid;
    if pause && tank.lid != LidKind::None && here.iter().any(|s| open(&s)) {
        say(from, "its lid is off while nobody is there");
    }
}

/// What is said of a tank that is left is true.
fn left(shop: &Shop, record: &Record, found: &mut Findings<'_>) {
    for entry in &record.entries {
        let LogEntry::Left { tank, until } = entry.event else {
            continue;
        };
        let mut spells = alone(shop).into_iter();
        if !spells.any(|(from, to, _)| from <= entry.at && entry.at < to && to == until) {
            let text = format!("{} is left while somebody is there", found.station(tank));
            found.say(entry.at, FaultKind::Hours, text);
        }
    }
}
