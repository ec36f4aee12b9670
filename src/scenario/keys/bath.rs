//! Keys of baths.

use super::{Key, Kind, Table, may};
use tankday_base::units::{
    AreaPerVolume, CoatWeight, Concentration, MassFlux, MassPerVolume, Share, Strength,
};

/// A bath.
pub(crate) static BATHS: Table = Table {
    path: "baths",
    what: "a bath",
    keys: &[
        may(
            "band",
            Kind::Thing(&BAND),
            "the temperatures between which it works",
        ),
        may(
            "room",
            Kind::Thing(&ROOM),
            "what one load may bring for each litre",
        ),
        may("coat", Kind::Thing(&COAT), "what decides how long a load stays"),
        may(
            "dwell",
            Kind::Pattern(WINDOW),
            "shortest to longest stay, such as 10 to 30 min",
        ),
        may(
            "now",
            Kind::Or(&[Kind::Word(&["fresh"]), Kind::Thing(&BATH_NOW)]),
            "its readings at the start; `fresh` for one just made up, without iron",
        ),
        may("growth", Kind::Thing(&GROWTH), "how the coating grows"),
        may(
            "chemistry",
            Kind::Thing(&CHEMISTRY),
            "the constants of its chemistry",
        ),
        may(
            "limits",
            Kind::Thing(&LIMITS),
            "readings outside which no load goes in",
        ),
        may("warn", Kind::Thing(&WARN), "readings outside which it is warned"),
        may(
            "wears",
            Kind::Yes,
            "whether work changes it; `no` keeps its readings as they are",
        ),
    ],
};

pub(super) const WINDOW: &str = r"\d.*(s|min|h|hours?|minutes?|seconds?)\s*$";

/// A band of temperatures.
pub(crate) static BAND: Table = Table {
    path: "baths.band",
    what: "a band",
    keys: &[
        may("least", Kind::Degrees, "no load goes in below it, such as 88 °C"),
        may("hold", Kind::Degrees, "what the thermostat holds, such as 95 °C"),
        may("most", Kind::Degrees, "not to be passed, such as 98 °C"),
    ],
};

/// What one load may bring.
pub(crate) static ROOM: Table = Table {
    path: "baths.room",
    what: "the room of a bath",
    keys: &[
        may(
            "area",
            Kind::of::<AreaPerVolume>(),
            "surface for each litre, such as 1 dm2/L",
        ),
        may(
            "mass",
            Kind::of::<MassPerVolume>(),
            "mass for each litre, such as 0.25 kg/L",
        ),
    ],
};

/// What decides the dwell.
pub(crate) static COAT: Table = Table {
    path: "baths.coat",
    what: "a coating rule",
    keys: &[
        may(
            "target",
            Kind::of::<CoatWeight>(),
            "weight of the coating; the time follows from the bath, such as 16 g/m2",
        ),
        may(
            "time",
            Kind::Spread,
            "a time instead, such as about 15 min ± 2 min",
        ),
    ],
};

const FOREIGN: Kind = Kind::Some(&Kind::Word(&["oil", "zinc", "aluminium", "copper"]));

/// Readings of a bath.
pub(crate) static BATH_NOW: Table = Table {
    path: "baths.now",
    what: "the readings of a bath",
    keys: &[
        may(
            "total acid",
            Kind::of::<Strength>(),
            "total acid, such as 36 points: mL of 0.1 N caustic soda that turn a 10 mL sample pink with phenolphthalein",
        ),
        may(
            "free acid",
            Kind::of::<Strength>(),
            "free acid, such as 6 points: the same to the first colour change, with methyl orange or bromophenol blue (common practice, no source)",
        ),
        may("iron", Kind::of::<Concentration>(), "ferrous iron, such as 1 g/L"),
        may(
            "sludge",
            Kind::of::<Concentration>(),
            "sludge, stirred up and settled, such as 0.5 g/L",
        ),
        may("uses", Kind::Count, "loads worked since it was made up"),
        may(
            "area treated",
            Kind::of::<AreaPerVolume>(),
            "surface coated since it was made up, such as 4 dm2/L",
        ),
        may(
            "contaminated",
            Kind::Or(&[Kind::Word(&["no"]), FOREIGN]),
            "what is in it that must not be, one or several of oil, zinc, aluminium, copper: no load goes in until all of it is renewed",
        ),
    ],
};

/// The growth law.
pub(crate) static GROWTH: Table = Table {
    path: "baths.growth",
    what: "a growth law",
    keys: &[
        may(
            "full",
            Kind::of::<CoatWeight>(),
            "weight that a long stay approaches on blasted plain steel, such as 18 g/m2",
        ),
        may(
            "time constant",
            Kind::Time,
            "time to 63 % of it at 95 °C, such as 4.5 min",
        ),
        may(
            "faster by 10 °C",
            Kind::Number,
            "how many times faster 10 °C more make it, such as 2",
        ),
    ],
};

/// The constants of the chemistry.
pub(crate) static CHEMISTRY: Table = Table {
    path: "baths.chemistry",
    what: "a chemistry",
    keys: &[
        may(
            "make-up",
            Kind::of::<Strength>(),
            "total acid of a fresh bath, such as 36 points",
        ),
        may(
            "coating by metal",
            Kind::Number,
            "coating formed for each gram of metal dissolved, such as 2",
        ),
        may(
            "iron in coating",
            Kind::of::<Share>(),
            "iron's share of the coating's metal, such as 20 %",
        ),
        may(
            "iron oxidised with a load",
            Kind::of::<Share>(),
            "share of a load's iron that becomes sludge, such as 30 %",
        ),
        may(
            "iron oxidised hot",
            Kind::of::<Share>(),
            "instead: share of the iron that becomes sludge in a hot hour, such as 1 %",
        ),
        may(
            "iron oxidised idle",
            Kind::of::<Share>(),
            "and in an idle hour, such as 0.1 %",
        ),
        may(
            "hydrolysed",
            Kind::of::<Share>(),
            "share of the free acid used that the bath gives back, such as 40 %",
        ),
        may(
            "acid by metal",
            Kind::Number,
            "equivalents that a mole of dissolved metal counts in the total acid, 2 to 2.67",
        ),
        may(
            "concentrate for a point",
            Kind::of::<Share>(),
            "concentrate by volume that raises the bath by one point, such as 0.475 %",
        ),
        may(
            "concentrate ratio",
            Kind::Number,
            "total by free acid of the concentrate, such as 6",
        ),
        may(
            "sludge stirred up",
            Kind::of::<Share>(),
            "share of new sludge that stays stirred up, such as 50 %",
        ),
        may(
            "sludge half-life",
            Kind::Or(&[Kind::Time, Kind::Word(&["by the depth"])]),
            "time in which half of it settles in an idle bath, such as 4 h; `by the depth` of the tank",
        ),
        may(
            "sludge bed",
            Kind::of::<Concentration>(),
            "dry solids in settled sludge, such as 100 g/L",
        ),
        may(
            "attack when done",
            Kind::of::<MassFlux>(),
            "metal lost under a finished coating, such as 0.02 g/m2min",
        ),
        may(
            "done after",
            Kind::Time,
            "stay after which it is finished, such as 45 min",
        ),
        may(
            "pace by strength",
            Kind::Pattern(r"^\s*[\d.]+\s+to\s+[\d.]+\s*$"),
            "bounds of make-up strength by strength as a factor on the time, such as 0.7 to 1.5",
        ),
        may(
            "slow below",
            Kind::of::<Concentration>(),
            "iron below which the bath is slow, such as 0.5 g/L; the effect fades from 20 % below it to 20 % above it",
        ),
        may(
            "slower by",
            Kind::Number,
            "factor on the time below that iron, such as 1.3",
        ),
    ],
};

const TO: &str = r"^\s*[\d.]+.*\sto\s+[\d.]+.*$";

const READINGS: &[Key] = &[
    may(
        "strength",
        Kind::Pattern(TO),
        "total acid, such as 30 to 50 points",
    ),
    may("ratio", Kind::Pattern(TO), "total by free acid, such as 5.5 to 7"),
    may("iron", Kind::Pattern(TO), "ferrous iron, such as 0.2 to 4 g/L"),
    may(
        "sludge",
        Kind::Pattern(TO),
        "settled sludge by volume, such as 0 to 5 %",
    ),
    may(
        "level",
        Kind::Pattern(TO),
        "volume by the fill, such as 85 to 110 %",
    ),
];

/// Readings outside which no load goes in.
pub(crate) static LIMITS: Table = Table {
    path: "baths.limits",
    what: "a set of limits",
    keys: READINGS,
};

/// Readings outside which it is warned.
pub(crate) static WARN: Table = Table {
    path: "baths.warn",
    what: "a set of warnings",
    keys: READINGS,
};
