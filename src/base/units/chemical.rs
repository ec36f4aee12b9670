//! Quantities of chemistry, settling and filtering, and the products that turn one into another.

use super::quantity::{
    Area, AreaPerVolume, CoatWeight, Concentration, Density, Length, Mass, Quantity, Strength, UnitName,
    Volume,
};
use super::time::Span;
use super::transport::MassFlux;

quantity!(
    /// An amount of substance, in mol; of acid by titration in mol of protons, which is equivalents.
    Amount, "an amount of substance",
    units: [["mol"] = 1.0, ["mmol"] = 1e-3],
    ways: [/// From moles.
           moles = 1.0, /// From points times litres: 0.01 equivalents each.
           point_litres = 0.01]);
read_as!(Amount, /// In moles.
    in_moles = 1.0, /// In points times litres.
    in_point_litres = 0.01);

quantity!(
    /// Mass of one mole, in kg/mol.
    MolarMass, "a molar mass",
    units: [["g/mol"] = 1e-3, ["kg/mol"] = 1.0],
    ways: [/// From grams in a mole.
           grams_per_mole = 1e-3]);
read_as!(MolarMass, /// In grams in a mole.
    in_grams_per_mole = 1e-3);

quantity!(
    /// Liquid that stays on a surface, in m3/m2; the mean thickness of its film.
    VolumePerArea, "a volume on a surface",
    units: [["mL/m2", "mL/m²", "ml/m2", "ml/m²"] = 1e-6, ["L/m2", "L/m²", "l/m2"] = 1e-3,
            ["gal/1000 ft2", "gal/1000 ft²"] = 3.785_411_784e-3 / 92.903_04],
    ways: [/// From millilitres on a square metre.
           millilitres_per_square_metre = 1e-6, /// From litres on a square metre.
           litres_per_square_metre = 1e-3, /// From US gallons on a thousand square feet.
           gallons_per_thousand_square_feet = 3.785_411_784e-3 / 92.903_04]);
read_as!(VolumePerArea, /// In millilitres on a square metre.
    in_millilitres_per_square_metre = 1e-6);

quantity!(
    /// A speed, in m/s.
    Speed, "a speed",
    units: [["m/s"] = 1.0, ["mm/s"] = 1e-3, ["um/s", "µm/s"] = 1e-6],
    ways: [/// From metres in a second.
           metres_per_second = 1.0]);
read_as!(Speed, /// In metres in a second.
    in_metres_per_second = 1.0);

quantity!(
    /// A flow of liquid or gas, in m3/s.
    VolumeFlow, "a flow",
    units: [["L/min", "l/min"] = 1e-3 / 60.0, ["L/h", "l/h"] = 1e-3 / 3_600.0, ["m3/s"] = 1.0],
    ways: [/// From litres in a minute.
           litres_per_minute = 1e-3 / 60.0, /// From cubic metres in a second.
           cubic_metres_per_second = 1.0]);
read_as!(VolumeFlow, /// In litres in a minute.
    in_litres_per_minute = (1e-3 / 60.0));

quantity!(
    /// Resistance of a filter cake by its dry mass, in m/kg.
    CakeResistance, "a cake resistance",
    units: [["m/kg"] = 1.0],
    ways: [/// From metres by kilogram.
           metres_per_kilogram = 1.0]);
read_as!(CakeResistance, /// In m/kg.
    in_metres_per_kilogram = 1.0);

quantity!(
    /// Resistance of a filter medium, in 1/m.
    MediumResistance, "a medium resistance",
    units: [["1/m", "/m"] = 1.0],
    ways: [/// From 1/m.
           per_metre = 1.0]);
read_as!(MediumResistance, /// In 1/m.
    in_per_metre = 1.0);

/// `a * b = c` and `c / b = a`, with the factor that the base units need.
macro_rules! product {
    ($a:ident * $b:ident = $c:ident, $factor:expr) => {
        impl std::ops::Mul<$b> for $a {
            type Output = $c;
            fn mul(self, o: $b) -> $c {
                $c::from_base(self.base() * o.base() * $factor)
            }
        }
        impl std::ops::Div<$b> for $c {
            type Output = $a;
            fn div(self, o: $b) -> $a {
                $a::from_base(self.base() / o.base() / $factor)
            }
        }
    };
}

product!(Amount * MolarMass = Mass, 1.0);
product!(VolumePerArea * Area = Volume, 1.0);
product!(Concentration * Volume = Mass, 1.0);
// A point is 0.01 eq/L, 10 eq/m3.
product!(Strength * Volume = Amount, 10.0);
// Coatings are counted in g/m2.
product!(CoatWeight * Area = Mass, 1e-3);

impl std::ops::Mul for Length {
    type Output = Area;
    fn mul(self, o: Self) -> Area {
        Area::from_base(self.base() * o.base())
    }
}

impl std::ops::Mul<Length> for Area {
    type Output = Volume;
    fn mul(self, o: Length) -> Volume {
        Volume::from_base(self.base() * o.base())
    }
}

impl std::ops::Div<Volume> for Area {
    type Output = AreaPerVolume;
    fn div(self, o: Volume) -> AreaPerVolume {
        AreaPerVolume::from_base(self.base() / o.base())
    }
}

impl std::ops::Div<Speed> for Length {
    type Output = Span;
    fn div(self, v: Speed) -> Span {
        Span::seconds(self.base() / v.base())
    }
}

impl std::ops::Mul<Span> for MassFlux {
    type Output = CoatWeight;
    fn mul(self, t: Span) -> CoatWeight {
        CoatWeight::grams_per_square_metre(self.base() * 1e3 * t.in_seconds())
    }
}

impl std::ops::Mul<VolumePerArea> for Density {
    type Output = CoatWeight;
    fn mul(self, film: VolumePerArea) -> CoatWeight {
        CoatWeight::grams_per_square_metre(self.base() * 1e3 * film.base())
    }
}

impl std::ops::Div<MassFlux> for CoatWeight {
    type Output = Span;
    fn div(self, flux: MassFlux) -> Span {
        Span::seconds(self.base() * 1e-3 / flux.base())
    }
}
