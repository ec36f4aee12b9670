//! The style sheet: colours by name for a bright screen, a dark one and paper, and what stands where.

use std::fmt::Write as _;
use tankday_chart::theme::{Look, Token};

const SHEET: &str = include_str!("style.css");

/// The whole style sheet of a page.
pub(super) fn style() -> String {
    let (light, dark, print) = (names(Look::Light), names(Look::Dark), names(Look::Print));
    format!(
        ":root{{{light}color-scheme:light}}\n\
         @media (prefers-color-scheme:dark){{:root:not([data-look=light]){{{dark}color-scheme:dark}}}}\n\
         :root[data-look=dark]{{{dark}color-scheme:dark}}\n\
         {SHEET}\
         @media print{{:root,:root[data-look],:root:not([data-look=light]){{{print}color-scheme:light}}}}\n"
    )
}

/// `--paper:#FCFBF8;` and so on.
fn names(look: Look) -> String {
    let mut names = String::new();
    for token in Token::ALL {
        let _ = write!(names, "--{}:#{:06X};", token.name(), token.value(look));
    }
    names
}
