//! What sets the end, and what would help, in words and whole minutes.

use super::{Results, promises};
use tankday_base::print::{how_long, minutes, number};
use tankday_base::units::Span;
use tankday_record::{Cause, Chain};
use tankday_study::what_if::Gain;

/// What is said of an easing that gains nothing.
pub const NOTHING: &str = "nothing worth naming";

/// What sets the end of the day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ends {
    /// From opening to the end, minutes.
    pub whole: i64,
    /// Causes with their minutes, the largest first; they add up to the whole.
    pub causes: Vec<(String, i64)>,
    /// The largest of those in which there was work to do in an open shop; the largest of all if there is none.
    pub first: (String, i64),
    /// Minutes in which the shop was closed or the order not there yet.
    pub idle: i64,
    /// What would help, and what it gains; the best first.
    pub helps: Vec<(String, String)>,
}

impl Ends {
    /// The largest cause: `blast, 93 min of 6 h 22 min`, or `… of 132 min with work to do` where the shop was closed or the
    /// order not there for the rest.
    #[must_use]
    pub fn headline(&self) -> String {
        let (cause, minutes) = &self.first;
        let of = match (self.idle, self.whole - self.idle) {
            (0, _) | (_, 0) => in_minutes(self.whole),
            (_, busy) => format!("{} with work to do", in_minutes(busy)),
        };
        format!("{cause}, {} of {of}", in_minutes(*minutes))
    }
}

/// An order is hours early from here on: common practice, no source.
const HOURS_EARLY: Span = Span::whole_minutes(2 * 60);

/// By how much every order with a due time is early at least, if that is hours: then nothing has to end sooner, and what sets
/// the end is told only to who asks. None if an order is not ready, not sound, or has no hours to spare, or none has a
/// due time. Of many days, what nine of ten keep counts.
#[must_use]
pub fn hours_early(results: &Results<'_>) -> Option<Span> {
    if results.beyond.is_some_and(|b| b.gains.is_some()) {
        return None; // What would help beyond a plan was asked for.
    }
    let all = promises(results);
    let early = |p: &super::Promise<'_>| match (p.order.due, p.instead()) {
        (Some(due), Some(ready)) => Some(due - ready),
        (None, Some(_)) => Some(Span::FOREVER),
        (_, None) => None,
    };
    let least = all.iter().map(early).collect::<Option<Vec<Span>>>()?;
    let sound = all.iter().all(|p| p.on_time() || p.order.due.is_none());
    let least = least.into_iter().min().filter(|s| *s < Span::FOREVER)?;
    (sound && least >= HOURS_EARLY).then_some(least)
}

/// So many whole minutes as a length of time in print.
#[must_use]
pub fn in_minutes(minutes: i64) -> String {
    how_long(Span::minutes(minutes.max(0) as f64))
}

/// What sets the end; none if nothing was ready.
#[must_use]
pub fn ends(results: &Results<'_>) -> Option<Ends> {
    let chain = results.chain?;
    let causes = chain.causes();
    let named = all_causes(results, chain, &causes);
    let idle = |cause: &Cause| matches!(cause, Cause::Closed | Cause::NotThere);
    let with = || causes.iter().map(|(cause, _)| cause).zip(&named);
    let first = with()
        .find(|(cause, _)| !idle(cause))
        .or(with().next())?
        .1
        .clone();
    Some(Ends {
        whole: minutes(chain.span()),
        first,
        idle: with().filter(|(cause, _)| idle(cause)).map(|(_, (_, m))| m).sum(),
        causes: named,
        helps: results.gains.iter().map(|g| help(results, g)).collect(),
    })
}

/// All causes with whole minutes that add up to the whole: what rounding leaves goes to those it cut most.
fn all_causes(results: &Results<'_>, chain: &Chain, causes: &[(Cause, Span)]) -> Vec<(String, i64)> {
    let whole = whole_minutes(&causes.iter().map(|(_, s)| *s).collect::<Vec<_>>(), chain.span());
    let named = causes.iter().zip(whole);
    named.map(|((c, _), m)| (c.words(results.shop), m)).collect()
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

fn help(results: &Results<'_>, gain: &Gain) -> (String, String) {
    let gained = gained(gain);
    let currency = &results.figures.cost.currency;
    let money = match gain.saves {
        Some(saves) if gained != NOTHING && saves.abs() >= HARDLY => {
            let sum = number(saves.abs(), 2);
            match saves > 0.0 {
                true => format!(", saves {sum} {currency}"),
                false => format!(", costs {sum} {currency} more"),
            }
        }
        _ => String::new(),
    };
    (
        gain.ease.words(results.shop),
        format!("{gained}{}", money.trim_end()),
    )
}

/// Less than this is not told, in any currency.
const HARDLY: f64 = 0.01;

/// What an easing gains: `  3 min earlier`.
pub(super) fn gained(gain: &Gain) -> String {
    match (gain.more_orders, minutes(gain.less_late), minutes(gain.earlier)) {
        (0, 0, 0) => NOTHING.to_owned(),
        (0, 0, _) => format!("{} earlier", how_long(gain.earlier)),
        (0, _, 0) => format!("{} less late", how_long(gain.less_late)),
        (0, ..) => format!(
            "{} less late, {} earlier",
            how_long(gain.less_late),
            how_long(gain.earlier)
        ),
        (1, ..) => "one more order ready".to_owned(),
        (n, ..) => format!("{n} more orders ready"),
    }
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
