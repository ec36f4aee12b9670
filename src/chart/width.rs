//! How wide a text is: advances of the Noto Sans fonts, which pictures are laid out for.
//!
//! Read from the tables `hmtx` and `cmap` of Noto Sans Regular and Bold (SIL Open Font License 1.1, its text beside this
//! file); a test reads them again. A reader's own sans-serif may be wider: [`width`] adds 8 %.

/// Whether a text is regular or bold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Regular.
    Regular,
    /// Bold.
    Bold,
}

/// Units of the advances to one size of the font.
const UNITS: f64 = 2_048.0;
/// What a reader's own font may be wider.
const ALLOWANCE: f64 = 1.08;
/// Advance of a character beyond the tables: two thirds of the size for scripts like Latin, Greek and Cyrillic, all of
/// it for those written in squares. An estimate, on the wide side.
const OTHER: u16 = 1_366;
const SQUARE: u16 = 2_048;

/// Advances of U+0020 to U+007E, regular, in 1/2048 of the size.
const REGULAR: [u16; 95] = [
    532, 551, 836, 1323, 1171, 1702, 1499, 461, 614, 614, 1128, 1171, 549, 659, 549, 762, 1171, 1171, 1171,
    1171, 1171, 1171, 1171, 1171, 1171, 1171, 549, 549, 1171, 1171, 1171, 889, 1841, 1309, 1331, 1294, 1495,
    1139, 1063, 1491, 1518, 694, 559, 1268, 1073, 1858, 1556, 1599, 1239, 1599, 1274, 1124, 1139, 1497, 1229,
    1905, 1200, 1159, 1171, 674, 762, 674, 1171, 909, 1188, 1149, 1260, 983, 1260, 1155, 705, 1260, 1266,
    528, 528, 1094, 528, 1915, 1266, 1239, 1260, 1260, 846, 981, 739, 1266, 1040, 1610, 1083, 1044, 963, 778,
    1128, 778, 1171,
];
/// The same, bold.
const BOLD: [u16; 95] = [
    532, 586, 967, 1323, 1171, 1845, 1536, 545, 694, 694, 1116, 1171, 584, 659, 584, 846, 1171, 1171, 1171,
    1171, 1171, 1171, 1171, 1171, 1171, 1171, 584, 584, 1171, 1171, 1171, 977, 1837, 1413, 1376, 1305, 1516,
    1147, 1124, 1483, 1567, 797, 678, 1360, 1157, 1931, 1665, 1630, 1286, 1630, 1352, 1128, 1186, 1548, 1331,
    1980, 1366, 1278, 1186, 678, 846, 678, 1171, 842, 1243, 1237, 1296, 1053, 1296, 1210, 793, 1296, 1346,
    625, 625, 1270, 625, 2011, 1346, 1268, 1296, 1296, 930, 1018, 889, 1346, 1165, 1753, 1184, 1165, 999,
    807, 1128, 807, 1171,
];
/// Advances of U+00A0 to U+017F, regular.
const REGULAR_LATIN: [u16; 224] = [
    532, 551, 1171, 1171, 1171, 1171, 1128, 1051, 1188, 1704, 731, 1042, 1171, 659, 1704, 1024, 877, 1171,
    717, 717, 1188, 1276, 1341, 549, 461, 717, 770, 1042, 1618, 1618, 1618, 889, 1309, 1309, 1309, 1309,
    1309, 1309, 1804, 1294, 1139, 1139, 1139, 1139, 694, 694, 694, 694, 1495, 1556, 1599, 1599, 1599, 1599,
    1599, 1171, 1599, 1497, 1497, 1497, 1497, 1159, 1239, 1292, 1149, 1149, 1149, 1149, 1149, 1149, 1769,
    983, 1155, 1155, 1155, 1155, 528, 528, 528, 528, 1239, 1266, 1239, 1239, 1239, 1239, 1239, 1171, 1239,
    1266, 1266, 1266, 1266, 1044, 1260, 1044, 1309, 1149, 1309, 1149, 1309, 1149, 1294, 983, 1294, 983, 1294,
    983, 1294, 983, 1495, 1260, 1495, 1264, 1139, 1155, 1139, 1155, 1139, 1155, 1139, 1155, 1139, 1155, 1491,
    1260, 1491, 1260, 1491, 1260, 1491, 1260, 1518, 1266, 1518, 1266, 694, 528, 694, 528, 694, 528, 694, 528,
    694, 528, 1253, 1053, 559, 528, 1268, 1094, 1094, 1073, 528, 1073, 528, 1073, 528, 1073, 666, 1073, 528,
    1556, 1266, 1556, 1266, 1556, 1266, 1415, 1556, 1266, 1599, 1239, 1599, 1239, 1599, 1239, 1901, 1937,
    1274, 846, 1274, 846, 1274, 846, 1124, 981, 1124, 981, 1124, 981, 1124, 981, 1139, 739, 1139, 739, 1139,
    739, 1497, 1266, 1497, 1266, 1497, 1266, 1497, 1266, 1497, 1266, 1497, 1266, 1905, 1610, 1159, 1044,
    1159, 1171, 963, 1171, 963, 1171, 963, 668,
];
/// The same, bold.
const BOLD_LATIN: [u16; 224] = [
    532, 586, 1171, 1171, 1171, 1171, 1128, 995, 1243, 1704, 784, 1260, 1171, 659, 1704, 1024, 877, 1171,
    776, 776, 1243, 1352, 1341, 584, 420, 776, 795, 1260, 1804, 1804, 1804, 977, 1413, 1413, 1413, 1413,
    1413, 1413, 1950, 1305, 1147, 1147, 1147, 1147, 797, 797, 797, 797, 1516, 1665, 1630, 1630, 1630, 1630,
    1630, 1171, 1630, 1548, 1548, 1548, 1548, 1278, 1286, 1456, 1237, 1237, 1237, 1237, 1237, 1237, 1878,
    1053, 1210, 1210, 1210, 1210, 625, 625, 625, 625, 1268, 1346, 1268, 1268, 1268, 1268, 1268, 1171, 1268,
    1346, 1346, 1346, 1346, 1165, 1296, 1165, 1413, 1237, 1413, 1237, 1413, 1237, 1305, 1053, 1305, 1053,
    1305, 1053, 1305, 1053, 1516, 1296, 1516, 1329, 1147, 1210, 1147, 1210, 1147, 1210, 1147, 1210, 1147,
    1210, 1483, 1296, 1483, 1296, 1483, 1296, 1483, 1296, 1567, 1346, 1567, 1346, 797, 625, 797, 625, 797,
    625, 797, 625, 797, 625, 1475, 1210, 678, 625, 1360, 1270, 1270, 1157, 625, 1157, 625, 1157, 625, 1157,
    877, 1157, 625, 1665, 1346, 1665, 1346, 1665, 1346, 1595, 1665, 1346, 1630, 1268, 1630, 1268, 1630, 1268,
    1993, 2003, 1352, 930, 1352, 930, 1352, 930, 1128, 1018, 1128, 1018, 1128, 1018, 1128, 1018, 1186, 889,
    1186, 889, 1186, 889, 1548, 1346, 1548, 1346, 1548, 1346, 1548, 1346, 1548, 1346, 1548, 1346, 1980, 1753,
    1278, 1165, 1278, 1186, 999, 1186, 999, 1186, 999, 784,
];

/// Advance of one character in 1/2048 of the size.
#[must_use]
pub fn advance(c: char, weight: Weight) -> u16 {
    let (ascii, latin) = match weight {
        Weight::Regular => (&REGULAR, &REGULAR_LATIN),
        Weight::Bold => (&BOLD, &BOLD_LATIN),
    };
    let code = c as usize;
    let known = match code {
        0x20..=0x7e => ascii.get(code - 0x20),
        0xa0..=0x17f => latin.get(code - 0xa0),
        _ => None,
    };
    known
        .copied()
        .unwrap_or(if code >= 0x1100 && !(0x2000..0x2030).contains(&code) {
            SQUARE
        } else {
            OTHER
        })
}

/// Width of a text in pixels at a size in pixels, with an allowance for the reader's own font.
#[must_use]
pub fn width(text: &str, size: f64, weight: Weight) -> f64 {
    let units: u64 = text.chars().map(|c| u64::from(advance(c, weight))).sum();
    units as f64 / UNITS * size * ALLOWANCE
}

/// The text, or as much of it as fits into `room` pixels, with an ellipsis.
#[must_use]
pub fn fitted(text: &str, size: f64, weight: Weight, room: f64) -> String {
    if width(text, size, weight) <= room {
        return text.to_owned();
    }
    let mut short = String::new();
    for c in text.chars() {
        short.push(c);
        short.push('\u{2026}');
        let fits = width(&short, size, weight) <= room;
        short.pop();
        if !fits {
            short.pop();
            break;
        }
    }
    format!("{}\u{2026}", short.trim_end())
}

/// The text in lines no wider than `room` pixels, broken at spaces; a longer word stands alone, cut.
#[must_use]
pub fn wrapped(text: &str, size: f64, weight: Weight, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match (longer, lines.last_mut()) {
            (Some(longer), Some(line)) if width(&longer, size, weight) <= room => *line = longer,
            _ => lines.push(fitted(word, size, weight, room)),
        }
    }
    lines
}
