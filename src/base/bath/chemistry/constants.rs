//! Every constant of a recipe explained: value, range, source, and how a shop measures its own.

use super::species::METAL_COUNTS;
use crate::bath::settle::half_life as half_life_at;
use crate::shop::{Oxidation, Recipe};
use crate::units::{Length, Share};

/// One constant.
#[derive(Debug, Clone, Copy)]
pub struct Constant {
    /// What it is called.
    pub name: &'static str,
    /// Unit in which value and range are given; empty for a plain number.
    pub unit: &'static str,
    /// Its value in a recipe; none where the recipe does without it.
    pub value: fn(&Recipe) -> Option<f64>,
    /// Least value that is believable.
    pub least: f64,
    /// Greatest value that is believable.
    pub most: f64,
    /// Where the default comes from.
    pub source: &'static str,
    /// How to measure one's own.
    pub measure: &'static str,
}

impl Constant {
    /// Whether a recipe's value lies in the believable range; one that the recipe does without does.
    #[must_use]
    pub fn is_believable(&self, recipe: &Recipe) -> bool {
        (self.value)(recipe).is_none_or(|v| v >= self.least && v <= self.most)
    }
}

const WEIGH: &str = "weigh a coupon bare, coated and stripped: coating and metal lost, each by its area";
const TITRATE: &str = "titrate before and after a load of known area";
const SHEET: &str = "take it from the product sheet";
const SLUDGE: &str = "filter, dry and weigh the sludge after a week of known area";

/// All of them.
pub const CONSTANTS: [Constant; 20] = [
    constant("make-up strength", "points", |r| Some(r.make_up.in_points()), (20.0, 70.0))
        .from("36 from 17 % by volume of a supplier's concentrate; others run at 28 to 60", SHEET),
    constant("coating by metal dissolved", "", |r| Some(r.attack_ratio), (1.4, 4.35))
        .from("from memory, unverified; 4.35 is where the free acid stands still", WEIGH),
    constant("iron in the coating's metal", "%", |r| Some(r.iron_in_coat.in_percent()), (0.0, 50.0))
        .from("assumed", "have a stripped coating analysed"),
    constant("iron oxidised with a load", "%", by_load, (0.0, 100.0)).from("assumed", TITRATE),
    constant("iron oxidised in a hot hour", "%", |r| by_hour(r).map(|h| h.0), (0.0, 10.0))
        .from("assumed", "titrate the iron of a hot bath without work, hours apart"),
    constant("iron oxidised in an idle hour", "%", |r| by_hour(r).map(|h| h.1), (0.0, 1.0))
        .from("assumed", "titrate the iron in the evening and in the morning"),
    constant("free acid given back by hydrolysis", "%", |r| Some(r.hydrolysed.in_percent()), (0.0, 100.0))
        .from("assumed", TITRATE),
    constant("drag-out", "mL/m2", |r| Some(r.drag_out.in_millilitres_per_square_metre()), (16.0, 980.0)).from(
        "assumed for poorly drained small parts; the range is that of a table credited to US EPA handbooks, from memory",
        "weigh a load before and after it has drained",
    ),
    constant("acid counted by a metal's phosphate", "eq/mol", |r| Some(r.metal_counts), METAL_COUNTS)
        .from("derived: 2.0 to 2.67 by what falls out at the end point", "titrate a solution of known make"),
    constant("concentrate for one point", "mL/L", |r| Some(r.concentrate_per_point.in_fraction() * 1e3), (3.0, 10.0))
        .from("4.75 mL/L: a supplier's product page", SHEET),
    constant("total by free acid of the concentrate", "", |r| Some(r.concentrate_ratio), (4.0, 8.0))
        .from("assumed as that of the make-up, 36 by 6; 7.1 from a published composition", SHEET),
    constant("new sludge that stays stirred up", "%", |r| Some(r.suspended.in_percent()), (0.0, 100.0))
        .from("assumed", SLUDGE),
    constant("half-life of stirred-up sludge", "h", half_life, (0.5, 8.0)).from(
        "by the depth of the tank, 1.9 h for 25 cm: from a jug that clears in two to three hours (common practice, no source); a handbook chapter finds 8 h enough",
        "watch a jug of it clear",
    ),
    constant("dry solids in settled sludge", "g/L", |r| Some(r.sludge_bed.in_grams_per_litre()), (30.0, 300.0)).from(
        "assumed, so that strength binds a bath first, then sludge, then iron",
        "settle a litre overnight, read the height, dry and weigh",
    ),
    constant("metal lost under a finished coating", "g/(m2 min)", residual, (0.0, 0.1))
        .from("assumed", "weigh coupons left in for an hour and for two"),
    constant("stay after which a coating is finished", "min", |r| Some(r.finished_after.in_minutes()), (20.0, 60.0))
        .from("5 to 45 min: an encyclopaedia entry", "watch for the last bubbles"),
    constant("least factor of strength on time", "", |r| Some(r.strength_effect.least), (0.5, 1.0))
        .from("assumed", WEIGH),
    constant("greatest factor of strength on time", "", |r| Some(r.strength_effect.most), (1.0, 3.0))
        .from("assumed", WEIGH),
    constant("iron below which a bath is slow", "g/L", |r| Some(r.iron_effect.below.in_grams_per_litre()), (0.1, 1.0))
        .from("assumed", WEIGH),
    constant("factor on time below that iron", "", |r| Some(r.iron_effect.slower), (1.0, 2.0)).from("assumed", WEIGH),
];

const fn constant(
    name: &'static str,
    unit: &'static str,
    value: fn(&Recipe) -> Option<f64>,
    (least, most): (f64, f64),
) -> Constant {
    Constant {
        name,
        unit,
        value,
        least,
        most,
        source: "",
        measure: "",
    }
}

impl Constant {
    const fn from(mut self, source: &'static str, measure: &'static str) -> Self {
        self.source = source;
        self.measure = measure;
        self
    }
}

fn by_load(recipe: &Recipe) -> Option<f64> {
    match recipe.oxidation {
        Oxidation::ByLoad(share) => Some(share.in_percent()),
        Oxidation::ByHour { .. } => None,
    }
}

fn by_hour(recipe: &Recipe) -> Option<(f64, f64)> {
    match recipe.oxidation {
        Oxidation::ByLoad(_) => None,
        Oxidation::ByHour { hot, idle } => Some((hot.in_percent(), idle.in_percent())),
    }
}

/// Where the depth decides, that of a bath 25 cm deep.
fn half_life(recipe: &Recipe) -> Option<f64> {
    let half = if recipe.settles_by_depth {
        half_life_at(Length::millimetres(250.0))
    } else {
        recipe.settling_half
    };
    Some(half.in_hours())
}

fn residual(recipe: &Recipe) -> Option<f64> {
    let minute = crate::units::Span::whole_minutes(1);
    Some((recipe.residual_attack * minute).in_grams_per_square_metre())
}

impl Recipe {
    /// The recipe with each of the constants that say how a bath wears at both ends of its range, one at a time, where it
    /// has its default: others were measured by the shop.
    #[must_use]
    pub fn believed(&self) -> Vec<Self> {
        let mut all = Vec::new();
        let [attack, coat, load, _, _, given] = [1, 2, 3, 4, 5, 6].map(|i| &CONSTANTS[i]);
        let mut add = |constant: &Constant, with: &dyn Fn(f64) -> Self| {
            if (constant.value)(self) == (constant.value)(&Self::DEFAULT) {
                all.extend([constant.least, constant.most].map(with));
            }
        };
        add(attack, &|attack_ratio| Self {
            attack_ratio,
            ..*self
        });
        add(coat, &|share| Self {
            iron_in_coat: Share::percent(share),
            ..*self
        });
        add(load, &|share| Self {
            oxidation: Oxidation::ByLoad(Share::percent(share)),
            ..*self
        });
        add(given, &|share| Self {
            hydrolysed: Share::percent(share),
            ..*self
        });
        all
    }
}
