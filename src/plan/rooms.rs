//! The fewest loads that things of given sizes need, whatever goes in with what.

/// Less than this much too full is full.
pub(super) const FULL: f64 = 1e-9;

/// No fewer loads than this for things that take these shares of the room of one load, so many of each: the room that all
/// need, with things that are too large for each other counted by themselves (the bound L2 of Martello and Toth,
/// Knapsack Problems, 1990, section 8.3; from memory). At least 1.
pub(super) fn fewest(sizes: &[(f64, u32)]) -> u64 {
    let small = sizes.iter().map(|s| s.0).filter(|s| *s <= 0.5);
    small
        .chain([0.0])
        .map(|s| with_small(sizes, s))
        .max()
        .unwrap_or(1)
        .max(1)
}

/// The same if things of up to half a load could be cut up, and those below `small` are left out.
fn with_small(sizes: &[(f64, u32)], small: f64) -> u64 {
    let (mut by_itself, mut room, mut rest) = (0u64, 0.0, 0.0);
    for &(size, many) in sizes {
        let all = size * f64::from(many);
        if size > 1.0 - small + FULL {
            by_itself += u64::from(many);
        } else if size > 0.5 + FULL {
            by_itself += u64::from(many);
            room += f64::from(many) - all;
        } else if size >= small - FULL {
            rest += all;
        }
    }
    by_itself + libm::ceil(rest - room - 1e-6).max(0.0) as u64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn room_and_things_too_large_for_each_other_count() {
        assert_eq!(fewest(&[]), 1);
        assert_eq!(fewest(&[(0.25, 9)]), 3);
        assert_eq!(fewest(&[(0.6, 4)]), 4);
        // Beside 0.6 nothing of 0.5 finds room: four loads, and one for two halves.
        assert_eq!(fewest(&[(0.6, 4), (0.5, 2)]), 5);
        assert_eq!(fewest(&[(0.6, 4), (0.4, 4)]), 4);
        assert_eq!(fewest(&[(0.5, 4)]), 2);
    }
}
