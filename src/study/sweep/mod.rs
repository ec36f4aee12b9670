//! One or two values of a scenario varied: how the figures follow, and where they turn.

mod cells;
mod edge;
mod idle;
mod left_over;
mod neighbours;
mod reach;
mod refine;
mod statement;
mod step;
mod turn;
mod values;
mod why;

pub use cells::{BestCell, best_cells};
pub use edge::{Edge, Level, edge_statements, edges};
pub use idle::{Depth, Idle, idle, idle_statements};
pub use neighbours::neighbours;
pub use reach::reach;
pub use refine::next_setting;
pub use statement::{Change, NOTHING_TURNS, Statement, change, statements};
pub use turn::{Kind, Turning, turning};
pub use values::{Form, MOST_VALUES, Setting, Varied, varied};

use crate::compare::LEVEL;
use crate::{Measure, Reading};
use tankday_base::print::Replication;
use tankday_base::stats::{MeanInterval, interval_of_mean};
use tankday_scenario::{Draft, Findings, Scenario};

/// Most points of one sweep.
pub const MOST_POINTS: usize = 2_000;
/// How typed values are called in findings.
const TYPED: &str = "--vary";

/// One point of the grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Its values, key by key.
    pub settings: Vec<Setting>,
    /// Its replications, or why it cannot be.
    pub outcome: Result<Vec<Reading>, String>,
}

impl Point {
    /// Its values side by side: `8 L, due first`.
    #[must_use]
    pub fn name(&self) -> String {
        let values: Vec<&str> = self.settings.iter().map(|s| s.text.as_str()).collect();
        values.join(", ")
    }

    /// Its readings; none if it cannot be.
    #[must_use]
    pub fn readings(&self) -> &[Reading] {
        self.outcome.as_deref().unwrap_or_default()
    }

    /// One figure over all replications.
    #[must_use]
    pub fn column(&self, measure: Measure) -> Option<Vec<f64>> {
        let values: Vec<f64> = self.readings().iter().map(|r| r.get(measure)).collect();
        (!values.is_empty() && values.iter().all(|v| v.is_finite())).then_some(values)
    }

    /// The mean of one figure with its interval.
    #[must_use]
    pub fn mean(&self, measure: Measure) -> Option<MeanInterval> {
        interval_of_mean(&self.column(measure)?, LEVEL)
    }
}

/// A whole sweep; its points in rising order of their values.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    /// What was varied.
    pub keys: Vec<Varied>,
    /// The points.
    pub points: Vec<Point>,
    /// The least and the greatest value that can be, as far as one would go on beyond what was tried; none where that is
    /// not known, or of two keys.
    pub reach: Option<(f64, f64)>,
    /// Where what is varied does nothing any more.
    pub idle: Idle,
    /// What one replication is.
    pub each: Replication,
}

impl Sweep {
    /// Replications of each point.
    #[must_use]
    pub fn replications(&self) -> usize {
        self.points.iter().map(|p| p.readings().len()).max().unwrap_or(0)
    }

    /// Figures that every point which can be has.
    pub fn measures(&self) -> impl Iterator<Item = Measure> + '_ {
        let sound = || self.points.iter().filter(|p| p.outcome.is_ok());
        let told = move |m: &Measure| sound().count() > 0 && sound().all(|p| p.column(*m).is_some());
        Measure::ALL.iter().copied().filter(told)
    }
}

/// All settings of the grid, the last key changing fastest.
#[must_use]
pub fn grid(keys: &[Varied]) -> Vec<Vec<Setting>> {
    keys.iter().fold(vec![Vec::new()], |grid, key| {
        let with = |row: &Vec<Setting>| {
            let row = row.clone();
            key.values.iter().map(move |v| {
                let mut row = row.clone();
                row.push(v.clone());
                row
            })
        };
        grid.iter().flat_map(with).collect()
    })
}

/// The scenario at one point of the grid.
///
/// # Errors
/// What is wrong with it there.
pub fn scenario_at(draft: &Draft, keys: &[Varied], settings: &[Setting]) -> Result<Scenario, Findings> {
    let mut draft = draft.clone();
    for (key, setting) in keys.iter().zip(settings) {
        draft.set(TYPED, &key.path, &setting.text)?;
    }
    draft.scenario()
}
