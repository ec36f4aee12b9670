//! Everything that is told of one day, for tests that read it.

use tankday::narrative::Results;
use tankday::record::{Chain, Figures, Labels, Record};
use tankday::shop::Shop;

/// Hands the results of a day to whoever reads them.
pub(crate) fn with_results<T>(shop: &Shop, record: &Record, read: impl FnOnce(&Results<'_>) -> T) -> T {
    let figures = Figures::of(shop, record);
    let chain = Chain::of(shop, record);
    read(&Results {
        shop,
        record,
        figures: &figures,
        labels: &Labels::of(shop, record),
        chain: chain.as_ref(),
        gains: &[],
        study: None,
        seed: 1,
        planned: None,
        beyond: None,
    })
}
