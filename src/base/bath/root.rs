//! The one root finder of this module.

/// Where a falling function crosses zero, by regula falsi with the Illinois rule; the nearer end when it does
/// not cross between `low` and `high`. Good to about 1e-10 of the argument's scale.
pub(super) fn falling_root(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut a, mut fa) = (low, f(low));
    let (mut b, mut fb) = (high, f(high));
    if fa <= 0.0 {
        return a;
    }
    if fb >= 0.0 {
        return b;
    }
    let mut last = 0i8;
    for _ in 0..100 {
        // A function that is minus infinity at one end gives no chord: halve instead.
        let chord = b - fb * (b - a) / (fb - fa);
        let c = if chord > a && chord < b {
            chord
        } else {
            0.5 * (a + b)
        };
        let fc = f(c);
        if fc == 0.0 || b - a < 1e-11 * (1.0 + b.abs()) || (c - a).min(b - c) < 1e-13 * (1.0 + b.abs()) {
            return c;
        }
        if fc > 0.0 {
            (a, fa) = (c, fc);
            if last > 0 {
                fb *= 0.5;
            }
            last = 1;
        } else {
            (b, fb) = (c, fc);
            if last < 0 {
                fa *= 0.5;
            }
            last = -1;
        }
    }
    0.5 * (a + b)
}
