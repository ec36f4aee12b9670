//! What a plan gives up for what: beside the shop's own rules, and beside the other plans among which it was chosen.

use tankday_base::print::{list, minutes};
use tankday_base::shop::Keeping;
use tankday_plan::{Choice, Found, Judged};

/// A difference of power, water or work is told from this share of the whole on (ours, no source).
const WORTH_TELLING: f64 = 0.02;
/// And of water from so many tenths of a litre on (ours, no source).
const TENTHS_OF_WATER: f64 = 5.0;
/// Costs that differ by less are the same.
const EQUAL_WITHIN: f64 = 1e-9;

/// A way that the day can go.
#[derive(Debug, Clone, Copy)]
pub struct Way<'a> {
    /// How it comes out with mean times.
    pub judged: &'a Judged,
    /// Of a hundred due times those kept under luck; none where nothing is left to luck.
    pub kept: Option<f64>,
}

/// Due times kept, of a hundred.
#[must_use]
pub fn of_hundred(kept: f64, due: u32) -> f64 {
    100.0 * kept / f64::from(due.max(1))
}

/// One thing in which two ways differ.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Difference {
    better: bool,
    /// As it is said in front: `9 min later`.
    first: String,
    /// As it is said of what is had in return: `an end 9 min earlier`.
    in_return: String,
}

/// In what one way differs from another, what counts most first.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Apart(Vec<Difference>);

/// In what a way differs from another. Of days that leave not equally many orders undone only that counts, and limits.
#[must_use]
pub fn apart(one: &Way<'_>, other: &Way<'_>) -> Apart {
    let (a, b) = (one.judged, other.judged);
    let mut apart = Apart::default();
    apart.count(i64::from(a.unready) - i64::from(b.unready), &READY);
    apart.count(i64::from(a.breaches) - i64::from(b.breaches), &LIMITS);
    if a.unready != b.unready {
        return apart;
    }
    let whole = |min: i64| min as f64;
    if a.breaches == b.breaches {
        apart.minutes(
            whole(minutes(a.over - b.over)),
            ["less over limits", "more over limits"],
        );
    }
    apart.lateness(minutes(a.late - b.late));
    if let (Some(kept), Some(there)) = (one.kept, other.kept) {
        apart.chance(libm::round(kept) - libm::round(there));
    }
    apart.end(minutes(a.finish - b.finish));
    let before = whole(minutes(a.days_before - b.days_before));
    apart.minutes(
        before,
        ["less work on the days before", "more work on the days before"],
    );
    let power = (a.drawn.in_kilowatt_hours(), b.drawn.in_kilowatt_hours());
    apart.amount(power, 1.0, ("kWh", ""));
    let water = (a.water.in_litres(), b.water.in_litres());
    apart.amount(water, TENTHS_OF_WATER, ("L", " water"));
    let (work, there) = (a.hands.in_minutes(), b.hands.in_minutes());
    if worth_telling(work, there) {
        apart.minutes(libm::round(work - there), ["less work", "more work"]);
    }
    apart
}

/// Words for one and for several: of fewer, which is better or worse, and of more.
struct Counted {
    fewer: [&'static str; 2],
    more: [&'static str; 2],
}

const READY: Counted = Counted {
    fewer: ["one more order ready", "more orders ready"],
    more: ["one order less ready", "fewer orders ready"],
};
const LIMITS: Counted = Counted {
    fewer: ["one limit less broken", "limits fewer broken"],
    more: ["one more limit broken", "more limits broken"],
};

/// Whether an amount differs from another by enough to be told.
fn worth_telling(amount: f64, other: f64) -> bool {
    (amount - other).abs() >= WORTH_TELLING * amount.abs().max(other.abs())
}

impl Apart {
    fn add(&mut self, better: bool, first: String, in_return: Option<String>) {
        let in_return = in_return.unwrap_or_else(|| first.clone());
        self.0.push(Difference {
            better,
            first,
            in_return,
        });
    }

    fn count(&mut self, more: i64, words: &Counted) {
        let [one, many] = if more < 0 { words.fewer } else { words.more };
        match more.abs() {
            0 => {}
            1 => self.add(more < 0, one.to_owned(), None),
            n => self.add(more < 0, format!("{n} {many}"), None),
        }
    }

    fn minutes(&mut self, more: f64, [less, greater]: [&str; 2]) {
        if more != 0.0 {
            let words = if more < 0.0 { less } else { greater };
            self.add(more < 0.0, format!("{:.0} min {words}", more.abs()), None);
        }
    }

    fn lateness(&mut self, more: i64) {
        if more != 0 {
            let (which, by) = (if more < 0 { "less" } else { "more" }, more.abs());
            let in_return = format!("{by} min {which} lateness");
            self.add(more < 0, format!("{by} min {which} late in all"), Some(in_return));
        }
    }

    fn end(&mut self, later: i64) {
        if later != 0 {
            let (which, by) = (if later < 0 { "earlier" } else { "later" }, later.abs());
            let in_return = format!("an end {by} min {which}");
            self.add(later < 0, format!("{by} min {which}"), Some(in_return));
        }
    }

    fn chance(&mut self, more: f64) {
        if more != 0.0 {
            let which = if more > 0.0 { "more" } else { "fewer" };
            let words = format!("{:.0} {which} of 100 due times kept", more.abs());
            self.add(more > 0.0, words, None);
        }
    }

    fn amount(&mut self, (amount, other): (f64, f64), least: f64, (unit, of): (&str, &str)) {
        let tenths = libm::round((amount - other) * 10.0);
        if tenths.abs() >= least && worth_telling(amount, other) {
            let which = if tenths < 0.0 { "less" } else { "more" };
            let words = format!("{:.1} {unit} {which}{of}", tenths.abs() / 10.0);
            self.add(tenths < 0.0, words, None);
        }
    }

    /// Whether it is better in one thing and worse in another.
    fn is_a_trade(&self) -> bool {
        self.0.iter().any(|d| d.better) && self.0.iter().any(|d| !d.better)
    }

    /// `9 min later than by the shop's own rules, for 45 min less work`: on which side it stands in what counts most, and
    /// what is given or had for that. Nothing where they do not differ.
    #[must_use]
    pub fn say(&self, than: &str) -> Option<String> {
        let side = self.0.first()?.better;
        let first = self.0.iter().filter(|d| d.better == side);
        let first: Vec<&str> = first.map(|d| d.first.as_str()).collect();
        let rest = self.0.iter().filter(|d| d.better != side);
        let rest: Vec<String> = rest.map(|d| d.in_return.clone()).collect();
        let said = format!("{} than {than}", first.join(", "));
        Some(match rest.as_slice() {
            [] => said,
            rest => format!("{said}, for {}", list(rest)),
        })
    }
}

/// The other plans among which the last choice was made, where they are better in something and worse in something
/// else: each in a sentence.
#[must_use]
pub fn passed_over(found: &Found) -> Vec<String> {
    let due = found.chances.map(|c| c.due);
    let Some(chosen) = found.choice.iter().find(|c| c.chosen) else {
        return Vec::new();
    };
    let kept = |choice: &Choice| due.map(|due| of_hundred(choice.kept, due));
    let this = Way {
        judged: &found.judged,
        kept: kept(chosen),
    };
    let than = match found.plan.keeping {
        Keeping::OwnRules => "by the shop's own rules",
        Keeping::Strictly | Keeping::Loosely => "this one",
    };
    let mut said: Vec<String> = Vec::new();
    for other in found.choice.iter().filter(|c| !c.chosen) {
        let cost = (other.mean_day, other.under_luck);
        let way = Way {
            judged: &other.judged,
            kept: kept(other),
        };
        let mut apart = apart(&way, &this);
        if cost.0 < chosen.mean_day - EQUAL_WITHIN && cost.1 > chosen.under_luck + EQUAL_WITHIN {
            let words = "a worse average over the simulated days";
            apart.add(false, words.to_owned(), None);
        }
        let words = apart.say(than).filter(|_| apart.is_a_trade());
        let words = words.map(|words| format!("Another plan would be {words}."));
        said.extend(words.filter(|words| !said.contains(words)));
    }
    said
}

#[cfg(test)]
mod tests {
    use super::{Way, apart};
    use crate::narrative::planning;
    use tankday_base::units::{Energy, Moment, Span, Volume};
    use tankday_plan::Judged;

    fn day(finish: i64, late: i64, unready: u32) -> Judged {
        Judged {
            cost: 0.0,
            finish: Moment::ZERO + Span::whole_minutes(finish),
            late_orders: 0,
            late: Span::whole_minutes(late),
            breaches: 0,
            unready,
            kept: 0,
            over: Span::ZERO,
            drawn: Energy::kilowatt_hours(10.0),
            water: Volume::ZERO,
            hands: Span::whole_minutes(300),
            days_before: Span::ZERO,
        }
    }

    const fn way(judged: &Judged) -> Way<'_> {
        Way { judged, kept: None }
    }

    #[test]
    fn what_planning_gains_is_said_in_what_counts_first() {
        let said = |rules: Judged, planned: Judged| planning(&way(&rules), &way(&planned));
        assert_eq!(
            said(day(838, 0, 0), day(780, 0, 0)),
            "Planning alone: 58 min earlier than by the shop's own rules."
        );
        assert_eq!(
            said(day(780, 40, 2), day(790, 90, 0)),
            "Planning alone: 2 more orders ready than by the shop's own rules."
        );
        assert_eq!(
            said(day(780, 0, 0), day(780, 0, 0)),
            "Planning alone: no more than by the shop's own rules."
        );
    }

    #[test]
    fn what_is_given_up_is_said_beside_what_is_had_for_it() {
        let said = |rules: Judged, planned: Judged| planning(&way(&rules), &way(&planned));
        assert_eq!(
            said(day(780, 40, 0), day(790, 0, 0)),
            "Planning alone: 40 min less late in all than by the shop's own rules, for an end 10 min later."
        );
        let (mut cooler, mut idler) = (day(789, 0, 0), day(789, 0, 0));
        cooler.drawn = Energy::kilowatt_hours(8.0);
        idler.hands = Span::whole_minutes(255);
        assert_eq!(
            said(day(780, 0, 0), cooler),
            "Planning alone: 9 min later than by the shop's own rules, for 2.0 kWh less."
        );
        assert_eq!(
            said(day(780, 0, 0), idler),
            "Planning alone: 9 min later than by the shop's own rules, for 45 min less work."
        );
        assert_eq!(
            said(cooler, day(780, 0, 0)),
            "Planning alone: 9 min earlier than by the shop's own rules, for 2.0 kWh more."
        );
    }

    #[test]
    fn a_chance_counts_behind_lateness_and_before_the_end() {
        let (one, other) = (day(770, 0, 0), day(780, 0, 0));
        let with = |judged, kept| Way {
            judged,
            kept: Some(kept),
        };
        let apart = apart(&with(&one, 90.0), &with(&other, 94.2));
        assert!(apart.is_a_trade());
        assert_eq!(
            apart.say("this one").as_deref(),
            Some("4 fewer of 100 due times kept than this one, for an end 10 min earlier")
        );
    }

    #[test]
    fn what_is_not_worth_telling_is_no_trade() {
        let mut cooler = day(780, 0, 0);
        cooler.drawn = Energy::kilowatt_hours(9.9);
        cooler.hands = Span::whole_minutes(299);
        assert_eq!(apart(&way(&cooler), &way(&day(780, 0, 0))).say("this one"), None);
    }
}
