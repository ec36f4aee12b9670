//! What is done in which order, as a plan file says it, held against the routes, the hours and the dwell windows.

use super::loads::Grouped;
use super::{Meant, Reader, unknown};
use crate::names;
use std::collections::BTreeMap;
use tankday_base::shop::{Hands, StationId};
use tankday_base::units::{Moment, Span};
use tankday_line::Plan;
use tankday_scenario::{Code, Finding, SourceSpan, Spanned, Whose, WrittenTask};

/// A task that is understood.
#[derive(Clone, Copy)]
pub(super) struct Known {
    pub(super) task: u32,
    pub(super) lot: u32,
    pub(super) step: u32,
    pub(super) out: bool,
    pub(super) at: SourceSpan,
    pub(super) time: Option<Spanned<Moment>>,
}

/// A dwell that is off by less than this is as written to the second.
const TOLERANCE: Span = Span::micros(1_500_000);

impl<'a> Reader<'a> {
    pub(super) fn tasks(&mut self, grouped: Grouped<'a>) -> Meant {
        let file = self.file;
        let known: Vec<Known> = file
            .tasks
            .iter()
            .filter_map(|t| self.known(t, &grouped))
            .collect();
        let known = self.once(known, &grouped.plan);
        self.in_route_order(&known, &grouped);
        self.in_time_order(&known);
        self.in_hours(&known, &grouped.plan);
        self.in_windows(&known, &grouped);
        let (care, heat) = (self.care(&grouped), self.heat());
        let Grouped {
            mut plan,
            head,
            tank,
            lots,
            members,
        } = grouped;
        plan.group(&head, &tank);
        names::keep(&mut plan, &members);
        plan.sequence(&known.iter().map(|k| k.task).collect::<Vec<_>>());
        plan.keeping = file.keeping;
        plan.care = care.iter().map(|c| (c.tank, c.kind, c.time)).collect();
        plan.calls = care
            .iter()
            .filter_map(|c| Some((c.tank, c.kind, c.after?)))
            .collect();
        plan.heat = heat;
        let mut places = vec![None; plan.rank.len()];
        for k in &known {
            places[k.task as usize] = Some(k.at);
            plan.hold[k.task as usize] = k.time.map_or(Moment::ZERO, |t| t.value);
        }
        Meant {
            plan,
            places,
            lots,
            care: care.into_iter().map(|c| c.at).collect(),
        }
    }

    /// Which task is meant.
    pub(super) fn known(&mut self, task: &WrittenTask, grouped: &Grouped<'_>) -> Option<Known> {
        let plan = &grouped.plan;
        let (lot, by_load) = match &task.whose {
            Whose::Order(name, nth) => (self.lot_of(name, *nth, plan)?, false),
            Whose::Load(name) => match grouped.members.get(name.value.as_str()) {
                Some(members) => (*members.iter().min()?, true),
                None => {
                    let loads: Vec<&str> = self.file.loads.iter().map(|l| l.id.value.as_str()).collect();
                    if !loads.contains(&name.value.as_str()) {
                        self.add(unknown(name.at, "load", &name.value, &loads));
                    }
                    return None;
                }
            },
        };
        let planned = &plan.lots[lot as usize];
        let route = &self.shop.routes[planned.route as usize];
        let own = |s: &u32| planned.skip & (1 << s) == 0;
        let name = |s: u32| route.steps[s as usize].name.as_str();
        let step = (0..planned.steps)
            .filter(own)
            .find(|&s| name(s) == task.step.value);
        let Some(step) = step else {
            let steps: Vec<&str> = (0..planned.steps).filter(own).map(name).collect();
            let mut finding = unknown(task.step.at, "step", &task.step.value, &steps);
            finding.message = format!("the route `{}` has no step `{}`", route.name, task.step.value);
            self.add(finding);
            return None;
        };
        let with_load = planned.bath_step.is_some_and(|b| step >= b);
        let lot = if with_load {
            grouped.head[lot as usize]
        } else {
            lot
        };
        let size = grouped
            .head
            .iter()
            .filter(|h| **h == grouped.head[lot as usize])
            .count();
        if by_load && !with_load && size > 1 {
            self.add(
                Finding::new(
                    Code::Route,
                    task.at,
                    format!(
                        "`{}` comes before the bath, where each order goes by itself",
                        task.step.value
                    ),
                )
                .help("name the order instead of the load, and write one task for each"),
            );
            return None;
        }
        let at = &route.steps[step as usize];
        if task.out && !(at.hands == Hands::Ends && at.take_out > Span::ZERO) {
            self.add(
                Finding::new(
                    Code::Hands,
                    task.step.at,
                    format!("nobody takes anything out of `{}`", at.name),
                )
                .help("remove this task: the step ends by itself, or under the hands that do it"),
            );
            return None;
        }
        Some(Known {
            task: plan.task(lot, step) + u32::from(task.out),
            lot,
            step,
            out: task.out,
            at: task.at,
            time: task.time,
        })
    }

    pub(super) fn lot_of(&mut self, name: &Spanned<String>, nth: u32, plan: &Plan) -> Option<u32> {
        let Some(&order) = self.names.orders.get(name.value.as_str()) else {
            self.no_such_order(name.at, &name.value);
            return None;
        };
        let lots = plan.lots.iter().filter(|l| l.order == order).count() as u32;
        let own = plan.lots.iter().filter(|l| l.order == order);
        let pieces: u64 = own.map(|l| u64::from(l.pieces)).sum();
        if nth > lots && pieces != u64::from(self.shop.orders[order as usize].count) {
            // Told already: its pieces do not add up.
            return None;
        }
        if nth > lots {
            let have = if lots == 1 {
                "1 lot".to_owned()
            } else {
                format!("{lots} lots")
            };
            self.add(
                Finding::new(
                    Code::UnknownName,
                    name.at,
                    format!("{} has no lot {nth}", name.value),
                )
                .help(format!("the loads divide it into {have}")),
            );
            return None;
        }
        Some(plan.first_lot(order as usize)? + nth - 1)
    }

    /// Each task stands once.
    fn once(&mut self, known: Vec<Known>, plan: &Plan) -> Vec<Known> {
        let mut seen: BTreeMap<u32, SourceSpan> = BTreeMap::new();
        let mut kept = Vec::new();
        for k in known {
            if let Some(first) = seen.get(&k.task) {
                let words = self.words(&k, plan);
                self.add(
                    Finding::new(Code::Duplicate, k.at, format!("{words} is used twice"))
                        .label("again")
                        .and(*first, "first here")
                        .help("remove one of the two"),
                );
                continue;
            }
            seen.insert(k.task, k.at);
            kept.push(k);
        }
        kept
    }

    /// A task in words: `` `blast` of A1 ``.
    pub(super) fn words(&self, k: &Known, plan: &Plan) -> String {
        let lot = &plan.lots[k.lot as usize];
        let step = &self.shop.routes[lot.route as usize].steps[k.step as usize].name;
        let out = if k.out { "taking out of " } else { "" };
        format!("{out}`{step}` of {}", self.order_name(lot.order))
    }

    /// What must be done before stands before.
    fn in_route_order(&mut self, known: &[Known], grouped: &Grouped<'_>) {
        let plan = &grouped.plan;
        let mut found = Vec::new();
        for (i, late) in known.iter().enumerate() {
            // The first thing behind this line that must be done before it.
            let early = known[i + 1..]
                .iter()
                .find(|k| self.must_precede(k, late, grouped));
            if let Some(early) = early {
                let (first, then) = (self.words(early, plan), self.words(late, plan));
                found.push(
                    Finding::new(Code::Route, late.at, format!("{then} stands before {first}"))
                        .label("too early")
                        .and(early.at, "this must be done first")
                        .help("put the two lines the other way round"),
                );
            }
        }
        found.into_iter().for_each(|f| self.add(f));
    }

    pub(super) fn must_precede(&self, a: &Known, b: &Known, grouped: &Grouped<'_>) -> bool {
        let plan = &grouped.plan;
        if a.lot == b.lot && a.step == b.step {
            return !a.out && b.out;
        }
        // A load has all of its members' steps before it; before the bath each goes by itself.
        let with_load = plan.lots[b.lot as usize].bath_step.is_some_and(|s| b.step >= s);
        let together = a.lot == b.lot || (with_load && grouped.head[a.lot as usize] == b.lot);
        together
            && plan.lots[a.lot as usize].route == plan.lots[b.lot as usize].route
            && plan.comes_before(self.line, a.lot, a.step, b.step)
    }

    /// A load is taken out neither before its shortest nor after its longest stay.
    pub(super) fn in_windows(&mut self, known: &[Known], grouped: &Grouped<'_>) {
        let plan = &grouped.plan;
        for out in known.iter().filter(|k| k.out) {
            let began = known.iter().find(|k| k.task + 1 == out.task);
            let (Some(in_at), Some(out_at)) = (began.and_then(|b| b.time), out.time) else {
                continue;
            };
            let members = (0..plan.lots.len()).filter(|&l| grouped.head[l] == grouped.head[out.lot as usize]);
            let Some((least, most)) = self.window(plan, members, out) else {
                continue;
            };
            let lot = &plan.lots[out.lot as usize];
            let step = &self.shop.routes[lot.route as usize].steps[out.step as usize];
            let stays = out_at.value - in_at.value - step.put_in;
            let said = |s: Span| tankday_base::print::number(s.in_minutes(), 1);
            let (label, help) = if stays + TOLERANCE < least {
                (
                    format!("after {} min", said(stays.max(Span::ZERO))),
                    format!("it must stay for at least {} min", said(least)),
                )
            } else if stays > most + TOLERANCE {
                (
                    format!("after {} min", said(stays)),
                    format!("it may stay for at most {} min", said(most)),
                )
            } else {
                continue;
            };
            let words = self.words(out, plan);
            self.add(
                Finding::new(Code::Bath, out_at.at, format!("{words} lies outside its window"))
                    .label(label)
                    .and(in_at.at, "in")
                    .help(help),
            );
        }
    }

    /// Shortest and longest stay at a step; none where any will do.
    fn window(&self, plan: &Plan, members: impl Iterator<Item = usize>, k: &Known) -> Option<(Span, Span)> {
        let lot = &plan.lots[k.lot as usize];
        let step = &self.shop.routes[lot.route as usize].steps[k.step as usize];
        let bath = step
            .stations
            .first()
            .and_then(|s| self.shop.stations[s.index()].tank.as_ref());
        let Some(bath) = bath else {
            return step.most.map(|most| (Span::ZERO, most));
        };
        let recipe = &self.shop.baths[bath.bath.index()];
        let (mut least, mut most) = (recipe.least, recipe.most);
        if Some(k.step) == lot.bath_step {
            for member in members {
                least = least.max(plan.lots[member].window.0);
                most = most.min(plan.lots[member].window.1);
            }
        }
        Some((least, most))
    }

    fn heat(&mut self) -> Vec<(StationId, Moment)> {
        let mut heats = Vec::new();
        for heat in &self.file.heat {
            heats.extend(self.tank(&heat.tank).map(|tank| (tank, heat.ready.value)));
        }
        heats
    }

    /// The tank of that name.
    pub(super) fn tank(&mut self, name: &Spanned<String>) -> Option<StationId> {
        let station = self.names.stations.get(name.value.as_str()).copied();
        let tank = station.filter(|s| self.shop.stations[*s as usize].tank.is_some());
        if tank.is_none() {
            let tanks: Vec<&str> = self.shop.tanks().map(|(_, s, _)| s.name.as_str()).collect();
            self.add(unknown(name.at, "tank", &name.value, &tanks));
        }
        tank.map(StationId)
    }
}
