//! The valid word that is nearest to one that is not.

/// The choice that needs the fewest changed, added, left out or swapped letters, if they are few enough that it may
/// have been meant: at most a third of the word, at least one. Case and the marks between words do not count.
pub fn nearest<'a>(word: &str, choices: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = simple(word);
    let allowed = (wanted.len() / 3).clamp(1, 4);
    choices
        .into_iter()
        .take(MOST_CHOICES)
        .filter(|c| c.chars().take(LONGEST).count().abs_diff(wanted.len()) <= allowed)
        .map(|c| (distance(&wanted, &simple(c)), c))
        .filter(|(d, _)| *d <= allowed)
        .min_by_key(|(d, _)| *d)
        .map(|(_, c)| c)
}

/// How many letters of two words differ: changed, added, left out or swapped. Case and the marks between words do not count.
pub(super) fn differs_by(a: &str, b: &str) -> usize {
    distance(&simple(a), &simple(b))
}

/// Letters of a word that are compared.
const LONGEST: usize = 40;
/// Words that are looked at: among more, a guess is not worth its time.
const MOST_CHOICES: usize = 500;

fn simple(word: &str) -> Vec<char> {
    let letters = word.chars().flat_map(char::to_lowercase);
    letters
        .map(|c| if matches!(c, '_' | '-') { ' ' } else { c })
        .take(LONGEST)
        .collect()
}

/// Edit distance with swaps of neighbours (optimal string alignment).
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, cb) in b.iter().enumerate() {
            let change = last[j] + usize::from(ca != cb);
            let mut best = change.min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *ca == b[j - 1] && a[i - 1] == *cb {
                best = best.min(before[j - 1] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{distance, nearest, simple};

    #[test]
    fn counts_letters_that_differ() {
        let d = |a: &str, b: &str| distance(&simple(a), &simple(b));
        assert_eq!(d("stations", "stations"), 0);
        assert_eq!(d("staitons", "stations"), 1);
        assert_eq!(d("heter", "heater"), 1);
        assert_eq!(d("look_ahead", "look ahead"), 0);
        assert_eq!(d("", "bath"), 4);
    }

    #[test]
    fn offers_only_what_may_have_been_meant() {
        let keys = ["bath", "heater", "inside", "lid"];
        assert_eq!(nearest("heatr", keys), Some("heater"));
        assert_eq!(nearest("Inside", keys), Some("inside"));
        assert_eq!(nearest("colour", keys), None);
    }
}
