//! Where to look more closely: beside the points at which the curves bend most.

use super::turn::Curve;
use super::{Setting, Sweep};
use crate::{Better, Measure};

/// The value to try next, in the middle of the stretch beside which the judged figures bend most for its width; none
/// where nothing lies between, or the key is none of numbers.
#[must_use]
pub fn next_setting(sweep: &Sweep) -> Option<Setting> {
    let [key] = sweep.keys.as_slice() else {
        return None;
    };
    let form = key.form.as_ref()?;
    let judged = Measure::ALL
        .iter()
        .filter(|m| m.is_headline() && m.better() != Better::Neither);
    let curves: Vec<Curve> = judged.filter_map(|m| Curve::of(sweep, *m)).collect();
    let at = &curves.first()?.at;
    let mut best: Option<(f64, Setting)> = None;
    for (i, pair) in at.windows(2).enumerate() {
        let [a, b] = *pair else { continue };
        let setting = form.at(0.5 * (a + b));
        // Points that cannot be were tried, too.
        let tried = sweep.points.iter().any(|p| {
            p.settings
                .first()
                .is_some_and(|s| (s.at - setting.at).abs() <= 1e-9 * b.abs().max(1.0))
        });
        if tried || setting.at <= a || setting.at >= b {
            continue;
        }
        let score = curves.iter().map(|c| bent(c, i)).fold(0.0, f64::max) * (b - a);
        if best.as_ref().is_none_or(|(most, _)| score > *most) {
            best = Some((score, setting));
        }
    }
    best.map(|(_, setting)| setting)
}

/// How much the curve bends at the two ends of a stretch, both axes counted as shares of their whole.
fn bent(curve: &Curve, stretch: usize) -> f64 {
    let means = curve.means();
    let span = |v: &[f64]| {
        let (low, high) = v
            .iter()
            .fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(*x), h.max(*x)));
        high - low
    };
    let (wide, high) = (span(&curve.at), span(&means));
    if wide <= 0.0 || high <= 0.0 {
        return 0.0;
    }
    let slope = |i: usize| -> Option<f64> {
        let (x, y) = (curve.at.get(i..=i + 1)?, means.get(i..=i + 1)?);
        match (x, y) {
            ([a, b], [c, d]) => Some((d - c) / high / ((b - a) / wide)),
            _ => None,
        }
    };
    let Some(own) = slope(stretch) else {
        return 0.0;
    };
    let before = stretch
        .checked_sub(1)
        .and_then(slope)
        .map_or(0.0, |s| (own - s).abs());
    let behind = slope(stretch + 1).map_or(0.0, |s| (own - s).abs());
    before.max(behind)
}
