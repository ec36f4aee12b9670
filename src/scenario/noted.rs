//! What plans and notes, which are read beside a scenario, have in common.

use super::calendar;
use super::fields::Fields;
use super::finding::{Code, Finding, Findings};
use super::node::{Node, SourceSpan, Spanned};
use super::plan_file::Held;
use super::source::Sources;
use super::thing::{Key, Kind, Reader};
use super::time::When;
use super::value;
use super::walk::Walk;
use super::written::Given;
use super::yaml;
use tankday_base::shop::Calendar;
use tankday_base::units::Moment;

/// Most of each thing.
pub(super) const MOST: usize = 100_000;

/// Reads a file that is no scenario; `empty` is what to do about one that holds nothing.
pub(super) fn read_file<T>(
    name: &str,
    text: &str,
    empty: &str,
    of: impl FnOnce(&Node, &mut Walk) -> Option<T>,
) -> Result<(Sources, T), Findings> {
    let mut sources = Sources::default();
    sources.add(name, text);
    let mut walk = Walk::default();
    let read = match yaml::load(text) {
        Ok(tree) => of(&tree, &mut walk),
        Err(found) => {
            for finding in found {
                walk.add(match finding.code {
                    Code::Missing => finding.help(empty),
                    _ => finding,
                });
            }
            None
        }
    };
    match read {
        Some(read) if walk.found.is_empty() => Ok((sources, read)),
        _ => Err(Findings::new(sources, walk.found)),
    }
}

/// The moment that is meant, or a finding.
pub(super) fn moment(calendar: &Calendar, when: Given<When>, walk: &mut Walk) -> Given<Moment> {
    let when = when?;
    let moment = calendar::moment(calendar, when.value);
    if moment.is_none() {
        let days = calendar.days.len();
        let s = if days == 1 { "" } else { "s" };
        walk.add(
            Finding::new(Code::Time, when.at, "there is no such day")
                .label("no such day")
                .help(format!("the scenario has {days} day{s}")),
        );
    }
    moment.map(|m| Spanned::new(m, when.at))
}

/// What has a step.
pub(super) enum Owner {
    /// An order.
    Order(Spanned<String>),
    /// A load.
    Load(Spanned<String>),
}

/// What stands under `order` or `load`, one of which must be there.
pub(super) fn order_or_load(
    order: Given<String>,
    load: Given<String>,
    at: SourceSpan,
    walk: &mut Walk,
) -> Option<Owner> {
    let message = match (order, load) {
        (Some(order), None) => return Some(Owner::Order(order)),
        (None, Some(load)) => return Some(Owner::Load(load)),
        (Some(_), Some(_)) => "this names both an order and a load",
        (None, None) => "this does not say whose it is",
    };
    walk.refuse(
        Finding::new(Code::Contradiction, at, message)
            .help("write `order: A1` before the bath, `load: L1` from the bath on"),
    )
}

/// Pieces of orders.
pub(super) const HELD: Reader<Spanned<Held>> = Reader::new(Kind::Pattern(r"^\s*[0-9]+ of .+$"), held);

/// What a load holds.
pub(super) fn held_in(f: &mut Fields, key: &Key) -> Vec<Spanned<Held>> {
    match f.node(key) {
        Some(node) => f.walk.list(node, "orders", MOST, HELD.read),
        None => Vec::new(),
    }
}

/// `400 of A1`.
fn held(node: &Node, walk: &mut Walk) -> Option<Spanned<Held>> {
    let text = value::scalar(node, walk, "pieces of an order")?;
    let read = text.split_once(" of ").and_then(|(n, order)| {
        let pieces: u32 = n.trim().parse().ok().filter(|n| *n > 0)?;
        let order = order.trim().to_owned();
        (!order.is_empty()).then_some(Held { pieces, order })
    });
    if read.is_none() {
        walk.add(
            Finding::error(Code::WrongKind, node.at)
                .says(format!("`{text}` does not say how many of which order"))
                .label("expected pieces of an order")
                .help("write the pieces, `of` and the order: `400 of A1`"),
        );
    }
    read.map(|held| Spanned::new(held, node.at))
}
