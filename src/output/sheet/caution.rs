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

/// A caution that belongs to a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepCaution {
    /// The heater goes on. Common practice, no source.
    HeaterOn,
    /// The same of tanks that have no lid.
    OpenHeaterOn,
    /// The heater goes on with nobody in the shop. Common practice, no source: never leave a hot tank unattended.
    HeaterOnAlone,
    /// Heavy cold work goes into hot acid. NIOSH on phosphoric acid; trade practice on splashing.
    HeavyLoad,
    /// Hardened pieces go into the bath, and their hydrogen is relieved later. After the practice of relief for hardened
    /// parts (DOD-P-16232F, MIL-DTL-16232G, ISO 9717); hydrogen itself: NIOSH, CCOHS.
    Hardened,
    /// Hardened pieces go into the bath, and nothing relieves their hydrogen. As above.
    NotRelieved,
    /// Hardened pieces begin their way to the bath, or come to a pickle: DOD-P-16232F, trade letters on case-hardened
    /// parts.
    NoAcid,
    /// A load or a piece that is heavy at arm's length: revised NIOSH lifting equation, from memory.
    HeavyLift,
    /// Pieces on wires. NIOSH: zinc, brass and copper are attacked and spoil the bath; plating common practice, no source.
    PlainWire,
    /// An immersion heater goes on. Common practice, no source; local electrical code.
    ResidualCurrent,
    /// The same in tanks that have no lid.
    OpenResidualCurrent,
    /// A lid that closes tight over a bath: NIOSH and CCOHS on hydrogen.
    TightLid,
    /// Hot caustic. Common practice, no source; follow the safety data sheet.
    HotCaustic,
    /// Acid pickling. CCOHS and the general rule on diluting acid; fume: NIOSH.
    Pickle,
    /// Sealing, with what is not said. Chromic rinses are carcinogenic: from memory.
    Seal,
    /// Sealing with hexavalent chromium: carcinogenic, from memory.
    Hexavalent,
    /// Drying by air. Common practice, no source.
    CompressedAir,
    /// Oiling in hot oil, or hot work into oil. Common practice, no source; the oil's safety data sheet has its flash point.
    HotOil,
    /// A bath with little iron. Two supplier sheets on ageing; what little iron gives is assumed.
    LittleIron,
    /// A bath that will fall below its band with the load in. A supplier's article: rough, grainy coats.
    FallsCold,
    /// Much work at once. Common practice, no source: parts turned two or three times.
    MuchWork,
    /// Total or free acid near a limit. Titrated before each lot or every two hours (DOD-P-16232F, 3.2.1).
    Titrate,
    /// Much iron. A process note on floating dust.
    MuchIron,
    /// Much sludge. A supplier's page: not disturbed while work is in.
    MuchSludge,
    /// Too little in the tank, or too much: then there is no room for foam.
    Level,
    /// The load will not reach its weight.
    Thin,
    /// Oil may be left on it. Common practice, no source.
    Greasy,
    /// It was cleaned in strong acid. Products Finishing 2023: coarse coats.
    Pickled,
    /// Blind holes hang down. Common practice, no source.
    HolesDown,
    /// Seams hold liquid. Trade letters: acid trapped there bleeds.
    Crevices,
    /// Any load goes in. Trade report on froth over the rim with fresh steel.
    Foam,
    /// Water into hot acid. General rule: follow the safety data sheet.
    TopUp,
    /// Spent rinse water is let out. EPA handbooks for small shops; local rules.
    SpentRinse,
    /// Concentrate into a hot bath. General rule: acid slowly into water; follow the safety data sheet.
    Concentrate,
    /// Steel wool in acid. Trade report on froth over the rim; amounts common practice, no source.
    Wool,
    /// Solids into a bath that froths over. Common practice, no source.
    HotSolids,
    /// Concentrate or acid into a bath above its band. Common practice, no source; follow the safety data sheet.
    HotConcentrate,
    /// A bath is handled, and what is left of it. EPA handbooks for small businesses: spent bath and sludge are
    /// controlled waste in many places.
    Waste,
    /// A bath that scalds is decanted, filtered or filled back: allowed with a pump alone. Common practice, no source.
    HotHandled,
    /// A fresh bath. General rule: start with the water already in the tank.
    MakeUp,
    /// Blasting. Common practice, no source; local rules.
    Blast,
    /// Oiling. 29 CFR 1926.252(e), 30 CFR 56.4104: oily rags in covered metal bins.
    Oil,
    /// Oven. Common practice, no source.
    Bake,
    /// It has stayed longer than it may.
    StayedTooLong,
    /// It is in the bath when a break begins that nobody stays for. Common practice, no source: never leave a hot tank
    /// unattended.
    InAtBreak,
    /// It has waited longer than it may.
    WaitedTooLong,
    /// It goes on in something hot when nobody is there. Common practice, no source.
    HotAlone,
}

impl StepCaution {
    /// In eight words at most.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::HeaterOn => "Level over the heater? Lid loose, air moving.",
            Self::OpenHeaterOn => "Level over the heater? Fumes drawn off?",
            Self::HeaterOnAlone => "Heats before opening: somebody must be there.",
            Self::HeavyLoad => "Heavy: lower slowly, hot acid spits.",
            Self::Hardened => "Hardened: relieve hydrogen before anything loads it.",
            Self::NotRelieved => "Hardened: no hydrogen relief planned. Never load it.",
            Self::NoAcid => "Hardened: no acid before coating.",
            Self::HeavyLift => "Heavy at arm's length: two people, or hoist.",
            Self::PlainWire => "Steel wire only: not galvanised, no copper.",
            Self::ResidualCurrent => "Level over heater? Lid loose? Residual-current device?",
            Self::OpenResidualCurrent => "Level over heater? Fumes drawn off? Residual-current device?",
            Self::TightLid => "Lid must vent: hydrogen collects under it.",
            Self::HotCaustic => "Hot caustic blinds, burns: face shield, add slowly.",
            Self::Pickle => "Acid fume: exhaust on. Acid into water, slowly.",
            Self::Seal => "Hexavalent chromium in it? Carcinogen: stop and ask.",
            Self::Hexavalent => "Hexavalent chromium causes cancer: licensed practice only.",
            Self::CompressedAir => "Compressed air: goggles; never at skin or clothes.",
            Self::HotOil => "Dry, cooled parts only: boil-over; mind flash point.",
            Self::LittleIron => "Little iron: expect thin, patchy, light grey.",
            Self::FallsCold => "Falls below its band: expect rough coats.",
            Self::MuchWork => "Much work: apart, turned two or three times.",
            Self::Titrate => "Near a limit of its acids: titrate first.",
            Self::MuchIron => "Much iron: look for white floating dust.",
            Self::MuchSludge => "Much sludge: do not stir it up.",
            Self::Level => "Level off: cover the work, leave foam room.",
            Self::Thin => "Coating will be below target: inspect.",
            Self::Greasy => "Oil left on it coats blotchy: degrease again.",
            Self::Pickled => "Pickled: expect a coarse coat; inspect.",
            Self::HolesDown => "Blind holes down trap gas: turn them.",
            Self::Crevices => "Seams hold acid: rinse well, dry soon.",
            Self::Foam => "Foam: keep headroom free.",
            Self::TopUp => "Steam and splashes: face away, thin stream.",
            Self::SpentRinse => "Spent rinse is controlled waste: not down drains.",
            Self::Concentrate => "Slowly, acid into bath, never the reverse.",
            Self::Wool => "Froths: small lots, wait between; no flame.",
            Self::HotSolids => "Above 70 °C: froths over; tiny lots, wait.",
            Self::HotConcentrate => "Above its band: boils up; let it cool.",
            Self::Waste => "Cool, gloved; sludge and waste: ask first.",
            Self::HotHandled => "Still scalds: only the pump moves it.",
            Self::MakeUp => "Water first, then acid, slowly; ask about waste.",
            Self::Blast => "No silica sand; respirator; dust collection on.",
            Self::Oil => "Oily rags into the covered metal bin.",
            Self::Bake => "Oven: gloves; nothing oily in.",
            Self::StayedTooLong => "Longer in the bath than allowed: inspect.",
            Self::InAtBreak => "The break begins with it in: somebody stays.",
            Self::HotAlone => "Nobody there later: stay, or begin it earlier.",
            Self::WaitedTooLong => "Waited longer than allowed: look for rust.",
        }
    }

    /// Whether once a day is enough.
    pub(super) const fn once_a_day(self) -> bool {
        matches!(
            self,
            Self::Blast
                | Self::PlainWire
                | Self::CompressedAir
                | Self::Oil
                | Self::Bake
                | Self::Foam
                | Self::Titrate
                | Self::MuchIron
                | Self::MuchSludge
                | Self::Level
        )
    }

    /// What a warning of a load says before it goes into a bath.
    pub(super) const fn of_warning(kind: WarningKind) -> Option<Self> {
        Some(match kind {
            WarningKind::HeavyLoad => Self::HeavyLoad,
            WarningKind::Greasy => Self::Greasy,
            WarningKind::Pickled => Self::Pickled,
            WarningKind::HolesDown => Self::HolesDown,
            WarningKind::Crevices => Self::Crevices,
            WarningKind::Hardened => Self::Hardened,
            WarningKind::NotRelieved => Self::NotRelieved,
            WarningKind::Unconditioned => Self::LittleIron,
            WarningKind::TooColdToCoat | WarningKind::ColdBath => Self::FallsCold,
            WarningKind::ThinCoat => Self::Thin,
            WarningKind::Overloaded => Self::MuchWork,
            WarningKind::StrengthOff | WarningKind::RatioOff => Self::Titrate,
            WarningKind::IronHigh => Self::MuchIron,
            WarningKind::SludgeStirred => Self::MuchSludge,
            WarningKind::LevelOff => Self::Level,
            _ => return None,
        })
    }

    /// Whether it is about what may hurt somebody, now or when the part is used, and not about the coating.
    #[must_use]
    pub const fn may_hurt(self) -> bool {
        match self {
            Self::HeaterOn
            | Self::OpenHeaterOn
            | Self::HeaterOnAlone
            | Self::HeavyLoad
            | Self::Hardened
            | Self::NotRelieved
            | Self::NoAcid
            | Self::HeavyLift
            | Self::PlainWire
            | Self::ResidualCurrent
            | Self::OpenResidualCurrent
            | Self::TightLid
            | Self::HotCaustic
            | Self::Pickle
            | Self::Seal
            | Self::Hexavalent
            | Self::CompressedAir
            | Self::HotOil
            | Self::Foam
            | Self::Level
            | Self::TopUp
            | Self::SpentRinse
            | Self::Concentrate
            | Self::Wool
            | Self::HotSolids
            | Self::HotConcentrate
            | Self::Waste
            | Self::HotHandled
            | Self::MakeUp
            | Self::Blast
            | Self::Oil
            | Self::Bake
            | Self::HotAlone => true,
            Self::LittleIron
            | Self::FallsCold
            | Self::MuchWork
            | Self::Titrate
            | Self::MuchIron
            | Self::MuchSludge
            | Self::Thin
            | Self::Greasy
            | Self::Pickled
            | Self::HolesDown
            | Self::Crevices
            | Self::StayedTooLong
            | Self::InAtBreak
            | Self::WaitedTooLong => false,
        }
    }

    /// Each once: what may hurt before what may spoil the work, hands first of all.
    pub(super) fn in_order(cautions: &mut Vec<Self>) {
        let mut seen = Vec::new();
        cautions.retain(|c| {
            let new = !seen.contains(c);
            seen.push(*c);
            new
        });
        cautions.sort_by_key(|c| (!c.may_hurt(), *c != Self::HeavyLoad));
    }
}

#[cfg(test)]
mod tests {
    use super::StepCaution::*;

    #[test]
    fn eight_words_at_most() {
        let all = [
            HeaterOn,
            OpenHeaterOn,
            HeaterOnAlone,
            HeavyLoad,
            Hardened,
            NotRelieved,
            NoAcid,
            HeavyLift,
            PlainWire,
            ResidualCurrent,
            OpenResidualCurrent,
            TightLid,
            HotCaustic,
            Pickle,
            Seal,
            Hexavalent,
            CompressedAir,
            HotOil,
            LittleIron,
            FallsCold,
            MuchWork,
            Titrate,
            MuchIron,
            MuchSludge,
            Level,
            Thin,
            Greasy,
            Pickled,
            HolesDown,
            Crevices,
            Foam,
            TopUp,
            SpentRinse,
            Concentrate,
            Wool,
            HotSolids,
            HotConcentrate,
            Waste,
            HotHandled,
            MakeUp,
            Blast,
            Oil,
            Bake,
            StayedTooLong,
            InAtBreak,
            WaitedTooLong,
            HotAlone,
        ];
        for caution in all {
            assert!(
                caution.words().split_whitespace().count() <= 8,
                "{}",
                caution.words()
            );
        }
    }
}
