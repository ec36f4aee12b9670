//! How long a bath lasts: surface, loads and days to each limit at the present mix of work.
//!
//! The volume is taken as made up with water all the time, and nothing else added. A stock N then follows
//! dN/da = R - k N over the area a coated, with R what a square metre gives and k what it carries off, so the area
//! to a limit is closed: a = -ln(1 - k z) / k with z = (limit - N) / (R - k N).

use super::balance::Turnover;
use super::limits::{Limits, Side, Watched};
use super::recipe::Recipe;
use super::species::{Dissolved, IRON};
use super::state::Chemistry;
use crate::units::{Amount, Area, CoatWeight, Span};

/// The work that a bath does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// Coating.
    pub weight: CoatWeight,
    /// Surface of one load.
    pub area: Area,
    /// Time hot for one load.
    pub hot: Span,
    /// Loads in a day.
    pub loads_by_day: f64,
}

/// What is left to one limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// What reaches its limit.
    pub what: Watched,
    /// Which limit.
    pub side: Side,
    /// Surface until then; nothing where it is passed already.
    pub area: Area,
    /// Loads until then.
    pub loads: f64,
    /// Days until then.
    pub days: f64,
}

/// What is left to every limit that the present mix leads to, the nearest first.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// Limits that are reached at some time.
    pub reaches: Vec<Reach>,
}

impl Life {
    /// The limit that comes first.
    #[must_use]
    pub fn first(&self) -> Option<&Reach> {
        self.reaches.first()
    }

    /// What is left to one limit, if the mix leads there.
    #[must_use]
    pub fn to(&self, what: Watched) -> Option<&Reach> {
        self.reaches.iter().find(|r| r.what == what)
    }
}

/// A stock, what a square metre adds to it, and what share of it a square metre carries off.
#[derive(Debug, Clone, Copy)]
struct Stock {
    now: f64,
    gain: f64,
    carried: f64,
}

impl Stock {
    /// Area in m2 after which it has a value; none where it never does.
    fn until(self, value: f64) -> Option<f64> {
        let linear = (value - self.now) / (self.gain - self.carried * self.now);
        let bent = self.carried * linear;
        if !linear.is_finite() || linear < 0.0 || bent >= 1.0 {
            return None;
        }
        let straight = bent.abs() < 1e-12;
        Some(if straight {
            linear
        } else {
            -libm::log1p(-bent) / self.carried
        })
    }
}

/// What is left of a bath.
#[must_use]
pub fn life_left(recipe: &Recipe, limits: &Limits, bath: &Chemistry, mix: &Mix) -> Life {
    let per = Area::square_metres(1.0);
    let made = Turnover::of(recipe, mix.weight, per);
    let mut reaches: Vec<Reach> = stocks(recipe, limits, bath, mix, &made)
        .into_iter()
        .filter_map(|(what, side, stock, value, passed)| {
            let area = if passed { 0.0 } else { stock.until(value)? };
            let loads = area / mix.area.in_square_metres();
            Some(Reach {
                what,
                side,
                area: Area::square_metres(area),
                loads,
                days: loads / mix.loads_by_day,
            })
        })
        .collect();
    reaches.sort_by(|a, b| {
        a.area
            .in_square_metres()
            .total_cmp(&b.area.in_square_metres())
            .then(a.what.cmp(&b.what))
    });
    Life { reaches }
}

type Course = (Watched, Side, Stock, f64, bool);

/// Every stock against every limit, in litres, points and grams.
fn stocks(recipe: &Recipe, limits: &Limits, bath: &Chemistry, mix: &Mix, made: &Turnover) -> Vec<Course> {
    let litres = bath.volume().in_litres();
    let carried = (recipe.drag_out * Area::square_metres(1.0)) / bath.volume();
    let hours = mix.hot.in_hours() / mix.area.in_square_metres();
    let by_hour = if hours.is_finite() {
        -libm::log1p(-recipe.oxidised_by_hour().0.min(0.999)) * hours
    } else {
        0.0
    };
    let rusting = bath.dissolved.iron * by_hour;
    let change = made.change()
        + Dissolved {
            acid: rusting,
            iron: Amount::ZERO - rusting,
            ..Dissolved::default()
        };
    let stock = |now: f64, gain: f64| Stock { now, gain, carried };
    let total = stock(
        bath.total_acid().in_points() * litres,
        change.total_acid(recipe.metal_counts).in_point_litres(),
    );
    let free = stock(
        bath.free_acid().in_points() * litres,
        change.free_acid().in_point_litres(),
    );
    let iron = Stock {
        now: (bath.dissolved.iron * IRON).in_grams(),
        gain: (made.change().iron * IRON).in_grams(),
        carried: carried + by_hour,
    };
    let sludge = Stock {
        now: (bath.suspended() + bath.settled()).in_grams(),
        gain: (made.sludge().mass() + rusting * super::species::STRENGITE).in_grams(),
        carried: 0.0,
    };
    // Ratio = limit where total - limit x free = 0, and that difference follows the same law.
    let off = |limit: f64| stock(total.now - limit * free.now, total.gain - limit * free.gain);
    let (low, high) = (limits.ratio.stop_below, limits.ratio.stop_above);
    let strength = limits.strength.stop_below.in_points() * litres;
    let most_iron = limits.iron.stop_above.in_grams_per_litre() * litres;
    let most_sludge =
        limits.sludge.stop_above.in_fraction() * recipe.sludge_bed.in_grams_per_litre() * litres;
    vec![
        (
            Watched::Strength,
            Side::Below,
            total,
            strength,
            total.now < strength,
        ),
        (Watched::Ratio, Side::Below, off(low), 0.0, off(low).now < 0.0),
        (Watched::Ratio, Side::Above, off(high), 0.0, off(high).now > 0.0),
        (Watched::Iron, Side::Above, iron, most_iron, iron.now > most_iron),
        (
            Watched::Sludge,
            Side::Above,
            sludge,
            most_sludge,
            sludge.now > most_sludge,
        ),
    ]
}
