//! Drag-out: what a load carries along when it leaves a bath.

use super::baths::Wet;
use super::engine::Engine;
use tankday_base::shop::{DRIPPED, DRIPS_UNTIL};
use tankday_base::units::{Quantity, Span, Strength, Volume};

/// Nothing is lifted clear faster; keeps the film finite.
const AT_LEAST: Span = Span::micros(1_000_000);

/// What dripping for some time leaves of the drag-out stated for [`DRIPPED`]: a film that drains freely thins with
/// the square root of time (2/3 sqrt(nu H / (g t))).
pub(super) fn after_dripping(drip: Span) -> f64 {
    let drip = drip.max(AT_LEAST).min(DRIPS_UNTIL);
    (DRIPPED.in_seconds() / drip.in_seconds()).sqrt()
}

impl Engine<'_> {
    /// Liquid that leaves the bath with a load at its present step, by the surfaces of its pieces, how they drain and
    /// how long they drip.
    pub(super) fn drag_out(&self, load: u32) -> Volume {
        Volume::from_base(self.loads[load].cargo.drags * self.step_of(load).drips)
    }

    /// A load has left a bath: it drips, and carries the rest along.
    pub(super) fn wetted(&mut self, load: u32, bath: Strength) {
        let volume = self.drag_out(load);
        self.loads[load].wet = Wet {
            volume,
            strength: bath,
            bath,
        };
    }

    /// A load begins a step: if that is a rinse, it passes the tubs; anywhere else it is dried, or rinsed in water that
    /// nobody counts.
    pub(super) fn dips(&mut self, load: u32) {
        let l = &mut self.loads[load];
        match self.baths.dip(&mut self.day, l.station, l.no, &l.wet) {
            Some(met) => l.mishaps = l.mishaps.and(met),
            None => l.wet = Wet::DRY,
        }
    }

    /// A load leaves a station: if that is a rinse, with the water of its last tub.
    pub(super) fn out_of_rinse(&mut self, load: u32) {
        let l = &mut self.loads[load];
        if let Some(strength) = self.baths.out_of_rinse(&self.day, l.station) {
            l.wet.strength = strength;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::after_dripping;
    use tankday_base::units::Span;

    #[test]
    fn dripping_longer_leaves_less_up_to_forty_seconds() {
        let after = |seconds: f64| after_dripping(Span::seconds(seconds));
        assert!((after(10.0) - 1.0).abs() < 1e-12);
        assert!((after(40.0) - 0.5).abs() < 1e-12);
        assert_eq!(after(40.0), after(3_600.0));
        assert!(after(0.0).is_finite());
    }
}
