//! Rules of bath care as written.

use crate::finding::{Code, Finding};
use crate::keys;
use crate::keys::Table;
use crate::node::{Node, Place, Spot, Value};
use crate::time;
use crate::value::{self, word};
use crate::walk::{Fields, Read, Walk};
use tankday_base::shop::{AcidBought, Chore, Reads, Settle, Stop, Trigger, Trimming};
use tankday_base::units::{
    Area, Concentration, Quantity, ReadError, Share, Span, Strength, Temperature, number, read_clock,
    read_quantity, split_number,
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
    pub(crate) into: Option<Spot<String>>,
}

/// All of them.
#[derive(Debug)]
pub(crate) struct Cares {
    pub(crate) hold_back: super::Got<bool>,
    pub(crate) acts: Vec<Act>,
}

/// How the chore of a rule is read from its keys.
type ReadChore = fn(&mut Fields) -> Option<Chore>;

const ACTS: [(&str, &Table, ReadChore); 8] = [
    ("replenish", &keys::REPLENISH, replenish),
    ("raise ratio", &keys::RAISE, raise),
    ("lower ratio", &keys::LOWER, lower),
    ("condition", &keys::CONDITION, condition),
    ("filter", &keys::FILTER_STOP, filter),
    ("settle", &keys::SETTLE, settle),
    ("renew half", &keys::RENEW_HALF, renew_half),
    ("renew", &keys::RENEW, renew),
];

impl Cares {
    pub(super) fn of(mut f: Fields) -> Self {
        let hold_back = f.or("fresh bath", |n, w| {
            word(n, w, &[("takes all work", false), ("takes scrap first", true)])
        });
        let acts = ACTS
            .iter()
            .filter_map(|(name, table, chore)| act(&mut f, name, table, *chore));
        Self {
            acts: acts.collect(),
            hold_back,
        }
    }
}

/// A rule, written as its trigger alone, as several, or as keys.
fn act(f: &mut Fields, name: &'static str, table: &'static Table, chore: ReadChore) -> Option<Act> {
    let (written, at) = (f.has(name), f.place(name).unwrap_or(f.at));
    let short = f.node(name).filter(|n| !matches!(n.value, Value::Map(_)));
    let when = match short {
        Some(node) => Some(triggers(node, f.walk)),
        None => None,
    };
    let mut inner = match short {
        Some(_) => Fields::absent(table, f.walk, at),
        None => f.inner(name, table)?,
    };
    let when = match when {
        Some(when) => when,
        None => inner.or("when", |n, w| Some(triggers(n, w)))?.value,
    };
    let keeps = table.keys.iter().any(|k| k.name == "into");
    Some(Act {
        name,
        at,
        written,
        into: keeps.then(|| inner.get("into", value::name)).flatten(),
        chore: chore(&mut inner),
        when: when.into_iter().flatten().collect(),
    })
}

/// One trigger or several; none for `never`.
fn triggers(node: &Node, walk: &mut Walk) -> Vec<Option<Spot<Trigger>>> {
    walk.list(node, "triggers", MOST_TRIGGERS, |n, w| {
        let text = value::scalar(n, w, "when it is done")?;
        let read = trigger(text);
        let got = value::refuse(read, n, w, "when it is done")?;
        Some(got.map(|t| Spot::new(t, n.at)))
    })
}

const WHEN: &str = "write never, overnight, at the break, after the last load, at 16:00, after 4 loads, after 0.5 m2, \
                    below 31 points, ratio above 6.8, iron above 3 g/L, sludge above 4 %, or contaminated";

fn trigger(text: &str) -> Result<Option<Trigger>, ReadError> {
    let text = text.trim();
    let unknown = || ReadError::new(format!("`{text}` is no time for care"), WHEN);
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
    let (count, unit) = split_number(rest).map_err(|e| ReadError::new(e.message, WHEN))?;
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
    let area = read_quantity::<Area>(rest).map_err(|e| ReadError::new(e.message, WHEN))?;
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

fn replenish(f: &mut Fields) -> Option<Chore> {
    Some(Chore::Replenish {
        to: f.or("to", value::positive)?.value,
        takes: takes(f)?,
    })
}

fn takes(f: &mut Fields) -> Option<Span> {
    Some(f.or("takes", time::span)?.value)
}

fn raise(f: &mut Fields) -> Option<Chore> {
    let by: Read<Trimming> = |n, w| {
        word(
            n,
            w,
            &[
                ("manganese carbonate", Trimming::ManganeseCarbonate),
                ("soda ash", Trimming::SodaAsh),
            ],
        )
    };
    Some(Chore::Trim {
        by: f.or("by", by)?.value,
        to: f.or("to", value::above_zero)?.value,
        takes: takes(f)?,
    })
}

fn lower(f: &mut Fields) -> Option<Chore> {
    Some(Chore::Trim {
        by: Trimming::PhosphoricAcid(f.or("acid", acid)?.value),
        to: f.or("to", value::above_zero)?.value,
        takes: takes(f)?,
    })
}

/// The strength of the bottle: `75 %` by mass.
fn acid(node: &Node, walk: &mut Walk) -> Option<AcidBought> {
    let share = value::share(node, walk)?;
    let bottle = AcidBought::of(share);
    if bottle.is_none() {
        walk.add(
            Finding::new(
                Code::Range,
                node.at,
                "phosphoric acid is bought with 10 to 85 % of acid by mass",
            )
            .help("write what stands on the bottle: `acid: 75 %`"),
        );
    }
    bottle
}

fn condition(f: &mut Fields) -> Option<Chore> {
    Some(Chore::Condition {
        to: f.or("to", value::positive)?.value,
        at: f.or("at", value::temperature)?.value,
        stays: f.or("for", time::span)?.value,
        takes: takes(f)?,
    })
}

fn cool_to(f: &mut Fields) -> Option<Temperature> {
    Some(f.or("cool to", value::temperature)?.value)
}

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
        Finding::new(
            Code::Range,
            node.at,
            "it never gets clear to nothing, and is never above 100 %",
        )
        .help("write a share between 0 and 100 %: `until 5 %`"),
    );
    None
}

/// A filter stop; every part of it above zero.
fn filter(f: &mut Fields) -> Option<Chore> {
    let set_up = f.or("set up", time::span);
    let lost = f.or("lost", value::share);
    let (area, head) = (f.or("area", value::positive), f.or("head", value::positive));
    let (medium, cake) = (f.or("medium", value::positive), f.or("cake", value::quantity));
    let pour = f.or("pour", value::positive);
    Some(Chore::Stop(Stop {
        cool_to: cool_to(f)?,
        settle: f.or("settles", settles)?.value,
        heel: f.or("heel", value::share)?.value,
        filtered: true,
        area: area?.value,
        head: head?.value,
        medium: medium?.value,
        cake: cake?.value,
        lost: lost?.value,
        pour: pour?.value,
        set_up: set_up?.value,
        into: None,
    }))
}

fn settle(f: &mut Fields) -> Option<Chore> {
    let pour = f.or("pour", value::positive);
    Some(Chore::Stop(Stop {
        cool_to: cool_to(f)?,
        settle: f.or("settles", settles)?.value,
        heel: f.or("heel", value::share)?.value,
        filtered: false,
        area: Area::ZERO,
        head: tankday_base::units::Length::ZERO,
        medium: tankday_base::units::MediumResistance::ZERO,
        cake: tankday_base::units::CakeResistance::ZERO,
        lost: Share::ZERO,
        pour: pour?.value,
        set_up: Span::ZERO,
        into: None,
    }))
}

fn renew_half(f: &mut Fields) -> Option<Chore> {
    renewal(f, Share::percent(50.0))
}

fn renew(f: &mut Fields) -> Option<Chore> {
    renewal(f, Share::percent(100.0))
}

fn renewal(f: &mut Fields, share: Share) -> Option<Chore> {
    Some(Chore::Renew {
        share,
        cool_to: cool_to(f)?,
        takes: takes(f)?,
    })
}
