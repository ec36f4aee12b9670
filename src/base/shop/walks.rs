//! How long hands take from one station to another.

use super::ids::StationId;
use crate::units::Span;

/// Times between stations for hands that carry nothing; where nothing is stated, none.
///
/// Taking a load out includes carrying it to the next station: hands stand there afterwards.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Walks {
    stations: usize,
    times: Vec<Span>,
}

impl Walks {
    /// From a square table, one row for each station to start from; rows that are too short count as nothing.
    #[must_use]
    pub fn of(rows: &[Vec<Span>]) -> Self {
        let stations = rows.len();
        let at = |i: usize, j: usize| rows.get(i).and_then(|r| r.get(j)).copied().unwrap_or(Span::ZERO);
        let times = (0..stations * stations)
            .map(|k| at(k / stations, k % stations))
            .collect();
        Self { stations, times }
    }

    /// Whether nothing is stated.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.times.is_empty()
    }

    /// From one station to another.
    #[inline]
    #[must_use]
    pub fn between(&self, from: StationId, to: StationId) -> Span {
        let stated = from.index() < self.stations && to.index() < self.stations;
        if !stated {
            return Span::ZERO;
        }
        let at = from.index() * self.stations + to.index();
        self.times.get(at).copied().unwrap_or(Span::ZERO)
    }
}
