//! Several of a thing, by rules of our own, with the irregular words of the trade. A library for plurals (pluralizer 0.6) was
//! held against the words of the tests: it makes `dice`, `lens` and `M8S` of them, and brings a regex engine of five crates.

/// Words whose plural no rule gives.
const IRREGULAR: [(&str, &str); 11] = [
    ("knife", "knives"),
    ("half", "halves"),
    ("leaf", "leaves"),
    ("shelf", "shelves"),
    ("foot", "feet"),
    ("tooth", "teeth"),
    ("axis", "axes"),
    ("matrix", "matrices"),
    ("vertex", "vertices"),
    ("lens", "lenses"),
    ("gas", "gases"),
];
/// What says more of the thing begins with one of these: `knob with brass insert`, `lever for plane`.
const BEHIND: [&str; 12] = [
    " with ",
    " without ",
    " for ",
    " of ",
    " in ",
    " on ",
    " to ",
    " from ",
    " by ",
    " (",
    ", ",
    " / ",
];

/// Several of a thing: `vise jaws`, `vise bodies`, `knobs with brass insert`. What ends in a single `s` is taken as
/// several already.
#[must_use]
pub fn plural(name: &str) -> String {
    let (thing, behind) = name.split_at(end_of_thing(name));
    let begins = thing.rfind([' ', '-']).map_or(0, |i| i + 1);
    let (before, word) = thing.split_at(begins);
    format!("{before}{}{behind}", several(word))
}

/// Where the thing itself ends: before what says more of it, and before its size.
fn end_of_thing(name: &str) -> usize {
    let more = BEHIND
        .iter()
        .filter_map(|b| name.find(b))
        .filter(|i| *i > 0)
        .min();
    let has_digit = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let sizes = name.match_indices(' ').map(|(i, _)| i).find(|&i| {
        let (before, after) = name.split_at(i);
        has_digit(after.trim_start().split(' ').next().unwrap_or("")) && !has_digit(before)
    });
    let end = [more, sizes].into_iter().flatten().min();
    end.unwrap_or(name.len())
}

fn several(word: &str) -> String {
    let lower = word.to_lowercase();
    if let Some((one, many)) = IRREGULAR.iter().find(|(one, _)| lower.ends_with(one)) {
        // As it was written: `Knife`, `Knives`; `drawknife`, `drawknives`.
        let before = word.chars().count().saturating_sub(one.len());
        let own = word.chars().skip(before).zip(many.chars());
        let same = own.take_while(|(a, b)| a.eq_ignore_ascii_case(b)).count();
        let kept = word.chars().take(before + same);
        return kept.chain(many.chars().skip(same)).collect();
    }
    let ends = |all: &[&str]| all.iter().any(|end| lower.ends_with(end));
    let vowel_y = ends(&["ay", "ey", "iy", "oy", "uy"]);
    match word.chars().last() {
        None => String::new(),
        Some(last) if !last.is_alphabetic() => word.to_owned(),
        Some('y' | 'Y') if lower.len() > 1 && !vowel_y => {
            let stem: String = word.chars().take(word.chars().count() - 1).collect();
            format!("{stem}ies")
        }
        _ if ends(&["sh", "ch", "ss", "x", "z"]) => format!("{word}es"),
        Some('s' | 'S') => word.to_owned(),
        Some(_) => format!("{word}s"),
    }
}

/// A count and its things: `1 vise jaw`, `16 clamp levers`.
#[must_use]
pub fn pieces_of(count: u32, name: &str) -> String {
    if count == 1 {
        format!("1 {name}")
    } else {
        format!("{count} {}", plural(name))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_the_plural() {
        for (one, many) in [
            ("vise jaw", "vise jaws"),
            ("vise body", "vise bodies"),
            ("drawknife", "drawknives"),
            ("draw knife", "draw knives"),
            ("Knife", "Knives"),
            ("box", "boxes"),
            ("wire brush", "wire brushes"),
            ("cross", "crosses"),
            ("small parts", "small parts"),
            ("key", "keys"),
            ("set of feelers", "sets of feelers"),
            ("knob with brass insert", "knobs with brass insert"),
            ("plane iron cap", "plane iron caps"),
            ("m6 screw", "m6 screws"),
            ("hinge 80 x 40 mm", "hinges 80 x 40 mm"),
            ("screw, M6", "screws, M6"),
            ("saw tooth", "saw teeth"),
            ("half-round file", "half-round files"),
            ("M8", "M8"),
            ("threading die", "threading dies"),
            ("lens", "lenses"),
            ("Fräser 6", "Fräsers 6"),
            ("", ""),
        ] {
            assert_eq!(plural(one), many, "{one}");
        }
        assert_eq!(pieces_of(1, "vise body"), "1 vise body");
        assert_eq!(pieces_of(2, "vise body"), "2 vise bodies");
    }
}
