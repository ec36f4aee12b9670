//! Filtering by Ruth's equation: t = a V² + b V, a = mu alpha c / (2 A² p), b = mu Rm / (A p).
//!
//! The time goes with the square of the volume and with the solids in it: decant first, and filter the heel.

use super::air::GRAVITY;
use crate::units::{
    Area, CakeResistance, Concentration, Density, Length, Mass, MediumResistance, Pressure, Quantity, Span,
    Viscosity, Volume, VolumeFlow,
};

/// Cake resistance of phosphate sludge. None was found: between calcium carbonate and metal hydroxides; 5e10 to
/// 2e12 (common practice, no source).
pub const SLUDGE_CAKE: CakeResistance = CakeResistance::metres_per_kilogram(2e11);

/// Resistance of a filter paper: between 3.9e7 and 1.3e9 for thirty papers that let 760 to 23 mL a minute through, and
/// between 2.4e7 and 2.1e8 for five others at 1250 to 141 mL (Herzberg W., Papierprüfung; the tester's 10 cm2 and 50 mm
/// head are from memory).
pub const PAPER: MediumResistance = MediumResistance::per_metre(3e8);

/// Pressure of a liquid at a mean head above the medium.
#[must_use]
pub fn gravity_head(liquid: Density, head: Length) -> Pressure {
    Pressure::pascals(liquid.base() * GRAVITY * head.base())
}

/// A medium that clogs: what stays in it of every cake it has borne.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Medium {
    /// Resistance when new.
    pub new: MediumResistance,
    /// Resistance now.
    pub now: MediumResistance,
    /// Share of a cake's resistance that stays when the cake is taken off. Assumed.
    pub kept: f64,
    /// To be changed at so many times its resistance when new. Assumed.
    pub change_at: f64,
}

impl Medium {
    /// A new one that keeps 1 % of each cake and is changed at ten times its resistance; both assumed.
    #[must_use]
    pub fn fresh(new: MediumResistance) -> Self {
        Self {
            new,
            now: new,
            kept: 0.01,
            change_at: 10.0,
        }
    }

    /// After a batch has left so much dry cake on an area.
    #[must_use]
    pub fn after(self, cake: CakeResistance, solids: Mass, area: Area) -> Self {
        let borne = cake.base() * solids.base().max(0.0) / area.base() * self.kept;
        Self {
            now: self.now + MediumResistance::per_metre(borne),
            ..self
        }
    }

    /// Whether it is to be changed.
    #[must_use]
    pub fn is_spent(&self) -> bool {
        self.now.base() >= self.new.base() * self.change_at
    }
}

/// A filter at work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filter {
    /// Area of the medium.
    pub area: Area,
    /// Pressure across it.
    pub pressure: Pressure,
    /// Resistance of the medium.
    pub medium: MediumResistance,
    /// Resistance of the cake.
    pub cake: CakeResistance,
}

/// A filter that lets nothing through, or a slurry that is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a filter needs an area and a pressure above zero, and resistances not below zero")]
pub struct NoFilter;

impl Filter {
    /// Its equation for a slurry of so much solid in the filtrate.
    ///
    /// # Errors
    /// When it has no area or pressure, or anything is negative.
    pub fn ruth(&self, liquid: Viscosity, solids: Concentration) -> Result<Ruth, NoFilter> {
        let (area, pressure, mu) = (self.area.base(), self.pressure.base(), liquid.base());
        let square = mu * self.cake.base() * solids.base() / (2.0 * area * area * pressure);
        let plain = mu * self.medium.base() / (area * pressure);
        let able = area > 0.0 && pressure > 0.0 && square >= 0.0 && plain >= 0.0 && square.is_finite();
        if able {
            Ok(Ruth { square, plain })
        } else {
            Err(NoFilter)
        }
    }
}

/// Ruth's equation of one slurry on one filter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ruth {
    square: f64,
    plain: f64,
}

impl Ruth {
    /// From its two coefficients, a in s/m6 and b in s/m3.
    #[must_use]
    pub const fn new(square: f64, plain: f64) -> Self {
        Self { square, plain }
    }

    /// The straight line t/V against V that fits measured times and volumes best.
    #[must_use]
    pub fn fit(measured: &[(Span, Volume)]) -> Option<Self> {
        let points = measured
            .iter()
            .map(|(t, v)| (v.base(), t.in_seconds() / v.base()));
        let n = measured.len() as f64;
        let (x, y) = points
            .clone()
            .fold((0.0, 0.0), |s, p| (s.0 + p.0 / n, s.1 + p.1 / n));
        let (xx, xy) = points.fold((0.0, 0.0), |s, p| {
            let dx = p.0 - x;
            (s.0 + dx * dx, s.1 + dx * (p.1 - y))
        });
        let square = xy / xx;
        square.is_finite().then_some(Self {
            square,
            plain: y - square * x,
        })
    }

    /// Resistances that a filter of this area and pressure must have to follow it.
    #[must_use]
    pub fn resistances(
        &self,
        area: Area,
        pressure: Pressure,
        liquid: Viscosity,
        solids: Concentration,
    ) -> (CakeResistance, MediumResistance) {
        let force = area.base() * pressure.base() / liquid.base();
        (
            CakeResistance::metres_per_kilogram(2.0 * self.square * area.base() * force / solids.base()),
            MediumResistance::per_metre(self.plain * force),
        )
    }

    /// Its coefficients, a in s/m6 and b in s/m3.
    #[must_use]
    pub const fn coefficients(&self) -> (f64, f64) {
        (self.square, self.plain)
    }

    /// Time for a volume of filtrate.
    #[must_use]
    pub fn time_for(&self, volume: Volume) -> Span {
        let v = volume.base().max(0.0);
        Span::seconds((self.square * v + self.plain) * v)
    }

    /// Filtrate in a time.
    #[must_use]
    pub fn volume_in(&self, time: Span) -> Volume {
        let t = time.in_seconds().max(0.0);
        // The root in the form that does not cancel.
        let root = (self.plain * self.plain + 4.0 * self.square * t).sqrt();
        Volume::cubic_metres(if t > 0.0 {
            2.0 * t / (self.plain + root)
        } else {
            0.0
        })
    }

    /// Flow when a volume has gone through.
    #[must_use]
    pub fn flow_after(&self, volume: Volume) -> VolumeFlow {
        VolumeFlow::cubic_metres_per_second(1.0 / (2.0 * self.square * volume.base().max(0.0) + self.plain))
    }

    /// Time to wash the cake of a volume at a share of the last flow.
    #[must_use]
    pub fn wash_time(&self, filtered: Volume, wash: Volume, share_of_flow: f64) -> Span {
        Span::seconds(wash.base() / (self.flow_after(filtered).base() * share_of_flow))
    }
}
