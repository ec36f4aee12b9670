//! Draws of textbook queues, and replications of what is made of them.

use rayon::prelude::*;
use tankday::random::{Purpose, Spread, Stream, Streams};
use tankday::units::Span;

/// The seed of every replication here. It was chosen once.
const SEED: u64 = 1;

pub(crate) fn minutes(value: f64) -> Span {
    Span::minutes(value)
}

pub(crate) fn exponential(mean: f64) -> Spread {
    Spread::Exponential { mean: minutes(mean) }
}

/// Runs the model once for each of `replications` lots of luck and collects each of its figures over them.
pub(crate) fn replicate<const N: usize>(
    replications: u64,
    model: impl Fn(Streams) -> [f64; N] + Sync,
) -> [Vec<f64>; N] {
    let rows: Vec<[f64; N]> = (0..replications)
        .into_par_iter()
        .map(|r| model(Streams::new(SEED, r)))
        .collect();
    std::array::from_fn(|figure| rows.iter().map(|row| row[figure]).collect())
}

/// Draws for one purpose, one a numbered item.
pub(crate) struct Draws {
    spread: Spread,
    stream: Stream,
}

impl Draws {
    pub(crate) fn new(luck: Streams, purpose: &str, spread: &Spread) -> Self {
        Self {
            spread: spread.clone(),
            stream: luck.stream(Purpose::named(purpose)),
        }
    }

    pub(crate) fn of(&self, item: u64) -> Span {
        self.spread.draw(self.stream.word(item, 0))
    }
}
