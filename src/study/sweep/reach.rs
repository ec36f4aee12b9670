//! How far a key can be taken beyond what was tried: a tank holds only so much, and advice to fill in more is none.

use super::edge::beyond;
use super::{Form, Setting, Varied};

/// Halvings of the stretch between the edge and a value that cannot be.
const HALVINGS: usize = 12;

/// The least and the greatest value of a key of numbers that can be, as far as one would go on; none of words, or where
/// nothing that was tried can be. Between a value that can be and one that cannot a limit is looked for by halves.
#[must_use]
pub fn reach(key: &Varied, tried: &[Setting], can: impl Fn(&Setting) -> bool) -> Option<(f64, f64)> {
    let form = key.form.as_ref()?;
    let from = tried.iter().map(|s| s.at).min_by(f64::total_cmp)?;
    let to = tried.iter().map(|s| s.at).max_by(f64::total_cmp)?;
    (from < to).then(|| {
        let side = |x: f64| match beyond(form, x, (from, to)) {
            Some(far) if can(&far) => far.at,
            Some(far) => last(form, (x, far.at), 0.01 * (to - from), &can),
            None => x,
        };
        (side(from), side(to))
    })
}

/// The last value that can be on the way from one that can to one that cannot, rounded to a plain number on the safe side.
fn last(form: &Form, (mut good, mut bad): (f64, f64), fine: f64, can: &impl Fn(&Setting) -> bool) -> f64 {
    let edge = good;
    for _ in 0..HALVINGS {
        let middle = form.at(f64::midpoint(good, bad));
        if middle.at == good || middle.at == bad {
            break;
        }
        if can(&middle) {
            good = middle.at;
        } else {
            bad = middle.at;
        }
    }
    let step = libm::pow(10.0, libm::floor(libm::log10(fine)));
    let plain = form.at(edge + libm::trunc((good - edge) / step) * step);
    if can(&plain) { plain.at } else { good }
}

#[cfg(test)]
mod tests {
    use super::reach;
    use crate::sweep::varied;

    #[test]
    fn a_limit_is_found_on_either_side() {
        let of = |typed: &str, can: fn(f64) -> bool| {
            let key = varied(typed).unwrap();
            reach(&key, &key.values, |s| can(s.at))
        };
        assert_eq!(of("a=8 L..24 L/9", |v| v <= 26.25), Some((4.0, 26.2)));
        assert_eq!(of("a=8 L..24 L/9", |_| true), Some((4.0, 40.0)));
        assert_eq!(
            of("a=8 L..24 L/9", |v| (8.0..=24.0).contains(&v)),
            Some((8.0, 24.0))
        );
        assert_eq!(
            of("a=after 4..12 loads", |v| (3.0..=14.0).contains(&v)),
            Some((3.0, 14.0))
        );
        assert_eq!(of("a=due first, arrived first", |_| true), None);
    }
}
