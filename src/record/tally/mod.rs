//! Figures of stations, hands and waits, gathered while a run goes on: memory follows what is in the shop at once, not
//! how long the run is.

mod moving;
mod place;

use super::event::{LoadNo, LogEntry, OrderNo};
use super::watch::{Looks, Observer};
use super::window::Window;
use moving::Moving;
use place::Places;
pub use place::StationFigure;
use tankday_base::shop::{OrderId, Shop, StationId, StepRef};
use tankday_base::units::{Moment, Span};

/// A mean that is gathered one by one.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct MeanSpan {
    /// How many.
    pub count: u64,
    /// Their sum.
    pub sum: Span,
}

impl MeanSpan {
    fn add(&mut self, span: Span) {
        self.count += 1;
        self.sum += span;
    }

    /// The mean; none of nothing.
    #[must_use]
    pub fn mean(&self) -> Option<Span> {
        let count = i64::try_from(self.count).ok().filter(|n| *n > 0)?;
        Some(Span::micros(self.sum.in_micros() / count))
    }
}

/// An order on its way.
#[derive(Debug, Clone, Copy)]
struct Open {
    came: Moment,
    source: OrderId,
    counts: bool,
}

/// Gathers figures; give it to a run as its watcher.
#[derive(Debug, Clone)]
pub struct Tally<'s> {
    shop: &'s Shop,
    from: Option<Moment>,
    now: Moment,
    loads: Window<Moving>,
    orders: Window<Open>,
    places: Vec<Places>,
    step_waits: Vec<Vec<MeanSpan>>,
    hands: Vec<Hand>,
    in_system: MeanSpan,
    ready: Vec<Option<Moment>>,
    promised: u64,
    on_time: u64,
    end: Option<Moment>,
    last_hands: Option<Moment>,
    last_step: Option<Moment>,
}

/// One pair of hands.
#[derive(Debug, Clone, Copy, Default)]
struct Hand {
    since: Option<Moment>,
    busy: Span,
}

impl<'s> Tally<'s> {
    /// Counts everything.
    #[must_use]
    pub fn new(shop: &'s Shop) -> Self {
        Self::begun(shop, None)
    }

    /// Counts the time from a moment on, and the orders and loads that come at or after it: for queues that must warm up.
    #[must_use]
    pub fn counting_from(shop: &'s Shop, from: Moment) -> Self {
        Self::begun(shop, Some(from))
    }

    fn begun(shop: &'s Shop, from: Option<Moment>) -> Self {
        Self {
            shop,
            from,
            now: from.unwrap_or_default(),
            loads: Window::default(),
            orders: Window::default(),
            places: shop.stations.iter().map(Places::of).collect(),
            step_waits: shop
                .routes
                .iter()
                .map(|r| vec![MeanSpan::default(); r.steps.len()])
                .collect(),
            hands: vec![Hand::default(); shop.hands.min(4096) as usize],
            in_system: MeanSpan::default(),
            ready: vec![None; shop.orders.len()],
            promised: 0,
            on_time: 0,
            end: None,
            last_hands: None,
            last_step: None,
        }
    }

    /// Mean wait before a step, from standing ready for it to taking a place.
    #[must_use]
    pub fn step_wait(&self, step: StepRef) -> MeanSpan {
        let route = self.step_waits.get(step.route.index());
        route
            .and_then(|r| r.get(step.step.index()))
            .copied()
            .unwrap_or_default()
    }

    /// From arrival to ready, over the orders that are ready.
    #[must_use]
    pub fn in_system(&self) -> MeanSpan {
        self.in_system
    }

    /// When a stated order was ready; of a stream, when its last order so far was.
    #[must_use]
    pub fn ready(&self, order: OrderId) -> Option<Moment> {
        self.ready.get(order.index()).copied().flatten()
    }

    /// Orders that were promised and are ready, and how many of them were ready in time.
    #[must_use]
    pub fn kept_promises(&self) -> (u64, u64) {
        (self.promised, self.on_time)
    }

    /// When the last load was ready.
    #[must_use]
    pub fn end(&self) -> Option<Moment> {
        self.end
    }

    /// End of the last work under hands; where nobody lends a hand, of the last step.
    #[must_use]
    pub fn finish(&self) -> Option<Moment> {
        self.last_hands.or(self.last_step)
    }

    /// The stations from the start of counting to the last event.
    #[must_use]
    pub fn stations(&self) -> Vec<StationFigure> {
        let window = self.window();
        let mut places = self.places.clone();
        for held in self.loads.iter().filter_map(|load| load.place.as_ref()) {
            if let Some(place) = places.get_mut(held.station.index()) {
                place.cut_short(held, window);
            }
        }
        (0u32..)
            .zip(&places)
            .map(|(i, p)| p.figure(StationId(i), window))
            .collect()
    }

    /// Time each pair of hands was at work since the start of counting.
    #[must_use]
    pub fn hands_at_work(&self) -> Vec<Span> {
        let window = self.window();
        let open = |hand: &Hand| {
            hand.since
                .map_or(Span::ZERO, |since| clip(since, self.now, window))
        };
        self.hands.iter().map(|hand| hand.busy + open(hand)).collect()
    }

    /// The time that counts: from, to.
    #[must_use]
    pub fn window(&self) -> (Moment, Moment) {
        (self.from.unwrap_or(self.now), self.now)
    }

    pub(super) fn see(&mut self, at: Moment, event: &LogEntry) {
        if self.from.is_none() {
            (self.from, self.now) = (Some(at), at);
        }
        self.now = self.now.max(at);
        match *event {
            LogEntry::OrderArrives { order, source, .. } => self.arrives(at, order, source),
            LogEntry::LoadMade { load, .. } => self.made(at, load),
            LogEntry::Joins { load, .. } => self.joins(at, load),
            LogEntry::Waits { load, step } => self.waits(at, load, step),
            LogEntry::SetIn { load, step, station } => self.set_in(at, load, step, station),
            LogEntry::WorkBegins { load, .. } => self.at_place(load, |p, h, _| p.begin(h, at)),
            LogEntry::WorkResumes { load } => self.at_place(load, |p, h, _| {
                p.resume(h, at);
            }),
            LogEntry::WorkPauses { load } | LogEntry::WorkEnds { load, .. } => {
                self.at_place(load, |p, h, w| p.end(h, at, w))
            }
            LogEntry::PlaceFree { load, .. } => self.place_free(at, load),
            LogEntry::StepDone { load, .. } => self.step_done(at, load),
            LogEntry::LoadReady { load } => {
                self.end = Some(at);
                self.loads.remove(load.0);
            }
            LogEntry::OrderReady { order } => self.order_ready(at, order),
            LogEntry::HandsTake { hand, .. } => self.take(at, hand),
            LogEntry::HandsFree { hand } => self.free(at, hand),
            _ => {}
        }
    }

    fn arrives(&mut self, at: Moment, order: OrderNo, source: OrderId) {
        let counts = self.from.is_none_or(|from| at >= from);
        self.orders.insert(
            order.0,
            Open {
                came: at,
                source,
                counts,
            },
        );
    }

    fn made(&mut self, at: Moment, load: LoadNo) {
        let counts = self.from.is_none_or(|from| at >= from);
        let moving = Moving {
            counts,
            waits: None,
            more_waits: Vec::new(),
            place: None,
        };
        self.loads.insert(load.0, moving);
    }

    fn joins(&mut self, at: Moment, load: LoadNo) {
        let Some(gone) = self.loads.remove(load.0) else {
            return;
        };
        // What joined has waited too; it goes on as part of the other and is not met again.
        if gone.counts {
            for (step, since) in gone.waits.into_iter().chain(gone.more_waits) {
                self.count_wait(step, at - since, None);
            }
        }
    }

    fn waits(&mut self, at: Moment, load: LoadNo, step: StepRef) {
        let Some(moving) = self.loads.get_mut(load.0) else {
            return;
        };
        moving.take_wait(step);
        if moving.waits.is_none() {
            moving.waits = Some((step, at));
        } else {
            moving.more_waits.push((step, at));
        }
    }

    fn set_in(&mut self, at: Moment, load: LoadNo, step: StepRef, station: StationId) {
        let Some(moving) = self.loads.get_mut(load.0) else {
            return;
        };
        let since = moving.take_wait(step).filter(|_| moving.counts);
        moving.place = self
            .places
            .get_mut(station.index())
            .map(|p| p.set_in(station, at));
        if let Some(since) = since {
            self.count_wait(step, at - since, Some(station));
        }
    }

    fn count_wait(&mut self, step: StepRef, wait: Span, station: Option<StationId>) {
        let route = self.step_waits.get_mut(step.route.index());
        if let Some(mean) = route.and_then(|r| r.get_mut(step.step.index())) {
            mean.add(wait);
        }
        if let Some(place) = station.and_then(|s| self.places.get_mut(s.index())) {
            place.waited(wait);
        }
    }

    fn at_place(&mut self, load: LoadNo, act: impl FnOnce(&mut Places, &mut place::Held, (Moment, Moment))) {
        let window = self.window();
        let Some(held) = self.loads.get_mut(load.0).and_then(|m| m.place.as_mut()) else {
            return;
        };
        if let Some(place) = self.places.get_mut(held.station.index()) {
            act(place, held, window);
        }
    }

    fn place_free(&mut self, at: Moment, load: LoadNo) {
        let window = self.window();
        let Some(held) = self.loads.get_mut(load.0).and_then(|m| m.place.take()) else {
            return;
        };
        if let Some(place) = self.places.get_mut(held.station.index()) {
            place.leave(&held, at, window);
        }
    }

    fn step_done(&mut self, at: Moment, load: LoadNo) {
        self.last_step = Some(at);
        self.place_free(at, load);
        if let Some(moving) = self.loads.get_mut(load.0) {
            moving.wait_from(at);
        }
    }

    fn order_ready(&mut self, at: Moment, order: OrderNo) {
        let Some(open) = self.orders.remove(order.0) else {
            return;
        };
        if let Some(ready) = self.ready.get_mut(open.source.index()) {
            *ready = Some(at);
        }
        if !open.counts {
            return;
        }
        self.in_system.add(at - open.came);
        let due = self
            .shop
            .orders
            .get(open.source.index())
            .and_then(|o| o.due_after);
        if let Some(due) = due {
            self.promised += 1;
            self.on_time += u64::from(at - open.came <= due);
        }
    }

    fn take(&mut self, at: Moment, hand: u32) {
        if let Some(hand) = self.hands.get_mut(hand as usize) {
            hand.since = Some(at);
        }
    }

    fn free(&mut self, at: Moment, hand: u32) {
        self.last_hands = Some(at);
        let window = self.window();
        if let Some(hand) = self.hands.get_mut(hand as usize)
            && let Some(since) = hand.since.take()
        {
            hand.busy += clip(since, at, window);
        }
    }
}

/// The part of a stretch that lies in a window.
fn clip(from: Moment, to: Moment, window: (Moment, Moment)) -> Span {
    let (from, to) = (from.max(window.0), to.min(window.1));
    if to > from { to - from } else { Span::ZERO }
}

impl Observer for Tally<'_> {
    fn looks(&self) -> Looks {
        Looks::Events
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        self.see(at, &event);
    }
}
