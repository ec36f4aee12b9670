//! Heating: nothing hot is left alone unless the scenario says so.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use tankday_base::shop::{Day, HeatOff, HeatOn};
use tankday_base::units::{Moment, Span};

pub(super) const ALL: &[Rule] = &[Rule::Once(unattended), Rule::Once(on_within_hours)];

/// Time of day of opening and closing.
fn hours(day: &Day) -> (Span, Span) {
    let closing = if day.close < Moment::NEVER {
        day.close - day.open
    } else {
        Span::FOREVER
    };
    let opening = day.open.day_and_time().1;
    (opening, opening + closing)
}

/// Where a rule heats while nobody is there, and in which words.
fn alone(f: &Facts) -> Option<(SourceSpan, &'static str)> {
    let heat = f.file.rules.as_ref()?.heat.as_ref()?;
    let days = &f.hours?.calendar.days;
    let (on, off) = (heat.on.as_ref()?, heat.off.as_ref()?);
    if days.iter().all(|d| d.stays) {
        return None;
    }
    let ever_closes = days.iter().any(|d| d.close < Moment::NEVER);
    if off.value == HeatOff::Never && ever_closes {
        return Some((off.at, "the tanks stay hot while the shop is closed"));
    }
    let early = |time: Span| days.iter().any(|d| time < hours(d).0);
    match on.value {
        HeatOn::At(time) if early(time) => Some((on.at, "the heaters go on before anybody is there")),
        HeatOn::ReadyBy(time) if days.iter().any(|d| time <= hours(d).0) => {
            Some((on.at, "the tanks are hot before anybody is there"))
        }
        _ => None,
    }
}

/// A hot tank is left alone only if the scenario says so, and then it is a warning.
fn unattended(f: &Facts) -> Option<Finding> {
    let (at, what) = alone(f).filter(|_| !f.file.tanks.is_empty())?;
    let said = f.file.rules.as_ref()?.heat.as_ref()?.unattended.as_ref()?;
    if said.value {
        let message = format!("{what}: hot acid is left alone");
        let finding = Finding::warning(Code::Unattended, at, message).label("unattended");
        return Some(finding.and(said.at, "allowed here"));
    }
    Some(Finding::new(Code::Unattended, at, what).label("unattended").help(
        "write `stays: yes` at every day after which somebody stays in sight of the tanks, or heat only while the shop is open; \
         `unattended: allowed` leaves hot acid alone, and every plan warns of it",
    ))
}

/// Heating begins before the shop closes.
fn on_within_hours(f: &Facts) -> Option<Finding> {
    let on = f.file.rules.as_ref()?.heat.as_ref()?.on.as_ref()?;
    let time = match on.value {
        HeatOn::At(time) | HeatOn::ReadyBy(time) => time,
        HeatOn::AtOpening => return None,
    };
    let closed = f.hours?.calendar.days.iter().any(|d| time >= hours(d).1);
    closed.then(|| {
        Finding::new(Code::Time, on.at, "the shop is closed by then").help("heat within the opening hours")
    })
}
