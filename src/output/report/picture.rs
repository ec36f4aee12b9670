//! A picture in a page: drawn for each width, of which the page shows one.

use maud::{Markup, PreEscaped, html};
use tankday_chart::{Svg, Width};

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
                div class=(class(width)) { (PreEscaped(grouped(&svg.inline()))) }
            }
        }
    }
}

/// As many strokes of one look in a row are worth a group that has it once.
const WORTH: usize = 3;

/// The same picture in fewer bytes: strokes of one look that follow each other have it from a group around them. Each
/// stays a stroke of its own, so that pale ones add up as before.
fn grouped(svg: &str) -> String {
    let lines: Vec<&str> = svg.lines().collect();
    let mut text = String::with_capacity(svg.len());
    let mut rest = lines.as_slice();
    while let Some(line) = rest.first() {
        let look = stroke(line).map(|(_, look)| look);
        let same = |l: &&&str| look.is_some() && stroke(l).map(|(_, look)| look) == look;
        let many = rest.iter().take_while(same).count();
        match look {
            Some(look) if many >= WORTH => {
                text.push_str(&format!("<g {look}>"));
                for (shape, _) in rest.iter().take(many).filter_map(|l| stroke(l)) {
                    text.push_str(&format!("<path d=\"{shape}\"/>"));
                }
                text.push_str("</g>\n");
                rest = rest.get(many..).unwrap_or_default();
            }
            _ => {
                text.push_str(line);
                text.push('\n');
                rest = rest.get(1..).unwrap_or_default();
            }
        }
    }
    text
}

/// The shape of a path and its look, as written; none of what is no path.
fn stroke(line: &str) -> Option<(&str, &str)> {
    let (shape, look) = line.strip_prefix("<path d=\"")?.split_once("\" ")?;
    Some((shape, look.strip_suffix("/>")?))
}

/// For the words beside it.
pub(super) const BESIDE: &[Width] = &[Width::Phone, Width::Page];
/// Across the whole page.
pub(super) const ACROSS: &[Width] = &[Width::Phone, Width::Wide, Width::Page];

#[cfg(test)]
mod tests {
    use super::grouped;

    #[test]
    fn strokes_of_one_look_share_it() {
        let one = |shape: &str, look: &str| format!("<path d=\"{shape}\" {look}/>\n");
        let pale = "stroke=\"var(--axis)\" stroke-opacity=\"0.1\"";
        let svg = format!(
            "<svg>\n{}{}{}{}<text>a</text>\n</svg>\n",
            one("M0 0", "fill=\"none\""),
            one("M1 1H2", pale),
            one("M3 3", pale),
            one("M4 4", pale)
        );
        let expected = format!(
            "<svg>\n<path d=\"M0 0\" fill=\"none\"/>\n<g {pale}><path d=\"M1 1H2\"/><path d=\"M3 3\"/>\
             <path d=\"M4 4\"/></g>\n<text>a</text>\n</svg>\n"
        );
        assert_eq!(grouped(&svg), expected);
        assert_eq!(grouped(&expected), expected);
    }
}
