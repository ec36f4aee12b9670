//! Between which values each number of a scenario usually lies. What lies outside can be read, and is mostly a slip of a
//! digit or of a unit: it is warned of, with the usual range and where that comes from. One row a key, in `shop`, `bath`
//! and `work`; keys without a row stand in `FREE`, each with what holds it instead.

mod bath;
#[cfg(test)]
mod free;
mod shop;
mod work;

use super::finding::{Code, Finding};
use super::node::{Node, SourceSpan, Value};
use super::thing::Table;
use super::value;
use super::walk::{Read, Walk};
use tankday_base::units::{
    Quantity, Span, TempDiff, Temperature, number, read_quantity, read_span, split_number,
};

/// The usual range of one key, as it would be written.
#[derive(Debug, Clone, Copy)]
struct Usual {
    key: &'static str,
    least: &'static str,
    most: &'static str,
    source: &'static str,
    read: fn(&str) -> Option<f64>,
    /// Whether nothing at all is as unusual as too little; else it is a way to leave something out.
    even_zero: bool,
}

/// The rows of one thing, under its path.
type Rows = (&'static str, &'static [Usual]);

/// Rows, each as `"key": how it is read, "least" to "most", source;`.
macro_rules! usual {
    ($($path:literal { $($key:literal: $read:expr, $least:literal to $most:literal, $source:expr $(, $zero:ident)?;)* })*) => {
        &[$(($path, &[$($crate::usual::Usual {
            key: $key,
            least: $least,
            most: $most,
            source: $source,
            read: $read,
            even_zero: $crate::usual::usual!(@zero $($zero)?),
        }),*])),*]
    };
    (@zero) => { false };
    (@zero even_zero) => { true };
}

use usual;

const PRACTICE: &str = "common practice, no source";

/// Prices are compared in currencies of about this worth only; another says nothing about a price.
const COMMON: [&str; 9] = ["EUR", "USD", "GBP", "CHF", "CAD", "AUD", "€", "$", "£"];

fn of<Q: Quantity>(text: &str) -> Option<f64> {
    read_quantity::<Q>(text).ok().map(Q::base)
}

fn temperature(text: &str) -> Option<f64> {
    Some(Temperature::read(text).ok()?.in_celsius() + 273.15)
}

fn difference(text: &str) -> Option<f64> {
    Some(TempDiff::read(text).ok()?.in_kelvin())
}

fn time(text: &str) -> Option<f64> {
    read_span(text).ok().map(Span::in_seconds)
}

fn plain(text: &str) -> Option<f64> {
    number(text).ok()
}

fn priced(text: &str, read: Read<f64>) -> Option<f64> {
    read(
        &Node::of_text(text.to_owned(), SourceSpan::default()),
        &mut Walk::default(),
    )
}

fn by_kwh(text: &str) -> Option<f64> {
    priced(text, value::price_per_kwh)
}

fn by_hour(text: &str) -> Option<f64> {
    priced(text, value::price_per_hour)
}

fn by_litre(text: &str) -> Option<f64> {
    priced(text, value::price_per_litre)
}

fn each(text: &str) -> Option<f64> {
    priced(text, value::price_each)
}

/// The numbers of a value: one, both ends of a range, each side of a size; a number without a unit has that of the last.
fn numbers(text: &str) -> Vec<String> {
    let mut text = text.trim();
    for word in ["about ", "exponential ", "lognormal ", "gamma "] {
        text = text.strip_prefix(word).unwrap_or(text);
    }
    let cuts = ["±", "+/-", "+-", "mostly", " of ", " thick"];
    let end = cuts
        .iter()
        .filter_map(|c| text.find(c))
        .min()
        .unwrap_or(text.len());
    let text = text.get(..end).unwrap_or(text).trim().trim_end_matches(',');
    let parts: Vec<&str> = if text.contains(" to ") {
        text.split(" to ").map(str::trim).collect()
    } else {
        text.split(['x', '×']).map(str::trim).collect()
    };
    let unit = |part: &str| split_number(part).ok().map(|(_, unit)| unit.to_owned());
    let last = parts.last().and_then(|p| unit(p)).unwrap_or_default();
    let with_unit = |part: &&str| match unit(part) {
        Some(own) if own.is_empty() => format!("{part} {last}").trim().to_owned(),
        _ => (*part).to_owned(),
    };
    parts.iter().map(with_unit).collect()
}

impl Usual {
    /// What is said of a value outside the range.
    fn odd(&self, text: &str, at: SourceSpan) -> Option<Finding> {
        let (least, most) = ((self.read)(self.least)?, (self.read)(self.most)?);
        let values: Option<Vec<f64>> = numbers(text).iter().map(|n| (self.read)(n)).collect();
        let values = values?;
        let little = |v: &f64| *v < least * (1.0 - 1e-9) && (*v > 0.0 || self.even_zero);
        let much = |v: &f64| *v > most * (1.0 + 1e-9);
        let (than, label) = if values.iter().any(much) {
            ("above", "as much as that?")
        } else if values.iter().any(little) {
            ("below", "as little as that?")
        } else {
            return None;
        };
        let message = format!("`{}: {text}` is {than} what is usual", self.key);
        Some(
            Finding::warning(Code::Range, at, message)
                .label(label)
                .help(format!(
                    "usual are {} ({}): is a digit or the unit wrong?",
                    self.range(),
                    self.source
                )),
        )
    }

    /// `40 to 95 %`
    fn range(&self) -> String {
        let unit = |text| split_number(text).map_or("", |(_, unit)| unit);
        let least = match unit(self.least) {
            own if own == unit(self.most) => self.least.strip_suffix(own).unwrap_or(self.least).trim(),
            _ => self.least,
        };
        format!("{least} to {}", self.most)
    }

    /// Of a value, or of the first of several that is odd.
    fn of_node(&self, node: &Node) -> Option<Finding> {
        match &node.value {
            Value::Text(text) => self.odd(text, node.at),
            Value::List(items) => items.iter().find_map(|item| self.of_node(item)),
            _ => None,
        }
    }
}

fn all() -> impl Iterator<Item = &'static Rows> {
    shop::ROWS.iter().chain(bath::ROWS).chain(work::ROWS)
}

/// What is said of the values of one thing that lie outside their usual ranges.
pub(super) fn odd<'a>(
    table: &Table,
    entries: impl Iterator<Item = (&'static str, &'a Node)> + Clone,
) -> Vec<Finding> {
    let Some((path, rows)) = all().find(|(path, _)| *path == table.path) else {
        return Vec::new();
    };
    let currency = || {
        let named = entries.clone().find(|(key, _)| *key == "currency");
        named.and_then(|(_, node)| node.text())
    };
    if *path == "shop.prices" && currency().is_some_and(|c| !COMMON.contains(&c)) {
        return Vec::new();
    }
    let of_key = |key: &'static str, node: &Node| {
        let mut own = rows.iter().filter(|row| row.key == key);
        own.find_map(|row| row.of_node(node))
    };
    entries.filter_map(|(key, node)| of_key(key, node)).collect()
}

/// The usual range of a key in words, `40 to 95 %`, if it has one.
pub(super) fn range_of(path: &str, key: &str) -> Option<String> {
    let rows = all().filter(|(of, _)| *of == path).flat_map(|(_, rows)| *rows);
    let own: Vec<String> = rows.filter(|r| r.key == key).map(Usual::range).collect();
    (!own.is_empty()).then(|| own.join(", or "))
}

#[cfg(test)]
mod tests {
    use super::free::FREE;
    use super::{Usual, all, numbers};
    use crate::node::SourceSpan;
    use crate::thing::{Kind, Table, Thing};
    use crate::written::File;

    fn rows() -> impl Iterator<Item = (&'static str, &'static Usual)> {
        all().flat_map(|(path, rows)| rows.iter().map(move |row| (*path, row)))
    }

    /// Whether a key holds a number of some kind.
    fn counts(kind: &Kind) -> bool {
        match kind {
            Kind::Text
            | Kind::Yes
            | Kind::Word(_)
            | Kind::Clock
            | Kind::Date
            | Kind::Week(_)
            | Kind::Thing(_)
            | Kind::Things(_)
            | Kind::Named(_)
            | Kind::NamedLists(_) => false,
            Kind::Some(kind) => counts(kind),
            Kind::Or(kinds) => kinds.iter().any(counts),
            _ => true,
        }
    }

    #[test]
    fn every_number_has_a_usual_range_or_a_reason_for_none() {
        let mut without = Vec::new();
        for table in Table::all(File::TABLE) {
            for key in table.keys.iter().filter(|k| counts(&k.kind)) {
                let path = format!("{}.{}", table.path, key.name);
                let ranged = rows().any(|(of, row)| of == table.path && row.key == key.name);
                let free = FREE
                    .iter()
                    .any(|(of, why)| !why.is_empty() && (*of == path || *of == table.path));
                if ranged == free {
                    without.push(path);
                }
            }
        }
        assert!(without.is_empty(), "none, or both: {without:#?}");
    }

    #[test]
    fn no_row_is_of_a_key_that_is_not_there() {
        let tables = Table::all(File::TABLE);
        let is = |path: &str, key: &str| {
            let own = tables.iter().filter(|t| t.path == path);
            own.flat_map(|t| t.keys).any(|k| k.name == key)
        };
        for (path, row) in rows() {
            assert!(is(path, row.key), "{path}.{}", row.key);
        }
        for (path, _) in FREE {
            let known = tables.iter().any(|t| t.path == *path)
                || path.rsplit_once('.').is_some_and(|(path, key)| is(path, key));
            assert!(known, "{path}");
        }
    }

    /// Both ends can be read, the lesser first, and what stands where nothing is written is nothing unusual.
    #[test]
    fn ranges_hold_the_defaults() {
        for (path, row) in rows() {
            let ends = ((row.read)(row.least), (row.read)(row.most));
            assert!(
                ends.0.is_some() && ends.0 < ends.1,
                "{path}.{}: {ends:?}",
                row.key
            );
            let usual = crate::defaults().filter(|d| {
                let key = d.key.split(", ").next().unwrap_or(d.key);
                key == format!("{path}.{}", row.key) && !(row.even_zero && d.value.starts_with("0 "))
            });
            for default in usual {
                let odd = row.odd(default.value, SourceSpan::default());
                assert!(odd.is_none(), "{}: {odd:?}", default.key);
            }
        }
    }

    #[test]
    fn numbers_take_the_unit_of_the_last() {
        for (text, expected) in [
            ("8 min", &["8 min"][..]),
            ("10 to 30 min", &["10 min", "30 min"]),
            ("3 to 9 min, mostly 5 min", &["3 min", "9 min"]),
            ("about 5 min ± 1 min", &["5 min"]),
            ("600 x 40 x 20 mm", &["600 mm", "40 mm", "20 mm"]),
            ("25 mm of 0.04 W/mK", &["25 mm"]),
            ("1 mm thick", &["1 mm"]),
            ("5.5 to 7", &["5.5", "7"]),
            ("as the air", &["as the air"]),
        ] {
            assert_eq!(numbers(text), expected, "{text}");
        }
    }

    #[test]
    fn a_range_says_its_unit_once() {
        let words = |path, key| super::range_of(path, key).unwrap();
        assert_eq!(words("rules.care.filter", "pour"), "0.2 to 60 L/min");
        assert_eq!(words("shop.prices", "power"), "0.05 to 1 per kWh");
        assert_eq!(words("shop.walks", "takes"), "1 s to 10 min");
        assert_eq!(words("tanks.wall", "vessel"), "0.2 to 500 kg, or 0.4 to 15 mm");
        assert_eq!(super::range_of("tanks", "name"), None);
    }

    #[test]
    fn odd_values_are_told_by_their_range() {
        let row = |path: &str, key: &str| rows().find(|(p, r)| *p == path && r.key == key).unwrap().1;
        let told = |row: &Usual, text: &str| row.odd(text, SourceSpan::default()).map(|f| f.message);
        let pour = row("rules.care.filter", "pour");
        assert_eq!(
            told(pour, "0.001 L/min").as_deref(),
            Some("`pour: 0.001 L/min` is below what is usual")
        );
        assert_eq!(told(pour, "4 L/min"), None);
        let power = row("shop.prices", "power");
        assert!(told(power, "30 per kWh").is_some() && told(power, "0 per kWh").is_some());
        assert_eq!(told(power, "0.00030 per Wh"), None);
        // Nothing is a way to leave something out, but for what cannot be nothing.
        assert_eq!(told(row("steps", "put in"), "0 s"), None);
        assert!(told(row("steps", "put in"), "0.01 min").is_some());
    }
}
