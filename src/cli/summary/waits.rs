//! What each order waits for.

use super::Results;
use tankday_base::print::{Line, Style, fitted, minutes, number, padded, wrap};
use tankday_record::order_waits;

/// The table of waits: for each order how long it is in the shop, how much of that it waits, and for what.
pub(crate) fn waits(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Style::Bold, "WHAT EACH ORDER WAITS FOR")];
    for order in order_waits(results.shop, results.record) {
        let name = fitted(results.labels.order(order.order), 14);
        let reasons = order.by_reason();
        let sum = reasons.iter().map(|r| r.1).sum();
        let Some(ready) = order.ready else {
            lines.push(Line::plain(format!("  {}won't be finished", padded(&name, 15))));
            continue;
        };
        let share = |span: tankday_base::units::Span| format!("{} min", minutes(span));
        let mut words: Vec<String> = Vec::new();
        for (why, span) in reasons.iter().filter(|r| minutes(r.1) > 0) {
            words.push(format!("{} {}", why.words(), minutes(*span)));
        }
        let whole = ready - order.arrives;
        let waits = if words.is_empty() {
            format!("in the shop for {}, waits for nothing", share(whole))
        } else {
            format!(
                "in the shop for {}, waits {} of it: {}",
                share(whole),
                number(tankday_base::units::Span::in_minutes(sum).round(), 0),
                words.join(", ")
            )
        };
        let mut text = waits;
        if let Some((step, why, span)) = order.worst().filter(|w| minutes(w.2) > 0) {
            let step = &results.shop.step(step).name;
            text.push_str(&format!(
                "; longest at {step}, {} for {}",
                share(span),
                why.words()
            ));
        }
        for (i, line) in wrap(&text, columns.saturating_sub(17)).into_iter().enumerate() {
            let head = if i == 0 { name.as_str() } else { "" };
            lines.push(Line::plain(format!("  {}{line}", padded(head, 15))));
        }
    }
    lines
}
