//! Texts of a picture as outlines of letters: a picture in pixels needs no reader of fonts behind it.
//!
//! Does for texts as `svg.rs` writes them, one a line and from left to right, what a shaper does: letters one behind
//! the other, kerned by the font's own table. Marks that are written as characters of their own keep the place that
//! their letter form has by itself.

use super::svg::Mark;
use std::fmt::Write as _;
use ttf_parser::gpos::{PairAdjustment, PositioningSubtable};
use ttf_parser::opentype_layout::Lookup;
use ttf_parser::{Face, FaceParsingError, GlyphId, OutlineBuilder, Tag};

/// The picture with a path in the place of every text.
///
/// # Errors
/// When the fonts in the program do not read.
pub(super) fn outlined(svg: &str) -> Result<String, FaceParsingError> {
    let regular = Font::read(notosans::REGULAR_TTF)?;
    let bold = Font::read(notosans::BOLD_TTF)?;
    let mut out = String::with_capacity(4 * svg.len());
    for line in svg.lines() {
        if line.starts_with("<text") {
            let (tag, content) = line.split_once('>').unwrap_or((line, ""));
            let bold_face = Mark(tag).get("font-weight") == "700";
            let font = if bold_face { &bold } else { &regular };
            font.draw(
                Mark(tag),
                &characters(content.trim_end_matches("</text>")),
                &mut out,
            );
        } else {
            out.push_str(line);
            out.push('\n');
        }
    }
    Ok(out)
}

/// What is shown of a text in a file: entities read, spaces as they collapse.
fn characters(content: &str) -> String {
    let words: Vec<&str> = content.split(' ').filter(|word| !word.is_empty()).collect();
    // The ampersand last, so that what it brings is not read again.
    words
        .join(" ")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&apos;", "'")
        .replace("&#39;", "'")
        .replace("&amp;", "&")
}

/// Characters that have no look of their own (Unicode: Default_Ignorable_Code_Point, those that may stand in a text).
const fn unseen(c: char) -> bool {
    matches!(
        c,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}'
            | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}'
            | '\u{fff0}'..='\u{fff8}' | '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e0fff}'
    )
}

/// A font and the lookups of its kerning.
struct Font {
    face: Face<'static>,
    kerning: Vec<Lookup<'static>>,
}

impl Font {
    fn read(bytes: &'static [u8]) -> Result<Self, FaceParsingError> {
        let face = Face::parse(bytes, 0)?;
        let kerning = face.tables().gpos.map_or_else(Vec::new, |gpos| {
            // These fonts kern all their scripts by the same lookups.
            let feature = gpos.features.find(Tag::from_bytes(b"kern"));
            let indices = feature.into_iter().flat_map(|f| f.lookup_indices);
            indices.filter_map(|index| gpos.lookups.get(index)).collect()
        });
        Ok(Self { face, kerning })
    }

    /// Writes a text as a path, in units of the font, moved and scaled to its place.
    fn draw(&self, text: Mark<'_>, characters: &str, out: &mut String) {
        let (path, advance) = self.path(characters);
        if path.is_empty() {
            return;
        }
        let scale = text.number("font-size") / f64::from(self.face.units_per_em());
        let wide = f64::from(advance) * scale;
        let left = match text.get("text-anchor") {
            "end" => text.number("x") - wide,
            "middle" => text.number("x") - wide / 2.0,
            _ => text.number("x"),
        };
        let _ = writeln!(
            out,
            "<path transform=\"matrix({scale} 0 0 -{scale} {left} {})\" fill=\"{}\" d=\"{path}\"/>",
            text.get("y"),
            text.get("fill")
        );
    }

    /// The outline of a text from (0, 0) on, and how far it goes.
    fn path(&self, characters: &str) -> (String, i32) {
        let (mut path, mut pen, mut before) = (String::new(), 0_i32, None);
        for c in characters.chars().filter(|c| !unseen(*c)) {
            // Glyph 0 is the empty box that fonts have for characters which they lack.
            let glyph = self.face.glyph_index(c).unwrap_or(GlyphId(0));
            pen = pen.saturating_add(before.map_or(0, |before| self.kern(before, glyph)));
            let mut outline = Outline {
                path: &mut path,
                left: pen as f32,
            };
            self.face.outline_glyph(glyph, &mut outline);
            let advance = self.face.glyph_hor_advance(glyph).unwrap_or_default();
            pen = pen.saturating_add(i32::from(advance));
            before = Some(glyph);
        }
        (path, pen)
    }

    /// What the font moves a letter behind another by: the first subtable that knows the pair.
    fn kern(&self, left: GlyphId, right: GlyphId) -> i32 {
        let subtables = |lookup: &Lookup<'static>| lookup.subtables.into_iter::<PositioningSubtable<'_>>();
        let mut tables = self.kerning.iter().flat_map(subtables);
        let shift = tables.find_map(|table| {
            let PositioningSubtable::Pair(pairs) = table else {
                return None;
            };
            let covered = pairs.coverage().get(left)?;
            let (first, _) = match pairs {
                PairAdjustment::Format1 { sets, .. } => sets.get(covered)?.get(right)?,
                PairAdjustment::Format2 { classes, matrix, .. } => {
                    matrix.get((classes.0.get(left), classes.1.get(right)))?
                }
            };
            Some(first.x_advance)
        });
        shift.map_or(0, i32::from)
    }
}

/// Takes the outline of a letter down as SVG.
struct Outline<'a> {
    path: &'a mut String,
    left: f32,
}

impl OutlineBuilder for Outline<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.path, "M{} {y}", self.left + x);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.path, "L{} {y}", self.left + x);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let left = self.left;
        let _ = write!(self.path, "Q{} {y1} {} {y}", left + x1, left + x);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let left = self.left;
        let _ = write!(
            self.path,
            "C{} {y1} {} {y2} {} {y}",
            left + x1,
            left + x2,
            left + x
        );
    }

    fn close(&mut self) {
        self.path.push('Z');
    }
}
