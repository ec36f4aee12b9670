//! The clock of a simulation: it stands still between events and never goes back.

use tankday_base::units::{Moment, Span};

/// The time it is now in a simulation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Clock {
    now: Moment,
}

impl Clock {
    /// A clock that shows `at`.
    #[must_use]
    pub const fn at(at: Moment) -> Self {
        Self { now: at }
    }

    /// What it shows.
    #[inline]
    #[must_use]
    pub const fn now(&self) -> Moment {
        self.now
    }

    /// Moves it to `to` and returns the time that passed: none when `to` is not later than now.
    #[inline]
    pub fn advance(&mut self, to: Moment) -> Span {
        if to <= self.now {
            return Span::ZERO;
        }
        let passed = to - self.now;
        self.now = to;
        passed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_forward_only() {
        let mut clock = Clock::at(Moment::micros(10));
        assert_eq!(clock.advance(Moment::micros(25)), Span::micros(15));
        assert_eq!(clock.advance(Moment::micros(20)), Span::ZERO);
        assert_eq!(clock.now(), Moment::micros(25));
    }
}
