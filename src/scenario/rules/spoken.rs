//! What a name says of the metal: hard or sprung steel, or what the bath must not touch. What a name says is never counted
//! otherwise in silence.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::thing::Thing;
use crate::written::{Material, Part};
use tankday_base::shop::{Coats, hard_materials};

pub(super) const ALL: &[Rule] = &[
    Rule::Material(hard_or_not),
    Rule::Material(coats_or_not),
    Rule::Coated(of_no_material),
];

/// Words for hard or sprung steel. Screws of the classes 10.9 and above are quenched and tempered close to HRC 39 or above
/// it (ISO 898-1), set screws of 45H above it (ISO 898-5); all from memory. The others are common practice, no source.
const HARD: [&str; 25] = [
    "hard",
    "hardened",
    "harden",
    "hardening",
    "spring",
    "springs",
    "sprung",
    "tempered",
    "quenched",
    "tensile",
    "carburised",
    "carburized",
    "nitrided",
    "maraging",
    "tool",
    "music",
    "piano",
    "hss",
    "bearing",
    "10.9",
    "12.9",
    "14.9",
    "45h",
    "drill rod",
    "gauge plate",
];

/// Words that name a use as often as a metal: they ask only where they name a material, not a part.
const OF_USE: [&str; 4] = ["tool", "music", "piano", "bearing"];

/// Words for metals and finishes that take no coating or spoil the bath, with the built-in material that is meant. Common
/// practice, no source.
const STAYS_OUT: [(&str, &[&str]); 8] = [
    (
        "zinc-plated",
        &[
            "zinc",
            "galvanised",
            "galvanized",
            "galv",
            "cadmium",
            "tinned",
            "tinplate",
        ],
    ),
    ("chrome-plated", &["plated", "chromed"]),
    ("bronze", &["bronze", "gunmetal"]),
    ("copper", &["copper"]),
    ("brass", &["brass"]),
    (
        "aluminium",
        &["aluminium", "aluminum", "alu", "anodised", "anodized", "zamak"],
    ),
    ("magnesium", &["magnesium"]),
    ("stainless", &["stainless", "inox"]),
];

/// The words of a name in small letters; hyphens part them, a point within a number does not.
fn words(name: &str) -> Vec<String> {
    let small = name.to_lowercase();
    let split = small.split(|c: char| !(c.is_alphanumeric() || c == '.'));
    let bare = split.map(|w| w.trim_matches('.').to_owned());
    bare.filter(|w| !w.is_empty()).collect()
}

/// Whether a phrase stands among words, word by word.
fn holds(all: &[String], phrase: &str) -> bool {
    let phrase = words(phrase);
    !phrase.is_empty() && all.windows(phrase.len()).any(|run| run == phrase)
}

/// Whether the name of a material speaks of hard or sprung steel, so that somebody is asked.
pub(super) fn speaks_of_hard(name: &str) -> bool {
    let all = words(name);
    let rockwell = |w: &String| w.starts_with("hrc") || w.ends_with("hrc");
    let known = || hard_materials().into_iter().any(|m| holds(&all, &m.name));
    HARD.iter().any(|word| holds(&all, word)) || all.iter().any(rockwell) || known()
}

/// The built-in material that stays out of the bath of which a name speaks.
fn speaks_of_staying_out(name: &str) -> Option<&'static str> {
    let all = words(name);
    let said = |(_, own): &&(&str, &[&str])| own.iter().any(|word| holds(&all, word));
    STAYS_OUT.iter().find(said).map(|(like, _)| *like)
}

const HARD_OR_SPRUNG: &str = "hard or sprung? hydrogen matters";

/// A material of the shop's own whose name says that it is hard or sprung is not soft steel as long as nobody says so.
fn hard_or_not(f: &Facts, material: &Material) -> Option<Finding> {
    let name = &material.name;
    let like = f.names.built_in.iter().find(|m| Some(&m.name) == like(material));
    let soft = material.hardened.is_none() && like.is_some_and(|m| !m.hardened);
    (soft && speaks_of_hard(&name.value)).then(|| {
        counts_as(material)
            .label(HARD_OR_SPRUNG)
            .help("write `like: hardened steel`, or `hardened: no` if it is soft")
    })
}

fn like(material: &Material) -> Option<&String> {
    material.like.as_ref().map(|l| &l.value)
}

/// What a material counts as, by its `like` or for want of one.
fn counts_as(material: &Material) -> Finding {
    let name = &material.name;
    let at = material.place(&Material::like).and(material.like.as_ref());
    let message = match at {
        Some(like) => format!("`{}` counts as `{}`", name.value, like.value),
        None => format!(
            "`{}` is like plain steel as long as nothing else is written",
            name.value
        ),
    };
    let finding = Finding::new(Code::Material, name.at, message);
    match at {
        Some(like) => finding.and(like.at, "as this"),
        None => finding,
    }
}

/// A material of the shop's own whose name says that the bath must not touch it does not go in as long as nobody says so.
fn coats_or_not(f: &Facts, material: &Material) -> Option<Finding> {
    let meant = speaks_of_staying_out(&material.name.value)?;
    let like = f
        .names
        .built_in
        .iter()
        .find(|m| Some(&m.name) == like(material))?;
    let taken = f.names.built_in.iter().any(|m| m.name == material.name.value);
    let goes_in = material.coats.is_none() && !matches!(like.coats, Coats::No(_)) && !taken;
    goes_in.then(|| {
        counts_as(material).label("does the bath coat it?").help(format!(
            "write `like: {meant}`, or `coats: yes` if it is bare steel"
        ))
    })
}

/// A part of which no material is written counts as plain steel, whatever its name says.
fn of_no_material(_: &Facts, part: &Part) -> Option<Finding> {
    if part.place(&Part::material).is_some() {
        return None;
    }
    let name = &part.name.value;
    let all = words(name);
    let of_use = OF_USE.iter().any(|word| holds(&all, word));
    let (label, like, soft) = match speaks_of_staying_out(name) {
        Some(like) => ("does the bath coat it?", like, "bare steel"),
        None if speaks_of_hard(name) && !of_use => (HARD_OR_SPRUNG, "hardened steel", "soft"),
        None => return None,
    };
    let message = format!("`{name}` counts as plain steel: no material is written");
    Some(
        Finding::warning(Code::Material, part.name.at, message)
            .label(label)
            .help(format!(
                "write `material: {like}`, or `material: plain steel` if it is {soft}"
            )),
    )
}

#[cfg(test)]
mod tests {
    use super::{speaks_of_hard, speaks_of_staying_out};

    #[test]
    fn whole_words_speak_of_hard_steel() {
        for name in [
            "music wire 1 mm",
            "spring steel strip",
            "hardened screws M4",
            "leaf-spring",
            "Piano Wire",
            "12.9 bolts",
            "bolt 10.9",
            "silver steel rod",
            "high-speed steel blank",
            "O1, 58 HRC",
            "HRC60 pin",
            "drill rod",
        ] {
            assert!(speaks_of_hard(name), "{name}");
        }
        for name in [
            "offspring",
            "hardware",
            "12.90 mm rod",
            "8.8 bolts",
            "mild steel",
            "toolbox",
            "",
            ".",
        ] {
            assert!(!speaks_of_hard(name), "{name}");
        }
    }

    #[test]
    fn whole_words_speak_of_what_stays_out() {
        for (name, like) in [
            ("galvanised nut", "zinc-plated"),
            ("zinc-plated nut", "zinc-plated"),
            ("nickel plated", "chrome-plated"),
            ("Brass screw", "brass"),
            ("phosphor bronze", "bronze"),
            ("aluminum bar", "aluminium"),
            ("inox", "stainless"),
        ] {
            assert_eq!(speaks_of_staying_out(name), Some(like), "{name}");
        }
        for name in ["brassiere", "unplated", "plate", "chrome vanadium", "tin", ""] {
            assert_eq!(speaks_of_staying_out(name), None, "{name}");
        }
    }
}
