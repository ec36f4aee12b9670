//! From text to a quantity: `12 L`, `3gal`, `1.2 dm2/L`.

use super::quantity::Quantity;

/// Why a text is no quantity of the kind asked for. The sentence is ready to be shown.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct ReadError {
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub help: String,
}

impl ReadError {
    /// A refusal with its remedy.
    pub fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            help: help.into(),
        }
    }
}

/// Splits `12.5 dm2/L` into its number and what follows, trimmed.
///
/// # Errors
/// When the text does not begin with a finite number. A comma is not accepted as decimal sign, since it is also
/// read as a thousands sign.
pub fn split_number(text: &str) -> Result<(f64, &str), ReadError> {
    let text = text.trim();
    let end = number_length(text);
    let (digits, rest) = text.split_at(end);
    if rest.starts_with(',') {
        return Err(ReadError::new(
            format!("`{text}` has a comma in its number"),
            "write the decimal sign as a point, 12.5",
        ));
    }
    match digits.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok((value, rest.trim())),
        _ => Err(ReadError::new(
            format!("`{text}` does not begin with a number"),
            "write a number, then its unit",
        )),
    }
}

fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let mut i = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    while i < bytes.len() && (bytes[i].is_ascii_digit() || bytes[i] == b'.') {
        i += 1;
    }
    let exponent = i < bytes.len() && matches!(bytes[i], b'e' | b'E');
    if exponent {
        let sign = usize::from(matches!(bytes.get(i + 1), Some(b'+' | b'-')));
        if bytes.get(i + 1 + sign).is_some_and(u8::is_ascii_digit) {
            i += 1 + sign;
            while i < bytes.len() && bytes[i].is_ascii_digit() {
                i += 1;
            }
        }
    }
    i
}

/// A bare number, finite.
///
/// # Errors
/// When the text is no number, or has anything after it.
pub fn number(text: &str) -> Result<f64, ReadError> {
    match split_number(text)? {
        (value, "") => Ok(value),
        (_, rest) => Err(ReadError::new(
            format!("`{rest}` after the number"),
            "write a plain number",
        )),
    }
}

/// Reads a quantity with its unit.
///
/// # Errors
/// When the number or the unit is missing or is of another kind; the help lists the units that fit.
pub fn read_quantity<Q: Quantity>(text: &str) -> Result<Q, ReadError> {
    let (value, unit) = split_number(text).map_err(|e| ReadError::new(e.message, expected::<Q>()))?;
    if unit.is_empty() {
        return Err(ReadError::new(
            format!("`{}` has no unit", text.trim()),
            expected::<Q>(),
        ));
    }
    let found = Q::UNITS.iter().find(|u| u.spellings.contains(&unit));
    match found {
        Some(u) if (value * u.factor).is_finite() => Ok(Q::from_base(value * u.factor)),
        Some(_) => Err(ReadError::new(
            format!("`{}` is too large", text.trim()),
            expected::<Q>(),
        )),
        None => Err(ReadError::new(
            format!("`{unit}` is not a unit of {}", bare_kind::<Q>()),
            expected::<Q>(),
        )),
    }
}

fn bare_kind<Q: Quantity>() -> &'static str {
    Q::KIND.trim_start_matches("an ").trim_start_matches("a ")
}

fn expected<Q: Quantity>() -> String {
    let names: Vec<&str> = Q::UNITS.iter().map(|u| u.spellings[0]).collect();
    format!(
        "{} with its unit is expected, one of: {}",
        Q::KIND,
        names.join(", ")
    )
}
