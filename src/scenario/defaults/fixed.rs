//! What no key of a scenario changes: constants of the models and of the rules, read from where they stand in the program.

mod bath;
mod care;
mod heat;
mod work;

/// A constant without a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fixed {
    /// What it is.
    pub what: &'static str,
    /// Its value, with its unit.
    pub value: String,
    /// Between which values it is found or believed to lie, in the unit of the value; or why there are none.
    pub range: String,
    /// Where it comes from.
    pub source: &'static str,
    /// How a shop measures its own.
    pub measure: &'static str,
}

/// Where a constant lies, in its own unit.
#[derive(Debug, Clone, Copy)]
enum Lies {
    Between(f64, f64),
    /// At its value, by definition or by the source that is named.
    Exactly,
    /// Nobody is known to have told a range.
    Unknown,
}

use Lies::{Between, Exactly, Unknown};

/// Constants, each as `what: value, unit; where it lies; its source; how to measure it`; words may stand behind the unit.
macro_rules! constants {
    ($($what:literal: $value:expr, $unit:expr $(, $after:expr)?; $lies:expr; $source:expr; $measure:expr;)*) => {
        vec![$($crate::defaults::fixed::of(
            $what,
            ($value, $unit, concat!("" $(, $after)?)),
            $lies,
            $source,
            $measure,
        )),*]
    };
}

use constants;

/// A constant: its value and its range in one unit, and what is said after the unit.
fn of(
    what: &'static str,
    (value, unit, after): (f64, &'static str, &'static str),
    lies: Lies,
    source: &'static str,
    measure: &'static str,
) -> Fixed {
    // Values are kept in SI units: what that adds in the last digits is taken off again.
    let digits = |v: f64| (v * 1e6).round() / 1e6;
    let range = match lies {
        Between(least, most) => format!("{} to {} {unit}", digits(least), digits(most)),
        Exactly => "as stated".to_owned(),
        Unknown => "none is known".to_owned(),
    };
    let mut told = format!("{} {unit}", digits(value)).trim_end().to_owned();
    if !after.is_empty() {
        told = format!("{told} {after}");
    }
    Fixed {
        what,
        value: told,
        range: range.trim_end().to_owned(),
        source,
        measure,
    }
}

const OURS: &str = "a choice of ours, no source";
const PRACTICE: &str = "common practice, no source";
const NOTHING: &str = "nothing to measure";

/// All of them.
#[must_use]
pub fn fixed() -> Vec<Fixed> {
    [
        bath::constants(),
        care::constants(),
        work::constants(),
        heat::constants(),
    ]
    .concat()
}

#[cfg(test)]
mod tests {
    use super::{Between, Exactly, of};

    #[test]
    fn a_range_has_the_unit_of_its_value() {
        let one = of(
            "what",
            (0.1 + 0.2, "kg/L", "of bath"),
            Between(0.25, 0.3),
            "source",
            "measure",
        );
        assert_eq!(
            (one.value.as_str(), one.range.as_str()),
            ("0.3 kg/L of bath", "0.25 to 0.3 kg/L")
        );
        assert_eq!(of("what", (2.0, "h", ""), Exactly, "", "").range, "as stated");
    }
}
