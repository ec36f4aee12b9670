//! A reading that a warning is about, in words.

use tankday_base::print::number;
use tankday_record::Reading;

/// What was read, with its unit.
pub(super) fn reading(reading: Reading) -> String {
    match reading {
        Reading::Strength(s) => format!("{} points", number(s.in_points(), 1)),
        Reading::Ratio(r) => format!("acid ratio {}", number(r, 2)),
        Reading::Iron(c) => format!("{} g/L iron", number(c.in_grams_per_litre(), 2)),
        Reading::Sludge(s) => format!("sludge {} % of the volume", number(s.in_percent(), 1)),
        Reading::Level(s) => format!("{} % full", number(s.in_percent(), 0)),
        Reading::Temperature(t) => format!("{} °C", number(t.in_celsius(), 1)),
        Reading::LevelsOff { temperature, covered } => format!(
            "{} °C{}",
            number(temperature.in_celsius(), 1),
            match covered {
                Some(true) => " even under its lid",
                Some(false) => " with its lid off",
                None => "",
            }
        ),
        Reading::Load(a) => format!("{} dm2/L", number(a.in_square_decimetres_per_litre(), 1)),
        Reading::Mass(m) => format!("{} kg/L", number(m.in_kilograms_per_litre(), 2)),
        Reading::Coat(w) => format!("{} g/m2", number(w.in_grams_per_square_metre(), 1)),
        Reading::Foreign(f) => f.names().map(does).collect::<Vec<_>>().join(", "),
        Reading::Supply { heaters, supply } => format!(
            "{} kW on {} kW",
            number(heaters.in_kilowatts(), 1),
            number(supply.in_kilowatts(), 1)
        ),
        Reading::Power(energy, _) => format!("{} kWh", number(energy.in_kilowatt_hours(), 1)),
        Reading::Height(h) => format!("{} mm", number(h.in_millimetres(), 0)),
    }
}

/// What a foreign thing does to the work.
fn does(name: &str) -> String {
    let does = match name {
        "oil" => "blotches, bare spots",
        "zinc" => "grey coats",
        "aluminium" => "poisons the bath",
        _ => "plates on the steel",
    };
    format!("{name} ({does})")
}
