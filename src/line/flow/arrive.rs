//! Orders come and become loads.

use super::Flow;
use crate::cargo::{Cargo, Wet};
use crate::day::{Day, Event};
use crate::ids::{ComeIx, HandIx, LoadIx};
use crate::kernel::STARTS;
use crate::state::{Fate, Held, Load, NONE, Order, Origin, Phase, Place, Times};
use tankday_base::shop::{Arrival, OrderId, StationId, StepIx};
use tankday_base::units::{Moment, Span};
use tankday_record::{LoadNo, LogEntry, OrderNo};

/// An order that has come.
pub(crate) struct Arrived {
    order: ComeIx,
    no: OrderNo,
    pub(crate) nth: u32,
    pub(crate) pieces: u32,
    /// Whether its source will bring another.
    pub(crate) goes_on: bool,
}

impl Flow<'_> {
    /// Puts the first arrival of a source on the calendar; says whether there is one.
    pub(crate) fn expect_first(&mut self, day: &mut Day<'_>, source: OrderId) -> bool {
        let first = match &self.plan.orders[source].arrival {
            Arrival::At(at) => Some(*at),
            Arrival::Every { from, .. } => self.next_of_stream(source, *from),
        };
        if let Some(at) = first {
            self.sources_left += 1;
            day.schedule(at, STARTS, Event::Arrival(source));
        }
        first.is_some()
    }

    /// An order comes, and the next of its source is put on the calendar.
    pub(crate) fn arrives(&mut self, day: &mut Day<'_>, source: OrderId) -> Arrived {
        self.come[source] += 1;
        let nth = self.come[source];
        let next = self.next_of_stream(source, day.now());
        match next {
            Some(at) => {
                day.schedule(at, STARTS, Event::Arrival(source));
            }
            None => self.sources_left -= 1,
        }
        let plan = &self.plan.orders[source];
        let no = OrderNo(self.next_order);
        self.next_order += 1;
        let pieces = match &plan.arrival {
            Arrival::Every { fewest, .. } if *fewest < plan.count => {
                self.chance.pieces(*fewest, plan.count, source, nth)
            }
            _ => plan.count,
        };
        let order = self.orders.add(Order { no, left: pieces });
        day.note(|| LogEntry::OrderArrives {
            order: no,
            source,
            nth,
            pieces,
        });
        Arrived {
            order,
            no,
            nth,
            pieces,
            goes_on: next.is_some(),
        }
    }

    fn next_of_stream(&self, source: OrderId, last: Moment) -> Option<Moment> {
        let Arrival::Every {
            gap,
            until,
            most,
            only,
            ..
        } = &self.plan.orders[source].arrival
        else {
            return None;
        };
        let nth = self.come[source];
        if nth >= *most {
            return None;
        }
        let at = after(last, self.chance.gap(gap, source, nth), only)?;
        (at < *until).then_some(at)
    }

    pub(crate) fn make_load(
        &mut self,
        day: &mut Day<'_>,
        source: OrderId,
        come: &Arrived,
        (lot, pieces): (u32, u32),
    ) -> LoadIx {
        let plan = &self.plan.orders[source];
        let route = &self.plan.routes[plan.route];
        let no = LoadNo(self.next_load);
        self.next_load += 1;
        let generation = self.next_generation();
        let nth = come.nth;
        let planned = self.written.map(|p| p.lot_of(source.0, nth, lot));
        let own = planned.filter(|l| *l != NONE);
        let noted = self.written.zip(own).map(|(p, l)| &p.lots[l as usize]);
        let name = self
            .written
            .zip(own)
            .and_then(|(p, l)| p.names[l as usize].clone());
        let (past, past_until) = noted.map_or((0, Moment::NEVER), |l| (l.past, l.past_until));
        let load = self.loads.add(Load {
            no,
            of: Origin {
                order: come.order,
                source,
                nth: (nth, lot),
                part: plan.part,
                lot: planned.unwrap_or(NONE),
                lot_pieces: pieces,
                next_lot: LoadIx::NONE,
                lots: 1,
            },
            cargo: Cargo::of(plan, self.plan.surfaces[plan.part], pieces),
            fate: Fate {
                luck: self.chance.load(source, nth, lot),
                tries: 0,
                mishaps: plan.brings,
                brings: plan.brings,
                wet: Wet::DRY,
            },
            due: plan.due_after.map_or(Moment::NEVER, |d| day.now() + d),
            route: plan.route,
            done: route.skip[plan.part] | past,
            generation,
            step: StepIx(NONE),
            station: StationId(NONE),
            phase: Phase::Waiting,
            held: Held {
                place: Place::None,
                hand: HandIx::NONE,
                group: 0,
                next_in_group: LoadIx::NONE,
                completion: None,
            },
            times: Times {
                begun: day.now(),
                planned: Span::ZERO,
                left: Span::ZERO,
                latest: Moment::NEVER,
                asked: day.now(),
                until: Moment::NEVER,
                ended: past_until,
                left_in: Moment::NEVER,
                coated: Moment::NEVER,
                look: Moment::NEVER,
            },
            kept: 0,
            nobody: 0,
            put_off: false,
        });
        day.note(|| LogEntry::LoadMade {
            load: no,
            order: come.no,
            pieces,
        });
        if let Some(name) = name {
            day.note(|| LogEntry::LoadNamed { load: no, name });
        }
        load
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
