//! A shop as a timetable: what takes how long, what needs hands, where there is room. No bath, no luck: durations are
//! those that the line was last seen to need. All times are whole seconds from the first midnight.

use std::collections::HashMap;

/// A moment or a stretch of time in whole seconds.
pub(super) type Secs = i32;

/// Far beyond any day, and far from overflow.
pub(super) const FAR: Secs = i32::MAX / 4;

/// No place, no pool.
pub(super) const NOWHERE: u8 = u8::MAX;

/// Work of hands, and the wait that follows it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stage {
    /// How long hands are busy, and how much longer for each piece, in milliseconds.
    pub(super) work: Secs,
    pub(super) each: u32,
    /// Whether hands are needed; else it goes on by itself.
    pub(super) hands: bool,
    /// So long after its beginning the place of the stage before is free again.
    pub(super) frees: Secs,
    /// Where a load stays after the work; its place is taken from the beginning of the work.
    pub(super) place: u8,
    /// Whether the place is free again by itself once the wait is over.
    pub(super) leaves: bool,
    /// Where room is needed during the work.
    pub(super) passes: [u8; 3],
    /// From the end of the work to the earliest and to the latest beginning of the next stage.
    pub(super) least: Secs,
    pub(super) most: Secs,
    /// May be laid down at a break and at closing.
    pub(super) pauses: bool,
}

/// Tanks that are alike: any of them takes a load of the pool.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pool {
    /// Area, mass and basket room of one tank.
    pub(super) room: [u32; 3],
    /// For each tank when a load may be in it, in order.
    pub(super) hot: Vec<Vec<(Secs, Secs)>>,
    /// From the end of taking out until the next may go in: the bath comes back into its band.
    pub(super) recovers: Secs,
}

/// A lot: what stays together all day.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lot {
    /// What it adds to the name of a load.
    pub(super) name: u64,
    pub(super) order: u16,
    /// Lots of one class may share a load.
    pub(super) class: u16,
    pub(super) bulk: [u32; 3],
    pub(super) pieces: u32,
    pub(super) dwell: (Secs, Secs),
    /// The pools that take it, a bit each; none for a lot that passes no bath.
    pub(super) pools: u32,
    /// When it is there.
    pub(super) there: Secs,
    /// The stages before the bath.
    pub(super) prepares: (u16, u16),
    /// The longest wait before the bath.
    pub(super) waits: Secs,
}

/// A stretch in which hands work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Duty {
    pub(super) from: Secs,
    pub(super) until: Secs,
    /// When that day opens and closes.
    pub(super) opens: Secs,
    pub(super) closes: Secs,
}

/// What a minute costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Weights {
    pub(super) late_order: f64,
    pub(super) late_minute: f64,
    pub(super) finish_minute: f64,
}

/// The shop.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Timetable {
    pub(super) hands: usize,
    pub(super) duty: Vec<Duty>,
    /// How many loads find room at each place.
    pub(super) rooms: Vec<u32>,
    pub(super) pools: Vec<Pool>,
    pub(super) stages: Vec<Stage>,
    pub(super) lots: Vec<Lot>,
    /// For each class the stages from the bath on: charging, lifting, and what follows.
    pub(super) goes_on: Vec<(u16, u16)>,
    /// How much it counts when each order is late.
    pub(super) matters: Vec<f64>,
    /// When each order is due.
    pub(super) due: Vec<Secs>,
    pub(super) weights: Weights,
    /// How long loads were seen to stay, by the lots that they hold.
    pub(super) seen: HashMap<u64, Secs>,
}

impl Timetable {
    /// The number of a lot in the sum that names a load by what it holds.
    pub(super) fn name_of(lot: u16) -> u64 {
        let mut x = (u64::from(lot) + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        x = (x ^ (x >> 31)).wrapping_mul(0xd6e8_feb8_6659_fd93);
        x ^ (x >> 29)
    }

    /// Whether one pair of hands does all, at any hour.
    pub(super) fn is_plain(&self) -> bool {
        let always = self.duty.len() == 1 && self.duty[0].until >= FAR;
        always && self.hands <= 1 && self.stages.iter().all(|s| s.hands && !s.leaves)
    }

    /// How long hands are busy with a stage of so many pieces.
    pub(super) fn work(&self, stage: usize, pieces: u32) -> Secs {
        let stage = &self.stages[stage];
        if stage.each == 0 {
            return stage.work;
        }
        stage.work + (u64::from(stage.each) * u64::from(pieces)).div_ceil(1000) as Secs
    }
}
