//! A day that is under way: what was noted is taken as it is, and the rest is planned.
//!
//! What went into a bath goes in at its noted time again, since the bath remembers it; every other step that was done
//! counts as done before anything is simulated; a step that was begun begins at its noted time. All else begins after
//! the time at which the rest is planned.

use super::loads::{Grouped, SaidLot};
use super::{Names, Reader, unknown};
use crate::line::{Line, Plan};
use crate::plan::{Effort, Found, plan_on};
use crate::scenario::{Code, Finding, Findings, NotedStep, Notes, Place, PlanFile, Spot, Whose, WrittenLoad};
use crate::shop::{Arrival, Shop};
use crate::units::{Moment, Span};
use std::collections::BTreeMap;
use std::sync::atomic::AtomicBool;

/// The rest of a day.
#[derive(Debug, Clone)]
pub struct Rest {
    /// The shop, orders that are late coming when they come.
    pub shop: Shop,
    /// What is settled.
    pub settled: Plan,
    /// Where the tasks that began are noted.
    places: BTreeMap<usize, Place>,
}

impl Rest {
    /// Searches for a plan of the rest, as [`plan`](crate::plan::plan) does for a whole day.
    #[must_use]
    pub fn plan(
        &self,
        seed: u64,
        effort: Effort,
        stop: &AtomicBool,
        told: &(impl Fn(f64) + Sync),
    ) -> Option<Found> {
        plan_on(&self.shop, Some(&self.settled), seed, effort, stop, told)
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
    let settled = noted.settled(&mut reader, grouped, &mut places);
    let found = reader.found;
    if found.is_empty() {
        let shop = late.clone();
        return Ok(Rest {
            shop,
            settled,
            places,
        });
    }
    Err(Findings::new(notes.sources.clone(), found))
}

/// Lots of known orders whose pieces are noted.
fn said_lots(notes: &Notes, reader: &Reader<'_>) -> Vec<SaidLot> {
    let said = notes.done.iter().filter_map(|note| match &note.whose {
        Whose::Order(name, nth) => {
            let order = reader.names.orders.get(name.value.as_str())?;
            Some((*order, *nth, note.pieces?))
        }
        Whose::Load(_) => None,
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
        strictly: false,
        loads: loads.collect(),
        loads_at: Place::default(),
        tasks: Vec::new(),
        care: Vec::new(),
        heat: Vec::new(),
    }
}

pub(super) struct Noted<'n> {
    pub(super) notes: &'n Notes,
    pub(super) at: Moment,
}

/// A lot's noted step, with the places of its times.
pub(super) struct Passed {
    pub(super) step: u32,
    pub(super) begun: Option<Spot<Moment>>,
    pub(super) done: Option<Spot<Moment>>,
}

impl Noted<'_> {
    fn settled<'a>(
        &self,
        reader: &mut Reader<'a>,
        grouped: Grouped<'a>,
        places: &mut BTreeMap<usize, Place>,
    ) -> Plan {
        self.not_in_the_future(reader);
        self.one_at_a_time(reader, &grouped);
        let mut plan = grouped.plan.clone();
        plan.group(&grouped.head, &grouped.tank);
        self.bathe(reader, &grouped, &mut plan, places);
        let mut passed: BTreeMap<u32, Vec<Passed>> = BTreeMap::new();
        for note in &self.notes.done {
            self.step(reader, &grouped, note, &mut passed);
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
        places: &mut BTreeMap<usize, Place>,
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

    /// Finds out which step of which lots is meant.
    fn step(
        &self,
        reader: &mut Reader<'_>,
        grouped: &Grouped<'_>,
        note: &NotedStep,
        passed: &mut BTreeMap<u32, Vec<Passed>>,
    ) {
        let plan = &grouped.plan;
        let lot = match &note.whose {
            Whose::Order(name, nth) => reader.lot_of(name, *nth, plan),
            Whose::Load(name) => {
                let load = grouped
                    .members
                    .get(name.value.as_str())
                    .and_then(|m| m.iter().min().copied());
                if load.is_none() {
                    let loads: Vec<&str> = self.notes.loads.iter().map(|l| l.id.value.as_str()).collect();
                    // One that is written and could not be understood was told already.
                    if !loads.contains(&name.value.as_str()) {
                        reader.add(unknown(name.at, "load", &name.value, &loads));
                    }
                }
                load
            }
        };
        let Some(lot) = lot else { return };
        let planned = &plan.lots[lot as usize];
        let route = &reader.shop.routes[planned.route as usize];
        let own: Vec<u32> = (0..planned.steps)
            .filter(|s| planned.skip & (1 << s) == 0)
            .collect();
        let name = |s: u32| route.steps[s as usize].name.as_str();
        let step = match &note.step {
            None => own.last().copied(),
            Some(named) => {
                let step = own.iter().copied().find(|&s| name(s) == named.value);
                if step.is_none() {
                    let steps: Vec<&str> = own.iter().map(|s| name(*s)).collect();
                    let mut finding = unknown(named.at, "step", &named.value, &steps);
                    finding.message = format!("the route `{}` has no step `{}`", route.name, named.value);
                    reader.add(finding);
                }
                step
            }
        };
        let Some(step) = step else { return };
        if planned.bath_step == Some(step) {
            reader.add(
                Finding::new(
                    Code::Contradiction,
                    note.at,
                    format!("`{}` happens in a bath", name(step)),
                )
                .help("note it under `loads`: which tank, what the load holds, when it went in and came out"),
            );
            return;
        }
        let times = [note.begun, note.done].into_iter().flatten();
        let planned = planned.clone();
        for time in times {
            self.not_before_it_came(reader, &planned, time);
        }
        let with_load = planned.bath_step.is_some_and(|b| step >= b);
        let lot = if with_load {
            grouped.head[lot as usize]
        } else {
            lot
        };
        passed.entry(lot).or_default().push(Passed {
            step,
            begun: note.begun,
            done: note.done,
        });
    }

    /// Marks what a lot, or from the bath on its load, has passed.
    fn pass(
        &self,
        reader: &mut Reader<'_>,
        grouped: &Grouped<'_>,
        plan: &mut Plan,
        lot: u32,
        steps: &[Passed],
    ) {
        let planned = plan.lots[lot as usize].clone();
        let members: Vec<u32> = (0..plan.lots.len() as u32)
            .filter(|&l| grouped.head[l as usize] == grouped.head[lot as usize])
            .collect();
        let bathed = self.notes.loads.iter().find(|l| {
            grouped
                .members
                .get(l.id.value.as_str())
                .is_some_and(|m| m.contains(&lot))
        });
        for p in steps {
            let with_load = planned.bath_step.is_some_and(|b| p.step >= b);
            let place = p.done.or(p.begun).map_or(Place::default(), |t| t.at);
            if with_load {
                self.out_of_the_bath(reader, bathed, p, place);
            }
            let lots: &[u32] = if with_load {
                &members
            } else {
                std::slice::from_ref(&lot)
            };
            for &l in lots {
                let mut past = 0;
                for s in 0..planned.steps {
                    let before =
                        plan.comes_before(reader.line, l, s, p.step) || (s == p.step && p.done.is_some());
                    // A bath is gone through again where it is known when.
                    let again = planned.bath_step == Some(s) && bathed.is_some();
                    if before && !again {
                        past |= 1 << s;
                    }
                }
                let own = &mut plan.lots[l as usize];
                own.past |= past;
                if let Some(until) = p.done.or(p.begun) {
                    let known = own.past_until < Moment::NEVER;
                    own.past_until = if known {
                        own.past_until.max(until.value)
                    } else {
                        until.value
                    };
                }
            }
        }
        self.in_order(reader, plan, lot, steps);
        for p in steps.iter().filter(|p| p.done.is_none()) {
            if let Some(begun) = p.begun {
                let task = plan.task(lot, p.step) as usize;
                plan.pinned[task] = true;
                plan.hold[task] = begun.value;
            }
        }
    }
}

/// Whether a bath went in as noted to within this, or the notes contradict themselves.
const HAIR: Span = Span::whole_minutes(2);

impl Rest {
    /// Notes that the line cannot follow: loads that could not have gone in or come out when it is written.
    #[must_use]
    pub fn contradictions(&self, notes: &Notes) -> Findings {
        let line = Line::new(&self.shop);
        let timed = crate::plan::timed(&self.shop, &line, &self.settled, None);
        let mut found = Vec::new();
        for (&task, place) in &self.places {
            let (noted, begun) = (self.settled.hold[task], timed.begun[task]);
            if begun <= noted + HAIR {
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
