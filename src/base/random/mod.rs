//! Luck: addressed random words, spreads of times, and draws from them by inversion.
//!
//! [`Streams`] and a [`Purpose`] give a [`Stream`]; a stream and an address (who, which visit) give one 64-bit word; a
//! [`Spread`] makes one time of one word. Nothing here remembers what was drawn before.

mod gamma;
mod normal;
mod sample;
mod spread;
mod streams;

pub use gamma::{gamma_distribution, gamma_quantile};
pub use normal::{normal_density, normal_distribution, normal_quantile};
pub use spread::Spread;
pub use streams::{Purpose, Stream, Streams, unit};
