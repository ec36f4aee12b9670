//! Lids: the last time on each day that one goes on over a hot bath must be told, with the heater that goes off or alone.

use super::acts::Done;
use super::table::Act;
use tankday_base::shop::{LidKind, Shop, StationId};
use tankday_base::units::{Moment, Temperature};
use tankday_record::{BathSample, HeaterState, LogEntry, Record};

/// About where skin is burnt within seconds; common practice, no source.
const SCALDS: Temperature = Temperature::celsius(60.0);

/// Lids that rows of their own must tell.
pub(super) fn of_lids(shop: &Shop, record: &Record) -> Vec<Done> {
    let lidded = shop.tanks().filter(|(_, _, tank)| tank.lid != LidKind::None);
    let mut all = Vec::new();
    for (id, ..) in lidded {
        let samples = samples(record, id);
        for (nth, (at, sample)) in samples.iter().enumerate() {
            let before = nth.checked_sub(1).and_then(|i| samples.get(i)).map(|(_, s)| *s);
            let goes_on = sample.lid && before.is_none_or(|b| !b.lid) && sample.temperature > SCALDS;
            let today = |other: &Moment| other.day_and_time().0 == at.day_and_time().0;
            let mut later = samples.iter().skip(nth).filter(|(other, _)| today(other));
            if goes_on && later.all(|(_, s)| s.lid) && !heater_says_so(record, &samples, (*at, id)) {
                all.push(Done {
                    station: Some(id),
                    ..Done::plain(*at, Act::Care)
                });
            }
        }
    }
    all
}

fn samples(record: &Record, id: StationId) -> Vec<(Moment, &BathSample)> {
    let own = record.entries.iter().filter_map(|e| match &e.event {
        LogEntry::Bath { tank, sample } if *tank == id => Some((e.at, &**sample)),
        _ => None,
    });
    own.collect()
}

/// Whether the heater goes off at that moment, or the tank is left then.
fn heater_says_so(record: &Record, samples: &[(Moment, &BathSample)], (at, id): (Moment, StationId)) -> bool {
    let is_on = |s: &BathSample| s.heater != HeaterState::Off;
    let mut pairs = samples.iter().zip(samples.iter().skip(1));
    let off = pairs.any(|(a, b)| b.0 == at && is_on(a.1) && !is_on(b.1));
    // What is said of a bath that cools for its care says nothing of its lid.
    let stops =
        |e: &LogEntry| matches!(*e, LogEntry::CareBegins { tank, care } if tank == id && care.is_stop());
    let off = off && !record.entries.iter().any(|e| e.at == at && stops(&e.event));
    let left = |e: &LogEntry| matches!(*e, LogEntry::Left { tank, .. } if tank == id);
    off || record.entries.iter().any(|e| e.at == at && left(&e.event))
}
