//! Growth, chemistry and limits of a bath as written.

use super::Got;
use crate::node::{Node, Place, Spot, Value};
use crate::walk::{Fields, Walk};
use crate::{time, value};
use tankday_base::units::{CoatWeight, Concentration, MassFlux, Share, Span, Strength};

/// The growth law.
#[derive(Debug)]
pub(crate) struct Growth {
    pub(crate) full: Got<CoatWeight>,
    pub(crate) tau95: Got<Span>,
    pub(crate) q10: Got<f64>,
}

impl Growth {
    pub(super) fn of(mut f: Fields) -> Self {
        Self {
            full: f.or("full", value::positive),
            tau95: f.or("time constant", time::span),
            q10: f.or("faster by 10 °C", value::above_zero),
        }
    }
}

/// The constants of the chemistry.
#[derive(Debug)]
pub(crate) struct Chemistry {
    pub(crate) make_up: Got<Strength>,
    pub(crate) attack_ratio: Got<f64>,
    pub(crate) iron_in_coat: Got<Share>,
    pub(crate) by_load: Got<Share>,
    pub(crate) hot: Got<Share>,
    pub(crate) idle: Got<Share>,
    /// Where iron is written to be counted by the load, and where by the hour.
    pub(crate) counted: (Option<Place>, Option<Place>),
    pub(crate) hydrolysed: Got<Share>,
    pub(crate) metal_counts: Got<f64>,
    pub(crate) concentrate_per_point: Got<Share>,
    pub(crate) concentrate_ratio: Got<f64>,
    pub(crate) suspended: Got<Share>,
    /// None by the depth of the tank.
    pub(crate) settling_half: Got<Option<Span>>,
    pub(crate) sludge_bed: Got<Concentration>,
    pub(crate) residual_attack: Got<MassFlux>,
    pub(crate) finished_after: Got<Span>,
    pub(crate) pace: Got<(f64, f64)>,
    pub(crate) slow_below: Got<Concentration>,
    pub(crate) slower: Got<f64>,
    /// Where each key that is written stands.
    pub(crate) places: Vec<(&'static str, Place)>,
}

impl Chemistry {
    pub(super) fn of(mut f: Fields) -> Self {
        let hourly = f
            .place("iron oxidised hot")
            .or_else(|| f.place("iron oxidised idle"));
        Self {
            counted: (f.place("iron oxidised with a load"), hourly),
            places: f.written(),
            make_up: f.or("make-up", value::positive),
            attack_ratio: f.or("coating by metal", value::above_zero),
            iron_in_coat: f.or("iron in coating", value::share),
            by_load: f.or("iron oxidised with a load", value::share),
            hot: f.or("iron oxidised hot", value::share),
            idle: f.or("iron oxidised idle", value::share),
            hydrolysed: f.or("hydrolysed", value::share),
            metal_counts: f.or("acid by metal", value::above_zero),
            concentrate_per_point: f.or("concentrate for a point", value::share),
            concentrate_ratio: f.or("concentrate ratio", value::above_zero),
            suspended: f.or("sludge stirred up", value::share),
            settling_half: f.or("sludge half-life", half_life),
            sludge_bed: f.or("sludge bed", value::positive),
            residual_attack: f.or("attack when done", value::quantity),
            finished_after: f.or("done after", time::span),
            pace: f.or("pace by strength", value::numbers),
            slow_below: f.or("slow below", value::quantity),
            slower: f.or("slower by", value::above_zero),
        }
    }
}

/// Ranges of the readings.
#[derive(Debug)]
pub(crate) struct Readings {
    pub(crate) strength: Got<(Strength, Strength)>,
    pub(crate) ratio: Got<(f64, f64)>,
    pub(crate) iron: Got<(Concentration, Concentration)>,
    pub(crate) sludge: Got<(Share, Share)>,
    pub(crate) level: Got<(Share, Share)>,
}

impl Readings {
    pub(super) fn of(mut f: Fields) -> Self {
        Self {
            strength: f.or("strength", value::range),
            ratio: f.or("ratio", value::numbers),
            iron: f.or("iron", value::range),
            sludge: f.or("sludge", value::range),
            level: f.or("level", value::range),
        }
    }

    /// Where each of them stands, if both are read; the whole of a range that is a default stands at its bath.
    pub(crate) fn spans(&self) -> Vec<(&'static str, Spot<(f64, f64)>)> {
        use tankday_base::units::Quantity;
        fn of<Q: Quantity>(
            name: &'static str,
            got: &Got<(Q, Q)>,
        ) -> Option<(&'static str, Spot<(f64, f64)>)> {
            let got = got.as_ref()?;
            Some((name, Spot::new((got.value.0.base(), got.value.1.base()), got.at)))
        }
        let ratio = self.ratio.as_ref().map(|r| ("ratio", Spot::new(r.value, r.at)));
        [
            of("strength", &self.strength),
            ratio,
            of("iron", &self.iron),
            of("sludge", &self.sludge),
            of("level", &self.level),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

/// `4 h`, or `by the depth`.
fn half_life(node: &Node, walk: &mut Walk) -> Option<Option<Span>> {
    if matches!(&node.value, Value::Text(text) if text.trim() == "by the depth") {
        return Some(None);
    }
    time::span(node, walk).map(Some)
}
