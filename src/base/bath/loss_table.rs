//! Losses against bath temperature, tabulated once for a tank in a room.
//!
//! Cubic pieces of half a kelvin from the air's temperature to the bath's upper limit, within 0.05 % of the
//! models from 2 K above the air. At and below the temperature of the air surface, walls and lid exchange nothing; the models' small
//! jump there is spread over the first piece, so that a cooling bath comes to rest smoothly. Heat through the
//! bottom is linear and kept apart.

use super::tank::{Lid, Losses, losses};
use crate::shop::{Air, Tank};
use crate::units::{MassFlow, Power, Quantity, TempDiff, Temperature};

/// Width of one piece, K.
const PIECE: f64 = 0.5;

/// Heat with the lid off, heat with the lid on, water with the lid off, water with the lid on.
const CURVES: usize = 4;

/// One cubic on [0, 1] for each curve, rising powers.
type Piece = [[f64; 4]; CURVES];

/// What leaves a tank at a bath temperature, from the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leaving {
    /// All the heat, that of evaporation included.
    pub heat: Power,
    /// Water that evaporates.
    pub evaporation: MassFlow,
}

/// The table.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LossTable {
    air: Temperature,
    bottom: f64,
    pieces: Vec<Piece>,
    most: [MassFlow; 2],
}

impl LossTable {
    /// Tabulates the losses of a tank up to a bath temperature.
    #[must_use]
    pub(super) fn new(tank: &Tank, air: &Air, limit: Temperature) -> Self {
        let span = (limit - air.temperature).in_kelvin().clamp(4.0 * PIECE, 200.0);
        let count = (span / PIECE).ceil() as usize;
        let nodes: Vec<[f64; CURVES]> = (0..=count)
            .map(|i| node(tank, air, air.temperature + TempDiff::kelvin(PIECE * i as f64)))
            .collect();
        let bottom = losses(tank, air, air.temperature + TempDiff::kelvin(1.0), Lid::Off).bottom;
        let last = nodes.last().copied().unwrap_or_default();
        Self {
            air: air.temperature,
            bottom: bottom.base(),
            pieces: (0..count).map(|i| piece(&nodes, i)).collect(),
            most: [MassFlow::from_base(last[2]), MassFlow::from_base(last[3])],
        }
    }

    pub(super) fn air(&self) -> Temperature {
        self.air
    }

    /// What leaves at a bath temperature.
    #[must_use]
    pub(super) fn at(&self, bath: Temperature, lid: Lid) -> Leaving {
        let above = (bath - self.air).in_kelvin();
        let bottom = self.bottom * above;
        let x = above / PIECE;
        let last = self.pieces.len().saturating_sub(1);
        let i = (x.max(0.0) as usize).min(last);
        let (heat, water) = match self.pieces.get(i) {
            Some([open, _, wet, _]) if x > 0.0 && lid == Lid::Off => (open, wet),
            Some([_, shut, _, damp]) if x > 0.0 => (shut, damp),
            _ => (&[0.0; 4], &[0.0; 4]),
        };
        let u = x - i as f64;
        let cubic = |c: &[f64; 4]| ((c[3] * u + c[2]) * u + c[1]) * u + c[0];
        Leaving {
            heat: Power::watts(cubic(heat) + bottom),
            evaporation: MassFlow::kilograms_per_second(cubic(water).max(0.0)),
        }
    }

    /// The most that can evaporate, at the upper limit.
    #[must_use]
    pub(super) fn most_evaporation(&self, lid: Lid) -> MassFlow {
        match lid {
            Lid::Off => self.most[0],
            Lid::On => self.most[1],
        }
    }
}

fn node(tank: &Tank, air: &Air, bath: Temperature) -> [f64; CURVES] {
    if bath <= air.temperature {
        return [0.0; CURVES];
    }
    let side = |l: Losses| ((l.top + l.wall).base(), l.evaporation.base());
    let (open, wet) = side(losses(tank, air, bath, Lid::Off));
    let (shut, damp) = side(losses(tank, air, bath, Lid::On));
    [open, shut, wet, damp]
}

/// The piece between node `i` and the next: Hermite, with slopes from the nodes around.
fn piece(nodes: &[[f64; CURVES]], i: usize) -> Piece {
    std::array::from_fn(|curve| {
        let value = |k: usize| nodes.get(k).map_or(0.0, |n| n[curve]);
        let (a, b) = (value(i), value(i + 1));
        let (da, db) = (slope(&value, i, nodes.len()), slope(&value, i + 1, nodes.len()));
        [a, da, 3.0 * (b - a) - 2.0 * da - db, 2.0 * (a - b) + da + db]
    })
}

/// Slope at a node in units of one piece: central; one-sided next to the ends, since the first piece carries the
/// jump.
fn slope(value: &impl Fn(usize) -> f64, i: usize, count: usize) -> f64 {
    match i {
        0 => value(1),
        1 => 2.0 * value(2) - 1.5 * value(1) - 0.5 * value(3),
        i if i + 1 >= count => 1.5 * value(i) - 2.0 * value(i - 1) + 0.5 * value(i - 2),
        i => 0.5 * (value(i + 1) - value(i - 1)),
    }
}
