//! What hands do, and what care of a bath is and takes.

use super::event::LoadNo;
use crate::csv::{Cell, Column, CsvError, Names, Row};
use crate::declared::{cells, words};
use tankday_base::shop::{Chore, Shop, StationId, StepRef, Trimming, VesselId};
use tankday_base::units::{Mass, Volume};

words! {
/// What hands are asked to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TaskKind {
    /// Put a load in.
    PutIn = "put in",
    /// Work at a step from beginning to end.
    Work = "work",
    /// Take a load out.
    TakeOut = "take out",
    /// Top up a tank.
    TopUp = "top up",
    /// Renew the water of a rinse.
    Renew = "renew rinse",
    /// Add concentrate to a bath.
    AddConcentrate = "add concentrate",
    /// Bring free acid and total acid into their ratio.
    TrimRatio = "trim ratio",
    /// Put steel wool in.
    PutWoolIn = "put wool in",
    /// Take what is left of it out.
    TakeWoolOut = "take wool out",
    /// Decant a settled bath from its sludge.
    Decant = "decant",
    /// Set up the filter and pour the heel on it.
    SetUpFilter = "set up filter",
    /// Fill the bath back and make its volume good.
    FillBack = "fill back",
    /// Throw bath away and make it up anew.
    MakeUpAnew = "make up anew",
    /// Draw a bath off into a vessel and refill the tank with what was kept there.
    Exchange = "exchange",
}
}

impl TaskKind {
    /// Whether it is care of a bath, topping up among it.
    #[must_use]
    pub const fn is_care(self) -> bool {
        !matches!(self, Self::PutIn | Self::Work | Self::TakeOut)
    }
}

words! {
/// What care does to a bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CareKind {
    /// Adds concentrate.
    Replenish = "replenish",
    /// Takes free acid out.
    RaiseRatio = "raise ratio",
    /// Adds free acid.
    LowerRatio = "lower ratio",
    /// Dissolves steel wool.
    Condition = "condition",
    /// Cools, settles, decants, filters, fills back.
    Filter = "filter",
    /// Cools, settles, decants, throws the heel away.
    Settle = "settle",
    /// Throws the lower half away and makes it up anew.
    RenewHalf = "renew half",
    /// Throws all of it away and makes it up anew.
    Renew = "renew",
    /// Cools, draws it off into a vessel, refills the tank from there.
    Exchange = "exchange",
}
}

impl CareKind {
    /// What a chore is called in the record.
    #[must_use]
    pub fn of(chore: &Chore) -> Self {
        match chore {
            Chore::Stop(stop) if stop.into.is_some() => Self::Exchange,
            _ => Self::of_rule(chore),
        }
    }

    /// What the rule of a chore is called in a scenario, where an exchange is a stop with a vessel.
    #[must_use]
    pub fn of_rule(chore: &Chore) -> Self {
        match chore {
            Chore::Replenish { .. } => Self::Replenish,
            Chore::Trim {
                by: Trimming::PhosphoricAcid(_),
                ..
            } => Self::LowerRatio,
            Chore::Trim { .. } => Self::RaiseRatio,
            Chore::Condition { .. } => Self::Condition,
            Chore::Stop(stop) if stop.filtered => Self::Filter,
            Chore::Stop(_) => Self::Settle,
            Chore::Renew { share, .. } if share.in_fraction() < 1.0 => Self::RenewHalf,
            Chore::Renew { .. } => Self::Renew,
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

cells! {
/// What care used up and what it left over.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CareUse {
    /// Distilled or deionised water added, cold.
    pub water: Volume = Volume,
    /// Concentrate added.
    pub concentrate: Volume = Concentrate,
    /// Another chemical, pure, or steel wool dissolved.
    pub chemical: Mass = Chemical,
    /// Bath thrown away or lost.
    pub wasted: Volume = Wasted,
    /// Sludge taken out, dry.
    pub sludge: Mass = Sludge,
    /// Hydrogen set free, at 20 °C.
    pub hydrogen: Volume = Hydrogen,
    /// Filter media used up.
    pub media: u32 = Media,
    /// Bath drawn off into a vessel.
    pub drawn_off: Volume = DrawnOff,
    /// Filtered solution poured in from it.
    pub refilled: Volume = Refilled,
}
}

cells! {
/// A task of hands, at a station.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Task {
    /// What.
    pub kind: TaskKind = Task,
    /// Where.
    pub station: StationId = Station,
    /// With which load and for which step; none for a top-up.
    pub load: Option<(LoadNo, StepRef)> = Load,
    /// In which vessel what was drawn off the station is cared for; none for what is done at the station itself.
    pub vessel: Option<VesselId> = Vessel,
}
}
