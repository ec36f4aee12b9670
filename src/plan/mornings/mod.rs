//! Days on which orders come by chance, planned as one would: each morning, and again at every such order, with only what is
//! known by then.
//!
//! # How it goes
//!
//! A day is run until something is to be planned anew: an order of a stream has come while the shop is open, or the shop
//! opens. What happened so far is read off the record (`floor.rs`), and the rest is planned from there (`known.rs`): orders
//! that came are stated ones now, streams bring nothing more, what was begun goes on, baths are as they are. Then the day
//! is run from its beginning again by all plans so far, each taking over at its moment (`line/again.rs`): up to there it is the
//! same to the microsecond, for nothing hangs on a plan before it takes over. So no plan knows a draw that is made later.
//!
//! A plan is followed only where the rest of the day costs less by it than by the shop's own rules, on average of days that
//! begin as this one did and bring what may come (`rest.rs`).
//!
//! # Known and left
//!
//! - A plan of the rest is searched for with mean times from its moment on, and without orders that may come; only the last
//!   choice knows of these. Its baths are heated by the rules.
//! - Orders that have come keep the lots into which the rules divided them as they came.
//! - With the square of the arrivals of a day grows what it takes to run it again; planning is nearly all of it.

mod floor;
mod known;
mod rest;

use super::effort::Effort;
use super::search::plan;
use floor::Floor;
use known::Known;
use rest::Rest;
use std::sync::atomic::AtomicBool;
use tankday_base::random::Streams;
use tankday_base::shop::{Arrival, Keeping, Order, Shop};
use tankday_base::units::Moment;
use tankday_line::{Line, Outcome, Plan};
use tankday_record::{LogEntry, Observer, Record};

/// A plan of the rest asks the line for one in so many of the days that its effort allows, as that of a whole day does where
/// a timetable helps.
const ASKED_LESS: u64 = 8;

/// How the days of a shop are planned, each morning and at every order that comes by chance.
#[derive(Debug, Clone)]
pub struct EachMorning {
    seed: u64,
    effort: Effort,
    /// What is planned before anything is known of the luck of a day.
    first: Plan,
}

/// A day that was planned so.
#[derive(Debug, Clone)]
pub struct Day {
    /// How it ended.
    pub outcome: Outcome,
    /// The plans that it followed, each from its moment on.
    pub plans: Vec<(Moment, Plan)>,
}

impl EachMorning {
    /// Plans what is known beforehand.
    #[must_use]
    pub fn new(shop: &Shop, (seed, effort): (u64, Effort), stop: &AtomicBool) -> Self {
        let quiet = known::without_streams(shop);
        let found = plan(&quiet, seed, effort, stop, &|_| ());
        let line = Line::new(shop);
        let first = Rest::new(shop, &line, None, seed).best(found.map(|f| as_followed(f.plan)));
        Self {
            seed,
            effort: Effort::Days((effort.days() / ASKED_LESS).max(1)),
            first,
        }
    }

    /// Runs one day.
    pub fn day(&self, shop: &Shop, line: &Line<'_>, luck: Option<Streams>, record: &mut Record) -> Day {
        let mut plans = vec![(Moment::ZERO, self.first.clone())];
        let mut known_until = Moment::micros(-1);
        loop {
            record.entries.clear();
            let mut day = UntilNews::new(shop, record, known_until);
            let outcome = line.follow_each(&plans, luck, &mut day);
            let Some(now) = day.news.filter(|_| !outcome.endless) else {
                return Day { outcome, plans };
            };
            known_until = now;
            plans.extend(self.again(shop, record, now).map(|plan| (now, plan)));
        }
    }

    /// The plan of the rest of a day of which this much is known; none if nothing is left to plan.
    #[must_use]
    pub fn again(&self, shop: &Shop, record: &Record, now: Moment) -> Option<Plan> {
        let floor = Floor::of(shop, record);
        let known = Known::of(shop, &floor);
        let line = Line::new(&known.shop);
        let settled = known.settled(&line, &floor, now)?;
        let stop = AtomicBool::new(false);
        let found = super::plan_on(
            &known.shop,
            Some(&settled),
            self.seed,
            self.effort,
            &stop,
            &|_| (),
        );
        let open = known.going_on(shop, &floor, now);
        let line = Line::new(&open);
        let rest = Rest::new(&open, &line, Some((&settled, now)), self.seed);
        let mut plan = rest.best(found.map(|f| as_followed(f.plan)));
        plan.came(shop.orders.len(), &known.came);
        Some(plan)
    }
}

/// A plan as it is followed on days that bring more than it knows.
fn as_followed(mut plan: Plan) -> Plan {
    if plan.keeping == Keeping::Strictly {
        plan.keeping = Keeping::Loosely;
    }
    plan.heat.clear();
    plan
}

/// Knows when something is to be planned anew.
struct News {
    streams: Vec<bool>,
    open: bool,
    opened: bool,
    /// Something came while the shop was closed.
    waits: bool,
}

impl News {
    fn of(shop: &Shop) -> Self {
        let stream = |o: &Order| !matches!(o.arrival, Arrival::At(_));
        Self {
            streams: shop.orders.iter().map(stream).collect(),
            open: false,
            opened: false,
            waits: false,
        }
    }

    /// Whether this is news to plan by.
    fn hears(&mut self, event: &LogEntry) -> bool {
        match event {
            LogEntry::Opens => {
                // What was planned beforehand holds until something has happened.
                let new = self.opened || self.waits;
                (self.open, self.opened, self.waits) = (true, true, false);
                new
            }
            LogEntry::Closes => {
                self.open = false;
                false
            }
            LogEntry::OrderArrives { source, .. } if self.streams.get(source.index()) == Some(&true) => {
                self.waits |= !self.open;
                self.open
            }
            _ => false,
        }
    }
}

/// Records a day until the first news after a moment.
struct UntilNews<'a> {
    record: &'a mut Record,
    news_at: News,
    after: Moment,
    news: Option<Moment>,
}

impl<'a> UntilNews<'a> {
    fn new(shop: &Shop, record: &'a mut Record, after: Moment) -> Self {
        Self {
            record,
            news_at: News::of(shop),
            after,
            news: None,
        }
    }
}

impl Observer for UntilNews<'_> {
    fn most_events(&self) -> u64 {
        self.record.most_events()
    }

    fn pauses(&self) -> bool {
        self.news.is_some()
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        if self.news_at.hears(&event) && at > self.after {
            self.news = Some(at);
        }
        self.record.note(at, event);
    }
}
