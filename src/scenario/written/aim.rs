//! What a plan is to be good at, as written.

use super::Got;
use crate::scenario::keys;
use crate::scenario::node::{Node, Place};
use crate::scenario::value;
use crate::scenario::walk::{Fields, Walk};

/// The largest weight, in tenths.
const MOST: u32 = 10_000_000;

/// Its weights.
#[derive(Debug)]
pub(in crate::scenario) struct Aim {
    pub(in crate::scenario) late_order: Got<f64>,
    pub(in crate::scenario) late_minute: Got<f64>,
    pub(in crate::scenario) finish_minute: Got<f64>,
    pub(in crate::scenario) power_kwh: Got<f64>,
    pub(in crate::scenario) water_litre: Got<f64>,
    pub(in crate::scenario) hands_minute: Got<f64>,
    pub(in crate::scenario) overtaking: Got<bool>,
}

impl Aim {
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        Fields::new(node, &keys::AIM, walk).map(Self::of)
    }

    pub(super) fn absent(at: Place, walk: &mut Walk) -> Self {
        Self::of(Fields::absent(&keys::AIM, walk, at))
    }

    fn of(mut f: Fields) -> Self {
        Self {
            late_order: f.or("late order", value::factor::<0, MOST>),
            late_minute: f.or("late minute", value::factor::<0, MOST>),
            finish_minute: f.or("finish minute", value::factor::<0, MOST>),
            power_kwh: f.or("kWh", value::factor::<0, MOST>),
            water_litre: f.or("litre of water", value::factor::<0, MOST>),
            hands_minute: f.or("minute of hands", value::factor::<0, MOST>),
            overtaking: f.or("overtaking", value::yes),
        }
    }
}
