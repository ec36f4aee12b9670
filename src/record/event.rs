//! The kinds of thing that can happen on the line.
//!
//! A *load* here is whatever moves together. It begins as one lot of one order; at a tank several may join into one
//! and stay together until their ways part.

use crate::shop::{Defect, OrderId, StationId, StepRef};
use crate::units::{Area, Concentration, Energy, Mass, Moment, Share, Span, Strength, Temperature, Volume};

/// Numbers the orders of one run, in order of arrival, from 0. A stream of orders gives many.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct OrderNo(pub u32);

/// Numbers the loads of one run, in order of their making, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct LoadNo(pub u32);

/// What a heater is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HeaterState {
    /// Off.
    Off,
    /// At full power, on its way to the holding temperature.
    Heating,
    /// Thermostat working around the holding temperature.
    Holding,
}

/// A bath at one moment. Energies, masses and volumes are sums since the start of the run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathSample {
    /// Bath temperature.
    pub temperature: Temperature,
    /// Volume at that temperature.
    pub volume: Volume,
    /// Mass of water now.
    pub water: Mass,
    /// Heater.
    pub heater: HeaterState,
    /// Whether the lid is on.
    pub lid: bool,
    /// Drawn from the supply.
    pub drawn: Energy,
    /// Given to the bath by the heater.
    pub heated: Energy,
    /// Lost to the room through surface, lid, walls and bottom, evaporation's latent heat included; where water leaves
    /// or joins at other than 0 °C the enthalpy it carries is counted in `carried`.
    pub lost: Energy,
    /// Enthalpy (above liquid water at 0 °C) of water that came in by top-up, less that of water that left as vapour
    /// or with loads.
    pub carried: Energy,
    /// Taken up by cold work.
    pub to_loads: Energy,
    /// Evaporated.
    pub evaporated: Mass,
    /// Topped up.
    pub topped_up: Mass,
    /// Taken away: dragged out on work, or thrown away in care.
    pub dragged_out: Mass,
    /// How it reads; none where the bath does not wear.
    pub readings: Option<BathReadings>,
}

/// How a bath reads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathReadings {
    /// Total acid.
    pub total_acid: Strength,
    /// Free acid.
    pub free_acid: Strength,
    /// Ferrous iron.
    pub iron: Concentration,
    /// Stirred-up sludge, dry.
    pub stirred: Mass,
    /// Settled sludge, dry.
    pub settled: Mass,
    /// Surface coated since it was made up.
    pub area: Area,
    /// Loads since it was made up.
    pub uses: u32,
}

/// What a load did in a bath.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Coated {
    /// Conversion of its coating, the integral of dt / tau: the weight on each surface follows from it.
    pub conversion: f64,
    /// Coating formed.
    pub coating: Mass,
    /// Metal dissolved; with the hydrogen and the drag-out nothing where the bath does not wear.
    pub metal: Mass,
    /// Hydrogen set free, at 20 °C.
    pub hydrogen: Volume,
    /// Bath that left with it.
    pub dragged_out: Volume,
    /// The bath was too weak to do all of it.
    pub exhausted: bool,
}

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
}

impl CareKind {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Replenish,
        Self::RaiseRatio,
        Self::LowerRatio,
        Self::Condition,
        Self::Filter,
        Self::Settle,
        Self::RenewHalf,
        Self::Renew,
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
        }
    }

    /// Whether the bath is cooled for it.
    #[must_use]
    pub const fn is_stop(self) -> bool {
        matches!(self, Self::Filter | Self::Settle | Self::RenewHalf | Self::Renew)
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
}

/// A limit that was not kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Breach {
    /// Waited longer than `within` before the step began.
    WaitedTooLong {
        /// By how much.
        by: Span,
    },
    /// Stayed longer than the longest dwell or stay.
    StayedTooLong {
        /// By how much.
        by: Span,
    },
}

/// What happened. Events of one moment stand in the order in which they took effect.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// The shop opens.
    Opens,
    /// The shop closes.
    Closes,
    /// A break begins.
    BreakBegins,
    /// A break ends.
    BreakEnds,
    /// An order comes.
    OrderArrives {
        /// Its number.
        order: OrderNo,
        /// As written in the scenario.
        source: OrderId,
        /// Counts the orders of one stream from 1; 1 for a stated order.
        nth: u32,
        /// Its pieces.
        pieces: u32,
    },
    /// A lot of an order becomes a load of its own.
    LoadMade {
        /// The load.
        load: LoadNo,
        /// Whose.
        order: OrderNo,
        /// Pieces in it.
        pieces: u32,
    },
    /// A load joins another and moves with it from now on.
    Joins {
        /// The one that is no more.
        load: LoadNo,
        /// The one that holds both.
        into: LoadNo,
    },
    /// A load stands ready for a step, waiting for place, hands or heat. One that could take several next steps waits for each.
    Waits {
        /// The load.
        load: LoadNo,
        /// For what.
        step: StepRef,
    },
    /// A load takes its place at a station; putting in begins, or the work itself if nothing is put in.
    SetIn {
        /// The load.
        load: LoadNo,
        /// For what.
        step: StepRef,
        /// Where.
        station: StationId,
    },
    /// Putting in is over, the work or dwell begins.
    WorkBegins {
        /// The load.
        load: LoadNo,
        /// Step.
        step: StepRef,
        /// Where.
        station: StationId,
        /// How long it will take if nothing comes between.
        planned: Span,
        /// The longest stay, if there is one.
        most: Option<Span>,
    },
    /// Work under hands is laid down.
    WorkPauses {
        /// The load.
        load: LoadNo,
    },
    /// And taken up again.
    WorkResumes {
        /// The load.
        load: LoadNo,
    },
    /// The work is done; the load may be taken out.
    WorkEnds {
        /// The load.
        load: LoadNo,
        /// Step.
        step: StepRef,
        /// Where.
        station: StationId,
    },
    /// Taking out begins: a dwell ends here.
    LiftBegins {
        /// The load.
        load: LoadNo,
        /// Step.
        step: StepRef,
        /// Where.
        station: StationId,
    },
    /// The place is free again.
    PlaceFree {
        /// The load that had it.
        load: LoadNo,
        /// Where.
        station: StationId,
    },
    /// The step is over for this load: it has left the station.
    StepDone {
        /// The load.
        load: LoadNo,
        /// Step.
        step: StepRef,
        /// Where.
        station: StationId,
    },
    /// A limit was not kept.
    Breaks {
        /// The load.
        load: LoadNo,
        /// At which step.
        step: StepRef,
        /// Which limit.
        what: Breach,
    },
    /// What inspection finds on a load that it sends back, where what happened to it counts.
    Found {
        /// The load.
        load: LoadNo,
        /// The inspecting step.
        step: StepRef,
        /// What it finds.
        defect: Defect,
        /// The chance that it had to fail, with what happened to it.
        chance: Share,
    },
    /// Inspection sends a load back.
    Fails {
        /// The load.
        load: LoadNo,
        /// The inspecting step.
        step: StepRef,
        /// The step to be done again.
        back_to: StepRef,
    },
    /// Everything in the load is done.
    LoadReady {
        /// The load.
        load: LoadNo,
    },
    /// All pieces of an order are done.
    OrderReady {
        /// The order.
        order: OrderNo,
    },
    /// A pair of hands turns to a task.
    HandsTake {
        /// Which pair, from 0.
        hand: u32,
        /// What.
        task: Task,
    },
    /// A pair of hands is free again, or lays its task down.
    HandsFree {
        /// Which pair.
        hand: u32,
    },
    /// The state of a bath; at every change, and now and then between.
    Bath {
        /// The tank.
        tank: StationId,
        /// Its state.
        sample: Box<BathSample>,
    },
    /// The bath has come to the least temperature of its band while heating.
    InBand {
        /// The tank.
        tank: StationId,
    },
    /// A load was lifted out of a bath, and what it did there.
    Coated {
        /// The load.
        load: LoadNo,
        /// The tank.
        tank: StationId,
        /// What.
        coated: Box<Coated>,
    },
    /// Water was made good.
    ToppedUp {
        /// The tank.
        tank: StationId,
        /// How much, at room temperature.
        volume: Volume,
    },
    /// A load passes a rinse whose water is counted: what it brings in, and how strong the water is then. It leaves with
    /// the water of the last tub.
    Rinsed {
        /// The load.
        load: LoadNo,
        /// Where.
        station: StationId,
        /// Liquid that it brings in and, as water of the last tub, takes out.
        brought: Volume,
        /// Total acid of that liquid.
        strength: Strength,
        /// Total acid of the first tub, the load having passed.
        first: Strength,
        /// Total acid of the last.
        last: Strength,
    },
    /// The water of a rinse was renewed.
    Renewed {
        /// The rinse.
        station: StationId,
        /// Clean water put in, as much spent water let out.
        volume: Volume,
    },
    /// Care of a bath begins; no load goes in until it ends.
    CareBegins {
        /// The tank.
        tank: StationId,
        /// What is done.
        care: CareKind,
    },
    /// Care of a bath has ended.
    CareEnds {
        /// The tank.
        tank: StationId,
        /// What was done.
        care: CareKind,
        /// What it took.
        used: Box<CareUse>,
    },
    /// A hot tank is left alone from here on.
    LeftAlone {
        /// The tank.
        tank: StationId,
        /// Until somebody comes, or it is cold.
        until: Moment,
    },
}
