//! Tanks and stations as written.

use super::Got;
use super::rinse::Rinse;
use crate::keys;
use crate::measure::{self, Layer, Vessel};
use crate::node::{Node, Value};
use crate::value;
use crate::walk::{Fields, Walk};
use tankday_base::shop::{Frees, HeaterKind, Inside, WallMaterial};
use tankday_base::units::{HeatTransfer, Power, Share, TempDiff, Temperature, Volume};

/// A tank.
#[derive(Debug)]
pub(crate) struct Tank {
    pub(crate) name: Got<String>,
    pub(crate) bath: Got<String>,
    pub(crate) inside: Got<Inside>,
    pub(crate) fill: Got<Volume>,
    /// None inside stands for the room's temperature.
    pub(crate) temperature: Got<Option<Temperature>>,
    /// None inside stands for full.
    pub(crate) volume: Got<Option<Volume>>,
    pub(crate) wall: Option<Wall>,
    pub(crate) lid: Option<Lid>,
    pub(crate) heater: Option<Heater>,
    /// None inside stands for a basket that nobody measured.
    pub(crate) basket: Got<Option<Volume>>,
    pub(crate) loads: Got<u32>,
    pub(crate) draught: Got<f64>,
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
pub(crate) struct Wall {
    pub(crate) material: Got<WallMaterial>,
    pub(crate) insulation: Got<Layer>,
    pub(crate) vessel: Got<Vessel>,
    pub(crate) bottom: Got<HeatTransfer>,
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

pub(crate) fn face(node: &Node, walk: &mut Walk) -> Option<WallMaterial> {
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
pub(crate) enum Lid {
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
pub(crate) struct Heater {
    pub(crate) power: Got<Power>,
    pub(crate) kind: Got<HeaterKind>,
    /// Absent where it follows from the kind.
    pub(crate) efficiency: Got<Share>,
    pub(crate) swing: Got<TempDiff>,
    pub(crate) cut_off: Got<Share>,
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
pub(crate) struct Station {
    pub(crate) name: Got<String>,
    pub(crate) loads: Got<u32>,
    pub(crate) together: Got<u32>,
    pub(crate) frees: Got<Frees>,
    pub(crate) rinse: Rinse,
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
