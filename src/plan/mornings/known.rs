//! The shop as it is known at a moment of a day, and what of its plan is settled by then.

use super::floor::{Floor, Lot};
use super::rest::goes_on;
use tankday_base::shop::{Arrival, Order, Shop, StationId};
use tankday_base::units::{Concentration, Moment, Quantity};
use tankday_line::{BathReading, Line, Plan};
use tankday_record::BathSample;

/// What is known.
pub(super) struct Known {
    /// Orders of streams that have come are stated ones behind all others; of more nothing is known.
    pub(super) shop: Shop,
    /// For each of these its stream and its number there.
    pub(super) came: Vec<(u32, u32)>,
    /// For each order that has come its number in this shop.
    numbers: Vec<usize>,
}

/// A shop whose streams bring nothing.
pub(super) fn without_streams(shop: &Shop) -> Shop {
    let mut quiet = shop.clone();
    for order in &mut quiet.orders {
        if let Arrival::Every { most, .. } = &mut order.arrival {
            *most = 0;
        }
    }
    quiet
}

impl Known {
    pub(super) fn of(shop: &Shop, floor: &Floor) -> Self {
        let mut known = without_streams(shop);
        let (mut came, mut numbers) = (Vec::new(), Vec::new());
        for order in &floor.orders {
            let Some(stated) = shop.orders.get(order.source.index()) else {
                continue;
            };
            if let Arrival::At(_) = stated.arrival {
                numbers.push(order.source.index());
                continue;
            }
            numbers.push(known.orders.len());
            came.push((order.source.0, order.nth));
            known.orders.push(Order {
                id: format!("{} {}", stated.id, order.nth),
                count: order.pieces,
                arrival: Arrival::At(order.at),
                ..stated.clone()
            });
        }
        Self {
            shop: known,
            came,
            numbers,
        }
    }

    /// The same shop with streams that bring what they may still bring after now.
    pub(super) fn going_on(&self, shop: &Shop, floor: &Floor, now: Moment) -> Shop {
        let mut open = self.shop.clone();
        for (source, (order, stated)) in open.orders.iter_mut().zip(&shop.orders).enumerate() {
            let came = || floor.orders.iter().filter(|o| o.source.index() == source);
            order.arrival = stated.arrival.clone();
            goes_on(
                &mut order.arrival,
                came().count() as u32,
                came().map(|o| o.at).next_back(),
                now,
            );
        }
        open
    }

    /// A plan in which everything that has happened is settled; none if nothing is left.
    pub(super) fn settled(&self, line: &Line<'_>, floor: &Floor, now: Moment) -> Option<Plan> {
        let mut pieces = vec![Vec::new(); self.shop.orders.len()];
        let mut place = Vec::new();
        for lot in &floor.lots {
            let own = pieces.get_mut(*self.numbers.get(lot.order)?)?;
            place.push(own.len() as u32);
            own.push(lot.pieces);
        }
        let mut plan = Plan::divided(line, &pieces);
        let number = |(lot, nth): (&Lot, &u32)| Some(plan.first_lot(*self.numbers.get(lot.order)?)? + nth);
        let lots: Vec<u32> = floor.lots.iter().zip(&place).map(number).collect::<Option<_>>()?;
        let mut together = Together {
            floor,
            lots: &lots,
            plan: &mut plan,
        };
        together.group();
        together.settle();
        for task in 0..plan.hold.len() {
            if !plan.pinned[task] {
                plan.hold[task] = plan.hold[task].max(now);
            }
        }
        plan.readings = floor
            .baths
            .iter()
            .map(|(tank, s)| reading(*tank, now, s))
            .collect();
        let open = |l: &tankday_line::PlanLot| (0..l.steps).any(|s| l.passes(s));
        plan.lots.iter().any(open).then_some(plan)
    }
}

/// Lots of the floor in a plan.
struct Together<'a> {
    floor: &'a Floor,
    /// For each its number in the plan.
    lots: &'a [u32],
    plan: &'a mut Plan,
}

impl Together<'_> {
    /// Lots that met in a bath are one load, its first lot the head.
    fn group(&mut self) {
        let (mut head, mut tank) = (self.plan.head.clone(), self.plan.tank.clone());
        for (lot, &own) in self.floor.lots.iter().zip(self.lots) {
            let with = self
                .floor
                .lots
                .iter()
                .zip(self.lots)
                .filter(|(l, _)| l.with == lot.with);
            let first = with.map(|(_, &other)| other).min();
            head[own as usize] = first.unwrap_or(own);
            if let Some(stay) = lot.stay {
                tank[own as usize] = stay.station.0;
            }
        }
        self.plan.group(&head, &tank);
    }

    fn settle(&mut self) {
        for (at, (lot, &own)) in self.floor.lots.iter().zip(self.lots).enumerate() {
            let others = self.floor.lots.iter().filter(|l| l.with == lot.with).count();
            let (mut done, bath) = (lot.done, self.plan.lots[own as usize].bath_step);
            let stay = lot.stay.filter(|s| Some(s.step) == bath);
            // Lots go on together behind a bath only where they went into it together: there they go in once more.
            let again = stay.filter(|s| others > 1 || done & (1 << s.step) == 0);
            if let Some(stay) = again {
                done &= !(1 << stay.step);
                self.begun(own, stay.step, stay.since, stay.lifted);
            }
            if let Some(under_way) = lot.now.filter(|n| again.is_none_or(|a| a.step != n.step)) {
                self.begun(own, under_way.step, under_way.since, under_way.lifted);
            }
            let planned = &mut self.plan.lots[own as usize];
            planned.past = done;
            if done != 0 {
                planned.past_until = self.floor.lots[at].until;
            }
        }
    }

    /// A step began when it did, and taking out of it if that began.
    fn begun(&mut self, lot: u32, step: u32, since: Moment, lifted: Option<Moment>) {
        let with_load = self.plan.lots[lot as usize].bath_step.is_some_and(|b| step >= b);
        let whose = if with_load {
            self.plan.head[lot as usize]
        } else {
            lot
        };
        let task = self.plan.task(whose, step) as usize;
        self.plan.pinned[task] = true;
        self.plan.hold[task] = since;
        if let Some(lifted) = lifted {
            self.plan.pinned[task + 1] = true;
            self.plan.hold[task + 1] = lifted;
            self.plan.over[task / 2] = lifted;
        }
    }
}

/// How a bath reads now.
fn reading(tank: StationId, at: Moment, sample: &BathSample) -> BathReading {
    let reads = sample.readings.as_ref();
    let sludge = |r: &tankday_record::BathReadings| {
        let dry = (r.stirred + r.settled).base();
        Concentration::from_base(dry / sample.volume.base().max(1e-9))
    };
    BathReading {
        tank,
        at,
        temperature: Some(sample.temperature),
        total_acid: reads.map(|r| r.total_acid),
        free_acid: reads.map(|r| r.free_acid),
        iron: reads.map(|r| r.iron),
        sludge: reads.map(sludge),
    }
}
