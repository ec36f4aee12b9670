//! Reads what matters off an SVG picture, for the tests of the pictures.

use tankday::chart::Svg;
use tankday::chart::width::{Weight, width};

/// One element: its tag, its attributes as written, its text.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Element<'a> {
    pub(crate) tag: &'a str,
    attributes: &'a str,
    pub(crate) text: &'a str,
}

impl<'a> Element<'a> {
    pub(crate) fn get(&self, key: &str) -> Option<&'a str> {
        let start = format!(" {key}=\"");
        let at = self.attributes.find(&start)? + start.len();
        self.attributes[at..].split('"').next()
    }

    pub(crate) fn number(&self, key: &str) -> f64 {
        self.get(key)
            .and_then(|v| v.parse().ok())
            .unwrap_or_else(|| panic!("{key} in {self:?}"))
    }
}

/// All elements in order, the outermost first.
pub(crate) fn elements(svg: &Svg) -> Vec<Element<'_>> {
    let starts = svg
        .as_str()
        .split('<')
        .filter(|part| !part.is_empty() && !part.starts_with('/'));
    starts
        .map(|part| {
            let (head, text) = part
                .split_once('>')
                .unwrap_or_else(|| panic!("an open tag: {part}"));
            let tag = head.split([' ', '/']).next().unwrap_or_default();
            Element {
                tag,
                attributes: &head[tag.len()..],
                text: text.trim_end_matches('\n'),
            }
        })
        .collect()
}

/// Every colour that is written, as `#RRGGBB`.
pub(crate) fn colours(svg: &Svg) -> Vec<&str> {
    let all = elements(svg);
    let mut found: Vec<&str> = all
        .iter()
        .flat_map(|e| [e.get("fill"), e.get("stroke")])
        .flatten()
        .filter(|c| *c != "none")
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// A text as read: entities resolved.
pub(crate) fn read(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&apos;", "'")
        .replace("&amp;", "&")
}

/// A label: what it says, and the box that its letters fill in Noto Sans.
#[derive(Debug)]
pub(crate) struct Label {
    pub(crate) text: String,
    pub(crate) left: f64,
    pub(crate) right: f64,
    pub(crate) top: f64,
    pub(crate) bottom: f64,
}

/// All labels that say something.
pub(crate) fn labels(svg: &Svg) -> Vec<Label> {
    /// What the width table adds for other fonts.
    const ALLOWANCE: f64 = 1.08;
    let texts = elements(svg).into_iter().filter(|e| e.tag == "text");
    let label = |e: Element<'_>| {
        let (text, size) = (read(e.text), e.number("font-size"));
        let weight = if e.get("font-weight").is_some() {
            Weight::Bold
        } else {
            Weight::Regular
        };
        let wide = width(&text, size, weight) / ALLOWANCE;
        let left = match e.get("text-anchor") {
            Some("middle") => e.number("x") - wide / 2.0,
            Some("end") => e.number("x") - wide,
            _ => e.number("x"),
        };
        Label {
            text,
            left,
            right: left + wide,
            top: e.number("y") - 0.74 * size,
            bottom: e.number("y") + 0.2 * size,
        }
    };
    texts.map(label).filter(|l| !l.text.is_empty()).collect()
}

/// All points of all paths.
pub(crate) fn points(svg: &Svg) -> Vec<(f64, f64)> {
    let elements = elements(svg);
    let paths = elements.iter().filter_map(|e| e.get("d"));
    paths.flat_map(corners).collect()
}

/// The points of one path.
pub(crate) fn corners(path: &str) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    let (mut x, mut y) = (0.0, 0.0);
    let starts: Vec<usize> = path
        .match_indices(|c: char| c.is_ascii_uppercase())
        .map(|m| m.0)
        .collect();
    for (i, start) in starts.iter().enumerate() {
        let end = starts.get(i + 1).copied().unwrap_or(path.len());
        let numbers: Vec<f64> = path[start + 1..end]
            .split_whitespace()
            .map(|n| n.parse().unwrap_or_else(|_| panic!("{n} in {path}")))
            .collect();
        match (&path[*start..=*start], numbers.as_slice()) {
            ("M" | "L", [a, b]) => (x, y) = (*a, *b),
            ("H", [a]) => x = *a,
            ("V", [b]) => y = *b,
            ("Z", []) => continue,
            other => panic!("{other:?} in {path}"),
        }
        all.push((x, y));
    }
    all
}
