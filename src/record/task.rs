//! What hands do, and what care of a bath is and takes.

use super::event::LoadNo;
use tankday_base::shop::{StationId, StepRef, VesselId};
use tankday_base::units::{Mass, Volume};

/// What hands are asked to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TaskKind {
    /// Put a load in.
    PutIn,
    /// Work at a step from beginning to end.
    Work,
    /// Take a load out.
    TakeOut,
    /// Top up a tank.
    TopUp,
    /// Renew the water of a rinse.
    Renew,
    /// Add concentrate to a bath.
    AddConcentrate,
    /// Bring free acid and total acid into their ratio.
    TrimRatio,
    /// Put steel wool in.
    PutWoolIn,
    /// Take what is left of it out.
    TakeWoolOut,
    /// Decant a settled bath from its sludge.
    Decant,
    /// Set up the filter and pour the heel on it.
    SetUpFilter,
    /// Fill the bath back and make its volume good.
    FillBack,
    /// Throw bath away and make it up anew.
    MakeUpAnew,
    /// Draw a bath off into a vessel and refill the tank with what was kept there.
    Exchange,
}

impl TaskKind {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::PutIn => "put in",
            Self::Work => "work",
            Self::TakeOut => "take out",
            Self::TopUp => "top up",
            Self::Renew => "renew rinse",
            Self::AddConcentrate => "add concentrate",
            Self::TrimRatio => "trim ratio",
            Self::PutWoolIn => "put wool in",
            Self::TakeWoolOut => "take wool out",
            Self::Decant => "decant",
            Self::SetUpFilter => "set up filter",
            Self::FillBack => "fill back",
            Self::MakeUpAnew => "make up anew",
            Self::Exchange => "exchange",
        }
    }

    /// Whether it is care of a bath, topping up among it.
    #[must_use]
    pub const fn is_care(self) -> bool {
        !matches!(self, Self::PutIn | Self::Work | Self::TakeOut)
    }
}

/// What care does to a bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CareKind {
    /// Adds concentrate.
    Replenish,
    /// Takes free acid out.
    RaiseRatio,
    /// Adds free acid.
    LowerRatio,
    /// Dissolves steel wool.
    Condition,
    /// Cools, settles, decants, filters, fills back.
    Filter,
    /// Cools, settles, decants, throws the heel away.
    Settle,
    /// Throws the lower half away and makes it up anew.
    RenewHalf,
    /// Throws all of it away and makes it up anew.
    Renew,
    /// Cools, draws it off into a vessel, refills the tank from there.
    Exchange,
}

impl CareKind {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Replenish,
        Self::RaiseRatio,
        Self::LowerRatio,
        Self::Condition,
        Self::Filter,
        Self::Settle,
        Self::RenewHalf,
        Self::Renew,
        Self::Exchange,
    ];

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Replenish => "replenish",
            Self::RaiseRatio => "raise ratio",
            Self::LowerRatio => "lower ratio",
            Self::Condition => "condition",
            Self::Filter => "filter",
            Self::Settle => "settle",
            Self::RenewHalf => "renew half",
            Self::Renew => "renew",
            Self::Exchange => "exchange",
        }
    }

    /// Whether the bath is cooled for it.
    #[must_use]
    pub const fn is_stop(self) -> bool {
        matches!(
            self,
            Self::Filter | Self::Settle | Self::RenewHalf | Self::Renew | Self::Exchange
        )
    }
}

/// What care used up and what it left over.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CareUse {
    /// Distilled or deionised water added, cold.
    pub water: Volume,
    /// Concentrate added.
    pub concentrate: Volume,
    /// Another chemical, pure, or steel wool dissolved.
    pub chemical: Mass,
    /// Bath thrown away or lost.
    pub wasted: Volume,
    /// Sludge taken out, dry.
    pub sludge: Mass,
    /// Hydrogen set free, at 20 °C.
    pub hydrogen: Volume,
    /// Filter media used up.
    pub media: u32,
    /// Bath drawn off into a vessel.
    pub drawn_off: Volume,
    /// Filtered solution poured in from it.
    pub refilled: Volume,
}

/// A task of hands, at a station.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Task {
    /// What.
    pub kind: TaskKind,
    /// Where.
    pub station: StationId,
    /// With which load and for which step; none for a top-up.
    pub load: Option<(LoadNo, StepRef)>,
    /// In which vessel what was drawn off the station is cared for; none for what is done at the station itself.
    pub vessel: Option<VesselId>,
}
