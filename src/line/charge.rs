//! Charging a tank: when it is worth it, who goes in together, how long it stays.
//!
//! # Known and left
//!
//! - A load that cannot reach its target stays until 95 % of what its material bears, and is warned of.

use super::engine::Engine;
use super::state::{NONE, Phase, Waiting};
use tankday_base::shop::{Combine, RouteId, StepIx, StepRef};
use tankday_base::units::Span;
use tankday_record::{Breach, Event};

/// Whether a tank has room for that much; a hair of rounding is forgiven.
fn holds(room: [f64; 3], bulk: [f64; 3]) -> bool {
    bulk.iter().zip(room).all(|(b, r)| *b <= r * (1.0 + 1e-9))
}

impl Engine<'_> {
    /// Whether the load at this place of the line may go into the tank now.
    pub(super) fn may_charge(&mut self, tank: u32, line: u32, at: usize) -> bool {
        if self.is_pinned(&self.lines[line as usize].0[at]) {
            return true;
        }
        if !self.baths.fit(&self.day, tank) || !self.admits(tank, self.lines[line as usize].0[at].load) {
            return false;
        }
        let fill = self.plan.rules.fill;
        let entry = self.lines[line as usize].0[at];
        if !holds(self.plan.room[tank as usize], self.loads[entry.load].cargo.bulk)
            || (self.loads[entry.load].cargo.looks && self.baths.takes_scrap_only(tank))
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
        if !self.baths.may_more_come(&self.day, tank, in_line) {
            return true;
        }
        let waits_until = self.waits_at_most(tank, line, &entry, waits_until);
        if self.day.now() >= waits_until {
            return true;
        }
        self.baths.look_for_company(&mut self.day, tank, waits_until);
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
        let mut bulk = self.loads[leader.load].cargo.bulk;
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
        let window = a.cargo.window_with(&b.cargo);
        if own.is_none() || own != other || a.done != b.done || window.0 > window.1 {
            return None;
        }
        if self.planned_together(leader.load, entry.load) == Some(false) {
            return None;
        }
        let sum = a.cargo.bulk_with(&b.cargo, bulk);
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
            match self.company(tank, leader, &entry, self.loads[leader.load].cargo.bulk) {
                Some(_) => {
                    self.lines[line as usize].take(at);
                    self.merge(leader.load, &entry);
                }
                None => at += 1,
            }
        }
        let plan = self.plan;
        let leader = &self.loads[leader.load];
        let takes = &plan.orders[leader.source as usize].takes;
        let (bath, scrap) = (self.baths.bath_in(tank), !leader.cargo.looks);
        self.baths.coming_to(&mut self.day, bath, takes, scrap, -1);
    }

    fn merge(&mut self, into: u32, entry: &Waiting) {
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
        l.cargo.join(&joined.cargo);
        l.lots += joined.lots;
        l.due = l.due.min(joined.due);
        l.brings = l.brings.and(joined.brings);
        let no = l.no;
        self.day.note(|| Event::Joins {
            load: joined.no,
            into: no,
        });
    }

    /// The longest stay of a load at a step.
    pub(super) fn most_stay(&self, load: u32, step: u32) -> Option<Span> {
        let l = &self.loads[load];
        let plan = &self.plan.routes[l.route as usize].steps[step as usize];
        let own = plan.bath.is_some().then_some(l.cargo.window.1);
        match (plan.most, own) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (most, _) => most,
        }
    }

    /// How long the work of a step takes for a load that is just beginning it.
    pub(super) fn planned_time(&mut self, load: u32) -> Span {
        let l = &self.loads[load];
        let (route, step, luck, tries, pieces) = (l.route, l.step, l.luck, l.tries, l.cargo.pieces);
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
                Some(tank) => {
                    let spread = self.baths.dwell_drawn(tank);
                    let drawn = spread.map(|s| self.chance.time(s, route, step, luck, tries));
                    let cargo = &self.loads[load].cargo;
                    self.baths.enter_bath(&mut self.day, tank, load, cargo, drawn)
                }
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
        self.baths.make_tanks(&mut self.day);
        self.baths.expect_readings(&mut self.day);
        self.baths.make_vessels(&self.day);
    }

    /// Ends it: a last look at the baths, and how it came out.
    pub(super) fn end_run(mut self) -> super::Outcome {
        let endless = self.events > self.most_events;
        let drawn = self.baths.drawn_in_all(&mut self.day);
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
}
