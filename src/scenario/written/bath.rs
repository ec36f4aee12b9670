//! Baths as written.

use super::Got;
use super::chemistry::{Chemistry, Growth, Readings};
use crate::finding::{Code, Finding};
use crate::keys;
use crate::node::{Node, Place, Spot, Value};
use crate::walk::{Fields, Walk};
use crate::{time, value};
use tankday_base::luck::Spread;
use tankday_base::shop::Contaminants;
use tankday_base::units::{
    AreaPerVolume, CoatWeight, Concentration, MassPerVolume, Span, Strength, Temperature,
};

/// A bath.
#[derive(Debug)]
pub(crate) struct Bath {
    pub(crate) name: Spot<String>,
    pub(crate) band: Option<Band>,
    pub(crate) area: Got<AreaPerVolume>,
    pub(crate) mass: Got<MassPerVolume>,
    pub(crate) coat: Option<Coat>,
    pub(crate) dwell: Got<(Span, Span)>,
    /// Whether the dwell is written and not a default.
    pub(crate) dwell_written: bool,
    pub(crate) now: Option<Start>,
    pub(crate) growth: Option<Growth>,
    pub(crate) chemistry: Option<Chemistry>,
    pub(crate) limits: Option<Readings>,
    pub(crate) warn: Option<Readings>,
    pub(crate) wears: Got<bool>,
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
pub(crate) struct Band {
    pub(crate) least: Got<Temperature>,
    pub(crate) hold: Got<Temperature>,
    pub(crate) most: Got<Temperature>,
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
pub(crate) struct Coat {
    pub(crate) target: Got<CoatWeight>,
    pub(crate) time: Got<Spread>,
    /// Where both are written.
    pub(crate) both: Option<(Place, Place)>,
    /// Whether `coat` is written at all.
    pub(crate) written: bool,
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
pub(crate) enum Start {
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
    pub(crate) fn reads(&self) -> Option<&Now> {
        match self {
            Self::Fresh => None,
            Self::Reads(now) => Some(now),
        }
    }
}

/// Readings at the start.
#[derive(Debug)]
pub(crate) struct Now {
    pub(crate) total_acid: Got<Strength>,
    pub(crate) free_acid: Got<Strength>,
    pub(crate) iron: Got<Concentration>,
    pub(crate) sludge: Got<Concentration>,
    pub(crate) uses: Got<u32>,
    pub(crate) area: Got<AreaPerVolume>,
    pub(crate) contaminants: Got<Contaminants>,
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
