//! Reads prices and amounts of money.

use super::node::Node;
use super::value::{refuse, scalar};
use super::walk::Walk;
use tankday_base::shop::{Per, Rate};
use tankday_base::units::{
    Area, Energy, Mass, ReadError, Volume, number, read_quantity, read_span, split_number,
};

/// The most that one of anything costs, in any currency: a choice of ours.
const MOST_PRICE: f64 = 1e6;

const IN_CURRENCY: &str = "write the number alone, in the currency that `shop: prices: currency` names";

/// What is meant where a sign of a currency stands about an amount: `0.28 per kWh` for `28p per kWh`, `£0.28 per kWh` and
/// `EUR 0.28 per kWh`. None where no such sign stands there.
fn with_currency(text: &str) -> Option<String> {
    // A hundredth of a currency, as it is written behind an amount.
    const HUNDREDTHS: [&str; 6] = ["p", "c", "ct", "cent", "cents", "pence"];
    let (amount, per) = match text.split_once(" per ") {
        Some((amount, per)) => (amount.trim(), Some(per.trim())),
        None => (text.trim(), None),
    };
    let first = amount.find(|c: char| c.is_ascii_digit())?;
    let last = amount.rfind(|c: char| c.is_ascii_digit())?;
    let (before, behind) = (amount[..first].trim(), amount[last + 1..].trim());
    let sign =
        |s: &str| s.chars().count() <= 5 && s.chars().all(|c| c.is_alphabetic() || "€£$¥¢".contains(c));
    if (before.is_empty() && behind.is_empty()) || !sign(before) || !sign(behind) {
        return None;
    }
    let value = number(amount.get(first..=last)?).ok()?;
    let hundredths = behind == "¢" || HUNDREDTHS.contains(&behind.to_lowercase().as_str());
    let value = if hundredths { value / 100.0 } else { value };
    // Six digits hide the rounding of a division.
    let value = (value * 1e6).round() / 1e6;
    Some(per.map_or_else(|| value.to_string(), |per| format!("{value} per {per}")))
}

/// What is wrong with a price behind whose number no `per` follows at once.
fn not_per(text: &str) -> String {
    match with_currency(text) {
        Some(_) => format!("`{text}` names a currency, which stands elsewhere"),
        None => format!("`{text}` does not say per what"),
    }
}

/// A price `0.30 per kWh`: the number for one of `per`.
fn price(node: &Node, walk: &mut Walk, example: &str, of: fn(&str) -> Result<f64, ReadError>) -> Option<f64> {
    let text = scalar(node, walk, "a price")?;
    let help = match with_currency(text) {
        Some(meant) => format!("{IN_CURRENCY}: `{meant}`"),
        None => format!("write an amount, `per` and a unit: `{example}`"),
    };
    let read = |text: &str| -> Result<f64, ReadError> {
        let (amount, rest) = split_number(text)?;
        let Some(unit) = rest.strip_prefix("per ") else {
            return Err(ReadError::new(not_per(text), &help));
        };
        let one = of(&format!("1 {}", unit.trim())).map_err(|e| ReadError::new(e.message, &help))?;
        if amount < 0.0 {
            return Err(ReadError::new("a price cannot be less than nothing", &help));
        }
        let price = amount / one;
        if !(0.0..=MOST_PRICE).contains(&price) {
            let message = format!("`{text}` is out of all proportion: up to 1000000 for one is read");
            return Err(ReadError::new(message, &help));
        }
        Ok(price)
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
    let help = match with_currency(text) {
        Some(meant) => format!("{IN_CURRENCY}: `{meant}`"),
        None => HELP.to_owned(),
    };
    let read = number(text)
        .map_err(|e| ReadError::new(e.message, &help))
        .and_then(|value| {
            if !(0.0..=1e9).contains(&value) {
                return Err(ReadError::new(format!("{value} is out of range"), &help));
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

/// A rate, counted by one of several things: `0.04 per dm2`.
pub(super) fn rate(node: &Node, walk: &mut Walk) -> Option<Rate> {
    const HELP: &str = "write an amount, `per` and what it is counted by: `2.40 per h`, `0.04 per dm2`, `per kg`, `per load` or `per piece`";
    let text = scalar(node, walk, "a rate")?;
    let help = match with_currency(text) {
        Some(meant) => format!("{IN_CURRENCY}: `{meant}`"),
        None => HELP.to_owned(),
    };
    let read = |text: &str| -> Result<Rate, ReadError> {
        let (amount, rest) = split_number(text)?;
        let Some(unit) = rest.strip_prefix("per ") else {
            return Err(ReadError::new(not_per(text), HELP));
        };
        let (per, one) = counted_by(unit.trim())
            .ok_or_else(|| ReadError::new(format!("nothing is counted by `{}`", unit.trim()), HELP))?;
        let amount = amount / one;
        if !(0.0..=MOST_PRICE).contains(&amount) {
            let message = format!("`{text}` is out of range: 0 to 1000000 for one is read");
            return Err(ReadError::new(message, HELP));
        }
        Ok(Rate { amount, per })
    };
    let found = read(text).map_err(|e| ReadError::new(e.message, &help));
    refuse(found, node, walk, "a rate")
}

/// What a word counts by, and how many of that one such word is.
fn counted_by(unit: &str) -> Option<(Per, f64)> {
    let one = format!("1 {unit}");
    let area = |one: &str| read_quantity::<Area>(one).map(Area::in_square_decimetres);
    let mass = |one: &str| read_quantity::<Mass>(one).map(Mass::in_kilograms);
    match unit {
        "load" => Some((Per::Load, 1.0)),
        "piece" => Some((Per::Piece, 1.0)),
        _ => (read_span(&one).map(|t| (Per::Hour, t.in_hours())))
            .or_else(|_| area(&one).map(|a| (Per::SquareDecimetre, a)))
            .or_else(|_| mass(&one).map(|m| (Per::Kilogram, m)))
            .ok(),
    }
}

/// A price for one hour.
pub(super) fn price_per_hour(node: &Node, walk: &mut Walk) -> Option<f64> {
    price(node, walk, "28 per h", |t| {
        read_span(t).map(tankday_base::units::Span::in_hours)
    })
}
