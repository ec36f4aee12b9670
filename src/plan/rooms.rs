//! The fewest loads that things of given sizes need, whatever goes in with what.

/// Less than this much too full is full.
pub(super) const FULL: f64 = 1e-9;

/// No fewer loads than this for things that take these shares of the room of one load, so many of each: the room that all
/// need, with things that are too large for each other counted by themselves (the bound L2 of Martello and Toth,
/// Knapsack Problems, 1990, section 8.3; from memory). At least 1.
pub(super) fn fewest(sizes: &[(f64, u32)]) -> u64 {
    let mut sorted: Vec<(f64, u32)> = sizes.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let small = sorted.iter().map(|s| s.0).filter(|s| *s <= 0.5);
    let sums = Sums::of(&sorted);
    small
        .chain([0.0])
        .map(|s| sums.with_small(s))
        .max()
        .unwrap_or(1)
        .max(1)
}

/// Things by size, the smallest first, and how many they are and how much room they take up to each of them.
struct Sums<'a> {
    sorted: &'a [(f64, u32)],
    many: Vec<u64>,
    room: Vec<f64>,
}

impl<'a> Sums<'a> {
    fn of(sorted: &'a [(f64, u32)]) -> Self {
        let (mut many, mut room) = (vec![0], vec![0.0]);
        let (mut n, mut sum) = (0, 0.0);
        for &(size, count) in sorted {
            n += u64::from(count);
            sum += size * f64::from(count);
            many.push(n);
            room.push(sum);
        }
        Self { sorted, many, room }
    }

    /// The same if things of up to half a load could be cut up, and those below `small` are left out.
    fn with_small(&self, small: f64) -> u64 {
        let up_to = |limit: f64| self.sorted.partition_point(|s| s.0 <= limit);
        let first = self.sorted.partition_point(|s| s.0 < small - FULL);
        let half = up_to(0.5 + FULL).max(first);
        let large = up_to(1.0 - small + FULL).max(half);
        let by_itself = self.many[self.sorted.len()] - self.many[half];
        let among = (self.many[large] - self.many[half]) as f64;
        let room = among - (self.room[large] - self.room[half]);
        let rest = self.room[half] - self.room[first];
        by_itself + libm::ceil(rest - room - 1e-6).max(0.0) as u64
    }
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
