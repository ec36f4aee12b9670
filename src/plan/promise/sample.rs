//! A plan run on many days under different luck: how often each order is kept, and when the last one is ready.

use super::Asked;
use rayon::prelude::*;
use tankday_base::random::Streams;
use tankday_base::shop::{Arrival, Shop};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};
use tankday_record::{LogEntry, Looks, Observer, OrderNo, Soundness};

/// Days that are run between two looks at whether a plan still has a chance.
const AT_A_TIME: u32 = 26;

/// What many days give for a plan.
#[derive(Debug, Clone)]
pub(super) struct Sample {
    /// For each order the days on which it is kept.
    pub(super) kept: Vec<u32>,
    /// Ready times of the last order, in order; never, for a day on which it does not get ready.
    pub(super) ready: Vec<Moment>,
}

/// How a day is run: by a plan, or by the shop's own rules.
#[derive(Debug, Clone, Copy)]
pub(super) enum By<'p> {
    Plan(&'p Plan),
    Rules,
}

/// Notes when stated orders are ready, and whether they are sound.
struct ReadyObserver<'s> {
    source_of: Vec<u32>,
    ready: Vec<Moment>,
    sound: Soundness<'s>,
}

impl ReadyObserver<'_> {
    /// When each stated order is ready; one that is harmed counts as never ready.
    fn times(mut self) -> Vec<Moment> {
        for (order, source) in (0..).zip(&self.source_of) {
            let ready = self.ready.get_mut(*source as usize);
            if let Some(ready) = ready.filter(|_| !self.sound.is_sound(OrderNo(order))) {
                *ready = Moment::NEVER;
            }
        }
        self.ready
    }
}

impl Observer for ReadyObserver<'_> {
    fn looks(&self) -> Looks {
        Looks::Events
    }

    fn most_events(&self) -> u64 {
        2_000_000
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        self.sound.note(at, &event);
        match event {
            LogEntry::OrderArrives { source, .. } => self.source_of.push(source.0),
            LogEntry::OrderReady { order } => {
                let source = self.source_of.get(order.0 as usize).map(|s| *s as usize);
                if let Some(ready) = source.and_then(|s| self.ready.get_mut(s)) {
                    *ready = at;
                }
            }
            _ => {}
        }
    }
}

impl Sample {
    /// All days asked for.
    pub(super) fn of(shop: &Shop, line: &Line<'_>, by: By<'_>, asked: Asked) -> Self {
        let mut sample = Self::none(shop);
        sample.add(shop, line, by, asked, 0..asked.days);
        sample.ready.sort_unstable();
        sample
    }

    /// All days asked for, or the first order that is certain to be kept on fewer days than this.
    pub(super) fn keeping(
        shop: &Shop,
        line: &Line<'_>,
        by: By<'_>,
        asked: Asked,
        least: &[f64],
    ) -> Result<Self, u32> {
        let mut sample = Self::none(shop);
        let mut from = 0;
        while from < asked.days {
            let until = from.saturating_add(AT_A_TIME).min(asked.days);
            sample.add(shop, line, by, asked, from..until);
            let at_most = |kept: u32| f64::from(kept + (asked.days - until));
            let mut orders = sample.kept.iter().zip(least).zip(0..);
            if let Some((_, order)) = orders.find(|((kept, least), _)| at_most(**kept) < **least) {
                return Err(order);
            }
            from = until;
        }
        sample.ready.sort_unstable();
        Ok(sample)
    }

    fn none(shop: &Shop) -> Self {
        Self {
            kept: vec![0; shop.orders.len()],
            ready: Vec::new(),
        }
    }

    fn add(&mut self, shop: &Shop, line: &Line<'_>, by: By<'_>, asked: Asked, days: std::ops::Range<u32>) {
        let one = |day: u32| ready_times(shop, line, by, Some(Streams::new(asked.seed, u64::from(day))));
        let days: Vec<Vec<Moment>> = days.into_par_iter().map(one).collect();
        for day in days {
            for (i, kept) in self.kept.iter_mut().enumerate() {
                let ready = day.get(i).copied().unwrap_or(Moment::NEVER);
                *kept += u32::from(ready < Moment::NEVER && ready <= due(shop, i));
            }
            self.ready.extend(day.last());
        }
    }

    /// Ready by then on so many of the days.
    pub(super) fn on(&self, days: usize) -> Moment {
        let at = days.checked_sub(1).and_then(|d| self.ready.get(d));
        at.copied().unwrap_or(Moment::NEVER)
    }

    /// On so many days it gets ready at all.
    pub(super) fn ever(&self) -> usize {
        self.ready.iter().filter(|r| **r < Moment::NEVER).count()
    }
}

/// When each stated order is ready on one day; never, for one that does not get ready, or lies bare too long, or takes no coat.
pub(super) fn ready_times(shop: &Shop, line: &Line<'_>, by: By<'_>, luck: Option<Streams>) -> Vec<Moment> {
    let mut watch = ReadyObserver {
        source_of: Vec::new(),
        ready: vec![Moment::NEVER; shop.orders.len()],
        sound: Soundness::new(shop),
    };
    match by {
        By::Plan(plan) => line.follow(plan, luck, &mut watch),
        By::Rules => line.run(luck, &mut watch),
    };
    watch.times()
}

fn due(shop: &Shop, order: usize) -> Moment {
    match shop.orders.get(order).map(|o| (&o.arrival, o.due_after)) {
        Some((Arrival::At(at), Some(after))) => *at + after,
        _ => Moment::NEVER,
    }
}
