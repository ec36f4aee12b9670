//! The table of text widths against the fonts themselves.

use tankday::chart::width::{Weight, advance, fitted, width, wrapped};

#[test]
fn texts_are_cut_and_wrapped_to_their_room() {
    let words = "vise jaws and plane lever caps";
    let cut = fitted(words, 13.0, Weight::Bold, 100.0);
    assert!(
        cut.ends_with('\u{2026}') && width(&cut, 13.0, Weight::Bold) <= 100.0,
        "{cut}"
    );
    assert_eq!(fitted(words, 13.0, Weight::Bold, 1_000.0), words);
    let lines = wrapped(words, 13.0, Weight::Regular, 100.0);
    assert_eq!(lines.join(" "), words);
    assert!(lines.len() > 1 && lines.iter().all(|l| width(l, 13.0, Weight::Regular) <= 100.0));
}

#[cfg(feature = "png")]
mod font {
    use super::*;

    fn u16_at(font: &[u8], at: usize) -> usize {
        usize::from(u16::from_be_bytes([font[at], font[at + 1]]))
    }

    fn u32_at(font: &[u8], at: usize) -> usize {
        (u16_at(font, at) << 16) + u16_at(font, at + 2)
    }

    /// Where a table of an OpenType font begins.
    fn table(font: &[u8], tag: &[u8; 4]) -> usize {
        let records = (0..u16_at(font, 4)).map(|i| 12 + 16 * i);
        let at = records.into_iter().find(|r| &font[*r..*r + 4] == tag);
        u32_at(font, at.unwrap() + 8)
    }

    /// The glyph of a character by the first subtable of format 4 (OpenType specification, `cmap`).
    fn glyph(font: &[u8], code: usize) -> usize {
        let cmap = table(font, b"cmap");
        let subtables = (0..u16_at(font, cmap + 2)).map(|i| cmap + u32_at(font, cmap + 8 + 8 * i));
        let t = subtables.into_iter().find(|t| u16_at(font, *t) == 4).unwrap();
        let twice = u16_at(font, t + 6);
        let segment = (0..twice)
            .step_by(2)
            .find(|i| u16_at(font, t + 14 + i) >= code)
            .unwrap();
        let start = u16_at(font, t + 16 + twice + segment);
        let delta = u16_at(font, t + 16 + 2 * twice + segment);
        let offset_at = t + 16 + 3 * twice + segment;
        assert!(start <= code, "U+{code:04X} is in the font");
        match u16_at(font, offset_at) {
            0 => (code + delta) & 0xffff,
            offset => (u16_at(font, offset_at + offset + 2 * (code - start)) + delta) & 0xffff,
        }
    }

    #[test]
    fn advances_are_those_of_the_fonts() {
        for (font, weight) in [
            (notosans::REGULAR_TTF, Weight::Regular),
            (notosans::BOLD_TTF, Weight::Bold),
        ] {
            assert_eq!(u16_at(font, table(font, b"head") + 18), 2_048, "units to the em");
            let long = u16_at(font, table(font, b"hhea") + 34);
            for code in (0x20..=0x7e).chain(0xa0..=0x17f) {
                let at = table(font, b"hmtx") + 4 * glyph(font, code).min(long - 1);
                let c = char::from_u32(code as u32).unwrap();
                assert_eq!(
                    usize::from(advance(c, weight)),
                    u16_at(font, at),
                    "{c} {weight:?}"
                );
            }
        }
    }
}
