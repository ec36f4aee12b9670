//! A picture in a page: drawn for each width, of which the page shows one.

use crate::chart::{Svg, Width};
use maud::{Markup, PreEscaped, html};

/// How a width is called in the style sheet: narrow, page, extra wide.
const fn class(width: Width) -> &'static str {
    match width {
        Width::Page => "p",
        Width::Wide => "x",
    }
}

/// A picture drawn for these widths, the page's last.
pub(super) fn picture(id: &str, widths: &[Width], draw: impl Fn(Width) -> Svg) -> Markup {
    html! {
        figure.pic id={ "pic-" (id) } {
            @for width in widths {
                div class=(class(*width)) {
                    (PreEscaped(draw(*width).inside(&format!("{id}-{}", width.pixels())).element))
                }
            }
        }
    }
}

/// For the words beside it.
pub(super) const BESIDE: &[Width] = &[Width::Page];
/// Across the whole page.
pub(super) const ACROSS: &[Width] = &[Width::Wide, Width::Page];
