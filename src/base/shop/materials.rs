//! Built-in materials. Times and weights of the coating are factors on blasted plain steel: assumptions of the same
//! kind for all shops, to be replaced by a shop's own trials.

use super::growth::CoatsFrom;
use super::part::{Coats, Material};
use crate::units::{Density, HeatCapacity};

struct Row {
    name: &'static str,
    /// Why it stays out of the bath, if it does.
    refused: Option<&'static str>,
    /// Why a trial piece goes in first, if one should.
    trial: Option<&'static str>,
    /// J/(kg K), mean from 20 to 93 °C where known.
    heat_capacity: f64,
    /// kg/m3.
    density: f64,
    slower: f64,
    heavier: f64,
    from: CoatsFrom,
    hardened: bool,
    source: &'static str,
}

const STEEL: f64 = 463.0;
const STEEL_DENSITY: f64 = 7850.0;

const fn coats(name: &'static str, slower: f64, heavier: f64, hardened: bool, source: &'static str) -> Row {
    Row {
        name,
        refused: None,
        trial: None,
        heat_capacity: STEEL,
        density: STEEL_DENSITY,
        slower,
        heavier,
        from: CoatsFrom::Steel,
        hardened,
        source,
    }
}

const fn stays_out(
    name: &'static str,
    why: &'static str,
    heat_capacity: f64,
    density: f64,
    source: &'static str,
) -> Row {
    Row {
        name,
        refused: Some(why),
        trial: None,
        heat_capacity,
        density,
        slower: 1.0,
        heavier: 1.0,
        from: CoatsFrom::Steel,
        hardened: false,
        source,
    }
}

const STEEL_HEAT: &str = "heat: EN 1993-1-2:2005, mean from 20 to 93 °C; density from memory";

static TABLE: &[Row] = &[
    coats("plain steel", 1.0, 1.0, false, STEEL_HEAT),
    coats("sheet steel", 1.0, 1.0, false, STEEL_HEAT),
    coats(
        "hardened steel",
        1.3,
        0.8,
        true,
        "as plain steel; factors: assumption, thinner coats are reported above HRC 39",
    ),
    Row {
        heat_capacity: 490.0,
        density: 7200.0,
        from: CoatsFrom::CastIron,
        ..coats(
            "grey iron",
            1.0,
            1.3,
            false,
            "heat and density: data page on grey cast iron (450-490, 7200-7500); factors: assumption",
        )
    },
    Row {
        trial: Some(
            "a poor coat is usual above 1 % chromium, and above 6 % of alloy in all it hardly reacts; where it is hardened, hydrogen matters",
        ),
        ..coats(
            "alloy steel",
            1.3,
            0.8,
            true,
            "a study of chromium steels and a handbook chapter: 1 to 3 % chromium, up to 6 % of alloy; taken for hardened, as it mostly is; factors: assumption",
        )
    },
    Row {
        trial: Some("a nitrided skin hardly reacts with the bath"),
        ..coats(
            "nitrided steel",
            1.3,
            0.8,
            true,
            "common practice, no source; factors: assumption, as of hardened steel",
        )
    },
    Row {
        trial: Some("lead and sulphur in the surface leave bare spots"),
        ..coats(
            "free-cutting steel",
            1.0,
            1.0,
            false,
            "common practice, no source; as plain steel",
        )
    },
    stays_out(
        "stainless",
        "stainless steel does not react with the bath and comes out bare",
        500.0,
        7900.0,
        "encyclopaedia entry on the process; heat and density from memory",
    ),
    stays_out(
        "aluminium",
        "the bath attacks aluminium, which gives off hydrogen and poisons the bath",
        900.0,
        2700.0,
        "encyclopaedia entry on the process, NIOSH Pocket Guide (phosphoric acid), a patent application that calls it a bath poison; heat and density from memory",
    ),
    stays_out(
        "zinc-plated",
        "the zinc dissolves with gas, gets into the bath, and the part comes out grey: strip it elsewhere first",
        STEEL,
        STEEL_DENSITY,
        "a workshop report of plated parts in phosphoric acid; as plain steel",
    ),
    stays_out(
        "brass",
        "brass takes no coating, and its copper may plate out on the steel",
        380.0,
        8500.0,
        "encyclopaedia entry on the process; plating, heat and density from memory",
    ),
    stays_out(
        "copper",
        "copper takes no coating, and what dissolves of it plates out on the steel",
        385.0,
        8960.0,
        "as brass; heat and density from memory",
    ),
    stays_out(
        "bronze",
        "bronze takes no coating, and its copper may plate out on the steel",
        380.0,
        8800.0,
        "as brass; heat and density from memory",
    ),
    stays_out(
        "magnesium",
        "the bath attacks magnesium, which gives off much hydrogen",
        1020.0,
        1740.0,
        "safety data sheets of such baths and an encyclopaedia entry on the process; heat and density from memory",
    ),
    stays_out(
        "chrome-plated",
        "chromium and nickel take no coating, and where they end the bath gets under them: strip and blast it first",
        STEEL,
        STEEL_DENSITY,
        "common practice, no source; as plain steel",
    ),
];

/// Names under which hard or sprung steel is bought or spoken of: each is hardened steel, unless a shop describes it
/// itself. Hydrogen matters in high-carbon and hardened steel, in case-hardened parts and in springs (DOD-P-16232F,
/// MIL-DTL-16232G, ISO 9717; trade letters); the names are common practice, no source.
const HARD: &[&str] = &[
    "spring steel",
    "spring wire",
    "springs",
    "spring",
    "music wire",
    "piano wire",
    "hard drawn wire",
    "hardened screws",
    "hardened screw",
    "hardened bolts",
    "hardened fasteners",
    "hardened parts",
    "hard steel",
    "high-tensile steel",
    "high-tensile screws",
    "high-carbon steel",
    "case-hardened steel",
    "carburised steel",
    "tool steel",
    "silver steel",
    "high-speed steel",
];

/// Other names of what is not hard, or stays out: common practice, no source.
pub static OTHER_NAMES: &[(&str, &[&str])] = &[
    (
        "grey iron",
        &[
            "cast iron",
            "gray iron",
            "grey cast iron",
            "iron casting",
            "ductile iron",
            "malleable iron",
        ],
    ),
    (
        "plain steel",
        &["mild steel", "low-carbon steel", "low-alloy steel"],
    ),
    (
        "free-cutting steel",
        &[
            "leaded steel",
            "leaded free-cutting steel",
            "free-machining steel",
        ],
    ),
    ("stainless", &["stainless steel"]),
    (
        "zinc-plated",
        &[
            "galvanised",
            "galvanized",
            "galvanised steel",
            "galvanized steel",
            "zinc-plated steel",
        ],
    ),
    ("chrome-plated", &["nickel-plated", "chromed steel"]),
    ("aluminium", &["aluminum"]),
];

/// Whether a material's name is one of hard or sprung steel; case and hyphens do not count.
#[must_use]
pub fn is_hard_name(name: &str) -> bool {
    let plain = |name: &str| -> String {
        let small = name.chars().flat_map(char::to_lowercase);
        small
            .map(|c| if matches!(c, '-' | '_') { ' ' } else { c })
            .collect()
    };
    let name = plain(name);
    name == "hardened steel" || HARD.iter().any(|hard| plain(hard) == name)
}

/// Hardened steel under each of its other names.
#[must_use]
pub fn hard_materials() -> Vec<Material> {
    let hardened = TABLE.iter().find(|r| r.name == "hardened steel");
    let called = |row: &Row, name: &&str| Material {
        name: (*name).to_owned(),
        ..material(row)
    };
    hardened
        .into_iter()
        .flat_map(|row| HARD.iter().map(move |name| called(row, name)))
        .collect()
}

/// The other built-in materials under each of their other names.
#[must_use]
pub fn other_names() -> Vec<Material> {
    let of = |name: &str| TABLE.iter().find(|r| r.name == name);
    let called = |(name, others): &(&str, &'static [&'static str])| {
        let row = of(name)?;
        Some(others.iter().map(move |other| Material {
            name: (*other).to_owned(),
            ..material(row)
        }))
    };
    OTHER_NAMES.iter().filter_map(called).flatten().collect()
}

/// The built-in materials.
#[must_use]
pub fn built_in_materials() -> Vec<Material> {
    TABLE.iter().map(material).collect()
}

/// Where the values of a built-in material come from.
#[must_use]
pub fn material_source(name: &str) -> Option<&'static str> {
    TABLE.iter().find(|r| r.name == name).map(|r| r.source)
}

fn material(row: &Row) -> Material {
    Material {
        name: row.name.to_owned(),
        coats: match (row.refused, row.trial) {
            (Some(why), _) => Coats::No(why.to_owned()),
            (None, Some(why)) => Coats::AfterTrial(why.to_owned()),
            (None, None) => Coats::Yes,
        },
        heat_capacity: HeatCapacity::joules_per_kilogram_kelvin(row.heat_capacity),
        density: Density::kilograms_per_cubic_metre(row.density),
        slower: row.slower,
        heavier: row.heavier,
        from: row.from,
        hardened: row.hardened,
    }
}
