//! What holds in the long run, from one long run: the warm-up is cut off after MSER-5, the rest goes into batches.

use tankday_base::stats::{
    MeanInterval, autocorrelation, batch_means, interval_by_batches, mser5, von_neumann_ratio,
};
use tankday_record::{LongRun, Served};

/// Batches of the rest.
pub const BATCHES: usize = 20;
const LEVEL: f64 = 0.95;

/// One figure in the long run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steady {
    /// Values of the whole run: orders, or days.
    pub many: usize,
    /// So many at its beginning belong to the warm-up.
    pub cut: usize,
    /// The run is too short to tell: the best cut lies at half of it.
    pub too_short: bool,
    /// The mean with its 95 % interval, from the means of [`BATCHES`] batches; in the unit of the values.
    pub mean: MeanInterval,
    /// The mean with the warm-up left in.
    pub uncut: f64,
    /// Correlation of neighbouring batches; the interval is too narrow where it is well above zero.
    pub neighbours: Option<f64>,
    /// The von Neumann ratio of the batches, 2 where they are uncorrelated.
    pub ratio: Option<f64>,
}

impl Steady {
    /// Of values in order of time; none of fewer than 40, which fill no batches.
    #[must_use]
    pub fn of(values: &[f64]) -> Option<Self> {
        let warmup = mser5(values)?;
        Self::behind(values, warmup.cut, warmup.too_short)
    }

    /// Of values whose warm-up is known.
    fn behind(values: &[f64], cut: usize, too_short: bool) -> Option<Self> {
        let rest = values.get(cut..).filter(|r| r.len() >= BATCHES)?;
        let batches = batch_means(rest, BATCHES)?;
        Some(Self {
            many: values.len(),
            cut,
            too_short,
            mean: interval_by_batches(rest, BATCHES, LEVEL)?,
            uncut: tankday_base::stats::mean(values)?,
            neighbours: autocorrelation(&batches, 1),
            ratio: von_neumann_ratio(&batches),
        })
    }
}

/// What one long run says. Its warm-up is that of the time in the shop, for all figures: by a rare thing such as an order that
/// is late no warm-up can be told. A figure is missing where too few values are left to fill the batches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LongRunFigures {
    /// Time of an order in the shop, minutes.
    pub in_shop: Steady,
    /// Share of the promised orders that are late.
    pub late: Option<Steady>,
    /// Pieces ready a day.
    pub pieces: Option<Steady>,
    /// Hands at work a day, all pairs together, minutes.
    pub hands: Option<Steady>,
}

impl LongRunFigures {
    /// Of a run that was watched; none of fewer than 40 orders.
    #[must_use]
    pub fn of(run: &LongRun<'_>) -> Option<Self> {
        let orders = run.orders();
        let minutes: Vec<f64> = orders.iter().map(|o| o.in_shop.in_minutes()).collect();
        let in_shop = Steady::of(&minutes)?;
        let (warmup, too_short) = (orders.get(..in_shop.cut)?, in_shop.too_short);
        let late = |orders: &[Served]| -> Vec<f64> {
            let promised = orders.iter().filter_map(|o| o.late);
            promised.map(|late| f64::from(u8::from(late))).collect()
        };
        let days = warmup.last().map_or(0, |o| o.day);
        let pieces: Vec<f64> = run.pieces().into_iter().map(f64::from).collect();
        let hands: Vec<f64> = run.hands().iter().map(|h| h.in_minutes()).collect();
        Some(Self {
            in_shop,
            late: Steady::behind(&late(&orders), late(warmup).len(), too_short),
            pieces: Steady::behind(&pieces, days, too_short),
            hands: Steady::behind(&hands, days, too_short),
        })
    }
}
