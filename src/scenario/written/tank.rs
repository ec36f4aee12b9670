//! Tanks and stations as written.

use super::Got;
use super::rinse::Rinse;
use crate::scenario::keys;
use crate::scenario::measure::{self, Layer, Vessel};
use crate::scenario::node::{Node, Value};
use crate::scenario::value;
use crate::scenario::walk::{Fields, Walk};
use crate::shop::{Frees, HeaterKind, Inside, WallMaterial};
use crate::units::{HeatTransfer, Power, Share, TempDiff, Temperature, Volume};

/// A tank.
#[derive(Debug)]
pub(in crate::scenario) struct Tank {
    pub(in crate::scenario) name: Got<String>,
    pub(in crate::scenario) bath: Got<String>,
    pub(in crate::scenario) inside: Got<Inside>,
    pub(in crate::scenario) fill: Got<Volume>,
    /// None inside stands for the room's temperature.
    pub(in crate::scenario) temperature: Got<Option<Temperature>>,
    /// None inside stands for full.
    pub(in crate::scenario) volume: Got<Option<Volume>>,
    pub(in crate::scenario) wall: Option<Wall>,
    pub(in crate::scenario) lid: Option<Lid>,
    pub(in crate::scenario) heater: Option<Heater>,
    /// None inside stands for a basket that nobody measured.
    pub(in crate::scenario) basket: Got<Option<Volume>>,
    pub(in crate::scenario) loads: Got<u32>,
    pub(in crate::scenario) draught: Got<f64>,
}

impl Tank {
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::new(node, &keys::TANKS, walk)?;
        let mut now = f.inner("now", &keys::TANK_NOW);
        let temperature = now.as_mut().and_then(|n| {
            n.or("temperature", |n, w| {
                value::or_word(n, w, "as the air", value::temperature)
            })
        });
        let volume = now.as_mut().and_then(|n| {
            n.or("volume", |n, w| {
                value::or_word(n, w, "full", value::positive::<Volume>)
            })
        });
        Some(Self {
            temperature,
            volume,
            name: f.get("name", value::name),
            bath: f.get("bath", value::name),
            inside: f.get("inside", measure::inside),
            fill: f.get("fill", value::positive),
            wall: f.inner("wall", &keys::WALL).map(Wall::of),
            lid: Lid::of(&mut f),
            heater: f
                .has("heater")
                .then(|| f.inner("heater", &keys::HEATER))
                .flatten()
                .map(Heater::of),
            basket: f.or("basket", |n, w| {
                value::or_word(n, w, "any", value::positive::<Volume>)
            }),
            loads: f.or("loads", value::count::<1, 100>),
            draught: f.or("draught", value::factor::<1, 30>),
        })
    }
}

/// Its walls.
#[derive(Debug)]
pub(in crate::scenario) struct Wall {
    pub(in crate::scenario) material: Got<WallMaterial>,
    pub(in crate::scenario) insulation: Got<Layer>,
    pub(in crate::scenario) vessel: Got<Vessel>,
    pub(in crate::scenario) bottom: Got<HeatTransfer>,
}

impl Wall {
    fn of(mut f: Fields) -> Self {
        Self {
            material: f.or("material", face),
            insulation: f.or("insulation", measure::layer),
            vessel: f.or("vessel", measure::vessel),
            bottom: f.or("bottom", value::quantity),
        }
    }
}

pub(in crate::scenario) fn face(node: &Node, walk: &mut Walk) -> Option<WallMaterial> {
    value::word(
        node,
        walk,
        &[
            ("stainless", WallMaterial::Stainless),
            ("dull", WallMaterial::Dull),
        ],
    )
}

/// Its lid.
#[derive(Debug)]
pub(in crate::scenario) enum Lid {
    /// None.
    None,
    /// One of the usual lids, by the key of its leak in the table of defaults.
    Usual(&'static str),
    /// One that is described.
    Own {
        /// Share of the opening that stays open.
        leak: Got<Share>,
        /// Its outer face.
        material: Got<WallMaterial>,
        /// Insulation.
        insulation: Got<Layer>,
    },
}

impl Lid {
    fn of(f: &mut Fields) -> Option<Self> {
        if let Some(Value::Map(_)) = f.node("lid").map(|n| &n.value) {
            let mut f = f.inner("lid", &keys::LID)?;
            return Some(Self::Own {
                leak: f.or("leak", value::share),
                material: f.or("material", face),
                insulation: f.or("insulation", measure::layer),
            });
        }
        f.or("lid", |n, w| {
            value::word(
                n,
                w,
                &[
                    ("none", None),
                    ("loose", Some("tanks.lid.leak")),
                    ("fitted", Some("tanks.lid.leak, fitted")),
                ],
            )
        })
        .map(|lid| lid.value.map_or(Self::None, Self::Usual))
    }
}

/// Its heater.
#[derive(Debug)]
pub(in crate::scenario) struct Heater {
    pub(in crate::scenario) power: Got<Power>,
    pub(in crate::scenario) kind: Got<HeaterKind>,
    /// Absent where it follows from the kind.
    pub(in crate::scenario) efficiency: Got<Share>,
    pub(in crate::scenario) swing: Got<TempDiff>,
    pub(in crate::scenario) cut_off: Got<Share>,
}

impl Heater {
    fn of(mut f: Fields) -> Self {
        Self {
            power: f.get("power", value::positive),
            kind: f.or("kind", |n, w| {
                value::word(
                    n,
                    w,
                    &[
                        ("immersion", HeaterKind::Immersion),
                        ("hot plate", HeaterKind::HotPlate),
                        ("induction", HeaterKind::Induction),
                    ],
                )
            }),
            efficiency: f.get("efficiency", value::share),
            swing: f.or("swing", value::temp_diff),
            cut_off: f.or("low-level cut-off", value::share),
        }
    }
}

/// A station that is no tank.
#[derive(Debug)]
pub(in crate::scenario) struct Station {
    pub(in crate::scenario) name: Got<String>,
    pub(in crate::scenario) loads: Got<u32>,
    pub(in crate::scenario) together: Got<u32>,
    pub(in crate::scenario) frees: Got<Frees>,
    pub(in crate::scenario) rinse: Rinse,
}

impl Station {
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::new(node, &keys::STATIONS, walk)?;
        Some(Self {
            name: f.get("name", value::name),
            loads: f.or("loads", |n, w| {
                Some(value::or_word(n, w, "unlimited", value::count::<1, 1_000_000>)?.unwrap_or(u32::MAX))
            }),
            rinse: Rinse::of(&mut f),
            together: f.or("together", value::count::<1, 1_000_000>),
            frees: f.or("frees", |n, w| {
                value::word(
                    n,
                    w,
                    &[
                        ("when done", Frees::WhenDone),
                        ("when emptied", Frees::WhenEmptied),
                    ],
                )
            }),
        })
    }
}
