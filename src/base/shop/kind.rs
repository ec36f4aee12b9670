//! What a step is: cautions and rules go by it, never by how the step is called.

/// What a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum StepKind {
    /// Sealing after the rinse with hexavalent chromium.
    SealHexavalent,
    /// Degreasing in a hot alkaline or caustic solution.
    DegreaseHotAlkaline,
    /// Oiling in oil that is kept hot.
    OilHot,
    /// Cleaning or etching in acid before the bath.
    Pickle,
    /// Degreasing with a solvent, cold or in its vapour.
    DegreaseSolvent,
    /// Blasting with any grit, bead or shot.
    Blast,
    /// Oiling in oil of room temperature, or warm.
    Oil,
    /// Sealing after the rinse.
    Seal,
    /// Wiping with rags.
    Wipe,
    /// Relief of stress or of hydrogen.
    Relieve,
    /// Drying in an oven.
    DryByOven,
    /// Warming before the bath.
    Preheat,
    /// Tumbling or vibrating in a barrel.
    Tumble,
    /// Brushing, abrading, grinding, polishing.
    Brush,
    /// Degreasing in a cold or warm cleaner.
    Degrease,
    /// Drying by air: lying, before a fan, or blown off.
    DryByAir,
    /// Rinsing in water.
    Rinse,
    /// Coating in a bath.
    Coat,
    /// Looking, measuring, weighing.
    Inspect,
    /// Lying, draining, cooling, being held.
    Rest,
    /// Anything else.
    #[default]
    Other,
}

impl StepKind {
    /// Whether work that is done lies wet or bare where it is until somebody takes it out: on a rack, in rinse water, in a
    /// barrel. A cleaner, an acid, a sealer, oil and a warm oven keep rust away. Common practice, no source.
    #[must_use]
    pub fn lies_open(self) -> bool {
        matches!(
            self,
            Self::Rinse
                | Self::Rest
                | Self::DryByAir
                | Self::Inspect
                | Self::Blast
                | Self::Tumble
                | Self::Brush
                | Self::Wipe
                | Self::Other
        )
    }

    /// All kinds, as `kind:` writes them.
    pub const ALL: [(&'static str, Self); 21] = [
        ("degrease", Self::Degrease),
        ("degrease hot alkaline", Self::DegreaseHotAlkaline),
        ("degrease solvent", Self::DegreaseSolvent),
        ("pickle", Self::Pickle),
        ("blast", Self::Blast),
        ("tumble", Self::Tumble),
        ("brush", Self::Brush),
        ("preheat", Self::Preheat),
        ("relieve", Self::Relieve),
        ("coat", Self::Coat),
        ("rinse", Self::Rinse),
        ("seal", Self::Seal),
        ("seal hexavalent", Self::SealHexavalent),
        ("dry by air", Self::DryByAir),
        ("dry by oven", Self::DryByOven),
        ("oil", Self::Oil),
        ("oil hot", Self::OilHot),
        ("wipe", Self::Wipe),
        ("inspect", Self::Inspect),
        ("rest", Self::Rest),
        ("other", Self::Other),
    ];

    /// As `kind:` writes it.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, k)| *k == self)
            .map_or("other", |(w, _)| w)
    }

    /// Whether grease comes off.
    #[must_use]
    pub const fn degreases(self) -> bool {
        matches!(
            self,
            Self::Degrease | Self::DegreaseHotAlkaline | Self::DegreaseSolvent
        )
    }

    /// Whether oil goes on.
    #[must_use]
    pub const fn oils(self) -> bool {
        matches!(self, Self::Oil | Self::OilHot)
    }

    /// Whether what it leaves on work keeps rust away for a while: oil, or a seal. Common practice, no source.
    #[must_use]
    pub const fn keeps_rust_away(self) -> bool {
        self.oils() || matches!(self, Self::Seal | Self::SealHexavalent)
    }

    /// Whether work comes out of it dry that was wet.
    #[must_use]
    pub const fn dries(self) -> bool {
        matches!(self, Self::DryByAir | Self::DryByOven)
    }

    /// Whether work comes out of it hot.
    #[must_use]
    pub const fn leaves_hot(self) -> bool {
        matches!(self, Self::DryByOven | Self::Preheat | Self::Relieve)
    }

    /// Whether work comes out of it wet.
    #[must_use]
    pub const fn leaves_wet(self) -> bool {
        matches!(
            self,
            Self::Rinse
                | Self::Coat
                | Self::Seal
                | Self::SealHexavalent
                | Self::Pickle
                | Self::DegreaseHotAlkaline
        )
    }

    /// Whether a caution or a rule goes by it.
    #[must_use]
    pub const fn matters(self) -> bool {
        !matches!(self, Self::Other | Self::Inspect | Self::Rest)
    }
}

#[cfg(test)]
mod tests {
    use super::StepKind;

    #[test]
    fn each_kind_has_one_word() {
        for (word, kind) in StepKind::ALL {
            assert_eq!(kind.word(), word);
        }
        let mut kinds: Vec<StepKind> = StepKind::ALL.iter().map(|(_, k)| *k).collect();
        kinds.sort_unstable();
        kinds.dedup();
        assert_eq!(kinds.len(), StepKind::ALL.len());
    }
}
