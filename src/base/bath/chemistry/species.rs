//! What is dissolved and what has fallen out, by formula.
//!
//! Reactions counted, with Me = Mn or Fe:
//!
//! ```text
//! attack      Fe + 2 H3PO4           -> Fe(H2PO4)2 + H2
//! coating     5 Me(H2PO4)2 + 4 H2O   -> Me5H2(PO4)4.4H2O + 6 H3PO4
//! oxidation   4 Fe(H2PO4)2 + O2      -> 4 FePO4 + 4 H3PO4 + 2 H2O
//! hydrolysis  as coating, in the bulk: manganese sludge
//! ```
//!
//! The coating's formula (hureaulite) is that of the Metal Finishing Guide Book 2012-13; attack and oxidation are
//! textbook reactions. Nitrate and other by-products of a product's own recipe are not counted.

use crate::bath::air::GAS_CONSTANT;
use crate::units::{Amount, Mass, MolarMass, Temperature, Volume};

/// Iron. Atomic weights here and below: IUPAC standard atomic weights 2021, abridged, from memory.
pub const IRON: MolarMass = MolarMass::grams_per_mole(55.845);
/// Manganese.
pub const MANGANESE: MolarMass = MolarMass::grams_per_mole(54.938);
/// Phosphoric acid, H3PO4.
pub const PHOSPHORIC_ACID: MolarMass = MolarMass::grams_per_mole(3.0 * 1.008 + 30.974 + 4.0 * 15.999);
/// The coating and the manganese sludge, Mn5H2(PO4)4.4H2O. A coating in which iron takes a part of the places is
/// given the same mass: all iron instead would add 0.6 %.
pub const HUREAULITE: MolarMass =
    MolarMass::grams_per_mole(5.0 * 54.938 + 10.0 * 1.008 + 4.0 * 30.974 + 20.0 * 15.999);
/// The yellow sludge as it is weighed dry, FePO4.2H2O.
pub const STRENGITE: MolarMass = MolarMass::grams_per_mole(55.845 + 30.974 + 6.0 * 15.999 + 4.0 * 1.008);
/// Manganese carbonate, MnCO3.
pub const MANGANESE_CARBONATE: MolarMass = MolarMass::grams_per_mole(54.938 + 12.011 + 3.0 * 15.999);
/// Manganese dioxide, MnO2.
pub const MANGANESE_DIOXIDE: MolarMass = MolarMass::grams_per_mole(54.938 + 2.0 * 15.999);
/// Soda ash, Na2CO3.
pub const SODA_ASH: MolarMass = MolarMass::grams_per_mole(2.0 * 22.990 + 12.011 + 3.0 * 15.999);
/// Hydrogen peroxide, H2O2.
pub const HYDROGEN_PEROXIDE: MolarMass = MolarMass::grams_per_mole(2.0 * 1.008 + 2.0 * 15.999);

/// Equivalents that the primary phosphate of a metal can count in the total acid, least and most: by what falls out at the end
/// point, MeHPO4 or Me3(PO4)2. Derived.
pub const METAL_COUNTS: (f64, f64) = (2.0, 2.67);

/// Volume of an amount of gas at 20 °C and standard pressure, as an ideal gas: 24.055 L/mol.
#[must_use]
pub fn gas_volume(amount: Amount) -> Volume {
    let kelvin = Temperature::celsius(20.0).in_kelvin();
    Volume::cubic_metres(
        amount.in_moles() * GAS_CONSTANT * kelvin / super::super::air::standard_pressure().in_pascals(),
    )
}

/// What is dissolved in a bath.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Dissolved {
    /// Free phosphoric acid, H3PO4.
    pub acid: Amount,
    /// Ferrous primary phosphate, Fe(H2PO4)2.
    pub iron: Amount,
    /// Manganese primary phosphate, Mn(H2PO4)2.
    pub manganese: Amount,
    /// Sodium primary phosphate, NaH2PO4, from soda ash.
    pub sodium: Amount,
}

/// Solids that have fallen out, dry.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sludge {
    /// Ferric phosphate, FePO4.2H2O.
    pub ferric: Amount,
    /// Manganese phosphate, by its formula unit Mn5H2(PO4)4.4H2O.
    pub manganese: Amount,
    /// Of unknown make: what was there at the start. No element is counted in it.
    pub other: Mass,
}

/// Elements that neither appear nor vanish.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Elements {
    /// Iron.
    pub iron: Amount,
    /// Manganese.
    pub manganese: Amount,
    /// Phosphorus.
    pub phosphorus: Amount,
}

impl Dissolved {
    /// The elements in it.
    #[must_use]
    pub fn elements(&self) -> Elements {
        Elements {
            iron: self.iron,
            manganese: self.manganese,
            phosphorus: self.acid + (self.iron + self.manganese) * 2.0 + self.sodium,
        }
    }

    /// Free acid: the first proton of the free phosphoric acid.
    #[must_use]
    pub fn free_acid(&self) -> Amount {
        self.acid
    }

    /// Total acid, to the phenolphthalein end point: 2 for the free acid, `metal` for each primary phosphate of a
    /// metal that falls out there, 1 for that of sodium.
    #[must_use]
    pub fn total_acid(&self, metal: f64) -> Amount {
        self.acid * 2.0 + (self.iron + self.manganese) * metal + self.sodium
    }
}

impl Sludge {
    /// Dry mass.
    #[must_use]
    pub fn mass(&self) -> Mass {
        self.ferric * STRENGITE + self.manganese * HUREAULITE + self.other
    }

    /// The elements in it.
    #[must_use]
    pub fn elements(&self) -> Elements {
        Elements {
            iron: self.ferric,
            manganese: self.manganese * 5.0,
            phosphorus: self.ferric + self.manganese * 4.0,
        }
    }
}

/// Sum, difference and multiple, field by field.
macro_rules! by_fields {
    ($name:ident: $($field:ident),+) => {
        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, o: Self) -> Self { Self { $($field: self.$field + o.$field),+ } }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, o: Self) -> Self { Self { $($field: self.$field - o.$field),+ } }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, k: f64) -> Self { Self { $($field: self.$field * k),+ } }
        }
        impl std::ops::AddAssign for $name {
            fn add_assign(&mut self, o: Self) { *self = *self + o; }
        }
        impl std::ops::SubAssign for $name {
            fn sub_assign(&mut self, o: Self) { *self = *self - o; }
        }
    };
}

by_fields!(Dissolved: acid, iron, manganese, sodium);
by_fields!(Sludge: ferric, manganese, other);
by_fields!(Elements: iron, manganese, phosphorus);
