//! Everything that a scenario may leave out, as it would be written, and where it comes from. Reading takes its values
//! from this table and from nowhere else, so that what `check --defaults` prints is what is used.

mod fixed;
mod rules;
mod shop;
mod things;

pub use fixed::{Fixed, fixed};

use tankday_base::bath::chemistry::{CONSTANTS, Constant};

/// One default.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DefaultValue {
    /// Where it would stand: `tanks.heater.swing`.
    pub key: &'static str,
    /// As it would be written.
    pub value: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

/// Keys whose value is a difference of temperatures, not a temperature.
const DIFFERENCES: [&str; 1] = ["tanks.heater.swing"];

impl DefaultValue {
    /// Whether its value is a difference of temperatures: it is converted otherwise than a temperature.
    #[must_use]
    pub fn is_difference(&self) -> bool {
        DIFFERENCES.contains(&self.key)
    }
}

/// All defaults, in the order of a scenario.
pub fn defaults() -> impl Iterator<Item = &'static DefaultValue> {
    [shop::TABLE, things::TABLE, rules::TABLE].into_iter().flatten()
}

/// The default of a key.
pub(super) fn find(key: &str) -> Option<&'static DefaultValue> {
    defaults().find(|d| d.key == key)
}

const fn of(key: &'static str, value: &'static str, source: &'static str) -> DefaultValue {
    DefaultValue { key, value, source }
}

/// Why nobody is away from a hot bath unless the shop says who stays.
const ALONE: &str = "no hot acid is left alone: common practice, no source";
/// Why a hot bath is moved by a pump only.
const CARRIED: &str = "nobody decants, filters or carries a bath above 60 °C: common practice, no source";
const CUSTOM: &str = "common practice, no source";
const OURS: &str = "assumption of this program, no source";
const AIM: &str =
    "assumption of this program, no source: promised times first, then an early finish, then the rest";
const NEUTRAL: &str = "nothing is assumed";
const TWO_SUPPLIERS: &str =
    "supplier data sheets (95-98 °C; 90-95 °C and never under 90 °C); an encyclopaedia entry has 88-99 °C";
const INSIDE: &str = "one step inside the limit: assumption";
const LOADING: &str = "assumption, from a barrel line in a handbook chapter on phosphate coatings (ASM Handbook vol. 5, attribution from memory)";

/// Where a constant of the chemistry comes from stands with its range in the table of constants.
const fn recipe(constant: usize) -> &'static str {
    CONSTANTS[constant].source
}

/// The keys of the chemistry and their places in the table of constants.
const CHEMISTRY: [(&str, usize); 18] = [
    ("make-up", 0),
    ("coating by metal", 1),
    ("iron in coating", 2),
    ("iron oxidised with a load", 3),
    ("iron oxidised hot", 4),
    ("iron oxidised idle", 5),
    ("hydrolysed", 6),
    ("acid by metal", 8),
    ("concentrate for a point", 9),
    ("concentrate ratio", 10),
    ("sludge stirred up", 11),
    ("sludge half-life", 12),
    ("sludge bed", 13),
    ("attack when done", 14),
    ("done after", 15),
    ("pace by strength", 16),
    ("slow below", 18),
    ("slower by", 19),
];

/// The constant of the chemistry behind a key of `baths.chemistry`, with its range and how to measure it.
#[must_use]
pub fn constant(key: &str) -> Option<&'static Constant> {
    let key = key.strip_prefix("baths.chemistry.").unwrap_or(key);
    let at = CHEMISTRY.iter().find(|(name, _)| *name == key)?.1;
    CONSTANTS.get(at)
}

#[cfg(test)]
mod tests {
    use super::{defaults, find};
    use crate::keys;

    /// All tables that take defaults, by their path.
    fn tables() -> Vec<&'static keys::Table> {
        vec![
            &keys::SCENARIO,
            &keys::SHOP,
            &keys::AIR,
            &keys::PRICES,
            &keys::DAYS,
            &keys::BREAKS,
            &keys::BATHS,
            &keys::BAND,
            &keys::ROOM,
            &keys::COAT,
            &keys::BATH_NOW,
            &keys::GROWTH,
            &keys::CHEMISTRY,
            &keys::LIMITS,
            &keys::WARN,
            &keys::TANKS,
            &keys::VESSELS,
            &keys::TANK_NOW,
            &keys::WALL,
            &keys::LID,
            &keys::HEATER,
            &keys::STATIONS,
            &keys::FRESH_WATER,
            &keys::MATERIALS,
            &keys::PARTS,
            &keys::STEPS,
            &keys::ORDERS,
            &keys::ARRIVES,
            &keys::RULES,
            &keys::ODDS,
            &keys::FILL,
            &keys::HEAT,
            &keys::TOP_UP,
            &keys::CARE,
            &keys::REPLENISH,
            &keys::RAISE,
            &keys::LOWER,
            &keys::CONDITION,
            &keys::FILTER_STOP,
            &keys::SETTLE,
            &keys::RENEW_HALF,
            &keys::RENEW,
            &keys::AIM,
        ]
    }

    #[test]
    fn each_default_belongs_to_a_key_that_may_be_left_out() {
        for default in defaults() {
            let key = default.key.split(", ").next().unwrap_or_default();
            let known = tables().iter().any(|t| {
                let own = key.strip_prefix(t.path).and_then(|k| k.strip_prefix('.'));
                own.is_some_and(|own| t.keys.iter().any(|k| k.name == own && !k.required))
            });
            assert!(known, "{}", default.key);
        }
    }

    #[test]
    fn differences_of_temperatures_are_known() {
        let apart = |t: &keys::Table| -> Vec<String> {
            let those = t
                .keys
                .iter()
                .filter(|k| matches!(k.kind, keys::Kind::DegreesApart));
            those.map(|k| format!("{}.{}", t.path, k.name)).collect()
        };
        let all: Vec<String> = tables().into_iter().flat_map(apart).collect();
        assert_eq!(all, super::DIFFERENCES);
    }

    #[test]
    fn each_is_found_by_its_key() {
        assert_eq!(find("tanks.loads").map(|d| d.value), Some("1"));
        assert_eq!(find("tanks.colour"), None);
    }
}
