//! A part as people name it: in the plural, with other capitals, with a word for pieces before it.

use tankday_base::print::plural;

/// Words for pieces that stand between a count and a part, or behind a count.
const PIECES: [&str; 8] = ["pieces of", "pieces", "piece", "pcs", "pcs.", "pc", "ea", "off"];

/// The name that is meant: itself, or else the one with the same letters in the singular or the plural, or that behind a word for
/// pieces: `100 pcs wood screws`.
pub(super) fn part_meant<'n>(names: impl Iterator<Item = &'n str> + Clone, typed: &str) -> Option<&'n str> {
    let named = |typed: &str| {
        let low = typed.to_lowercase();
        let same = |n: &&str| n.to_lowercase() == low || plural(n).to_lowercase() == low;
        names
            .clone()
            .find(|n| *n == typed)
            .or_else(|| names.clone().find(same))
    };
    named(typed).or_else(|| named(behind_pieces(typed)?))
}

/// What stands behind a word for pieces.
fn behind_pieces(text: &str) -> Option<&str> {
    let after = |word: &&str| {
        let head = text.get(..word.len()).filter(|h| h.eq_ignore_ascii_case(word))?;
        text[head.len()..].strip_prefix(' ')
    };
    PIECES.iter().find_map(after).map(str::trim_start)
}

/// A count without a word for pieces behind it: `100 pcs` is 100.
pub(super) fn without_pieces(count: &str) -> &str {
    let small = count.trim_end().to_lowercase();
    let word = PIECES.iter().find(|word| {
        let rest = small.strip_suffix(**word);
        rest.is_some_and(|r| r.ends_with([' ', '\u{a0}']) || r.ends_with(|c: char| c.is_ascii_digit()))
    });
    match word {
        Some(word) => count
            .trim_end()
            .get(..small.len() - word.len())
            .unwrap_or(count)
            .trim_end(),
        None => count,
    }
}

#[cfg(test)]
mod tests {
    use super::{part_meant, without_pieces};

    #[test]
    fn a_part_is_known_as_people_name_it() {
        let names = ["wood screw", "knife", "piece holder", "Knife block"];
        for (typed, meant) in [
            ("wood screw", Some("wood screw")),
            ("Wood Screws", Some("wood screw")),
            ("knives", Some("knife")),
            ("pcs wood screws", Some("wood screw")),
            ("pieces of wood screw", Some("wood screw")),
            ("piece holders", Some("piece holder")),
            ("pcs", None),
            ("nut", None),
        ] {
            assert_eq!(part_meant(names.into_iter(), typed), meant, "{typed}");
        }
    }

    #[test]
    fn a_count_may_say_that_it_counts_pieces() {
        for (typed, count) in [
            ("100 pcs", "100"),
            ("100pcs.", "100"),
            ("1 piece", "1"),
            ("1.200 Pieces", "1.200"),
            ("100", "100"),
            ("a dozen", "a dozen"),
            ("pcs", "pcs"),
        ] {
            assert_eq!(without_pieces(typed), count, "{typed}");
        }
    }
}
