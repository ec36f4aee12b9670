//! Top-ups, each with the one time that it is called by: when hands begin it.

use tankday_base::shop::StationId;
use tankday_base::units::{Moment, Volume};

/// Water made good.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToppedUp {
    /// The tank.
    pub tank: StationId,
    /// When hands begin it: the time that sheet, watch list and pictures call it by.
    pub from: Moment,
    /// When the water is in.
    pub to: Moment,
    /// How much, at room temperature.
    pub volume: Volume,
}
