//! Work done again: what it takes off the metal, and what it leaves on it.

use super::loads::TankLoad;
use crate::event::LoadNo;
use std::collections::BTreeMap;
use tankday_base::shop::{BathRecipe, CoatRule, PartId, Shop};
use tankday_base::units::{Area, CoatWeight, Length, Mass};

/// A coating of so many g/m2 is a micrometre thick: more than 2 um go with more than 5 g/m2 (a supplier's data sheet).
const GRAMS_PER_MICROMETRE: f64 = 2.5;
/// Grams of steel under a square metre of a micrometre.
const STEEL: f64 = 7.85;

/// A load that was coated more than once.
#[derive(Debug, Clone, PartialEq)]
pub struct ReworkFigure {
    /// The load.
    pub load: LoadNo,
    /// Times that it was in a bath.
    pub passes: u32,
    /// Metal dissolved from its pieces, all passes together.
    pub metal_lost: Mass,
    /// Metal lost from each face.
    pub face_lost: Length,
    /// How much a face stands out further than it did before it was first coated, with the last coating on it; below
    /// zero where the passes before took off more.
    pub face_gained: Length,
}

/// Metal that a coating takes: its weight by the ratio of coating to metal.
fn attack(coat: CoatWeight, ratio: f64) -> CoatWeight {
    coat / ratio
}

/// Thickness of metal lost from a face.
fn lost(attack: CoatWeight) -> Length {
    Length::metres(attack.in_grams_per_square_metre() / STEEL * 1e-6)
}

/// Thickness of a coating.
fn thick(coat: CoatWeight) -> Length {
    Length::metres(coat.in_grams_per_square_metre() / GRAMS_PER_MICROMETRE * 1e-6)
}

pub(super) fn of(shop: &Shop, loads: &[TankLoad]) -> Vec<ReworkFigure> {
    let mut passes: BTreeMap<LoadNo, Vec<&TankLoad>> = BTreeMap::new();
    for load in loads {
        passes.entry(load.load).or_default().push(load);
    }
    let again = passes.into_iter().filter(|(_, all)| all.len() > 1);
    again.filter_map(|(load, all)| one(shop, load, &all)).collect()
}

fn one(shop: &Shop, load: LoadNo, passes: &[&TankLoad]) -> Option<ReworkFigure> {
    let mut figure = ReworkFigure {
        load,
        passes: passes.len() as u32,
        metal_lost: Mass::ZERO,
        face_lost: Length::ZERO,
        face_gained: Length::ZERO,
    };
    for pass in passes {
        let tank = shop.stations.get(pass.tank.index())?.tank?;
        let bath = shop.baths.get(tank.bath.index())?;
        let ratio = bath.chemistry.attack_ratio;
        let coats = coats(shop, pass, bath);
        let metal = coats.iter().map(|(coat, area)| attack(*coat, ratio) * *area);
        figure.metal_lost += metal.sum::<Mass>();
        // The face that had most is the one whose fit suffers.
        let heaviest = coats
            .iter()
            .map(|(coat, _)| *coat)
            .fold(CoatWeight::ZERO, CoatWeight::max);
        figure.face_lost += lost(attack(heaviest, ratio));
        figure.face_gained = thick(heaviest) - figure.face_lost;
    }
    Some(figure)
}

/// What was coated in one pass, with its surface: as recorded; by the recipe while it is still in.
fn coats(shop: &Shop, pass: &TankLoad, bath: &BathRecipe) -> Vec<(CoatWeight, Area)> {
    let pieces = |part: PartId| pass.parts.iter().find(|(p, _)| *p == part).map_or(0, |(_, n)| *n);
    let surface = |part: PartId| shop.parts.get(part.index()).map_or(Area::ZERO, |p| p.area);
    let recorded = pass.coats.iter();
    let recorded: Vec<(CoatWeight, Area)> = recorded
        .map(|(part, coat)| (*coat, surface(*part) * f64::from(pieces(*part))))
        .collect();
    if !recorded.is_empty() {
        return recorded;
    }
    let coat = match &bath.coat {
        CoatRule::Target(weight) => *weight,
        CoatRule::Time(_) => bath.growth.full,
    };
    vec![(coat, pass.area)]
}

#[cfg(test)]
mod tests {
    use super::{attack, lost, thick};
    use tankday_base::units::CoatWeight;

    /// Section on rework of the project's notes on practice (derived there): each pass costs 8 to 9 g/m2, 1.0 to
    /// 1.15 um on a face, at 16 to 18 g/m2 and a ratio of 2; build-up at 18 g/m2 is 6.05 um.
    #[test]
    fn a_pass_takes_a_micrometre() {
        for (weight, metal, micrometres) in [(16.0, 8.0, 1.02), (18.0, 9.0, 1.146)] {
            let attack = attack(CoatWeight::grams_per_square_metre(weight), 2.0);
            assert!((attack.in_grams_per_square_metre() - metal).abs() < 1e-9);
            assert!((lost(attack).in_millimetres() * 1e3 - micrometres).abs() < 0.005);
        }
        let coat = CoatWeight::grams_per_square_metre(18.0);
        let gained = thick(coat) - lost(attack(coat, 2.0));
        assert!((gained.in_millimetres() * 1e3 - 6.05).abs() < 0.01);
    }
}
