//! Sets of moments as lists of closed intervals, in order and apart from each other. All in microseconds.

/// A set of moments.
pub(super) type Set = Vec<(i64, i64)>;

/// Far beyond any day, and far from overflow.
pub(super) const FAR: i64 = i64::MAX / 8;

/// What lies in both.
pub(super) fn meet(a: &Set, b: &Set) -> Set {
    let (mut i, mut j) = (0, 0);
    let mut both = Set::new();
    while let (Some(&(a0, a1)), Some(&(b0, b1))) = (a.get(i), b.get(j)) {
        let (from, to) = (a0.max(b0), a1.min(b1));
        if from <= to {
            both.push((from, to));
        }
        if a1 < b1 {
            i += 1;
        } else {
            j += 1;
        }
    }
    both
}

/// What lies within one interval.
pub(super) fn clip(a: &Set, from: i64, to: i64) -> Set {
    a.iter()
        .map(|&(s, e)| (s.max(from), e.min(to)))
        .filter(|(s, e)| s <= e)
        .collect()
}

/// All moments from `least` to `most` after one of the set.
pub(super) fn after(a: &Set, least: i64, most: i64) -> Set {
    joined(a.iter().map(|&(s, e)| (s + least, (e + most).min(FAR))).collect())
}

/// In order and apart from each other.
pub(super) fn joined(mut a: Set) -> Set {
    a.sort_unstable();
    let mut out = Set::with_capacity(a.len());
    for (s, e) in a {
        match out.last_mut() {
            Some(last) if s <= last.1 => last.1 = last.1.max(e),
            _ => out.push((s, e)),
        }
    }
    out
}

/// When fewer than `room` of these are there, from `open` on. They are in the order in which they begin.
pub(super) fn free(busy: &[(i64, i64)], room: u32, open: i64) -> Set {
    debug_assert!(busy.is_sorted_by_key(|b| b.0));
    if room == 1 {
        return between(busy, open);
    }
    if busy.len() < room as usize {
        return vec![(open, FAR)];
    }
    let mut turns: Vec<(i64, i32)> = Vec::with_capacity(2 * busy.len());
    for &(s, e) in busy.iter().filter(|b| b.0 < b.1) {
        turns.push((s, 1));
        turns.push((e, -1));
    }
    turns.sort_unstable();
    let mut out = Set::new();
    let (mut count, mut since) = (0i64, Some(open));
    for (at, by) in turns {
        count += i64::from(by);
        let full = count >= i64::from(room);
        match (full, since) {
            (true, Some(s)) => {
                if s <= at {
                    out.push((s, at));
                }
                since = None;
            }
            (false, None) => since = Some(at.max(open)),
            _ => {}
        }
    }
    if let Some(s) = since {
        out.push((s, FAR));
    }
    out
}

/// When none of these is there, from `open` on.
fn between(busy: &[(i64, i64)], open: i64) -> Set {
    let mut out = Set::with_capacity(busy.len() + 1);
    let (mut until, mut since) = (i64::MIN, open);
    for &(s, e) in busy.iter().filter(|b| b.0 < b.1) {
        if s >= until {
            if since <= s {
                out.push((since, s));
            }
            until = e;
        } else {
            until = until.max(e);
        }
        since = until.max(open);
    }
    out.push((since, FAR));
    out
}

/// The moments of one set at which something of so long can begin that lies within the other.
pub(super) fn begin_within(can: &Set, gaps: &Set, long: i64) -> Set {
    let (mut i, mut j) = (0, 0);
    let mut out = Set::new();
    while let (Some(&(a0, a1)), Some(&(b0, b1))) = (can.get(i), gaps.get(j)) {
        let b1 = b1 - long;
        let (from, to) = (a0.max(b0), a1.min(b1));
        if from <= to {
            out.push((from, to));
        }
        if a1 < b1 {
            i += 1;
        } else {
            j += 1;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sets_meet_and_shift() {
        assert_eq!(
            meet(&vec![(0, 5), (8, 12)], &vec![(4, 9), (11, 20)]),
            vec![(4, 5), (8, 9), (11, 12)]
        );
        assert_eq!(after(&vec![(0, 1), (5, 6)], 2, 4), vec![(2, 5), (7, 10)]);
        assert_eq!(after(&vec![(0, 1), (3, 4)], 2, 4), vec![(2, 8)]);
        assert_eq!(clip(&vec![(0, 5), (8, 12)], 3, 9), vec![(3, 5), (8, 9)]);
    }

    #[test]
    fn what_begins_within_a_gap_ends_within_it() {
        let gaps = vec![(0, 5), (5, 7), (8, 20)];
        assert_eq!(begin_within(&vec![(1, 9)], &gaps, 3), vec![(1, 2), (8, 9)]);
        assert_eq!(begin_within(&vec![(3, 4), (17, 18)], &gaps, 3), vec![(17, 17)]);
    }

    #[test]
    fn a_place_is_free_between_its_loads() {
        assert_eq!(free(&[(2, 8), (4, 6), (7, 9)], 1, 3), vec![(9, FAR)]);
        assert_eq!(free(&[(2, 4), (6, 9)], 1, 3), vec![(4, 6), (9, FAR)]);
        assert_eq!(free(&[(2, 4), (6, 9)], 1, 0), vec![(0, 2), (4, 6), (9, FAR)]);
        assert_eq!(free(&[(2, 6), (4, 9)], 2, 0), vec![(0, 4), (6, FAR)]);
        assert_eq!(free(&[(2, 4), (4, 9)], 1, 0), vec![(0, 2), (4, 4), (9, FAR)]);
    }
}
