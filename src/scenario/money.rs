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

/// A rate, counted by one of several things: `0.04 per dm2`.
pub(super) fn rate(node: &Node, walk: &mut Walk) -> Option<Rate> {
    const HELP: &str = "write an amount, `per` and what it is counted by: `2.40 per h`, `0.04 per dm2`, `per kg`, `per load` or `per piece`";
    let text = scalar(node, walk, "a rate")?;
    let read = |text: &str| -> Result<Rate, ReadError> {
        let (amount, rest) = split_number(text)?;
        let Some(unit) = rest.strip_prefix("per ") else {
            return Err(ReadError::new(format!("`{text}` does not say per what"), HELP));
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
    let found = read(text).map_err(|e| ReadError::new(e.message, HELP));
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
