//! Waiting lines with a stated discipline.

use std::collections::VecDeque;
use tankday_base::units::{Moment, Span};

/// Who is served next. Among equals it is always the first to come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Discipline {
    /// The first to come; ranks are ignored.
    #[default]
    FirstCome,
    /// The greatest rank, as with priorities.
    GreatestFirst,
    /// The least rank, as with due times.
    LeastFirst,
}

/// Something that waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Waiting<T> {
    /// What waits.
    pub item: T,
    /// Since when.
    pub since: Moment,
    /// Its rank under the line's discipline; greater stands further back.
    rank: i64,
}

impl<T> Waiting<T> {
    /// Something that has come at `since` and stands in no line.
    #[must_use]
    pub const fn new(item: T, since: Moment) -> Self {
        Self { item, since, rank: 0 }
    }

    /// How long it has waited at `now`.
    #[inline]
    #[must_use]
    pub fn waited(&self, now: Moment) -> Span {
        now - self.since
    }
}

/// A waiting line. Joining at the end and leaving at the front take constant time.
#[derive(Debug, Clone)]
pub struct WaitingLine<T> {
    discipline: Discipline,
    line: VecDeque<Waiting<T>>,
}

impl<T> WaitingLine<T> {
    /// An empty line.
    #[must_use]
    pub fn new(discipline: Discipline) -> Self {
        Self {
            discipline,
            line: VecDeque::new(),
        }
    }

    /// An empty line where the first to come is the first to be served.
    #[must_use]
    pub fn first_come() -> Self {
        Self::new(Discipline::FirstCome)
    }

    /// Joins a first-come line, or joins another with rank 0.
    #[inline]
    pub fn join(&mut self, item: T, now: Moment) {
        self.join_ranked(item, 0, now);
    }

    /// Joins with a rank: a priority, a due time in microseconds, or whatever the discipline goes by.
    #[inline]
    pub fn join_ranked(&mut self, item: T, rank: i64, now: Moment) {
        let rank = match self.discipline {
            Discipline::FirstCome => 0,
            Discipline::GreatestFirst => rank.saturating_neg(),
            Discipline::LeastFirst => rank,
        };
        let waiting = Waiting {
            item,
            since: now,
            rank,
        };
        if self.line.back().is_none_or(|last| last.rank <= rank) {
            self.line.push_back(waiting);
        } else {
            let place = self.line.partition_point(|other| other.rank <= rank);
            self.line.insert(place, waiting);
        }
    }

    /// Takes who is next.
    #[inline]
    pub fn take(&mut self) -> Option<Waiting<T>> {
        self.line.pop_front()
    }

    /// Takes the first one that `fits`, in the line's order, passing over others.
    pub fn take_if(&mut self, fits: impl FnMut(&Waiting<T>) -> bool) -> Option<Waiting<T>> {
        let place = self.line.iter().position(fits)?;
        self.line.remove(place)
    }

    /// Who is next.
    #[must_use]
    pub fn first(&self) -> Option<&Waiting<T>> {
        self.line.front()
    }

    /// All who wait, in the line's order.
    pub fn iter(&self) -> impl Iterator<Item = &Waiting<T>> {
        self.line.iter()
    }

    /// How many wait.
    #[inline]
    #[must_use]
    pub fn len(&self) -> usize {
        self.line.len()
    }

    /// Whether nobody waits.
    #[inline]
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.line.is_empty()
    }

    /// Sends everybody away.
    pub fn clear(&mut self) {
        self.line.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn order(discipline: Discipline) -> Vec<char> {
        let mut line = WaitingLine::new(discipline);
        for (item, rank) in [('a', 2), ('b', 1), ('c', 3), ('d', 1), ('e', 2)] {
            line.join_ranked(item, rank, Moment::ZERO);
        }
        std::iter::from_fn(|| line.take().map(|w| w.item)).collect()
    }

    #[test]
    fn each_discipline_serves_in_its_order() {
        assert_eq!(order(Discipline::FirstCome), ['a', 'b', 'c', 'd', 'e']);
        assert_eq!(order(Discipline::GreatestFirst), ['c', 'a', 'e', 'b', 'd']);
        assert_eq!(order(Discipline::LeastFirst), ['b', 'd', 'a', 'e', 'c']);
    }

    #[test]
    fn extreme_ranks_keep_their_order() {
        let mut line = WaitingLine::new(Discipline::GreatestFirst);
        line.join_ranked("low", i64::MIN, Moment::ZERO);
        line.join_ranked("high", i64::MAX, Moment::ZERO);
        assert_eq!(line.take().map(|w| w.item), Some("high"));
    }

    #[test]
    fn one_may_be_taken_from_the_middle() {
        let mut line = WaitingLine::first_come();
        for (minute, item) in [(1, 10), (2, 20), (3, 30)] {
            line.join(item, Moment::micros(minute));
        }
        let taken = line.take_if(|w| w.item > 10);
        assert_eq!(
            taken.map(|w| (w.item, w.waited(Moment::micros(7)))),
            Some((20, Span::micros(5)))
        );
        assert_eq!(line.iter().map(|w| w.item).collect::<Vec<_>>(), [10, 30]);
    }
}
