//! Temperatures and temperature differences: two types, since 10 °C more is not 10 °C.

use super::read::{ReadError, split_number};

/// A temperature, in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Temperature(f64);

/// A difference of temperatures, in kelvin.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct TempDiff(f64);

/// Kelvin at 0 °C, exact by definition.
const ZERO_CELSIUS_IN_KELVIN: f64 = 273.15;

impl Temperature {
    /// From degrees Celsius.
    #[must_use]
    pub const fn celsius(value: f64) -> Self {
        Self(value)
    }
    /// From degrees Fahrenheit.
    #[must_use]
    pub const fn fahrenheit(value: f64) -> Self {
        Self((value - 32.0) / 1.8)
    }
    /// In degrees Celsius.
    #[must_use]
    pub const fn in_celsius(self) -> f64 {
        self.0
    }
    /// In degrees Fahrenheit.
    #[must_use]
    pub const fn in_fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
    /// In kelvin.
    #[must_use]
    pub const fn in_kelvin(self) -> f64 {
        self.0 + ZERO_CELSIUS_IN_KELVIN
    }
    /// The higher of two.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
    /// The lower of two.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }
    /// Reads `93 °C`, `93C`, `200 °F`, `366 K`.
    ///
    /// # Errors
    /// When the number or the unit is missing or unknown, or it is below absolute zero.
    pub fn read(text: &str) -> Result<Self, ReadError> {
        const HELP: &str = "a temperature with its unit is expected, °C or °F: `93 °C`";
        let (value, unit) = split_number(text).map_err(|e| ReadError::new(e.message, HELP))?;
        let t = match unit {
            "°C" | "C" | "degC" => Self(value),
            "°F" | "F" | "degF" => Self::fahrenheit(value),
            "K" => Self(value - ZERO_CELSIUS_IN_KELVIN),
            "" => return Err(ReadError::new(format!("`{}` has no unit", text.trim()), HELP)),
            other => {
                return Err(ReadError::new(
                    format!("`{other}` is not a unit of temperature"),
                    HELP,
                ));
            }
        };
        if t.in_kelvin() < 0.0 {
            return Err(ReadError::new(
                format!("`{}` is below absolute zero", text.trim()),
                HELP,
            ));
        }
        Ok(t)
    }
}

impl TempDiff {
    /// From kelvin.
    #[must_use]
    pub const fn kelvin(value: f64) -> Self {
        Self(value)
    }
    /// In kelvin.
    #[must_use]
    pub const fn in_kelvin(self) -> f64 {
        self.0
    }
    /// Reads `2 °C`, `2 K`, `5 °F` as a difference.
    ///
    /// # Errors
    /// When the number or the unit is missing or unknown.
    pub fn read(text: &str) -> Result<Self, ReadError> {
        const HELP: &str = "a temperature difference with its unit is expected, °C, K or °F: `2 °C`";
        let (value, unit) = split_number(text).map_err(|e| ReadError::new(e.message, HELP))?;
        match unit {
            "°C" | "C" | "degC" | "K" => Ok(Self(value)),
            "°F" | "F" | "degF" => Ok(Self(value / 1.8)),
            "" => Err(ReadError::new(format!("`{}` has no unit", text.trim()), HELP)),
            other => Err(ReadError::new(
                format!("`{other}` is not a unit of temperature"),
                HELP,
            )),
        }
    }
}

impl std::ops::Sub for Temperature {
    type Output = TempDiff;
    fn sub(self, o: Self) -> TempDiff {
        TempDiff(self.0 - o.0)
    }
}
impl std::ops::Add<TempDiff> for Temperature {
    type Output = Self;
    fn add(self, d: TempDiff) -> Self {
        Self(self.0 + d.0)
    }
}
impl std::ops::Sub<TempDiff> for Temperature {
    type Output = Self;
    fn sub(self, d: TempDiff) -> Self {
        Self(self.0 - d.0)
    }
}
impl std::ops::Mul<f64> for TempDiff {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        Self(self.0 * k)
    }
}
