//! The quantities that are plain multiples of one base unit, and the names under which a person may write them.

/// One way to write a unit: the accepted spellings, and how many base units one of it is.
#[derive(Debug, Clone, Copy)]
pub struct UnitName {
    /// Accepted spellings, the preferred one first.
    pub spellings: &'static [&'static str],
    /// Base units in one of this unit.
    pub factor: f64,
}

/// A quantity with a unit: a newtype over its SI base unit.
pub trait Quantity: Copy + Sized {
    /// What it is called in a message, with its article: `a volume`.
    const KIND: &'static str;
    /// Units a person may write, the usual one first.
    const UNITS: &'static [UnitName];
    /// From a number of base units.
    fn from_base(value: f64) -> Self;
    /// As a number of base units.
    fn base(self) -> f64;
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $kind:literal,
     units: [$([$($spelling:literal),+] = $factor:expr),+ $(,)?],
     ways: [$($(#[$wdoc:meta])* $way:ident = $wfactor:expr),+ $(,)?]) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            $(
                $(#[$wdoc])*
                #[must_use]
                pub const fn $way(value: f64) -> Self { Self(value * $wfactor) }
            )+
            /// The larger of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
            /// The smaller of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
        }

        impl Quantity for $name {
            const KIND: &'static str = $kind;
            const UNITS: &'static [UnitName] = &[$(UnitName { spellings: &[$($spelling),+], factor: $factor }),+];
            fn from_base(value: f64) -> Self { Self(value) }
            fn base(self) -> f64 { self.0 }
        }

        impl std::ops::Add for $name { type Output = Self; fn add(self, o: Self) -> Self { Self(self.0 + o.0) } }
        impl std::ops::Sub for $name { type Output = Self; fn sub(self, o: Self) -> Self { Self(self.0 - o.0) } }
        impl std::ops::Mul<f64> for $name { type Output = Self; fn mul(self, k: f64) -> Self { Self(self.0 * k) } }
        impl std::ops::Div<f64> for $name { type Output = Self; fn div(self, k: f64) -> Self { Self(self.0 / k) } }
        impl std::ops::Div for $name { type Output = f64; fn div(self, o: Self) -> f64 { self.0 / o.0 } }
        impl std::ops::AddAssign for $name { fn add_assign(&mut self, o: Self) { self.0 += o.0; } }
        impl std::ops::SubAssign for $name { fn sub_assign(&mut self, o: Self) { self.0 -= o.0; } }
        impl std::iter::Sum for $name { fn sum<I: Iterator<Item = Self>>(it: I) -> Self { Self(it.map(|x| x.0).sum()) } }
    };
}

macro_rules! read_as {
    ($name:ident, $($(#[$doc:meta])* $get:ident = $factor:expr),+ $(,)?) => {
        impl $name { $( $(#[$doc])* #[must_use] pub const fn $get(self) -> f64 { self.0 / $factor } )+ }
    };
}

const INCH: f64 = 0.0254;
const POUND: f64 = 0.453_592_37;
const US_GALLON: f64 = 3.785_411_784e-3;
const BTU_IT: f64 = 1_055.055_852_62;

quantity!(
    /// A length, in metres.
    Length, "a length",
    units: [["m"] = 1.0, ["cm"] = 0.01, ["mm"] = 1e-3, ["in", "inch", "inches", "\""] = INCH, ["ft"] = 12.0 * INCH,
            ["um", "µm"] = 1e-6],
    ways: [/// From metres.
           metres = 1.0, /// From centimetres.
           centimetres = 0.01, /// From millimetres.
           millimetres = 1e-3]);
read_as!(Length, /// In metres.
    in_metres = 1.0, /// In millimetres.
    in_millimetres = 1e-3);

quantity!(
    /// An area, in square metres.
    Area, "an area",
    units: [["dm2", "dm²"] = 0.01, ["m2", "m²"] = 1.0, ["cm2", "cm²"] = 1e-4, ["mm2", "mm²"] = 1e-6,
            ["in2", "in²", "sq in"] = INCH * INCH, ["ft2", "ft²", "sq ft"] = 144.0 * INCH * INCH],
    ways: [/// From square metres.
           square_metres = 1.0, /// From square decimetres.
           square_decimetres = 0.01, /// From square centimetres.
           square_centimetres = 1e-4]);
read_as!(Area, /// In square metres.
    in_square_metres = 1.0, /// In square decimetres.
    in_square_decimetres = 0.01);

quantity!(
    /// A volume, in cubic metres.
    Volume, "a volume",
    units: [["L", "l", "litre", "litres", "liter", "liters"] = 1e-3, ["mL", "ml"] = 1e-6, ["m3", "m³"] = 1.0,
            ["dm3", "dm³"] = 1e-3, ["gal", "gallon", "gallons", "US gal"] = US_GALLON,
            ["qt", "quart", "quarts"] = US_GALLON / 4.0, ["fl oz"] = US_GALLON / 128.0],
    ways: [/// From litres.
           litres = 1e-3, /// From cubic metres.
           cubic_metres = 1.0, /// From millilitres.
           millilitres = 1e-6]);
read_as!(Volume, /// In litres.
    in_litres = 1e-3, /// In cubic metres.
    in_cubic_metres = 1.0);

quantity!(
    /// A mass, in kilograms.
    Mass, "a mass",
    units: [["kg"] = 1.0, ["g"] = 1e-3, ["mg"] = 1e-6, ["lb", "lbs", "pound", "pounds"] = POUND,
            ["oz", "ounce", "ounces"] = POUND / 16.0],
    ways: [/// From kilograms.
           kilograms = 1.0, /// From grams.
           grams = 1e-3]);
read_as!(Mass, /// In kilograms.
    in_kilograms = 1.0, /// In grams.
    in_grams = 1e-3);

quantity!(
    /// A power, in watts.
    Power, "a power",
    units: [["kW"] = 1e3, ["W"] = 1.0, ["Btu/h", "BTU/h"] = BTU_IT / 3_600.0],
    ways: [/// From watts.
           watts = 1.0, /// From kilowatts.
           kilowatts = 1e3]);
read_as!(Power, /// In watts.
    in_watts = 1.0, /// In kilowatts.
    in_kilowatts = 1e3);

quantity!(
    /// An energy, in joules.
    Energy, "an energy",
    units: [["kWh"] = 3.6e6, ["Wh"] = 3.6e3, ["MJ"] = 1e6, ["kJ"] = 1e3, ["J"] = 1.0, ["Btu", "BTU"] = BTU_IT],
    ways: [/// From joules.
           joules = 1.0, /// From kilowatt hours.
           kilowatt_hours = 3.6e6]);
read_as!(Energy, /// In joules.
    in_joules = 1.0, /// In kilowatt hours.
    in_kilowatt_hours = 3.6e6);

quantity!(
    /// A pressure, in pascals.
    Pressure, "a pressure",
    units: [["kPa"] = 1e3, ["Pa"] = 1.0, ["hPa", "mbar"] = 100.0, ["bar"] = 1e5, ["psi"] = POUND * 9.806_65 / (INCH * INCH),
            ["inHg"] = 3_386.389],
    ways: [/// From pascals.
           pascals = 1.0]);
read_as!(Pressure, /// In pascals.
    in_pascals = 1.0);

quantity!(
    /// A share of a whole, 1 being all of it.
    Share, "a share",
    units: [["%", "percent", "per cent"] = 0.01],
    ways: [/// From a fraction, 1 being all.
           fraction = 1.0, /// From per cent.
           percent = 0.01]);
read_as!(Share, /// As a fraction, 1 being all.
    in_fraction = 1.0, /// In per cent.
    in_percent = 0.01);

/// What a point is, in words, for whoever meets the first one. The end point of the total acid: as in the published
/// procedures for these baths; the indicators of the free acid: common practice, no source.
pub const POINT: &str = "1 point: 1 mL of 0.1 N caustic soda on a 10 mL sample of the bath; total acid until it turns pink \
                         with phenolphthalein, free acid until the first colour change, with methyl orange or bromophenol \
                         blue.";

quantity!(
    /// Strength of a bath by titration, in points: 1 point is 1 mL of 0.1 N alkali on a 10 mL sample, 0.01 eq/L.
    Strength, "a strength",
    units: [["points", "point", "pt", "pts"] = 1.0],
    ways: [/// From points.
           points = 1.0]);
read_as!(Strength, /// In points.
    in_points = 1.0);

quantity!(
    /// Mass of something in a volume of bath, in kg/m3, which is g/L.
    Concentration, "a concentration",
    units: [["g/L", "g/l"] = 1.0, ["mg/L", "mg/l"] = 1e-3, ["kg/m3", "kg/m³"] = 1.0, ["oz/gal"] = POUND / 16.0 / US_GALLON],
    ways: [/// From grams in a litre.
           grams_per_litre = 1.0]);
read_as!(Concentration, /// In grams in a litre.
    in_grams_per_litre = 1.0);

quantity!(
    /// Weight of a coating on a surface, in g/m2.
    CoatWeight, "a coating weight",
    units: [["g/m2", "g/m²"] = 1.0, ["mg/dm2", "mg/dm²"] = 0.1, ["mg/ft2", "mg/ft²"] = 1e-3 / (144.0 * INCH * INCH)],
    ways: [/// From grams on a square metre.
           grams_per_square_metre = 1.0]);
read_as!(CoatWeight, /// In grams on a square metre.
    in_grams_per_square_metre = 1.0);

quantity!(
    /// Work area that one volume of bath may take at once, in m2/m3.
    AreaPerVolume, "an area in a volume",
    units: [["dm2/L", "dm²/L", "dm2/l", "dm²/l"] = 10.0, ["m2/L", "m²/L", "m2/l"] = 1e3, ["cm2/L", "cm²/L", "cm2/l"] = 0.1, ["m2/m3", "m²/m³"] = 1.0,
            ["ft2/gal", "ft²/gal"] = 144.0 * INCH * INCH / US_GALLON],
    ways: [/// From square decimetres in a litre.
           square_decimetres_per_litre = 10.0]);
read_as!(AreaPerVolume, /// In square decimetres in a litre.
    in_square_decimetres_per_litre = 10.0);

quantity!(
    /// Mass of work that one volume of bath may take at once, in kg/m3.
    MassPerVolume, "a mass in a volume",
    units: [["kg/L", "kg/l"] = 1e3, ["g/L", "g/l"] = 1.0, ["lb/gal"] = POUND / US_GALLON],
    ways: [/// From kilograms in a litre.
           kilograms_per_litre = 1e3]);
read_as!(MassPerVolume, /// In kilograms in a litre.
    in_kilograms_per_litre = 1e3);

quantity!(
    /// Heat conductivity, in W/(m K).
    Conductivity, "a heat conductivity",
    units: [["W/mK", "W/(m K)", "W/(m·K)", "W/m/K"] = 1.0],
    ways: [/// From W/(m K).
           watts_per_metre_kelvin = 1.0]);
read_as!(Conductivity, /// In W/(m K).
    in_watts_per_metre_kelvin = 1.0);

quantity!(
    /// A heat capacity, in J/(kg K).
    HeatCapacity, "a heat capacity",
    units: [["J/kgK", "J/(kg K)", "J/(kg·K)", "J/kg/K"] = 1.0, ["kJ/kgK", "kJ/(kg K)"] = 1e3],
    ways: [/// From J/(kg K).
           joules_per_kilogram_kelvin = 1.0]);
read_as!(HeatCapacity, /// In J/(kg K).
    in_joules_per_kilogram_kelvin = 1.0);

quantity!(
    /// A density, in kg/m3.
    Density, "a density",
    units: [["kg/m3", "kg/m³"] = 1.0, ["g/cm3", "g/cm³", "kg/L"] = 1e3],
    ways: [/// From kg/m3.
           kilograms_per_cubic_metre = 1.0]);
read_as!(Density, /// In kg/m3.
    in_kilograms_per_cubic_metre = 1.0);

quantity!(
    /// A heat transfer coefficient, in W/(m2 K).
    HeatTransfer, "a heat transfer coefficient",
    units: [["W/m2K", "W/m²K", "W/(m2 K)", "W/(m² K)"] = 1.0],
    ways: [/// From W/(m2 K).
           watts_per_square_metre_kelvin = 1.0]);
read_as!(HeatTransfer, /// In W/(m2 K).
    in_watts_per_square_metre_kelvin = 1.0);

impl std::ops::Mul<Volume> for AreaPerVolume {
    type Output = Area;
    fn mul(self, v: Volume) -> Area {
        Area(self.0 * v.0)
    }
}

impl std::ops::Mul<Volume> for MassPerVolume {
    type Output = Mass;
    fn mul(self, v: Volume) -> Mass {
        Mass(self.0 * v.0)
    }
}
