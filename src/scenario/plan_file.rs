//! A plan as written: read like a scenario, each value with its place. What its names mean is found out by whoever
//! knows the shop.

use super::finding::{Code, Finding, Findings};
use super::node::{Node, SourceSpan, Spanned};
use super::noted::{HELD, MOST, Owner, held_in, moment, order_or_load, read_file};
use super::reader::{NAME, TEXT, WHEN, count};
use super::source::Sources;
use super::thing::{Kind, Reader, Thing, thing, words};
use super::time::When;
use super::walk::Walk;
use tankday_base::shop::{Calendar, Keeping};
use tankday_base::units::Moment;

/// A plan as written.
#[derive(Debug, Clone)]
pub struct PlanFile {
    /// The text that all places point into.
    pub sources: Sources,
    /// Title of the scenario that it was made for.
    pub title: Option<Spanned<String>>,
    /// Fingerprint of what it was made for.
    pub rests_on: Option<Spanned<String>>,
    /// Whether each place and the hands keep to the order of the tasks.
    pub keeping: Keeping,
    /// What goes in together.
    pub loads: Vec<WrittenLoad>,
    /// Where the loads stand.
    pub loads_at: SourceSpan,
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
    pub id: Spanned<String>,
    /// Its tank, if one is named.
    pub tank: Option<Spanned<String>>,
    /// What is in it.
    pub holds: Vec<Spanned<Held>>,
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
    pub at: SourceSpan,
    /// It does not begin before.
    pub time: Option<Spanned<Moment>>,
    /// The step.
    pub step: Spanned<String>,
    /// Whether the load is taken out, rather than the step begun.
    pub out: bool,
    /// Whose.
    pub whose: Whose,
}

/// Whose task it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Whose {
    /// A lot of an order, counted from 1.
    Order(Spanned<String>, u32),
    /// A load.
    Load(Spanned<String>),
}

/// Care as written.
#[derive(Debug, Clone)]
pub struct WrittenCare {
    /// It does not begin before.
    pub time: Spanned<Moment>,
    /// The load after which it is done, if its rule is not waited for.
    pub after: Option<Spanned<String>>,
    /// What, in words.
    pub what: Spanned<String>,
    /// Where.
    pub tank: Spanned<String>,
}

/// Heating as written.
#[derive(Debug, Clone)]
pub struct WrittenHeat {
    /// The bath is hot then.
    pub ready: Spanned<Moment>,
    /// Where.
    pub tank: Spanned<String>,
}

const FOLLOW: Reader<Keeping> = words!(
    "strictly" => Keeping::Strictly,
    "loosely" => Keeping::Loosely,
    "own rules" => Keeping::OwnRules,
);

thing! {
    /// A plan.
    Plan "plan", "a plan" {
        must "plan" _version: () = words!("1" => ()), "version of the format: 1";
        may "for" title: String = TEXT, "title of the scenario that it was made for";
        may "rests on" rests_on: String = TEXT,
            "a fingerprint of the orders, routes and stations that it was made for";
        may "follow" keeping: Keeping = FOLLOW,
            "strictly: each place and the hands keep to the order of the tasks; loosely: as far as it goes; own rules: nothing is planned, the day goes by the rules of the scenario";
        may list "loads" loads: Load = MOST,
            "what goes into which tank together; only with `follow: own rules` there are none";
        may list "tasks" tasks: Task = usize::MAX, "what is done, in order";
        may list "heat" heat: Heat = usize::MAX, "baths that are heated later than the rules say";
        may list "care" care: Care = usize::MAX,
            "when the baths are cared for: after a load, or once their rules call for it";
    }
}

thing! {
    /// A load of a plan.
    Load "plan.loads", "a load" {
        must "id" id: String = NAME, "its name, such as L1";
        may "tank" tank: String = NAME, "the tank that it goes into; any that can take it if none is named";
        must own "holds" holds: Vec<Spanned<Held>> = Kind::Some(&HELD.kind) => |f| held_in(f, &Self::holds),
            "pieces and the order that they come from, such as [400 of A1, 25 of A4]";
    }
}

thing! {
    /// A task of a plan.
    Task "plan.tasks", "a task" {
        may "at" time: When = WHEN, "it does not begin before, such as 08:15";
        may "do" begins: String = NAME, "the step that begins";
        may "take out" ends: String = NAME, "the step that ends: the load is taken out";
        may "order" order: String = NAME, "whose: an order, before it meets others in a bath";
        may "lot" lot: u32 = count::<1, 1_000_000>(),
            "which of its lots, counted through the loads; 1 if none is named";
        may "load" load: String = NAME, "whose: a load, from the bath on";
    }
}

thing! {
    /// Heating in a plan.
    Heat "plan.heat", "heating of a bath" {
        must "ready by" ready: When = WHEN,
            "the heaters go on so that the bath is hot just then, such as 09:40";
        must "tank" tank: String = NAME, "in which tank";
    }
}

thing! {
    /// Care in a plan.
    Care "plan.care", "care of a bath" {
        must "at" time: When = WHEN, "it does not begin before, such as 13:00";
        may "after" after: String = NAME,
            "the load after which it is done, whether its rule calls for it by then or not";
        must "do" what: String = NAME, "what is done, such as filter or replenish";
        must "tank" tank: String = NAME, "in which tank";
    }
}

impl PlanFile {
    /// Reads a plan; times are those of a calendar.
    ///
    /// # Errors
    /// Everything that cannot be read.
    pub fn read(name: &str, text: &str, calendar: &Calendar) -> Result<Self, Findings> {
        let empty = "`tankday plan SCENARIO --out DIR` writes a plan";
        let (sources, plan) = read_file(name, text, empty, |tree, walk| Self::of(tree, calendar, walk))?;
        Ok(Self { sources, ..plan })
    }

    fn of(tree: &Node, calendar: &Calendar, walk: &mut Walk) -> Option<Self> {
        let plan = Plan::read(tree, walk)?;
        if let Some(finding) = loads_as_kept(&plan) {
            walk.add(finding);
        }
        let loads_at = plan.place(&Plan::loads).unwrap_or(plan.places.at);
        let loads = plan.loads.into_iter().filter_map(|load| {
            Some(WrittenLoad {
                id: load.id?,
                tank: load.tank,
                holds: load.holds,
            })
        });
        let loads = walk.once_by(loads.collect(), |l| &l.id);
        Some(Self {
            sources: Sources::default(),
            title: plan.title,
            rests_on: plan.rests_on,
            keeping: plan.keeping.map_or(Keeping::Loosely, |k| k.value),
            loads,
            loads_at,
            tasks: plan
                .tasks
                .into_iter()
                .filter_map(|t| task(t, calendar, walk))
                .collect(),
            care: plan
                .care
                .into_iter()
                .filter_map(|c| care(c, calendar, walk))
                .collect(),
            heat: plan
                .heat
                .into_iter()
                .filter_map(|h| heat(h, calendar, walk))
                .collect(),
        })
    }
}

/// A plan has loads, and one that keeps to the shop's own rules has nothing else.
fn loads_as_kept(plan: &Plan) -> Option<Finding> {
    match &plan.keeping {
        Some(Spanned {
            value: Keeping::OwnRules,
            at,
        }) => plan
            .first(&[&Plan::loads, &Plan::tasks, &Plan::care, &Plan::heat])
            .map(|place| {
                let message = "with `follow: own rules` nothing is planned";
                Finding::new(Code::Contradiction, place, message)
                    .label("is not followed")
                    .and(*at, "by the shop's own rules")
                    .help("leave this out, or write `follow: loosely`")
            }),
        _ if plan.place(&Plan::loads).is_none() => Some(
            Finding::new(Code::Missing, plan.places.at, "`loads` is missing in a plan")
                .label("has no `loads`")
                .help("`loads`: what goes into which tank together"),
        ),
        _ => None,
    }
}

fn task(task: Task, calendar: &Calendar, walk: &mut Walk) -> Option<WrittenTask> {
    let lot = task.lot.map_or(1, |l| l.value);
    let whose = order_or_load(task.order, task.load, task.places.at, walk);
    let had_time = task.time.is_some();
    let time = moment(calendar, task.time, walk);
    let (step, out) =
        match (task.begins, task.ends) {
            (Some(step), None) => (step, false),
            (None, Some(step)) => (step, true),
            (begins, _) => {
                let message = match begins {
                    Some(_) => "this task both begins a step and takes a load out",
                    None => "this task does not say what is done",
                };
                return walk.refuse(Finding::new(Code::Contradiction, task.places.at, message).help(
                    "write `do: blast` where a step begins, `take out: coat` where a load is taken out",
                ));
            }
        };
    if had_time && time.is_none() {
        return None;
    }
    Some(WrittenTask {
        at: task.places.whole(),
        time,
        step,
        out,
        whose: match whose? {
            Owner::Order(order) => Whose::Order(order, lot),
            Owner::Load(load) => Whose::Load(load),
        },
    })
}

fn heat(heat: Heat, calendar: &Calendar, walk: &mut Walk) -> Option<WrittenHeat> {
    let ready = moment(calendar, heat.ready, walk);
    Some(WrittenHeat {
        ready: ready?,
        tank: heat.tank?,
    })
}

fn care(care: Care, calendar: &Calendar, walk: &mut Walk) -> Option<WrittenCare> {
    let time = moment(calendar, care.time, walk);
    Some(WrittenCare {
        time: time?,
        after: care.after,
        what: care.what?,
        tank: care.tank?,
    })
}
