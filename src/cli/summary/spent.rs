//! What the day costs and leaves behind.

use super::Results;
use tankday_base::print::{Line, Style, capital, number, wrap};
use tankday_output::narrative::{self, Spent};

/// Orders whose share is named.
const MOST: usize = 12;

pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let cost = &results.figures.cost;
    if cost.given {
        let spent = narrative::spent(results);
        let heading = Line::of(Style::Bold, format!("COST, {}", cost.currency));
        let of = match spent.of.as_str() {
            "" => String::new(),
            of => format!("  {of}"),
        };
        let days = results.shop.calendar.days.len();
        let a_day = match days {
            0 | 1 => String::new(),
            days => format!("  {} a day", number(spent.total / days as f64, 2)),
        };
        lines.push(heading.and(Style::Plain, of + &a_day));
        lines.extend(wrapped(&kinds(&spent), columns));
        let paid = narrative::hands_paid(results.shop, &spent).unwrap_or_default();
        lines.extend(wrapped(&paid, columns));
        if let Some(undone) = narrative::left_undone(&spent) {
            lines.extend(wrapped(&undone, columns));
        }
        lines.extend(wrapped(&orders(results), columns));
    }
    let waste = waste(results);
    if !waste.is_empty() {
        let words = format!("  {waste}{}", drawn(results));
        lines.push(Line::of(Style::Bold, "WASTE").and(Style::Plain, words));
        let caution = "Controlled in many places: ask the local authority before a drop goes down a drain.";
        lines.extend(wrapped(caution, columns));
    }
    lines
}

fn wrapped(words: &str, columns: usize) -> Vec<Line> {
    let lines = wrap(words, columns.saturating_sub(2)).into_iter();
    lines.map(|l| Line::plain(format!("  {l}"))).collect()
}

/// `158.91 together: hands 155.56, power 2.71, water 0.64`; what costs nothing is left out.
fn kinds(spent: &Spent) -> String {
    let kinds = spent.kinds.iter();
    let words: Vec<String> = kinds
        .map(|(kind, money)| format!("{kind} {}", number(*money, 2)))
        .collect();
    let sure = match spent.sure {
        Some((low, high)) => format!(" (95 % sure: {} to {})", number(low, 2), number(high, 2)),
        None => String::new(),
    };
    match words.is_empty() {
        true => "nothing that has a price was used".to_owned(),
        false => format!("{} together{sure}: {}", number(spent.total, 2), words.join(", ")),
    }
}

/// Says of what is told of the day drawn alone that it is so, where there are others.
fn drawn(results: &Results<'_>) -> String {
    match results.many() {
        Some(_) => format!(", on the {} drawn", results.each().one()),
        None => String::new(),
    }
}

fn orders(results: &Results<'_>) -> String {
    let shares = &results.figures.order_costs;
    let one = |share: &tankday_record::OrderCost| {
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
    let drawn = match drawn(results) {
        words if words.is_empty() => words,
        words => format!("{words} ({} together)", number(results.figures.cost.total(), 2)),
    };
    format!(
        "by order{drawn}, hands by their time on it, the rest by area coated: {}{more}",
        named.join(", ")
    )
}

fn waste(results: &Results<'_>) -> String {
    capital(&narrative::waste(results).join(", "))
}
