//! What one replication is called in print.

/// One replication of a shop: a day, or the days of its calendar in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Replication {
    /// One day.
    #[default]
    Day,
    /// So many days in a row.
    Run(usize),
}

impl Replication {
    /// Of a calendar with so many opening days.
    #[must_use]
    pub const fn of_days(days: usize) -> Self {
        match days {
            0 | 1 => Self::Day,
            days => Self::Run(days),
        }
    }

    /// `day` or `run`.
    #[must_use]
    pub const fn one(self) -> &'static str {
        match self {
            Self::Day => "day",
            Self::Run(_) => "run",
        }
    }

    /// `days` or `runs`.
    #[must_use]
    pub const fn many(self) -> &'static str {
        match self {
            Self::Day => "days",
            Self::Run(_) => "runs",
        }
    }

    /// `one simulated day`, `20 simulated days`, `20 simulated runs of 5 days`.
    #[must_use]
    pub fn simulated(self, count: usize) -> String {
        let (number, what) = match count {
            1 => ("one".to_owned(), self.one()),
            count => (count.to_string(), self.many()),
        };
        match self {
            Self::Day => format!("{number} simulated {what}"),
            Self::Run(days) => format!("{number} simulated {what} of {days} days"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Replication;

    #[test]
    fn several_days_in_a_row_are_a_run() {
        let said = |days, count| Replication::of_days(days).simulated(count);
        assert_eq!(said(1, 20), "20 simulated days");
        assert_eq!(said(1, 1), "one simulated day");
        assert_eq!(said(5, 20), "20 simulated runs of 5 days");
        assert_eq!(said(2, 1), "one simulated run of 2 days");
    }
}
