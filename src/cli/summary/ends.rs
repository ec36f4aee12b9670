//! What sets the end, and what would help.

use super::Results;
use crate::print::{Line, Style, minutes, wrap};
use crate::record::{Cause, Chain};
use crate::units::Span;

/// Easings that are named.
const NAMED: usize = 3;

pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let Some(chain) = results.chain else {
        return Vec::new();
    };
    let causes = chain.causes();
    let Some((first, most)) = causes.first() else {
        return Vec::new();
    };
    let words = format!(
        "  {}, {} of {} minutes",
        first.words(results.shop),
        minutes(*most),
        minutes(chain.span()),
    );
    let mut lines = vec![Line::of(Style::Bold, "WHAT SETS THE END").and(Style::Plain, words)];
    lines.extend(all_causes(results, chain, &causes, columns));
    lines.extend(helps(results));
    lines
}

/// All causes with whole minutes that add up to the whole: what rounding leaves goes to those it cut most.
fn all_causes(results: &Results<'_>, chain: &Chain, causes: &[(Cause, Span)], columns: usize) -> Vec<Line> {
    let whole = whole_minutes(&causes.iter().map(|(_, s)| *s).collect::<Vec<_>>(), chain.span());
    let said = causes.iter().zip(&whole).filter(|(_, m)| **m > 0);
    let words: Vec<String> = said
        .map(|((c, _), m)| format!("{} {m}", c.words(results.shop)))
        .collect();
    let lines = wrap(&words.join(", "), columns - 2);
    lines
        .into_iter()
        .map(|l| Line::of(Style::Dim, format!("  {l}")))
        .collect()
}

fn whole_minutes(spans: &[Span], sum: Span) -> Vec<i64> {
    const MINUTE: i64 = 60_000_000;
    let mut whole: Vec<i64> = spans.iter().map(|s| s.in_micros().div_euclid(MINUTE)).collect();
    let left = minutes(sum) - whole.iter().sum::<i64>();
    let mut order: Vec<usize> = (0..spans.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse(spans.get(*i).map_or(0, |s| s.in_micros().rem_euclid(MINUTE))));
    for i in order.into_iter().take(usize::try_from(left).unwrap_or(0)) {
        if let Some(minutes) = whole.get_mut(i) {
            *minutes += 1;
        }
    }
    whole
}

fn helps(results: &Results<'_>) -> Vec<Line> {
    let named = || results.gains.iter().take(NAMED);
    let widest = named()
        .map(|g| g.ease.words(results.shop).chars().count())
        .max()
        .unwrap_or(0);
    let line = |gain: &crate::ease::Gain| {
        let words = gain.ease.words(results.shop);
        let gained = match (gain.more_orders, minutes(gain.earlier)) {
            (0, 0) => "nothing worth naming".to_owned(),
            (0, m) => format!("{m:>3} min earlier"),
            (1, _) => "one more order ready".to_owned(),
            (n, _) => format!("{n} more orders ready"),
        };
        Line::plain(format!("  {words:<widest$}  {gained}"))
    };
    named().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::{Span, whole_minutes};

    #[test]
    fn whole_minutes_add_up() {
        let spans = [100.4, 50.4, 20.4, 3.8].map(Span::minutes);
        let sum: Span = spans.iter().copied().sum();
        assert_eq!(whole_minutes(&spans, sum), [101, 50, 20, 4]);
    }
}
