//! Keys of bath care.

use super::{Key, Kind, Table, may};
use tankday_base::units::{
    Area, CakeResistance, Concentration, Length, MediumResistance, Share, Strength, VolumeFlow,
};

/// Care of the baths.
pub(crate) static CARE: Table = Table {
    path: "rules.care",
    what: "a set of rules for care",
    keys: &[
        may(
            "fresh bath",
            Kind::Word(&["takes all work", "takes scrap first"]),
            "whether a bath with too little iron takes only work whose looks do not matter",
        ),
        may(
            "replenish",
            Kind::Or(&[WHEN, Kind::Thing(&REPLENISH)]),
            "when concentrate is added, such as below 31 points",
        ),
        may(
            "raise ratio",
            Kind::Or(&[WHEN, Kind::Thing(&RAISE)]),
            "when free acid is taken out, such as ratio below 5.7",
        ),
        may(
            "lower ratio",
            Kind::Or(&[WHEN, Kind::Thing(&LOWER)]),
            "when free acid is added, such as ratio above 6.8",
        ),
        may(
            "condition",
            Kind::Or(&[WHEN, Kind::Thing(&CONDITION)]),
            "when it is aged with steel wool, such as iron below 0.5 g/L",
        ),
        may(
            "filter",
            Kind::Or(&[WHEN, Kind::Thing(&FILTER)]),
            "when it is cooled, settled, decanted and filtered, such as after 4 loads, or overnight",
        ),
        may(
            "settle",
            Kind::Or(&[WHEN, Kind::Thing(&SETTLE)]),
            "when it is cooled, settled and decanted, and the heel drained into the waste drum",
        ),
        may(
            "renew half",
            Kind::Or(&[WHEN, Kind::Thing(&RENEW_HALF)]),
            "when the lower half is drained into the waste drum and made up anew, such as iron above 3.5 g/L",
        ),
        may(
            "renew",
            Kind::Or(&[WHEN, Kind::Thing(&RENEW)]),
            "when all of it is drained into the waste drum and made up anew, such as after 12 m2",
        ),
    ],
};

const ONE: Kind = Kind::Pattern(
    r"^\s*(never|overnight|at the break|after the last load|contaminated|at \d{1,2}:\d{2}|after \d+ loads?|after [\d.]+ \S+|((strength|ratio|iron|sludge) )?(below|above) [\d.]+.*)\s*$",
);
const WHEN: Kind = Kind::Some(&ONE);
const WHEN_DOC: &str = "when: never, after 4 loads, after 0.5 m2, below 31 points, ratio above 6.8, iron above 3 g/L, sludge above 4 %, contaminated, at 16:00, at the break, after the last load, overnight; or several of these";
const TAKES: Key = may("takes", Kind::Time, "hands' time for it, such as 5 min");
const COOL_TO: Key = may(
    "cool to",
    Kind::Degrees,
    "cooled to this before anybody handles it, such as 45 °C",
);
const WHEN_KEY: Key = may("when", WHEN, WHEN_DOC);

/// Adding concentrate.
pub(crate) static REPLENISH: Table = Table {
    path: "rules.care.replenish",
    what: "a rule for replenishing",
    keys: &[
        WHEN_KEY,
        may(
            "to",
            Kind::of::<Strength>(),
            "strength afterwards, such as 36 points",
        ),
        TAKES,
    ],
};

/// Taking free acid out.
pub(crate) static RAISE: Table = Table {
    path: "rules.care.raise ratio",
    what: "a rule for raising the ratio",
    keys: &[
        WHEN_KEY,
        may(
            "by",
            Kind::Word(&["manganese carbonate", "soda ash"]),
            "manganese carbonate, or soda ash",
        ),
        may("to", Kind::Number, "ratio afterwards, such as 6"),
        TAKES,
    ],
};

/// Adding free acid.
pub(crate) static LOWER: Table = Table {
    path: "rules.care.lower ratio",
    what: "a rule for lowering the ratio",
    keys: &[
        WHEN_KEY,
        may(
            "acid",
            Kind::of::<Share>(),
            "phosphoric acid as you buy it, by mass, such as 75 %",
        ),
        may("to", Kind::Number, "ratio afterwards, such as 6"),
        TAKES,
    ],
};

/// Ageing with steel wool.
pub(crate) static CONDITION: Table = Table {
    path: "rules.care.condition",
    what: "a rule for conditioning",
    keys: &[
        WHEN_KEY,
        may(
            "to",
            Kind::of::<Concentration>(),
            "iron afterwards, such as 1 g/L",
        ),
        may(
            "at",
            Kind::Degrees,
            "temperature at which the wool goes in, such as 65 °C",
        ),
        may("for", Kind::Time, "how long the wool stays, such as 40 min"),
        TAKES,
    ],
};

const STOP: [Key; 6] = [
    WHEN_KEY,
    COOL_TO,
    may(
        "settles",
        Kind::Or(&[Kind::Time, Kind::Pattern(r"^\s*until [\d.]+ %\s*$")]),
        "how long it settles, such as 3 h, or until 5 % of the sludge is left in it",
    ),
    may(
        "heel",
        Kind::of::<Share>(),
        "what stays over the sludge when it is decanted, such as 20 %",
    ),
    may(
        "lost",
        Kind::of::<Share>(),
        "share of the bath lost in it, such as 2 %",
    ),
    may(
        "pour",
        Kind::of::<VolumeFlow>(),
        "how fast hands decant and fill back, such as 4 L/min",
    ),
];

/// A filter stop.
pub(crate) static FILTER: Table = Table {
    path: "rules.care.filter",
    what: "a rule for filter stops",
    keys: &[
        STOP[0],
        STOP[1],
        STOP[2],
        STOP[3],
        STOP[4],
        STOP[5],
        may("area", Kind::of::<Area>(), "area of the filter, such as 6 dm2"),
        may(
            "head",
            Kind::of::<Length>(),
            "liquid above the filter, such as 20 cm",
        ),
        may(
            "medium",
            Kind::of::<MediumResistance>(),
            "resistance of the clean filter, such as 3e8 1/m",
        ),
        may(
            "cake",
            Kind::of::<CakeResistance>(),
            "resistance of the sludge on it, such as 2e11 m/kg",
        ),
        may(
            "into",
            Kind::Text,
            "the vessel in which it settles and is filtered while the tank goes on with what that kept, by its name",
        ),
        may(
            "set up",
            Kind::Time,
            "hands' time to set the filter up and to clean it, such as 5 min",
        ),
    ],
};

/// A stop without a filter.
pub(crate) static SETTLE: Table = Table {
    path: "rules.care.settle",
    what: "a rule for settling",
    keys: &[STOP[0], STOP[1], STOP[2], STOP[3], STOP[5]],
};

/// Half of it anew.
pub(crate) static RENEW_HALF: Table = Table {
    path: "rules.care.renew half",
    what: "a rule for renewing half",
    keys: &[WHEN_KEY, COOL_TO, TAKES],
};

/// All of it anew.
pub(crate) static RENEW: Table = Table {
    path: "rules.care.renew",
    what: "a rule for renewing",
    keys: &[WHEN_KEY, COOL_TO, TAKES],
};
