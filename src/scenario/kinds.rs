//! What kind of step a `do:` says: whole words and phrases that are known, and those that are near to one.

use super::misspelled::{is_near, is_slip, may_be};
use super::node::Spanned;
use super::written::Step;
use tankday_base::shop::StepKind;

/// What the words of a `do:` say about the kind of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Said {
    /// The whole of it is known.
    Known(StepKind),
    /// A known phrase is part of it.
    Holds(&'static str, StepKind),
    /// It is spelled nearly like a known phrase.
    Near(&'static str, StepKind),
    /// Nothing.
    Nothing,
}

/// Makes a table of kinds, each with its phrases.
macro_rules! phrases {
    ($(#[$about:meta])* $name:ident { $($kind:ident: $($phrase:literal),+;)* }) => {
        $(#[$about])*
        const $name: &[(StepKind, &[&str])] = &[$((StepKind::$kind, &[$($phrase),+])),*];
    };
}

phrases! {
    /// Known phrases, each with all its usual forms. A hyphen in what is written counts as a space or as nothing.
    KNOWN {
        Degrease: "degrease", "degreasing", "de grease";
        DegreaseSolvent: "degrease solvent", "solvent degrease", "solvent", "solvent clean", "solvent wipe",
            "vapour degrease", "vapor degrease", "white spirit", "mineral spirits", "naphtha", "kerosene",
            "petrol", "gasoline", "acetone", "thinner", "brake cleaner";
        DegreaseHotAlkaline: "degrease hot alkaline", "hot alkaline degrease", "hot alkaline clean",
            "hot alkaline", "alkaline degrease", "alkaline clean", "hot caustic", "caustic clean",
            "caustic dip", "caustic", "lye";
        Pickle: "pickle", "pickling", "acid", "acid dip", "acid clean", "acid pickle", "acid etch", "etch",
            "etching", "hydrochloric", "muriatic", "hcl", "sulphuric", "sulfuric", "nitric", "phosphoric dip";
        Blast: "blast", "blasting", "sandblast", "sand blast", "sandblasting", "grit", "grit blast",
            "bead blast", "shot blast", "shot peen", "soda blast", "glass bead", "abrasive", "peen";
        Tumble: "tumble", "tumbling", "barrel tumble", "vibratory finish";
        Brush: "brush", "brushing", "wire brush", "abrade", "scour", "polish", "buff", "grind", "sand", "file",
            "deburr";
        Preheat: "preheat", "preheating", "pre heat", "warm up";
        Relieve: "relieve", "relieving", "relieve stress", "relieve hydrogen", "stress relieve",
            "stress relief", "hydrogen relief", "bake", "baking", "bake out";
        Coat: "coat", "coating", "phosphate", "phosphating";
        Rinse: "rinse", "rinsing", "first rinse", "second rinse", "third rinse", "final rinse", "cold rinse",
            "warm rinse", "hot rinse", "water rinse";
        Seal: "seal", "sealing", "passivate", "passivation";
        SealHexavalent: "seal hexavalent", "hexavalent seal", "chromate", "chromic seal", "chromic rinse",
            "chromic acid rinse", "chromic acid", "chrome rinse", "chromic", "dichromate", "bichromate";
        DryByAir: "dry", "drying", "air dry", "dry by air", "dry in air", "blow dry", "blow off", "blow out";
        DryByOven: "oven dry", "dry by oven", "dry in the oven", "dry in oven", "bake dry", "oven", "stove",
            "kiln";
        Oil: "oil", "oiling", "oil dip", "dip in oil", "spray oil", "wax", "waxing";
        OilHot: "oil hot", "hot oil", "hot oil dip", "dip in hot oil", "hot wax", "hot grease";
        Wipe: "wipe", "wiping", "wipe off", "wipe down";
        Inspect: "inspect", "inspection", "check", "measure", "weigh", "gauge", "gage", "test";
        Rest: "rest", "hold", "wait", "stand", "cool", "cool down", "let cool", "drain", "drip", "age";
        Other: "other", "pack", "unpack", "dye", "saw", "drill", "mask", "soak", "wash", "clean", "strip",
            "prepare", "finish", "serve", "sort", "string", "hang", "unhang", "assemble", "mount", "rack",
            "store", "ship", "soap", "boil", "boil out", "pause";
    }
}

/// Kinds of steps, each with the words of a `do:` that say it.
pub fn kinds() -> impl Iterator<Item = (StepKind, &'static [&'static str])> {
    KNOWN.iter().copied()
}

/// Every known phrase with its kind.
fn known() -> impl Iterator<Item = (&'static str, StepKind)> {
    KNOWN
        .iter()
        .flat_map(|(kind, phrases)| phrases.iter().map(move |p| (*p, *kind)))
}

/// What a `do:` says.
pub(super) fn said(name: &str) -> Said {
    let words: Vec<String> = words(name);
    let whole = [
        words.join(" "),
        words.join(" ").replace('-', " "),
        words.join(" ").replace('-', ""),
    ];
    if let Some((_, kind)) = known().find(|(p, _)| whole.iter().any(|w| w == p)) {
        return Said::Known(kind);
    }
    // What no caution goes by is asked about only where a finger slipped.
    let way = |kind: StepKind| if kind.matters() { is_near } else { is_slip };
    let near = |w: &str| known().find(|(p, kind)| may_be(w, p, way(*kind)));
    let misspelled = whole.iter().find_map(|w| near(w));
    let runs = || known().filter(|(_, kind)| kind.matters());
    let heated = is_hot_oil(name).then_some(("hot oil", StepKind::OilHot));
    let part = (words.len() > 1)
        .then(|| {
            runs()
                .filter(|(p, _)| holds(&words, p))
                .chain(heated)
                .min_by_key(|(p, k)| (*k, usize::MAX - p.len()))
        })
        .flatten();
    // Of several the one that can hurt most, and kinds stand in that order: `dip in acid` is no `dip in oil`.
    match (misspelled, part) {
        (Some((_, near)), Some((phrase, kind))) if kind < near => return Said::Holds(phrase, kind),
        (Some((phrase, kind)), _) => return Said::Near(phrase, kind),
        (None, Some((phrase, kind))) => return Said::Holds(phrase, kind),
        (None, None) if words.len() < 2 => return Said::Nothing,
        (None, None) => {}
    }
    // A word that is known says what it says: who stands the caps up does not sand them.
    let open = |w: &&String| w.chars().count() > 3 && known().all(|(p, _)| p != *w);
    let single = runs().filter(|(p, _)| words.iter().filter(open).any(|w| is_near(w, p)));
    single
        .min_by_key(|(_, k)| *k)
        .map_or(Said::Nothing, |(phrase, kind)| Said::Near(phrase, kind))
}

/// Words of heat. Common practice, no source.
const HEAT: [&str; 14] = [
    "hot",
    "heat",
    "heated",
    "warm",
    "warmed",
    "boil",
    "boiling",
    "simmering",
    "smoking",
    "melt",
    "melted",
    "molten",
    "scalding",
    "fuming",
];

/// Whether words speak of oil or wax that is warm or hot, in whatever order: `boiling oil`, `oil at 120 °C`.
fn is_hot_oil(name: &str) -> bool {
    let all: Vec<String> = words(&name.replace('-', " "));
    let film = |w: &String| {
        matches!(
            w.as_str(),
            "oil" | "oiling" | "wax" | "waxing" | "linseed" | "tallow"
        )
    };
    let degrees = |pair: &[String]| match pair {
        [number, unit] => unit == "c" && number.parse::<f64>().is_ok_and(|t| t >= 50.0),
        _ => false,
    };
    let hot = all.iter().any(|w| HEAT.contains(&w.as_str())) || all.windows(2).any(degrees);
    hot && all.iter().any(film)
}

/// What a `do:` says at its places: oil in a place for hot oil is hot oil until somebody says otherwise. With the place that
/// says so.
pub(super) fn said_at<'s>(
    name: &str,
    stations: &'s [Spanned<String>],
) -> (Said, Option<&'s Spanned<String>>) {
    let own = said(name);
    let place = stations.iter().find(|s| is_hot_oil(&s.value));
    match own {
        Said::Known(StepKind::Oil) | Said::Holds(_, StepKind::Oil) | Said::Near(_, StepKind::Oil)
            if place.is_some() =>
        {
            (Said::Holds("hot oil", StepKind::OilHot), place)
        }
        _ => (own, None),
    }
}

impl Step {
    /// What it is: as written, or as its keys or the words of `do` say. Of words that are near to known ones it is
    /// what they may mean, so that no caution is lost before somebody says it; a rule asks for it.
    pub(crate) fn kind(&self) -> StepKind {
        if self.coats() {
            return StepKind::Coat;
        }
        let by_keys = || match (&self.relieves, &self.dries) {
            (Some(_), _) => Some(StepKind::Relieve),
            (None, Some(_)) => Some(StepKind::DryByAir),
            _ => None,
        };
        let by_words = || match self.what.as_ref().map(|w| said_at(&w.value, &self.stations).0) {
            // Nothing coats but a bath.
            Some(Said::Known(StepKind::Coat)) | Some(Said::Nothing) | None => StepKind::Other,
            Some(Said::Known(kind) | Said::Holds(_, kind) | Said::Near(_, kind)) => kind,
        };
        let written = self.own_kind.as_ref().map(|k| k.value);
        written.or_else(by_keys).unwrap_or_else(by_words)
    }
}

/// The words of a name in small letters; a hyphen belongs to its word.
fn words(name: &str) -> Vec<String> {
    let lower: String = name.chars().flat_map(char::to_lowercase).collect();
    let split = lower.split(|c: char| !(c.is_alphanumeric() || c == '-' || c == '\''));
    split.filter(|w| !w.is_empty()).map(str::to_owned).collect()
}

/// Whether a phrase stands in a name, word by word.
fn holds(words: &[String], phrase: &str) -> bool {
    let phrase: Vec<&str> = phrase.split(' ').collect();
    let same = |run: &[String]| run.iter().zip(&phrase).all(|(w, p)| w == p);
    let joined =
        |w: &String| w.replace('-', " ") == phrase.join(" ") || w.replace('-', "") == phrase.join(" ");
    words.windows(phrase.len()).any(same) || words.iter().any(joined)
}

#[cfg(test)]
mod tests {
    use super::{KNOWN, Said, known, said};
    use tankday_base::shop::StepKind;

    /// Words of a bench that lie near to a known one and mean something else.
    #[test]
    fn ordinary_words_are_not_asked_about() {
        let words = "soil foil coil boil toil oiled oily oiler best test nest rust rut dust wire fill fine bare base \
                     each grip seat send lie day dip rests packs hand hung mark tape wrap turn lift hook weld heat heap \
                     bend bolt screw swap spray stamp stain plate paint prime plug wax tin tap ream hone lap count load \
                     strap sting short dried dryer cold bold told cure cut fit tie bag box salt sort stand";
        for word in words.split_whitespace() {
            assert!(!matches!(said(word), Said::Near(..)), "{word}: {:?}", said(word));
            let phrase = format!("{word} the caps");
            assert!(
                !matches!(said(&phrase), Said::Near(..)),
                "{phrase}: {:?}",
                said(&phrase)
            );
        }
    }

    #[test]
    fn no_phrase_stands_twice() {
        let mut all: Vec<&str> = known().map(|(p, _)| p).collect();
        let many = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), many);
        assert!(KNOWN.len() == StepKind::ALL.len(), "a kind without a word");
    }

    #[test]
    fn each_kind_is_known_by_its_own_word() {
        for (word, kind) in StepKind::ALL {
            assert_eq!(said(word), Said::Known(kind), "{word}");
        }
    }

    /// Letters inside a word say nothing; a whole word does, and what is nearly one is asked about.
    #[test]
    fn words_are_whole() {
        let near = |p, k| Said::Near(p, k);
        for (name, expected) in [
            ("boil out", Said::Known(StepKind::Other)),
            ("toil", Said::Nothing),
            ("soil test", Said::Nothing),
            ("spoil check", Said::Nothing),
            ("coil spring", Said::Nothing),
            ("oven-fresh", Said::Nothing),
            ("oil-free touch-up", Said::Nothing),
            ("scoat", Said::Nothing),
            ("overcoat", Said::Nothing),
            ("ablast", Said::Nothing),
            ("prinse", Said::Nothing),
            ("placid", Said::Nothing),
            ("Blast", Said::Known(StepKind::Blast)),
            ("shot-blast", Said::Known(StepKind::Blast)),
            ("de-grease", Said::Known(StepKind::Degrease)),
            ("  hot   OIL ", Said::Known(StepKind::OilHot)),
            ("pre-heat", Said::Known(StepKind::Preheat)),
            ("blst", near("blast", StepKind::Blast)),
            ("degraese", near("degrease", StepKind::Degrease)),
            ("rince", near("rinse", StepKind::Rinse)),
            ("oli", near("oil", StepKind::Oil)),
            ("pikcle", near("pickle", StepKind::Pickle)),
            ("grit the faces", Said::Holds("grit", StepKind::Blast)),
            ("blst the faces", near("blast", StepKind::Blast)),
            ("rinse, then acid dip", Said::Holds("acid dip", StepKind::Pickle)),
            ("dip in acid", Said::Holds("acid", StepKind::Pickle)),
            ("dip in hot acid", Said::Holds("acid", StepKind::Pickle)),
            ("dip in oli", near("dip in oil", StepKind::Oil)),
            ("dry and oil", Said::Holds("oil", StepKind::Oil)),
            ("dip in boiling oil", Said::Holds("hot oil", StepKind::OilHot)),
            ("warm linseed oil", Said::Holds("hot oil", StepKind::OilHot)),
            ("linseed oil, hot", Said::Holds("oil hot", StepKind::OilHot)),
            ("oil at 120 °C", Said::Holds("hot oil", StepKind::OilHot)),
            ("molten wax", Said::Holds("hot oil", StepKind::OilHot)),
            ("boiled linseed oil", Said::Holds("oil", StepKind::Oil)),
            ("oil at 20 °C", Said::Holds("oil", StepKind::Oil)),
            (
                "hot caustic, then oil",
                Said::Holds("hot caustic", StepKind::DegreaseHotAlkaline),
            ),
            ("shot-blast the rims", Said::Holds("shot blast", StepKind::Blast)),
            ("", Said::Nothing),
            ("-", Said::Nothing),
            ("öl", Said::Nothing),
            ("oild", near("oil", StepKind::Oil)),
            ("oill", near("oil", StepKind::Oil)),
            ("oils", near("oil", StepKind::Oil)),
            ("iol", near("oil", StepKind::Oil)),
            ("ol", near("oil", StepKind::Oil)),
            ("dyr", near("dry", StepKind::DryByAir)),
            ("drry", near("dry", StepKind::DryByAir)),
            ("insepct", near("inspect", StepKind::Inspect)),
            ("inspetc", near("inspect", StepKind::Inspect)),
            ("inspext", near("inspect", StepKind::Inspect)),
            ("rset", near("rest", StepKind::Rest)),
            ("hodl", near("hold", StepKind::Rest)),
            ("coool down", near("cool down", StepKind::Rest)),
            ("ohter", near("other", StepKind::Other)),
        ] {
            assert_eq!(said(name), expected, "{name}");
        }
    }
}
