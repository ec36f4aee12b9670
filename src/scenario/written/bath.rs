//! Baths as written.

use super::chemistry::{Chemistry, Growth, Limits, Warn};
use crate::defaults::{LOADING, NEUTRAL, TWO_SUPPLIERS};
use crate::fields::Fields;
use crate::finding::{Code, Finding};
use crate::node::{Node, Spanned, Value};
use crate::reader::{SPREAD, TEMPERATURE, WINDOW, YES, count, positive, quantity};
use crate::thing::{Kind, Reader, Thing, thing, words};
use crate::walk::Walk;
use tankday_base::random::Spread;
use tankday_base::shop::Contaminants;
use tankday_base::units::{
    AreaPerVolume, CoatWeight, Concentration, MassPerVolume, Span, Strength, Temperature,
};

thing! {
    /// A bath.
    Bath "baths", "a bath" {
        may thing "band" band: Band, "the temperatures between which it works";
        may thing "room" room: Room, "what one load may bring for each litre";
        may thing "coat" coat: Coat, "what decides how long a load stays";
        or "dwell" dwell: (Span, Span) = WINDOW,
            "shortest to longest stay, such as 10 to 30 min",
            {"5 to 45 min": "encyclopaedia entry on the process: 5-45 min; supplier data sheets lie inside"};
        may own "now" now: Option<Start> = START => |f| Start::of(f),
            "its readings at the start; `fresh` for one just made up, without iron";
        may thing "growth" growth: Growth, "how the coating grows";
        may thing "chemistry" chemistry: Chemistry, "the constants of its chemistry";
        may thing "limits" limits: Limits, "readings outside which no load goes in";
        may thing "warn" warn: Warn, "readings outside which it is warned";
        or "wears" wears: bool = YES,
            "whether work changes it; `no` keeps its readings as they are",
            {"yes": "every load changes a bath"};
    }
    plus {
        name: Spanned<String> = |f| Spanned::new(f.name.to_owned(), f.at);
    }
}

thing! {
    /// A band of temperatures.
    Band "baths.band", "a band" {
        or "least" least: Temperature = TEMPERATURE,
            "no load goes in below it, such as 88 °C", {"88 °C": TWO_SUPPLIERS};
        or "hold" hold: Temperature = TEMPERATURE,
            "what the thermostat holds, such as 95 °C", {"95 °C": TWO_SUPPLIERS};
        or "most" most: Temperature = TEMPERATURE,
            "not to be passed, such as 98 °C", {"98 °C": TWO_SUPPLIERS};
    }
}

thing! {
    /// What one load may bring.
    Room "baths.room", "the room of a bath" {
        or "area" area: AreaPerVolume = positive(),
            "area for each litre, such as 1 dm2/L", {"1 dm2/L": LOADING};
        or "mass" mass: MassPerVolume = positive(),
            "mass for each litre, such as 0.25 kg/L", {"0.25 kg/L": LOADING};
    }
}

thing! {
    /// What decides the dwell.
    Coat "baths.coat", "a coating rule" {
        or "target" target: CoatWeight = positive(),
            "weight of the coating; the time follows from the bath, such as 16 g/m2",
            {"16 g/m2": "least weight for type M in MIL-DTL-16232G (from memory)"};
        may "time" time: Spread = SPREAD, "a time instead, such as about 15 min ± 2 min";
    }
}

const FRESH: Reader<()> = words!("fresh" => ());
const START: Kind = Kind::Or(&[FRESH.kind, Kind::Thing(Now::TABLE)]);

/// How a bath stands at the start.
#[derive(Debug)]
pub(crate) enum Start {
    /// Just made up.
    Fresh,
    /// As it reads.
    Reads(Box<Now>),
}

impl Start {
    fn of(f: &mut Fields) -> Option<Self> {
        if let Some(Value::Text(_)) = f.node(&Bath::now).map(|n| &n.value) {
            return f.value(&Bath::now, FRESH.read).map(|_| Self::Fresh);
        }
        f.thing(&Bath::now).map(|now| Self::Reads(Box::new(now)))
    }

    /// The readings, where there are any.
    pub(crate) fn reads(&self) -> Option<&Now> {
        match self {
            Self::Fresh => None,
            Self::Reads(now) => Some(now),
        }
    }
}

thing! {
    /// Readings at the start.
    Now "baths.now", "the readings of a bath" {
        or "total acid" total_acid: Strength = positive(),
            "total acid, such as 36 points: mL of 0.1 N caustic soda that turn a 10 mL sample pink with phenolphthalein",
            {"36 points": "between the windows of two supplier data sheets (30-50, 28-42 points); the product's own sheet decides"};
        or "free acid" free_acid: Strength = quantity(),
            "free acid, such as 6 points: the same to the first colour change, with methyl orange or bromophenol blue (common practice, no source)",
            {"6 points": "a supplier's trade article: 5-9 points; the product's own sheet decides; where total acid alone is written, a sixth of it"};
        or "iron" iron: Concentration = quantity(),
            "ferrous iron, such as 1 g/L", {"1 g/L": "US 9,506,151 B2, claim 1: a working bath"};
        or "sludge" sludge: Concentration = quantity(),
            "sludge, stirred up and settled, such as 0.5 g/L", {"0 g/L": NEUTRAL};
        or "uses" uses: u32 = count::<0, 1_000_000>(), "loads worked since it was made up", {"0": NEUTRAL};
        or "area treated" area: AreaPerVolume = quantity(),
            "area coated since it was made up, such as 4 dm2/L", {"0 dm2/L": NEUTRAL};
        or "contaminated" contaminants: Contaminants = CONTAMINANTS,
            "what is in it that must not be, one or several of oil, zinc, aluminium, copper: no load goes in until all of it is renewed",
            {"no": NEUTRAL};
    }
}

/// Total by free acid of the defaults, 36 and 6 points.
const USUAL_RATIO: f64 = 6.0;

impl Now {
    /// Total and free acid. Where one of them alone is written the other stands to it as the two defaults do.
    #[must_use]
    pub(crate) fn acids(&self) -> Option<(Strength, Strength)> {
        let (total, free) = (self.total_acid.as_ref()?.value, self.free_acid.as_ref()?.value);
        Some(
            match (self.place(&Self::total_acid), self.place(&Self::free_acid)) {
                (Some(_), None) => (total, total / USUAL_RATIO),
                (None, Some(_)) => (free * USUAL_RATIO, free),
                _ => (total, free),
            },
        )
    }
}

const NONE: Contaminants = Contaminants {
    oil: false,
    zinc: false,
    aluminium: false,
    copper: false,
};
const FOREIGN: Reader<Contaminants> = words!(
    "oil" => Contaminants { oil: true, ..NONE },
    "zinc" => Contaminants { zinc: true, ..NONE },
    "aluminium" => Contaminants { aluminium: true, ..NONE },
    "copper" => Contaminants { copper: true, ..NONE },
);
const CONTAMINANTS: Reader<Contaminants> = Reader::new(
    Kind::Or(&[Kind::Word(&["no"]), Kind::Some(&FOREIGN.kind)]),
    read_contaminants,
);

/// `no`, one of the names, or several.
fn read_contaminants(node: &Node, walk: &mut Walk) -> Option<Contaminants> {
    if matches!(&node.value, Value::Text(text) if text == "no") {
        return Some(NONE);
    }
    let mut found = NONE;
    for item in walk.items(node) {
        found = found.with((FOREIGN.read)(item, walk)?);
    }
    if !found.any() {
        let nothing = Finding::new(Code::Missing, node.at, "nothing is named that is in the bath");
        return walk.refuse(
            nothing.help("write `no`, or one or several of `oil`, `zinc`, `aluminium` and `copper`"),
        );
    }
    Some(found)
}
