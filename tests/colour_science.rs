//! Contrast and colour distance, for the tests of the palette.
//!
//! Contrast: WCAG 2.2, "relative luminance" and "contrast ratio". Distance: CIEDE2000 after G. Sharma, W. Wu and
//! E. N. Dalal, Color Research and Application 30 (2005) 21-30. Dichromacy: G. M. Machado, M. M. Oliveira and
//! L. A. F. Fernandes, IEEE Transactions on Visualization and Computer Graphics 15 (2009) 1291-1298, severity 1, on
//! linear RGB; their matrix for tritanopia is a rough guess by their own account.

use libm::{atan2, cos, exp, hypot, pow, sin, sqrt};

pub(crate) type Triple = [f64; 3];

fn linear(value: u32) -> Triple {
    [16, 8, 0].map(|shift| {
        let c = f64::from(value >> shift & 255) / 255.0;
        if c <= 0.04045 {
            c / 12.92
        } else {
            pow((c + 0.055) / 1.055, 2.4)
        }
    })
}

fn luminance([r, g, b]: Triple) -> f64 {
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// Contrast ratio of two colours `0xRRGGBB`.
pub(crate) fn contrast(a: u32, b: u32) -> f64 {
    let (a, b) = (luminance(linear(a)), luminance(linear(b)));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Who looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Eye {
    Full,
    Protan,
    Deutan,
    Tritan,
}

impl Eye {
    fn matrix(self) -> [Triple; 3] {
        match self {
            Self::Full => [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            Self::Protan => [
                [0.152286, 1.052583, -0.204868],
                [0.114503, 0.786281, 0.099216],
                [-0.003882, -0.048116, 1.051998],
            ],
            Self::Deutan => [
                [0.367322, 0.860646, -0.227968],
                [0.280085, 0.672501, 0.047413],
                [-0.011820, 0.042940, 0.968881],
            ],
            Self::Tritan => [
                [1.255528, -0.076749, -0.178779],
                [-0.078411, 0.930809, 0.147602],
                [0.004733, 0.691367, 0.303900],
            ],
        }
    }

    fn sees(self, value: u32) -> Triple {
        let v = linear(value);
        self.matrix()
            .map(|row| (row[0] * v[0] + row[1] * v[1] + row[2] * v[2]).clamp(0.0, 1.0))
    }
}

/// Linear sRGB to CIELAB under D65.
fn lab([r, g, b]: Triple) -> Triple {
    let x = (0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047;
    let y = 0.2126729 * r + 0.7151522 * g + 0.0721750 * b;
    let z = (0.0193339 * r + 0.1191920 * g + 0.9503041 * b) / 1.08883;
    let f = |t: f64| {
        let knee = 6.0 / 29.0;
        if t > knee * knee * knee {
            libm::cbrt(t)
        } else {
            t / (3.0 * knee * knee) + 4.0 / 29.0
        }
    };
    [116.0 * f(y) - 16.0, 500.0 * (f(x) - f(y)), 200.0 * (f(y) - f(z))]
}

/// Distance of two colours `0xRRGGBB` as an eye sees them.
pub(crate) fn distance(a: u32, b: u32, eye: Eye) -> f64 {
    ciede2000(lab(eye.sees(a)), lab(eye.sees(b)))
}

/// Angle of hue in degrees, 0 to 360.
fn hue(a: f64, b: f64) -> f64 {
    atan2(b, a).to_degrees().rem_euclid(360.0)
}

/// CIEDE2000 of two colours in CIELAB.
pub(crate) fn ciede2000([l1, a1, b1]: Triple, [l2, a2, b2]: Triple) -> f64 {
    let seventh = |c: f64| sqrt(pow(c, 7.0) / (pow(c, 7.0) + pow(25.0, 7.0)));
    let g = 0.5 * (1.0 - seventh((hypot(a1, b1) + hypot(a2, b2)) / 2.0));
    let (a1, a2) = (a1 * (1.0 + g), a2 * (1.0 + g));
    let (c1, c2) = (hypot(a1, b1), hypot(a2, b2));
    let (h1, h2) = (hue(a1, b1), hue(a2, b2));
    let grey = c1 * c2 == 0.0;
    let dh = if grey {
        0.0
    } else {
        (h2 - h1 + 180.0).rem_euclid(360.0) - 180.0
    };
    let mean_hue = match (grey, (h1 - h2).abs() <= 180.0, h1 + h2 < 360.0) {
        (true, ..) => h1 + h2,
        (_, true, _) => (h1 + h2) / 2.0,
        (_, _, true) => (h1 + h2 + 360.0) / 2.0,
        _ => (h1 + h2 - 360.0) / 2.0,
    };
    let (l, c) = ((l1 + l2) / 2.0, (c1 + c2) / 2.0);
    let wave = |k: f64, shift: f64| cos((k * mean_hue + shift).to_radians());
    let t = 1.0 - 0.17 * wave(1.0, -30.0) + 0.24 * wave(2.0, 0.0) + 0.32 * wave(3.0, 6.0)
        - 0.2 * wave(4.0, -63.0);
    let from_middle = (l - 50.0) * (l - 50.0);
    let lightness = (l2 - l1) / (1.0 + 0.015 * from_middle / sqrt(20.0 + from_middle));
    let chroma = (c2 - c1) / (1.0 + 0.045 * c);
    let hue = 2.0 * sqrt(c1 * c2) * sin((dh / 2.0).to_radians()) / (1.0 + 0.015 * c * t);
    let near_blue = (mean_hue - 275.0) / 25.0;
    let turn = -sin((60.0 * exp(-near_blue * near_blue)).to_radians()) * 2.0 * seventh(c);
    sqrt(lightness * lightness + chroma * chroma + hue * hue + turn * chroma * hue)
}
