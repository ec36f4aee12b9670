//! What a bath is mixed from: concentrate, or water, phosphoric acid, a source of manganese, and steel wool.
//!
//! ```text
//! carbonate   MnCO3 + 2 H3PO4       -> Mn(H2PO4)2 + H2O + CO2
//! wool        Fe + 2 H3PO4          -> Fe(H2PO4)2 + H2
//! dioxide     MnO2 + Fe + 4 H3PO4   -> Mn(H2PO4)2 + Fe(H2PO4)2 + 2 H2O
//! ```
//!
//! The first two are textbook reactions; the third is from memory: the dioxide needs something that reduces it, and steel wool does.
//! Amounts follow from what the bath is to read, by the balance by which its titrations are counted everywhere else.

use super::care::Trim;
use super::fresh;
use super::species::{
    IRON, MANGANESE_CARBONATE, MANGANESE_DIOXIDE, METAL_COUNTS, PHOSPHORIC_ACID, gas_volume,
};
use super::state::{Chemistry, Contradiction, Readings};
use crate::shop::Recipe;
use crate::units::{Amount, Mass, Strength, Volume};

/// What the manganese of a new bath comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MadeFrom {
    /// A bought concentrate, by its label.
    Concentrate,
    /// Manganese carbonate.
    Carbonate,
    /// Manganese dioxide, with as much steel wool.
    Dioxide,
}

/// What a new bath takes, how it reads then, and the gas that it gives off on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ingredients {
    /// Concentrate.
    pub concentrate: Volume,
    /// Phosphoric acid, pure.
    pub acid: Mass,
    /// Manganese carbonate.
    pub carbonate: Mass,
    /// Manganese dioxide.
    pub dioxide: Mass,
    /// Steel wool that dissolves.
    pub wool: Mass,
    /// Carbon dioxide, at 20 °C.
    pub carbon_dioxide: Volume,
    /// Hydrogen, at 20 °C.
    pub hydrogen: Volume,
    /// How it reads.
    pub reads: Readings,
    /// Least and greatest total acid that is believed of the same amounts: by what falls out at the end point. None where a label
    /// says how strong it is.
    pub believed: Option<(Strength, Strength)>,
    /// Whether all the wool dissolves.
    pub acid_lasts: bool,
}

/// What a bath takes that is to read so. Of concentrate the free acid follows from its label, of dioxide the iron.
///
/// # Errors
/// When no bath can read so.
pub fn ingredients(recipe: &Recipe, from: MadeFrom, to: &Readings) -> Result<Ingredients, Contradiction> {
    match from {
        MadeFrom::Concentrate => diluted(recipe, to),
        MadeFrom::Carbonate => {
            let bath = Chemistry::new(recipe, to)?;
            let metal = bath.dissolved;
            let mut made = dissolved_in_acid(&bath);
            made.carbonate = metal.manganese * MANGANESE_CARBONATE;
            made.carbon_dioxide = gas_volume(metal.manganese);
            made.hydrogen = gas_volume(metal.iron);
            Ok(made)
        }
        MadeFrom::Dioxide => {
            // As much iron as manganese, whatever iron is asked for.
            let bath = Chemistry::new(recipe, to)?;
            let half = (bath.dissolved.iron + bath.dissolved.manganese) / 2.0;
            let even = Readings {
                iron: half * IRON / to.volume,
                ..*to
            };
            let mut made = dissolved_in_acid(&Chemistry::new(recipe, &even)?);
            made.dioxide = half * MANGANESE_DIOXIDE;
            Ok(made)
        }
    }
}

/// Acid and wool of a bath, and how it reads.
fn dissolved_in_acid(bath: &Chemistry) -> Ingredients {
    let by = |counts: f64| bath.dissolved.total_acid(counts) / bath.volume;
    Ingredients {
        concentrate: Volume::ZERO,
        acid: bath.dissolved.elements().phosphorus * PHOSPHORIC_ACID,
        carbonate: Mass::ZERO,
        dioxide: Mass::ZERO,
        wool: bath.dissolved.iron * IRON,
        carbon_dioxide: Volume::ZERO,
        hydrogen: Volume::ZERO,
        reads: bath.readings(),
        believed: Some((by(METAL_COUNTS.0), by(METAL_COUNTS.1))),
        acid_lasts: true,
    }
}

fn diluted(recipe: &Recipe, to: &Readings) -> Result<Ingredients, Contradiction> {
    let label = Recipe {
        make_up: to.total_acid,
        ..*recipe
    };
    let mut bath = fresh::make_up(&label, to.volume)?;
    let wool = fresh::conditioning(&label, &bath, to.iron).wool;
    let before = bath.account().hydrogen;
    let acid_lasts = bath.condition(&label, wool).is_ok();
    let dissolves = if acid_lasts { wool } else { Mass::ZERO };
    // The wool uses free acid up: phosphoric acid brings the ratio of the label back, and total acid with it.
    let again =
        |bath: &mut Chemistry| bath.trim(Trim::PhosphoricAcid, bath.total_acid() / recipe.concentrate_ratio);
    let rounds = if dissolves > Mass::ZERO { 8 } else { 0 };
    let acid = (0..rounds).fold(Mass::ZERO, |all, _| all + again(&mut bath));
    Ok(Ingredients {
        concentrate: fresh::concentrate(&label, to.volume),
        acid,
        carbonate: Mass::ZERO,
        dioxide: Mass::ZERO,
        wool: dissolves,
        carbon_dioxide: Volume::ZERO,
        hydrogen: bath.account().hydrogen - before,
        reads: bath.readings(),
        believed: None,
        acid_lasts,
    })
}

impl Ingredients {
    /// So much carbonate gives off so much gas that it fills a free space.
    #[must_use]
    pub fn spoonful(free: Volume) -> Mass {
        let one = gas_volume(Amount::moles(1.0));
        Amount::moles(free / one) * MANGANESE_CARBONATE
    }
}
