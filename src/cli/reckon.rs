//! From a shop to everything that is told about it.

use super::summary::Results;
use crate::ease::{Gain, gains};
use crate::line::Line;
use crate::luck::Luck;
use crate::record::{Chain, Figures, Labels, Record};
use crate::shop::Shop;
use crate::study::Study;

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

/// Runs a shop once.
#[must_use]
pub(super) fn once(shop: &Shop, luck: Option<Luck>) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(luck, &mut record);
    record
}

impl Reckoned {
    /// Runs a shop: once with mean times, or many days under different luck. What would help is found under the luck
    /// of the day drawn.
    #[must_use]
    pub(super) fn of(shop: &Shop, seed: u64, replications: Option<u32>) -> Self {
        let study = replications.map(|n| {
            let line = Line::new(shop);
            Study::of(shop, seed, n, |luck| {
                let mut record = Record::default();
                line.run(Some(luck), &mut record);
                record
            })
        });
        let luck = study.as_ref().map(|s| Luck::new(seed, s.drawn as u64));
        let (record, figures) = match &study {
            Some(study) => (study.record.clone(), study.figures.clone()),
            None => {
                let record = once(shop, None);
                let figures = Figures::of(shop, &record);
                (record, figures)
            }
        };
        Self {
            labels: Labels::of(shop, &record),
            chain: Chain::of(shop, &record),
            gains: gains(shop, &record, |eased| once(eased, luck)),
            record,
            figures,
            study,
            seed,
        }
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
        }
    }
}
