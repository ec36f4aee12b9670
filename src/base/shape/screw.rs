//! Screws with coarse metric thread: socket heads (ISO 4762) and hexagon heads threaded to the head (ISO 4017).
//!
//! Basic 60° profile, crest P/8, root P/4; helix, chamfers, fillets and knurls are left aside. Published masses of
//! socket screws lie up to 12 % below, 8 % but for one size.

use super::plain::Solid;
use crate::units::{Area, Length, Share, Volume};
use core::f64::consts::PI;

/// Nominal sizes with coarse thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(missing_docs, reason = "each name says it all")]
pub enum Coarse {
    M3,
    M4,
    M5,
    M6,
    M8,
    M10,
    M12,
    M16,
}

/// What carries the driver.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Head {
    /// Cylinder with a hexagon socket, ISO 4762.
    Socket,
    /// Hexagon, threaded to the head, ISO 4017.
    Hexagon,
}

/// Dimensions of one size, mm.
struct Row {
    /// Diameter, pitch.
    thread: (f64, f64),
    /// Socket head: diameter, height, width across flats, depth (table of sizes of ISO 4762 / DIN 912 at
    /// engineeringhardware.com).
    socket: (f64, f64, f64, f64),
    /// Hexagon head: width across flats, height (ISO 4017, from memory, partly seen).
    hexagon: (f64, f64),
}

impl Coarse {
    /// Every size.
    pub const ALL: [Self; 8] = [
        Self::M3,
        Self::M4,
        Self::M5,
        Self::M6,
        Self::M8,
        Self::M10,
        Self::M12,
        Self::M16,
    ];

    /// The size of a nominal diameter, if it is listed.
    #[must_use]
    pub fn of(diameter: Length) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|size| (size.row().thread.0 - diameter.in_millimetres()).abs() < 1e-6)
    }

    const fn row(self) -> Row {
        let (thread, socket, hexagon) = match self {
            Self::M3 => ((3.0, 0.5), (5.5, 3.0, 2.5, 1.3), (5.5, 2.0)),
            Self::M4 => ((4.0, 0.7), (7.0, 4.0, 3.0, 2.0), (7.0, 2.8)),
            Self::M5 => ((5.0, 0.8), (8.5, 5.0, 4.0, 2.5), (8.0, 3.5)),
            Self::M6 => ((6.0, 1.0), (10.0, 6.0, 5.0, 3.0), (10.0, 4.0)),
            Self::M8 => ((8.0, 1.25), (13.0, 8.0, 6.0, 4.0), (13.0, 5.3)),
            Self::M10 => ((10.0, 1.5), (16.0, 10.0, 8.0, 5.0), (16.0, 6.4)),
            Self::M12 => ((12.0, 1.75), (18.0, 12.0, 10.0, 6.0), (18.0, 7.5)),
            Self::M16 => ((16.0, 2.0), (24.0, 16.0, 14.0, 8.0), (24.0, 10.0)),
        };
        Row {
            thread,
            socket,
            hexagon,
        }
    }
}

/// A screw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// Head.
    pub head: Head,
    /// Size.
    pub size: Coarse,
    /// Length under the head.
    pub length: Length,
}

/// Surface in mm2 and volume in mm3 of one millimetre of thread, of a diameter and pitch in mm.
fn thread(d: f64, pitch: f64) -> (f64, f64) {
    let height = 3.0f64.sqrt() / 2.0 * pitch;
    let root = d - 1.25 * height;
    let (across, down) = (pitch * 5.0 / 16.0, 0.625 * height);
    let flank = (across * across + down * down).sqrt();
    let area = (PI * d * pitch / 8.0 + PI * root * pitch / 4.0 + PI * (d + root) * flank) / pitch;
    let mean = d * d / 8.0 + root * root / 4.0 + 5.0 / 24.0 * (d * d + d * root + root * root);
    (area, PI / 4.0 * mean)
}

/// Surface of a thread by that of a plain cylinder of its diameter.
#[must_use]
pub fn thread_factor(size: Coarse) -> f64 {
    let (d, pitch) = size.row().thread;
    thread(d, pitch).0 / (PI * d)
}

impl Screw {
    /// Its shape; none for a length not above zero. The thread of a socket screw is 2 d + 12 mm long, and reaches the
    /// head up to three pitches beyond that.
    #[must_use]
    pub fn solid(&self) -> Option<Solid> {
        let length = self.length.in_millimetres();
        if !length.is_finite() || length <= 0.0 {
            return None;
        }
        let row = self.size.row();
        let (d, pitch) = row.thread;
        let threaded = match self.head {
            Head::Socket if length > 2.0 * d + 12.0 + 3.0 * pitch => 2.0 * d + 12.0,
            _ => length,
        };
        let (by_area, by_volume) = thread(d, pitch);
        let (head_area, head_volume) = self.head.of(&row);
        let plain = length - threaded;
        let area = head_area + by_area * threaded + PI * d * plain;
        let volume = head_volume + by_volume * threaded + PI / 4.0 * d * d * plain;
        Some(Solid {
            area: Area::square_metres(area * 1e-6),
            area_within: Share::percent(5.0),
            volume: Volume::cubic_metres(volume * 1e-9),
            volume_within: Share::percent(12.0),
        })
    }
}

impl Screw {
    /// Length from end to end, and the largest width across.
    #[must_use]
    pub fn outside(&self) -> (Length, Length) {
        let row = self.size.row();
        let (across, high) = match self.head {
            Head::Socket => (row.socket.0, row.socket.1),
            Head::Hexagon => (row.hexagon.0 * 2.0 / 3.0f64.sqrt(), row.hexagon.1),
        };
        (
            self.length + Length::millimetres(high),
            Length::millimetres(across),
        )
    }
}

impl Head {
    /// Surface in mm2 and volume in mm3 of a head; the far end of the shank stands for the face that the shank covers.
    fn of(self, row: &Row) -> (f64, f64) {
        let hexagon = |s: f64| (3.0f64.sqrt() / 2.0 * s * s, 2.0 * 3.0f64.sqrt() * s);
        match self {
            Self::Socket => {
                let (dk, k, s, deep) = row.socket;
                let (socket, around) = hexagon(s);
                (
                    PI * dk * k + PI / 2.0 * dk * dk + around * deep,
                    PI / 4.0 * dk * dk * k - socket * deep,
                )
            }
            Self::Hexagon => {
                let (s, k) = row.hexagon;
                let (face, around) = hexagon(s);
                (2.0 * face + around * k, face * k)
            }
        }
    }
}
