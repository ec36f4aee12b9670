//! Charging a tank: when it is worth it, who goes in together, how long it stays.
//!
//! # Known and left
//!
//! - A load that cannot reach its target stays until 95 % of what its material bears, and is warned of.

use super::engine::{Due, Engine};
use super::state::{NONE, Phase, Waiting};
use crate::kernel::STARTS;
use tankday_base::shop::{CoatRule, Combine, RouteId, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, Event};

/// Whether a tank has room for that much; a hair of rounding is forgiven.
fn holds(room: [f64; 3], bulk: [f64; 3]) -> bool {
    bulk.iter().zip(room).all(|(b, r)| *b <= r * (1.0 + 1e-9))
}

impl Engine<'_> {
    /// Whether the load at this place of the line may go into the tank now.
    pub(super) fn may_charge(&mut self, tank: u32, station: u32, line: u32, at: usize) -> bool {
        if self.is_pinned(&self.lines[line as usize].0[at]) {
            return true;
        }
        if !self.fit(tank) || !self.admits(tank, self.lines[line as usize].0[at].load) {
            return false;
        }
        let fill = self.plan.rules.fill;
        let entry = self.lines[line as usize].0[at];
        if !holds(self.plan.room[tank as usize], self.loads[entry.load].bulk)
            || (self.loads[entry.load].looks && self.takes_scrap_only(tank))
            || !self.out_in_time(tank, line, &entry)
        {
            return false;
        }
        if self.is_planned(entry.load) {
            return true;
        }
        let waits_until = entry.since + fill.wait_at_most;
        let alone = self.plan.rules.combine == Combine::Never;
        if alone
            || self.day.now() >= waits_until
            || self.share_filled(tank, line, &entry) >= fill.at_least.in_fraction()
        {
            return true;
        }
        let in_line = self.lines[line as usize]
            .0
            .iter()
            .filter(|w| self.fresh(w) && self.admits(tank, w.load))
            .count();
        if self.tanks[tank as usize].coming <= in_line as i32 && !self.more_today(tank) {
            return true;
        }
        let waits_until = self.waits_at_most(tank, line, &entry, waits_until);
        if self.day.now() >= waits_until {
            return true;
        }
        if self.tanks[tank as usize].look != waits_until {
            self.tanks[tank as usize].look = waits_until;
            self.day.schedule(waits_until, STARTS, Due::Look(station));
        }
        false
    }

    /// Whether every piece of a load may go into a tank: it fits, and is not meant for another.
    pub(super) fn admits(&self, tank: u32, load: u32) -> bool {
        let mut lot = load;
        while lot != NONE {
            let l = &self.loads[lot];
            if !self.plan.orders[l.source as usize].takes[tank as usize] {
                return false;
            }
            lot = l.next_lot;
        }
        true
    }

    /// The largest share of the tank's room that this load and its company would take.
    fn share_filled(&self, tank: u32, line: u32, leader: &Waiting) -> f64 {
        let room = self.plan.room[tank as usize];
        let mut bulk = self.loads[leader.load].bulk;
        for entry in &self.lines[line as usize].0 {
            if let Some(sum) = self.company(tank, leader, entry, bulk) {
                bulk = sum;
            }
        }
        bulk.iter().zip(room).map(|(b, r)| b / r).fold(0.0, f64::max)
    }

    /// What is in the tank when this load joins its leader; none if it may not, or there is no room.
    pub(super) fn company(
        &self,
        tank: u32,
        leader: &Waiting,
        entry: &Waiting,
        bulk: [f64; 3],
    ) -> Option<[f64; 3]> {
        if entry.load == leader.load || !self.fresh(entry) || entry.step != leader.step {
            return None;
        }
        if !self.admits(tank, entry.load) {
            return None;
        }
        let (a, b) = (&self.loads[leader.load], &self.loads[entry.load]);
        let [own, other] = [a, b].map(|l| self.plan.orders[l.source as usize].company);
        let windows = a.window.0.max(b.window.0) <= a.window.1.min(b.window.1);
        if own.is_none() || own != other || a.done != b.done || !windows {
            return None;
        }
        if self.planned_together(leader.load, entry.load) == Some(false) {
            return None;
        }
        let sum = [bulk[0] + b.bulk[0], bulk[1] + b.bulk[1], bulk[2] + b.bulk[2]];
        holds(self.plan.room[tank as usize], sum).then_some(sum)
    }

    /// The waiting loads that fit join the leader; they are one load from now on.
    pub(super) fn join_company(&mut self, station: u32, line: u32, leader: &Waiting) {
        let Some(tank) = self.plan.stations[station as usize].tank else {
            return;
        };
        let mut at = 0;
        while at < self.lines[line as usize].0.len() {
            let entry = self.lines[line as usize].0[at];
            match self.company(tank, leader, &entry, self.loads[leader.load].bulk) {
                Some(bulk) => {
                    self.lines[line as usize].take(at);
                    self.merge(leader.load, &entry, bulk);
                }
                None => at += 1,
            }
        }
        let bath = self.tanks[tank as usize].bath;
        let scrap = i32::from(!self.loads[leader.load].looks);
        let plan = self.plan;
        let takes = &plan.orders[self.loads[leader.load].source as usize].takes;
        let those = self.tanks.iter_mut().zip(takes);
        for (t, _) in those.filter(|(t, takes)| t.bath == bath && **takes) {
            t.coming -= 1;
            t.scrap_coming -= scrap;
        }
    }

    fn merge(&mut self, into: u32, entry: &Waiting, bulk: [f64; 3]) {
        self.coming(entry.load, -1);
        let joined = self.loads[entry.load].clone();
        if entry.latest < self.day.now() {
            let step = StepRef {
                route: RouteId(joined.route),
                step: StepIx(entry.step),
            };
            let by = self.day.now() - entry.latest;
            self.day.note(|| Event::Breaks {
                load: joined.no,
                step,
                what: Breach::WaitedTooLong { by },
            });
        }
        let j = &mut self.loads[entry.load];
        j.phase = Phase::Gone;
        let mut end = into;
        while self.loads[end].next_lot != NONE {
            end = self.loads[end].next_lot;
        }
        self.loads[end].next_lot = entry.load;
        let l = &mut self.loads[into];
        l.bulk = bulk;
        l.pieces += joined.pieces;
        l.lots += joined.lots;
        l.heat += joined.heat;
        l.drags += joined.drags;
        l.slower = l.slower.max(joined.slower);
        l.heavier = l.heavier.min(joined.heavier);
        l.due = l.due.min(joined.due);
        l.looks |= joined.looks;
        l.brings = l.brings.and(joined.brings);
        l.window = (l.window.0.max(joined.window.0), l.window.1.min(joined.window.1));
        let no = l.no;
        self.day.note(|| Event::Joins {
            load: joined.no,
            into: no,
        });
    }

    /// Whether orders may still come today that use this tank.
    fn more_today(&self, tank: u32) -> bool {
        let soon = self.day.now() + self.plan.rules.fill.wait_at_most;
        let after = self.day.now() + Span::micros(1);
        self.plan.arrivals[tank as usize].come_between(after, soon)
    }

    /// How long the load, just put in, is to stay: the time drawn, or the time that the coating needs as the bath
    /// recovers; never less than the least nor more than the most.
    pub(super) fn dwell(&mut self, tank: u32, load: u32) -> Span {
        let shop = self.shop;
        let recipe = &shop.baths[self.tanks[tank as usize].bath.index()];
        let stay = match &recipe.coat {
            CoatRule::Time(spread) => {
                let l = &self.loads[load];
                self.chance.time(spread, l.route, l.step, l.luck, l.tries)
            }
            CoatRule::Target(weight) => {
                let (heat, table) = (&self.tanks[tank as usize].heat, &self.heat[tank as usize]);
                let needs = self.needs(load, &recipe.growth, *weight).into_iter();
                let time = |(from, need)| {
                    heat.time_until_conversion_on(from, table, need)
                        .unwrap_or(recipe.most)
                };
                needs.map(time).fold(Span::ZERO, Span::max)
            }
        };
        let window = self.loads[load].window;
        stay.max(recipe.least.max(window.0))
            .min(recipe.most.min(window.1))
    }

    /// The longest stay of a load at a step.
    pub(super) fn most_stay(&self, load: u32, step: u32) -> Option<Span> {
        let l = &self.loads[load];
        let plan = &self.plan.routes[l.route as usize].steps[step as usize];
        let own = plan.bath.is_some().then_some(l.window.1);
        match (plan.most, own) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (most, _) => most,
        }
    }

    /// How long the work of a step takes for a load that is just beginning it.
    pub(super) fn planned_time(&mut self, load: u32) -> Span {
        let l = &self.loads[load];
        let (route, step, luck, tries, pieces) = (l.route, l.step, l.luck, l.tries, l.pieces);
        let station = l.station;
        match &self.plan.routes[route as usize].steps[step as usize].work {
            Some((spread, each)) => {
                let once = self.chance.time(spread, route, step, luck, tries);
                if *each == Span::ZERO {
                    once
                } else {
                    once + each.times(f64::from(pieces))
                }
            }
            None => match self.plan.stations[station as usize].tank {
                Some(tank) => self.enter_bath(tank, load),
                None => Span::ZERO,
            },
        }
    }

    pub(super) fn fails(&mut self, load: u32, share: f64) -> bool {
        let l = &mut self.loads[load];
        let tries = l.tries;
        let failed = self.chance.fails(share, l.route, l.step, l.luck, tries);
        if failed {
            l.tries += 1;
        }
        failed
    }

    /// Begins a run: tanks as they stand, orders and hours on the calendar.
    pub(super) fn begin_run(&mut self) {
        self.day.expect_hours();
        self.expect_orders();
        self.make_tanks();
        self.expect_readings();
        self.make_vessels();
    }

    /// Ends it: a last look at the baths, and how it came out.
    pub(super) fn end_run(mut self) -> super::Outcome {
        let endless = self.events > self.most_events;
        for tank in 0..self.tanks.len() as u32 {
            self.sample(tank);
        }
        let mut drawn = tankday_base::units::Energy::ZERO;
        for (t, table) in self.tanks.iter().zip(self.heat) {
            let mut heat = t.heat;
            heat.advance(table, (self.day.now() - t.at).max(Span::ZERO));
            drawn += heat.drawn(table);
        }
        super::Outcome {
            finish: self.day.last_work(),
            stopped: self.day.now(),
            unfinished: self.loads.len() as u32,
            orders: self.next_order,
            events: self.events,
            drawn,
            endless,
        }
    }

    /// Whether a stream of orders will still bring something.
    pub(super) fn stream_left(&self, source: u32) -> bool {
        self.stream_next[source as usize] < Moment::NEVER
    }
}
