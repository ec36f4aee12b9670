//! Keys of the scenario as a whole, the shop and its days.

use super::{
    AIM, BATHS, Key, Kind, MATERIALS, ORDERS, PARTS, RULES, STATIONS, STEPS, TANKS, Table, VESSELS, may, must,
};
use tankday_base::units::{Length, Power, Pressure, Share};

/// The whole file.
pub(crate) static SCENARIO: Table = Table {
    path: "scenario",
    what: "a scenario",
    keys: SCENARIO_KEYS,
};

const SCENARIO_KEYS: &[Key] = &[
    must("tankday", Kind::Count, "the version of this format, 1"),
    may("title", Kind::Text, "what the scenario calls itself"),
    may(
        "extends",
        Kind::Text,
        "the file that this one is like but for what it writes itself",
    ),
    may(
        "without",
        Kind::Some(&Kind::Text),
        "what of that file is left out, each as a path such as orders.A3",
    ),
    may(
        "outlay",
        Kind::Number,
        "what it costs to buy and set up, in the shop's currency, such as 450",
    ),
    may("shop", Kind::Thing(&SHOP), "hands, room air and prices"),
    may(
        "days",
        Kind::Things(&DAYS),
        "the days that the shop opens, one or several",
    ),
    may("baths", Kind::Named(&BATHS), "the baths by name"),
    may("tanks", Kind::Things(&TANKS), "the tanks that hold them"),
    may(
        "stations",
        Kind::Things(&STATIONS),
        "the other places where work happens",
    ),
    may(
        "vessels",
        Kind::Things(&VESSELS),
        "vessels in which filtered solution is kept, and bath settles outside its tank",
    ),
    may(
        "materials",
        Kind::Named(&MATERIALS),
        "materials beside the built-in ones",
    ),
    must("parts", Kind::Named(&PARTS), "the kinds of part by name"),
    must(
        "routes",
        Kind::NamedLists(&STEPS),
        "the ways through the shop by name, each a list of steps",
    ),
    must(
        "orders",
        Kind::Things(&ORDERS),
        "what is to be done for whom, by when",
    ),
    may(
        "rules",
        Kind::Thing(&RULES),
        "how the shop decides what comes next",
    ),
    may("aim", Kind::Thing(&AIM), "what a plan is to be good at"),
];

/// The shop.
pub(crate) static SHOP: Table = Table {
    path: "shop",
    what: "a shop",
    keys: &[
        may(
            "hands",
            Kind::Or(&[Kind::Count, Kind::Word(&["none"])]),
            "pairs of hands, such as 1, or `none`",
        ),
        may(
            "hands paid",
            Kind::Word(&["to the end of their work", "to closing"]),
            "until when hands are paid on a day",
        ),
        may("air", Kind::Thing(&AIR), "the air of the room"),
        may(
            "supply",
            Kind::Or(&[Kind::of::<Power>(), Kind::Word(&["unlimited"])]),
            "what all heaters together may draw, such as 6 kW, or `unlimited`",
        ),
        may(
            "pump",
            Kind::Yes,
            "whether a pump moves a hot bath, so that it may be decanted and filtered above 60 °C",
        ),
        may(
            "prices",
            Kind::Thing(&PRICES),
            "what power, water, concentrate and hands cost",
        ),
        may(
            "walks",
            Kind::Things(&WALKS),
            "how long hands that carry nothing take from one place to another; no time where none is named",
        ),
    ],
};

/// A walk.
pub(crate) static WALKS: Table = Table {
    path: "shop.walks",
    what: "a walk",
    keys: &[
        must("from", Kind::Text, "the tank or station that hands leave"),
        must(
            "to",
            Kind::Text,
            "the one that they go to; the way back takes as long unless it is named, too",
        ),
        must("takes", Kind::Time, "how long, such as 20 s"),
    ],
};

/// The air of the room.
pub(crate) static AIR: Table = Table {
    path: "shop.air",
    what: "the air",
    keys: &[
        may(
            "temperature",
            Kind::Degrees,
            "temperature of the room, such as 19 °C",
        ),
        may("humidity", Kind::of::<Share>(), "relative humidity, such as 50 %"),
        may(
            "altitude",
            Kind::of::<Length>(),
            "height above the sea, such as 300 m",
        ),
        may(
            "pressure",
            Kind::of::<Pressure>(),
            "pressure of the air instead of the altitude, such as 98 kPa",
        ),
    ],
};

/// Prices.
pub(crate) static PRICES: Table = Table {
    path: "shop.prices",
    what: "a list of prices",
    keys: &[
        may("currency", Kind::Text, "how the currency is written, such as EUR"),
        may("power", Kind::Price("kWh"), "power, such as 0.30 per kWh"),
        may("hands", Kind::Price("h"), "one pair of hands, such as 28 per h"),
        may(
            "distilled water",
            Kind::Price("L"),
            "distilled or deionised water, such as 0.80 per L",
        ),
        may(
            "concentrate",
            Kind::Price("L"),
            "concentrate for the bath, such as 12 per L",
        ),
        may(
            "rinse water",
            Kind::Price("L"),
            "water for rinses, such as 0.004 per L",
        ),
        may(
            "filter medium",
            Kind::Price("piece"),
            "one filter medium, such as 1.50 per piece",
        ),
        may(
            "waste",
            Kind::Price("L"),
            "spent rinse and bath taken away, such as 0.60 per L",
        ),
    ],
};

/// A day, or several alike.
pub(crate) static DAYS: Table = Table {
    path: "days",
    what: "a day",
    keys: &[
        may(
            "date",
            Kind::Date,
            "its date, such as 2026-03-05; else the day after the one before",
        ),
        may("open", Kind::Clock, "when the shop opens, such as 07:30"),
        may("close", Kind::Clock, "when the shop closes, such as 17:00"),
        may(
            "breaks",
            Kind::Some(&Kind::Or(&[Kind::Pattern(BREAK), Kind::Thing(&BREAKS)])),
            "breaks, such as [12:00 to 12:30], or with `stays` as [{at: 12:00 to 12:30, stays: yes}]",
        ),
        may(
            "stays",
            Kind::Yes,
            "whether somebody stays in sight of the tanks after closing, until the shop opens again",
        ),
        may("repeat", Kind::Count, "so many days in a row like this one"),
        may(
            "around the clock",
            Kind::Time,
            "a shop that never closes, watched for so long, such as 365 days",
        ),
    ],
};

/// A break, and whether somebody stays.
pub(crate) static BREAKS: Table = Table {
    path: "days.breaks",
    what: "a break",
    keys: &[
        must(
            "at",
            Kind::Pattern(BREAK),
            "from when to when, such as 12:00 to 12:30",
        ),
        may(
            "stays",
            Kind::Yes,
            "whether somebody stays in sight of the tanks; if not, loads are out, heaters off and lids on",
        ),
    ],
};

const BREAK: &str = r"^\s*\d{1,2}:\d{2}\s+to\s+\d{1,2}:\d{2}\s*$";
