//! Texts in pixels: where they stand, how dark they are, what is drawn of characters that are rare.

use crate::frame::Width;
use crate::heading::Heading;
use crate::pen::{Anchor, Type, picture};
use crate::png::render;
use crate::svg::Alt;
use crate::theme::Token;
use crate::width::{Weight, advance};
use resvg::tiny_skia::Pixmap;

const SCALE: f64 = 4.0;
const SIZE: f64 = 16.0;
/// Where texts stand.
const PLACE: (f64, f64) = (150.0, 60.0);
/// What antialiasing and the bearings of letters may take, in pixels of the drawing.
const TOLERANCE: f64 = 1.6;

/// The pixels of a picture with one text and nothing else.
fn drawn(text: &str, weight: Weight, anchor: Anchor) -> Pixmap {
    let how = Type {
        size: SIZE,
        weight,
        ..Type::note(Token::Ink).anchored(anchor)
    };
    let alt = Alt {
        id: "one-word".to_owned(),
        title: "Vise jaws".to_owned(),
        finding: String::new(),
        desc: "Nobody sees this.".to_owned(),
    };
    let heading = Heading::plain("", "", "", Width::Page);
    let svg = picture((300, 90), alt, &heading, |pen| pen.text(text, PLACE, how));
    assert_eq!(svg.as_str().matches("<text").count(), 1, "{}", svg.as_str());
    Pixmap::decode_png(&render(&svg, SCALE).unwrap()).unwrap()
}

fn regular(text: &str) -> Pixmap {
    drawn(text, Weight::Regular, Anchor::Start)
}

/// How dark a picture is altogether, in whole black pixels of it.
fn ink(pixels: &Pixmap) -> f64 {
    let ground = 0xfc;
    let dark = pixels
        .pixels()
        .iter()
        .map(|p| f64::from(ground - p.red().min(ground)));
    dark.sum::<f64>() / f64::from(ground)
}

/// The pixels that are clearly darker than the ground: left, right, top and bottom, in pixels of the drawing.
fn edges(pixels: &Pixmap) -> (f64, f64, f64, f64) {
    let wide = pixels.width() as usize;
    let dark = pixels.pixels().iter().enumerate().filter(|(_, p)| p.red() < 0xc0);
    let places: Vec<(usize, usize)> = dark.map(|(i, _)| (i % wide, i / wide)).collect();
    assert!(!places.is_empty(), "nothing is drawn");
    let least =
        |values: &dyn Fn(&(usize, usize)) -> usize| places.iter().map(values).min().unwrap() as f64 / SCALE;
    let most = |values: &dyn Fn(&(usize, usize)) -> usize| {
        (places.iter().map(values).max().unwrap() + 1) as f64 / SCALE
    };
    (least(&|p| p.0), most(&|p| p.0), least(&|p| p.1), most(&|p| p.1))
}

/// The width of a text by the table, without allowance.
fn by_table(text: &str, weight: Weight) -> f64 {
    let units: u32 = text.chars().map(|c| u32::from(advance(c, weight))).sum();
    f64::from(units) / 2_048.0 * SIZE
}

#[test]
fn a_text_stands_on_its_line_and_is_as_wide_as_the_table_says() {
    let (text, empty) = ("hinged lid", regular("\u{2003}"));
    assert!(
        ink(&empty) < 1.0,
        "title and description are not drawn: {}",
        ink(&empty)
    );
    for weight in [Weight::Regular, Weight::Bold] {
        let wide = by_table(text, weight);
        for (anchor, left) in [
            (Anchor::Start, PLACE.0),
            (Anchor::Middle, PLACE.0 - wide / 2.0),
            (Anchor::End, PLACE.0 - wide),
        ] {
            let (l, r, top, bottom) = edges(&drawn(text, weight, anchor));
            assert!(
                (0.0..TOLERANCE).contains(&(l - left)),
                "{weight:?} {anchor:?}: {l}, not {left}"
            );
            let right = left + wide;
            assert!(
                (0.0..TOLERANCE).contains(&(right - r)),
                "{weight:?} {anchor:?}: {r}, not {right}"
            );
            assert!(top > PLACE.1 - 0.85 * SIZE && top < PLACE.1 - 0.7 * SIZE, "{top}");
            assert!(
                bottom > PLACE.1 + 0.15 * SIZE && bottom < PLACE.1 + 0.3 * SIZE,
                "{bottom}"
            );
        }
    }
}

#[test]
fn bold_is_wider_and_darker() {
    let bold = drawn("hinged lid", Weight::Bold, Anchor::Start);
    let regular = regular("hinged lid");
    assert!(edges(&bold).1 > edges(&regular).1 + 2.0);
    assert!(
        ink(&bold) > 1.3 * ink(&regular),
        "{} {}",
        ink(&bold),
        ink(&regular)
    );
}

#[test]
fn what_is_escaped_in_the_file_is_one_character_in_the_picture() {
    for text in ["<", ">", "&", "\"", "'", "<&>\"'", "&lt;", "&amp;lt;"] {
        let (left, right, ..) = edges(&regular(text));
        let (wide, drawn) = (by_table(text, Weight::Regular), right - left);
        assert!(drawn <= wide && drawn > wide - 3.5, "{text}: {drawn} of {wide}");
    }
}

#[test]
fn spaces_collapse_as_they_do_in_a_browser() {
    assert_eq!(regular("  vise \t  jaws "), regular("vise jaws"));
    assert_ne!(regular("vise\u{a0}\u{a0}jaws"), regular("vise jaws"));
}

#[test]
fn letters_that_lean_apart_move_together() {
    let narrower = by_table("AVAVAV", Weight::Regular) - (edges(&regular("AVAVAV")).1 - PLACE.0);
    assert!(narrower > 1.0, "{narrower}");
}

#[test]
fn what_the_font_lacks_is_a_box_and_what_has_no_look_is_nothing() {
    let boxed = regular("\u{6f22}");
    assert!(ink(&boxed) > 50.0, "{}", ink(&boxed));
    assert_eq!(
        boxed,
        regular("\u{1f527}"),
        "every lacking character has the same box"
    );
    assert_eq!(regular("a\u{200d}\u{fe0f}\u{ad}b\u{feff}"), regular("ab"));
    let scripts = regular("\u{3b1}\u{416}\u{1e9e}\u{2192}\u{2212}");
    assert!(ink(&scripts) > 300.0, "{}", ink(&scripts));
}

#[test]
fn marks_that_are_characters_of_their_own_lie_on_their_letters() {
    for (apart, whole) in [
        ("O\u{308}VO\u{308}", "\u{d6}V\u{d6}"),
        ("xi\u{301}x", "x\u{ed}x"),
        ("e\u{301}", "\u{e9}"),
    ] {
        let (apart, whole) = (regular(apart), regular(whole));
        assert!((ink(&apart) / ink(&whole) - 1.0).abs() < 0.01);
        let (a, b) = (edges(&apart), edges(&whole));
        let off = [a.0 - b.0, a.1 - b.1, a.2 - b.2, a.3 - b.3];
        assert!(off.iter().all(|off| off.abs() <= 0.3), "{off:?}");
    }
    let twice = regular("\u{301}\u{301}");
    assert!(ink(&twice) > 1.0, "a mark without a letter is drawn as well");
}
