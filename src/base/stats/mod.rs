//! Statistics of results: intervals over replications, differences between alternatives, quantiles, warm-up.
//!
//! Plain functions of slices of readings; nothing here knows what the readings are of. Where there are too few of
//! them for an answer, the answer is `None`.

mod difference;
mod interval;
mod mean;
mod planning;
mod quantile;
mod select;
mod series;
mod student;
mod warmup;

pub use difference::{PairedDifference, paired_difference, welch_difference};
pub use interval::{MeanInterval, interval_of_mean};
pub use mean::{correlation, mean, standard_deviation, variance};
pub use planning::{MOST_REPLICATIONS, replications_for_half_width, replications_for_relative_error};
pub use quantile::{QuantileRule, quantile, quantile_of_sorted};
pub use select::{Selection, kim_nelson, select_lowest};
pub use series::{autocorrelation, batch_means, interval_by_batches, von_neumann_ratio};
pub use student::{student_quantile, student_tail};
pub use warmup::{Warmup, mser5};
