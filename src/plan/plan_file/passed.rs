//! Steps that are noted as begun or done: of which lots, and what has passed with them.

use super::loads::Grouped;
use super::noted::Noted;
use super::{Reader, unknown};
use std::collections::BTreeMap;
use tankday_base::print::list;
use tankday_base::shop::Shop;
use tankday_base::units::Moment;
use tankday_line::{Plan, PlanLot};
use tankday_scenario::{Code, Finding, Lots, NotedStep, NotedWhose, SourceSpan, Spanned};

/// A lot's noted step, with the places of its times.
pub(super) struct Passed {
    /// Where the note stands.
    pub(super) note: SourceSpan,
    pub(super) step: u32,
    pub(super) begun: Option<Spanned<Moment>>,
    pub(super) done: Option<Spanned<Moment>>,
}

/// The step of some lots that a note speaks of; the last one where it names none.
pub(super) struct Meant {
    pub(super) lots: Vec<u32>,
    pub(super) step: u32,
}

impl Noted<'_> {
    /// Takes a noted step: which lots it is of, and which of their steps; none if that cannot be found out.
    pub(super) fn step(
        &self,
        reader: &mut Reader<'_>,
        grouped: &Grouped<'_>,
        note: &NotedStep,
        passed: &mut BTreeMap<u32, Vec<Passed>>,
    ) -> Option<Meant> {
        let lots = self.lots(reader, grouped, note)?;
        let planned = grouped.plan.lots.get(*lots.first()? as usize)?.clone();
        let step = self.which(reader, &planned, note)?;
        if planned.bath_step == Some(step) {
            let name = &reader.shop.routes[planned.route as usize].steps[step as usize].name;
            reader.add(
                Finding::new(
                    Code::Contradiction,
                    note.at,
                    format!("`{name}` happens in a bath"),
                )
                .help("note it under `loads`: which tank, what the load holds, when it went in and came out"),
            );
            return None;
        }
        for time in [note.begun, note.done].into_iter().flatten() {
            self.not_before_it_came(reader, &planned, time);
        }
        let with_load = planned.bath_step.is_some_and(|b| step >= b);
        for &lot in &lots {
            let whose = if with_load {
                grouped.head[lot as usize]
            } else {
                lot
            };
            let own = passed.entry(whose).or_default();
            if let Some(first) = own.iter().find(|p| p.step == step && p.note != note.at) {
                let several = grouped
                    .plan
                    .lots
                    .iter()
                    .filter(|l| l.order == planned.order)
                    .count()
                    > 1;
                reader.add(noted_twice(
                    reader.shop,
                    &planned,
                    step,
                    [note.at, first.note],
                    several,
                ));
                return None;
            }
            own.push(Passed {
                note: note.at,
                step,
                begun: note.begun,
                done: note.done,
            });
        }
        Some(Meant { lots, step })
    }

    /// The lots of a note.
    fn lots(&self, reader: &mut Reader<'_>, grouped: &Grouped<'_>, note: &NotedStep) -> Option<Vec<u32>> {
        let plan = &grouped.plan;
        match &note.whose {
            NotedWhose::Load(name) => {
                let members = grouped.members.get(name.value.as_str());
                let load = members.and_then(|m| m.iter().min().copied());
                let loads: Vec<&str> = self.notes.loads.iter().map(|l| l.id.value.as_str()).collect();
                // One that is written and could not be understood was told already.
                if load.is_none() && !loads.contains(&name.value.as_str()) {
                    reader.add(unknown(name.at, "load", &name.value, &loads));
                }
                Some(vec![load?])
            }
            NotedWhose::Order(name, lots) => {
                let first = reader.lot_of(name, 1, plan)?;
                let order = plan.lots[first as usize].order;
                let all: Vec<u32> = (0..)
                    .zip(&plan.lots)
                    .filter(|(_, l)| l.order == order)
                    .map(|(l, _)| l)
                    .collect();
                match lots {
                    Lots::One(nth) => Some(vec![reader.lot_of(name, *nth, plan)?]),
                    Lots::All => Some(all),
                    // The one whose pieces are said; and with no step named all of the order is done.
                    Lots::Unsaid if note.pieces.is_some() => Some(vec![first]),
                    Lots::Unsaid if all.len() < 2 || note.step.is_none() => Some(all),
                    Lots::Unsaid => {
                        reader.add(which_lot(name, &all, &plan.lots));
                        None
                    }
                }
            }
        }
    }

    /// The step that a note names.
    fn which(&self, reader: &mut Reader<'_>, planned: &PlanLot, note: &NotedStep) -> Option<u32> {
        let route = &reader.shop.routes[planned.route as usize];
        let own: Vec<u32> = (0..planned.steps)
            .filter(|s| planned.skip & (1 << s) == 0)
            .collect();
        let Some(named) = &note.step else {
            return own.last().copied();
        };
        let name = |s: u32| route.steps[s as usize].name.as_str();
        // A step before the bath may be called as one behind it.
        let behind = |s: u32| planned.bath_step.is_some_and(|b| s > b);
        let load = matches!(note.whose, NotedWhose::Load(_));
        let so_called = || own.iter().copied().filter(|&s| name(s) == named.value);
        let step = so_called()
            .find(|&s| behind(s) == load)
            .or_else(|| so_called().next());
        if step.is_none() {
            let steps: Vec<&str> = own.iter().map(|s| name(*s)).collect();
            let mut finding = unknown(named.at, "step", &named.value, &steps);
            finding.message = format!("the route `{}` has no step `{}`", route.name, named.value);
            reader.add(finding);
        }
        step
    }

    /// Marks what a lot, or from the bath on its load, has passed.
    pub(super) fn pass(
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
            let place = p.done.or(p.begun).map_or(SourceSpan::default(), |t| t.at);
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

/// A step is noted a second time for the same pieces.
fn noted_twice(
    shop: &Shop,
    lot: &PlanLot,
    step: u32,
    [at, first]: [SourceSpan; 2],
    several: bool,
) -> Finding {
    let order = shop.orders.get(lot.order as usize).map_or("", |o| o.id.as_str());
    let route = shop.routes.get(lot.route as usize);
    let step = route
        .and_then(|r| r.steps.get(step as usize))
        .map_or("", |s| s.name.as_str());
    let help = if several {
        "say which lot each is of, such as `lot: 2`; when one was begun and when it was done stand in one note"
    } else {
        "remove one of the two; when it was begun and when it was done stand in one note"
    };
    Finding::new(
        Code::Duplicate,
        at,
        format!("`{step}` is noted a second time for the same pieces of {order}"),
    )
    .label("again")
    .and(first, "first here")
    .help(help)
}

/// Asks which lot of several is meant.
fn which_lot(name: &Spanned<String>, all: &[u32], lots: &[PlanLot]) -> Finding {
    let pieces: Vec<String> = all.iter().map(|l| lots[*l as usize].pieces.to_string()).collect();
    let numbers: Vec<String> = (1..=all.len()).map(|n| format!("`lot: {n}`")).collect();
    Finding::new(
        Code::Missing,
        name.at,
        format!(
            "{} goes in {} lots: which of them is meant?",
            name.value,
            all.len()
        ),
    )
    .label(format!("lots of {} pieces", list(&pieces)))
    .help(format!("write {} or `lot: all`", numbers.join(", ")))
}
