//! Keys of the rules.

use super::care::CARE;
use super::odds::ODDS;
use super::{Kind, Table, may};
use tankday_base::units::Share;

/// The rules.
pub(crate) static RULES: Table = Table {
    path: "rules",
    what: "a set of rules",
    keys: &[
        may(
            "next load",
            Kind::Word(&[
                "due first",
                "arrived first",
                "longest dwell first",
                "same route together",
            ]),
            "which waiting load goes next",
        ),
        may(
            "hands first",
            Kind::Word(&["urgent", "in order asked"]),
            "what free hands turn to: what must not wait, or who asked first",
        ),
        may(
            "look ahead",
            Kind::Yes,
            "whether a load is kept out of a tank if nobody could take it out in time",
        ),
        may(
            "oil full",
            Kind::Word(&["wait", "go"]),
            "a load for which oil, or whatever else must follow within a time, has no place that day: wait before the bath, or go in and lie bare",
        ),
        may(
            "split",
            Kind::Word(&["evenly", "fill first"]),
            "how an order too large for one load is divided",
        ),
        may(
            "combine",
            Kind::Word(&["never", "same part", "same route"]),
            "which loads may go into a tank together",
        ),
        may("fill", Kind::Thing(&FILL), "when a tank is worth charging"),
        may(
            "heat",
            Kind::Thing(&HEAT),
            "when the heaters are on, and the lids",
        ),
        may(
            "top up",
            Kind::Or(&[Kind::Word(&["never"]), Kind::Thing(&TOP_UP)]),
            "when water is made good",
        ),
        may(
            "care",
            Kind::Thing(&CARE),
            "when a bath is replenished, filtered, renewed",
        ),
        may(
            "odds",
            Kind::Thing(&ODDS),
            "how often loads fail, and what makes them fail more often",
        ),
        may("stop", Kind::Clock, "the simulation ends here, whatever is left"),
    ],
};

/// When a tank is worth charging.
pub(crate) static FILL: Table = Table {
    path: "rules.fill",
    what: "a rule for filling",
    keys: &[
        may(
            "at least",
            Kind::of::<Share>(),
            "share of the room that waiting work must take, such as 60 %",
        ),
        may(
            "wait at most",
            Kind::Time,
            "but go when something has waited so long, such as 20 min",
        ),
    ],
};

/// Heating.
pub(crate) static HEAT: Table = Table {
    path: "rules.heat",
    what: "a rule for heating",
    keys: &[
        may(
            "switch on",
            Kind::Pattern(ON),
            "at opening, at 07:00, or ready by 08:30",
        ),
        may(
            "switch off",
            Kind::Word(&["after the last load", "at closing", "never"]),
            "after the last load, at closing, or never",
        ),
        may(
            "lid",
            Kind::Word(&["between loads", "when off", "never"]),
            "when the lid is on: between loads, when off, or never",
        ),
        may(
            "unattended",
            Kind::Word(&["allowed", "no"]),
            "whether a hot tank may be left alone; allowed is always a warning",
        ),
    ],
};

const ON: &str = r"^\s*(at opening|at \d{1,2}:\d{2}|ready by \d{1,2}:\d{2})\s*$";

/// Topping up.
pub(crate) static TOP_UP: Table = Table {
    path: "rules.top up",
    what: "a rule for topping up",
    keys: &[
        may(
            "below",
            Kind::of::<Share>(),
            "below this share of the fill, such as 95 %",
        ),
        may("takes", Kind::Time, "hands' time for it, such as 3 min"),
    ],
};
