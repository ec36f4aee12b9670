//! Rules of bath care as written.

use super::Given;
use super::trigger::{TRIGGERS, WHEN_DOC};
use crate::defaults::{NEUTRAL, OURS};
use crate::fields::Fields;
use crate::finding::{Code, Finding};
use crate::node::{Node, SourceSpan, Spanned, Value};
use crate::reader::{ABOVE_ZERO, NAME, SHARE, SPAN, TEMPERATURE, positive, quantity};
use crate::thing::{Key, Kind, Reader, Thing, given, thing, words};
use crate::walk::Walk;
use crate::{time, value};
use tankday_base::shop::{AcidBought, Chore, Settle, Stop, Trigger, Trimming};
use tankday_base::units::{
    Area, CakeResistance, Concentration, Length, MediumResistance, Share, Span, Strength, Temperature,
    VolumeFlow, read_quantity,
};

/// One rule of care.
#[derive(Debug)]
pub(crate) struct Act {
    /// Its key.
    pub(crate) name: &'static str,
    /// Where it stands.
    pub(crate) at: SourceSpan,
    /// Whether it is written and not a default.
    pub(crate) written: bool,
    /// When.
    pub(crate) when: Vec<Spanned<Trigger>>,
    /// What; none if something of it could not be read.
    pub(crate) chore: Option<Chore>,
    /// The vessel that it needs, by its name: resolving finds it.
    pub(crate) into: Given<String>,
}

thing! {
    /// All of them.
    Cares "rules.care", "a set of rules for care" {
        or "fresh bath" hold_back: bool = words!("takes all work" => false, "takes scrap first" => true),
            "whether a bath with too little iron takes only work whose looks do not matter",
            {"takes all work": OURS};
        may own "replenish" replenish: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(Replenish::TABLE)])
            => |f| act::<Replenish>(f, &Self::replenish),
            "when concentrate is added, such as below 31 points";
        may own "raise ratio" raise: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(Raise::TABLE)])
            => |f| act::<Raise>(f, &Self::raise),
            "when free acid is taken out, such as ratio below 5.7";
        may own "lower ratio" lower: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(Lower::TABLE)])
            => |f| act::<Lower>(f, &Self::lower),
            "when free acid is added, such as ratio above 6.8";
        may own "condition" condition: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(Condition::TABLE)])
            => |f| act::<Condition>(f, &Self::condition),
            "when it is aged with steel wool, such as iron below 0.5 g/L";
        may own "filter" filter: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(Filter::TABLE)])
            => |f| act::<Filter>(f, &Self::filter),
            "when it is cooled, settled, decanted and filtered, such as after 4 loads, or overnight";
        may own "settle" settle: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(SettleStop::TABLE)])
            => |f| act::<SettleStop>(f, &Self::settle),
            "when it is cooled, settled and decanted, and the heel drained into the waste drum";
        may own "renew half" renew_half: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(RenewHalf::TABLE)])
            => |f| act::<RenewHalf>(f, &Self::renew_half),
            "when the lower half is drained into the waste drum and made up anew, such as iron above 3.5 g/L";
        may own "renew" renew: Option<Act> = Kind::Or(&[TRIGGERS.kind, Kind::Thing(Renew::TABLE)])
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

/// What is written of one rule.
trait Care: Thing {
    /// When.
    fn when(&mut self) -> Given<Vec<Spanned<Trigger>>>;
    /// What, if all of it could be read.
    fn chore(&self) -> Option<Chore>;
    /// In which vessel.
    fn vessel(&mut self) -> Given<String>;
}

/// Declares a rule: a thing with a default of when, and what its values call for together.
macro_rules! care {
    (
        $(#[$about:meta])*
        $name:ident $path:literal, $what:literal, $when:tt { $($keys:tt)* }
        |$($field:ident),+| $chore:expr $(, in $vessel:ident)?
    ) => {
        thing! {
            $(#[$about])*
            $name $path, $what {
                or "when" when: Vec<Spanned<Trigger>> = TRIGGERS, WHEN_DOC, $when;
                $($keys)*
            }
        }

        impl Care for $name {
            fn when(&mut self) -> Given<Vec<Spanned<Trigger>>> {
                self.when.take()
            }

            fn chore(&self) -> Option<Chore> {
                given!(self, |$($field),+| $chore)
            }

            fn vessel(&mut self) -> Given<String> {
                None $(.or(self.$vessel.take()))?
            }
        }
    };
}

/// What a rule whose value is empty is read from.
static NOTHING: Node = Node::new(Value::List(Vec::new()), SourceSpan { start: 0, end: 0 });

/// A rule, written as its trigger alone, as several, or as keys.
fn act<T: Care>(f: &mut Fields, key: &Key) -> Option<Act> {
    let (written, at) = (f.has(key), f.place(key).unwrap_or(f.at));
    let when = T::TABLE.keys.first()?;
    let mut inner = match f.node(key) {
        Some(node) if matches!(node.value, Value::Empty) => Fields::only(when, &NOTHING, f.walk, at),
        Some(node) if !matches!(node.value, Value::Map(_)) => Fields::only(when, node, f.walk, at),
        _ => f.inner(key, T::TABLE)?,
    };
    let mut rule = T::of(&mut inner);
    Some(Act {
        name: key.name,
        at,
        written,
        when: rule.when()?.value,
        chore: rule.chore(),
        into: rule.vessel(),
    })
}

const TAKES_DOC: &str = "hands' time for it, such as 5 min";
const COOL_DOC: &str = "cooled to this before anybody handles it, such as 45 °C";

care! {
    /// Adding concentrate.
    Replenish "rules.care.replenish", "a rule for replenishing",
    {"below 31 points": "a supplier's product page: add below 30; one point earlier, since below it no load goes in"} {
        or "to" to: Strength = positive(),
            "total acid afterwards, such as 36 points", {"36 points": "the make-up strength"};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"5 min": OURS};
    }
    |to, takes| Chore::Replenish { to, takes }
}

const BY: Reader<Trimming> = words!(
    "manganese carbonate" => Trimming::ManganeseCarbonate,
    "soda ash" => Trimming::SodaAsh,
);

care! {
    /// Taking free acid out.
    Raise "rules.care.raise ratio", "a rule for raising the acid ratio",
    {"ratio below 5.7": "one step before the limit below which no load goes in"} {
        or "by" by: Trimming = BY,
            "manganese carbonate, or soda ash", {"manganese carbonate": "a supplier's data sheet"};
        or "to" to: f64 = ABOVE_ZERO,
            "acid ratio afterwards, such as 6", {"6": "the make-up acid ratio, 36 by 6 points"};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"5 min": OURS};
    }
    |by, to, takes| Chore::Trim { by, to, takes }
}

const ACID: Reader<AcidBought> = Reader::new(Kind::of::<Share>(), acid);

care! {
    /// Adding free acid.
    Lower "rules.care.lower ratio", "a rule for lowering the acid ratio",
    {"ratio above 6.8": "one step before the limit above which no load goes in"} {
        or "acid" acid: AcidBought = ACID,
            "phosphoric acid as you buy it, by mass, such as 75 %",
            {"75 %": "sold with 75 and with 85 % by mass: common practice, no source"}, after "takes";
        or "to" to: f64 = ABOVE_ZERO,
            "acid ratio afterwards, such as 6", {"6": "the make-up acid ratio, 36 by 6 points"};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"5 min": OURS};
    }
    |acid, to, takes| Chore::Trim { by: Trimming::PhosphoricAcid(acid), to, takes }
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

care! {
    /// Ageing with steel wool.
    Condition "rules.care.condition", "a rule for conditioning", {"never": NEUTRAL} {
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
    |to, at, stays, takes| Chore::Condition { to, at, stays, takes }
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
    walk.refuse(
        Finding::error(Code::Range, node.at)
            .says("it never gets clear to nothing, and is never above 100 %")
            .help("write a share between 0 and 100 %: `until 5 %`"),
    )
}

care! {
    /// A filter stop.
    Filter "rules.care.filter", "a rule for filter stops", {"never": NEUTRAL} {
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "settles" settle: Settle = SETTLES, SETTLES_DOC,
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
    |cool_to, settle, heel, lost, pour, area, head, medium, cake, set_up| Chore::Stop(Stop {
        cool_to, settle, heel, filtered: true, area, head, medium, cake, lost, pour, set_up, into: None,
    }), in into
}

care! {
    /// A stop without a filter.
    SettleStop "rules.care.settle", "a rule for settling", {"never": NEUTRAL} {
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "settles" settle: Settle = SETTLES, SETTLES_DOC,
            {"8 h": "a handbook chapter: 8 h idle and cool"};
        or "heel" heel: Share = SHARE, HEEL_DOC, {"4 %": "2 to 5 % lost: assumption"};
        or "pour" pour: VolumeFlow = positive(), POUR_DOC, {"4 L/min": OURS};
    }
    |cool_to, settle, heel, pour| Chore::Stop(Stop {
        cool_to, settle, heel, pour, filtered: false, area: Area::ZERO, head: Length::ZERO,
        medium: MediumResistance::ZERO, cake: CakeResistance::ZERO, lost: Share::ZERO, set_up: Span::ZERO, into: None,
    })
}

care! {
    /// Half of it anew.
    RenewHalf "rules.care.renew half", "a rule for renewing half", {"never": NEUTRAL} {
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"20 min": OURS};
    }
    |cool_to, takes| Chore::Renew { share: Share::percent(50.0), cool_to, takes }
}

care! {
    /// All of it anew.
    Renew "rules.care.renew", "a rule for renewing", {"never": NEUTRAL} {
        or "cool to" cool_to: Temperature = TEMPERATURE, COOL_DOC, {"45 °C": OURS};
        or "takes" takes: Span = SPAN, TAKES_DOC, {"30 min": OURS};
    }
    |cool_to, takes| Chore::Renew { share: Share::percent(100.0), cool_to, takes }
}

#[cfg(test)]
mod tests {
    /// A rule is read to its end, so that all its mistakes are told at once.
    #[test]
    fn each_mistake_of_a_rule_is_told() {
        let rule = "condition: {when: never, to: foo, at: bar}";
        let starter = crate::starter();
        let text = starter.replace("\nrules:\n", &format!("\nrules:\n  care: {{{rule}}}\n"));
        assert_ne!(text, starter);
        let found = crate::read("two", &text).map_or_else(|found| found.list, |read| read.warnings.list);
        let told: Vec<&str> = found.iter().map(|f| f.message.as_str()).collect();
        let not_read = |word: &str| told.iter().any(|m| m.starts_with(&format!("`{word}`")));
        assert!(not_read("foo") && not_read("bar"), "{told:?}");
    }
}
