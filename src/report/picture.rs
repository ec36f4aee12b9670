//! A picture in a page: drawn for each width, of which the page shows one.

use crate::chart::{Svg, Width};
use maud::{Markup, PreEscaped, html};

/// How a width is called in the style sheet: narrow, page, extra wide.
const fn class(width: Width) -> &'static str {
    match width {
        Width::Phone => "n",
        Width::Page => "p",
        Width::Wide => "x",
    }
}

/// A picture drawn for these widths, the page's last; nothing where there is nothing to draw.
pub(super) fn picture(id: &str, widths: &[Width], draw: impl Fn(Width) -> Option<Svg>) -> Markup {
    html! {
        figure.pic id={ "pic-" (id) } {
            @for (width, svg) in widths.iter().filter_map(|w| Some((*w, draw(*w)?))) {
                div class=(class(width)) { (PreEscaped(svg.inline())) }
            }
        }
    }
}

/// For the words beside it.
pub(super) const BESIDE: &[Width] = &[Width::Phone, Width::Page];
/// Across the whole page.
pub(super) const ACROSS: &[Width] = &[Width::Phone, Width::Wide, Width::Page];
