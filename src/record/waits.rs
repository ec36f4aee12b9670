//! What each order waits for, from its arrival until it is ready, read off a record.
//!
//! An order waits with that of its lots that is ready last. Every stretch of a wait has one reason, the first of these
//! that holds: the shop is closed, hands have a break, the bath is under care, the bath is not hot enough, others of the
//! load are not there yet, the places are taken, the hands are busy. What is left is its turn: a plan or the rules keep
//! it back.

use super::analysis::Analysis;
use super::event::{LoadNo, LogEntry, OrderNo};
use super::tank_state::TankState;
use super::watch::Record;
use std::collections::BTreeMap;
use tankday_base::shop::{Hands, Shop, StationId, StepRef};
use tankday_base::units::{Moment, Span};

/// Why a load waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wait {
    /// The shop is closed.
    Closed,
    /// Hands have their break.
    Break,
    /// The bath is under care.
    Care,
    /// The bath is not hot enough.
    Heat,
    /// Others that go in with it are not there yet.
    OtherLoads,
    /// All places are taken.
    Place,
    /// All hands are busy.
    Hands,
    /// Others go first, though it could.
    Turn,
}

impl Wait {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Closed => "opening",
            Self::Break => "the break",
            Self::Care => "care of the bath",
            Self::Heat => "heat",
            Self::OtherLoads => "other loads",
            Self::Place => "a place",
            Self::Hands => "hands",
            Self::Turn => "its turn",
        }
    }
}

/// One stretch of waiting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// From.
    pub from: Moment,
    /// To.
    pub to: Moment,
    /// Why.
    pub why: Wait,
    /// For which step, or to be taken out of which.
    pub step: StepRef,
}

/// The waits of one order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderWaits {
    /// Which.
    pub order: OrderNo,
    /// When it came.
    pub arrives: Moment,
    /// When all of it was ready; none if it never was.
    pub ready: Option<Moment>,
    /// In order of time.
    pub stretches: Vec<Stretch>,
}

impl OrderWaits {
    /// Time for each reason, the longest first.
    #[must_use]
    pub fn by_reason(&self) -> Vec<(Wait, Span)> {
        let mut sums: BTreeMap<Wait, Span> = BTreeMap::new();
        for s in &self.stretches {
            *sums.entry(s.why).or_default() += s.to - s.from;
        }
        let mut all: Vec<(Wait, Span)> = sums.into_iter().collect();
        all.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
        all
    }

    /// The step that it waits for longest, with the reason that takes most of it.
    #[must_use]
    pub fn worst(&self) -> Option<(StepRef, Wait, Span)> {
        let mut sums: BTreeMap<(StepRef, Wait), Span> = BTreeMap::new();
        for s in &self.stretches {
            *sums.entry((s.step, s.why)).or_default() += s.to - s.from;
        }
        let most = sums.into_iter().max_by_key(|(_, span)| *span);
        most.map(|((step, why), span)| (step, why, span))
    }
}

/// The waits of all orders, in the order of their arrival.
#[must_use]
pub fn order_waits(shop: &Shop, record: &Record) -> Vec<OrderWaits> {
    let read = Analysis::of(shop, record);
    let facts = Facts::of(&read, record);
    let mut orders: BTreeMap<OrderNo, OrderWaits> = BTreeMap::new();
    let mut last: BTreeMap<OrderNo, LoadNo> = BTreeMap::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::OrderArrives { order, .. } => {
                let waits = OrderWaits {
                    order,
                    arrives: entry.at,
                    ready: None,
                    stretches: Vec::new(),
                };
                orders.insert(order, waits);
            }
            LogEntry::OrderReady { order } => {
                if let Some(waits) = orders.get_mut(&order) {
                    waits.ready = Some(entry.at);
                }
            }
            LogEntry::LoadMade { load, order, .. } => {
                let later = last.get(&order).is_none_or(|l| facts.end(*l) < facts.end(load));
                if later {
                    last.insert(order, load);
                }
            }
            _ => {}
        }
    }
    for (order, load) in last {
        if let Some(waits) = orders.get_mut(&order) {
            waits.stretches = facts.stretches(load);
        }
    }
    orders.into_values().collect()
}

/// The record, arranged by what can be waited for.
struct Facts<'s> {
    shop: &'s Shop,
    read: &'s Analysis<'s>,
    /// Changes of the number of busy hands, and of the places used of each station.
    hands: Vec<(Moment, i64)>,
    places: BTreeMap<StationId, Vec<(Moment, i64)>>,
    /// For each load that others joined, the others.
    joined: BTreeMap<LoadNo, Vec<LoadNo>>,
}

impl<'s> Facts<'s> {
    fn of(read: &'s Analysis<'s>, record: &Record) -> Self {
        let mut facts = Self {
            shop: read.shop,
            read,
            hands: Vec::new(),
            places: BTreeMap::new(),
            joined: BTreeMap::new(),
        };
        for entry in &record.entries {
            let at = entry.at;
            match entry.event {
                LogEntry::HandsTake { .. } => facts.hands.push((at, 1)),
                LogEntry::HandsFree { .. } => facts.hands.push((at, -1)),
                LogEntry::SetIn { station, .. } => facts.places.entry(station).or_default().push((at, 1)),
                LogEntry::PlaceFree { station, .. } => {
                    facts.places.entry(station).or_default().push((at, -1))
                }
                LogEntry::Joins { load, into } => facts.joined.entry(into).or_default().push(load),
                _ => {}
            }
        }
        facts
    }

    /// When a lot is ready, with the load that it joined.
    fn end(&self, load: LoadNo) -> Moment {
        let Some(way) = self.read.ways.get(&load) else {
            return Moment::NEVER;
        };
        match way.joined {
            Some((_, into)) if into != load => self.end(into),
            _ => way.ready.unwrap_or(Moment::NEVER),
        }
    }

    /// Waits of a lot, and from its joining on those of the load that it is part of.
    fn stretches(&self, load: LoadNo) -> Vec<Stretch> {
        let mut all = Vec::new();
        let (mut load, mut since) = (load, Moment::ZERO);
        while let Some(way) = self.read.ways.get(&load) {
            for visit in &way.visits {
                if visit.set_in >= since {
                    let holder = way.joined.map_or(load, |j| j.1);
                    self.before(
                        load,
                        holder,
                        visit.step,
                        visit.waits.max(since),
                        visit.set_in,
                        &mut all,
                    );
                }
                if let (Some(ends), Some(lift)) = (visit.ends, visit.lift)
                    && lift > ends
                    && lift > since
                {
                    self.split(visit.step, None, ends, lift, Moment::ZERO, &mut all);
                }
            }
            let Some((at, into)) = way.joined else { break };
            // It stood in line until it joined: the visit is the holder's.
            if let Some((step, waits)) = way.waiting.first() {
                self.before(load, into, *step, *waits, at, &mut all);
            }
            (load, since) = (into, at + Span::micros(1));
        }
        all
    }

    /// The wait before a step.
    fn before(
        &self,
        load: LoadNo,
        holder: LoadNo,
        step: StepRef,
        from: Moment,
        to: Moment,
        all: &mut Vec<Stretch>,
    ) {
        let coats = matches!(self.shop.step(step).time, tankday_base::shop::StepTime::Coat);
        let whole = if coats {
            self.whole_at(load, holder, step, to)
        } else {
            Moment::ZERO
        };
        self.split(step, Some(()), from, to, whole, all);
    }

    /// When the last of those that go in together at a moment stood ready.
    fn whole_at(&self, load: LoadNo, holder: LoadNo, step: StepRef, to: Moment) -> Moment {
        let others = self.joined.get(&holder).into_iter().flatten().copied();
        let ready = |l: LoadNo| -> Option<Moment> {
            let way = self.read.ways.get(&l)?;
            let waiting = way.waiting.iter().find(|w| w.0 == step).map(|w| w.1);
            let visit = way
                .visits
                .iter()
                .find(|v| v.step == step && v.set_in == to)
                .map(|v| v.waits);
            let joins_now = way.joined.is_none_or(|j| j.0 == to);
            waiting.filter(|_| joins_now && way.joined.is_some()).or(visit)
        };
        let all = others.chain([holder, load]).filter_map(ready);
        all.filter(|at| *at <= to).max().unwrap_or(Moment::ZERO)
    }

    /// Cuts a wait wherever something changes, and gives every piece its reason. `goes_in` for a wait before a step.
    fn split(
        &self,
        step: StepRef,
        goes_in: Option<()>,
        from: Moment,
        to: Moment,
        whole: Moment,
        all: &mut Vec<Stretch>,
    ) {
        if to <= from {
            return;
        }
        let to_end = to;
        let mut cuts: Vec<Moment> = vec![from, to, whole];
        cuts.extend(self.hands.iter().map(|h| h.0));
        for station in &self.shop.step(step).stations {
            cuts.extend(self.places.get(station).into_iter().flatten().map(|p| p.0));
            let tank = self.read.tank(*station).into_iter();
            cuts.extend(tank.flat_map(|t| t.states()).flat_map(|s| [s.from, s.to]));
        }
        for day in &self.shop.calendar.days {
            cuts.extend([day.open, day.close]);
            cuts.extend(day.breaks.iter().flat_map(|b| [b.from, b.until]));
        }
        cuts.retain(|c| (from..=to).contains(c));
        cuts.sort_unstable();
        cuts.dedup();
        for pair in cuts.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            let why = match self.why(step, goes_in.is_some(), from, whole) {
                Wait::Turn if goes_in.is_some() && self.is_kept_for_a_break(step, from, to_end) => {
                    Wait::Break
                }
                why => why,
            };
            match all.last_mut() {
                Some(last) if last.to == from && last.why == why && last.step == step => last.to = to,
                _ => all.push(Stretch { from, to, why, step }),
            }
        }
    }

    /// Whether a wait for a bath goes on through a break that nobody stays for: the load would not be out before it.
    fn is_kept_for_a_break(&self, step: StepRef, from: Moment, to: Moment) -> bool {
        let coats = matches!(self.shop.step(step).time, tankday_base::shop::StepTime::Coat);
        let mut breaks = self.shop.calendar.days.iter().flat_map(|d| &d.breaks);
        coats && breaks.any(|b| !b.stays && from < b.from && b.until <= to)
    }

    fn why(&self, step: StepRef, goes_in: bool, at: Moment, whole: Moment) -> Wait {
        let written = self.shop.step(step);
        let by_hand = written.hands != Hands::None;
        let day = self
            .shop
            .calendar
            .days
            .iter()
            .find(|d| d.open <= at && at < d.close);
        match day {
            None if by_hand => return Wait::Closed,
            Some(day) if by_hand && day.breaks.iter().any(|b| b.holds(at)) => return Wait::Break,
            _ => {}
        }
        let states = |state: fn(TankState) -> bool| {
            let tanks = written.stations.iter().filter_map(|s| self.read.tank(*s));
            let mut any = false;
            let all = tanks.into_iter().all(|t| {
                any = true;
                t.states()
                    .iter()
                    .any(|s| s.from <= at && at < s.to && state(s.state))
            });
            any && all
        };
        if goes_in && states(|s| s == TankState::Care) {
            return Wait::Care;
        }
        if goes_in && states(|s| matches!(s, TankState::Heating | TankState::Recovering | TankState::Off)) {
            return Wait::Heat;
        }
        if goes_in && at < whole {
            return Wait::OtherLoads;
        }
        if goes_in && written.stations.iter().all(|s| self.is_full(*s, at)) {
            return Wait::Place;
        }
        let busy: i64 = self.hands.iter().take_while(|h| h.0 <= at).map(|h| h.1).sum();
        if by_hand && busy >= i64::from(self.shop.hands_at(at)) {
            return Wait::Hands;
        }
        Wait::Turn
    }

    fn is_full(&self, station: StationId, at: Moment) -> bool {
        let changes = self.places.get(&station).into_iter().flatten();
        let used: i64 = changes.take_while(|p| p.0 <= at).map(|p| p.1).sum();
        let places = self
            .shop
            .stations
            .get(station.index())
            .map_or(0, |s| s.places * s.together.max(1));
        used >= i64::from(places)
    }
}
