//! Notes of a day that is under way, as written: what went in and came out, what else was done, what comes late, how
//! the baths read.

use super::fields::Fields;
use super::finding::{Code, Finding, Findings};
use super::node::{Node, SourceSpan, Spanned};
use super::noted::{HELD, MOST, Owner, held_in, moment, order_or_load, read_file};
use super::noted_bath::{Care, NotedCare, NotedWater, Water, care, water};
use super::plan_file::Held;
use super::reader::{NAME, TEMPERATURE, WHEN, count, positive, quantity};
use super::source::Sources;
use super::thing::{Key, Kind, Reader, Thing, thing, words};
use super::time::{self, When};
use super::value;
use super::walk::Walk;
use tankday_base::shop::Calendar;
use tankday_base::units::{Concentration, Moment, Strength, Temperature};

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
    /// What was done for baths.
    pub care: Vec<NotedCare>,
    /// Water that was made good.
    pub water: Vec<NotedWater>,
}

/// A load that went into a bath.
#[derive(Debug, Clone)]
pub struct NotedLoad {
    /// Its name.
    pub id: Spanned<String>,
    /// The tank.
    pub tank: Spanned<String>,
    /// What is in it.
    pub holds: Vec<Spanned<Held>>,
    /// When it went in.
    pub into: Spanned<Moment>,
    /// When it came out, if it did.
    pub out: Option<Spanned<Moment>>,
    /// What its gas looked like as it came out, if that is said.
    pub seen: Option<Spanned<Seen>>,
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
    Order(Spanned<String>, Lots),
    /// A load's.
    Load(Spanned<String>),
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
    pub at: SourceSpan,
    /// Whose.
    pub whose: NotedWhose,
    /// How many pieces the lot has, if it is said.
    pub pieces: Option<Spanned<u32>>,
    /// Which, with all before it; all of them if none is named.
    pub step: Option<Spanned<String>>,
    /// When it was begun.
    pub begun: Option<Spanned<Moment>>,
    /// When it was done.
    pub done: Option<Spanned<Moment>>,
}

/// An order that comes late.
#[derive(Debug, Clone)]
pub struct NotedLate {
    /// Which.
    pub order: Spanned<String>,
    /// When it comes.
    pub arrives: Spanned<Moment>,
}

/// How a bath reads.
#[derive(Debug, Clone)]
pub struct NotedReading {
    /// Where it stands.
    pub at: SourceSpan,
    /// Of which tank.
    pub tank: Spanned<String>,
    /// When.
    pub time: Spanned<Moment>,
    /// Its temperature.
    pub temperature: Option<Spanned<Temperature>>,
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
    let node = Node::of_text(text.trim().to_owned(), SourceSpan::default());
    let mut walk = Walk::default();
    let when = time::when(&node, &mut walk);
    let meant = when.and_then(|w| super::calendar::moment(calendar, w));
    meant.ok_or_else(|| match walk.found.first() {
        Some(finding) => format!("{}: {}", finding.message, finding.help),
        None => format!("`{text}` lies on no day of the scenario"),
    })
}

impl Notes {
    /// Reads notes; times are those of a calendar.
    ///
    /// # Errors
    /// Everything that cannot be read.
    pub fn read(name: &str, text: &str, calendar: &Calendar) -> Result<Self, Findings> {
        let empty = "write `notes: 1`, and below it what has happened so far";
        let (sources, notes) = read_file(name, text, empty, |tree, walk| Self::of(tree, calendar, walk))?;
        Ok(Self { sources, ..notes })
    }

    fn of(tree: &Node, calendar: &Calendar, walk: &mut Walk) -> Option<Self> {
        let all = All::read(tree, walk)?;
        let loads = all
            .loads
            .into_iter()
            .filter_map(|l| load(l, calendar, walk))
            .collect();
        Some(Self {
            sources: Sources::default(),
            loads: walk.once_by(loads, |l| &l.id),
            done: all
                .done
                .into_iter()
                .filter_map(|d| step(d, calendar, walk))
                .collect(),
            late: all
                .late
                .into_iter()
                .filter_map(|l| late(l, calendar, walk))
                .collect(),
            readings: all
                .readings
                .into_iter()
                .filter_map(|r| reading(r, calendar, walk))
                .collect(),
            care: all
                .care
                .into_iter()
                .filter_map(|c| care(c, calendar, walk))
                .collect(),
            water: all
                .water
                .into_iter()
                .filter_map(|w| water(w, calendar, walk))
                .collect(),
        })
    }
}

/// The items of a list, unless there are too many.
fn items<T: Thing>(f: &mut Fields, key: &Key) -> Vec<T> {
    let all = f.node(key).map_or(&[][..], |n| f.walk.items(n));
    if all.len() > MOST {
        let message = format!("more than {MOST} `{}`", key.name);
        f.walk.add(Finding::new(Code::Limit, f.at, message));
        return Vec::new();
    }
    all.iter().filter_map(|n| T::read(n, f.walk)).collect()
}

thing! {
    /// Notes.
    All "notes", "a set of notes" {
        must "notes" _version: () = words!("1" => ()), "version of the format: 1";
        may own "loads" loads: Vec<Load> = Kind::Things(Load::TABLE) => |f| items(f, &Self::loads),
            "what went into a bath, and came out";
        may own "done" done: Vec<Done> = Kind::Things(Done::TABLE) => |f| items(f, &Self::done),
            "other steps that were begun or done";
        may own "late" late: Vec<Late> = Kind::Things(Late::TABLE) => |f| items(f, &Self::late),
            "orders that come later than they should";
        may own "readings" readings: Vec<Reading> = Kind::Things(Reading::TABLE)
            => |f| items(f, &Self::readings),
            "how the baths read";
        may own "care" care: Vec<Care> = Kind::Things(Care::TABLE) => |f| items(f, &Self::care),
            "what was done for the baths; what is not noted was not done, and is due";
        may own "water" water: Vec<Water> = Kind::Things(Water::TABLE) => |f| items(f, &Self::water),
            "top-ups; a tank with none noted was topped up as the rules say";
    }
}

/// What its gas looked like.
const SEEN: Reader<Seen> = Reader::new(Kind::Word(&[Seen::WORDS[0].0, Seen::WORDS[1].0]), |n, w| {
    value::word(n, w, &Seen::WORDS)
});
const LOTS: Reader<Lots> = Reader::new(Kind::Or(&[Kind::Count, Kind::Word(&["all"])]), lots);

thing! {
    /// A load that went in.
    Load "notes.loads", "a load" {
        must "id" id: String = NAME, "its name, such as L1";
        must "tank" tank: String = NAME, "the tank that it went into";
        must own "holds" holds: Vec<Spanned<Held>> = Kind::Some(&HELD.kind) => |f| held_in(f, &Self::holds),
            "pieces and the order that they come from, such as [400 of A1, 25 of A4]";
        must "in" into: When = WHEN, "when it went in, such as 08:15";
        may "out" out: When = WHEN, "when it came out; it is still in if nothing is written";
        may "seen" seen: Seen = SEEN, "what its gas looked like as it came out; the rest is planned by it";
    }
}

fn load(load: Load, calendar: &Calendar, walk: &mut Walk) -> Option<NotedLoad> {
    let came_out = load.place(&Load::out).is_some();
    let into = moment(calendar, load.into, walk);
    let out = moment(calendar, load.out, walk);
    if let (Some(seen), false) = (&load.seen, came_out) {
        walk.add(
            Finding::new(Code::Missing, seen.at, "this does not say when it came out")
                .label("seen as it came out")
                .help(match seen.value {
                    Seen::Stopped => "write `out: 08:30` beside it; a load that has stopped fizzing is done",
                    Seen::StillFizzing => {
                        "if it is out, write `out: 08:30` beside it; if it is still in, leave `seen` out: a load that still \
                         fizzes stays in, and the sheet says what to look for"
                    }
                }),
        );
    }
    Some(NotedLoad {
        id: load.id?,
        tank: load.tank?,
        holds: load.holds,
        into: into?,
        out,
        seen: load.seen,
    })
}

thing! {
    /// A step that was begun or done.
    Done "notes.done", "a step that was done" {
        may "order" order: String = NAME, "of which order, before it met others in a bath";
        may "lot" lots: Lots = LOTS,
            "which of its lots, counted through the loads, or all of them; must be said where there are several";
        may "pieces" pieces: u32 = count::<1, 1_000_000>(),
            "how many that lot has; if nothing is written, as the rules divide what is in no load";
        may "load" load: String = NAME, "of which load, from the bath on";
        may "step" step: String = NAME, "which step, with all before it; all steps if none is named";
        may "begun" begun: When = WHEN, "when it was begun, such as 08:15";
        may "done" done: When = WHEN, "when it was done; it goes on if nothing is written";
    }
}

fn step(noted: Done, calendar: &Calendar, walk: &mut Walk) -> Option<NotedStep> {
    let begun_at = noted.place(&Done::begun);
    let done_at = noted.place(&Done::done);
    let (at, lots) = (noted.places.at, noted.lots.map_or(Lots::Unsaid, |l| l.value));
    let whose = order_or_load(noted.order, noted.load, at, walk);
    let begun = moment(calendar, noted.begun, walk);
    let done = moment(calendar, noted.done, walk);
    let refused = if begun_at.is_none() && done_at.is_none() {
        Finding::new(Code::Missing, at, "this does not say when it was begun or done")
            .help("write `done: 08:15`, or `begun: 08:15` while it goes on")
    } else if let (Some(Owner::Load(_)), Some(pieces)) = (&whose, &noted.pieces) {
        let message = "a load has the pieces that it holds";
        Finding::new(Code::Contradiction, pieces.at, message)
            .help("write `pieces` only with an order and a lot of it")
    } else if let (Lots::All, Some(pieces)) = (lots, &noted.pieces) {
        let message = "`lot: all` means all pieces of the order";
        Finding::new(Code::Contradiction, pieces.at, message)
            .help("leave `pieces` away, or write the number of the lot that has so many, such as `lot: 1`")
    } else if noted.step.is_none() && done_at.is_none() {
        Finding::new(Code::Missing, at, "this does not say which step was begun").help("write `step: blast`")
    } else {
        return Some(NotedStep {
            at,
            whose: match whose? {
                Owner::Order(order) => NotedWhose::Order(order, lots),
                Owner::Load(load) => NotedWhose::Load(load),
            },
            pieces: noted.pieces,
            step: noted.step,
            begun,
            done,
        });
    };
    walk.refuse(refused)
}

/// The number of a lot, or `all`.
fn lots(node: &Node, walk: &mut Walk) -> Option<Lots> {
    if value::scalar(node, walk, "the number of a lot")? == "all" {
        return Some(Lots::All);
    }
    value::count::<1, 1_000_000>(node, walk).map(Lots::One)
}

thing! {
    /// An order that comes late.
    Late "notes.late", "a late order" {
        must "order" order: String = NAME, "which";
        must "arrives" arrives: When = WHEN, "when it comes, such as 11:30";
    }
}

fn late(late: Late, calendar: &Calendar, walk: &mut Walk) -> Option<NotedLate> {
    let arrives = moment(calendar, late.arrives, walk);
    Some(NotedLate {
        order: late.order?,
        arrives: arrives?,
    })
}

thing! {
    /// How a bath reads.
    Reading "notes.readings", "a reading" {
        must "tank" tank: String = NAME, "of which tank";
        must "at" time: When = WHEN, "when it was taken, such as 10:30";
        may "temperature" temperature: Temperature = TEMPERATURE, "such as 93 °C";
        may "total acid" total_acid: Strength = positive(), "such as 33 points";
        may "free acid" free_acid: Strength = positive(), "such as 5.5 points";
        may "iron" iron: Concentration = quantity(), "such as 1.2 g/L";
        may "sludge" sludge: Concentration = quantity(), "such as 0.8 g/L";
    }
}

fn reading(reads: Reading, calendar: &Calendar, walk: &mut Walk) -> Option<NotedReading> {
    let time = moment(calendar, reads.time, walk);
    Some(NotedReading {
        at: reads.places.at,
        tank: reads.tank?,
        time: time?,
        temperature: reads.temperature,
        total_acid: reads.total_acid.map(|s| s.value),
        free_acid: reads.free_acid.map(|s| s.value),
        iron: reads.iron.map(|s| s.value),
        sludge: reads.sludge.map(|s| s.value),
    })
}
