//! Orders come and become loads.

use super::engine::{Due, Engine};
use super::lots::lots;
use super::rinse::Wet;
use super::state::{Load, NONE, Order, Phase, Place, Waiting};
use crate::kernel::STARTS;
use tankday_base::shop::{Arrival, NextLoad, OrderId, RouteId, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Event, LoadNo, OrderNo};

impl Engine<'_> {
    /// Puts the first arrival of every source on the calendar.
    pub(super) fn expect_orders(&mut self) {
        for source in 0..self.plan.orders.len() as u32 {
            self.come[source as usize] = 0;
            let first = match &self.plan.orders[source as usize].arrival {
                Arrival::At(at) => Some(*at),
                Arrival::Every { from, .. } => self.next_of_stream(source, *from),
            };
            if let Some(at) = first {
                self.sources_left += 1;
                self.stream_next[source as usize] = at;
                self.agenda.schedule(at, STARTS, Due::Arrival(source));
            }
        }
    }

    fn next_of_stream(&self, source: u32, last: Moment) -> Option<Moment> {
        let Arrival::Every {
            gap,
            until,
            most,
            only,
            ..
        } = &self.plan.orders[source as usize].arrival
        else {
            return None;
        };
        let nth = self.come[source as usize];
        if nth >= *most {
            return None;
        }
        let at = after(last, self.chance.gap(gap, source, nth), only)?;
        (at < *until).then_some(at)
    }

    pub(super) fn arrive(&mut self, source: u32) {
        self.come[source as usize] += 1;
        let nth = self.come[source as usize];
        match self.next_of_stream(source, self.now) {
            Some(at) => {
                self.stream_next[source as usize] = at;
                self.agenda.schedule(at, STARTS, Due::Arrival(source));
            }
            None => {
                self.stream_next[source as usize] = Moment::NEVER;
                self.sources_left -= 1;
            }
        }
        let plan = &self.plan.orders[source as usize];
        let no = OrderNo(self.next_order);
        self.next_order += 1;
        let pieces = match &plan.arrival {
            Arrival::Every { fewest, .. } if *fewest < plan.count => {
                self.chance.pieces(*fewest, plan.count, source, nth)
            }
            _ => plan.count,
        };
        let order = self.orders.add(Order { no, left: pieces });
        self.note(|| Event::OrderArrives {
            order: no,
            source: OrderId(source),
            nth,
            pieces,
        });
        let planned: Vec<(u32, u32)> = match &self.follow {
            Some(follow) => follow.plan.pieces_of(source, nth).collect(),
            None => Vec::new(),
        };
        if !planned.is_empty() {
            for lot in planned {
                self.make_load(source, nth, order, no, lot);
            }
        } else if pieces == plan.count {
            for (lot, pieces) in (0..).zip(&plan.lots) {
                self.make_load(source, nth, order, no, (lot, *pieces));
            }
        } else {
            for lot in (0..).zip(lots(pieces, plan.most_in_lot, self.plan.rules.split)) {
                self.make_load(source, nth, order, no, lot);
            }
        }
    }

    fn make_load(&mut self, source: u32, nth: u32, order: u32, order_no: OrderNo, (lot, pieces): (u32, u32)) {
        let plan = &self.plan.orders[source as usize];
        let route = &self.plan.routes[plan.route as usize];
        let n = f64::from(pieces);
        let no = LoadNo(self.next_load);
        self.next_load += 1;
        let stamp = self.next_stamp();
        let planned = self.follow.as_ref().map(|f| f.plan.lot_of(source, nth, lot));
        let own = planned.filter(|l| *l != NONE);
        let noted = self
            .follow
            .as_ref()
            .zip(own)
            .map(|(f, l)| &f.plan.lots[l as usize]);
        let name = self
            .follow
            .as_ref()
            .zip(own)
            .and_then(|(f, l)| f.plan.names[l as usize].clone());
        let (past, past_until) = noted.map_or((0, Moment::NEVER), |l| (l.past, l.past_until));
        let load = self.loads.add(Load {
            no,
            order,
            source,
            nth: (nth, lot),
            lot: planned.unwrap_or(NONE),
            window: plan.window,
            lot_pieces: pieces,
            next_lot: NONE,
            lots: 1,
            route: plan.route,
            part: plan.part,
            done: route.skip[plan.part as usize] | past,
            stamp,
            tries: 0,
            luck: self.chance.load(source, nth, lot),
            pieces,
            bulk: plan.piece.map(|p| p * n),
            heat: plan.piece[1] * n * plan.heat_capacity,
            drags: plan.drags * n,
            mishaps: plan.brings,
            brings: plan.brings,
            wet: Wet::DRY,
            slower: plan.slower,
            heavier: plan.heavier,
            due: plan.due_after.map_or(Moment::NEVER, |d| self.now + d),
            looks: plan.looks,
            entered: [0.0; 2],
            ended: past_until,
            coated: Moment::NEVER,
            step: NONE,
            station: NONE,
            place: Place::None,
            phase: Phase::Waiting,
            begun: self.now,
            planned: Span::ZERO,
            left: Span::ZERO,
            latest: Moment::NEVER,
            asked: self.now,
            until: Moment::NEVER,
            kept: 0,
            look: Moment::NEVER,
            wake: None,
            hand: NONE,
            group: 0,
            next_in_group: NONE,
        });
        self.note(|| Event::LoadMade {
            load: no,
            order: order_no,
            pieces,
        });
        if let Some(name) = name {
            self.note(|| Event::LoadNamed { load: no, name });
        }
        self.coming(load, 1);
        self.go_on(load);
    }

    /// A stamp that no other entry has: the place of a load that is gone is used again.
    pub(super) fn next_stamp(&mut self) -> u64 {
        self.stamps += 1;
        self.stamps
    }

    /// Counts a load among those that will still come to a bath.
    pub(super) fn coming(&mut self, load: u32, change: i32) {
        let l = &self.loads[load];
        let (plan, looks, source) = (self.plan, l.looks, l.source);
        let route = &plan.routes[l.route as usize];
        let mut left = route.coats & !l.done;
        while left != 0 {
            let step = left.trailing_zeros() as usize;
            left &= left - 1;
            if let Some(bath) = route.steps[step].bath {
                for tank in 0..self.tanks.len() as u32 {
                    let takes = plan.orders[source as usize].takes[tank as usize];
                    if self.tanks[tank as usize].bath == bath && takes {
                        self.tanks[tank as usize].coming += change;
                        self.tanks[tank as usize].scrap_coming += if looks { 0 } else { change };
                        if change > 0 {
                            self.light_again(tank);
                        }
                    }
                }
            }
        }
    }

    /// A load that failed comes to its baths once more.
    pub(super) fn coming_again(&mut self, load: u32, before: u64) {
        let now = self.loads[load].done;
        self.loads[load].done = before;
        self.coming(load, -1);
        self.loads[load].done = now;
        self.coming(load, 1);
    }

    /// Where a load that waits since then stands in its line: by the plan, or by the rules.
    pub(super) fn key(&self, load: u32, step: u32, since: Moment) -> i64 {
        let l = &self.loads[load];
        let plan = &self.plan.routes[l.route as usize].steps[step as usize];
        self.planned_key(load, step)
            .unwrap_or_else(|| match self.plan.rules.next {
                NextLoad::ArrivedFirst => since.in_micros(),
                NextLoad::DueFirst | NextLoad::SameRouteTogether => l.due.in_micros(),
                NextLoad::LongestDwellFirst if plan.bath.is_some() => {
                    -(plan.expected.times(l.slower)).in_micros()
                }
                NextLoad::LongestDwellFirst => l.due.in_micros(),
            })
    }

    /// Stands in line for a step.
    pub(super) fn join_line(&mut self, load: u32, step: u32) {
        let l = &self.loads[load];
        let plan = &self.plan.routes[l.route as usize].steps[step as usize];
        let line = plan.line;
        let latest = plan.within.map_or(Moment::NEVER, |w| plan.waits_from(l) + w);
        let key = self.key(load, step, self.now);
        let entry = Waiting {
            load,
            stamp: l.stamp,
            step,
            key,
            since: self.now,
            latest,
        };
        let no = l.no;
        let step_ref = StepRef {
            route: RouteId(l.route),
            step: StepIx(step),
        };
        self.planned_wait(load, step);
        self.lines[line as usize].join(entry);
        self.note(|| Event::Waits {
            load: no,
            step: step_ref,
        });
        for i in 0..self.plan.lines[line as usize].len() {
            let station = self.plan.lines[line as usize][i].0;
            self.mark(station);
        }
    }
}

/// A moment later by a gap that runs only in some stretches, all the time if there are none; never behind the last.
fn after(last: Moment, gap: Span, only: &[(Moment, Moment)]) -> Option<Moment> {
    if only.is_empty() {
        return Some(last + gap);
    }
    let mut left = gap;
    let next = only.partition_point(|(_, to)| *to <= last);
    for (from, to) in only.iter().skip(next) {
        let start = last.max(*from);
        if left <= *to - start {
            return Some(start + left);
        }
        left -= *to - start;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::after;
    use tankday_base::units::{Moment, Span};

    #[test]
    fn a_gap_runs_only_in_its_stretches() {
        let at = |h: i64| Moment::ZERO + Span::whole_minutes(60 * h);
        let hours = |h: i64| Span::whole_minutes(60 * h);
        let days = [(at(8), at(16)), (at(32), at(40))];
        assert_eq!(after(at(0), hours(2), &days), Some(at(10)));
        assert_eq!(after(at(15), hours(2), &days), Some(at(33)));
        assert_eq!(after(at(20), hours(8), &days), Some(at(40)));
        assert_eq!(after(at(39), hours(2), &days), None);
        assert_eq!(after(at(39), hours(2), &[]), Some(at(41)));
    }
}
