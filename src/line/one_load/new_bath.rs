//! What a new bath takes, how long it heats and clears, and whether its froth has room.

use tankday_base::bath::chemistry::mix::{MadeFrom, ingredients};
use tankday_base::bath::chemistry::{Chemistry, Contradiction, Readings, Watched};
use tankday_base::bath::settle::{half_life, time_to_share};
use tankday_base::bath::tank::Geometry;
use tankday_base::bath::{Bath, Heater, TankHeat};
use tankday_base::shop::{BathRecipe, Chore, Inside, Shop, StationId, Tank};
use tankday_base::units::{Concentration, Length, Share, Span, Strength, Volume};
use tankday_record::one_load::NewBath;

/// Iron that a new bath is given where nothing else is said: 0.5 to 1.5 g/L, assumed.
const IRON: Concentration = Concentration::grams_per_litre(1.0);
/// A bath is clear when so much of what was stirred up is left in it. A choice.
const CLEAR: Share = Share::percent(5.0);

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixing {
    /// The tank.
    pub tank: StationId,
    /// What its manganese comes from.
    pub from: MadeFrom,
    /// How much of it; the fill of the tank where nothing is said.
    pub fill: Option<Volume>,
    /// Total acid wanted; that of a fresh bath by its recipe where nothing is said.
    pub total_acid: Option<Strength>,
    /// Total acid by free acid; that of its concentrate where nothing is said.
    pub ratio: Option<f64>,
    /// Iron wanted; what the shop's own care brings it to where nothing is said.
    pub iron: Option<Concentration>,
}

/// Why there is no such bath.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Unmixable {
    /// It is no tank, or its bath does not wear.
    #[error("this is no tank with a bath that is made up")]
    NoBath,
    /// It does not go into the tank.
    #[error("{asked:.1} L do not go into the tank, which holds {most:.1} L to its rim", asked = .asked.in_litres(), most = .most.in_litres())]
    TooMuch {
        /// Asked for.
        asked: Volume,
        /// The tank holds so much to its rim.
        most: Volume,
    },
    /// No bath can read so.
    #[error(transparent)]
    Reads(#[from] Contradiction),
}

/// What a new bath takes.
///
/// # Errors
/// When it does not go into the tank, or no bath can read so.
pub fn new_bath(shop: &Shop, asked: &Mixing) -> Result<NewBath, Unmixable> {
    let tank = shop.tank(asked.tank).ok_or(Unmixable::NoBath)?;
    let recipe = shop.baths.get(tank.bath.index()).filter(|r| r.wears);
    let recipe = recipe.ok_or(Unmixable::NoBath)?;
    let fill = asked.fill.unwrap_or(tank.fill);
    let most = brimful(tank);
    if fill > most {
        return Err(Unmixable::TooMuch { asked: fill, most });
    }
    let takes = ingredients(
        &recipe.chemistry,
        asked.from,
        &wanted(shop, recipe, (asked, fill)),
    )?;
    let filled = Tank { fill, ..*tank };
    let depth = Geometry::new(tank.inside, fill).depth;
    Ok(NewBath {
        tank: asked.tank,
        from: asked.from,
        takes,
        heats: heats(shop, recipe, &filled),
        clears: time_to_share(half_life(depth), CLEAR),
        free: most - fill,
        headroom: (height(tank) - depth).max(Length::ZERO),
        passes: passes(recipe, &takes.reads, fill),
    })
}

fn wanted(shop: &Shop, recipe: &BathRecipe, (asked, fill): (&Mixing, Volume)) -> Readings {
    let own = shop.rules.care.iter().find_map(|care| match care.chore {
        Chore::Condition { to, .. } => Some(to),
        _ => None,
    });
    let total_acid = asked.total_acid.unwrap_or(recipe.chemistry.make_up);
    Readings {
        volume: fill,
        total_acid,
        free_acid: total_acid / asked.ratio.unwrap_or(recipe.chemistry.concentrate_ratio),
        iron: asked.iron.or(own).unwrap_or(IRON),
        sludge: Concentration::ZERO,
    }
}

/// Limits that it passes, whatever its temperature: that is the heater's work.
fn passes(recipe: &BathRecipe, reads: &Readings, fill: Volume) -> Vec<tankday_base::bath::chemistry::Breach> {
    let Ok(bath) = Chemistry::new(&recipe.chemistry, reads) else {
        return Vec::new();
    };
    let all = recipe
        .limits
        .breaches(&recipe.chemistry, &bath, recipe.band.hold, fill);
    all.into_iter()
        .filter(|b| b.what != Watched::Temperature)
        .collect()
}

/// From the temperature of the room into the band, with the lid off.
fn heats(shop: &Shop, recipe: &BathRecipe, tank: &Tank) -> Option<Span> {
    let table = TankHeat::new(tank, &shop.air);
    let mut bath = Bath::new(&table, tank.fill, shop.air.temperature);
    bath.switch(Heater::Keep(recipe.band.hold));
    bath.time_until_temperature(&table, recipe.band.least)
}

fn height(tank: &Tank) -> Length {
    let (Inside::Box { height, .. } | Inside::Round { height, .. }) = tank.inside;
    height
}

/// What the tank holds to its rim.
fn brimful(tank: &Tank) -> Volume {
    Geometry::new(tank.inside, tank.fill).opening * height(tank)
}
