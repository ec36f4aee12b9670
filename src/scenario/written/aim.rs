//! What a plan is to be good at, as written.

use super::Got;
use crate::keys;
use crate::node::{Node, Place};
use crate::value;
use crate::walk::{Fields, Walk};

/// The largest weight, in tenths.
const MOST: u32 = 10_000_000;

/// Its weights.
#[derive(Debug)]
pub(crate) struct Aim {
    pub(crate) late_order: Got<f64>,
    pub(crate) late_minute: Got<f64>,
    pub(crate) finish_minute: Got<f64>,
    pub(crate) power_kwh: Got<f64>,
    pub(crate) water_litre: Got<f64>,
    pub(crate) hands_minute: Got<f64>,
    pub(crate) overtaking: Got<bool>,
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
