//! What is assumed of the part of a day that has passed, where no note tells it.

use super::Results;
use tankday_base::print::{capital, clock_beside, list, litres, number};
use tankday_base::shop::StationId;
use tankday_base::units::Moment;
use tankday_record::{Analysis, BathSample, HeaterState};

/// Tanks of which something is noted, by name.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TanksNoted {
    /// When they were topped up.
    pub topped_up: Vec<String>,
    /// What their temperature was.
    pub read: Vec<String>,
    /// Which care was done.
    pub cared: Vec<String>,
}

/// What is said where no note tells of work that was done: the whole day is planned.
pub const NOTHING_DONE: &str = "Nothing is noted as done, so everything is planned as not begun. What was done goes into a file of \
                                notes, read by `--done`.";

/// Since when each heater is on, when each tank was topped up, that no care was done where the shop has rules of care, and how
/// hot its bath is, as far as nobody noted it; none where no heater has been on.
#[must_use]
pub fn assumed_since(results: &Results<'_>, now: Moment, noted: &TanksNoted) -> Option<String> {
    let read = Analysis::of(results.shop, results.record);
    let of = |id: StationId, name: &str| one(results, &read, (id, name), now, noted);
    let tanks = results.shop.tanks();
    let all: Vec<String> = tanks
        .filter_map(|(id, station, _)| of(id, &station.name))
        .collect();
    (!all.is_empty()).then(|| format!("Not noted, so assumed. {}.", all.join("; ")))
}

fn one(
    results: &Results<'_>,
    read: &Analysis<'_>,
    (id, name): (StationId, &str),
    now: Moment,
    noted: &TanksNoted,
) -> Option<String> {
    let clock = |at| clock_beside(&results.shop.calendar, at, now);
    let log = read.tanks.iter().find(|t| t.tank == id)?;
    let passed = || log.samples.iter().filter(|(at, _)| *at <= now);
    let (since, is_on) = heater(passed())?;
    let mut words = vec![format!(
        "heater {} since {}",
        if is_on { "on" } else { "off" },
        clock(since)
    )];
    if !noted.topped_up.iter().any(|n| n == name) {
        let own = read.top_ups.iter().filter(|t| t.tank == id && t.to <= now);
        let each: Vec<String> = own
            .map(|t| format!("{} ({})", clock(t.to), litres(t.volume)))
            .collect();
        words.push(match each.is_empty() {
            true => "not topped up".to_owned(),
            false => format!("topped up at {}", list(&each)),
        });
    }
    // Care of the part that has passed is only done where it is noted.
    if !results.shop.rules.care.is_empty() && !noted.cared.iter().any(|n| n == name) {
        words.push("no care of the bath done".to_owned());
    }
    if let Some((_, sample)) = passed()
        .next_back()
        .filter(|_| !noted.read.iter().any(|n| n == name))
    {
        let degrees = number(sample.temperature.in_celsius(), 0);
        words.push(format!("the bath at {degrees} °C as worked out"));
    }
    Some(format!("{}: {}", capital(name), words.join(", ")))
}

/// When a heater was switched last, and whether it is on; none where it never was.
fn heater<'a>(samples: impl Iterator<Item = &'a (Moment, BathSample)>) -> Option<(Moment, bool)> {
    let mut last = None;
    for (at, sample) in samples {
        let on = sample.heater != HeaterState::Off;
        if on != last.is_some_and(|(_, on)| on) {
            last = Some((*at, on));
        }
    }
    last
}
