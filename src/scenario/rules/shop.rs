//! The shop: its air.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::thing::Thing;
use crate::written::Air;
use tankday_base::units::{Length, Quantity};

pub(super) const ALL: &[Rule] = &[
    Rule::Once(altitude_or_pressure),
    Rule::Once(breathable),
    Rule::Once(high),
    Rule::Once(room_temperature),
    Rule::Once(margin),
];

/// The pressure is stated or follows from the height, not both.
fn altitude_or_pressure(f: &Facts) -> Option<Finding> {
    let (altitude, pressure) = f
        .file
        .shop
        .as_ref()?
        .air
        .as_ref()?
        .both(&Air::altitude, &Air::pressure)?;
    Some(
        Finding::error(Code::Contradiction, pressure)
            .says("the pressure is written beside the altitude it follows from")
            .label("one of the two")
            .and(altitude, "or this")
            .help("keep the pressure if you have read it, else the altitude"),
    )
}

/// A shop stands where people breathe.
fn breathable(f: &Facts) -> Option<Finding> {
    let pressure = f.file.shop.as_ref()?.air.as_ref()?.pressure.as_ref()?;
    let sound = (40_000.0..=110_000.0).contains(&pressure.value.in_pascals());
    (!sound).then(|| {
        Finding::new(Code::Range, pressure.at, "no shop works under such a pressure")
            .help("the air has 40 to 110 kPa")
    })
}

/// Nor above the highest that people work at.
fn high(f: &Facts) -> Option<Finding> {
    let height = f.file.shop.as_ref()?.air.as_ref()?.altitude.as_ref()?;
    (height.value > Length::metres(6_000.0)).then(|| {
        let message = format!("no shop works at {:.0} m", height.value.base());
        Finding::new(Code::Range, height.at, message).help("up to 6000 m are read")
    })
}

/// A shop is neither frozen nor an oven.
fn room_temperature(f: &Facts) -> Option<Finding> {
    let air = f.air()?;
    let celsius = air.value.in_celsius();
    (!(-20.0..=50.0).contains(&celsius)).then(|| {
        let message = format!("nobody works in a room of {celsius:.0} °C");
        Finding::new(Code::Range, air.at, message).help("-20 to 50 °C are read")
    })
}

/// The most that a margin is: above it a price is twenty times its cost.
const MOST_MARGIN: f64 = 0.95;

/// A margin is a share of the price: all of it leaves nothing for the cost.
fn margin(f: &Facts) -> Option<Finding> {
    let margin = f.file.shop.as_ref()?.rates.as_ref()?.margin.as_ref()?;
    (margin.value.in_fraction() > MOST_MARGIN).then(|| {
        Finding::new(
            Code::Range,
            margin.at,
            "this margin leaves nothing of the price for the cost",
        )
        .label("expected at most 95 %")
        .help("a margin is a share of the price: with 50 % the price is twice the cost")
    })
}
