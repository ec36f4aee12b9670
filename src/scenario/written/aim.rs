//! What a plan is to be good at, as written.

use crate::defaults::{AIM, NEUTRAL};
use crate::reader::{YES, factor};
use crate::thing::{Reader, thing};

/// A weight, up to a million.
const WEIGHT: Reader<f64> = factor::<0, 10_000_000>();

thing! {
    /// Its weights.
    Aim "aim", "an aim" {
        or "late order" late_order: f64 = WEIGHT,
            "what a late order costs, however late it is", {"1000": AIM};
        or "late minute" late_minute: f64 = WEIGHT,
            "what each minute costs that an order is late", {"100": AIM};
        or "finish minute" finish_minute: f64 = WEIGHT,
            "what each minute costs until the last load is ready", {"1": AIM};
        or "kWh" power_kwh: f64 = WEIGHT, "what each kWh drawn costs the plan", {"0.5": AIM};
        or "litre of water" water_litre: f64 = WEIGHT,
            "what each litre of water made good costs the plan", {"0.1": AIM};
        or "minute of hands" hands_minute: f64 = WEIGHT,
            "what each minute costs that hands are busy", {"0.01": AIM};
        or "overtaking" overtaking: bool = YES,
            "whether a load may pass another on the way; if not, all stations see the loads in one order",
            {"yes": NEUTRAL};
    }
}
