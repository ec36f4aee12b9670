//! Rules of bath care as written.

use super::Got;
use crate::defaults::{NEUTRAL, OURS};
use crate::fields::Fields;
use crate::finding::{Code, Finding};
use crate::node::{Node, Place, Spot, Value};
use crate::reader::{ABOVE_ZERO, NAME, SHARE, SPAN, TEMPERATURE, positive, quantity};
use crate::thing::{Key, Kind, Reader, Thing, thing, words};
use crate::walk::Walk;
use crate::{time, value};
use tankday_base::shop::{AcidBought, Chore, Reads, Settle, Stop, Trigger, Trimming};
use tankday_base::units::{
    Area, CakeResistance, Concentration, Length, MediumResistance, Quantity, ReadError, Share, Span,
    Strength, Temperature, VolumeFlow, number, read_clock, read_quantity, split_number,
};

/// So many triggers one rule may have.
const MOST_TRIGGERS: usize = 20;

/// One rule of care.
#[derive(Debug)]
pub(crate) struct Act {
    /// Its key.
    pub(crate) name: &'static str,
    /// Where it stands.
    pub(crate) at: Place,
    /// Whether it is written and not a default.
    pub(crate) written: bool,
    /// When.
    pub(crate) when: Vec<Spot<Trigger>>,
    /// What; none if something of it could not be read.
    pub(crate) chore: Option<Chore>,
    /// The vessel that it needs, by its name: resolving finds it.
    pub(crate) into: Got<String>,
}

thing! {
    /// All of them.
    Cares "rules.care", "a set of rules for care" {
        or "fresh bath" hold_back: bool = words!("takes all work" => false, "takes scrap first" => true),
            "whether a bath with too little iron takes only work whose looks do not matter",
            {"takes all work": OURS};
        may own "replenish" replenish: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(Replenish::TABLE)])
            => |f| act::<Replenish>(f, &Self::replenish),
            "when concentrate is added, such as below 31 points";
        may own "raise ratio" raise: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(Raise::TABLE)])
            => |f| act::<Raise>(f, &Self::raise),
            "when free acid is taken out, such as ratio below 5.7";
        may own "lower ratio" lower: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(Lower::TABLE)])
            => |f| act::<Lower>(f, &Self::lower),
            "when free acid is added, such as ratio above 6.8";
        may own "condition" condition: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(Condition::TABLE)])
            => |f| act::<Condition>(f, &Self::condition),
            "when it is aged with steel wool, such as iron below 0.5 g/L";
        may own "filter" filter: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(Filter::TABLE)])
            => |f| act::<Filter>(f, &Self::filter),
            "when it is cooled, settled, decanted and filtered, such as after 4 loads, or overnight";
        may own "settle" settle: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(SettleStop::TABLE)])
            => |f| act::<SettleStop>(f, &Self::settle),
            "when it is cooled, settled and decanted, and the heel drained into the waste drum";
        may own "renew half" renew_half: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(RenewHalf::TABLE)])
            => |f| act::<RenewHalf>(f, &Self::renew_half),
            "when the lower half is drained into the waste drum and made up anew, such as iron above 3.5 g/L";
        may own "renew" renew: Option<Act> = Kind::Or(&[WHEN, Kind::Thing(Renew::TABLE)])
            => |f| act::<Renew>(f, &Self::renew),
            "when all of it is drained into the waste drum and made up anew, such as after 12 m2";
    }
}

impl Cares {
    /// Every rule that could be read.
    pub(crate) fn acts(&self) -> impl Iterator<Item = &Act> {
        let stops = [&self.filter, &self.settle, &self.renew_half, &self.renew];
        let all = [&self.replenish, &self.raise, &self.lower, &self.condition];
        all.into_iter().chain(stops).flatten()
    }
}

/// What a rule does, when, and in which vessel.
type Rule = (Option<Chore>, Got<Vec<Spot<Trigger>>>, Got<String>);

/// What is written of one rule.
trait Care: Thing {
    /// As a rule.
    fn rule(self) -> Rule;
}

/// What a rule whose value is empty is read from.
static NOTHING: Node = Node {
    value: Value::List(Vec::new()),
    at: Place { start: 0, end: 0 },
};

/// A rule, written as its trigger alone, as several, or as keys.
fn act<T: Care>(f: &mut Fields, key: &Key) -> Option<Act> {
    let (written, at) = (f.has(key), f.place(key).unwrap_or(f.at));
    let when = T::TABLE.keys.first()?;
    let mut inner = match f.node(key) {
        Some(node) if matches!(node.value, Value::Empty) => Fields::only(when, &NOTHING, f.walk, at),
        Some(node) if !matches!(node.value, Value::Map(_)) => Fields::only(when, node, f.walk, at),
        _ => f.inner(key, T::TABLE)?,
    };
    let (chore, when, into) = T::of(&mut inner).rule();
    Some(Act {
        name: key.name,
        at,
        written,
        when: when?.value,
        chore,
        into,
    })
}

const ONE: Kind = Kind::Pattern(
    r"^\s*(never|overnight|at the break|after the last load|contaminated|at \d{1,2}:\d{2}|after \d+ loads?|after [\d.]+ \S+|((strength|ratio|iron|sludge) )?(below|above) [\d.]+.*)\s*$",
);
const WHEN: Kind = Kind::Some(&ONE);
const TRIGGERS: Reader<Vec<Spot<Trigger>>> = Reader::new(WHEN, triggers);
const WHEN_DOC: &str = "when: never, after 4 loads, after 0.5 m2, below 31 points, ratio above 6.8, iron above 3 g/L, sludge above 4 %, contaminated, at 16:00, at the break, after the last load, overnight; or several of these";
const TAKES_DOC: &str = "hands' time for it, such as 5 min";
const COOL_DOC: &str = "cooled to this before anybody handles it, such as 45 °C";

thing! {
    /// Adding concentrate.
    Replenish "rules.care.replenish", "a rule for replenishing" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC,
            {"below 31 points": "a supplier's product page: add below 30; one point earlier, since below it no load goes in"};
        or "to" to: Strength = positive(),
            "strength afterwards, such as 36 points", {"36 points": "the make-up strength"};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"5 min": OURS};
    }
}

impl Care for Replenish {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Replenish {
                to: self.to.as_ref()?.value,
                takes: self.takes.as_ref()?.value,
            })
        };
        (chore(), self.when, None)
    }
}

const BY: Reader<Trimming> = words!(
    "manganese carbonate" => Trimming::ManganeseCarbonate,
    "soda ash" => Trimming::SodaAsh,
);

thing! {
    /// Taking free acid out.
    Raise "rules.care.raise ratio", "a rule for raising the ratio" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC,
            {"ratio below 5.7": "one step before the limit below which no load goes in"};
        or "by" by: Trimming = BY,
            "manganese carbonate, or soda ash", {"manganese carbonate": "a supplier's data sheet"};
        or "to" to: f64 = ABOVE_ZERO,
            "ratio afterwards, such as 6", {"6": "the make-up ratio, 36 by 6 points"};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"5 min": OURS};
    }
}

impl Care for Raise {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Trim {
                by: self.by.as_ref()?.value,
                to: self.to.as_ref()?.value,
                takes: self.takes.as_ref()?.value,
            })
        };
        (chore(), self.when, None)
    }
}

const ACID: Reader<AcidBought> = Reader::new(Kind::of::<Share>(), acid);

thing! {
    /// Adding free acid.
    Lower "rules.care.lower ratio", "a rule for lowering the ratio" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC,
            {"ratio above 6.8": "one step before the limit above which no load goes in"};
        or "acid" acid: AcidBought = ACID,
            "phosphoric acid as you buy it, by mass, such as 75 %",
            {"75 %": "sold with 75 and with 85 % by mass: common practice, no source"}, after "takes";
        or "to" to: f64 = ABOVE_ZERO,
            "ratio afterwards, such as 6", {"6": "the make-up ratio, 36 by 6 points"};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"5 min": OURS};
    }
}

impl Care for Lower {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Trim {
                by: Trimming::PhosphoricAcid(self.acid.as_ref()?.value),
                to: self.to.as_ref()?.value,
                takes: self.takes.as_ref()?.value,
            })
        };
        (chore(), self.when, None)
    }
}

/// The strength of the bottle: `75 %` by mass.
fn acid(node: &Node, walk: &mut Walk) -> Option<AcidBought> {
    let share = value::share(node, walk)?;
    let bottle = AcidBought::of(share);
    if bottle.is_none() {
        walk.add(
            Finding::error(Code::Range, node.at)
                .says("phosphoric acid is bought with 10 to 85 % of acid by mass")
                .help("write what stands on the bottle: `acid: 75 %`"),
        );
    }
    bottle
}

thing! {
    /// Ageing with steel wool.
    Condition "rules.care.condition", "a rule for conditioning" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC, {"never": NEUTRAL};
        or "to" to: Concentration = positive(),
            "iron afterwards, such as 1 g/L",
            {"1 g/L": "US 9,506,151 B2, claim 1: a working bath; 0.5 to 1.5 assumed"};
        or "at" at: Temperature = TEMPERATURE,
            "temperature at which the wool goes in, such as 65 °C",
            {"65 °C": "a supplier's product page: 60 to 70 °C"};
        or "for" stays: Span = SPAN,
            "how long the wool stays, such as 40 min", {"40 min": "the same page: 30 to 50 min"};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"10 min": OURS};
    }
}

impl Care for Condition {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Condition {
                to: self.to.as_ref()?.value,
                at: self.at.as_ref()?.value,
                stays: self.stays.as_ref()?.value,
                takes: self.takes.as_ref()?.value,
            })
        };
        (chore(), self.when, None)
    }
}

const SETTLES: Reader<Settle> = Reader::new(
    Kind::Or(&[Kind::Time, Kind::Pattern(r"^\s*until [\d.]+ %\s*$")]),
    settles,
);
const SETTLES_DOC: &str = "how long it settles, such as 3 h, or until 5 % of the sludge is left in it";
const HEEL_DOC: &str = "what stays over the sludge when it is decanted, such as 20 %";
const POUR_DOC: &str = "how fast hands decant and fill back, such as 4 L/min";

/// `3 h`, or `until 5 %`.
fn settles(node: &Node, walk: &mut Walk) -> Option<Settle> {
    let text = value::scalar(node, walk, "how long it settles")?;
    let Some(rest) = text.trim().strip_prefix("until ") else {
        return time::span(node, walk).map(Settle::For);
    };
    let share = value::refuse(read_quantity::<Share>(rest), node, walk, "a share")?;
    let left = share.in_fraction();
    if left > 0.0 && left < 1.0 {
        return Some(Settle::ClearTo(share));
    }
    walk.add(
        Finding::error(Code::Range, node.at)
            .says("it never gets clear to nothing, and is never above 100 %")
            .help("write a share between 0 and 100 %: `until 5 %`"),
    );
    None
}

thing! {
    /// A filter stop.
    Filter "rules.care.filter", "a rule for filter stops" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC, {"never": NEUTRAL};
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "settles" settles: Settle = SETTLES, SETTLES_DOC,
            {"2 h": "a jug clears in two to three hours: common practice, no source"};
        or "heel" heel: Share = SHARE, HEEL_DOC, {"20 %": OURS};
        or "lost" lost: Share = SHARE, "share of the bath lost in it, such as 2 %", {"2 %": "1 to 3 %: assumption"};
        or "pour" pour: VolumeFlow = positive(), POUR_DOC, {"4 L/min": OURS};
        or "area" area: Area = positive(), "area of the filter, such as 6 dm2", {"6 dm2": OURS};
        or "head" head: Length = positive(), "liquid above the filter, such as 20 cm", {"20 cm": OURS};
        or "medium" medium: MediumResistance = positive(),
            "resistance of the clean filter, such as 3e8 1/m",
            {"3e8 1/m": "filter papers: thirty at 3.9e7 to 1.3e9, five others at 2.4e7 to 2.1e8 (Herzberg W., Papierprüfung; the tester's 10 cm2 and 50 mm head from memory)"};
        or "cake" cake: CakeResistance = quantity(),
            "resistance of the sludge on it, such as 2e11 m/kg",
            {"2e11 m/kg": "between calcium carbonate and metal hydroxides, 5e10 to 2e12: common practice, no source"};
        /// The vessel that it needs, by its name: resolving finds it.
        may "into" into: String = NAME,
            "the vessel in which it settles and is filtered while the tank goes on with what that kept, by its name";
        or "set up" set_up: Span = SPAN,
            "hands' time to set the filter up and to clean it, such as 5 min", {"5 min": OURS};
    }
}

impl Care for Filter {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Stop(Stop {
                cool_to: self.cool_to.as_ref()?.value,
                settle: self.settles.as_ref()?.value,
                heel: self.heel.as_ref()?.value,
                filtered: true,
                area: self.area.as_ref()?.value,
                head: self.head.as_ref()?.value,
                medium: self.medium.as_ref()?.value,
                cake: self.cake.as_ref()?.value,
                lost: self.lost.as_ref()?.value,
                pour: self.pour.as_ref()?.value,
                set_up: self.set_up.as_ref()?.value,
                into: None,
            }))
        };
        (chore(), self.when, self.into)
    }
}

thing! {
    /// A stop without a filter.
    SettleStop "rules.care.settle", "a rule for settling" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC, {"never": NEUTRAL};
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "settles" settles: Settle = SETTLES, SETTLES_DOC,
            {"8 h": "a handbook chapter: 8 h idle and cool"};
        or "heel" heel: Share = SHARE, HEEL_DOC, {"4 %": "2 to 5 % lost: assumption"};
        or "pour" pour: VolumeFlow = positive(), POUR_DOC, {"4 L/min": OURS};
    }
}

impl Care for SettleStop {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Stop(Stop {
                cool_to: self.cool_to.as_ref()?.value,
                settle: self.settles.as_ref()?.value,
                heel: self.heel.as_ref()?.value,
                filtered: false,
                area: Area::ZERO,
                head: Length::ZERO,
                medium: MediumResistance::ZERO,
                cake: CakeResistance::ZERO,
                lost: Share::ZERO,
                pour: self.pour.as_ref()?.value,
                set_up: Span::ZERO,
                into: None,
            }))
        };
        (chore(), self.when, None)
    }
}

thing! {
    /// Half of it anew.
    RenewHalf "rules.care.renew half", "a rule for renewing half" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC, {"never": NEUTRAL};
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"20 min": OURS};
    }
}

impl Care for RenewHalf {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Renew {
                share: Share::percent(50.0),
                cool_to: self.cool_to.as_ref()?.value,
                takes: self.takes.as_ref()?.value,
            })
        };
        (chore(), self.when, None)
    }
}

thing! {
    /// All of it anew.
    Renew "rules.care.renew", "a rule for renewing" {
        or "when" when: Vec<Spot<Trigger>> = TRIGGERS, WHEN_DOC, {"never": NEUTRAL};
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"30 min": OURS};
    }
}

impl Care for Renew {
    fn rule(self) -> Rule {
        let chore = || {
            Some(Chore::Renew {
                share: Share::percent(100.0),
                cool_to: self.cool_to.as_ref()?.value,
                takes: self.takes.as_ref()?.value,
            })
        };
        (chore(), self.when, None)
    }
}

/// One trigger or several; none for `never`.
fn triggers(node: &Node, walk: &mut Walk) -> Option<Vec<Spot<Trigger>>> {
    let all = walk.list(node, "triggers", MOST_TRIGGERS, |n, w| {
        let text = value::scalar(n, w, "when it is done")?;
        let read = trigger(text);
        let got = value::refuse(read, n, w, "when it is done")?;
        Some(got.map(|t| Spot::new(t, n.at)))
    });
    Some(all.into_iter().flatten().collect())
}

const FORMS: &str = "write never, overnight, at the break, after the last load, at 16:00, after 4 loads, after 0.5 m2, \
                    below 31 points, ratio above 6.8, iron above 3 g/L, sludge above 4 %, or contaminated";

fn trigger(text: &str) -> Result<Option<Trigger>, ReadError> {
    let text = text.trim();
    let unknown = || ReadError::new(format!("`{text}` is no time for care"), FORMS);
    Ok(Some(match text {
        "never" => return Ok(None),
        "overnight" => Trigger::Overnight,
        "at the break" => Trigger::AtBreak,
        "after the last load" => Trigger::AfterLast,
        "contaminated" => Trigger::Reads(Reads::Contaminated),
        _ => {
            if let Some(rest) = text.strip_prefix("after ") {
                after(rest, text)?
            } else if let Some(rest) = text.strip_prefix("at ") {
                Trigger::Clock(read_clock(rest)?)
            } else {
                Trigger::Reads(reads(text).ok_or_else(unknown)??)
            }
        }
    }))
}

/// `4 loads` or `0.5 m2`.
fn after(rest: &str, text: &str) -> Result<Trigger, ReadError> {
    let (count, unit) = split_number(rest).map_err(|e| ReadError::new(e.message, FORMS))?;
    if unit == "load" || unit == "loads" {
        let whole = count.fract() == 0.0 && (1.0..=1e6).contains(&count);
        return if whole {
            Ok(Trigger::Loads(count as u32))
        } else {
            Err(ReadError::new(
                format!("`{text}` counts no loads"),
                "write a whole number from 1 on: `after 4 loads`",
            ))
        };
    }
    let area = read_quantity::<Area>(rest).map_err(|e| ReadError::new(e.message, FORMS))?;
    if area.base() > 0.0 {
        Ok(Trigger::Coated(area))
    } else {
        Err(ReadError::new(
            format!("`{text}` is no surface"),
            "write a surface above zero: `after 0.5 m2`",
        ))
    }
}

/// `iron above 3 g/L`; points are strength, g/L iron, % sludge where nothing is named.
fn reads(text: &str) -> Option<Result<Reads, ReadError>> {
    let (what, rest) = ["strength ", "ratio ", "iron ", "sludge "]
        .iter()
        .find_map(|w| text.strip_prefix(w).map(|rest| (w.trim(), rest)))
        .unwrap_or(("", text));
    let below = rest.starts_with("below ");
    let rest = rest
        .strip_prefix("below ")
        .or_else(|| rest.strip_prefix("above "))?;
    let what = match (what, rest.trim()) {
        ("", r) if r.ends_with("points") || r.ends_with("point") => "strength",
        ("", r) if r.ends_with("g/L") => "iron",
        ("", r) if r.ends_with('%') => "sludge",
        (what, _) => what,
    };
    Some(match (what, below) {
        ("strength", true) => read_quantity::<Strength>(rest).map(Reads::StrengthBelow),
        ("ratio", true) => number(rest.trim()).map(Reads::RatioBelow),
        ("ratio", false) => number(rest.trim()).map(Reads::RatioAbove),
        ("iron", true) => read_quantity::<Concentration>(rest).map(Reads::IronBelow),
        ("iron", false) => read_quantity::<Concentration>(rest).map(Reads::IronAbove),
        ("sludge", false) => read_quantity::<Share>(rest).map(Reads::SludgeAbove),
        _ => return None,
    })
}
