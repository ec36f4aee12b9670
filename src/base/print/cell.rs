//! Cells of tables that a spreadsheet opens.

use std::borrow::Cow;

/// How text begins that a spreadsheet might run.
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// Text as a cell that a spreadsheet shows and never runs: what begins like a formula, and is no number, stands behind a `'`;
/// so does what begins so behind a `'`, so that [`text_of`] brings back the same text.
#[must_use]
pub fn cell(text: &str) -> Cow<'_, str> {
    if guarded(text) {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

/// The text of a cell that [`cell`] made.
#[must_use]
pub fn text_of(cell: &str) -> &str {
    cell.strip_prefix('\'')
        .filter(|text| guarded(text))
        .unwrap_or(cell)
}

fn guarded(text: &str) -> bool {
    text.trim_start_matches('\'').starts_with(FORMULA) && text.parse::<f64>().is_err()
}

#[cfg(test)]
mod tests {
    use super::{cell, text_of};

    #[test]
    fn nothing_is_run_as_a_formula() {
        for (text, told) in [
            ("=1+1", "'=1+1"),
            ("+cmd|x", "'+cmd|x"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("-2+3", "'-2+3"),
            ("'=1", "''=1"),
            ("-4", "-4"),
            ("+1.5", "+1.5"),
            ("A1", "A1"),
            ("'quoted'", "'quoted'"),
            ("", ""),
        ] {
            assert_eq!(cell(text), told);
            assert_eq!(text_of(told), text);
        }
    }
}
