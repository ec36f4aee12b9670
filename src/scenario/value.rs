//! Reads single values: text, counts, quantities, words, prices, measures.

use super::finding::{Code, Finding};
use super::nearest::nearest;
use super::node::{Node, Value};
use super::units;
use super::walk::{Walk, list};
use crate::units::{
    Energy, Quantity, ReadError, TempDiff, Temperature, Volume, number, read_quantity, read_span,
    split_number,
};

/// Longest name, in characters.
const LONGEST_NAME: usize = 80;
/// Longest other text, in characters.
const LONGEST_TEXT: usize = 300;

/// The text of a node, which must be neither a list nor keys.
pub(super) fn scalar<'a>(node: &'a Node, walk: &mut Walk, wanted: &str) -> Option<&'a str> {
    match &node.value {
        Value::Text(text) if !text.is_empty() => Some(text),
        Value::Text(_) | Value::Empty => {
            walk.add(Finding::new(
                Code::Missing,
                node.at,
                format!("{wanted} is expected, nothing is written"),
            ));
            None
        }
        _ => {
            let message = format!("{wanted} is expected, {} is written", node.kind());
            walk.add(
                Finding::new(Code::WrongKind, node.at, message).label(format!("this is {}", node.kind())),
            );
            None
        }
    }
}

/// A name: one line, not too long.
pub(super) fn name(node: &Node, walk: &mut Walk) -> Option<String> {
    one_line(node, walk, "a name", LONGEST_NAME)
}

/// Some other text: one line, not too long.
pub(super) fn text(node: &Node, walk: &mut Walk) -> Option<String> {
    one_line(node, walk, "a text", LONGEST_TEXT)
}

fn one_line(node: &Node, walk: &mut Walk, wanted: &str, longest: usize) -> Option<String> {
    let text = scalar(node, walk, wanted)?;
    match unfit(text, longest) {
        None => Some(text.to_owned()),
        Some(message) => {
            walk.add(Finding::new(Code::Limit, node.at, message));
            None
        }
    }
}

/// Why a text can be no name, if it cannot.
pub(super) fn unfit_name(text: &str) -> Option<String> {
    if text.trim().is_empty() {
        return Some("a name is expected, nothing is written".to_owned());
    }
    unfit(text, LONGEST_NAME)
}

fn unfit(text: &str, longest: usize) -> Option<String> {
    if text.chars().any(char::is_control) {
        return Some("it must stand on one line, without control characters".to_owned());
    }
    (text.chars().count() > longest).then(|| format!("it is longer than {longest} letters"))
}

/// Notes why a text could not be read.
pub(super) fn refuse<T>(
    result: Result<T, ReadError>,
    node: &Node,
    walk: &mut Walk,
    wanted: &str,
) -> Option<T> {
    refuse_as(Code::WrongKind, result, node, walk, wanted)
}

/// The same under a code of its own, but for units.
pub(super) fn refuse_as<T>(
    code: Code,
    result: Result<T, ReadError>,
    node: &Node,
    walk: &mut Walk,
    wanted: &str,
) -> Option<T> {
    let e = match result {
        Ok(value) => return Some(value),
        Err(e) => e,
    };
    let code = if e.message.contains(" unit") {
        Code::Unit
    } else {
        code
    };
    let comma = e.message.contains("comma");
    let help = if comma {
        "write the decimal sign as a point: `2.5`".to_owned()
    } else {
        e.help
    };
    walk.add(
        Finding::new(code, node.at, e.message)
            .label(format!("expected {wanted}"))
            .help(help),
    );
    None
}

/// A quantity, zero or more.
pub(super) fn quantity<Q: Quantity>(node: &Node, walk: &mut Walk) -> Option<Q> {
    let text = scalar(node, walk, Q::KIND)?;
    let wanted = units::advice::<Q>(text);
    let read = match read_quantity::<Q>(text) {
        Err(e) if let Some(advice) = wanted => {
            walk.add(
                Finding::new(Code::Unit, node.at, e.message)
                    .label(advice)
                    .help(e.help),
            );
            return None;
        }
        other => other,
    };
    let q = refuse(read, node, walk, Q::KIND)?;
    if q.base() < 0.0 {
        let finding = Finding::new(
            Code::Range,
            node.at,
            format!("{} cannot be less than nothing", Q::KIND),
        );
        walk.add(finding.label("less than nothing"));
        return None;
    }
    Some(q)
}

/// A quantity, more than zero.
pub(super) fn positive<Q: Quantity>(node: &Node, walk: &mut Walk) -> Option<Q> {
    let q: Q = quantity(node, walk)?;
    if q.base() > 0.0 {
        return Some(q);
    }
    walk.add(Finding::new(
        Code::Range,
        node.at,
        format!("{} must be more than nothing here", Q::KIND),
    ));
    None
}

/// A share from 0 to 100 %.
pub(super) fn share(node: &Node, walk: &mut Walk) -> Option<crate::units::Share> {
    let share: crate::units::Share = quantity(node, walk)?;
    if share.in_fraction() <= 1.0 {
        return Some(share);
    }
    walk.add(Finding::new(
        Code::Range,
        node.at,
        "a share cannot be more than 100 %",
    ));
    None
}

/// A temperature.
pub(super) fn temperature(node: &Node, walk: &mut Walk) -> Option<Temperature> {
    let text = scalar(node, walk, "a temperature")?;
    refuse(Temperature::read(text), node, walk, "a temperature")
}

/// A difference of temperatures, more than zero.
pub(super) fn temp_diff(node: &Node, walk: &mut Walk) -> Option<TempDiff> {
    let text = scalar(node, walk, "a temperature difference")?;
    let diff = refuse(TempDiff::read(text), node, walk, "a temperature difference")?;
    if diff.in_kelvin() > 0.0 {
        return Some(diff);
    }
    walk.add(Finding::new(Code::Range, node.at, "it must be more than nothing"));
    None
}

/// A whole number from `LEAST` to `MOST`.
pub(super) fn count<const LEAST: u32, const MOST: u32>(node: &Node, walk: &mut Walk) -> Option<u32> {
    let text = scalar(node, walk, "a whole number")?;
    let (code, message, label) = match text.parse::<u64>() {
        Ok(n) if n < u64::from(LEAST) => (
            Code::Range,
            format!("{n} is too few"),
            format!("at least {LEAST}"),
        ),
        Ok(n) if n > u64::from(MOST) => (Code::Limit, format!("{n} is too many"), format!("at most {MOST}")),
        Ok(n) => return u32::try_from(n).ok(),
        Err(_) => (
            Code::WrongKind,
            format!("`{text}` is no whole number"),
            "expected a whole number".to_owned(),
        ),
    };
    let help = format!("write a whole number from {LEAST} to {MOST}");
    walk.add(Finding::new(code, node.at, message).label(label).help(help));
    None
}

/// Pieces of an order.
pub(super) fn pieces(node: &Node, walk: &mut Walk) -> Option<u32> {
    match &node.value {
        Value::Text(text) if text == "0" => {
            walk.add(
                Finding::new(Code::Order, node.at, "an order of no pieces is no order")
                    .label("no pieces")
                    .help("write how many, or leave the order out"),
            );
            None
        }
        _ => count::<1, 1_000_000>(node, walk),
    }
}

/// The version of the format, which there is one of.
pub(super) fn version(node: &Node, walk: &mut Walk) -> Option<u32> {
    match scalar(node, walk, "a version")? {
        "1" => Some(1),
        other => {
            walk.add(
                Finding::new(
                    Code::Range,
                    node.at,
                    format!("version {other} of the format is not known"),
                )
                .label("unknown version")
                .help("this program reads `tankday: 1`"),
            );
            None
        }
    }
}

/// A plain number from `LEAST` to `MOST` tenths.
pub(super) fn factor<const LEAST: u32, const MOST: u32>(node: &Node, walk: &mut Walk) -> Option<f64> {
    let text = scalar(node, walk, "a number")?;
    let (least, most) = (f64::from(LEAST) / 10.0, f64::from(MOST) / 10.0);
    let read =
        number(text).map_err(|e| ReadError::new(e.message, format!("write a number from {least} to {most}")));
    let value = refuse(read, node, walk, "a number")?;
    if (least..=most).contains(&value) {
        return Some(value);
    }
    let help = format!("write a number from {least} to {most}");
    walk.add(Finding::new(Code::Range, node.at, format!("{value} is out of range")).help(help));
    None
}

/// Two quantities, the lesser first: `30 to 50 points`. The first may leave its unit to the second.
pub(super) fn range<Q: Quantity + PartialOrd>(node: &Node, walk: &mut Walk) -> Option<(Q, Q)> {
    let text = scalar(node, walk, Q::KIND)?;
    let help = || {
        format!(
            "write the lesser, `to`, and the greater of {}, with a unit",
            Q::KIND
        )
    };
    let read = || {
        let (low, high) = text
            .split_once(" to ")
            .ok_or_else(|| ReadError::new(format!("`{text}` has no `to`"), help()))?;
        let unit = split_number(high)?.1;
        let low = match split_number(low)?.1 {
            "" => read_quantity::<Q>(&format!("{} {unit}", low.trim()))?,
            _ => read_quantity::<Q>(low)?,
        };
        Ok((low, read_quantity::<Q>(high)?))
    };
    let (low, high) = refuse(read(), node, walk, Q::KIND)?;
    in_order(low.base(), high.base(), node, walk).then_some((low, high))
}

/// Two plain numbers, the lesser first: `5.5 to 7`.
pub(super) fn numbers(node: &Node, walk: &mut Walk) -> Option<(f64, f64)> {
    let text = scalar(node, walk, "two numbers")?;
    let read = || {
        let (low, high) = text.split_once(" to ").ok_or_else(|| {
            ReadError::new(
                format!("`{text}` has no `to`"),
                "write the lesser, `to`, and the greater: `5.5 to 7`",
            )
        })?;
        Ok((number(low.trim())?, number(high.trim())?))
    };
    let (low, high) = refuse(read(), node, walk, "two numbers")?;
    in_order(low, high, node, walk).then_some((low, high))
}

fn in_order(low: f64, high: f64, node: &Node, walk: &mut Walk) -> bool {
    let message = match () {
        () if low < 0.0 => "neither can be less than nothing",
        () if low >= high => "it runs backwards",
        () => return true,
    };
    walk.add(Finding::new(Code::Range, node.at, message).help("write the lesser, `to`, and the greater"));
    false
}

/// A plain number above zero.
pub(super) fn above_zero(node: &Node, walk: &mut Walk) -> Option<f64> {
    let text = scalar(node, walk, "a number")?;
    let value = refuse(number(text), node, walk, "a number")?;
    if value > 0.0 {
        return Some(value);
    }
    walk.add(Finding::new(Code::Range, node.at, format!("{value} is not above zero")).label("too little"));
    None
}

/// One of a few words.
pub(super) fn word<T: Clone>(node: &Node, walk: &mut Walk, choices: &[(&'static str, T)]) -> Option<T> {
    let words = || choices.iter().map(|(w, _)| *w);
    let text = scalar(node, walk, "a word")?;
    if let Some((_, value)) = choices.iter().find(|(w, _)| *w == text) {
        return Some(value.clone());
    }
    let label = nearest(text, words()).map_or_else(
        || "not one of the choices".to_owned(),
        |n| format!("did you mean `{n}`?"),
    );
    walk.add(
        Finding::new(Code::UnknownWord, node.at, format!("`{text}` is not known here"))
            .label(label)
            .help(format!("the choices are {}", list(words()))),
    );
    None
}

/// `yes` or `no`; `true` and `false` are understood.
pub(super) fn yes(node: &Node, walk: &mut Walk) -> Option<bool> {
    match &node.value {
        Value::Text(t) if t == "true" => Some(true),
        Value::Text(t) if t == "false" => Some(false),
        _ => word(node, walk, &[("yes", true), ("no", false)]),
    }
}

/// A price `0.30 per kWh`: the number for one of `per`.
fn price(node: &Node, walk: &mut Walk, example: &str, of: fn(&str) -> Result<f64, ReadError>) -> Option<f64> {
    let text = scalar(node, walk, "a price")?;
    let help = format!("write an amount, `per` and a unit: `{example}`");
    let read = |text: &str| -> Result<f64, ReadError> {
        let (amount, rest) = split_number(text)?;
        let Some(unit) = rest.strip_prefix("per ") else {
            return Err(ReadError::new(format!("`{text}` does not say per what"), &help));
        };
        let one = of(&format!("1 {}", unit.trim())).map_err(|e| ReadError::new(e.message, &help))?;
        if amount < 0.0 {
            return Err(ReadError::new("a price cannot be less than nothing", &help));
        }
        Ok(amount / one)
    };
    refuse(
        read(text).map_err(|e| ReadError::new(e.message, &help)),
        node,
        walk,
        "a price",
    )
}

/// An amount of money, a plain number that is not less than nothing.
pub(super) fn money(node: &Node, walk: &mut Walk) -> Option<f64> {
    const HELP: &str = "write an amount in the shop's currency: `450`";
    let text = scalar(node, walk, "an amount")?;
    let read = number(text)
        .map_err(|e| ReadError::new(e.message, HELP))
        .and_then(|value| {
            if !(0.0..=1e9).contains(&value) {
                return Err(ReadError::new(format!("{value} is out of range"), HELP));
            }
            Ok(value)
        });
    refuse(read, node, walk, "an amount")
}

/// A price for one kWh.
pub(super) fn price_per_kwh(node: &Node, walk: &mut Walk) -> Option<f64> {
    price(node, walk, "0.30 per kWh", |t| {
        read_quantity::<Energy>(t).map(Energy::in_kilowatt_hours)
    })
}

/// A price for one litre.
pub(super) fn price_per_litre(node: &Node, walk: &mut Walk) -> Option<f64> {
    price(node, walk, "0.80 per L", |t| {
        read_quantity::<Volume>(t).map(Volume::in_litres)
    })
}

/// A price for one piece.
pub(super) fn price_each(node: &Node, walk: &mut Walk) -> Option<f64> {
    price(node, walk, "1.50 per piece", |t| match t {
        "1 piece" => Ok(1.0),
        _ => Err(ReadError::new(
            format!("`{t}` is not one piece"),
            "write `per piece`",
        )),
    })
}

/// A price for one hour.
pub(super) fn price_per_hour(node: &Node, walk: &mut Walk) -> Option<f64> {
    price(node, walk, "28 per h", |t| {
        read_span(t).map(crate::units::Span::in_hours)
    })
}

/// A quantity, or the word that stands for none.
pub(super) fn or_word<T>(
    node: &Node,
    walk: &mut Walk,
    word: &str,
    read: fn(&Node, &mut Walk) -> Option<T>,
) -> Option<Option<T>> {
    match &node.value {
        Value::Text(t) if t == word => Some(None),
        _ => read(node, walk).map(Some),
    }
}
