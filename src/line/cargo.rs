//! What a bath must know of a load.

use crate::prepared::OrderPlan;
use tankday_base::bath::{Growth, Load as Work, SolidHeat, Substrate, chemistry::DONE};
use tankday_base::shop::CoatsFrom;
use tankday_base::units::{Area, CoatWeight, HeatCapacity, Mass, Span, Strength, Volume};

/// What is in a load, of one lot or of several.
#[derive(Debug, Clone)]
pub(super) struct Cargo {
    pub(super) pieces: u32,
    /// Area m2, mass kg, basket room m3.
    pub(super) bulk: [f64; 3],
    /// Mass times heat capacity, J/K.
    pub(super) heat: f64,
    /// Liquid that leaves a bath on its pieces, m3, when they have dripped as stated.
    pub(super) drags: f64,
    /// The dwell window of its parts.
    pub(super) window: (Span, Span),
    pub(super) slower: f64,
    /// Whether the looks of any of it matter.
    pub(super) looks: bool,
    /// The surface of its first lot, and those of the lots joined to it.
    surface: (Substrate, Area),
    more: Vec<(Substrate, Area)>,
}

impl Cargo {
    /// So many pieces of an order, each with a surface.
    pub(super) fn of(plan: &OrderPlan, surface: (Substrate, Area), pieces: u32) -> Self {
        let n = f64::from(pieces);
        Self {
            pieces,
            bulk: plan.piece.map(|p| p * n),
            heat: plan.piece[1] * n * plan.heat_capacity,
            drags: plan.drags * n,
            window: plan.window,
            slower: plan.slower,
            looks: plan.looks,
            surface: (surface.0, surface.1 * n),
            more: Vec::new(),
        }
    }

    /// Another load joins it.
    pub(super) fn join(&mut self, other: &Self) {
        self.bulk = self.bulk_with(other, self.bulk);
        self.pieces += other.pieces;
        self.heat += other.heat;
        self.drags += other.drags;
        self.slower = self.slower.max(other.slower);
        self.looks |= other.looks;
        self.window = self.window_with(other);
        self.more.push(other.surface);
        self.more.extend(&other.more);
    }

    /// A sum of bulk with that of another load.
    pub(super) fn bulk_with(&self, other: &Self, sum: [f64; 3]) -> [f64; 3] {
        [
            sum[0] + other.bulk[0],
            sum[1] + other.bulk[1],
            sum[2] + other.bulk[2],
        ]
    }

    /// The dwell that this load and another both bear.
    pub(super) fn window_with(&self, other: &Self) -> (Span, Span) {
        (
            self.window.0.max(other.window.0),
            self.window.1.min(other.window.1),
        )
    }

    pub(super) fn work(&self) -> Work {
        work(self.bulk[1], self.heat)
    }

    /// Every kind of surface in it, with its size.
    pub(super) fn surfaces(&self) -> impl Iterator<Item = (Substrate, Area)> + '_ {
        std::iter::once(self.surface).chain(self.more.iter().copied())
    }

    /// Conversion that its slowest surface needs, of each of [`CoatsFrom::ALL`]; one that cannot reach the target is done
    /// when the gas has all but ceased.
    pub(super) fn needs(&self, growth: &Growth, target: CoatWeight) -> [(CoatsFrom, f64); 2] {
        let need = |on: Substrate| {
            growth
                .conversion_for(target, on)
                .unwrap_or_else(|_| done() * on.slower)
        };
        CoatsFrom::ALL.map(|from| {
            let own = self.surfaces().filter(|(on, _)| on.from == from);
            (from, own.map(|(on, _)| need(on)).fold(0.0, f64::max))
        })
    }
}

/// What would go in together.
pub(super) struct Together {
    pub(super) bulk: [f64; 3],
    pub(super) heat: f64,
    pub(super) window: (Span, Span),
}

impl Together {
    pub(super) fn of(cargo: &Cargo) -> Self {
        Self {
            bulk: cargo.bulk,
            heat: cargo.heat,
            window: cargo.window,
        }
    }

    pub(super) fn add(&mut self, cargo: &Cargo) {
        self.heat += cargo.heat;
        self.window = (
            self.window.0.max(cargo.window.0),
            self.window.1.min(cargo.window.1),
        );
    }
}

/// What a load is wet with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wet {
    /// How much; nothing on what no bath has seen.
    pub(super) volume: Volume,
    /// How strong.
    pub(super) strength: Strength,
    /// How strong the bath is that it came from.
    pub(super) bath: Strength,
}

impl Wet {
    pub(super) const DRY: Self = Self {
        volume: Volume::ZERO,
        strength: Strength::ZERO,
        bath: Strength::ZERO,
    };
}

/// Work of a mass, kg, and of mass times heat capacity, J/K.
pub(super) fn work(mass: f64, heat: f64) -> Work {
    let mass = mass.max(1e-9);
    Work {
        mass: Mass::kilograms(mass),
        heat: SolidHeat::constant(HeatCapacity::joules_per_kilogram_kelvin(heat / mass)),
    }
}

/// Conversion at which a coating is as good as done.
fn done() -> f64 {
    -libm::log(1.0 - DONE.in_fraction())
}
