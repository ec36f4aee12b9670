//! Rules as written.

use super::care::Cares;
use super::odds::Odds;
use crate::defaults::{ALONE, CUSTOM, OURS};
use crate::fields::Fields;
use crate::node::{Node, Value};
use crate::reader::{SHARE, SPAN, WHEN, YES};
use crate::thing::{Kind, Reader, Thing, thing, words};
use crate::time::When;
use crate::value;
use crate::walk::Walk;
use tankday_base::shop::{Combine, HandsFirst, HeatOff, HeatOn, LidRule, NextLoad, Split, WhenFull};
use tankday_base::units::{ReadError, Share, Span, read_clock};

const NEXT_LOAD: Reader<NextLoad> = words!(
    "due first" => NextLoad::DueFirst,
    "arrived first" => NextLoad::ArrivedFirst,
    "longest dwell first" => NextLoad::LongestDwellFirst,
    "same route together" => NextLoad::SameRouteTogether,
);
const HANDS_FIRST: Reader<HandsFirst> = words!(
    "urgent" => HandsFirst::Urgent,
    "in order asked" => HandsFirst::InOrderAsked,
);
const COMBINE: Reader<Combine> = words!(
    "never" => Combine::Never,
    "same part" => Combine::SamePart,
    "same route" => Combine::SameRoute,
);

thing! {
    /// All of them.
    Rules "rules", "a set of rules" {
        or "next load" next: NextLoad = NEXT_LOAD, "which waiting load goes next", {"due first": CUSTOM};
        or "hands first" hands: HandsFirst = HANDS_FIRST,
            "what free hands turn to: what must not wait, or who asked first", {"urgent": CUSTOM};
        or "look ahead" look_ahead: bool = YES,
            "whether a load is kept out of a tank if nobody could take it out in time", {"yes": OURS};
        or "oil full" when_full: WhenFull = words!("wait" => WhenFull::Wait, "go" => WhenFull::Go),
            "a load for which oil, or whatever else must follow within a time, has no place that day: wait before the bath, or go in and lie bare",
            {"wait": "bare phosphate rusts: common practice, no source"};
        or "split" split: Split = words!("evenly" => Split::Evenly, "fill first" => Split::FillFirst),
            "how an order too large for one load is divided", {"evenly": OURS};
        or "combine" combine: Combine = COMBINE,
            "which loads may go into a tank together", {"same part": OURS};
        may thing "fill" fill: Fill, "when a tank is worth charging";
        may thing "heat" heat: Heat, "when the heaters are on, and the lids";
        may own "top up" top_up: Option<TopUp> = NEVER_OR_BELOW => |f| TopUp::of_rules(f),
            "when water is made good";
        may thing "care" care: Cares, "when a bath is replenished, filtered, renewed";
        may thing "odds" odds: Odds, "how often loads fail, and what makes them fail more often";
        may "stop" stop: When = WHEN,
            "the simulation ends here, whatever is left", {
            "12 h" for "after the last closing": OURS,
        };
    }
}

thing! {
    /// When a tank is worth charging.
    Fill "rules.fill", "a rule for filling" {
        or "at least" at_least: Share = SHARE,
            "share of the room that waiting work must take, such as 60 %", {"60 %": OURS};
        or "wait at most" wait_at_most: Span = SPAN,
            "but go when something has waited so long, such as 20 min", {"20 min": OURS};
    }
}

const SWITCH_ON: Reader<HeatOn> = Reader::new(
    Kind::Pattern(r"^\s*(at opening|at \d{1,2}:\d{2}|ready by \d{1,2}:\d{2})\s*$"),
    switch_on,
);
const SWITCH_OFF: Reader<HeatOff> = words!(
    "after the last load" => HeatOff::AfterLast,
    "at closing" => HeatOff::AtClosing,
    "never" => HeatOff::Never,
);
const LID: Reader<LidRule> = words!(
    "between loads" => LidRule::BetweenLoads,
    "when off" => LidRule::WhenOff,
    "never" => LidRule::Never,
);

thing! {
    /// Heating.
    Heat "rules.heat", "a rule for heating" {
        or "switch on" on: HeatOn = SWITCH_ON,
            "at opening, at 07:00, or ready by 08:30", {"at opening": CUSTOM};
        or "switch off" off: HeatOff = SWITCH_OFF,
            "after the last load, at closing, or never", {"after the last load": CUSTOM};
        or "lid" lid: LidRule = LID,
            "when the lid is on: between loads, when off, or never", {"between loads": CUSTOM};
        or "unattended" unattended: bool = words!("allowed" => true, "no" => false),
            "whether a hot tank may be left alone; allowed is always a warning", {"no": ALONE};
    }
}

/// `at opening`, `at 07:00` or `ready by 08:30`.
fn switch_on(node: &Node, walk: &mut Walk) -> Option<HeatOn> {
    const FORMS: &str = "`at opening`, `at 07:00` or `ready by 08:30`";
    let text = value::scalar(node, walk, "when to switch on")?;
    if text == "at opening" {
        return Some(HeatOn::AtOpening);
    }
    let (read, rest): (fn(Span) -> HeatOn, &str) =
        match (text.strip_prefix("ready by "), text.strip_prefix("at ")) {
            (Some(rest), _) => (HeatOn::ReadyBy, rest),
            (None, Some(rest)) => (HeatOn::At, rest),
            (None, None) => (HeatOn::At, text),
        };
    let result = read_clock(rest).map_err(|e| ReadError::new(e.message, format!("write {FORMS}")));
    value::refuse(result, node, walk, FORMS).map(read)
}

const NEVER: Reader<()> = words!("never" => ());
const NEVER_OR_BELOW: Kind = Kind::Or(&[NEVER.kind, Kind::Thing(Below::TABLE)]);

/// Topping up.
#[derive(Debug)]
pub(crate) enum TopUp {
    /// Never.
    Never,
    /// When the level is below a share of the fill; and whether the rule is written and not a default.
    Below(Below, bool),
}

impl TopUp {
    fn of_rules(f: &mut Fields) -> Option<Self> {
        if let Some(Value::Text(_)) = f.node(&Rules::top_up).map(|n| &n.value) {
            return f.value(&Rules::top_up, NEVER.read).map(|_| Self::Never);
        }
        let written = f.has(&Rules::top_up);
        f.thing(&Rules::top_up).map(|below| Self::Below(below, written))
    }
}

thing! {
    /// When the level is below a share of the fill.
    Below "rules.top up", "a rule for topping up" {
        or "below" below: Share = SHARE,
            "below this share of the fill, such as 95 %",
            {"95 %": "common practice, no source; never where there are no hands"};
        or "takes" takes: Span = SPAN, "hands' time for it, such as 3 min", {"3 min": OURS};
    }
}
