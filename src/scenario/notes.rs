//! Notes of a day that is under way, as written: what went in and came out, what else was done, what comes late, how
//! the baths read.

use super::finding::{Code, Finding, Findings};
use super::keys;
use super::node::{Node, Place, Spot};
use super::plan_file::{Held, held, moment, order_or_load};
use super::source::Sources;
use super::time;
use super::value;
use super::walk::{Fields, Walk};
use super::yaml;
use tankday_base::shop::Calendar;
use tankday_base::units::{Concentration, Moment, Strength, Temperature, read_clock};

/// Most of each.
const MOST: usize = 100_000;

/// Notes as written.
#[derive(Debug, Clone, Default)]
pub struct Notes {
    /// The text that all places point into.
    pub sources: Sources,
    /// What went into a bath.
    pub loads: Vec<NotedLoad>,
    /// What else was done.
    pub done: Vec<NotedStep>,
    /// What comes late.
    pub late: Vec<NotedLate>,
    /// How baths read.
    pub readings: Vec<NotedReading>,
}

/// A load that went into a bath.
#[derive(Debug, Clone)]
pub struct NotedLoad {
    /// Its name.
    pub id: Spot<String>,
    /// The tank.
    pub tank: Spot<String>,
    /// What is in it.
    pub holds: Vec<Spot<Held>>,
    /// When it went in.
    pub into: Spot<Moment>,
    /// When it came out, if it did.
    pub out: Option<Spot<Moment>>,
    /// What its gas looked like as it came out, if that is said.
    pub seen: Option<Spot<Seen>>,
}

/// What the gas of a load looked like as it came out of the bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// It still rose: `still fizzing`.
    StillFizzing,
    /// It had all but stopped: `fizzing stopped`.
    Stopped,
}

impl Seen {
    /// As it is written.
    pub const WORDS: [(&'static str, Self); 2] = [
        ("still fizzing", Self::StillFizzing),
        ("fizzing stopped", Self::Stopped),
    ];
}

/// Whose step is noted.
#[derive(Debug, Clone, PartialEq)]
pub enum NotedWhose {
    /// An order's, of these lots.
    Order(Spot<String>, Lots),
    /// A load's.
    Load(Spot<String>),
}

/// Which lots of an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lots {
    /// One, counted from 1.
    One(u32),
    /// Every one: `lot: all`.
    All,
    /// It is not said.
    Unsaid,
}

/// A step that was begun or done.
#[derive(Debug, Clone)]
pub struct NotedStep {
    /// Where it stands.
    pub at: Place,
    /// Whose.
    pub whose: NotedWhose,
    /// How many pieces the lot has, if it is said.
    pub pieces: Option<Spot<u32>>,
    /// Which, with all before it; all of them if none is named.
    pub step: Option<Spot<String>>,
    /// When it was begun.
    pub begun: Option<Spot<Moment>>,
    /// When it was done.
    pub done: Option<Spot<Moment>>,
}

/// An order that comes late.
#[derive(Debug, Clone)]
pub struct NotedLate {
    /// Which.
    pub order: Spot<String>,
    /// When it comes.
    pub arrives: Spot<Moment>,
}

/// How a bath reads.
#[derive(Debug, Clone)]
pub struct NotedReading {
    /// Where it stands.
    pub at: Place,
    /// Of which tank.
    pub tank: Spot<String>,
    /// When.
    pub time: Spot<Moment>,
    /// Its temperature.
    pub temperature: Option<Spot<Temperature>>,
    /// Its total acid.
    pub total_acid: Option<Strength>,
    /// Its free acid.
    pub free_acid: Option<Strength>,
    /// Its iron.
    pub iron: Option<Concentration>,
    /// Its sludge.
    pub sludge: Option<Concentration>,
}

/// Reads a time of a calendar as it is typed: `10:40`, `day 2 10:40` or `2026-03-06 10:40`.
///
/// # Errors
/// A sentence that says what is wrong.
pub fn moment_of(text: &str, calendar: &Calendar) -> Result<Moment, String> {
    let node = Node {
        value: super::node::Value::Text(text.trim().to_owned()),
        at: Place::default(),
    };
    let mut walk = Walk::default();
    let when = time::when(&node, &mut walk);
    let meant = when.and_then(|w| super::calendar::moment(calendar, w));
    meant.ok_or_else(|| match walk.found.first() {
        Some(finding) => format!("{}: {}", finding.message, finding.help),
        None => format!("`{text}` lies on no day of the scenario"),
    })
}

/// Whether a text is a time of day by its looks, before a calendar is known.
#[must_use]
pub fn looks_like_time(text: &str) -> bool {
    let last = text.trim().rsplit(' ').next().unwrap_or_default();
    read_clock(last).is_ok() || text.trim() == "at opening"
}

impl Notes {
    /// Reads notes; times are those of a calendar.
    ///
    /// # Errors
    /// Everything that cannot be read.
    pub fn read(name: &str, text: &str, calendar: &Calendar) -> Result<Self, Findings> {
        let mut sources = Sources::default();
        sources.add(name, text);
        let mut walk = Walk::default();
        let mut notes = Self::default();
        match yaml::load(text) {
            Ok(tree) => notes.take(&tree, calendar, &mut walk),
            Err(finding) => walk.add(if finding.code == Code::Missing {
                finding.help("write `notes: 1`, and below it what has happened so far")
            } else {
                finding
            }),
        }
        notes.sources = sources.clone();
        if walk.found.is_empty() {
            return Ok(notes);
        }
        Err(Findings::new(sources, walk.found))
    }

    fn take(&mut self, tree: &Node, calendar: &Calendar, walk: &mut Walk) {
        let Some(mut f) = Fields::new(tree, &keys::NOTES, walk) else {
            return;
        };
        f.get("notes", |n, w| value::word(n, w, &[("1", ())]));
        let items = |f: &mut Fields<'_, '_>, key: &str| -> Vec<Node> {
            let all = f.node(key).map_or(&[][..], |n| f.walk.items(n)).to_vec();
            if all.len() > MOST {
                let at = f.at;
                f.walk
                    .add(Finding::new(Code::Limit, at, format!("more than {MOST} `{key}`")));
                return Vec::new();
            }
            all
        };
        for node in items(&mut f, "loads") {
            self.loads.extend(load(&node, calendar, f.walk));
        }
        self.loads = f.walk.once_by(std::mem::take(&mut self.loads), |l| &l.id);
        for node in items(&mut f, "done") {
            self.done.extend(step(&node, calendar, f.walk));
        }
        for node in items(&mut f, "late") {
            self.late.extend(late(&node, calendar, f.walk));
        }
        for node in items(&mut f, "readings") {
            self.readings.extend(reading(&node, calendar, f.walk));
        }
    }
}

fn at_time(f: &mut Fields, key: &str, calendar: &Calendar) -> Option<Spot<Moment>> {
    let when = f.get(key, time::when)?;
    moment(calendar, when, f.walk)
}

fn load(node: &Node, calendar: &Calendar, walk: &mut Walk) -> Option<NotedLoad> {
    let mut f = Fields::new(node, &keys::NOTED_LOADS, walk)?;
    let (id, tank) = (f.get("id", value::name), f.get("tank", value::name));
    let holds = f
        .node("holds")
        .map_or_else(Vec::new, |n| f.walk.list(n, "orders", MOST, held));
    let into = at_time(&mut f, "in", calendar);
    let out = at_time(&mut f, "out", calendar);
    let seen = f.get("seen", |n, w| value::word(n, w, &Seen::WORDS));
    if let (Some(seen), false) = (&seen, f.has("out")) {
        f.walk.add(
            Finding::new(Code::Missing, seen.at, "this does not say when it came out")
                .label("seen as it came out")
                .help("write `out: 08:30` beside it; a load that has stopped fizzing is done"),
        );
    }
    Some(NotedLoad {
        id: id?,
        tank: tank?,
        holds,
        into: into?,
        out,
        seen,
    })
}

fn step(node: &Node, calendar: &Calendar, walk: &mut Walk) -> Option<NotedStep> {
    let mut f = Fields::new(node, &keys::NOTED_STEPS, walk)?;
    let lots = f.get("lot", lots).map_or(Lots::Unsaid, |l| l.value);
    let whose = order_or_load(&mut f, |order| NotedWhose::Order(order, lots), NotedWhose::Load);
    let pieces = f.get("pieces", value::count::<1, 1_000_000>);
    let step = f.get("step", value::name);
    let begun = at_time(&mut f, "begun", calendar);
    let done = at_time(&mut f, "done", calendar);
    let at = f.at;
    if !f.has("begun") && !f.has("done") {
        f.walk.add(
            Finding::new(Code::Missing, at, "this does not say when it was begun or done")
                .help("write `done: 08:15`, or `begun: 08:15` while it goes on"),
        );
        return None;
    }
    if let (Some(NotedWhose::Load(_)), Some(pieces)) = (&whose, &pieces) {
        f.walk.add(
            Finding::new(
                Code::Contradiction,
                pieces.at,
                "a load has the pieces that it holds",
            )
            .help("write `pieces` only with an order and a lot of it"),
        );
        return None;
    }
    if step.is_none() && !f.has("done") {
        f.walk.add(
            Finding::new(Code::Missing, at, "this does not say which step was begun")
                .help("write `step: blast`"),
        );
        return None;
    }
    Some(NotedStep {
        at,
        whose: whose?,
        pieces,
        step,
        begun,
        done,
    })
}

/// The number of a lot, or `all`.
fn lots(node: &Node, walk: &mut Walk) -> Option<Lots> {
    if value::scalar(node, walk, "the number of a lot")? == "all" {
        return Some(Lots::All);
    }
    value::count::<1, 1_000_000>(node, walk).map(Lots::One)
}

fn late(node: &Node, calendar: &Calendar, walk: &mut Walk) -> Option<NotedLate> {
    let mut f = Fields::new(node, &keys::NOTED_LATE, walk)?;
    let order = f.get("order", value::name);
    let arrives = at_time(&mut f, "arrives", calendar);
    Some(NotedLate {
        order: order?,
        arrives: arrives?,
    })
}

fn reading(node: &Node, calendar: &Calendar, walk: &mut Walk) -> Option<NotedReading> {
    let mut f = Fields::new(node, &keys::NOTED_READINGS, walk)?;
    let at = f.at;
    let tank = f.get("tank", value::name);
    let time = at_time(&mut f, "at", calendar);
    let temperature = f.get("temperature", value::temperature);
    let total_acid = f.get("total acid", value::positive).map(|s| s.value);
    let free_acid = f.get("free acid", value::positive).map(|s| s.value);
    let iron = f.get("iron", value::quantity).map(|s| s.value);
    let sludge = f.get("sludge", value::quantity).map(|s| s.value);
    Some(NotedReading {
        at,
        tank: tank?,
        time: time?,
        temperature,
        total_acid,
        free_acid,
        iron,
        sludge,
    })
}
