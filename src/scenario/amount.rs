//! Reads quantities: shares, temperatures, ranges.

use super::finding::{Code, Finding};
use super::node::Node;
use super::units;
use super::value::{refuse, scalar};
use super::walk::Walk;
use tankday_base::units::{
    Quantity, ReadError, TempDiff, Temperature, UnitName, number, read_quantity, split_number,
};

/// A quantity, zero or more.
pub(super) fn quantity<Q: Quantity>(node: &Node, walk: &mut Walk) -> Option<Q> {
    let read = |text: &str| read_quantity::<Q>(text).map(Q::base);
    amount(node, walk, (Q::KIND, Q::UNITS), read).map(Q::from_base)
}

/// The same of any kind, in base units: compiled once for all of them.
fn amount(
    node: &Node,
    walk: &mut Walk,
    (kind, units): (&'static str, &'static [UnitName]),
    read: fn(&str) -> Result<f64, ReadError>,
) -> Option<f64> {
    let text = scalar(node, walk, kind)?;
    let read = match read(text) {
        Err(e) if let Some(advice) = units::advice(text, units) => {
            return walk.refuse(
                Finding::new(Code::Unit, node.at, e.message)
                    .label(advice)
                    .help(e.help),
            );
        }
        other => other,
    };
    let amount = refuse(read, node, walk, kind)?;
    if amount < 0.0 {
        let finding = Finding::new(
            Code::Range,
            node.at,
            format!("{kind} cannot be less than nothing"),
        );
        return walk.refuse(finding.label("less than nothing"));
    }
    let most = MOST.iter().find(|m| m.0 == kind);
    if let Some((kind, _, words)) = most.filter(|m| amount > m.1) {
        return walk.refuse(
            Finding::new(Code::Range, node.at, format!("`{text}` is out of all proportion"))
                .label("far too much")
                .help(format!(
                    "{kind} up to {words} is read; check the number and its unit"
                )),
        );
    }
    Some(amount)
}

/// The most of each quantity that is read, in base units and in words: far beyond any shop, so that no slip of the
/// keyboard gets into what is worked out. A choice of ours.
const MOST: &[(&str, f64, &str)] = &[
    ("a length", 10_000.0, "10 km"),
    ("an area", 1e4, "10000 m2"),
    ("a volume", 1e3, "1000 m3"),
    ("a mass", 1e5, "100000 kg"),
    ("a power", 1e6, "1000 kW"),
    ("a pressure", 1e6, "10 bar"),
    ("a heat transfer coefficient", 1e3, "1000 W/m2K"),
    ("a heat conductivity", 1e3, "1000 W/mK"),
    ("a heat capacity", 1e5, "100 kJ/kgK"),
    ("a density", 3e4, "30000 kg/m3"),
    ("a coating weight", 1e3, "1000 g/m2"),
    ("a concentration", 1e4, "10000 g/L"),
    ("a strength", 1e4, "10000 points"),
    ("an area in a volume", 1e5, "10000 dm2/L"),
    ("a mass in a volume", 1e5, "100 kg/L"),
];

/// A quantity, more than zero.
pub(super) fn positive<Q: Quantity>(node: &Node, walk: &mut Walk) -> Option<Q> {
    let q: Q = quantity(node, walk)?;
    if q.base() > 0.0 {
        return Some(q);
    }
    walk.refuse(
        Finding::error(Code::Range, node.at).says(format!("{} must be more than nothing here", Q::KIND)),
    )
}

/// A share from 0 to 100 %.
pub(super) fn share(node: &Node, walk: &mut Walk) -> Option<tankday_base::units::Share> {
    let share: tankday_base::units::Share = quantity(node, walk)?;
    if share.in_fraction() <= 1.0 {
        return Some(share);
    }
    walk.refuse(Finding::error(Code::Range, node.at).says("a share cannot be more than 100 %"))
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
    walk.refuse(Finding::new(Code::Range, node.at, "it must be more than nothing"))
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
