//! The shop and its days as written.

use super::{Got, part};
use crate::keys;
use crate::node::{Node, Place, Spot, Value};
use crate::walk::{Fields, Walk as Walker};
use crate::{time, value};
use jiff::civil::Date;
use tankday_base::shop::HandsPaid;
use tankday_base::units::{Length, Power, Pressure, Share, Span, Temperature};

/// The shop.
#[derive(Debug)]
pub(crate) struct Shop {
    pub(crate) hands: Got<u32>,
    pub(crate) hands_paid: Got<HandsPaid>,
    pub(crate) air: Option<Air>,
    /// None inside stands for a supply that nobody exhausts.
    pub(crate) supply: Got<Option<Power>>,
    pub(crate) pump: Got<bool>,
    pub(crate) prices: Option<Prices>,
    pub(crate) walks: Vec<Walk>,
}

/// A walk of hands that carry nothing.
#[derive(Debug)]
pub(crate) struct Walk {
    pub(crate) from: Spot<String>,
    pub(crate) to: Spot<String>,
    pub(crate) takes: Span,
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
pub(crate) struct Air {
    pub(crate) temperature: Got<Temperature>,
    pub(crate) humidity: Got<Share>,
    pub(crate) altitude: Got<Length>,
    pub(crate) pressure: Got<Pressure>,
    /// Where the pressure or what it follows from is written.
    pub(crate) cause: Option<Place>,
    /// Where both altitude and pressure are written.
    pub(crate) both: Option<(Place, Place)>,
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
pub(crate) struct Prices {
    pub(crate) currency: Got<String>,
    pub(crate) power: Got<f64>,
    pub(crate) hands: Got<f64>,
    pub(crate) water: Got<f64>,
    pub(crate) concentrate: Got<f64>,
    pub(crate) rinse_water: Got<f64>,
    pub(crate) filter: Got<f64>,
    pub(crate) waste: Got<f64>,
    /// Whether any price is written.
    pub(crate) given: bool,
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
pub(crate) struct Days {
    /// The whole entry.
    pub(crate) at: Place,
    pub(crate) date: Got<Date>,
    pub(crate) open: Got<Span>,
    pub(crate) close: Got<Span>,
    pub(crate) breaks: Vec<Break>,
    pub(crate) stays: Got<bool>,
    pub(crate) repeat: Got<u32>,
    pub(crate) around_the_clock: Got<Span>,
    /// A key that has no meaning beside `around the clock`.
    pub(crate) beside: Option<Place>,
}

/// A break: its times, and whether somebody stays.
#[derive(Debug)]
pub(crate) struct Break {
    pub(crate) at: Spot<(Span, Span)>,
    pub(crate) stays: bool,
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
