//! The colours of all pictures, by what they are for.
//!
//! Hues start from the eight published by M. Okabe and K. Ito (Color Universal Design, 2002, revised 2008), darkened or
//! lightened until the contrasts and distances in the tests held. Every value is unique within its look: a finished
//! picture can be given another look by exact replacement.

use plotters::style::RGBColor;

/// For what light a picture is coloured. Pictures are drawn in [`Look::Light`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// On a bright screen, and in files.
    Light,
    /// On a dark screen.
    Dark,
    /// On paper.
    Print,
}

macro_rules! tokens {
    ($($(#[$doc:meta])* $token:ident $name:literal $light:literal $dark:literal $print:literal,)+) => {
        /// What a colour is for.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Token { $($(#[$doc])* $token,)+ }

        impl Token {
            /// All of them.
            pub const ALL: &'static [Self] = &[$(Self::$token),+];

            /// Its name in a style sheet.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$token => $name),+ }
            }

            /// Red, green and blue in one number, `0xRRGGBB`.
            #[must_use]
            pub const fn value(self, look: Look) -> u32 {
                match (self, look) { $(
                    (Self::$token, Look::Light) => $light,
                    (Self::$token, Look::Dark) => $dark,
                    (Self::$token, Look::Print) => $print,
                )+ }
            }
        }
    };
}

tokens! {
    /// Ground.
    Paper "paper" 0xFCFBF8 0x14181C 0xFFFFFF,
    /// Break, boxes, reckoned ahead.
    Panel "panel" 0xF1EFE8 0x20262C 0xF4F4F4,
    /// Text, closing, promised.
    Ink "ink" 0x1B2126 0xECEAE3 0x000000,
    /// Second text, ticks' words.
    Ink2 "ink2" 0x505A63 0xB3BAC1 0x3C3C3C,
    /// Axes, ticks, pale lines.
    Axis "axis" 0x737C85 0x8C96A0 0x6A6A6A,
    /// Grid, table rows.
    Grid "grid" 0xDDDAD1 0x333B43 0xD6D6D6,
    /// Links, focus.
    Link "link" 0x0A5286 0x8FCBF5 0x000001,
    /// Coating; the main curve.
    Coat "coat" 0x0B4F7D 0x8CCBF7 0x123F5F,
    /// Edge of coating.
    CoatE "coat-e" 0x073552 0xCBE8FD 0x0A2536,
    /// Words on coating and on the two darkest of a map.
    OnCoat "on-coat" 0xFEFEFE 0x0D1318 0xFEFEFD,
    /// Heating.
    Heat "heat" 0xE8A21A 0x785000 0xE3AA3C,
    /// Edge and hatch of heating.
    HeatE "heat-e" 0x744A00 0xF5B845 0x5E3D00,
    /// Recovering.
    Rec "rec" 0xEFE470 0x3D390B 0xF1E98A,
    /// Edge and hatch of recovering.
    RecE "rec-e" 0x6F6500 0xE9DD4E 0x544C00,
    /// Care.
    Care "care" 0x46A98B 0x1B7259 0x63B89F,
    /// Edge and hatch of care, care marks.
    CareE "care-e" 0x003B2D 0xA6F0D8 0x00382B,
    /// Hollow bars.
    Wait "wait" 0xFBFAF9 0x1A1F24 0xFEFFFF,
    /// Edge of hollow bars, line of what is off.
    WaitE "wait-e" 0x68727B 0x98A2AB 0x5A5A5A,
    /// Hands working.
    Hand "hand" 0x7B3F6B 0xE2A8CC 0x5F2F52,
    /// Words on hands.
    OnHand "on-hand" 0xFDFEFE 0x0D1319 0xFDFEFD,
    /// Station in hand.
    Stat "stat" 0x6DBCE8 0x2A6389 0x7FC3E8,
    /// Edge and hatch of stations.
    StatE "stat-e" 0x1E5C82 0x82C6F1 0x15425E,
    /// Station by itself.
    Alone "alone" 0xC4E3F4 0x1C384B 0xBFE0F2,
    /// On time, band limits.
    Ok "ok" 0x00694F 0x52D1A6 0x00523D,
    /// Late, caution, stop limits, returns.
    Late "late" 0xB84000 0xFF9565 0x8A2E00,
    /// Tight.
    Tight "tight" 0x1B2127 0xECEAE4 0x010000,
    /// Dots, hairs, plain bars.
    Rep "rep" 0x3E6E93 0x7FA9C9 0x44505A,
    /// Map, least.
    Map0 "map0" 0xE3EEF6 0x1A3447 0xEBF3F9,
    /// Map, second.
    Map1 "map1" 0xBDD9EB 0x234F6E 0xC7DFEF,
    /// Map, third; words in ink up to here.
    Map2 "map2" 0x86B9DA 0x2B6A95 0x93C1DE,
    /// Map, fourth.
    Map3 "map3" 0x2F77A8 0x6CB1DE 0x2F719D,
    /// Map, most.
    Map4 "map4" 0x0B4E7C 0xA9D8F8 0x0F456B,
    /// Working band.
    Band "band" 0xE4EFE6 0x1E2F29 0xEDEDEE,
}

impl Token {
    /// As written in a file: `#RRGGBB`, light.
    #[must_use]
    pub fn hex(self) -> String {
        format!("#{:06X}", self.value(Look::Light))
    }

    pub(super) const fn rgb(self) -> RGBColor {
        let [_, r, g, b] = self.value(Look::Light).to_be_bytes();
        RGBColor(r, g, b)
    }
}
