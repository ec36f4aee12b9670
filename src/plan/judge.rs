//! Watches a run by a plan: when each task began and ended, which limits were broken, what the day costs.

use super::longest::{Longest, Lying};
use tankday_base::shop::{Aim, Order, Shop, StationId, StepRef};
use tankday_base::units::{Energy, Moment, Span, Volume};
use tankday_line::{Outcome, Plan};
use tankday_record::{Breach, CareKind, LoadNo, LogEntry, Looks, Observer};

/// A limit that is broken costs more than any lateness.
const BREACH: f64 = 1e7;
const BREACH_MINUTE: f64 = 1e4;
/// A run with more broken limits than this tells nothing more.
pub(super) const MOST_BREACHES: u32 = 200;
/// An order that is not ready costs more than any breach.
const UNREADY: f64 = 1e10;

/// How a day came out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// The sum of everything by its weight.
    pub cost: f64,
    /// When the last load was ready.
    pub finish: Moment,
    /// Orders that are late.
    pub late_orders: u32,
    /// Minutes late, summed over all orders.
    pub late: Span,
    /// Limits broken.
    pub breaches: u32,
    /// Orders not ready.
    pub unready: u32,
    /// Orders ready by when they are due.
    pub kept: u32,
    /// By how much limits were passed, summed over all that were.
    pub over: Span,
    /// Drawn by the heaters.
    pub drawn: Energy,
    /// Water made good.
    pub water: Volume,
    /// Work of hands, summed over all of them.
    pub hands: Span,
    /// From opening to the end of hands' work, summed over the days before the last load was ready.
    pub days_before: Span,
}

/// A limit that was broken at the step of a load whose task this is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Broken {
    pub(super) task: u32,
    /// Which of the lots that share the task.
    pub(super) lot: u32,
    pub(super) what: Breach,
}

/// The watcher.
#[derive(Debug)]
pub(super) struct CostObserver<'a> {
    plan: &'a Plan,
    aim: Aim,
    open: Moment,
    limit: f64,
    dues: &'a [Moment],
    orders: &'a [Order],
    lot_of: Vec<u32>,
    next_lot: u32,
    /// For each order that has come its source and when it is due.
    come: Vec<(u32, Moment)>,
    /// Whether orders of streams can be late, too.
    streams: bool,
    hand_since: Vec<Moment>,
    pub(super) begun: Vec<Moment>,
    pub(super) ended: Vec<Moment>,
    pub(super) broken: Vec<Broken>,
    /// Where each task began.
    pub(super) station: Vec<u32>,
    /// When care began, in order.
    pub(super) care: Vec<(StationId, CareKind, Moment)>,
    ready: u32,
    pub(super) judged: Judged,
    busy: Span,
    /// Water made good.
    water: Volume,
    late_cost: f64,
    now: Moment,
    days: Days,
    lying: Lying<'a>,
}

/// How long hands were at work on each day, from opening to the end of their work, nights left out.
#[derive(Debug, Default)]
struct Days {
    opens: Vec<Moment>,
    /// Which day it is.
    today: usize,
    /// When hands last came free.
    free: Moment,
    /// For each day that is over how long it was.
    over: Vec<Span>,
}

impl Days {
    fn reach(&mut self, at: Moment) {
        while self.opens.get(self.today + 1).is_some_and(|next| *next <= at) {
            let opens = self.opens.get(self.today).copied().unwrap_or_default();
            self.over.push((self.free - opens).max(Span::ZERO));
            self.today += 1;
        }
    }

    /// All days before the one of this moment.
    fn before(&self, at: Moment) -> Span {
        let days = self.opens.iter().skip(1).zip(&self.over);
        days.filter(|(next, _)| **next <= at)
            .fold(Span::ZERO, |sum, (_, worked)| sum + *worked)
    }
}

impl<'a> CostObserver<'a> {
    /// A judge that gives up above a limit of cost.
    pub(super) fn new(shop: &'a Shop, plan: &'a Plan, dues: &'a [Moment], limit: f64, space: Space) -> Self {
        let open = shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open);
        let Space {
            mut begun,
            mut ended,
            mut station,
        } = space;
        station.resize(plan.rank.len(), u32::MAX);
        begun.clear();
        begun.resize(plan.rank.len(), Moment::NEVER);
        ended.clear();
        ended.resize(plan.rank.len(), Moment::NEVER);
        Self {
            plan,
            aim: shop.aim,
            open,
            limit,
            dues,
            orders: &shop.orders,
            lot_of: Vec::with_capacity(plan.lots.len()),
            next_lot: 0,
            come: Vec::with_capacity(dues.len()),
            streams: false,
            hand_since: vec![Moment::ZERO; shop.hands as usize],
            begun,
            ended,
            broken: Vec::new(),
            station,
            care: Vec::new(),
            ready: 0,
            judged: Judged {
                cost: 0.0,
                finish: open,
                late_orders: 0,
                late: Span::ZERO,
                breaches: 0,
                unready: 0,
                kept: 0,
                over: Span::ZERO,
                drawn: Energy::ZERO,
                water: Volume::ZERO,
                hands: Span::ZERO,
                days_before: Span::ZERO,
            },
            busy: Span::ZERO,
            water: Volume::ZERO,
            late_cost: 0.0,
            now: open,
            lying: Lying::new(shop),
            days: Days {
                // Of one day nothing is before.
                opens: match shop.calendar.days.as_slice() {
                    [_] => Vec::new(),
                    days => days.iter().map(|d| d.open).collect(),
                },
                ..Days::default()
            },
        }
    }

    /// By how much limits were passed.
    pub(super) fn longest(&self) -> Longest {
        self.lying.in_the_end()
    }

    /// The same, to which orders of streams can be late, too.
    pub(super) fn with_streams(self) -> Self {
        Self {
            streams: true,
            ..self
        }
    }

    /// When an order is due that comes now.
    fn due(&self, at: Moment, source: u32) -> Moment {
        let stated = self.dues.get(source as usize).copied().unwrap_or(Moment::NEVER);
        let order = self.orders.get(source as usize).filter(|_| self.streams);
        let after = order
            .and_then(|o| o.due_after)
            .filter(|_| stated == Moment::NEVER);
        after.map_or(stated, |after| at + after)
    }

    fn task(&self, load: LoadNo, step: StepRef) -> Option<u32> {
        let lot = self
            .lot_of
            .get(load.0 as usize)
            .copied()
            .filter(|&l| l != u32::MAX)?;
        let planned = self.plan.lots.get(lot as usize)?;
        let with_load = planned.bath_step.is_some_and(|b| step.step.0 >= b);
        let head = if with_load {
            self.plan.head[lot as usize]
        } else {
            lot
        };
        Some(self.plan.task(head, step.step.0))
    }

    fn begin(&mut self, at: Moment, load: LoadNo, step: StepRef, out: u32) {
        if let Some(task) = self.task(load, step) {
            self.begun[(task + out) as usize] = at;
        }
    }

    fn end(&mut self, at: Moment, load: LoadNo, step: StepRef, out: u32) {
        if let Some(task) = self.task(load, step) {
            self.ended[(task + out) as usize] = at;
        }
    }

    fn order_ready(&mut self, at: Moment, (source, due): (u32, Moment)) {
        self.ready += 1;
        let late = at - due;
        self.judged.kept += u32::from(due < Moment::NEVER && late <= Span::ZERO);
        if late > Span::ZERO {
            self.judged.late_orders += 1;
            self.judged.late += late;
            let weight = self.orders.get(source as usize).map_or(1.0, |o| o.weight);
            self.late_cost += weight * (self.aim.late_order + self.aim.late_minute * late.in_minutes());
        }
    }

    /// What the run came to.
    pub(super) fn verdict(&mut self, outcome: &Outcome) -> Judged {
        let j = &mut self.judged;
        j.cost += self.late_cost;
        j.unready = outcome.orders - self.ready;
        j.cost += self.aim.finish_minute * (j.finish - self.open).in_minutes();
        j.days_before = self.days.before(j.finish);
        (j.drawn, j.water, j.hands) = (outcome.drawn, self.water, self.busy);
        j.cost += self.aim.finish_minute * j.days_before.in_minutes();
        j.cost += self.aim.power_kwh * j.drawn.in_kilowatt_hours();
        j.cost += self.aim.water_litre * self.water.in_litres();
        j.cost += self.aim.hands_minute * self.busy.in_minutes();
        j.cost += UNREADY * f64::from(j.unready + outcome.unfinished);
        *j
    }

    /// Gives its room back for the next.
    pub(super) fn space(self) -> Space {
        Space {
            begun: self.begun,
            ended: self.ended,
            station: self.station,
        }
    }
}

/// Room that is used again.
#[derive(Debug, Default)]
pub(super) struct Space {
    pub(super) begun: Vec<Moment>,
    pub(super) ended: Vec<Moment>,
    pub(super) station: Vec<u32>,
}

impl Observer for CostObserver<'_> {
    fn looks(&self) -> Looks {
        Looks::Events
    }

    fn most_events(&self) -> u64 {
        500_000
    }

    fn has_enough(&self) -> bool {
        self.late_cost + self.aim.finish_minute * (self.now - self.open).in_minutes() > self.limit
            || self.judged.breaches > MOST_BREACHES
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        self.now = self.now.max(at);
        self.days.reach(at);
        self.lying.note(at, &event);
        match event {
            LogEntry::OrderArrives { source, .. } => {
                self.come.push((source.0, self.due(at, source.0)));
                self.next_lot = self.plan.first_lot(source.index()).unwrap_or(u32::MAX);
            }
            LogEntry::LoadMade { .. } => {
                self.lot_of.push(self.next_lot);
                self.next_lot = self.next_lot.saturating_add(1);
            }
            LogEntry::SetIn {
                load, step, station, ..
            } => {
                self.begin(at, load, step, 0);
                if let Some(task) = self.task(load, step) {
                    self.station[task as usize] = station.0;
                }
            }
            LogEntry::WorkEnds { load, step, .. } => self.end(at, load, step, 0),
            LogEntry::LiftBegins { load, step, .. } => self.begin(at, load, step, 1),
            LogEntry::StepDone { load, step, .. } => self.end(at, load, step, 1),
            LogEntry::Breaks { load, step, what } => {
                let by = match what {
                    Breach::WaitedTooLong { by }
                    | Breach::StayedTooLong { by }
                    | Breach::InAtBreak { by } => by,
                };
                self.judged.breaches += 1;
                self.judged.over += by;
                self.judged.cost += BREACH + BREACH_MINUTE * by.in_minutes();
                if let Some(task) = self.task(load, step) {
                    let lot = self.lot_of[load.0 as usize];
                    self.broken.push(Broken { task, lot, what });
                }
            }
            LogEntry::LoadReady { .. } => self.judged.finish = at,
            LogEntry::OrderReady { order } => {
                let come = self.come.get(order.0 as usize).copied();
                self.order_ready(at, come.unwrap_or((u32::MAX, Moment::NEVER)));
            }
            LogEntry::HandsTake { hand, .. } => {
                if let Some(since) = self.hand_since.get_mut(hand as usize) {
                    *since = at;
                }
            }
            LogEntry::ToppedUp { volume, .. } => self.water += volume,
            LogEntry::CareBegins { tank, care } => self.care.push((tank, care, at)),
            LogEntry::CareEnds { ref used, .. } => self.water += used.water,
            LogEntry::HandsFree { hand } => {
                let since = self.hand_since.get(hand as usize).copied().unwrap_or(at);
                self.busy += at - since;
                self.days.free = at;
            }
            _ => {}
        }
    }
}
