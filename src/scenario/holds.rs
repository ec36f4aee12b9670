//! What a key of a scenario holds, as far as an editor can check it.

use crate::thing::Table;
use tankday_base::units::{Quantity, UnitName};

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
    /// Weekdays with times of day, of this pattern.
    Week(&'static str),
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

    /// The things with keys that it holds.
    pub(super) fn tables(&self) -> Vec<&'static Table> {
        match self {
            Self::Thing(table) | Self::Things(table) | Self::Named(table) | Self::NamedLists(table) => {
                vec![table]
            }
            Self::Some(kind) => kind.tables(),
            Self::Or(kinds) => kinds.iter().flat_map(Self::tables).collect(),
            _ => Vec::new(),
        }
    }
}
