//! A time that varies.

use crate::units::Span;

/// How a time varies.
#[derive(Debug, Clone, PartialEq)]
pub enum Spread {
    /// Not at all.
    Fixed(Span),
    /// Evenly between two times.
    Uniform {
        /// Shortest.
        least: Span,
        /// Longest.
        most: Span,
    },
    /// Normal, cut at zero.
    Normal {
        /// Mean before the cut.
        mean: Span,
        /// Standard deviation before the cut.
        sd: Span,
    },
    /// Triangular.
    Triangular {
        /// Shortest.
        least: Span,
        /// Most often.
        mostly: Span,
        /// Longest.
        most: Span,
    },
    /// Exponential.
    Exponential {
        /// Mean.
        mean: Span,
    },
    /// Lognormal, by the mean and standard deviation of the times themselves.
    Lognormal {
        /// Mean.
        mean: Span,
        /// Standard deviation.
        sd: Span,
    },
    /// Gamma, by mean and standard deviation.
    Gamma {
        /// Mean.
        mean: Span,
        /// Standard deviation.
        sd: Span,
    },
    /// One of the shop's own readings, each as likely as the next.
    Readings(Vec<Span>),
}
