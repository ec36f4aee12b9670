//! Drag-out and what it makes of rinses: static, in series, in a cascade.

use super::air::GRAVITY;
use super::root::falling_root;
use super::settle::Liquid;
use crate::units::{
    Concentration, Length, MassFlow, Quantity, Share, Span, Volume, VolumeFlow, VolumePerArea,
};

/// How a piece hangs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hangs {
    /// Upright.
    Upright,
    /// Flat.
    Flat,
    /// Open side up.
    Cup,
}

/// How well it drains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drains {
    /// Well.
    Well,
    /// Poorly.
    Poorly,
    /// Very poorly.
    VeryPoorly,
}

/// Least and most drag-out of a shape; none where the table has no row. The rows are those usually credited to US
/// EPA handbooks: from memory, unverified, for defaults only.
#[must_use]
pub fn drag_out(hangs: Hangs, drains: Drains) -> Option<(VolumePerArea, VolumePerArea)> {
    let (least, most) = match (hangs, drains) {
        (Hangs::Upright, Drains::Well) => (0.4, 0.4),
        (Hangs::Upright, Drains::Poorly) => (2.0, 2.0),
        (Hangs::Upright, Drains::VeryPoorly) => (4.0, 4.0),
        (Hangs::Flat, Drains::Well) => (0.8, 0.8),
        (Hangs::Flat, Drains::VeryPoorly) => (10.0, 10.0),
        (Hangs::Cup, Drains::VeryPoorly) => (8.0, 24.0),
        _ => return None,
    };
    let gallons = VolumePerArea::gallons_per_thousand_square_feet;
    Some((gallons(least), gallons(most)))
}

/// Mean thickness of the film on an upright plate that drains freely: 2/3 sqrt(nu H / (g t)). Beads on lower edges
/// come on top.
#[must_use]
pub fn draining_film(liquid: &Liquid, height: Length, drained: Span) -> VolumePerArea {
    let nu = liquid.viscosity.base() / liquid.density.base();
    let metres = 2.0 / 3.0
        * (nu * height.base() / (GRAVITY * drained.in_seconds()))
            .max(0.0)
            .sqrt();
    VolumePerArea::from_base(metres)
}

/// Drag-out that falls while work drains: V = at once x exp(-k t) + what stays (Rinsing Manual, Appendix D,
/// citing EPA/625/4-87/018).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drip {
    /// What runs off in time.
    pub runs_off: VolumePerArea,
    /// What stays.
    pub stays: VolumePerArea,
    /// Time in which what runs off falls to 1/e. Weighed panels gained nothing beyond 40 s of drain.
    pub time: Span,
}

impl Drip {
    /// What is left after a drain.
    #[must_use]
    pub fn after(&self, drained: Span) -> VolumePerArea {
        let times = drained.in_seconds().max(0.0) / self.time.in_seconds();
        self.runs_off * libm::exp(-times) + self.stays
    }
}

/// Strength of a rinse as a share of the bath, at which it is renewed: 3 % (of a cleaner, in a corrosion handbook;
/// for phosphate assumed the same, or one point).
pub const RENEW_AT: Share = Share::percent(3.0);

/// A still rinse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rinse {
    /// Its volume.
    pub volume: Volume,
    /// Its strength as a share of the bath.
    pub strength: Share,
}

impl Rinse {
    /// A clean one.
    #[must_use]
    pub fn clean(volume: Volume) -> Self {
        Self {
            volume,
            strength: Share::ZERO,
        }
    }

    /// A load brings liquid of a strength in and takes as much of the mixture along. Says how strong that is.
    pub fn dip(&mut self, brought: Volume, strength: Share) -> Share {
        let brought = brought.max(Volume::ZERO);
        let all = self.volume + brought;
        let mixed = (self.strength * self.volume.base() + strength * brought.base()) / all.base();
        if all.base() > 0.0 {
            self.strength = mixed;
        }
        self.strength
    }

    /// Whether it is to be renewed.
    #[must_use]
    pub fn is_spent(&self, renew_at: Share) -> bool {
        self.strength >= renew_at
    }
}

/// A load goes from the bath through rinses in their order. Says how strong the liquid is that it leaves with.
pub fn through(rinses: &mut [Rinse], drag_out: Volume) -> Share {
    rinses
        .iter_mut()
        .fold(Share::fraction(1.0), |s, rinse| rinse.dip(drag_out, s))
}

/// Strength of a still rinse, clean at first, after a number of equal loads: 1 - (V / (V + D))^N.
#[must_use]
pub fn after_loads(volume: Volume, drag_out: Volume, loads: u32) -> Share {
    let each = drag_out.max(Volume::ZERO) / volume;
    Share::fraction(-libm::expm1(-f64::from(loads) * libm::log1p(each)))
}

/// Loads until a still rinse, clean at first, reaches a strength; none where it never does.
#[must_use]
pub fn loads_until(volume: Volume, drag_out: Volume, strength: Share) -> Option<u32> {
    let loads = -libm::log1p(-strength.in_fraction()) / libm::log1p(drag_out / volume);
    (loads.is_finite() && loads >= 0.0 && loads < f64::from(u32::MAX)).then_some(libm::ceil(loads) as u32)
}

/// Bath by last rinse of a cascade of stages, each well mixed, with a flow so many times the drag-out:
/// 1 + r + ... + r^n.
#[must_use]
pub fn cascade_dilution(flow_by_drag_out: f64, stages: u32) -> f64 {
    (0..stages).fold(1.0, |sum, _| sum * flow_by_drag_out + 1.0)
}

/// Flow by drag-out that a cascade needs for a dilution; none where no flow does.
#[must_use]
pub fn cascade_flow(dilution: f64, stages: u32) -> Option<f64> {
    if stages == 0 || !dilution.is_finite() || dilution < 1.0 {
        return None;
    }
    Some(falling_root(0.0, dilution, |r| {
        dilution - cascade_dilution(r, stages)
    }))
}

/// Flow of clean water that holds a single running rinse at a dilution: the drag-out times one less.
#[must_use]
pub fn running_flow(drag_out: VolumeFlow, dilution: f64) -> VolumeFlow {
    drag_out * (dilution - 1.0).max(0.0)
}

/// Flow that carries a mass off at a concentration, in the short form that leaves the drag-out itself aside.
#[must_use]
pub fn carrying_flow(mass: MassFlow, at: Concentration) -> VolumeFlow {
    VolumeFlow::cubic_metres_per_second(mass.base() / at.base())
}
