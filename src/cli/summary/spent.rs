//! What the day costs and leaves behind.

use super::Results;
use crate::print::{Line, Style, capital, number, wrap};
use crate::told;

/// Orders whose share is named.
const MOST: usize = 12;

pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let cost = &results.figures.cost;
    if cost.given {
        let heading = Line::of(Style::Bold, format!("COST, {}", cost.currency));
        let days = results.shop.calendar.days.len();
        let words = match days {
            1 => String::new(),
            days => format!(
                "  {} in all, {} a day",
                number(cost.total(), 2),
                number(cost.total() / days as f64, 2)
            ),
        };
        lines.push(heading.and(Style::Plain, words));
        lines.extend(wrapped(&kinds(results), columns));
        lines.extend(wrapped(&orders(results), columns));
    }
    let waste = waste(results);
    if !waste.is_empty() {
        lines.push(Line::of(Style::Bold, "WASTE").and(Style::Plain, format!("  {waste}")));
        let caution = "Controlled in many places: ask the local authority before a drop goes down a drain.";
        lines.extend(wrapped(caution, columns));
    }
    lines
}

fn wrapped(words: &str, columns: usize) -> Vec<Line> {
    let lines = wrap(words, columns.saturating_sub(2)).into_iter();
    lines.map(|l| Line::plain(format!("  {l}"))).collect()
}

/// `power 2.71, water 0.64, hands 155.56`; what costs nothing is left out.
fn kinds(results: &Results<'_>) -> String {
    let kinds = told::kinds(results).into_iter();
    let words: Vec<String> = kinds
        .map(|(kind, money)| format!("{kind} {}", number(money, 2)))
        .collect();
    words.join(", ")
}

fn orders(results: &Results<'_>) -> String {
    let shares = &results.figures.order_costs;
    let one = |share: &crate::record::OrderCost| {
        let each = number(share.each, 3);
        format!(
            "{} {} ({each} each)",
            results.labels.order(share.order),
            number(share.cost, 2)
        )
    };
    let named: Vec<String> = shares.iter().take(MOST).map(one).collect();
    if named.is_empty() {
        return String::new();
    }
    let more = match shares.len().saturating_sub(MOST) {
        0 => String::new(),
        more => format!(", and {more} more"),
    };
    format!("by order, split by coated surface: {}{more}", named.join(", "))
}

fn waste(results: &Results<'_>) -> String {
    capital(&told::waste(results).join(", "))
}
