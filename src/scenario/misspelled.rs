//! Whether a word of a `do:` may be a known one misspelled.

use super::nearest::differs_by;

/// Words of a bench that lie near to a known one and mean what they say: a wire is no wipe.
const ORDINARY: [&str; 30] = [
    "bare", "base", "coal", "cost", "day", "dip", "each", "fill", "film", "fine", "fire", "five", "grid",
    "grip", "lie", "oily", "open", "over", "even", "ever", "rise", "seat", "self", "sell", "send", "sting",
    "wide", "wine", "wire", "wise",
];
/// Words as long as this are told from others even where one letter is another.
const LONG: usize = 7;

/// Whether words may be a phrase misspelled: of as many words, each; `acid` is no `oil`, whatever stands before it.
pub(super) fn may_be(words: &str, phrase: &str, is: fn(&str, &str) -> bool) -> bool {
    let (ours, theirs) = (words.split(' '), phrase.split(' '));
    if ours.clone().count() != theirs.clone().count() {
        return is(words, phrase);
    }
    words != phrase && ours.zip(theirs).all(|(w, p)| w == p || is(w, p))
}

/// Whether a word may be a phrase misspelled: it begins alike, and few letters differ.
pub(super) fn is_near(word: &str, phrase: &str) -> bool {
    let allowed = match phrase.chars().count() {
        0..=5 => 1,
        6..=9 => 2,
        _ => 3,
    };
    is_meant(word) && begins_alike(word, phrase) && (1..=allowed).contains(&differs_by(word, phrase))
}

/// Whether a finger slipped once: two letters changed places, one was left out or typed twice; of a long word one may be
/// another.
pub(super) fn is_slip(word: &str, phrase: &str) -> bool {
    if !is_meant(word) || !begins_alike(word, phrase) || differs_by(word, phrase) != 1 {
        return false;
    }
    let (ours, theirs): (Vec<char>, Vec<char>) = (word.chars().collect(), phrase.chars().collect());
    match ours.len() as i64 - theirs.len() as i64 {
        -1 => true,
        0 => theirs.len() >= LONG || same_letters(&ours, &theirs),
        _ => {
            ours.windows(2).any(|pair| pair[0] == pair[1])
                && without_doubles(&ours) == without_doubles(&theirs)
        }
    }
}

/// Of one letter nothing is guessed, and an ordinary word is what it says.
fn is_meant(word: &str) -> bool {
    word.chars().nth(1).is_some() && !ORDINARY.contains(&word)
}

/// By the same letter, or by the same two the other way round: `soil` is no `oil`, `iol` may be.
fn begins_alike(word: &str, phrase: &str) -> bool {
    let (mut ours, mut theirs) = (word.chars(), phrase.chars());
    let (ours, theirs) = ([ours.next(), ours.next()], [theirs.next(), theirs.next()]);
    ours[0] == theirs[0] || (ours[0], ours[1]) == (theirs[1], theirs[0])
}

fn same_letters(a: &[char], b: &[char]) -> bool {
    let sorted = |of: &[char]| {
        let mut all = of.to_vec();
        all.sort_unstable();
        all
    };
    sorted(a) == sorted(b)
}

fn without_doubles(word: &[char]) -> Vec<char> {
    let mut all = word.to_vec();
    all.dedup();
    all
}
