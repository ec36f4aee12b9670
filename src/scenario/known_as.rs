//! Keys by the words that people write for them.

/// What is written, and the key that is meant: the first that the thing has.
const KNOWN_AS: [(&str, &[&str]); 33] = [
    ("length", &["size"]),
    ("dimensions", &["size", "inside"]),
    ("envelope", &["size"]),
    ("weight", &["mass"]),
    ("surface", &["area"]),
    ("metal", &["material"]),
    ("alloy", &["material"]),
    ("pieces", &["count"]),
    ("quantity", &["count"]),
    ("qty", &["count"]),
    ("promised", &["due"]),
    ("deadline", &["due"]),
    ("ready by", &["due"]),
    ("time", &["for", "dwell"]),
    ("duration", &["for", "dwell"]),
    ("takes", &["for"]),
    ("station", &["at"]),
    ("where", &["at"]),
    ("place", &["at"]),
    ("tank", &["in"]),
    ("volume", &["fill"]),
    ("size", &["inside"]),
    ("places", &["loads"]),
    ("capacity", &["loads", "room"]),
    ("people", &["hands"]),
    ("workers", &["hands"]),
    ("staff", &["hands"]),
    ("start", &["from"]),
    ("end", &["until"]),
    ("weekly", &["every"]),
    ("closed", &["except"]),
    ("holidays", &["except"]),
    ("but not", &["except"]),
];

/// The key that is meant by a word that is none, of those that there are.
pub(crate) fn meant_by<'a>(word: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Option<&'a str> {
    let word = word.to_lowercase().replace(['_', '-'], " ");
    let (_, meant) = KNOWN_AS.iter().find(|(said, _)| *said == word)?;
    meant.iter().find_map(|key| keys.clone().find(|k| k == key))
}
