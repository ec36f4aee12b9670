//! Short cautions for the steps that need them, each with its authority. They defer to safety data sheets, local codes
//! and licensed practice, and do not replace them.

use crate::record::WarningKind;

/// Above every sheet.
pub const DEFERS: &str = "This sheet plans work. It does not replace the safety data sheet, local codes, permits or a \
                          trained and licensed person.";

/// Under the date of every sheet: hydrogen (NIOSH, phosphoric acid: reacts with most metals to give flammable
/// hydrogen; CCOHS), splashes of near-boiling acid (NIOSH: eyewash and quick drench above 1.6 % acid).
pub const ALWAYS: &str = "Goggles, gloves, apron, moving air, no flame.";

/// A caution that belongs to a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepCaution {
    /// The heater goes on. Common practice, no source.
    HeaterOn,
    /// The heater goes on with nobody in the shop. Common practice, no source: never leave a hot tank unattended.
    HeaterOnAlone,
    /// Heavy cold work goes into hot acid. NIOSH on phosphoric acid; trade practice on splashing.
    HeavyLoad,
    /// Hardened pieces go into acid. After the practice of stress relief for hardened parts (trade standards on
    /// hydrogen relief); hydrogen itself: NIOSH, CCOHS.
    Hardened,
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
    /// A bath is handled, and what is left of it. EPA handbooks for small businesses: spent bath and sludge are
    /// controlled waste in many places.
    Waste,
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
}

impl StepCaution {
    /// In eight words at most.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::HeaterOn => "Level over the heater? Lid loose, air moving.",
            Self::HeaterOnAlone => "Heats before opening: somebody must be there.",
            Self::HeavyLoad => "Hot acid spits on cold iron. Lower slowly.",
            Self::Hardened => "Hardened: no acid before. Relieve hydrogen afterwards.",
            Self::LittleIron => "Little iron: expect thin, patchy, light grey.",
            Self::FallsCold => "Falls below its band: expect rough coats.",
            Self::MuchWork => "Much work: apart, turned two or three times.",
            Self::Titrate => "Near a limit of its acids: titrate first.",
            Self::MuchIron => "Much iron: look for white floating dust.",
            Self::MuchSludge => "Much sludge: do not stir it up.",
            Self::Level => "Level off: cover the work, leave foam room.",
            Self::Thin => "Comes out thinner than asked for: inspect.",
            Self::Greasy => "Oil left on it coats blotchy: clean again.",
            Self::Pickled => "Pickled: expect a coarse coat; inspect.",
            Self::HolesDown => "Blind holes down trap gas: turn them.",
            Self::Crevices => "Seams hold acid: rinse well, dry soon.",
            Self::Foam => "Watch for foam: a hand's breadth free.",
            Self::TopUp => "Steam and splashes: face away, thin stream.",
            Self::SpentRinse => "Spent rinse is controlled waste: not down drains.",
            Self::Concentrate => "Slowly, acid into bath, never the reverse.",
            Self::Wool => "Froths: small lots, wait between; no flame.",
            Self::Waste => "Cool, gloved; sludge and waste: ask first.",
            Self::MakeUp => "Water first, then acid, slowly; ask about waste.",
            Self::Blast => "No silica sand; respirator; dust collection on.",
            Self::Oil => "Oily rags into the covered metal bin.",
            Self::Bake => "Bake before oiling: hot oil fumes, burns.",
            Self::StayedTooLong => "Longer in the bath than allowed: inspect.",
            Self::InAtBreak => "The break begins with it in: somebody stays.",
            Self::WaitedTooLong => "Waited longer than allowed: look for rust.",
        }
    }

    /// Whether once a day is enough.
    pub(super) const fn once_a_day(self) -> bool {
        matches!(
            self,
            Self::Blast
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
            WarningKind::Hardened | WarningKind::NotRelieved => Self::Hardened,
            WarningKind::Unconditioned => Self::LittleIron,
            WarningKind::ColdBath => Self::FallsCold,
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
            | Self::HeaterOnAlone
            | Self::HeavyLoad
            | Self::Hardened
            | Self::Foam
            | Self::Level
            | Self::TopUp
            | Self::SpentRinse
            | Self::Concentrate
            | Self::Wool
            | Self::Waste
            | Self::MakeUp
            | Self::Blast
            | Self::Oil
            | Self::Bake => true,
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

    /// What the name of a step asks for.
    pub(super) fn of_step(name: &str) -> Option<Self> {
        let name = name.to_lowercase();
        let any = |words: &[&str]| words.iter().any(|word| name.contains(word));
        if any(&["blast"]) {
            Some(Self::Blast)
        } else if any(&["bake", "baking", "oven"]) {
            Some(Self::Bake)
        } else if any(&["oil"]) {
            Some(Self::Oil)
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::StepCaution::*;

    #[test]
    fn eight_words_at_most() {
        let all = [
            HeaterOn,
            HeaterOnAlone,
            HeavyLoad,
            Hardened,
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
            Waste,
            MakeUp,
            Blast,
            Oil,
            Bake,
            StayedTooLong,
            InAtBreak,
            WaitedTooLong,
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
