//! How the days that may be laid out in a timetable are shared: between searches side by side, and between the rounds in
//! which timetable and line take turns.

use super::model::Timetable;
use super::state::State;
use crate::effort::Effort;
use crate::model::SearchContext;
use tankday_base::units::Moment;

/// Searches side by side at most, and days of each at least: of fewer it would end too hot.
pub(super) const ISLANDS: u64 = 4;
const LEAST_DAYS: u64 = 8_000;
/// Where a day is plain: two that go on twice as long come out better than four.
const PLAIN_ISLANDS: u64 = 2;
/// Timetable and line take turns: of a hundred days so many are for each.
const ROUNDS: [u64; 3] = [60, 20, 20];
/// The same where a day is plain: the line then finds little that the timetable does not know.
const PLAIN_ROUNDS: [u64; 3] = [84, 8, 8];
/// A lot takes a plain day as long as a load, beside so many that each load costs anyway.
const LOTS: u64 = 30;

/// How many days, in how many searches, in which rounds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pace {
    pub(super) days: u64,
    pub(super) islands: u64,
    /// Of a hundred days those of each round.
    pub(super) rounds: [u64; 3],
}

impl Pace {
    pub(super) fn of(world: &SearchContext<'_>, t: &Timetable, states: &[State], effort: Effort) -> Self {
        let common = world.dispatched(effort);
        let plain = t.is_plain();
        let (days, most, rounds) = if plain {
            (
                effort.plainly(common, weight(t, states)),
                PLAIN_ISLANDS,
                PLAIN_ROUNDS,
            )
        } else {
            (common, ISLANDS, ROUNDS)
        };
        // The rest of a day is searched from all that there is.
        let least = if world.now > Moment::ZERO {
            ISLANDS
        } else {
            ISLANDS / 2
        };
        Self {
            days,
            islands: (days / LEAST_DAYS).clamp(least, most.max(least)),
            rounds,
        }
    }
}

/// How long a plain day takes to lay out: every load is looked at again and again, in more tanks more often.
fn weight(t: &Timetable, states: &[State]) -> u64 {
    let loads = states.iter().map(|s| s.order.len()).min().unwrap_or(1);
    let tanks: usize = t.pools.iter().map(|p| p.hot.len()).sum();
    (t.lots.len() as u64 + LOTS) * loads as u64 * (tanks as u64 + 2)
}
