//! Texts of a picture as outlines of letters: a picture in pixels needs no reader of fonts behind it.
//!
//! Does for texts as `svg.rs` writes them, one a line and from left to right, what a shaper does: letters one behind
//! the other, kerned by the font's own table, and marks that are characters of their own set on their letters.

use super::svg::Mark;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use ttf_parser::gdef::GlyphClass;
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

/// The letter without its dot, where a mark goes in the place of that.
const fn undotted(c: char, next: Option<char>) -> char {
    match (c, next) {
        ('i', Some('\u{300}'..='\u{314}')) => '\u{131}',
        ('j', Some('\u{300}'..='\u{314}')) => '\u{237}',
        _ => c,
    }
}

/// What a feature of a font does. All scripts at once: these fonts have nothing that differs between them.
fn lookups(face: &Face<'static>, feature: &[u8; 4]) -> Vec<Lookup<'static>> {
    let Some(gpos) = face.tables().gpos else {
        return Vec::new();
    };
    let features = gpos.features.into_iter();
    let of_it = features.filter(|f| f.tag == Tag::from_bytes(feature));
    let indices: BTreeSet<u16> = of_it.flat_map(|f| f.lookup_indices).collect();
    indices.into_iter().filter_map(|i| gpos.lookups.get(i)).collect()
}

/// The first that is found in the tables of some lookups.
fn first<'a, T>(lookups: &[Lookup<'a>], what: impl FnMut(PositioningSubtable<'a>) -> Option<T>) -> Option<T> {
    let tables = |lookup: &Lookup<'a>| lookup.subtables.into_iter::<PositioningSubtable<'a>>();
    lookups.iter().flat_map(tables).find_map(what)
}

/// A font, how it kerns, and where it sets marks.
struct Font {
    face: Face<'static>,
    kerning: Vec<Lookup<'static>>,
    marks: Vec<Lookup<'static>>,
}

impl Font {
    fn read(bytes: &'static [u8]) -> Result<Self, FaceParsingError> {
        let face = Face::parse(bytes, 0)?;
        let (kerning, marks) = (lookups(&face, b"kern"), lookups(&face, b"mark"));
        Ok(Self { face, kerning, marks })
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
        let (mut path, mut pen, mut letter) = (String::new(), 0_i32, None);
        let mut seen = characters.chars().filter(|c| !unseen(*c)).peekable();
        while let Some(c) = seen.next() {
            let c = undotted(c, seen.peek().copied());
            // Glyph 0 is the empty box that fonts have for characters which they lack.
            let glyph = self.face.glyph_index(c).unwrap_or(GlyphId(0));
            if let Some((below, left)) = letter
                && let Some((x, y)) = self.mark(below, glyph)
            {
                self.outline(glyph, (x.saturating_add(left), y), &mut path);
                continue;
            }
            pen = pen.saturating_add(letter.map_or(0, |(before, _)| self.kern(before, glyph)));
            self.outline(glyph, (pen, 0), &mut path);
            letter = Some((glyph, pen));
            let advance = self.face.glyph_hor_advance(glyph).unwrap_or_default();
            pen = pen.saturating_add(i32::from(advance));
        }
        (path, pen)
    }

    fn outline(&self, glyph: GlyphId, (x, y): (i32, i32), path: &mut String) {
        let (left, up) = (x as f32, y as f32);
        self.face.outline_glyph(glyph, &mut Outline { path, left, up });
    }

    /// What the font moves a letter behind another by: the first table that knows the pair.
    fn kern(&self, left: GlyphId, right: GlyphId) -> i32 {
        let shift = first(&self.kerning, |table| {
            let PositioningSubtable::Pair(pairs) = table else {
                return None;
            };
            let covered = pairs.coverage().get(left)?;
            let (moved, _) = match pairs {
                PairAdjustment::Format1 { sets, .. } => sets.get(covered)?.get(right)?,
                PairAdjustment::Format2 { classes, matrix, .. } => {
                    matrix.get((classes.0.get(left), classes.1.get(right)))?
                }
            };
            Some(moved.x_advance)
        });
        shift.map_or(0, i32::from)
    }

    /// Where a mark lies, seen from the place of its letter: one anchor on the other. Nothing for what is no mark.
    fn mark(&self, letter: GlyphId, mark: GlyphId) -> Option<(i32, i32)> {
        if self.face.tables().gdef?.glyph_class(mark) != Some(GlyphClass::Mark) {
            return None;
        }
        first(&self.marks, |table| {
            let PositioningSubtable::MarkToBase(pairs) = table else {
                return None;
            };
            let (class, own) = pairs.marks.get(pairs.mark_coverage.get(mark)?)?;
            let its = pairs.anchors.get(pairs.base_coverage.get(letter)?, class)?;
            let apart = |to: i16, from: i16| i32::from(to) - i32::from(from);
            Some((apart(its.x, own.x), apart(its.y, own.y)))
        })
    }
}

/// Takes the outline of a letter down as SVG.
struct Outline<'a> {
    path: &'a mut String,
    left: f32,
    up: f32,
}

impl Outline<'_> {
    fn point(&mut self, command: &str, x: f32, y: f32) {
        let _ = write!(self.path, "{command}{} {}", self.left + x, self.up + y);
    }
}

impl OutlineBuilder for Outline<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.point("M", x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.point("L", x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.point("Q", x1, y1);
        self.point(" ", x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.point("C", x1, y1);
        self.point(" ", x2, y2);
        self.point(" ", x, y);
    }

    fn close(&mut self) {
        self.path.push('Z');
    }
}
