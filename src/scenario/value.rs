//! Reads single values: text, counts, words; quantities by `amount`, prices by `money`.

use super::finding::{Code, Finding};
use super::nearest::nearest;
use super::node::{Node, SourceSpan, Value};
use super::walk::{Walk, list};
use tankday_base::units::{ReadError, number};

pub(super) use super::amount::{numbers, positive, quantity, range, share, temp_diff, temperature};
pub(super) use super::money::{money, price_each, price_per_hour, price_per_kwh, price_per_litre, rate};

/// Longest name, in characters.
const LONGEST_NAME: usize = 80;
/// Longest other text, in characters.
const LONGEST_TEXT: usize = 300;

/// The text of a node, which must be neither a list nor keys.
pub(super) fn scalar<'a>(node: &'a Node, walk: &mut Walk, wanted: &str) -> Option<&'a str> {
    match &node.value {
        Value::Text(text) if !text.is_empty() => Some(text),
        Value::Text(_) | Value::Empty => walk.refuse(
            Finding::error(Code::Missing, node.at).says(format!("{wanted} is expected, nothing is written")),
        ),
        _ => {
            let message = format!("{wanted} is expected, {} is written", node.kind());
            walk.refuse(
                Finding::new(Code::WrongKind, node.at, message).label(format!("this is {}", node.kind())),
            )
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
        Some(message) => walk.refuse(Finding::new(Code::Limit, node.at, message)),
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
    match result {
        Ok(value) => Some(value),
        Err(e) => walk.refuse(refused(code, e, node.at, wanted)),
    }
}

fn refused(code: Code, e: ReadError, at: SourceSpan, wanted: &str) -> Finding {
    let of_unit = e.message.contains(" unit");
    let number = e.message.split('`').nth(1).unwrap_or_default();
    let help = if e.message.contains("comma") {
        super::slip::with_point(number)
    } else {
        e.help
    };
    Finding::new(if of_unit { Code::Unit } else { code }, at, e.message)
        .label(format!("expected {wanted}"))
        .help(help)
}

/// A whole number from `LEAST` to `MOST`.
pub(super) fn count<const LEAST: u32, const MOST: u32>(node: &Node, walk: &mut Walk) -> Option<u32> {
    whole(node, walk, LEAST, MOST)
}

fn whole(node: &Node, walk: &mut Walk, least: u32, most: u32) -> Option<u32> {
    let text = scalar(node, walk, "a whole number")?;
    let (code, message, label) = match text.parse::<u64>() {
        Ok(n) if n < u64::from(least) => (
            Code::Range,
            format!("{n} is too few"),
            format!("at least {least}"),
        ),
        Ok(n) if n > u64::from(most) => (Code::Limit, format!("{n} is too many"), format!("at most {most}")),
        Ok(n) => return u32::try_from(n).ok(),
        Err(_) if is_negative(text) => (
            Code::Range,
            format!("{text} is too few"),
            format!("at least {least}"),
        ),
        Err(_) => (
            Code::WrongKind,
            format!("`{text}` is not a whole number"),
            "expected a whole number".to_owned(),
        ),
    };
    let meant = meant_whole(text).filter(|n| (least..=most).contains(n));
    let help = match meant {
        Some(meant) => format!("write `{meant}`"),
        None => format!("write a whole number from {least} to {most}"),
    };
    walk.refuse(Finding::new(code, node.at, message).label(label).help(help))
}

/// The whole number that `12 pieces`, `about 12`, `1'200`, `2 dozen` or `a dozen` means, if it is clear.
fn meant_whole(text: &str) -> Option<u32> {
    const DOZEN: u32 = 12;
    let text = text.trim().strip_prefix("about ").unwrap_or(text.trim());
    let (first, unit) = text.split_once(' ').unwrap_or((text, ""));
    let number: u32 = match first {
        "a" | "one" => 1,
        "two" => 2,
        "three" => 3,
        digits => digits.replace(['\'', '\u{2019}', '_'], "").parse().ok()?,
    };
    match unit.trim() {
        "dozen" => number.checked_mul(DOZEN),
        "" | "pieces" | "piece" | "pcs" | "pc" | "parts" | "off" => Some(number),
        _ => None,
    }
}

/// Whether a text is a whole number below zero.
fn is_negative(text: &str) -> bool {
    let digits = text.strip_prefix(['-', '\u{2212}']);
    digits.is_some_and(|d| !d.is_empty() && d.chars().all(|c| c.is_ascii_digit()))
}

/// Pieces of an order.
pub(super) fn pieces(node: &Node, walk: &mut Walk) -> Option<u32> {
    match &node.value {
        Value::Text(text) if text == "0" => walk.refuse(
            Finding::new(Code::Order, node.at, "an order needs at least one piece")
                .label("no pieces")
                .help("write how many, or leave the order out"),
        ),
        _ => count::<1, 1_000_000>(node, walk),
    }
}

/// The version of the format, which there is one of.
pub(super) fn version(node: &Node, walk: &mut Walk) -> Option<u32> {
    match scalar(node, walk, "a version")? {
        "1" => Some(1),
        other => walk.refuse(
            Finding::error(Code::Range, node.at)
                .says(format!("version {other} of the format is not known"))
                .label("unknown version")
                .help("this program reads `tankday: 1`"),
        ),
    }
}

/// A plain number from `LEAST` to `MOST` tenths.
pub(super) fn factor<const LEAST: u32, const MOST: u32>(node: &Node, walk: &mut Walk) -> Option<f64> {
    between(node, walk, f64::from(LEAST) / 10.0, f64::from(MOST) / 10.0)
}

fn between(node: &Node, walk: &mut Walk, least: f64, most: f64) -> Option<f64> {
    let text = scalar(node, walk, "a number")?;
    let read =
        number(text).map_err(|e| ReadError::new(e.message, format!("write a number from {least} to {most}")));
    let value = refuse(read, node, walk, "a number")?;
    if (least..=most).contains(&value) {
        return Some(value);
    }
    let help = format!("write a number from {least} to {most}");
    walk.refuse(Finding::new(Code::Range, node.at, format!("{value} is out of range")).help(help))
}

/// A plain number above zero.
pub(super) fn above_zero(node: &Node, walk: &mut Walk) -> Option<f64> {
    let text = scalar(node, walk, "a number")?;
    let value = refuse(number(text), node, walk, "a number")?;
    if value > 0.0 {
        return Some(value);
    }
    walk.refuse(Finding::new(Code::Range, node.at, format!("{value} is not above zero")).label("too little"))
}

/// One of a few words, by what they mean.
pub(super) fn word<T: Clone>(node: &Node, walk: &mut Walk, choices: &[(&'static str, T)]) -> Option<T> {
    let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
    let at = choice(node, walk, &words)?;
    choices.get(at).map(|(_, meant)| meant.clone())
}

/// One of a few words, by its place among them.
fn choice(node: &Node, walk: &mut Walk, words: &[&str]) -> Option<usize> {
    let text = scalar(node, walk, "a word")?;
    if let Some(at) = words.iter().position(|w| *w == text) {
        return Some(at);
    }
    let label = nearest(text, words.iter().copied()).map_or_else(
        || "not one of the choices".to_owned(),
        |n| format!("did you mean `{n}`?"),
    );
    walk.refuse(
        Finding::new(Code::UnknownWord, node.at, format!("`{text}` is not known here"))
            .label(label)
            .help(format!("the choices are {}", list(words.iter().copied()))),
    )
}

/// `yes` or `no`; `true` and `false` are understood.
pub(super) fn yes(node: &Node, walk: &mut Walk) -> Option<bool> {
    match &node.value {
        Value::Text(t) if t == "true" => Some(true),
        Value::Text(t) if t == "false" => Some(false),
        _ => word(node, walk, &[("yes", true), ("no", false)]),
    }
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
