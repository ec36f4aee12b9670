//! Quantities of heat and mass in motion, and the products that turn one quantity into another.

use super::quantity::{Area, Density, Energy, HeatTransfer, Mass, Power, Quantity, UnitName, Volume};
use super::temperature::TempDiff;
use super::time::Span;

const HOUR: f64 = 3_600.0;

quantity!(
    /// A flow of mass, in kg/s.
    MassFlow, "a flow of mass",
    units: [["kg/h"] = 1.0 / HOUR, ["kg/s"] = 1.0, ["g/min"] = 1e-3 / 60.0],
    ways: [/// From kilograms in a second.
           kilograms_per_second = 1.0, /// From kilograms in an hour.
           kilograms_per_hour = 1.0 / HOUR]);
read_as!(MassFlow, /// In kilograms in a second.
    in_kilograms_per_second = 1.0, /// In kilograms in an hour.
    in_kilograms_per_hour = (1.0 / HOUR));

quantity!(
    /// A flow of mass through a surface, in kg/(m2 s).
    MassFlux, "a flow of mass through a surface",
    units: [["kg/m2h", "kg/m²h"] = 1.0 / HOUR, ["g/m2min", "g/m²min"] = 1e-3 / 60.0, ["kg/m2s", "kg/m²s"] = 1.0],
    ways: [/// From kg/(m2 s).
           kilograms_per_square_metre_second = 1.0]);
read_as!(MassFlux, /// In kg/(m2 h).
    in_kilograms_per_square_metre_hour = (1.0 / HOUR));

quantity!(
    /// A flow of heat through a surface, in W/m2.
    HeatFlux, "a flow of heat through a surface",
    units: [["W/m2", "W/m²"] = 1.0, ["kW/m2", "kW/m²"] = 1e3],
    ways: [/// From W/m2.
           watts_per_square_metre = 1.0]);
read_as!(HeatFlux, /// In W/m2.
    in_watts_per_square_metre = 1.0);

quantity!(
    /// A dynamic viscosity, in Pa s.
    Viscosity, "a viscosity",
    units: [["mPa s", "mPas", "cP"] = 1e-3, ["Pa s", "Pas"] = 1.0],
    ways: [/// From Pa s.
           pascal_seconds = 1.0]);
read_as!(Viscosity, /// In Pa s.
    in_pascal_seconds = 1.0);

quantity!(
    /// A heat by mass, such as that of evaporation, in J/kg.
    SpecificHeat, "a heat by mass",
    units: [["kJ/kg"] = 1e3, ["J/kg"] = 1.0],
    ways: [/// From J/kg.
           joules_per_kilogram = 1.0]);
read_as!(SpecificHeat, /// In J/kg.
    in_joules_per_kilogram = 1.0);

quantity!(
    /// Thermal expansion by volume, in 1/K.
    Expansion, "a thermal expansion",
    units: [["1/K", "/K"] = 1.0],
    ways: [/// From 1/K.
           per_kelvin = 1.0]);
read_as!(Expansion, /// In 1/K.
    in_per_kelvin = 1.0);

quantity!(
    /// How fast one gas spreads in another, in m2/s.
    Diffusivity, "a diffusivity",
    units: [["m2/s", "m²/s"] = 1.0],
    ways: [/// From m2/s.
           square_metres_per_second = 1.0]);
read_as!(Diffusivity, /// In m2/s.
    in_square_metres_per_second = 1.0);

macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl std::ops::Mul<$b> for $a {
            type Output = $c;
            fn mul(self, o: $b) -> $c {
                $c::from_base(self.base() * o.base())
            }
        }
    };
}

product!(HeatFlux * Area = Power);
product!(MassFlux * Area = MassFlow);
product!(MassFlux * SpecificHeat = HeatFlux);
product!(MassFlow * SpecificHeat = Power);
product!(Mass * SpecificHeat = Energy);
product!(Density * Volume = Mass);

impl std::ops::Div<Density> for Mass {
    type Output = Volume;
    fn div(self, o: Density) -> Volume {
        Volume::from_base(self.base() / o.base())
    }
}

impl std::ops::Mul<TempDiff> for HeatTransfer {
    type Output = HeatFlux;
    fn mul(self, d: TempDiff) -> HeatFlux {
        HeatFlux::from_base(self.base() * d.in_kelvin())
    }
}

impl std::ops::Mul<Span> for Power {
    type Output = Energy;
    fn mul(self, t: Span) -> Energy {
        Energy::from_base(self.base() * t.in_seconds())
    }
}

impl std::ops::Div<Power> for Energy {
    type Output = Span;
    fn div(self, p: Power) -> Span {
        Span::seconds(self.base() / p.base())
    }
}

impl std::ops::Mul<Span> for MassFlow {
    type Output = Mass;
    fn mul(self, t: Span) -> Mass {
        Mass::from_base(self.base() * t.in_seconds())
    }
}
