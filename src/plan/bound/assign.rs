//! The cheapest way to give each order one of as many places.

/// Least sum of `cost(order, place)` over all ways to give `n` orders `n` places, by shortest augmenting paths (the
/// Hungarian method; Kuhn, Naval Research Logistics Quarterly 2, 1955; from memory).
pub(super) fn cheapest(n: usize, cost: impl Fn(usize, usize) -> i64) -> i64 {
    let (mut by_order, mut by_place) = (vec![0i64; n + 1], vec![0i64; n + 1]);
    // For each place the order that has it, counted from 1; place 0 is where the order stands that looks for one.
    let mut holder = vec![0usize; n + 1];
    for order in 1..=n {
        holder[0] = order;
        let mut at = 0;
        let mut least = vec![i64::MAX / 4; n + 1];
        let (mut from, mut seen) = (vec![0usize; n + 1], vec![false; n + 1]);
        while holder[at] != 0 {
            seen[at] = true;
            let who = holder[at];
            let (mut step, mut next) = (i64::MAX / 4, 0);
            for place in (1..=n).filter(|p| !seen[*p]) {
                let left = cost(who - 1, place - 1) - by_order[who] - by_place[place];
                if left < least[place] {
                    least[place] = left;
                    from[place] = at;
                }
                if least[place] < step {
                    step = least[place];
                    next = place;
                }
            }
            for place in 0..=n {
                if seen[place] {
                    by_order[holder[place]] += step;
                    by_place[place] -= step;
                } else {
                    least[place] -= step;
                }
            }
            at = next;
        }
        while at != 0 {
            holder[at] = holder[from[at]];
            at = from[at];
        }
    }
    (1..=n).map(|p| cost(holder[p] - 1, p - 1)).sum()
}

#[cfg(test)]
mod tests {
    use super::cheapest;

    fn all_ways(left: &mut Vec<usize>, from: usize, cost: &impl Fn(usize, usize) -> i64) -> i64 {
        if from == left.len() {
            return left.iter().enumerate().map(|(o, p)| cost(o, *p)).sum();
        }
        let mut best = i64::MAX;
        for i in from..left.len() {
            left.swap(from, i);
            best = best.min(all_ways(left, from + 1, cost));
            left.swap(from, i);
        }
        best
    }

    #[test]
    fn it_is_the_cheapest_of_all_ways() {
        for seed in 0..200u64 {
            let n = 1 + (seed % 6) as usize;
            let cost = |o: usize, p: usize| {
                let mixed = (seed + 1) * 2_654_435_761 + (o * 97 + p * 31) as u64 * 40_503;
                (mixed >> 7 & 63) as i64
            };
            assert_eq!(cheapest(n, cost), all_ways(&mut (0..n).collect(), 0, &cost));
        }
        assert_eq!(cheapest(0, |_, _| 1), 0);
    }
}
