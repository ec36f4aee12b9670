//! Stretches of time, and what lists of them have in common.

use tankday_base::units::{Moment, Span};

/// From a moment up to another, which no longer belongs to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Spell {
    pub(super) from: Moment,
    pub(super) to: Moment,
}

impl Spell {
    pub(super) fn new(from: Moment, to: Moment) -> Self {
        Self { from, to }
    }

    pub(super) fn length(self) -> Span {
        self.to - self.from
    }
}

/// The same time in order, touching and overlapping stretches joined, empty ones left out.
pub(super) fn joined(mut all: Vec<Spell>) -> Vec<Spell> {
    all.retain(|s| s.from < s.to);
    all.sort_unstable();
    let mut joined: Vec<Spell> = Vec::with_capacity(all.len());
    for spell in all {
        match joined.last_mut() {
            Some(last) if spell.from <= last.to => last.to = last.to.max(spell.to),
            _ => joined.push(spell),
        }
    }
    joined
}

/// The time that is in both; both lists must be joined.
pub(super) fn common(a: &[Spell], b: &[Spell]) -> Vec<Spell> {
    let (mut i, mut k) = (0, 0);
    let mut both = Vec::new();
    while let (Some(x), Some(y)) = (a.get(i), b.get(k)) {
        let (from, to) = (x.from.max(y.from), x.to.min(y.to));
        if from < to {
            both.push(Spell::new(from, to));
        }
        if x.to < y.to {
            i += 1;
        } else {
            k += 1;
        }
    }
    both
}

/// The time in `a` that is not in `b`; both lists must be joined.
pub(super) fn without(a: &[Spell], b: &[Spell]) -> Vec<Spell> {
    let mut left = Vec::new();
    for spell in a {
        let mut from = spell.from;
        let first = b.partition_point(|cut| cut.to <= spell.from);
        for cut in b.iter().skip(first).take_while(|cut| cut.from < spell.to) {
            if from < cut.from {
                left.push(Spell::new(from, cut.from));
            }
            from = from.max(cut.to);
        }
        if from < spell.to {
            left.push(Spell::new(from, spell.to));
        }
    }
    left
}

/// How long they last together.
pub(super) fn total(all: &[Spell]) -> Span {
    all.iter().map(|s| s.length()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spells(all: &[(i64, i64)]) -> Vec<Spell> {
        let at = |m| Moment::ZERO + Span::whole_minutes(m);
        all.iter().map(|(a, b)| Spell::new(at(*a), at(*b))).collect()
    }

    #[test]
    fn what_touches_is_joined_and_what_is_empty_goes() {
        let all = spells(&[(5, 7), (1, 3), (3, 4), (6, 9), (10, 10)]);
        assert_eq!(joined(all), spells(&[(1, 4), (5, 9)]));
    }

    #[test]
    fn common_and_without_divide_a_list() {
        let (a, b) = (spells(&[(0, 10), (20, 30)]), spells(&[(2, 4), (8, 22), (29, 40)]));
        assert_eq!(common(&a, &b), spells(&[(2, 4), (8, 10), (20, 22), (29, 30)]));
        assert_eq!(without(&a, &b), spells(&[(0, 2), (4, 8), (22, 29)]));
        let parts = total(&common(&a, &b)) + total(&without(&a, &b));
        assert_eq!(parts, total(&a));
    }

    #[test]
    fn nothing_is_taken_from_or_added_to_nothing() {
        let a = spells(&[(0, 10)]);
        assert_eq!(without(&a, &[]), a);
        assert_eq!(without(&[], &a), []);
        assert_eq!(common(&a, &[]), []);
        assert_eq!(without(&a, &spells(&[(0, 10)])), []);
    }
}
