//! Whether the baths take work as they stand at the start, and what care brings back one that does not.

use super::Facts;
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::thing::{Key, Thing};
use crate::written::{Act, Bath, Now};
use tankday_base::bath::chemistry::{Gravity, Side};
use tankday_base::shop::{BathRecipe, Chore, Reads, Shop, Trigger, Trimming, Window};
use tankday_base::units::Share;

/// What is outside.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Out {
    Strength { low: bool },
    Ratio { low: bool },
    Iron { low: bool },
    Sludge,
    Foreign,
}

impl Out {
    /// Whether a chore brings it back.
    fn is_mended_by(self, chore: &Chore) -> bool {
        match (self, chore) {
            (Self::Foreign, Chore::Renew { share, .. }) => share.in_fraction() >= 1.0,
            (_, Chore::Renew { .. })
            | (Self::Strength { low: true }, Chore::Replenish { .. })
            | (Self::Iron { low: true }, Chore::Condition { .. })
            | (Self::Sludge, Chore::Stop(_)) => true,
            (Self::Ratio { low }, Chore::Trim { by, .. }) => low != matches!(by, Trimming::PhosphoricAcid(_)),
            _ => false,
        }
    }

    /// A rule that would bring it back, as it is written; for too much strength there is no mark.
    const fn rule(self) -> &'static str {
        match self {
            Self::Strength { low: true } => "replenish: below 31 points",
            Self::Strength { low: false } => "renew half: overnight",
            Self::Ratio { low: true } => "raise ratio: ratio below 5.7",
            Self::Ratio { low: false } => "lower ratio: ratio above 6.8",
            Self::Iron { low: true } => "condition: iron below 0.5 g/L",
            Self::Iron { low: false } => "renew half: iron above 3.5 g/L",
            Self::Sludge => "filter: sludge above 4 %",
            Self::Foreign => "renew: contaminated",
        }
    }
}

/// One reading outside the limits: what it is, in words, and its key.
type Reading = (Out, String, &'static Key);

/// Baths that take no load as they start.
pub(super) fn found(f: &Facts, shop: &Shop) -> Vec<Finding> {
    let mut found = Vec::new();
    for (bath, recipe) in f.file.baths.iter().zip(&shop.baths) {
        let held = f.file.tanks.iter().any(|t| {
            let name = t.bath.as_ref().map(|b| b.value.as_str());
            name == Some(bath.name.value.as_str())
        });
        if held {
            found.extend(outside(recipe).into_iter().map(|out| said(f, bath, recipe, out)));
            found.extend(no_scrap(f, shop, bath, recipe));
        }
    }
    found
}

/// Below or above a window; none inside.
fn passes<T: PartialOrd + Copy>(window: &Window<T>, value: T) -> Option<bool> {
    match window.check(value)? {
        (Gravity::Stop, side) => Some(side == Side::Below),
        _ => None,
    }
}

fn outside(bath: &BathRecipe) -> Vec<Reading> {
    let (now, limits) = (&bath.now, &bath.limits);
    let mut all: Vec<Reading> = Vec::new();
    if now.contaminants.any() {
        let names: Vec<&str> = now.contaminants.names().collect();
        all.push((
            Out::Foreign,
            format!("{} in it", names.join(" and ")),
            &CONTAMINATED,
        ));
    }
    if !bath.wears {
        return all;
    }
    let round = |v: f64| (v * 100.0).round() / 100.0;
    let ratio = now.total_acid / now.free_acid;
    let sludge = Share::fraction(now.sludge / bath.chemistry.sludge_bed);
    let readings = [
        passes(&limits.strength, now.total_acid).map(|low| {
            let words = format!("{} points of total acid", round(now.total_acid.in_points()));
            (Out::Strength { low }, words, &TOTAL)
        }),
        passes(&limits.ratio, ratio).map(|low| {
            let words = format!("an acid ratio of {}", round(ratio));
            (Out::Ratio { low }, words, &FREE)
        }),
        passes(&limits.iron, now.iron).map(|low| {
            let words = format!("{} g/L of iron", round(now.iron.in_grams_per_litre()));
            (Out::Iron { low }, words, &IRON)
        }),
        passes(&limits.sludge, sludge).filter(|low| !low).map(|_| {
            let words = format!("{} % of its volume of sludge", round(sludge.in_percent()));
            (Out::Sludge, words, &SLUDGE)
        }),
    ];
    all.extend(readings.into_iter().flatten());
    all
}

static CONTAMINATED: Key = Now::contaminants.key();
static TOTAL: Key = Now::total_acid.key();
static FREE: Key = Now::free_acid.key();
static IRON: Key = Now::iron.key();
static SLUDGE: Key = Now::sludge.key();

/// When a rule is called for in a bath that takes no load.
enum Called {
    AtOnce,
    ByTheClock,
    ByLoads,
}

fn called(act: &Act, bath: &BathRecipe) -> Called {
    let now = &bath.now;
    let ratio = now.total_acid / now.free_acid;
    let reads = |reads: Reads| match reads {
        Reads::StrengthBelow(mark) => now.total_acid < mark,
        Reads::RatioBelow(mark) => ratio < mark,
        Reads::RatioAbove(mark) => ratio > mark,
        Reads::IronBelow(mark) => now.iron < mark,
        Reads::IronAbove(mark) => now.iron > mark,
        Reads::SludgeAbove(mark) => now.sludge / bath.chemistry.sludge_bed > mark.in_fraction(),
        Reads::Contaminated => now.contaminants.any(),
    };
    let met = |t: &Trigger| matches!(t, Trigger::Reads(r) if reads(*r));
    if act.when.iter().any(|t| met(&t.value)) {
        Called::AtOnce
    } else if act.when.iter().any(|t| t.value.by_the_clock()) {
        Called::ByTheClock
    } else {
        Called::ByLoads
    }
}

/// What is said of one reading: what brings it back, or that nothing does.
fn said(f: &Facts, bath: &Bath, recipe: &BathRecipe, (out, words, key): Reading) -> Finding {
    let at = place(bath, key);
    let mends = |a: &&Act| !a.when.is_empty() && a.chore.as_ref().is_some_and(|c| out.is_mended_by(c));
    let hands = f.no_hands().is_none();
    let rules: Vec<&Act> = f.acts().filter(mends).filter(|a| a.written || hands).collect();
    let of = |wanted: fn(&Called) -> bool| rules.iter().find(|a| wanted(&called(a, recipe)));
    let start = format!("`{}` starts with {words}, outside its limits", bath.name.value);
    let (message, label, help, act) = if let Some(act) = of(|c| matches!(c, Called::AtOnce)) {
        (
            format!("{start}: no load goes in before `{}` is done", act.name),
            "care comes first",
            "check the reading; the first day begins with that care".to_owned(),
            Some(*act),
        )
    } else if let Some(act) = of(|c| matches!(c, Called::ByTheClock)) {
        (
            format!(
                "{start}: no load goes in before `{}` is done, which waits for its time",
                act.name
            ),
            "care comes first",
            match out {
                Out::Strength { low: false } => "check the reading".to_owned(),
                _ => format!(
                    "check the reading; to have it done first, write a mark for it too, such as `{}`",
                    out.rule()
                ),
            },
            Some(*act),
        )
    } else if let Some(act) = rules.first() {
        (
            format!(
                "{start}: no load goes in, and `{}`, which would bring it back, waits for loads or for another mark",
                act.name
            ),
            "no load ever goes in",
            format!("write a mark for it too, such as `{}`", out.rule()),
            Some(*act),
        )
    } else {
        (
            format!("{start}: no load ever goes in, for no rule of care brings it back"),
            "no load ever goes in",
            format!(
                "check the reading; or write a rule under `rules: care:`, such as `{}`",
                out.rule()
            ),
            None,
        )
    };
    let finding = Finding::warning(Code::Bath, at, message).label(label).help(help);
    match act {
        Some(act) if act.written => finding.and(act.at, "this brings it back"),
        _ => finding,
    }
}

/// A bath with too little iron that takes scrap first needs scrap, or wool.
fn no_scrap(f: &Facts, shop: &Shop, bath: &Bath, recipe: &BathRecipe) -> Option<Finding> {
    let poor = recipe.wears && recipe.now.iron < recipe.limits.iron.warn_below;
    let ages = |a: &Act| matches!(a.chore, Some(Chore::Condition { .. })) && !a.when.is_empty();
    if !shop.rules.hold_back || !poor || f.acts().any(ages) {
        return None;
    }
    let comes = |scrap: bool| {
        f.coatings().any(|(order, _, step)| {
            let here = step.bath.as_ref().is_some_and(|b| b.value == bath.name.value);
            here && (!scrap || order.looks.as_ref().is_some_and(|l| !l.value))
        })
    };
    let care = f.file.rules.as_ref()?.care.as_ref()?;
    let rule = care.hold_back.as_ref()?.at;
    (comes(false) && !comes(true)).then(|| {
        let message = format!(
            "`{}` starts with {} g/L of iron and takes scrap first, and there is none: no load ever goes in",
            bath.name.value,
            (recipe.now.iron.in_grams_per_litre() * 100.0).round() / 100.0
        );
        Finding::warning(Code::Bath, place(bath, &IRON), message)
            .label("too little iron")
            .and(rule, "scrap first")
            .help("write `looks: do not matter` at an order that may go first, or age it with steel wool, `condition: iron below 0.5 g/L`")
    })
}

/// Where a reading stands: its value, or the bath that has it by default.
fn place(bath: &Bath, key: &Key) -> SourceSpan {
    let now = bath.now.as_ref().and_then(|now| now.reads());
    now.and_then(|now| now.places().of_value(key))
        .or_else(|| bath.place(&Bath::now))
        .unwrap_or(bath.name.at)
}
