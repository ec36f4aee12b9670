//! The scenario that a newcomer starts from.

/// A commented scenario that runs as it is.
#[must_use]
pub const fn starter() -> &'static str {
    include_str!("starter.yaml")
}
