//! Storage vessels for bath that is not in a tank.

use super::ids::BathId;
use crate::units::Volume;

/// A storage vessel: two closed containers of one size. Filtered solution stands in the one; what is drawn off a tank
/// settles and is filtered in the other while the tank goes on with what was kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Vessel {
    /// Its name.
    pub name: String,
    /// Whose solution it keeps.
    pub bath: BathId,
    /// What each of its containers holds.
    pub holds: Volume,
    /// Filtered solution in it at the start, at the temperature of the room. It reads as the bath does at the start,
    /// but for its sludge.
    pub filtered: Volume,
}
