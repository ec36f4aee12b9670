//! The shop: its air.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use tankday_base::units::{Length, Pressure, Quantity, Temperature};

pub(super) const ALL: &[Rule] = &[altitude_or_pressure, breathable, room_temperature];

/// The pressure is stated or follows from the height, not both.
fn altitude_or_pressure(f: &Facts) -> Vec<Finding> {
    let both = f.file.shop.as_ref().and_then(|s| s.air.as_ref()?.both);
    both.into_iter()
        .map(|(altitude, pressure)| {
            Finding::new(
                Code::Contradiction,
                pressure,
                "the pressure is written beside the altitude it follows from",
            )
            .label("one of the two")
            .and(altitude, "or this")
            .help("keep the pressure if you have read it, else the altitude")
        })
        .collect()
}

/// A shop stands where people breathe.
fn breathable(f: &Facts) -> Vec<Finding> {
    let Some(air) = f.file.shop.as_ref().and_then(|s| s.air.as_ref()) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    if let Some(p) = &air.pressure
        && !(40_000.0..=110_000.0).contains(&Pressure::in_pascals(p.value))
    {
        found.push(
            Finding::new(Code::Range, p.at, "no shop works under such a pressure")
                .help("the air has 40 to 110 kPa"),
        );
    }
    if let Some(h) = &air.altitude
        && h.value > Length::metres(6_000.0)
    {
        let metres = h.value.base();
        found.push(
            Finding::new(Code::Range, h.at, format!("no shop works at {metres:.0} m"))
                .help("up to 6000 m are read"),
        );
    }
    found
}

/// A shop is neither frozen nor an oven.
fn room_temperature(f: &Facts) -> Vec<Finding> {
    let temperature = f
        .file
        .shop
        .as_ref()
        .and_then(|s| s.air.as_ref()?.temperature.as_ref());
    let strange = |t: &Temperature| !(-20.0..=50.0).contains(&t.in_celsius());
    temperature
        .filter(|t| strange(&t.value))
        .map(|t| {
            Finding::new(
                Code::Range,
                t.at,
                format!("nobody works in a room of {:.0} °C", t.value.in_celsius()),
            )
            .help("-20 to 50 °C are read")
        })
        .into_iter()
        .collect()
}
