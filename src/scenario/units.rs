//! What may have been meant by a unit that does not fit.

use super::nearest::nearest;
use tankday_base::units::{
    Area, AreaPerVolume, Density, Energy, Length, Mass, Power, Pressure, Quantity, UnitName, Volume,
    split_number,
};

/// Kinds of quantity that a unit may have been taken from.
const KINDS: &[(&str, &[UnitName])] = &[
    ("volume", Volume::UNITS),
    ("mass", Mass::UNITS),
    ("length", Length::UNITS),
    ("area", Area::UNITS),
    ("power", Power::UNITS),
    ("energy", Energy::UNITS),
    ("pressure", Pressure::UNITS),
    ("density", Density::UNITS),
    ("area in a volume", AreaPerVolume::UNITS),
];

/// Words to put under a quantity whose unit does not fit: the unit that was meant, or what this unit measures.
pub(super) fn advice(text: &str, units: &'static [UnitName]) -> Option<String> {
    let (_, unit) = split_number(text).ok()?;
    if unit.is_empty() || spellings(units).any(|s| s == unit) {
        return None;
    }
    if let Some(meant) = spellings(units).find(|s| s.eq_ignore_ascii_case(unit)) {
        return Some(format!("did you mean `{meant}`?"));
    }
    if let Some(kind) = measures(unit) {
        return Some(format!("`{unit}` measures {kind}"));
    }
    let long = spellings(units).filter(|s| s.len() > 2);
    nearest(unit, long).map(|meant| format!("did you mean `{meant}`?"))
}

fn spellings(units: &'static [UnitName]) -> impl Iterator<Item = &'static str> {
    units.iter().flat_map(|u| u.spellings.iter().copied())
}

/// What a unit measures, if it is one.
fn measures(unit: &str) -> Option<&'static str> {
    match unit {
        "s" | "min" | "h" | "days" => Some("time"),
        "°C" | "C" | "°F" | "F" | "K" => Some("temperature"),
        _ => KINDS
            .iter()
            .find(|(_, units)| spellings(units).any(|s| s == unit))
            .map(|(kind, _)| *kind),
    }
}
