//! Luck: spreads of times, and draws from them.

mod spread;
pub use spread::Spread;
