//! What the new order does to the others beside the days on which they are on time: one that is late anyway may never be
//! finished any more, or much later.

use std::sync::atomic::AtomicBool;
use tankday_base::print::{clock_or_date, how_long};
use tankday_base::shop::{Arrival, Keeping, OrderId, Shop};
use tankday_base::units::{Moment, Span};
use tankday_line::{Line, Plan};
use tankday_plan::{Asked, Promised, plan};
use tankday_record::Record;
use tankday_study::Study;

/// From so much later on it is said (ours, no source).
const CLEARLY: Span = Span::whole_minutes(15);
/// And from so many fewer of 100 days on which it is finished: less is luck of the search, as for days on time.
const FEWER: f64 = 0.02;

/// Another order without the new one and with it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Other {
    /// Which.
    pub(super) order: usize,
    without: Days,
    with: Days,
}

/// One order over all days.
#[derive(Debug, Clone, Copy, Default)]
struct Days {
    /// Days on which it is finished.
    finished: usize,
    /// Ready by then on half of the days; none where it is not.
    usual: Option<Moment>,
}

/// The stated orders beside the new one, each on the same days without it, where the shop is planned anew, and with it. Empty
/// where nothing is promised, or the search was stopped.
pub(super) fn others(found: &Promised, asked: Asked, stop: &AtomicBool) -> Vec<Other> {
    let Some(with) = found.plan.as_ref() else {
        return Vec::new();
    };
    let mut shop = found.shop.clone();
    shop.orders.pop();
    if shop.orders.is_empty() {
        return Vec::new();
    }
    let without = match found.by_rules {
        true => by_rules(&shop),
        false => match plan(&shop, asked.seed, asked.effort, stop, &|_| ()) {
            Some(found) => found.plan,
            None => return Vec::new(),
        },
    };
    let count = shop.orders.len();
    let (before, after) = (study(&shop, &without, asked), study(&found.shop, with, asked));
    let other = |order: usize| Other {
        order,
        without: Days::of(&before, order),
        with: Days::of(&after, order),
    };
    // Of orders that come by chance none is the same on two days.
    let stated = |i: &usize| {
        matches!(
            found.shop.orders.get(*i).map(|o| &o.arrival),
            Some(Arrival::At(_))
        )
    };
    (0..count).filter(stated).map(other).collect()
}

/// The day by the shop's own rules, as a plan.
fn by_rules(shop: &Shop) -> Plan {
    let mut plan = Plan::of(&Line::new(shop));
    plan.keeping = Keeping::OwnRules;
    plan
}

fn study(shop: &Shop, plan: &Plan, asked: Asked) -> Study {
    let line = Line::new(shop);
    Study::of(shop, asked.seed, asked.days, |luck| {
        let mut record = Record::default();
        line.follow(plan, Some(luck), &mut record);
        record
    })
}

impl Days {
    fn of(study: &Study, order: usize) -> Self {
        let stated = OrderId(order as u32);
        let mut keys = study.days.iter().flat_map(|day| day.orders.keys());
        let Some(key) = keys.find(|key| key.0 == stated) else {
            return Self::default();
        };
        Self {
            finished: study.days_on_which(|day| matches!(day.orders.get(key), Some((Some(_), _)))),
            usual: study.chance(*key).usual,
        }
    }
}

impl Other {
    /// What becomes of it, where that is worse than the days on time say: `H won't be finished (without the new order usually
    /// 15:02)`.
    pub(super) fn worse(&self, shop: &Shop, days: u32) -> Option<String> {
        let order = shop.orders.get(self.order)?;
        let id = &order.id;
        let lost = self.without.finished.saturating_sub(self.with.finished);
        if lost as f64 > FEWER * f64::from(days) {
            let before = match self.without.usual {
                Some(at) => format!("usually {}", clock_or_date(&shop.calendar, at)),
                None => format!("on {} of {days}", self.without.finished),
            };
            let finished = match self.with.finished {
                0 => "won't be finished".to_owned(),
                some => format!("will be finished on only {some} of {days}"),
            };
            return Some(format!("{id} {finished} (without the new order {before})"));
        }
        let (Some(before), Some(after)) = (self.without.usual, self.with.usual) else {
            return None;
        };
        let due = match (&order.arrival, order.due_after) {
            (Arrival::At(at), Some(due)) => *at + due,
            _ => Moment::ZERO,
        };
        // What still is on time is as good as before.
        (after - before >= CLEARLY && after > due).then(|| {
            let (at, later) = (clock_or_date(&shop.calendar, after), how_long(after - before));
            format!("{id} will usually be ready {later} later than without the new order (at {at})")
        })
    }

    /// When it is usually ready without the new order, and with it.
    pub(super) const fn usual(&self) -> (Option<Moment>, Option<Moment>) {
        (self.without.usual, self.with.usual)
    }
}
