//! Every key of a scenario: what it is called, what it holds, what it means. Reading checks against these tables and
//! the JSON Schema is made from them, so that the two cannot differ.

mod aim;
mod bath;
mod care;
mod notes;
mod odds;
mod plan;
mod rinse;
mod rules;
mod shop;
mod tank;
mod vessel;
mod work;

pub(super) use aim::AIM;
pub(super) use bath::{BAND, BATH_NOW, BATHS, CHEMISTRY, COAT, GROWTH, LIMITS, ROOM, WARN};
pub(super) use care::{
    CARE, CONDITION, FILTER as FILTER_STOP, LOWER, RAISE, RENEW, RENEW_HALF, REPLENISH, SETTLE,
};
pub(super) use notes::{NOTED_LATE, NOTED_LOADS, NOTED_READINGS, NOTED_STEPS, NOTES};
pub(super) use odds::ODDS;
pub(super) use plan::{PLAN, PLAN_CARE, PLAN_HEAT, PLAN_LOADS, PLAN_TASKS};
pub(super) use rinse::FRESH_WATER;
pub(super) use rules::{FILL, HEAT, RULES, TOP_UP};
pub(super) use shop::{AIR, BREAKS, DAYS, PRICES, SCENARIO, SHOP, WALKS};
pub(super) use tank::{HEATER, LID, STATIONS, TANK_NOW, TANKS, WALL};
pub(super) use vessel::VESSELS;
pub(super) use work::{ARRIVES, MATERIALS, ORDERS, PARTS, STEPS, WEEKDAYS};

use tankday_base::units::{Quantity, UnitName};

/// The keys of one thing.
#[derive(Debug)]
pub(super) struct Table {
    /// Where it stands in a scenario: `tanks.heater`. Defaults are found under it.
    pub(super) path: &'static str,
    /// What it is called in a message, with its article: `a heater`.
    pub(super) what: &'static str,
    /// Its keys.
    pub(super) keys: &'static [Key],
}

/// One key.
#[derive(Debug, Clone, Copy)]
pub(super) struct Key {
    /// As written.
    pub(super) name: &'static str,
    /// What it holds.
    pub(super) kind: Kind,
    /// Whether it must be there.
    pub(super) required: bool,
    /// What it means, in one line without a full stop.
    pub(super) doc: &'static str,
}

/// What a key holds, as far as an editor can check it.
#[derive(Debug, Clone, Copy)]
pub(super) enum Kind {
    /// Any text.
    Text,
    /// `yes` or `no`.
    Yes,
    /// A whole number.
    Count,
    /// A plain number.
    Number,
    /// A number with one of these units.
    Quantity(&'static [UnitName]),
    /// A temperature.
    Degrees,
    /// A difference of temperatures.
    DegreesApart,
    /// A length of time.
    Time,
    /// A time that may vary.
    Spread,
    /// A time of day, perhaps with its date.
    Clock,
    /// A date.
    Date,
    /// `0.30 per kWh`, with the unit behind `per`.
    Price(&'static str),
    /// One of these words.
    Word(&'static [&'static str]),
    /// Text of this pattern.
    Pattern(&'static str),
    /// A thing with keys.
    Thing(&'static Table),
    /// A list of things.
    Things(&'static Table),
    /// Names, each with a thing.
    Named(&'static Table),
    /// Names, each with a list of things.
    NamedLists(&'static Table),
    /// One or several of a kind.
    Some(&'static Kind),
    /// Any of these.
    Or(&'static [Kind]),
}

impl Kind {
    /// A quantity by its type.
    pub(super) const fn of<Q: Quantity>() -> Self {
        Self::Quantity(Q::UNITS)
    }
}

/// A key that must be there.
const fn must(name: &'static str, kind: Kind, doc: &'static str) -> Key {
    Key {
        name,
        kind,
        required: true,
        doc,
    }
}

/// A key that may be left out.
const fn may(name: &'static str, kind: Kind, doc: &'static str) -> Key {
    Key {
        name,
        kind,
        required: false,
        doc,
    }
}
