//! Baths as written.

use super::Got;
use super::chemistry::{Chemistry, Growth, Readings};
use crate::luck::Spread;
use crate::scenario::finding::{Code, Finding};
use crate::scenario::keys;
use crate::scenario::node::{Node, Place, Spot, Value};
use crate::scenario::walk::{Fields, Walk};
use crate::scenario::{time, value};
use crate::shop::Contaminants;
use crate::units::{AreaPerVolume, CoatWeight, Concentration, MassPerVolume, Span, Strength, Temperature};

/// A bath.
#[derive(Debug)]
pub(in crate::scenario) struct Bath {
    pub(in crate::scenario) name: Spot<String>,
    pub(in crate::scenario) band: Option<Band>,
    pub(in crate::scenario) area: Got<AreaPerVolume>,
    pub(in crate::scenario) mass: Got<MassPerVolume>,
    pub(in crate::scenario) coat: Option<Coat>,
    pub(in crate::scenario) dwell: Got<(Span, Span)>,
    /// Whether the dwell is written and not a default.
    pub(in crate::scenario) dwell_written: bool,
    pub(in crate::scenario) now: Option<Start>,
    pub(in crate::scenario) growth: Option<Growth>,
    pub(in crate::scenario) chemistry: Option<Chemistry>,
    pub(in crate::scenario) limits: Option<Readings>,
    pub(in crate::scenario) warn: Option<Readings>,
    pub(in crate::scenario) wears: Got<bool>,
}

impl Bath {
    pub(super) fn read(name: &Spot<String>, node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::of(name.at, node, &keys::BATHS, walk)?;
        let mut room = f.inner("room", &keys::ROOM);
        let area = room.as_mut().and_then(|r| r.or("area", value::positive));
        let mass = room.as_mut().and_then(|r| r.or("mass", value::positive));
        Some(Self {
            name: name.clone(),
            band: f.inner("band", &keys::BAND).map(Band::of),
            area,
            mass,
            coat: Coat::of(&mut f),
            dwell: f.or("dwell", time::window),
            dwell_written: f.has("dwell"),
            now: Start::of(&mut f),
            growth: f.inner("growth", &keys::GROWTH).map(Growth::of),
            chemistry: f.inner("chemistry", &keys::CHEMISTRY).map(Chemistry::of),
            limits: f.inner("limits", &keys::LIMITS).map(Readings::of),
            warn: f.inner("warn", &keys::WARN).map(Readings::of),
            wears: f.or("wears", value::yes),
        })
    }
}

/// A band of temperatures.
#[derive(Debug)]
pub(in crate::scenario) struct Band {
    pub(in crate::scenario) least: Got<Temperature>,
    pub(in crate::scenario) hold: Got<Temperature>,
    pub(in crate::scenario) most: Got<Temperature>,
}

impl Band {
    fn of(mut f: Fields) -> Self {
        Self {
            least: f.or("least", value::temperature),
            hold: f.or("hold", value::temperature),
            most: f.or("most", value::temperature),
        }
    }
}

/// What decides the dwell, where something is written about it.
#[derive(Debug)]
pub(in crate::scenario) struct Coat {
    pub(in crate::scenario) target: Got<CoatWeight>,
    pub(in crate::scenario) time: Got<Spread>,
    /// Where both are written.
    pub(in crate::scenario) both: Option<(Place, Place)>,
    /// Whether `coat` is written at all.
    pub(in crate::scenario) written: bool,
}

impl Coat {
    fn of(f: &mut Fields) -> Option<Self> {
        let written = f.has("coat");
        let mut f = f.inner("coat", &keys::COAT)?;
        let both = f.place("target").zip(f.place("time"));
        Some(Self {
            time: f.get("time", time::spread),
            target: f.or("target", value::positive),
            both,
            written,
        })
    }
}

/// How a bath stands at the start.
#[derive(Debug)]
pub(in crate::scenario) enum Start {
    /// Just made up.
    Fresh,
    /// As it reads.
    Reads(Box<Now>),
}

impl Start {
    fn of(f: &mut Fields) -> Option<Self> {
        if let Some(Value::Text(_)) = f.node("now").map(|n| &n.value) {
            let fresh = f.get("now", |n, w| value::word(n, w, &[("fresh", ())]));
            return fresh.map(|_| Self::Fresh);
        }
        f.inner("now", &keys::BATH_NOW)
            .map(|now| Self::Reads(Box::new(Now::of(now))))
    }

    /// The readings, where there are any.
    pub(in crate::scenario) fn reads(&self) -> Option<&Now> {
        match self {
            Self::Fresh => None,
            Self::Reads(now) => Some(now),
        }
    }
}

/// Readings at the start.
#[derive(Debug)]
pub(in crate::scenario) struct Now {
    pub(in crate::scenario) total_acid: Got<Strength>,
    pub(in crate::scenario) free_acid: Got<Strength>,
    pub(in crate::scenario) iron: Got<Concentration>,
    pub(in crate::scenario) sludge: Got<Concentration>,
    pub(in crate::scenario) uses: Got<u32>,
    pub(in crate::scenario) area: Got<AreaPerVolume>,
    pub(in crate::scenario) contaminants: Got<Contaminants>,
}

impl Now {
    fn of(mut f: Fields) -> Self {
        Self {
            total_acid: f.or("total acid", value::positive),
            free_acid: f.or("free acid", value::quantity),
            iron: f.or("iron", value::quantity),
            sludge: f.or("sludge", value::quantity),
            uses: f.or("uses", value::count::<0, 1_000_000>),
            area: f.or("area treated", value::quantity),
            contaminants: f.or("contaminated", contaminants),
        }
    }
}

/// `no`, one of the names, or several.
fn contaminants(node: &Node, walk: &mut Walk) -> Option<Contaminants> {
    let none = Contaminants::default();
    if matches!(&node.value, Value::Text(text) if text == "no") {
        return Some(none);
    }
    let names = [
        ("oil", Contaminants { oil: true, ..none }),
        ("zinc", Contaminants { zinc: true, ..none }),
        (
            "aluminium",
            Contaminants {
                aluminium: true,
                ..none
            },
        ),
        ("copper", Contaminants { copper: true, ..none }),
    ];
    let mut found = none;
    for item in walk.items(node) {
        found = found.with(value::word(item, walk, &names)?);
    }
    if !found.any() {
        let nothing = Finding::new(Code::Missing, node.at, "nothing is named that is in the bath");
        walk.add(nothing.help("write `no`, or one or several of `oil`, `zinc`, `aluminium` and `copper`"));
        return None;
    }
    Some(found)
}
