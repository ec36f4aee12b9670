//! What a plan is to be good at.

/// Weights of what a plan costs: the sum is made as small as it can be. The usual weights lie so far apart that promised
/// times come first, then an early finish, then power, water and hands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// For each order that is late, whatever by how much.
    pub late_order: f64,
    /// For each minute that an order is late.
    pub late_minute: f64,
    /// For each minute from opening to the last load that is ready.
    pub finish_minute: f64,
    /// For each kWh drawn.
    pub power_kwh: f64,
    /// For each litre of water made good.
    pub water_litre: f64,
    /// For each minute that hands are busy.
    pub hands_minute: f64,
    /// Whether a load may pass another on the way; if not, all stations see the loads in one order.
    pub overtaking: bool,
}

impl Aim {
    /// The usual weights.
    pub const USUAL: Self = Self {
        late_order: 1_000.0,
        late_minute: 100.0,
        finish_minute: 1.0,
        power_kwh: 0.1,
        water_litre: 0.1,
        hands_minute: 0.01,
        overtaking: true,
    };
}

impl Default for Aim {
    fn default() -> Self {
        Self::USUAL
    }
}
