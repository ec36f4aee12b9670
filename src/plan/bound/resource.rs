//! Hands and places as resources: what each way asks of them, how many there are, in which hours.

use super::hours::{Clock, Overrun};
use super::jobs::{Op, Work};
use super::machine::{in_turn, longest_tail_first};
use super::opening;
use super::way::{Finder, Stage, Way, begins_urgent, by_hand, held, out_urgent, pauses};
use std::collections::BTreeSet;
use tankday_base::shop::{Hands, StationId, Step};
use tankday_base::units::{Moment, Span};

/// What of a way concerns a resource.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Asks {
    /// All work of hands.
    Hands,
    /// What of it is begun on duty only.
    HandsOnDuty,
    /// What is done at these stations and nowhere else.
    Places(Vec<StationId>),
}

/// Something that does one thing at a time in each of its lanes.
pub(super) struct Resource {
    asks: Asks,
    pub(super) lanes: u32,
    /// The time in which it works.
    pub(super) clock: Clock,
    /// Whether nothing begins there but by hands on duty.
    pub(super) on_duty: bool,
}

impl Resource {
    /// All resources of a shop that can hold anything up.
    pub(super) fn all(finder: &Finder<'_>, work: &Work<'_>) -> Vec<Self> {
        let mut all = Vec::new();
        if finder.shop.hands > 0 {
            all.push(Self {
                asks: Asks::Hands,
                lanes: finder.shop.hands,
                clock: Clock::always(),
                on_duty: false,
            });
            all.push(Self {
                asks: Asks::HandsOnDuty,
                lanes: finder.shop.hands,
                clock: finder.hours.on_duty(overrun_of_hands(finder, work)),
                on_duty: false,
            });
        }
        all.extend(
            station_sets(finder, work)
                .into_iter()
                .map(|s| Self::places(finder, work, s)),
        );
        all
    }

    fn places(finder: &Finder<'_>, work: &Work<'_>, stations: Vec<StationId>) -> Self {
        let asks = Asks::Places(stations);
        let (mut on_duty, mut grouped, mut overrun) = (true, false, Overrun::default());
        each_stage(finder, work, |way, stage, step, most| {
            if asks.here(step) {
                on_duty &= by_hand(step) && !begins_urgent(step);
                grouped |= finder.in_groups(step);
                let takes = stage.put + longest(stage, way, most) + stage.take;
                if !pauses(step) {
                    overrun = overrun.max(Overrun::of(takes));
                }
            }
        });
        let Asks::Places(stations) = &asks else {
            return Self {
                asks,
                lanes: 1,
                clock: Clock::always(),
                on_duty: false,
            };
        };
        let lanes = stations.iter().map(|s| {
            let at = &finder.shop.stations[s.index()];
            at.places
                .saturating_mul(if grouped { at.together.max(1) } else { 1 })
        });
        let lanes = lanes.fold(0, u32::saturating_add);
        let clock = if on_duty {
            finder.hours.on_duty(overrun)
        } else {
            Clock::always()
        };
        Self {
            asks,
            lanes,
            clock,
            on_duty,
        }
    }

    /// What a way asks of it: of all ways of a class for the same steps in the same order.
    pub(super) fn ops(&self, finder: &Finder<'_>, way: &Way) -> Vec<Op> {
        let steps = &finder.shop.routes[way.route].steps;
        let mut ops = Vec::new();
        for stage in &way.stages {
            let step = &steps[stage.step];
            match &self.asks {
                Asks::Hands => hand_ops(stage, step, true, &mut ops),
                Asks::HandsOnDuty => hand_ops(stage, step, false, &mut ops),
                Asks::Places(_) if self.asks.here(step) => {
                    let held = held(finder.shop, step);
                    let out = if held { stage.take } else { Span::ZERO };
                    ops.push(Op {
                        step: stage.step,
                        head: stage.start,
                        fixed: stage.put + stage.fixed + out,
                        each: stage.each,
                        tail: stage.take - out + stage.after,
                    });
                }
                Asks::Places(_) => {}
            }
        }
        ops
    }

    /// Whether each thing takes one of its lanes from beginning to end.
    pub(super) const fn is_place(&self) -> bool {
        matches!(self.asks, Asks::Places(_))
    }

    /// The earliest moment by which all that is asked of it can be done, with what must come after it.
    pub(super) fn finish(&self, finder: &Finder<'_>, work: &Work<'_>) -> Moment {
        let ops = |way: &Way| self.ops(finder, way);
        let jobs = work.jobs(&ops);
        let by_work = longest_tail_first(&jobs, self.lanes, &self.clock);
        if self.asks == Asks::Hands {
            return by_work.max(opening::finish(finder, work.ways, &jobs));
        }
        if !self.is_place() {
            return by_work;
        }
        let by_turns = work.heads(&ops).and_then(|(heads, least, tail)| {
            let hours = self.on_duty.then_some(finder.hours);
            in_turn(heads, least, self.lanes, hours)
                .last()
                .map(|end| *end + tail)
        });
        by_turns.map_or(by_work, |end| end.max(by_work))
    }
}

impl Asks {
    fn here(&self, step: &Step) -> bool {
        match self {
            Self::Places(stations) => step.stations.iter().all(|s| stations.contains(s)),
            _ => false,
        }
    }
}

/// Every set of stations that some step names.
fn station_sets(finder: &Finder<'_>, work: &Work<'_>) -> BTreeSet<Vec<StationId>> {
    let mut sets = BTreeSet::new();
    each_stage(finder, work, |_, _, step, _| {
        let mut set = step.stations.clone();
        set.sort_unstable();
        set.dedup();
        if !set.is_empty() {
            sets.insert(set);
        }
    });
    sets
}

/// Every stage of every way, with the most pieces that a lot or load of it can have there.
fn each_stage(finder: &Finder<'_>, work: &Work<'_>, mut told: impl FnMut(&Way, &Stage, &Step, u32)) {
    for class in work.classes {
        let outline = &work.outlines[class.route];
        let steps = &finder.shop.routes[class.route].steps;
        for way in class.ways.iter().map(|w| &work.ways[*w]) {
            for stage in &way.stages {
                let merged = class.merges_before(outline, stage.step);
                let most = if merged {
                    class.most_pieces.max(way.count)
                } else {
                    way.count
                };
                told(way, stage, &steps[stage.step], most);
            }
        }
    }
}

/// The longest that a lot or a load is worked on at a stage.
fn longest(stage: &Stage, way: &Way, most: u32) -> Span {
    let pieces = f64::from(most.max(way.count)) / f64::from(way.count.max(1));
    stage.fixed.max(stage.stay) + stage.each.times(pieces) + Span::micros(1)
}

fn hand_ops(stage: &Stage, step: &Step, urgent: bool, ops: &mut Vec<Op>) {
    let mut ask = |is_urgent: bool, op: Op| {
        if urgent || !is_urgent {
            ops.push(op);
        }
    };
    let begins = begins_urgent(step);
    if step.hands == Hands::Throughout {
        let op = Op {
            step: stage.step,
            head: stage.start,
            fixed: stage.fixed,
            each: stage.each,
            tail: stage.after,
        };
        return ask(begins, op);
    }
    let at_end = |head: Moment, fixed: Span, tail: Span| Op {
        step: stage.step,
        head,
        fixed,
        each: Span::ZERO,
        tail,
    };
    let out = stage.start + stage.put + stage.stay;
    ask(
        begins,
        at_end(stage.start, stage.put, stage.stay + stage.take + stage.after),
    );
    ask(out_urgent(step), at_end(out, stage.take, stage.after));
}

/// How far work of hands that is begun on duty can reach into breaks and beyond closing. Into the night only what takes longer
/// than the shop expects, which does not know of pieces, and taking out.
fn overrun_of_hands(finder: &Finder<'_>, work: &Work<'_>) -> Overrun {
    let mut most = Overrun::default();
    each_stage(finder, work, |way, stage, step, pieces| {
        let begins = begins_urgent(step) || pauses(step);
        if step.hands == Hands::Throughout && !begins {
            let longest = longest(stage, way, pieces);
            most = most.max(Overrun {
                break_by: longest,
                closed_by: longest - stage.fixed,
            });
        }
        if !begins {
            most.break_by = most.break_by.max(stage.put);
        }
        if !out_urgent(step) {
            most = most.max(Overrun::of(stage.take));
        }
    });
    most
}
