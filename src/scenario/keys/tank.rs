//! Keys of tanks and stations.

use super::rinse::FRESH_WATER;
use super::{Kind, Table, may, must};
use tankday_base::units::{HeatTransfer, Mass, Power, Share, Volume, VolumeFlow};

/// A tank.
pub(crate) static TANKS: Table = Table {
    path: "tanks",
    what: "a tank",
    keys: &[
        must("name", Kind::Text, "what it is called, such as black tank"),
        must("bath", Kind::Text, "the bath in it, by its name"),
        must(
            "inside",
            Kind::Pattern(INSIDE),
            "inside measures: 35 cm x 25 cm x 30 cm (length, width, height), or round 20 cm x 18 cm (diameter, height)",
        ),
        must(
            "fill",
            Kind::of::<Volume>(),
            "volume when full to its mark, such as 20 L",
        ),
        must("heater", Kind::Thing(&HEATER), "its heater"),
        may("now", Kind::Thing(&TANK_NOW), "how it stands at the start"),
        may("wall", Kind::Thing(&WALL), "its walls"),
        may(
            "lid",
            Kind::Or(&[Kind::Word(&["none", "loose", "fitted"]), Kind::Thing(&LID)]),
            "what covers it: none, loose or fitted",
        ),
        may(
            "basket",
            Kind::Or(&[Kind::of::<Volume>(), Kind::Word(&["any"])]),
            "inside of its basket, such as 6 L; `any` where nobody cares",
        ),
        may("loads", Kind::Count, "loads that may be in at once"),
        may(
            "draught",
            Kind::Number,
            "factor on evaporation, 0.7 to 1.5 (2 beside a fan)",
        ),
    ],
};

const INSIDE: &str = r"^\s*(round\s+)?[\d.]+.*[x×].*\d.*$";

/// How a tank stands at the start.
pub(crate) static TANK_NOW: Table = Table {
    path: "tanks.now",
    what: "the start of a tank",
    keys: &[
        may(
            "temperature",
            Kind::Or(&[Kind::Degrees, Kind::Word(&["as the air"])]),
            "temperature, such as 20 °C",
        ),
        may(
            "volume",
            Kind::Or(&[Kind::of::<Volume>(), Kind::Word(&["full"])]),
            "volume, such as 19 L",
        ),
    ],
};

/// Walls.
pub(crate) static WALL: Table = Table {
    path: "tanks.wall",
    what: "a wall",
    keys: &[
        may(
            "material",
            Kind::Word(&["stainless", "dull"]),
            "`stainless` if bright, `dull` if painted, enamelled, oxidised or plastic",
        ),
        may(
            "insulation",
            Kind::Pattern(INSULATION),
            "none, or its thickness, such as 25 mm, or 25 mm of 0.04 W/mK",
        ),
        may(
            "vessel",
            Kind::Or(&[Kind::of::<Mass>(), Kind::Pattern(THICK)]),
            "mass of the empty tank, such as 6 kg, or how thick it is, such as 1 mm thick",
        ),
        may(
            "bottom",
            Kind::of::<HeatTransfer>(),
            "heat lost through the bottom, such as 2 W/m2K",
        ),
    ],
};

const INSULATION: &str = r"^\s*(none|[\d.]+\s*(mm|cm|m|in|inch|ft)(\s+of\s+[\d.]+\s*W/.*)?)\s*$";
const THICK: &str = r"^\s*[\d.]+\s*(mm|cm|m|in|inch)\s+thick\s*$";

/// A lid.
pub(crate) static LID: Table = Table {
    path: "tanks.lid",
    what: "a lid",
    keys: &[
        may(
            "leak",
            Kind::of::<Share>(),
            "share of the opening that stays open, such as 5 %",
        ),
        may("material", Kind::Word(&["stainless", "dull"]), "its outer face"),
        may(
            "insulation",
            Kind::Pattern(INSULATION),
            "none, or its thickness, such as 25 mm",
        ),
    ],
};

/// A heater.
pub(crate) static HEATER: Table = Table {
    path: "tanks.heater",
    what: "a heater",
    keys: &[
        must("power", Kind::of::<Power>(), "rated power, such as 2.5 kW"),
        may(
            "kind",
            Kind::Word(&["immersion", "hot plate", "induction"]),
            "immersion, hot plate or induction",
        ),
        may(
            "efficiency",
            Kind::of::<Share>(),
            "share of the power that reaches the bath, such as 70 %",
        ),
        may(
            "swing",
            Kind::DegreesApart,
            "the thermostat's differential, top to bottom, such as 2 °C",
        ),
        may(
            "low-level cut-off",
            Kind::of::<Share>(),
            "share of the fill below which the heater switches itself off, such as 70 %",
        ),
    ],
};

/// A station that is no tank.
pub(crate) static STATIONS: Table = Table {
    path: "stations",
    what: "a station",
    keys: &[
        must("name", Kind::Text, "what it is called, such as rinse bucket"),
        may(
            "loads",
            Kind::Or(&[Kind::Count, Kind::Word(&["unlimited"])]),
            "loads it has room for at once, such as 2",
        ),
        may(
            "together",
            Kind::Count,
            "loads that start and end together in one place, such as 6",
        ),
        may(
            "frees",
            Kind::Word(&["when done", "when emptied"]),
            "when a place is free again",
        ),
        may(
            "fill",
            Kind::of::<Volume>(),
            "a rinse: volume of each of its tubs, such as 15 L; its water is counted then",
        ),
        may(
            "tubs",
            Kind::Count,
            "tubs of a rinse that work passes one after the other",
        ),
        may(
            "flow",
            Kind::of::<VolumeFlow>(),
            "clean water that runs while work is in, from the last tub to the first, such as 2 L/min",
        ),
        may(
            "temperature",
            Kind::Or(&[Kind::Degrees, Kind::Word(&["as the air"])]),
            "temperature of the water of a rinse, such as 30 °C",
        ),
        may(
            "renew",
            Kind::Or(&[Kind::Word(&["never"]), Kind::Thing(&FRESH_WATER)]),
            "when the water of a rinse is renewed",
        ),
    ],
};
