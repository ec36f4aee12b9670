//! The same replications of several shops, side by side: replication n has the same luck in each of them.

use super::measure::Reading;
use rayon::prelude::*;
use std::ops::Range;
use tankday_base::random::Streams;
use tankday_base::shop::Shop;
use tankday_line::{Line, Plan};
use tankday_plan::mornings::EachMorning;
use tankday_record::Record;

/// Readings of one shop, by replication. A replication whose record would not end is none.
pub type Readings = Vec<Option<Reading>>;

/// What the days of a shop follow.
#[derive(Debug, Clone, Copy)]
pub enum Follows<'a> {
    /// Its own rules.
    Rules,
    /// One plan on all days.
    Plan(&'a Plan),
    /// Plans of each day by itself, made as it goes.
    EachMorning(&'a EachMorning),
}

/// A shop whose days are run.
#[derive(Debug, Clone, Copy)]
pub struct Days<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// What they follow.
    pub follows: Follows<'a>,
}

impl<'a> Days<'a> {
    /// By its own rules.
    #[must_use]
    pub const fn by_rules(shop: &'a Shop) -> Self {
        Self {
            shop,
            follows: Follows::Rules,
        }
    }
}

/// Runs a stretch of replications of every shop on as many threads as the pool has; `done` is told each time that one
/// is over. The result does not depend on the number of threads.
pub fn sample(
    shops: &[Days<'_>],
    seed: u64,
    replications: Range<u32>,
    done: impl Fn() + Sync,
) -> Vec<Readings> {
    let lines: Vec<Line<'_>> = shops.iter().map(|days| Line::new(days.shop)).collect();
    let (many, first) = (replications.len(), replications.start);
    let one = |record: &mut Record, at: usize| {
        let (line, days) = (lines.get(at / many)?, shops.get(at / many)?);
        let luck = Streams::new(seed, u64::from(first) + (at % many) as u64);
        record.entries.clear();
        let outcome = match days.follows {
            Follows::Rules => line.run(Some(luck), record),
            Follows::Plan(plan) => line.follow(plan, Some(luck), record),
            Follows::EachMorning(plans) => plans.day(days.shop, line, Some(luck), record).outcome,
        };
        let reading = (!outcome.endless).then(|| Reading::of(days.shop, record));
        done();
        reading
    };
    let all: Readings = (0..shops.len() * many)
        .into_par_iter()
        .map_init(Record::default, one)
        .collect();
    if many == 0 {
        return vec![Vec::new(); shops.len()];
    }
    all.chunks(many).map(<[_]>::to_vec).collect()
}
