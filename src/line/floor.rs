//! The floor of the shop as dispatch sees it: the day, the flow of work, the baths; and what is done where a load and a
//! bath meet.
//!
//! # Known and left
//!
//! - A load fails oftener by what the line knows of it. What it cannot know a part says: `greasy`, `pickled`, `holes
//!   down`, `crevices`. Pickling on the route is not taken for `pickled`.

use super::baths::Baths;
use super::cargo::Wet;
use super::compile::Compiled;
use super::day::Day;
use super::flow::Flow;
use crate::ids::{LoadIx, TankIx};
use tankday_base::shop::StepIx;
use tankday_base::units::Span;
use tankday_record::{Breach, LogEntry};

/// The day, the flow of work, the baths.
pub(super) struct Floor<'a> {
    pub(super) plan: &'a Compiled,
    pub(super) day: Day<'a>,
    pub(super) flow: Flow<'a>,
    pub(super) baths: Baths<'a>,
}

impl Floor<'_> {
    /// A load has gone into a bath: what it meets there. All that happened before is forgotten, but for what its parts
    /// bring with them.
    pub(super) fn meets_bath(&mut self, tank: TankIx, load: LoadIx) {
        if self.plan.inspects {
            let l = &mut self.flow[load];
            l.fate.mishaps = self.baths.meets(tank, &l.cargo, l.fate.brings);
        }
    }

    /// A load has left a bath.
    pub(super) fn left_bath(&mut self, tank: TankIx, load: LoadIx) {
        if self.plan.inspects {
            let l = &mut self.flow[load];
            let stayed = self.day.now() - l.times.begun;
            self.baths
                .judge_stay(tank, &l.cargo, stayed, l.times.planned, &mut l.fate.mishaps);
        }
    }

    /// Counts a load among those that will still come to a bath.
    pub(super) fn coming(&mut self, load: LoadIx, change: i32) {
        let l = &self.flow[load];
        let (plan, looks, source) = (self.plan, l.cargo.looks, l.of.source);
        let route = &plan.routes[l.route];
        let mut left = route.coats & !l.done;
        while left != 0 {
            let step = StepIx(left.trailing_zeros());
            left &= left - 1;
            if let Some(bath) = route.steps[step].bath {
                let takes = &plan.orders[source].takes;
                self.baths.coming_to(&mut self.day, bath, takes, !looks, change);
            }
        }
    }

    /// A load is kept out of its bath for the rest of the day, or no longer: a bath that nothing goes into today is not kept hot.
    pub(super) fn put_off(&mut self, load: LoadIx, off: bool) {
        if std::mem::replace(&mut self.flow[load].put_off, off) == off {
            return;
        }
        self.coming(load, if off { -1 } else { 1 });
        if off {
            self.baths.stand_idle(&mut self.day, None);
        }
    }

    /// A load that failed comes to its baths once more.
    pub(super) fn coming_again(&mut self, load: LoadIx, before: u64) {
        let now = self.flow[load].done;
        self.flow[load].done = before;
        self.coming(load, -1);
        self.flow[load].done = now;
        self.coming(load, 1);
    }

    /// How long the work of a step takes for a load that is just beginning it.
    pub(super) fn planned_time(&mut self, load: LoadIx) -> Span {
        let l = &self.flow[load];
        let (station, pieces) = (l.station, l.cargo.pieces);
        match &self.flow.step_of(load).work {
            Some((spread, each)) => {
                let once = self.flow.time(load, spread);
                if *each == Span::ZERO {
                    once
                } else {
                    once + each.times(f64::from(pieces))
                }
            }
            None => match self.plan.stations[station].tank {
                Some(tank) => {
                    let spread = self.baths.dwell_drawn(tank);
                    let drawn = spread.map(|s| self.flow.time(load, s));
                    let cargo = &self.flow[load].cargo;
                    self.baths.enter_bath(&mut self.day, tank, load, cargo, drawn)
                }
                None => Span::ZERO,
            },
        }
    }

    /// A load is being lifted: says so if a break began while it was in that nobody stays for.
    pub(super) fn told_of_break(&mut self, load: LoadIx) {
        let (step, begun) = (self.flow.step_of(load), self.flow[load].times.begun);
        let (set_in, out) = (begun - step.put_in, self.day.now() + step.take_out);
        let Some(first) = self.day.first_break_within(set_in, out) else {
            return;
        };
        let (by, no, step) = (out - first.from, self.flow[load].no, self.flow.step_ref(load));
        self.day.note(|| LogEntry::Breaks {
            load: no,
            step,
            what: Breach::InAtBreak { by },
        });
    }

    /// A load begins a step: if that is a rinse, it passes the tubs; anywhere else it is dried, or rinsed in water that
    /// nobody counts.
    pub(super) fn dips(&mut self, load: LoadIx) {
        let l = &mut self.flow[load];
        match self.baths.dip(&mut self.day, l.station, l.no, &l.fate.wet) {
            Some(met) => l.fate.mishaps = l.fate.mishaps.and(met),
            None => l.fate.wet = Wet::DRY,
        }
    }

    /// A load leaves a station: if that is a rinse, with the water of its last tub.
    pub(super) fn out_of_rinse(&mut self, load: LoadIx) {
        let l = &mut self.flow[load];
        if let Some(strength) = self.baths.out_of_rinse(&self.day, l.station) {
            l.fate.wet.strength = strength;
        }
    }
}
