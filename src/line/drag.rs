//! Drag-out: what a load carries along when it leaves a bath.

use tankday_base::shop::{DRIPPED, DRIPS_UNTIL};
use tankday_base::units::Span;

/// Nothing is lifted clear faster; keeps the film finite.
const AT_LEAST: Span = Span::micros(1_000_000);

/// What dripping for some time leaves of the drag-out stated for [`DRIPPED`]: a film that drains freely thins with
/// the square root of time (2/3 sqrt(nu H / (g t))).
pub(super) fn after_dripping(drip: Span) -> f64 {
    let drip = drip.max(AT_LEAST).min(DRIPS_UNTIL);
    (DRIPPED.in_seconds() / drip.in_seconds()).sqrt()
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
