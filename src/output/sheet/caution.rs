//! Short cautions for the steps that need them, each with its authority. They defer to safety data sheets, local codes
//! and licensed practice, and do not replace them.

use tankday_record::WarningKind;

/// Above every sheet.
pub const DEFERS: &str = "This sheet plans work. It does not replace the safety data sheet, local codes, permits or a \
                          trained and licensed person.";

macro_rules! wear {
    () => {
        "Face shield, gloves, apron, boots"
    };
}
macro_rules! near {
    () => {
        "eyewash and shower near"
    };
}

/// What to wear, on every sheet, in the report and in the README: a handbook page on acid cleaning safety.
pub const WEAR: &str = wear!();

/// What must be near: NIOSH (phosphoric acid), eyewash and quick drench above 1.6 % acid.
pub const NEAR: &str = near!();

/// Under the date of every sheet: hydrogen (NIOSH, phosphoric acid: reacts with most metals to give flammable
/// hydrogen; CCOHS), splashes of near-boiling acid.
pub const ALWAYS: &str = concat!(wear!(), "; ", near!(), ". Ventilate; no flame.");

macro_rules! cautions {
    ($($(#[$doc:meta])* $name:ident $($is:ident)* $(($($of:ident)+))? $words:literal;)+) => {
        /// A caution that belongs to a step.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum StepCaution { $($(#[$doc])* $name),+ }

        impl StepCaution {
            #[cfg(test)]
            const ALL: &'static [Self] = &[$(Self::$name),+];

            /// In eight words at most.
            #[must_use]
            pub const fn words(self) -> &'static str {
                match self { $(Self::$name => $words),+ }
            }

            const fn is(self) -> &'static [Is] {
                match self { $(Self::$name => &[$(Is::$is),*]),+ }
            }

            /// What a warning of a load says before it goes into a bath.
            pub(super) const fn of_warning(kind: WarningKind) -> Option<Self> {
                match kind {
                    $($($(WarningKind::$of => Some(Self::$name),)+)?)+
                    _ => None,
                }
            }
        }
    };
}

/// What is so of a caution.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Is {
    /// It is about what may hurt somebody, now or when the part is used, and not about the coating.
    Hurtful,
    /// Once a day is enough.
    Daily,
    /// It says what somebody must do with the load: never left out for another.
    Told,
}

// A row: what is so of it, the warnings of a load that say it before the load goes into a bath, its words.
cautions! {
    /// The heater goes on. Common practice, no source.
    HeaterOn Hurtful "Level over the heater? Lid loose, air moving.";
    /// The same of tanks that have no lid.
    OpenHeaterOn Hurtful "Level over the heater? Fumes drawn off?";
    /// The heater goes on with nobody in the shop. Common practice, no source: never leave a hot tank unattended.
    HeaterOnAlone Hurtful "Heats before opening: somebody must be there.";
    /// Heavy cold work goes into hot acid. NIOSH on phosphoric acid; trade practice on splashing.
    HeavyLoad Hurtful (HeavyLoad) "Heavy: lower slowly, hot acid spits.";
    /// Hardened pieces go into the bath, and their hydrogen is relieved later. After the practice of relief for hardened
    /// parts (DOD-P-16232F, MIL-DTL-16232G, ISO 9717); hydrogen itself: NIOSH, CCOHS.
    Hardened Hurtful (Hardened) "Hardened: relieve hydrogen before anything loads it.";
    /// Hardened pieces go into the bath, and nothing relieves their hydrogen. As above.
    NotRelieved Hurtful (NotRelieved) "Hardened: no relief planned. No force until relieved.";
    /// Hardened pieces that acid has touched before the bath go into it. DOD-P-16232F, trade letters on case-hardened parts.
    AcidOnHardened Hurtful (AcidOnHardened) "Hardened and pickled: it may crack. Ask first.";
    /// Hardened pieces begin their way to the bath, or come to a pickle: DOD-P-16232F, trade letters on case-hardened
    /// parts.
    NoAcid Hurtful "Hardened: no acid before coating.";
    /// A load or a piece that is heavy at arm's length: revised NIOSH lifting equation, from memory.
    HeavyLift Hurtful "Heavy at arm's length: two people, or hoist.";
    /// Pieces on wires. NIOSH: zinc, brass and copper are attacked and spoil the bath; plating common practice, no source.
    PlainWire Hurtful Daily "Steel wire only: not galvanised, no copper.";
    /// An immersion heater goes on. Common practice, no source; local electrical code.
    ResidualCurrent Hurtful "Level over heater? Lid loose? Residual-current device?";
    /// The same in tanks that have no lid.
    OpenResidualCurrent Hurtful "Level over heater? Fumes drawn off? Residual-current device?";
    /// A lid that closes tight over a bath: NIOSH and CCOHS on hydrogen.
    TightLid Hurtful "Lid must vent: hydrogen collects under it.";
    /// Hot caustic. Common practice, no source; follow the safety data sheet.
    HotCaustic Hurtful "Hot caustic blinds, burns: face shield, add slowly.";
    /// Degreasing with a solvent. Common practice, no source; its safety data sheet has its flash point.
    Solvent Hurtful "Solvent: no flame, no sparks; fumes drawn off.";
    /// Acid pickling. CCOHS and the general rule on diluting acid; fume: NIOSH.
    Pickle Hurtful "Acid fume: exhaust on. Acid into water, slowly.";
    /// Sealing, with what is not said. Chromic rinses are carcinogenic: from memory.
    Seal Hurtful "Hexavalent chromium in it? Carcinogen: stop and ask.";
    /// Sealing with hexavalent chromium: carcinogenic, from memory.
    Hexavalent Hurtful "Hexavalent chromium causes cancer: licensed practice only.";
    /// Drying by air. Common practice, no source.
    CompressedAir Hurtful Daily "Compressed air: goggles; never at skin or clothes.";
    /// Oiling in hot oil, or hot work into oil. Common practice, no source; the oil's safety data sheet has its flash point.
    HotOil Hurtful "Dry parts only: boil-over. Below its flash point.";
    /// A bath with little iron. Two supplier sheets on ageing; what little iron gives is assumed.
    LittleIron (Unconditioned) "Little iron: expect thin, patchy, light grey.";
    /// A bath that will fall below its band with the load in. A supplier's article: rough, grainy coats.
    FallsCold (ColdBath) "Falls below its band: expect rough coats.";
    /// A bath in which the metal of the load takes no coat: its limit stands with its source in `shop::materials`.
    TooCold (TooColdToCoat) "Too cold for this metal: no coat grows.";
    /// A load with which the bath stands over the rim. Common practice, no source.
    RunsOver Hurtful (RunsOver) "Runs over: smaller load, or bail first.";
    /// A part that the solution does not cover, in for its first half. Common practice, no source: a mark stays where they meet.
    OneEnd Told "One end in; other end at second coat.";
    /// The same for its other half.
    OtherEnd Told "Turned: its bare end goes in.";
    /// Much work at once. Common practice, no source: parts turned two or three times.
    MuchWork (Overloaded) "Much work: apart, turned two or three times.";
    /// Total or free acid near a limit. Titrated before each lot or every two hours (DOD-P-16232F, 3.2.1).
    Titrate Daily (StrengthOff RatioOff) "Near a limit of its acids: titrate first.";
    /// Much iron. A process note on floating dust.
    MuchIron Daily (IronHigh) "Much iron: look for white floating dust.";
    /// Much sludge. A supplier's page: not disturbed while work is in.
    MuchSludge Daily (SludgeStirred) "Much sludge: do not stir it up.";
    /// Too little in the tank, or too much: then there is no room for foam.
    Level Hurtful Daily (LevelOff) "Level off: cover the work, leave foam room.";
    /// The load will not reach its weight.
    Thin (ThinCoat) "Coating will be below target: inspect.";
    /// Oil may be left on it. Common practice, no source.
    Greasy (Greasy) "Oil left on it coats blotchy: degrease again.";
    /// It was cleaned in strong acid. Products Finishing 2023: coarse coats.
    Pickled (Pickled) "Pickled: expect a coarse coat; inspect.";
    /// Blind holes hang down. Common practice, no source.
    HolesDown (HolesDown) "Blind holes down trap gas: turn them.";
    /// Seams hold liquid. Trade letters: acid trapped there bleeds.
    Crevices (Crevices) "Seams hold acid: rinse well, dry soon.";
    /// Any load goes in. Trade report on froth over the rim with fresh steel.
    Foam Hurtful Daily "Foam: keep headroom free.";
    /// Water into hot acid. General rule: follow the safety data sheet.
    TopUp Hurtful "Steam and splashes: face away, thin stream.";
    /// Spent rinse water is let out. EPA handbooks for small shops; local rules.
    SpentRinse Hurtful "Spent rinse is controlled waste: not down drains.";
    /// Concentrate into a hot bath. General rule: acid slowly into water; follow the safety data sheet.
    Concentrate Hurtful "Slowly, acid into bath, never the reverse.";
    /// Steel wool in acid. Trade report on froth over the rim; amounts common practice, no source.
    Wool Hurtful "Froths: small lots, wait between; no flame.";
    /// Solids into a bath that froths over. Common practice, no source.
    HotSolids Hurtful "Above 70 °C: froths over; tiny lots, wait.";
    /// Concentrate or acid into a bath above its band. Common practice, no source; follow the safety data sheet.
    HotConcentrate Hurtful "Above its band: boils up; let it cool.";
    /// A bath is handled, and what is left of it. EPA handbooks for small businesses: spent bath and sludge are
    /// controlled waste in many places.
    Waste Hurtful "Cool, gloved; sludge and waste: ask first.";
    /// A bath that scalds is decanted, filtered or filled back: allowed with a pump alone. Common practice, no source.
    HotHandled Hurtful "Still scalds: only the pump moves it.";
    /// A fresh bath. General rule: start with the water already in the tank.
    MakeUp Hurtful "Water first, then acid, slowly; ask about waste.";
    /// Blasting. Common practice, no source; local rules.
    Blast Hurtful Daily "No silica sand; respirator; dust collection on.";
    /// Oiling. 29 CFR 1926.252(e), 30 CFR 56.4104: oily rags in covered metal bins.
    Oil Hurtful Daily "Oily rags into the covered metal bin.";
    /// Oven. Common practice, no source.
    Bake Hurtful Daily "Oven: gloves; nothing oily in.";
    /// It has stayed longer than it may.
    StayedTooLong "Longer in the bath than allowed: inspect.";
    /// It has stayed longer than it may at a station that is no bath.
    StayedElsewhere "Stayed there longer than allowed: inspect.";
    /// It is in the bath when a break begins that nobody stays for. Common practice, no source: never leave a hot tank
    /// unattended.
    InAtBreak Told "The break begins with it in: somebody stays.";
    /// It has waited longer than it may.
    WaitedTooLong "Waited longer than allowed: look for rust.";
    /// It goes on in something hot when nobody is there. Common practice, no source.
    HotAlone Hurtful "Nobody there later: stay, or begin it earlier.";
}

impl StepCaution {
    /// Whether once a day is enough.
    pub(super) fn once_a_day(self) -> bool {
        self.is().contains(&Is::Daily)
    }

    /// Whether it is about what may hurt somebody, now or when the part is used, and not about the coating.
    #[must_use]
    pub fn may_hurt(self) -> bool {
        self.is().contains(&Is::Hurtful)
    }

    /// Whether it stands on its row whatever else does.
    pub(super) fn stays(self) -> bool {
        self.may_hurt() || self.is().contains(&Is::Told)
    }

    /// Each once: what may hurt before what may spoil the work, hands first of all.
    pub(super) fn in_order(cautions: &mut Vec<Self>) {
        let mut seen = Vec::new();
        cautions.retain(|c| {
            let new = !seen.contains(c);
            seen.push(*c);
            new
        });
        cautions.sort_by_key(|c| (!c.may_hurt(), !c.stays(), *c != Self::HeavyLoad));
    }
}

#[cfg(test)]
mod tests {
    use super::StepCaution;

    #[test]
    fn eight_words_at_most() {
        for words in StepCaution::ALL.iter().map(|c| c.words()) {
            assert!(words.split_whitespace().count() <= 8, "{words}");
        }
    }
}
