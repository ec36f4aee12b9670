//! Back and forth between timetable and line: the best days of the timetable are judged by the line, and the line says
//! how long loads stay and when baths are hot.

use super::anneal::{Cooling, anneal, by_rules};
use super::compile::{Compiled, moment, secs};
use super::dispatch::{Dispatcher, Trace};
use super::model::{FAR, NOWHERE, Secs, Timetable};
use super::pace::Pace;
use super::rolling::{MANY, rolled};
use super::state::State;
use crate::change::set_load;
use crate::effort::Effort;
use crate::hot::in_band;
use crate::model::{Evaluated, NONE, SearchContext, Solution};
use crate::try_out::Bench;
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};
use tankday_base::shop::HeatOn;
use tankday_base::units::Moment;

/// How hot the later rounds begin, as a part of the first.
const REHEATED: f64 = 0.25;

impl SearchContext<'_> {
    /// Days found in a timetable of the shop and run by the line.
    pub(crate) fn timetabled(
        &self,
        starts: &[(Solution, Evaluated)],
        effort: Effort,
        seed: u64,
        (stop, bench): (&AtomicBool, &mut Bench),
    ) -> Vec<(Solution, Evaluated)> {
        let Some(mut compiled) = self.first_compiled(starts) else {
            return Vec::new();
        };
        let mut states: Vec<State> = by_rules(&compiled.table);
        for (g, tried) in starts {
            compiled.learn_dwells(self, g, tried);
            states.push(self.state_of(&compiled, g, tried));
        }
        let Pace {
            days,
            islands,
            rounds,
        } = Pace::of(self, &compiled.table, &states, effort);
        // Of many lots each gets as many days as of few.
        let rolling = days * (self.lots() / MANY) as u64;
        if let Some((state, days)) = rolled(&compiled.table, (rolling, seed), stop) {
            states.push(state);
            bench.dispatched += days;
        }
        states = best_of(&compiled.table, states, islands as usize);
        let mut found: Vec<(Solution, Evaluated, State)> = Vec::new();
        for (round, share) in (0u64..).zip(rounds) {
            if states.is_empty() || stop.load(Ordering::Relaxed) {
                break;
            }
            let heat = if round == 0 { 1.0 } else { REHEATED };
            let new: Vec<(State, u64)> = (0..islands)
                .into_par_iter()
                .map(|i| {
                    let how = Cooling {
                        days: days * share / 100 / islands,
                        heat,
                        seed: seed ^ (round * 64 + i + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15),
                    };
                    let from = &states[i as usize % states.len()];
                    let (state, _, days) = anneal(&compiled.table, from, how, stop);
                    (state, days)
                })
                .collect();
            bench.dispatched += new.iter().map(|n| n.1).sum::<u64>();
            for (state, _) in new {
                for (g, tried) in self.judged_by_line(&compiled, &state, bench) {
                    compiled.learn_dwells(self, &g, &tried);
                    compiled.learn_hot(self, &g, &tried);
                    found.push((g, tried, state.clone()));
                }
            }
            found.sort_by(|a, b| a.1.judged.cost.total_cmp(&b.1.judged.cost));
            found.dedup_by(|a, b| a.2 == b.2);
            states = found.iter().take(islands as usize).map(|f| f.2.clone()).collect();
        }
        found.into_iter().map(|(g, tried, _)| (g, tried)).collect()
    }

    /// The timetable with what the first days say of durations; none if the shop has none.
    pub(super) fn first_compiled(&self, starts: &[(Solution, Evaluated)]) -> Option<Compiled> {
        self.compiled(&self.dwells(starts), &self.hot(starts), &self.free(starts))
    }

    /// A day of the timetable as the line runs it: in its order as soon as can be, and at its times.
    fn judged_by_line(
        &self,
        compiled: &Compiled,
        state: &State,
        bench: &mut Bench,
    ) -> Vec<(Solution, Evaluated)> {
        let Some((g, times)) = self.decision(compiled, state) else {
            return Vec::new();
        };
        let run = |at: Option<&[Moment]>| {
            let mut bench = self.bench();
            let tried = match at {
                Some(times) => self.try_at(&g, times, f64::INFINITY, &mut bench),
                None => self.try_out(&g, true, f64::INFINITY, &mut bench),
            };
            (tried, bench.runs)
        };
        let (soon, timed) = rayon::join(|| run(None), || run(Some(&times)));
        bench.runs += soon.1 + timed.1;
        let mut runs: Vec<(Solution, Evaluated)> = [soon.0, timed.0]
            .into_iter()
            .flatten()
            .map(|t| (g.clone(), t))
            .collect();
        // Nothing would be learned of a day that the line cannot mend, or on which it stands still at once, and the next would
        // be no better.
        if runs.iter().all(|r| r.1.judged.unready > 0) {
            runs.extend(self.try_out(&g, false, f64::INFINITY, bench).map(|t| (g, t)));
        }
        runs
    }

    /// A day of the timetable as a decision, and when each task begins.
    fn decision(&self, compiled: &Compiled, state: &State) -> Option<(Solution, Vec<Moment>)> {
        let mut clerk = StartObserver::default();
        Dispatcher::new(&compiled.table).day(state, f64::INFINITY, &mut clerk)?;
        let mut g = self.plain();
        let mut times = vec![Moment::NEVER; g.key.len()];
        let mut serial: Vec<(Secs, u32)> = Vec::new();
        for (lot, stage, at) in clerk.prepares {
            compiled.tell(self, u32::from(lot), stage, at, &mut times, &mut serial);
        }
        for &load in &state.order {
            let lots: Vec<u32> = state.members(load).map(u32::from).collect();
            let pool = state.pool[load as usize];
            if pool == NOWHERE {
                continue;
            }
            let tank = clerk.tanks.iter().find(|t| t.0 == load).map_or(0, |t| t.1);
            let tank = compiled.tanks[pool as usize].get(tank as usize)?.0;
            if !self.one_load(lots.iter().copied(), tank) {
                return None;
            }
            set_load(&mut g, &lots, tank);
        }
        for (load, stage, at) in clerk.goes_on {
            let head = state.members(load).next().map_or(NONE, u32::from);
            compiled.tell(self, head, stage, at, &mut times, &mut serial);
        }
        serial.sort_by_key(|s| s.0);
        for (i, (_, task)) in serial.iter().enumerate() {
            g.key[*task as usize] = (i as i64) << 16;
        }
        self.share_keys(&mut g);
        self.push_later(&mut g);
        for time in &mut times {
            if *time == Moment::NEVER {
                *time = Moment::ZERO;
            }
        }
        Some((g, times))
    }

    /// How long each lot was seen to stay at least in its bath.
    fn dwells(&self, starts: &[(Solution, Evaluated)]) -> Vec<Secs> {
        let mut dwells = vec![FAR; self.lots()];
        for (g, tried) in starts {
            for lot in 0..self.lots() as u32 {
                if let Some(stay) = self.stayed(g, tried, lot) {
                    dwells[lot as usize] = dwells[lot as usize].min(stay);
                }
            }
        }
        for (dwell, least) in dwells.iter_mut().zip(&self.dwell) {
            if *dwell == FAR {
                *dwell = secs(least.in_micros());
            }
        }
        dwells
    }

    /// From the end of putting in to the moment from which a load could be lifted.
    pub(super) fn stayed(&self, g: &Solution, tried: &Evaluated, lot: u32) -> Option<Secs> {
        let head = g.head[lot as usize];
        let step = self.blank.lots[head as usize].bath_step?;
        let task = self.blank.task(head, step) as usize;
        let (begun, over) = (tried.begun[task], tried.ended[task]);
        if begun == Moment::NEVER || over == Moment::NEVER {
            return None;
        }
        let stay = secs((over - begun - self.put_in(head, step)).in_micros());
        let least = self
            .members(g, head)
            .into_iter()
            .map(|l| self.dwell[l as usize])
            .max();
        (stay >= 0).then_some(stay.max(secs(least.unwrap_or_default().in_micros())))
    }

    /// For each tank when loads may be in it.
    fn hot(&self, starts: &[(Solution, Evaluated)]) -> Vec<Vec<(Secs, Secs)>> {
        let stretches = self.stretches();
        let seen = in_band(self.shop);
        let charged = |tank: u32, from: Secs, until: Secs| -> Option<Secs> {
            let mut first = None;
            for (g, tried) in starts {
                for lot in (0..self.lots() as u32)
                    .filter(|l| g.head[*l as usize] == *l && g.tank[*l as usize] == tank)
                {
                    let step = self.blank.lots[lot as usize].bath_step?;
                    let at = secs(tried.begun[self.blank.task(lot, step) as usize].in_micros());
                    if from <= at && at < until {
                        first = Some(first.map_or(at, |f: Secs| f.min(at)));
                    }
                }
            }
            first
        };
        let of = |tank: u32| {
            let known = &seen[tank as usize];
            let mut first_of_day = 0;
            let one = |&(from, until, opens): &(Secs, Secs, bool)| {
                let band = known
                    .iter()
                    .map(|m| secs(m.in_micros()))
                    .find(|at| from <= *at && *at < until);
                let from = if opens {
                    from.max(self.switched_on(from))
                } else {
                    from
                };
                let hot = match (band, charged(tank, from, until)) {
                    (Some(band), Some(charge)) => band.min(charge),
                    (Some(hot), None) => hot,
                    (None, Some(charge)) if opens => charge.min(from + first_of_day),
                    (None, None) if opens => from + first_of_day,
                    (None, _) => from,
                };
                if opens && first_of_day == 0 {
                    first_of_day = (hot - from).max(0);
                }
                (hot, until)
            };
            let least = self.emptied(starts, tank).max(secs(self.now.in_micros().max(0)));
            stretches
                .iter()
                .map(one)
                .map(|w| (w.0.max(least), w.1))
                .filter(|w| w.0 < w.1)
                .collect::<Vec<_>>()
        };
        self.tanks.iter().map(|(id, _)| of(id.0)).collect()
    }

    /// For each lot when what was begun with it is over, as the best day has it.
    fn free(&self, starts: &[(Solution, Evaluated)]) -> Vec<Secs> {
        let Some((_, tried)) = starts.first() else {
            return Vec::new();
        };
        let over = |lot: u32| {
            let planned = &self.blank.lots[lot as usize];
            let begun = (0..planned.steps)
                .map(|s| self.blank.task(lot, s))
                .filter(|t| self.blank.pinned[*t as usize]);
            begun.filter_map(|t| self.over(tried, t)).max().unwrap_or(0)
        };
        (0..self.lots() as u32).map(over).collect()
    }

    /// When a step is over with its taking out.
    fn over(&self, tried: &Evaluated, task: u32) -> Option<Secs> {
        let ends = [tried.ended[task as usize + 1], tried.ended[task as usize]];
        let over = ends.into_iter().find(|e| *e < Moment::NEVER)?;
        Some(secs(over.in_micros()))
    }

    /// From when on a tank is free of the loads that are in it as noted.
    fn emptied(&self, starts: &[(Solution, Evaluated)], tank: u32) -> Secs {
        let Some((_, tried)) = starts.first() else {
            return 0;
        };
        let inside = (0..self.lots() as u32).filter(|&l| {
            self.fixed[l as usize] && self.blank.head[l as usize] == l && self.blank.tank[l as usize] == tank
        });
        let over = inside.filter_map(|l| {
            let step = self.blank.lots[l as usize].bath_step?;
            self.over(tried, self.blank.task(l, step))
        });
        over.max().unwrap_or(0)
    }

    /// Before this no heater is on on the day that opens then, where the rule says so.
    fn switched_on(&self, opens: Secs) -> Secs {
        const DAY: Secs = 24 * 3600;
        let midnight = opens.div_euclid(DAY) * DAY;
        match self.shop.rules.heat.on {
            HeatOn::At(time) => midnight + secs(time.in_micros()),
            HeatOn::AtOpening | HeatOn::ReadyBy(_) => opens,
        }
    }

    /// Stretches in which loads may be in a bath: between closing and the breaks that nobody stays for; whether each begins
    /// with opening.
    fn stretches(&self) -> Vec<(Secs, Secs, bool)> {
        let mut all = Vec::new();
        for day in &self.shop.calendar.days {
            let (mut from, mut opens) = (secs(day.open.in_micros()), true);
            for pause in day.breaks.iter().filter(|b| !b.stays) {
                all.push((from, secs(pause.from.in_micros()), opens));
                (from, opens) = (secs(pause.until.in_micros()), false);
            }
            all.push((from, secs(day.close.in_micros()), opens));
        }
        all.retain(|s| s.0 < s.1);
        all
    }

    /// A decision that was run as a decision of the timetable.
    fn state_of(&self, compiled: &Compiled, g: &Solution, tried: &Evaluated) -> State {
        let begun = |h: u32| {
            let lot = &self.blank.lots[h as usize];
            let task = self.blank.task(h, lot.bath_step.unwrap_or(0));
            tried.begun[task as usize]
        };
        let mut heads: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| g.head[l as usize] == l)
            .collect();
        heads.sort_by_key(|&h| (begun(h), h));
        let loads: Vec<Vec<u16>> = heads
            .iter()
            .map(|&h| self.members(g, h).into_iter().map(|l| l as u16).collect())
            .collect();
        State::of(&compiled.table, &loads)
    }
}

impl Compiled {
    /// What a stage of a lot or load is in the plan.
    fn tell(
        &self,
        world: &SearchContext<'_>,
        lot: u32,
        stage: u16,
        at: Secs,
        times: &mut [Moment],
        serial: &mut Vec<(Secs, u32)>,
    ) {
        for begins in &self.begins[stage as usize] {
            let task = world.blank.task(lot, begins.step) + u32::from(begins.out);
            times[task as usize] = moment(at + begins.after);
            serial.push((at + begins.after, task));
        }
    }
}

/// The best of these decisions, no two with the same loads in the same order.
pub(super) fn best_of(t: &Timetable, states: Vec<State>, many: usize) -> Vec<State> {
    let mut table = Dispatcher::new(t);
    let mut judged: Vec<(f64, State)> = states
        .into_iter()
        .filter_map(|s| table.day(&s, f64::INFINITY, &mut ()).map(|d| (d.cost, s)))
        .collect();
    judged.sort_by(|a, b| a.0.total_cmp(&b.0));
    judged.dedup_by(|a, b| a.0 == b.0 && a.1.order.len() == b.1.order.len());
    judged.into_iter().take(many).map(|j| j.1).collect()
}

/// Notes when everything begins.
#[derive(Default)]
struct StartObserver {
    prepares: Vec<(u16, u16, Secs)>,
    goes_on: Vec<(u16, u16, Secs)>,
    tanks: Vec<(u16, u8)>,
}

impl Trace for StartObserver {
    fn prepares(&mut self, lot: u16, stage: u16, at: Secs) {
        self.prepares.push((lot, stage, at));
    }

    fn goes_on(&mut self, load: u16, stage: u16, at: Secs, tank: u8) {
        if !self.tanks.iter().any(|t| t.0 == load) {
            self.tanks.push((load, tank));
        }
        self.goes_on.push((load, stage, at));
    }
}
