//! How sludge settles: one particle, many of them, a still jug and one that still convects.
//!
//! Stokes' law with the drag of Schiller and Naumann, Cd = 24/Re (1 + 0.15 Re^0.687), and the hindrance of
//! Richardson and Zaki, (1 - phi)^n. The exponents above Re 0.3 are from memory.

use super::air::GRAVITY;
use super::root::falling_root;
use super::water;
use crate::units::{Density, Length, Quantity, Share, Span, Speed, Temperature, Viscosity};

/// What sludge is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Particle {
    /// Diameter of a ball that settles as it does.
    pub diameter: Length,
    /// Density.
    pub density: Density,
}

impl Particle {
    /// Compact crystals. The density is that of strengite (HandWiki, 2.84 to 2.87). The size was inferred: no
    /// measurement was found, and 5 µm fits the rule that a jug 25 cm deep clears in two to three hours (common
    /// practice, no source).
    pub const SLUDGE: Self = Self {
        diameter: Length::millimetres(5e-3),
        density: Density::kilograms_per_cubic_metre(2_870.0),
    };
}

/// What it settles in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    /// Density.
    pub density: Density,
    /// Viscosity.
    pub viscosity: Viscosity,
}

impl Liquid {
    /// Water; a bath is dilute enough to be taken as such.
    #[must_use]
    pub fn water(at: Temperature) -> Self {
        Self {
            density: water::density(at),
            viscosity: water::viscosity(at),
        }
    }
}

/// Speed by Stokes' law, g d² (difference of densities) / (18 mu); for Reynolds numbers below about 0.3. Negative
/// for a particle that rises.
#[must_use]
pub fn stokes(particle: &Particle, liquid: &Liquid) -> Speed {
    let d = particle.diameter.base();
    let heavier = (particle.density - liquid.density).base();
    Speed::metres_per_second(GRAVITY * d * d * heavier / (18.0 * liquid.viscosity.base()))
}

/// Reynolds number of a particle at a speed.
#[must_use]
pub fn reynolds(particle: &Particle, liquid: &Liquid, speed: Speed) -> f64 {
    liquid.density.base() * speed.base().abs() * particle.diameter.base() / liquid.viscosity.base()
}

/// Speed with the drag of Schiller and Naumann, which is Stokes' law for small particles; good to Re 800.
#[must_use]
pub fn terminal(particle: &Particle, liquid: &Liquid) -> Speed {
    let free = stokes(particle, liquid).base();
    let drag = |v: f64| {
        let re = reynolds(particle, liquid, Speed::metres_per_second(v));
        1.0 + 0.15 * libm::pow(re, 0.687)
    };
    // As a share of Stokes' speed, so that the search does not depend on how slow it is.
    let share = falling_root(0.0, 1.0, |x| 1.0 - x * drag(x * free));
    Speed::metres_per_second(free * share)
}

/// Exponent of Richardson and Zaki at a Reynolds number.
#[must_use]
pub fn hindrance_exponent(reynolds: f64) -> f64 {
    match reynolds {
        re if re < 0.3 => 4.65,
        re if re < 1.0 => 4.35 * libm::pow(re, -0.03),
        re if re < 500.0 => 4.45 * libm::pow(re, -0.1),
        _ => 2.39,
    }
}

/// Speed among others that fill a share of the volume.
#[must_use]
pub fn hindered(free: Speed, solids: Share, exponent: f64) -> Speed {
    free * libm::pow((1.0 - solids.in_fraction()).clamp(0.0, 1.0), exponent)
}

/// Share of the volume at which others slow a particle down to a share of its free speed.
#[must_use]
pub fn solids_for(share_of_free: f64, exponent: f64) -> Share {
    Share::fraction(1.0 - libm::pow(share_of_free.clamp(0.0, 1.0), 1.0 / exponent))
}

/// Speed at which a bed rises from the bottom while a suspension settles on it.
#[must_use]
pub fn bed_rise(settling: Speed, suspended: Share, bed: Share) -> Speed {
    settling * (suspended.in_fraction() / (bed - suspended).in_fraction())
}

/// Diameter that settles at a speed by Stokes' law.
#[must_use]
pub fn diameter_at(speed: Speed, density: Density, liquid: &Liquid) -> Length {
    let heavier = (density - liquid.density).base();
    Length::metres(
        (18.0 * liquid.viscosity.base() * speed.base() / (GRAVITY * heavier))
            .max(0.0)
            .sqrt(),
    )
}

/// Sludge settling in a vessel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settling {
    /// How fast.
    pub speed: Speed,
    /// How deep the vessel is filled.
    pub depth: Length,
}

/// How the liquid stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Calm {
    /// At one temperature: a clear layer grows from the top at the speed of settling.
    Still,
    /// Still cooling: it convects faster than anything settles, and thins out as exp(-v t / H) (Martin and Nokes
    /// 1988, from memory).
    Convecting,
}

impl Settling {
    /// Of particles that fill a share of the volume.
    #[must_use]
    pub fn new(particle: &Particle, liquid: &Liquid, solids: Share, depth: Length) -> Self {
        let free = terminal(particle, liquid);
        let exponent = hindrance_exponent(reynolds(particle, liquid, free));
        Self {
            speed: hindered(free, solids, exponent),
            depth,
        }
    }

    /// Share that is still stirred up after a time.
    #[must_use]
    pub fn left_after(&self, time: Span, calm: Calm) -> Share {
        let depths = self.speed.base() * time.in_seconds() / self.depth.base();
        Share::fraction(match calm {
            Calm::Still => (1.0 - depths).clamp(0.0, 1.0),
            Calm::Convecting => libm::exp(-depths.max(0.0)),
        })
    }

    /// Time until a share is left: for ever where nothing settles. A still vessel clears, to nothing left, in
    /// depth by speed; one that convects never quite does, and is called clear at 1 %.
    #[must_use]
    pub fn time_to(&self, left: Share, calm: Calm) -> Span {
        let left = left.in_fraction().clamp(0.0, 1.0);
        let depths = match calm {
            Calm::Still => 1.0 - left,
            Calm::Convecting => -libm::log(left),
        };
        if self.speed.base() <= 0.0 {
            return Span::FOREVER;
        }
        Span::seconds(depths * self.depth.base() / self.speed.base())
    }
}

/// Time in which half of the stirred-up sludge settles in an idle bath of a depth, at 20 °C: a vessel that convects while
/// it cools, and the size of particle that was inferred from a jug which clears in two to three hours.
#[must_use]
pub fn half_life(depth: Length) -> Span {
    let cold = Liquid::water(Temperature::celsius(20.0));
    Settling::new(&Particle::SLUDGE, &cold, Share::ZERO, depth)
        .time_to(Share::percent(50.0), Calm::Convecting)
}

/// Time until no more than a share is stirred up, where half of it settles in so long.
#[must_use]
pub fn time_to_share(half: Span, left: Share) -> Span {
    half.times(-libm::log2(left.in_fraction().clamp(f64::MIN_POSITIVE, 1.0)))
}
