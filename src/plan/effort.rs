//! How much to search: days that are simulated, and days that are laid out in a timetable.

/// How much to search.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// A moment.
    Quick,
    /// A few seconds on a day of forty orders.
    Normal,
    /// As long as it takes.
    Long,
    /// So many simulated days.
    Days(u64),
}

impl Effort {
    /// Simulated days, at most.
    #[must_use]
    pub const fn days(self) -> u64 {
        match self {
            Self::Quick => 1_500,
            Self::Normal => 14_000,
            Self::Long => 800_000,
            Self::Days(days) => days,
        }
    }

    /// Everything that is searched on the way to it: less effort first. More effort so finds nothing that is worse.
    pub(super) fn ladder(self) -> Vec<Self> {
        let below = [Self::Quick, Self::Normal];
        let mut all: Vec<Self> = below.into_iter().filter(|e| e.days() < self.days()).collect();
        all.push(self);
        all
    }

    /// As it is typed.
    #[must_use]
    pub fn typed(self) -> String {
        match self {
            Self::Quick => "quick".to_owned(),
            Self::Normal => "normal".to_owned(),
            Self::Long => "long".to_owned(),
            Self::Days(days) => days.to_string(),
        }
    }

    /// Days dispatched in the timetable of a shop with so many tasks: the more tasks, the longer each takes.
    pub(super) const fn dispatched(self, tasks: u64) -> u64 {
        let tasks = if tasks == 0 { 1 } else { tasks };
        let (all, most) = match self {
            Self::Quick => (1_600_000, 20_000),
            Self::Normal => (26_000_000, 320_000),
            Self::Long => (600_000_000, 6_000_000),
            Self::Days(days) => (1_250 * days, 15 * days),
        };
        let days = all / tasks;
        if days < most { days } else { most }
    }

    /// Days dispatched where one pair of hands works without hours or breaks and nothing goes on by itself: such a day is
    /// laid out in a third of the time or less. `weight` is how long it takes (`timetable/pace.rs`); never fewer than in
    /// any timetable.
    pub(super) const fn plainly(self, common: u64, weight: u64) -> u64 {
        let (all, most) = match self {
            Self::Quick => return common,
            Self::Normal => (2_800_000_000, 1_200_000),
            Self::Long => (44_000_000_000, 20_000_000),
            Self::Days(days) => (200_000 * days, 86 * days),
        };
        let days = all / if weight == 0 { 1 } else { weight };
        let days = if days < most { days } else { most };
        if days < common { common } else { days }
    }
}
