//! A day that is under way: what was noted is taken as it is, and the rest is planned.
//!
//! What went into a bath goes in at its noted time again, since the bath remembers it; every other step that was done
//! counts as done before anything is simulated; a step that was begun begins at its noted time. All else begins after
//! the time at which the rest is planned: what is not noted was not done, care of a bath neither (`cared.rs`). Water that
//! went is taken to have been made good as noted (`watered.rs`); in a tank of which no top-up is noted, as the rules say,
//! and what is assumed in that way is said (`narrative::since`).
//!
//! # The rest of a day
//!
//! The rest of a day (`plan --at`) is planned on a `line::Plan` in which something is settled: what went into a bath
//! goes in at its noted time again, for the bath remembers it; every other step that was done counts as done before
//! anything is simulated (`PlanLot::past`), so that hands and places of the past are not asked for; all else is held
//! until now. The timetable of the rest begins now: what was begun is over when the best day by rules has it so,
//! tanks are free when the loads in them are out, and of these loads only what comes behind the bath is left; the
//! line's own search goes on from there with all its days. Readings move the bath to what was read (`line/read.rs`);
//! the heat and the acids that differ count as if there from the start. Such a record is not audited, since steps are
//! missing from it; day sheets are written, and the plan (`say.rs` writes what is past before what came after it),
//! which runs as a whole day. What was seen of the gas of a load moves the pace of its bath (`fizz.rs`), and
//! `echo.rs` says every note again.
//!
//! # Known and left
//!
//! - `plan --at` knows nothing of what no plan of the rest could beat. Orders of a stream cannot be noted.

use super::echo;
use super::fizz;
use super::loads::Grouped;
use super::passed::Passed;
use super::said::SaidLot;
use super::{Names, Reader, unknown};
use crate::{Effort, Found, names, plan_on};
use std::collections::BTreeMap;
use std::sync::atomic::AtomicBool;
use tankday_base::shop::{Arrival, Keeping, Shop};
use tankday_base::units::{Moment, Span};
use tankday_line::{Line, Plan};
use tankday_scenario::{Code, Finding, Findings, Lots, NotedWhose, Notes, PlanFile, SourceSpan, WrittenLoad};

/// The rest of a day.
#[derive(Debug, Clone)]
pub struct Rest {
    /// The shop, orders that are late coming when they come.
    pub shop: Shop,
    /// What is settled.
    pub settled: Plan,
    /// Every note that is taken, in plain words.
    pub taken: Vec<String>,
    /// Where the tasks that began are noted.
    places: BTreeMap<usize, SourceSpan>,
}

impl Rest {
    /// Searches for a plan of the rest, as [`plan`](crate::plan) does for a whole day.
    #[must_use]
    pub fn plan(
        &self,
        seed: u64,
        effort: Effort,
        stop: &AtomicBool,
        told: &(impl Fn(f64) + Sync),
    ) -> Option<Found> {
        let mut found = plan_on(&self.shop, Some(&self.settled), seed, effort, stop, told)?;
        names::name_loads(&self.shop, &Line::new(&self.shop), &mut found.plan);
        Some(found)
    }
}

/// Understands notes: what is settled at a time of the day.
///
/// # Errors
/// Everything that contradicts the clock, the scenario or itself.
pub fn rest_of_day(shop: &Shop, notes: &Notes, at: Moment) -> Result<Rest, Findings> {
    let mut found = Vec::new();
    let late = late(shop, notes, &mut found);
    let line = Line::new(&late);
    let file = loads_of(notes);
    let mut reader = Reader {
        shop: &late,
        line: &line,
        file: &file,
        names: Names::of(&late),
        found,
    };
    let said = said_lots(notes, &reader);
    let grouped = reader.loads_of(Some(&said));
    let noted = Noted { notes, at };
    let mut places = BTreeMap::new();
    let mut taken = Vec::new();
    let settled = noted.settled(&mut reader, grouped, &mut places, &mut taken);
    let found = reader.found;
    if !found.is_empty() {
        return Err(Findings::new(notes.sources.clone(), found));
    }
    taken.extend(echo::late(shop, notes, at));
    taken.extend(echo::readings(shop, notes, at));
    taken.extend(echo::care(shop, notes, at));
    taken.extend(echo::water(shop, notes, at));
    let paces = fizz::paces(&late, &line, notes, &settled);
    let mut shop = late.clone();
    for pace in &paces {
        taken.push(pace.words(&shop));
        pace.adopt(&mut shop);
    }
    Ok(Rest {
        shop,
        settled,
        taken,
        places,
    })
}

/// Lots of known orders whose pieces are noted.
fn said_lots(notes: &Notes, reader: &Reader<'_>) -> Vec<SaidLot> {
    let said = notes.done.iter().filter_map(|note| match &note.whose {
        NotedWhose::Order(name, lots) => {
            let order = reader.names.orders.get(name.value.as_str())?;
            let nth = match lots {
                Lots::One(nth) => *nth,
                Lots::All | Lots::Unsaid => 1,
            };
            Some((*order, nth, note.pieces?))
        }
        NotedWhose::Load(_) => None,
    });
    said.collect()
}

/// The shop with its late orders.
fn late(shop: &Shop, notes: &Notes, found: &mut Vec<Finding>) -> Shop {
    let mut late = shop.clone();
    for note in &notes.late {
        let order = late.orders.iter_mut().find(|o| o.id == note.order.value);
        let Some(order) = order else {
            let known: Vec<&str> = shop.orders.iter().map(|o| o.id.as_str()).collect();
            found.push(unknown(note.order.at, "order", &note.order.value, &known));
            continue;
        };
        let Arrival::At(stated) = order.arrival else {
            let message = format!("`{}` comes at random and cannot be late", note.order.value);
            found.push(Finding::new(Code::Order, note.order.at, message));
            continue;
        };
        if let Some(why) = outside(shop, note.arrives.value) {
            found.push(Finding::new(Code::Time, note.arrives.at, why).label("no order comes then"));
            continue;
        }
        // What was promised stays promised.
        order.due_after = order.due_after.map(|after| stated + after - note.arrives.value);
        order.arrival = Arrival::At(note.arrives.value);
    }
    late
}

/// Why nothing can be noted for a time, if it lies on no day of the scenario.
pub(super) fn outside(shop: &Shop, at: Moment) -> Option<&'static str> {
    let last = shop.calendar.days.last().map_or(Moment::NEVER, |d| d.close);
    if at < Moment::ZERO {
        Some("this lies before the first day")
    } else {
        (at >= last).then_some("this lies after the last closing")
    }
}

/// The loads of notes as those of a plan.
fn loads_of(notes: &Notes) -> PlanFile {
    let loads = notes.loads.iter().map(|l| WrittenLoad {
        id: l.id.clone(),
        tank: Some(l.tank.clone()),
        holds: l.holds.clone(),
    });
    PlanFile {
        sources: notes.sources.clone(),
        title: None,
        rests_on: None,
        keeping: Keeping::Loosely,
        loads: loads.collect(),
        loads_at: SourceSpan::default(),
        tasks: Vec::new(),
        care: Vec::new(),
        heat: Vec::new(),
    }
}

pub(super) struct Noted<'n> {
    pub(super) notes: &'n Notes,
    pub(super) at: Moment,
}

impl Noted<'_> {
    fn settled<'a>(
        &self,
        reader: &mut Reader<'a>,
        grouped: Grouped<'a>,
        places: &mut BTreeMap<usize, SourceSpan>,
        taken: &mut Vec<String>,
    ) -> Plan {
        self.not_in_the_future(reader);
        self.one_at_a_time(reader, &grouped);
        let mut plan = grouped.plan.clone();
        plan.group(&grouped.head, &grouped.tank);
        names::keep(&mut plan, &grouped.members);
        self.bathe(reader, &grouped, &mut plan, places);
        let mut passed: BTreeMap<u32, Vec<Passed>> = BTreeMap::new();
        taken.extend(echo::loads(reader.shop, self.notes, self.at));
        for note in &self.notes.done {
            if let Some(meant) = self.step(reader, &grouped, note, &mut passed) {
                taken.extend(echo::step(reader, &plan, note, &meant, self.at));
            }
        }
        for (lot, steps) in passed {
            self.pass(reader, &grouped, &mut plan, lot, &steps);
            for p in steps.iter().filter(|p| p.done.is_none()) {
                if let Some(begun) = p.begun {
                    places.insert(plan.task(lot, p.step) as usize, begun.at);
                }
            }
        }
        plan.readings = self.readings(reader);
        plan.care_from = self.at;
        plan.cared = self.cared(reader);
        plan.watered = self.watered(reader);
        for task in 0..plan.hold.len() {
            if !plan.pinned[task] {
                plan.hold[task] = plan.hold[task].max(self.at);
            }
        }
        plan
    }

    /// Loads that went in go in again at their times.
    fn bathe(
        &self,
        reader: &mut Reader<'_>,
        grouped: &Grouped<'_>,
        plan: &mut Plan,
        places: &mut BTreeMap<usize, SourceSpan>,
    ) {
        for load in &self.notes.loads {
            let Some(members) = grouped.members.get(load.id.value.as_str()) else {
                continue;
            };
            let Some(&head) = members.iter().min() else {
                continue;
            };
            let Some(step) = plan.lots[head as usize].bath_step else {
                continue;
            };
            for &lot in members {
                self.not_before_it_came(reader, &plan.lots[lot as usize], load.into);
                let steps = 0..plan.lots[lot as usize].steps;
                let before = steps.filter(|s| plan.comes_before(reader.line, lot, *s, step));
                let past = before.fold(0, |past, s| past | 1 << s);
                plan.lots[lot as usize].past |= past;
            }
            let task = plan.task(head, step) as usize;
            plan.pinned[task] = true;
            plan.hold[task] = load.into.value;
            places.insert(task, load.into.at);
            if let Some(out) = load.out {
                places.insert(task + 1, out.at);
                plan.pinned[task + 1] = true;
                plan.hold[task + 1] = out.value;
                plan.over[task / 2] = out.value;
            }
        }
    }
}

/// Whether a bath went in as noted to within this, or the notes contradict themselves.
const TOLERANCE: Span = Span::whole_minutes(2);

impl Rest {
    /// Notes that the line cannot follow: loads that could not have gone in or come out when it is written.
    #[must_use]
    pub fn contradictions(&self, notes: &Notes) -> Findings {
        let line = Line::new(&self.shop);
        let timed = crate::timed(&self.shop, &line, &self.settled, None);
        let mut found = Vec::new();
        for (&task, place) in &self.places {
            let (noted, begun) = (self.settled.hold[task], timed.begun[task]);
            if begun <= noted + TOLERANCE {
                continue;
            }
            let message = match begun {
                Moment::NEVER => "this cannot have happened: the load does not come there".to_owned(),
                begun => format!("this cannot have happened before {}", begun.clock()),
            };
            found.push(
                Finding::new(Code::Contradiction, *place, message)
                    .label(noted.clock())
                    .help("its place or the hands were taken until then by what else is noted"),
            );
        }
        Findings::new(notes.sources.clone(), found)
    }
}
