//! A plan as written: read like a scenario, each value with its place. What its names mean is found out by whoever
//! knows the shop.

use super::calendar;
use super::finding::{Code, Finding, Findings};
use super::keys;
use super::node::{Node, Place, Spot, Value};
use super::source::Sources;
use super::time;
use super::value;
use super::walk::{Fields, Walk};
use super::yaml;
use tankday_base::shop::{Calendar, Keeping};
use tankday_base::units::Moment;

/// Most loads, and most tasks.
const MOST: usize = 100_000;

/// A plan as written.
#[derive(Debug, Clone)]
pub struct PlanFile {
    /// The text that all places point into.
    pub sources: Sources,
    /// Title of the scenario that it was made for.
    pub title: Option<Spot<String>>,
    /// Fingerprint of what it was made for.
    pub rests_on: Option<Spot<String>>,
    /// Whether each place and the hands keep to the order of the tasks.
    pub keeping: Keeping,
    /// What goes in together.
    pub loads: Vec<WrittenLoad>,
    /// Where the loads stand.
    pub loads_at: Place,
    /// What is done, in order.
    pub tasks: Vec<WrittenTask>,
    /// Care of baths.
    pub care: Vec<WrittenCare>,
    /// Baths that are heated later than the rules say.
    pub heat: Vec<WrittenHeat>,
}

/// A load as written.
#[derive(Debug, Clone)]
pub struct WrittenLoad {
    /// Its name.
    pub id: Spot<String>,
    /// Its tank, if one is named.
    pub tank: Option<Spot<String>>,
    /// What is in it.
    pub holds: Vec<Spot<Held>>,
}

/// Pieces of an order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// How many.
    pub pieces: u32,
    /// Of which order, by its name.
    pub order: String,
}

/// A task as written.
#[derive(Debug, Clone)]
pub struct WrittenTask {
    /// Where it stands.
    pub at: Place,
    /// It does not begin before.
    pub time: Option<Spot<Moment>>,
    /// The step.
    pub step: Spot<String>,
    /// Whether the load is taken out, rather than the step begun.
    pub out: bool,
    /// Whose.
    pub whose: Whose,
}

/// Whose task it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Whose {
    /// A lot of an order, counted from 1.
    Order(Spot<String>, u32),
    /// A load.
    Load(Spot<String>),
}

/// Care as written.
#[derive(Debug, Clone)]
pub struct WrittenCare {
    /// It does not begin before.
    pub time: Spot<Moment>,
    /// The load after which it is done, if its rule is not waited for.
    pub after: Option<Spot<String>>,
    /// What, in words.
    pub what: Spot<String>,
    /// Where.
    pub tank: Spot<String>,
}

/// Heating as written.
#[derive(Debug, Clone)]
pub struct WrittenHeat {
    /// The bath is hot then.
    pub ready: Spot<Moment>,
    /// Where.
    pub tank: Spot<String>,
}

impl PlanFile {
    /// Reads a plan; times are those of a calendar.
    ///
    /// # Errors
    /// Everything that cannot be read.
    pub fn read(name: &str, text: &str, calendar: &Calendar) -> Result<Self, Findings> {
        let mut sources = Sources::default();
        sources.add(name, text);
        let mut walk = Walk::default();
        let read = match yaml::load(text) {
            Ok(tree) => Self::of(&tree, calendar, &mut walk),
            Err(finding) => {
                walk.add(if finding.code == Code::Missing {
                    finding.help("`tankday plan SCENARIO --out DIR` writes a plan")
                } else {
                    finding
                });
                None
            }
        };
        match read {
            Some(plan) if walk.found.is_empty() => Ok(Self { sources, ..plan }),
            _ => Err(Findings::new(sources, walk.found)),
        }
    }

    fn of(tree: &Node, calendar: &Calendar, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::new(tree, &keys::PLAN, walk)?;
        f.get("plan", |n, w| value::word(n, w, &[("1", ())]));
        let keeping = f.get("follow", |n, w| {
            value::word(
                n,
                w,
                &[
                    ("strictly", Keeping::Strictly),
                    ("loosely", Keeping::Loosely),
                    ("own rules", Keeping::OwnRules),
                ],
            )
        });
        let mut plan = Self {
            sources: Sources::default(),
            title: f.get("for", value::text),
            rests_on: f.get("rests on", value::text),
            keeping: keeping.map_or(Keeping::Loosely, |k| k.value),
            loads: Vec::new(),
            loads_at: f.place("loads").unwrap_or(f.at),
            tasks: Vec::new(),
            care: Vec::new(),
            heat: Vec::new(),
        };
        if let Some(node) = f.node("loads") {
            let read = f.walk.list(node, "loads", MOST, load);
            plan.loads = f.walk.once_by(read, |l| &l.id);
        }
        loads_as_kept(&f, keeping.as_ref())
            .into_iter()
            .for_each(|finding| f.walk.add(finding));
        let whole = |walk: &mut Walk, when| moment(calendar, when, walk);
        for node in f.node("tasks").map_or(&[][..], |n| f.walk.items(n)) {
            plan.tasks.extend(task(node, f.walk, &whole));
        }
        for node in f.node("care").map_or(&[][..], |n| f.walk.items(n)) {
            plan.care.extend(care(node, f.walk, &whole));
        }
        for node in f.node("heat").map_or(&[][..], |n| f.walk.items(n)) {
            plan.heat.extend(heat(node, f.walk, &whole));
        }
        Some(plan)
    }
}

/// A plan has loads, and one that keeps to the shop's own rules has nothing else.
fn loads_as_kept(f: &Fields<'_, '_>, keeping: Option<&Spot<Keeping>>) -> Option<Finding> {
    let written = ["loads", "tasks", "care", "heat"]
        .into_iter()
        .find_map(|key| f.place(key));
    match keeping {
        Some(Spot {
            value: Keeping::OwnRules,
            at,
        }) => written.map(|place| {
            let message = "with `follow: own rules` nothing is planned".to_owned();
            Finding::new(Code::Contradiction, place, message)
                .label("is not followed")
                .and(*at, "by the shop's own rules")
                .help("leave this out, or write `follow: loosely`")
        }),
        _ if f.place("loads").is_none() => Some(
            Finding::new(Code::Missing, f.at, "`loads` is missing in a plan".to_owned())
                .label("has no `loads`")
                .help("`loads`: what goes into which tank together"),
        ),
        _ => None,
    }
}

type ToMoment<'a> = &'a dyn Fn(&mut Walk, Spot<time::When>) -> Option<Spot<Moment>>;

/// The moment that is meant, or a finding.
pub(super) fn moment(calendar: &Calendar, when: Spot<time::When>, walk: &mut Walk) -> Option<Spot<Moment>> {
    let moment = calendar::moment(calendar, when.value);
    if moment.is_none() {
        let days = calendar.days.len();
        walk.add(
            Finding::new(Code::Time, when.at, "there is no such day")
                .label("no such day")
                .help(format!(
                    "the scenario has {days} day{}",
                    if days == 1 { "" } else { "s" }
                )),
        );
    }
    moment.map(|m| Spot::new(m, when.at))
}

fn load(node: &Node, walk: &mut Walk) -> Option<WrittenLoad> {
    let mut f = Fields::new(node, &keys::PLAN_LOADS, walk)?;
    let id = f.get("id", value::name);
    let tank = f.get("tank", value::name);
    let holds = f
        .node("holds")
        .map_or_else(Vec::new, |n| f.walk.list(n, "orders", MOST, held));
    Some(WrittenLoad { id: id?, tank, holds })
}

/// `400 of A1`.
pub(super) fn held(node: &Node, walk: &mut Walk) -> Option<Spot<Held>> {
    let text = value::scalar(node, walk, "pieces of an order")?;
    let read = text.split_once(" of ").and_then(|(n, order)| {
        let pieces: u32 = n.trim().parse().ok().filter(|n| *n > 0)?;
        let order = order.trim().to_owned();
        (!order.is_empty()).then_some(Held { pieces, order })
    });
    if read.is_none() {
        walk.add(
            Finding::new(
                Code::WrongKind,
                node.at,
                format!("`{text}` does not say how many of which order"),
            )
            .label("expected pieces of an order")
            .help("write the pieces, `of` and the order: `400 of A1`"),
        );
    }
    read.map(|held| Spot::new(held, node.at))
}

fn task(node: &Node, walk: &mut Walk, to_moment: ToMoment<'_>) -> Option<WrittenTask> {
    let mut f = Fields::new(node, &keys::PLAN_TASKS, walk)?;
    let when = f.get("at", time::when);
    let (begins, ends) = (f.get("do", value::name), f.get("take out", value::name));
    let whose = whose(&mut f);
    let (at, had_time) = (f.at, when.is_some());
    let time = when.and_then(|w| to_moment(f.walk, w));
    let one = |walk: &mut Walk, message: &str| {
        walk.add(
            Finding::new(Code::Contradiction, at, message)
                .help("write `do: blast` where a step begins, `take out: coat` where a load is taken out"),
        );
    };
    let (step, out) = match (begins, ends) {
        (Some(step), None) => (step, false),
        (None, Some(step)) => (step, true),
        (Some(_), Some(_)) => {
            one(f.walk, "this task both begins a step and takes a load out");
            return None;
        }
        (None, None) => {
            one(f.walk, "this task does not say what is done");
            return None;
        }
    };
    if had_time && time.is_none() {
        return None;
    }
    Some(WrittenTask {
        at: whole(node),
        time,
        step,
        out,
        whose: whose?,
    })
}

/// From its first key to its last value.
fn whole(node: &Node) -> Place {
    match &node.value {
        Value::Map(entries) => {
            let start = entries.first().map_or(node.at.start, |(k, _)| k.at.start);
            let end = entries.last().map_or(node.at.end, |(_, v)| v.at.end);
            Place {
                start,
                end: end.max(start),
            }
        }
        _ => node.at,
    }
}

/// A load, or a lot of an order.
fn whose(f: &mut Fields) -> Option<Whose> {
    let lot = f.get("lot", value::count::<1, 1_000_000>).map_or(1, |l| l.value);
    order_or_load(f, |order| Whose::Order(order, lot), Whose::Load)
}

/// What stands under `order` or `load`, one of which must be there.
pub(super) fn order_or_load<T>(
    f: &mut Fields,
    of_order: impl FnOnce(Spot<String>) -> T,
    of_load: impl FnOnce(Spot<String>) -> T,
) -> Option<T> {
    let (order, load) = (f.get("order", value::name), f.get("load", value::name));
    match (order, load) {
        (Some(order), None) => Some(of_order(order)),
        (None, Some(load)) => Some(of_load(load)),
        (order, _) => {
            let message = match order {
                Some(_) => "this names both an order and a load",
                None => "this does not say whose it is",
            };
            let at = f.at;
            f.walk.add(
                Finding::new(Code::Contradiction, at, message)
                    .help("write `order: A1` before the bath, `load: L1` from the bath on"),
            );
            None
        }
    }
}

fn heat(node: &Node, walk: &mut Walk, to_moment: ToMoment<'_>) -> Option<WrittenHeat> {
    let mut f = Fields::new(node, &keys::PLAN_HEAT, walk)?;
    let ready = f.get("ready by", time::when);
    let tank = f.get("tank", value::name);
    let ready = ready.and_then(|w| to_moment(f.walk, w));
    Some(WrittenHeat {
        ready: ready?,
        tank: tank?,
    })
}

fn care(node: &Node, walk: &mut Walk, to_moment: ToMoment<'_>) -> Option<WrittenCare> {
    let mut f = Fields::new(node, &keys::PLAN_CARE, walk)?;
    let time = f.get("at", time::when);
    let after = f.get("after", value::name);
    let what = f.get("do", value::name);
    let tank = f.get("tank", value::name);
    let time = time.and_then(|w| to_moment(f.walk, w));
    Some(WrittenCare {
        time: time?,
        after,
        what: what?,
        tank: tank?,
    })
}
