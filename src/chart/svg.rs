//! A finished picture, and the way from the text that plotters writes to it.
//!
//! plotters counts in whole pixels and has no accessible names. So pictures are drawn on a canvas of tenths of a
//! pixel; here the numbers are divided by ten, strokes of one kind that follow each other become one path, what says
//! nothing is left out, and title and description are put in.

use super::pen::{PER_PIXEL, dash_of};
use super::theme::Token;
use std::fmt::Write as _;

/// A picture as SVG text, with its size in pixels and what it says in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Svg {
    text: String,
    width: u32,
    height: u32,
    /// Where in the text the heading ends and the picture proper begins; pixels of the heading.
    body: usize,
    top: u32,
    alt: Alt,
}

impl Svg {
    /// The whole file: in light colours, with its heading, on its own ground.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.text
    }

    /// Width in pixels.
    #[must_use]
    pub const fn width(&self) -> u32 {
        self.width
    }

    /// Height in pixels.
    #[must_use]
    pub const fn height(&self) -> u32 {
        self.height
    }

    /// What the picture is called; the first line of its heading.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.alt.title
    }

    /// What it shows, in a sentence or two; the heading of the file says the same.
    #[must_use]
    pub fn finding(&self) -> &str {
        &self.alt.finding
    }

    /// The text alternative: what is shown, then the finding in numbers.
    #[must_use]
    pub fn description(&self) -> &str {
        &self.alt.desc
    }

    /// To stand in a page that says title and finding itself: without heading and ground, colours as `var(--token)` by
    /// the names of [`Token::name`].
    #[must_use]
    pub fn inline(&self) -> String {
        let high = self.height - self.top;
        let mut out = opening(&self.alt, (0, self.top), (self.width, high));
        let mut rest = self.text.get(self.body..).unwrap_or_default();
        while let Some(at) = rest.find("\"#") {
            let (before, colour) = rest.split_at(at + 1);
            out.push_str(before);
            let (colour, after) = colour.split_at(colour.len().min(7));
            match Token::ALL.iter().find(|t| t.hex() == colour) {
                Some(token) => {
                    let _ = write!(out, "var(--{})", token.name());
                }
                None => out.push_str(colour),
            }
            rest = after;
        }
        out.push_str(rest);
        out
    }
}

impl std::fmt::Display for Svg {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)
    }
}

/// What a picture says of itself to those who do not see it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Alt {
    /// Begins the ids in the picture; with the width behind it unique on a page.
    pub(super) id: String,
    /// Its name.
    pub(super) title: String,
    /// What is found, in numbers.
    pub(super) finding: String,
    /// What it shows, then the finding in numbers.
    pub(super) desc: String,
}

/// The tag that opens a picture, with its name and description.
fn opening(alt: &Alt, (x, y): (u32, u32), (width, height): (u32, u32)) -> String {
    let id = format!("{}-{width}", alt.id);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"{x} {y} {width} {height}\" \
         role=\"img\" aria-labelledby=\"{id}-t {id}-d\" font-family=\"sans-serif\">\n\
         <title id=\"{id}-t\">{}</title>\n<desc id=\"{id}-d\">{}</desc>\n",
        escaped(&alt.title),
        escaped(&alt.desc),
    )
}

/// Makes a picture of what plotters drew on canvases of `PER_PIXEL` to the pixel: the heading, and what stands below it
/// from pixel `top` on.
pub(super) fn finished((head, body): (&str, &str), (width, height): (u32, u32), top: u32, alt: Alt) -> Svg {
    let mut text = opening(&alt, (0, 0), (width, height));
    let _ = writeln!(
        text,
        "<rect width=\"{width}\" height=\"{height}\" fill=\"{}\"/>",
        Token::Paper.hex()
    );
    rewritten(head, &mut text);
    let body_at = text.len();
    rewritten(body, &mut text);
    text.push_str("</svg>\n");
    Svg {
        text,
        width,
        height,
        body: body_at,
        top,
        alt,
    }
}

/// What plotters drew, in pixels and shorter.
fn rewritten(drawn: &str, text: &mut String) {
    let mut lines = drawn.lines();
    let mut path = Path::default();
    while let Some(line) = lines.next() {
        let mark = Mark(line);
        if line.starts_with("<polyline") {
            path.stroke(mark, text);
        } else if line.starts_with("<polygon") {
            path.fill(mark, text);
        } else {
            path.flush(text);
            if line.starts_with("<text") {
                words(mark, lines.next().unwrap_or_default(), text);
            } else {
                area(mark, text);
            }
        }
    }
    path.flush(text);
}

/// One element as plotters writes it, on a line of its own.
#[derive(Clone, Copy)]
pub(super) struct Mark<'a>(pub(super) &'a str);

impl<'a> Mark<'a> {
    pub(super) fn get(self, key: &str) -> &'a str {
        let start = format!(" {key}=\"");
        let Some(at) = self.0.find(&start) else { return "" };
        let rest = self.0.get(at + start.len()..).unwrap_or_default();
        rest.split('"').next().unwrap_or_default()
    }

    pub(super) fn number(self, key: &str) -> f64 {
        self.get(key).parse().unwrap_or(0.0)
    }

    fn pixels(self, key: &str) -> String {
        short(self.number(key) / PER_PIXEL)
    }
}

/// Written with at most two places, without needless zeros.
fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// Strokes, or filled shapes, of one look that follow each other.
#[derive(Default)]
struct Path {
    look: String,
    path: String,
    /// What the paths of an open group share.
    group: String,
}

impl Path {
    fn stroke(&mut self, mark: Mark<'_>, out: &mut String) {
        let (colour, opacity) = (mark.get("stroke"), mark.get("opacity"));
        let (width, dash) = dash_of(mark.get("stroke-width").parse().unwrap_or(0));
        let width = short(f64::from(width) / PER_PIXEL);
        let dash = dash.map_or(String::new(), |(on, off)| {
            format!(" stroke-dasharray=\"{} {}\"", short(on), short(off))
        });
        let look = format!("stroke=\"{colour}\" stroke-width=\"{width}\"{dash} fill=\"none\"");
        if opacity == "1" || opacity.is_empty() {
            self.add(look, mark, false, out);
            return;
        }
        // A path of its own for each, so that all renderers add up many of them alike; what they share is said once.
        let look = format!("{look} stroke-opacity=\"{opacity}\"");
        if self.group != look {
            self.flush(out);
            let _ = writeln!(out, "<g {look}>");
            self.group = look;
        }
        let mut own = Self::default();
        own.add(String::new(), mark, false, out);
        let _ = writeln!(out, "<path d=\"{}\"/>", own.path);
    }

    fn fill(&mut self, mark: Mark<'_>, out: &mut String) {
        self.add(format!("fill=\"{}\"", mark.get("fill")), mark, true, out);
    }

    fn add(&mut self, look: String, mark: Mark<'_>, filled: bool, out: &mut String) {
        if self.look != look || !self.group.is_empty() {
            self.flush(out);
            self.look = look;
        }
        let points: Vec<&str> = mark.get("points").split_whitespace().collect();
        let closed = points.len() > 2 && points.first() == points.last();
        let open = points.len() - usize::from(closed);
        let mut before = None;
        for point in points.iter().take(open).map(|p| pair(p)) {
            match before {
                None => self.path.push_str(&format!("M{} {}", point.0, point.1)),
                Some((_, ref y)) if *y == point.1 => self.path.push_str(&format!("H{}", point.0)),
                Some((ref x, _)) if *x == point.0 => self.path.push_str(&format!("V{}", point.1)),
                Some(_) => self.path.push_str(&format!("L{} {}", point.0, point.1)),
            }
            before = Some(point);
        }
        if closed || filled {
            self.path.push('Z');
        }
    }

    fn flush(&mut self, out: &mut String) {
        if !self.path.is_empty() {
            let _ = writeln!(out, "<path d=\"{}\" {}/>", self.path, self.look);
        }
        if !self.group.is_empty() {
            out.push_str("</g>\n");
        }
        *self = Self::default();
    }
}

fn pair(point: &str) -> (String, String) {
    let number = |text: &str| short(text.parse::<f64>().unwrap_or(0.0) / PER_PIXEL);
    let (x, y) = point.split_once(',').unwrap_or((point, "0"));
    (number(x), number(y))
}

fn words(mark: Mark<'_>, content: &str, out: &mut String) {
    let size = mark.number("font-size").round();
    // plotters hangs a text by its top, 0.76 of the size above the line that it stands on.
    let y = mark.number("y") + 0.76 * size;
    let _ = write!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"",
        mark.pixels("x"),
        short(y / PER_PIXEL),
        short(size / PER_PIXEL),
        mark.get("fill")
    );
    match mark.get("text-anchor") {
        "start" | "" => {}
        anchor => {
            let _ = write!(out, " text-anchor=\"{anchor}\"");
        }
    }
    if mark.get("font-weight") == "bold" {
        out.push_str(" font-weight=\"700\"");
    }
    let _ = writeln!(out, ">{content}</text>");
}

fn area(mark: Mark<'_>, out: &mut String) {
    let fill = mark.get("fill");
    if mark.0.starts_with("<rect") {
        let [x, y, w, h] = ["x", "y", "width", "height"].map(|key| mark.pixels(key));
        let _ = writeln!(
            out,
            "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"{fill}\"/>"
        );
    } else if mark.0.starts_with("<circle") {
        let [x, y, r] = ["cx", "cy", "r"].map(|key| mark.pixels(key));
        let _ = writeln!(out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"{fill}\"/>");
    }
}

/// Text as it may stand in an SVG file; what XML has no place for becomes a space.
pub(super) fn plain(text: &str) -> String {
    let forbidden =
        |c: char| c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}' | '\u{2028}' | '\u{2029}');
    text.chars().map(|c| if forbidden(c) { ' ' } else { c }).collect()
}

fn escaped(text: &str) -> String {
    plain(text)
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}
