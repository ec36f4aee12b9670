//! The shop and its days as written.

use super::{Got, part};
use crate::scenario::keys;
use crate::scenario::node::{Node, Place, Spot, Value};
use crate::scenario::walk::{Fields, Walk as Walker};
use crate::scenario::{time, value};
use crate::shop::HandsPaid;
use crate::units::{Length, Power, Pressure, Share, Span, Temperature};
use jiff::civil::Date;

/// The shop.
#[derive(Debug)]
pub(in crate::scenario) struct Shop {
    pub(in crate::scenario) hands: Got<u32>,
    pub(in crate::scenario) hands_paid: Got<HandsPaid>,
    pub(in crate::scenario) air: Option<Air>,
    /// None inside stands for a supply that nobody exhausts.
    pub(in crate::scenario) supply: Got<Option<Power>>,
    pub(in crate::scenario) pump: Got<bool>,
    pub(in crate::scenario) prices: Option<Prices>,
    pub(in crate::scenario) walks: Vec<Walk>,
}

/// A walk of hands that carry nothing.
#[derive(Debug)]
pub(in crate::scenario) struct Walk {
    pub(in crate::scenario) from: Spot<String>,
    pub(in crate::scenario) to: Spot<String>,
    pub(in crate::scenario) takes: Span,
}

/// Most walks that are written.
const MOST_WALKS: usize = 10_000;

fn walk(node: &Node, walks: &mut Walker) -> Option<Walk> {
    let mut f = Fields::new(node, &keys::WALKS, walks)?;
    let (from, to) = (f.get("from", value::name), f.get("to", value::name));
    let takes = f.get("takes", time::span);
    Some(Walk {
        from: from?,
        to: to?,
        takes: takes?.value,
    })
}

impl Shop {
    pub(super) fn read(node: &Node, walk: &mut Walker) -> Option<Self> {
        Fields::new(node, &keys::SHOP, walk).map(Self::of)
    }

    pub(super) fn absent(at: Place, walk: &mut Walker) -> Self {
        Self::of(Fields::absent(&keys::SHOP, walk, at))
    }

    fn of(mut f: Fields) -> Self {
        Self {
            hands: f.or("hands", |n, w| {
                Some(value::or_word(n, w, "none", value::count::<0, 1_000>)?.unwrap_or(0))
            }),
            hands_paid: f.or("hands paid", |n, w| {
                value::word(
                    n,
                    w,
                    &[
                        ("to the end of their work", HandsPaid::ToEndOfWork),
                        ("to closing", HandsPaid::ToClosing),
                    ],
                )
            }),
            air: part(&mut f, "air", Air::read, Air::absent),
            supply: f.or("supply", |n, w| {
                value::or_word(n, w, "unlimited", value::positive::<Power>)
            }),
            pump: f.or("pump", value::yes),
            prices: part(&mut f, "prices", Prices::read, Prices::absent),
            walks: f
                .node("walks")
                .map_or_else(Vec::new, |n| f.walk.list(n, "walks", MOST_WALKS, walk)),
        }
    }
}

/// The air of the room.
#[derive(Debug)]
pub(in crate::scenario) struct Air {
    pub(in crate::scenario) temperature: Got<Temperature>,
    pub(in crate::scenario) humidity: Got<Share>,
    pub(in crate::scenario) altitude: Got<Length>,
    pub(in crate::scenario) pressure: Got<Pressure>,
    /// Where the pressure or what it follows from is written.
    pub(in crate::scenario) cause: Option<Place>,
    /// Where both altitude and pressure are written.
    pub(in crate::scenario) both: Option<(Place, Place)>,
}

impl Air {
    fn read(node: &Node, walk: &mut Walker) -> Option<Self> {
        Fields::new(node, &keys::AIR, walk).map(Self::of)
    }

    fn absent(at: Place, walk: &mut Walker) -> Self {
        Self::of(Fields::absent(&keys::AIR, walk, at))
    }

    fn of(mut f: Fields) -> Self {
        Self {
            temperature: f.or("temperature", value::temperature),
            humidity: f.or("humidity", value::share),
            altitude: f.or("altitude", value::quantity),
            pressure: f.get("pressure", value::positive),
            cause: f.place("pressure").or(f.place("altitude")),
            both: f.place("altitude").zip(f.place("pressure")),
        }
    }
}

/// Prices.
#[derive(Debug)]
pub(in crate::scenario) struct Prices {
    pub(in crate::scenario) currency: Got<String>,
    pub(in crate::scenario) power: Got<f64>,
    pub(in crate::scenario) hands: Got<f64>,
    pub(in crate::scenario) water: Got<f64>,
    pub(in crate::scenario) concentrate: Got<f64>,
    pub(in crate::scenario) rinse_water: Got<f64>,
    pub(in crate::scenario) filter: Got<f64>,
    pub(in crate::scenario) waste: Got<f64>,
    /// Whether any price is written.
    pub(in crate::scenario) given: bool,
}

impl Prices {
    fn read(node: &Node, walk: &mut Walker) -> Option<Self> {
        Fields::new(node, &keys::PRICES, walk).map(Self::of)
    }

    fn absent(at: Place, walk: &mut Walker) -> Self {
        Self::of(Fields::absent(&keys::PRICES, walk, at))
    }

    fn of(mut f: Fields) -> Self {
        Self {
            currency: f.or("currency", value::name),
            power: f.or("power", value::price_per_kwh),
            hands: f.or("hands", value::price_per_hour),
            water: f.or("distilled water", value::price_per_litre),
            concentrate: f.or("concentrate", value::price_per_litre),
            rinse_water: f.or("rinse water", value::price_per_litre),
            filter: f.or("filter medium", value::price_each),
            waste: f.or("waste", value::price_per_litre),
            given: keys::PRICES
                .keys
                .iter()
                .any(|k| k.name != "currency" && f.has(k.name)),
        }
    }
}

/// A day, or several alike, or a shop that never closes.
#[derive(Debug)]
pub(in crate::scenario) struct Days {
    /// The whole entry.
    pub(in crate::scenario) at: Place,
    pub(in crate::scenario) date: Got<Date>,
    pub(in crate::scenario) open: Got<Span>,
    pub(in crate::scenario) close: Got<Span>,
    pub(in crate::scenario) breaks: Vec<Break>,
    pub(in crate::scenario) stays: Got<bool>,
    pub(in crate::scenario) repeat: Got<u32>,
    pub(in crate::scenario) around_the_clock: Got<Span>,
    /// A key that has no meaning beside `around the clock`.
    pub(in crate::scenario) beside: Option<Place>,
}

/// A break: its times, and whether somebody stays.
#[derive(Debug)]
pub(in crate::scenario) struct Break {
    pub(in crate::scenario) at: Spot<(Span, Span)>,
    pub(in crate::scenario) stays: bool,
}

impl Break {
    fn read(node: &Node, walk: &mut Walker) -> Option<Self> {
        let mut f = match node.value {
            Value::Map(_) => Fields::new(node, &keys::BREAKS, walk)?,
            _ => {
                let at = time::break_time(node, walk)?;
                let stays = Fields::absent(&keys::BREAKS, walk, node.at).or("stays", value::yes)?;
                return Some(Self {
                    at,
                    stays: stays.value,
                });
            }
        };
        let (at, stays) = (f.get("at", time::break_time), f.or("stays", value::yes));
        Some(Self {
            at: at?.value,
            stays: stays?.value,
        })
    }
}

/// Most breaks in one day.
const MOST_BREAKS: usize = 48;

impl Days {
    pub(super) fn read(node: &Node, walk: &mut Walker) -> Option<Self> {
        Fields::new(node, &keys::DAYS, walk).map(Self::of)
    }

    pub(super) fn absent(at: Place, walk: &mut Walker) -> Self {
        Self::of(Fields::absent(&keys::DAYS, walk, at))
    }

    fn of(mut f: Fields) -> Self {
        let beside = ["open", "close", "breaks", "stays", "repeat"]
            .iter()
            .find_map(|k| f.place(k));
        Self {
            at: f.at,
            date: f.get("date", time::date),
            open: f.or("open", time::clock),
            close: f.or("close", time::clock),
            breaks: f
                .node("breaks")
                .map_or_else(Vec::new, |n| f.walk.list(n, "breaks", MOST_BREAKS, Break::read)),
            stays: f.or("stays", value::yes),
            repeat: f.or("repeat", value::count::<1, 5_000>),
            around_the_clock: f.get("around the clock", time::span),
            beside: f.place("around the clock").and(beside),
        }
    }
}
