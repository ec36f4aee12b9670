//! Which points of a sweep lie beside each other.

use super::Varied;

/// For every point that can be, numbered among those, the points beside it: the next in either direction along each key,
/// and every other value of a key that is none of numbers. `sound` says of each point of the grid whether it can be.
#[must_use]
pub fn neighbours(keys: &[Varied], sound: &[bool]) -> Vec<Vec<usize>> {
    let mut number = 0;
    let numbers: Vec<Option<usize>> = sound
        .iter()
        .map(|can| {
            number += usize::from(*can);
            can.then(|| number - 1)
        })
        .collect();
    let beside = |at: usize| {
        let mut all = Vec::new();
        let mut stride = 1;
        // The last key changes fastest.
        for key in keys.iter().rev() {
            let many = key.values.len();
            let own = at / stride % many;
            let on = |value: usize| numbers.get(at - own * stride + value * stride).copied().flatten();
            if key.form.is_some() {
                all.extend((0..own).rev().find_map(on));
                all.extend((own + 1..many).find_map(on));
            } else {
                all.extend((0..many).filter(|v| *v != own).filter_map(on));
            }
            stride *= many;
        }
        all
    };
    let points = 0..sound.len();
    points
        .filter(|at| sound.get(*at) == Some(&true))
        .map(beside)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::neighbours;
    use crate::sweep::varied;

    #[test]
    fn points_that_cannot_be_are_stepped_over() {
        let keys = [varied("a=1 L..4 L/4").unwrap()];
        assert_eq!(
            neighbours(&keys, &[true, false, true, true]),
            [vec![1], vec![0, 2], vec![1]]
        );
    }

    #[test]
    fn a_grid_has_neighbours_along_both_keys_and_words_all_others() {
        let keys = [
            varied("a=1 L..3 L/3").unwrap(),
            varied("b=due first, arrived first").unwrap(),
        ];
        let all = neighbours(&keys, &[true; 6]);
        assert_eq!(
            all,
            [
                vec![1, 2],
                vec![0, 3],
                vec![3, 0, 4],
                vec![2, 1, 5],
                vec![5, 2],
                vec![4, 3]
            ]
        );
    }
}
