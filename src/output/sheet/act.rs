//! What a row is made of: acts, each with what it is done to, where, and how long the step lasts that it begins.

use tankday_base::print::number;
use tankday_base::units::{Mass, Span, Volume};

/// Stands between the values of a row that does several acts, in every column of the CSV.
const BETWEEN: &str = " + ";

/// A kind of act. Its word stands in the column `act` of the CSV.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Act {
    /// A heater goes on: `heater on`.
    HeaterOn,
    /// A heater goes off: `heater off`.
    HeaterOff,
    /// A load goes into a bath: `put in`. Its step is the dwell.
    PutIn,
    /// A load comes out of a bath: `take out`.
    TakeOut,
    /// A step begins at a station: `start`.
    Start,
    /// A load is taken from a station after its step: `take`.
    Take,
    /// Water is made good in a tank: `top up`.
    TopUp,
    /// The water of a rinse is renewed: `renew rinse`.
    RenewRinse,
    /// A chemical or steel wool goes into a bath: `add`.
    Add,
    /// Any other stage of bath care: `care`.
    Care,
    /// An order is ready: `ready`.
    Ready,
    /// A break: `break`.
    Break,
    /// Something to know: `note`.
    Note,
}

impl Act {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::HeaterOn,
        Self::HeaterOff,
        Self::PutIn,
        Self::TakeOut,
        Self::Start,
        Self::Take,
        Self::TopUp,
        Self::RenewRinse,
        Self::Add,
        Self::Care,
        Self::Ready,
        Self::Break,
        Self::Note,
    ];

    /// Its word in the CSV.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::HeaterOn => "heater on",
            Self::HeaterOff => "heater off",
            Self::PutIn => "put in",
            Self::TakeOut => "take out",
            Self::Start => "start",
            Self::Take => "take",
            Self::TopUp => "top up",
            Self::RenewRinse => "renew rinse",
            Self::Add => "add",
            Self::Care => "care",
            Self::Ready => "ready",
            Self::Break => "break",
            Self::Note => "note",
        }
    }
}

/// A number with its unit, as it is stated in the line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amount {
    /// The number as printed.
    pub value: String,
    /// `L`, `mL` or `g`.
    pub unit: &'static str,
}

impl Amount {
    /// Litres, to a tenth.
    pub(super) fn litres(volume: Volume) -> Self {
        Self {
            value: number(volume.in_litres(), 1),
            unit: "L",
        }
    }

    /// Whole millilitres, from two litres on litres.
    pub(super) fn millilitres(volume: Volume) -> Self {
        let millilitres = volume.in_litres() * 1e3;
        if millilitres >= 2e3 {
            return Self::litres(volume);
        }
        Self {
            value: number(millilitres, 0),
            unit: "mL",
        }
    }

    /// Grams to a tenth, without a tenth that is nought.
    pub(super) fn grams(mass: Mass) -> Self {
        let value = number(mass.in_grams(), 1);
        Self {
            value: value.strip_suffix(".0").map_or(value.clone(), str::to_owned),
            unit: "g",
        }
    }
}

impl std::fmt::Display for Amount {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.value, self.unit)
    }
}

/// One act of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doing {
    /// What kind.
    pub act: Act,
    /// The load or order; empty where there is none.
    pub load: String,
    /// Kinds of part in it.
    pub part: String,
    /// Pieces; 0 where none are meant.
    pub pieces: u32,
    /// Where; empty where it is nowhere.
    pub station: String,
    /// How long the step lasts that it begins: dwell, oil, a stage of care. None where no step begins.
    pub step: Option<Span>,
    /// What goes in or out, as stated.
    pub amounts: Vec<Amount>,
}

impl Doing {
    /// An act at a place, with no load.
    pub(super) fn at(act: Act, station: &str) -> Self {
        Self {
            act,
            load: String::new(),
            part: String::new(),
            pieces: 0,
            station: station.to_owned(),
            step: None,
            amounts: Vec::new(),
        }
    }

    /// The same act with a step that lasts so long.
    pub(super) fn lasting(self, step: Option<Span>) -> Self {
        Self { step, ..self }
    }
}

/// Names, one for each act in their order; one for all where they are the same.
pub(super) fn names(values: impl Iterator<Item = String>) -> String {
    let all: Vec<String> = values.collect();
    match all.first() {
        Some(first) if all.iter().all(|v| v == first) => first.clone(),
        _ => all.join(BETWEEN),
    }
}

/// What belongs to the loads of a row: once where all acts are about one load, else for each act, equal or not.
pub(super) fn of_loads(doings: &[Doing], of: fn(&Doing) -> String) -> String {
    let one = doings
        .windows(2)
        .all(|pair| matches!(pair, [a, b] if a.load == b.load));
    if one {
        names(doings.iter().map(of))
    } else {
        each(doings.iter().map(of))
    }
}

/// One value for each, equal or not: numbers can be added up.
pub(super) fn each(values: impl Iterator<Item = String>) -> String {
    values.collect::<Vec<_>>().join(BETWEEN)
}

/// The acts of a row, one for each.
pub(super) fn acts(doings: &[Doing]) -> String {
    let words: Vec<&str> = doings.iter().map(|d| d.act.words()).collect();
    words.join(BETWEEN)
}

/// Amounts and their units, one for each.
pub(super) fn amounts(doings: &[Doing]) -> (String, String) {
    let all = || doings.iter().flat_map(|d| &d.amounts);
    let values: Vec<&str> = all().map(|a| a.value.as_str()).collect();
    let units: Vec<&str> = all().map(|a| a.unit).collect();
    (values.join(BETWEEN), units.join(BETWEEN))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_act_has_a_word_of_its_own() {
        let words: std::collections::BTreeSet<&str> = Act::ALL.iter().map(|a| a.words()).collect();
        assert_eq!(words.len(), Act::ALL.len());
        assert!(words.iter().all(|w| !w.contains('+')));
    }

    #[test]
    fn amounts_are_as_printed() {
        assert_eq!(Amount::grams(Mass::grams(13.0)).to_string(), "13 g");
        assert_eq!(Amount::grams(Mass::grams(11.14)).to_string(), "11.1 g");
        assert_eq!(Amount::millilitres(Volume::litres(0.3504)).to_string(), "350 mL");
        assert_eq!(Amount::millilitres(Volume::litres(2.35)).to_string(), "2.4 L");
    }

    #[test]
    fn what_is_the_same_for_all_acts_stands_once() {
        let of = |values: &[&str]| names(values.iter().map(|v| (*v).to_owned()));
        assert_eq!(of(&["sink", "sink"]), "sink");
        assert_eq!(of(&["B1", "B2", "B1"]), "B1 + B2 + B1");
        assert_eq!(of(&[]), "");
    }

    /// Forty pieces of one order and forty of another are eighty.
    #[test]
    fn equal_numbers_of_two_loads_stand_twice() {
        let of = |load: &str| Doing {
            load: load.to_owned(),
            pieces: 40,
            ..Doing::at(Act::Start, "bench")
        };
        let pieces = |d: &Doing| d.pieces.to_string();
        assert_eq!(of_loads(&[of("A"), of("B")], pieces), "40 + 40");
        assert_eq!(of_loads(&[of("A"), of("A")], pieces), "40");
    }
}
