//! From a shop to everything that is told about it.

use super::audit::refuse_faults;
use super::exit::Failure;
use super::summary::Results;
use std::sync::{Mutex, PoisonError};
use tankday_base::random::Streams;
use tankday_base::shop::Shop;
use tankday_base::units::Moment;
use tankday_line::{Line, Outcome, Plan};
use tankday_record::{Analysis, Chain, Figures, Labels, LogEntry, Observer, Record};
use tankday_study::Study;
use tankday_study::what_if::{Gain, gains};

/// The results of a run.
pub(super) struct Reckoned {
    /// The day drawn.
    pub record: Record,
    /// Its figures.
    pub figures: Figures,
    /// Its names.
    pub labels: Labels,
    /// What sets its end.
    pub chain: Option<Chain>,
    /// What would help.
    pub gains: Vec<Gain>,
    /// The replications, if any were asked for.
    pub study: Option<Study>,
    /// Seed.
    pub seed: u64,
}

/// Why there are no results.
pub(super) enum NoResults {
    /// The days hold more than a record of every event can keep in memory.
    TooLong,
    /// A record does not add up.
    Unsound(Failure),
}

/// A record that is kept only up to a size. An event of the run makes some three entries of a hundred bytes.
#[derive(Default)]
struct Kept(Record);

impl Observer for Kept {
    fn most_events(&self) -> u64 {
        200_000
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        self.0.note(at, event);
    }
}

/// Runs a shop once; cut off where it is too long.
fn once(line: &Line<'_>, plan: Option<&Plan>, luck: Option<Streams>) -> (Record, Outcome) {
    let mut kept = Kept::default();
    let outcome = match plan {
        Some(plan) => line.follow(plan, luck, &mut kept),
        None => line.run(luck, &mut kept),
    };
    (kept.0, outcome)
}

/// Runs a shop once by its rules, with average times; none where that is too long for a record.
pub(super) fn day(shop: &Shop) -> Option<Record> {
    let (record, outcome) = once(&Line::new(shop), None, None);
    (!outcome.endless).then_some(record)
}

impl Reckoned {
    /// Runs a shop by its rules or by a plan: once with mean times, or many days under different luck. What would help
    /// is found under the luck of the day drawn; it is not asked of a plan, which is for this shop as it is.
    ///
    /// # Errors
    /// When the first run is too long for a record; when a record does not add up and is to be audited.
    pub(super) fn of(
        shop: &Shop,
        plan: Option<&Plan>,
        seed: u64,
        replications: Option<u32>,
        audited: bool,
    ) -> Result<Self, NoResults> {
        let line = Line::new(shop);
        let (first, outcome) = once(&line, plan, replications.map(|_| Streams::new(seed, 0)));
        if outcome.endless {
            return Err(NoResults::TooLong);
        }
        let unsound = Mutex::new(None);
        let look = |record: &Record| {
            if audited && let Err(failure) = refuse_faults(shop, record) {
                *unsound.lock().unwrap_or_else(PoisonError::into_inner) = Some(failure);
            }
        };
        look(&first);
        let study = replications.map(|n| {
            Study::of(shop, seed, n, |luck| {
                let record = once(&line, plan, Some(luck)).0;
                look(&record);
                record
            })
        });
        if let Some(failure) = unsound.into_inner().unwrap_or_else(PoisonError::into_inner) {
            return Err(NoResults::Unsound(failure));
        }
        let luck = study.as_ref().map(|s| Streams::new(seed, s.drawn as u64));
        let record = study.as_ref().map_or(first, |study| study.record.clone());
        let read = Analysis::of(shop, &record);
        Ok(Self {
            labels: Labels::from(&read),
            chain: Chain::read(&read),
            figures: study
                .as_ref()
                .map_or_else(|| Figures::from(&read), |s| s.figures.clone()),
            gains: match plan {
                Some(_) => Vec::new(),
                None => gains(shop, &record, |eased| once(&Line::new(eased), None, luck).0),
            },
            record,
            study,
            seed,
        })
    }

    /// For those who tell it.
    #[must_use]
    pub(super) fn results<'a>(&'a self, shop: &'a Shop) -> Results<'a> {
        Results {
            shop,
            record: &self.record,
            figures: &self.figures,
            labels: &self.labels,
            chain: self.chain.as_ref(),
            gains: &self.gains,
            study: self.study.as_ref(),
            seed: self.seed,
            planned: None,
            beyond: None,
        }
    }
}
