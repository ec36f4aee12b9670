//! What goes wrong with coatings, why, and how much more often then.

use crate::units::Share;

/// What inspection finds on a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Defect {
    /// Blotchy, mottled.
    Blotchy,
    /// Light grey, thin.
    Thin,
    /// Sooty, dusty, loose.
    Sooty,
    /// Coarse.
    Coarse,
    /// Rough, whitish: liquid dried in.
    Stained,
    /// Rust bleeds through.
    Rusty,
    /// Etched, pitted.
    Etched,
    /// No coating at all.
    Bare,
    /// Bare spots: gas stood there.
    Spots,
    /// A blemish for which nothing that happened accounts.
    Unexplained,
}

impl Defect {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::Blotchy,
        Self::Thin,
        Self::Sooty,
        Self::Coarse,
        Self::Stained,
        Self::Rusty,
        Self::Etched,
        Self::Bare,
        Self::Spots,
        Self::Unexplained,
    ];

    /// In print.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Blotchy => "blotchy",
            Self::Thin => "thin and grey",
            Self::Sooty => "sooty",
            Self::Coarse => "coarse",
            Self::Stained => "stained",
            Self::Rusty => "rusty",
            Self::Etched => "etched",
            Self::Bare => "bare",
            Self::Spots => "with bare spots",
            Self::Unexplained => "a blemish",
        }
    }
}

/// Something that happened to a load and makes it fail more often. What each leads to follows section by section the
/// defects that trade sources name (Products Finishing 2023 on controlling phosphate baths; supplier articles of 2025;
/// trade letters at finishing.com); how much more often is an assumption throughout.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mishap {
    /// The bath was too cold to coat at all, below 82 °C: it fails for certain.
    TooCold,
    /// Rather much surface in the tank, above 2 dm2/L.
    Overloaded,
    /// The tank is heated from below.
    Underfired,
    /// The bath had not gathered iron yet.
    WithoutIron,
    /// The bath held much iron.
    MuchIron,
    /// The bath held much sludge.
    Sludge,
    /// The bath was hotter than its band.
    TooHot,
    /// It left before it had its weight.
    TooShort,
    /// It stayed longer than 45 min, or than the bath allows.
    TooLong,
    /// It was rinsed in spent water.
    SpentRinse,
    /// It waited too long on the way from the rinse to the oil.
    Waited,
    /// It was rinsed in hot water, above 50 °C.
    HotRinse,
    /// It waited too long between bath and rinse: the bath on it dried.
    DriedOn,
    /// Oil or grease is left on some of it.
    Greasy,
    /// Some of it was cleaned in strong acid.
    Pickled,
    /// Blind holes hang down in some of it: gas stays in them.
    HolesDown,
    /// Some of it has seams that hold liquid.
    Crevices,
}

impl Mishap {
    /// All of them.
    pub const ALL: [Self; 17] = [
        Self::TooCold,
        Self::Overloaded,
        Self::Underfired,
        Self::WithoutIron,
        Self::MuchIron,
        Self::Sludge,
        Self::TooHot,
        Self::TooShort,
        Self::TooLong,
        Self::SpentRinse,
        Self::Waited,
        Self::HotRinse,
        Self::DriedOn,
        Self::Greasy,
        Self::Pickled,
        Self::HolesDown,
        Self::Crevices,
    ];

    /// What it leads to.
    #[must_use]
    pub const fn defect(self) -> Defect {
        match self {
            Self::TooCold => Defect::Bare,
            Self::Overloaded | Self::Underfired | Self::Greasy => Defect::Blotchy,
            Self::WithoutIron | Self::TooShort => Defect::Thin,
            Self::MuchIron | Self::Sludge => Defect::Sooty,
            Self::TooHot | Self::Pickled => Defect::Coarse,
            Self::TooLong => Defect::Etched,
            Self::SpentRinse | Self::HotRinse | Self::DriedOn => Defect::Stained,
            Self::Waited | Self::Crevices => Defect::Rusty,
            Self::HolesDown => Defect::Spots,
        }
    }
}

/// What happened to one load, or what a part brings with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Mishaps(u32);

impl Mishaps {
    /// One more.
    pub fn add(&mut self, mishap: Mishap) {
        self.0 |= 1 << mishap as u32;
    }

    /// Whether it happened.
    #[must_use]
    pub const fn has(self, mishap: Mishap) -> bool {
        self.0 & (1 << mishap as u32) != 0
    }

    /// What happened in either.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

/// By how much each mishap multiplies the odds that a load fails; one for no effect.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Odds {
    /// For [`Mishap::Overloaded`].
    pub overloaded: f64,
    /// For [`Mishap::Underfired`].
    pub underfired: f64,
    /// For [`Mishap::WithoutIron`].
    pub without_iron: f64,
    /// For [`Mishap::MuchIron`].
    pub much_iron: f64,
    /// For [`Mishap::Sludge`].
    pub sludge: f64,
    /// For [`Mishap::TooHot`].
    pub too_hot: f64,
    /// For [`Mishap::TooShort`].
    pub too_short: f64,
    /// For [`Mishap::TooLong`].
    pub too_long: f64,
    /// For [`Mishap::SpentRinse`].
    pub spent_rinse: f64,
    /// For [`Mishap::Waited`].
    pub waited: f64,
    /// For [`Mishap::HotRinse`].
    pub hot_rinse: f64,
    /// For [`Mishap::DriedOn`].
    pub dried_on: f64,
    /// For [`Mishap::Greasy`].
    pub greasy: f64,
    /// For [`Mishap::Pickled`].
    pub pickled: f64,
    /// For [`Mishap::HolesDown`].
    pub holes_down: f64,
    /// For [`Mishap::Crevices`].
    pub crevices: f64,
}

impl Odds {
    /// The factor of one mishap; without bound for what fails for certain.
    #[must_use]
    pub const fn factor(&self, mishap: Mishap) -> f64 {
        match mishap {
            Mishap::TooCold => f64::INFINITY,
            Mishap::Overloaded => self.overloaded,
            Mishap::Underfired => self.underfired,
            Mishap::WithoutIron => self.without_iron,
            Mishap::MuchIron => self.much_iron,
            Mishap::Sludge => self.sludge,
            Mishap::TooHot => self.too_hot,
            Mishap::TooShort => self.too_short,
            Mishap::TooLong => self.too_long,
            Mishap::SpentRinse => self.spent_rinse,
            Mishap::Waited => self.waited,
            Mishap::HotRinse => self.hot_rinse,
            Mishap::DriedOn => self.dried_on,
            Mishap::Greasy => self.greasy,
            Mishap::Pickled => self.pickled,
            Mishap::HolesDown => self.holes_down,
            Mishap::Crevices => self.crevices,
        }
    }

    /// The chance that a load fails: odds p/(1-p) of the base, times the factor of everything that happened.
    #[must_use]
    pub fn chance(&self, base: Share, happened: Mishaps) -> Share {
        if happened.has(Mishap::TooCold) {
            return Share::fraction(1.0);
        }
        let base = base.in_fraction().clamp(0.0, 1.0);
        let all = Mishap::ALL.into_iter().filter(|m| happened.has(*m));
        let factor: f64 = all.map(|m| self.factor(m)).product();
        if base >= 1.0 {
            return Share::fraction(1.0);
        }
        let odds = base / (1.0 - base) * factor;
        Share::fraction(odds / (1.0 + odds))
    }

    /// What is most likely found on a load that fails: what the mishap with the largest factor leads to.
    #[must_use]
    pub fn defect(&self, happened: Mishaps) -> Defect {
        let mut worst: Option<(f64, Mishap)> = None;
        for mishap in Mishap::ALL.into_iter().filter(|m| happened.has(*m)) {
            let factor = self.factor(mishap);
            if factor > 1.0 && worst.is_none_or(|(most, _)| factor > most) {
                worst = Some((factor, mishap));
            }
        }
        worst.map_or(Defect::Unexplained, |(_, mishap)| mishap.defect())
    }
}
