//! The kinds of thing that can happen on the line.
//!
//! A *load* here is whatever moves together. It begins as one lot of one order; at a tank several may join into one
//! and stay together until their ways part.

pub(super) use super::reading::{BathReadings, BathSample, Coated, HeaterState};
pub(super) use super::task::{CareKind, CareUse, Task, TaskKind};
use crate::csv::{Cell, Column, CsvError, Names, Row};
use std::sync::Arc;
use tankday_base::shop::{Defect, OrderId, Shop, StationId, StepRef, VesselId};
use tankday_base::units::{Moment, Power, Share, Span, Strength, Volume};

/// Numbers the orders of one run, in order of arrival, from 0. A stream of orders gives many.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct OrderNo(pub u32);

/// Numbers the loads of one run, in order of their making, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct LoadNo(pub u32);

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
    /// Was in a bath when a break began that nobody stays for.
    InAtBreak {
        /// How long after its beginning it was out.
        by: Span,
    },
}

/// Declares the events: of each its name in a written record, and of each field the column that holds it, or the first
/// of several. The enum, writing and reading follow.
macro_rules! events {
    (
        $(#[$head:meta])*
        pub enum $type:ident {
            $(
                $(#[$doc:meta])*
                $event:ident = $name:literal $({ $($(#[$about:meta])* $field:ident: $kind:ty = $column:ident,)+ })?,
            )+
        }
    ) => {
        $(#[$head])*
        pub enum $type {
            $($(#[$doc])* $event $({ $($(#[$about])* $field: $kind,)+ })?,)+
        }

        impl $type {
            /// Its name in a written record.
            pub(crate) const fn name(&self) -> &'static str {
                match self { $(Self::$event { .. } => $name,)+ }
            }

            /// Fills the columns of its fields.
            pub(crate) fn write(&self, row: &mut Row, names: &Names<'_>) {
                match self {
                    $(Self::$event $({ $($field),+ })? => { $($($field.write(row, Column::$column, names);)+)? })+
                }
            }

            /// The event that a row names, from its columns.
            pub(crate) fn read(row: &Row, shop: &Shop) -> Result<Self, CsvError> {
                Ok(match row.text(Column::LogEntry) {
                    $($name => Self::$event $({ $($field: Cell::read(row, Column::$column, shop)?),+ })?,)+
                    other => return Err(row.refuse(Column::LogEntry, format!("`{other}` is no event"))),
                })
            }
        }
    };
}

events! {
/// What happened. Events of one moment stand in the order in which they took effect.
#[derive(Debug, Clone, PartialEq)]
pub enum LogEntry {
    /// The shop opens.
    Opens = "opens",
    /// The shop closes.
    Closes = "closes",
    /// A break begins.
    BreakBegins = "break begins",
    /// A break ends.
    BreakEnds = "break ends",
    /// An order comes.
    OrderArrives = "order arrives" {
        /// Its number.
        order: OrderNo = Order,
        /// As written in the scenario.
        source: OrderId = Source,
        /// Counts the orders of one stream from 1; 1 for a stated order.
        nth: u32 = Nth,
        /// Its pieces.
        pieces: u32 = Pieces,
    },
    /// A lot of an order becomes a load of its own.
    LoadMade = "load made" {
        /// The load.
        load: LoadNo = Load,
        /// Whose.
        order: OrderNo = Order,
        /// Pieces in it.
        pieces: u32 = Pieces,
    },
    /// A plan has a name for the load that this one is in from the bath on.
    LoadNamed = "load named" {
        /// The load.
        load: LoadNo = Load,
        /// The name.
        name: Arc<str> = LoadName,
    },
    /// A load joins another and moves with it from now on.
    Joins = "joins" {
        /// The one that is no more.
        load: LoadNo = Load,
        /// The one that holds both.
        into: LoadNo = Into,
    },
    /// A load stands ready for a step, waiting for place, hands or heat. One that could take several next steps waits for each.
    Waits = "waits" {
        /// The load.
        load: LoadNo = Load,
        /// For what.
        step: StepRef = Step,
    },
    /// A load takes its place at a station; putting in begins, or the work itself if nothing is put in.
    SetIn = "set in" {
        /// The load.
        load: LoadNo = Load,
        /// For what.
        step: StepRef = Step,
        /// Where.
        station: StationId = Station,
    },
    /// Putting in is over, the work or dwell begins.
    WorkBegins = "work begins" {
        /// The load.
        load: LoadNo = Load,
        /// Step.
        step: StepRef = Step,
        /// Where.
        station: StationId = Station,
        /// How long it will take if nothing comes between.
        planned: Span = Planned,
        /// The longest stay, if there is one.
        most: Option<Span> = Most,
    },
    /// Work under hands is laid down.
    WorkPauses = "work pauses" {
        /// The load.
        load: LoadNo = Load,
    },
    /// And taken up again.
    WorkResumes = "work resumes" {
        /// The load.
        load: LoadNo = Load,
    },
    /// The work is done; the load may be taken out.
    WorkEnds = "work ends" {
        /// The load.
        load: LoadNo = Load,
        /// Step.
        step: StepRef = Step,
        /// Where.
        station: StationId = Station,
    },
    /// Taking out begins: a dwell ends here.
    LiftBegins = "lift begins" {
        /// The load.
        load: LoadNo = Load,
        /// Step.
        step: StepRef = Step,
        /// Where.
        station: StationId = Station,
    },
    /// The place is free again.
    PlaceFree = "place free" {
        /// The load that had it.
        load: LoadNo = Load,
        /// Where.
        station: StationId = Station,
    },
    /// The step is over for this load: it has left the station.
    StepDone = "step done" {
        /// The load.
        load: LoadNo = Load,
        /// Step.
        step: StepRef = Step,
        /// Where.
        station: StationId = Station,
    },
    /// A limit was not kept.
    Breaks = "breaks" {
        /// The load.
        load: LoadNo = Load,
        /// At which step.
        step: StepRef = Step,
        /// Which limit.
        what: Breach = Limit,
    },
    /// A load is kept out of a step for the day: behind the bath another step must follow within a time, and nobody would be there
    /// for it by then.
    NobodyThen = "nobody then" {
        /// The load.
        load: LoadNo = Load,
        /// The step that it is kept out of.
        step: StepRef = Step,
        /// The step for which nobody would be there.
        behind: StepRef = BackTo,
    },
    /// A load is kept out of a step: behind the bath another step must follow within a time, and its stations have no
    /// place for it by then.
    KeptBack = "kept back" {
        /// The load.
        load: LoadNo = Load,
        /// The step that it is kept out of.
        step: StepRef = Step,
        /// The step that has no place.
        behind: StepRef = BackTo,
    },
    /// What inspection finds on a load that it sends back, where what happened to it counts.
    Found = "found" {
        /// The load.
        load: LoadNo = Load,
        /// The inspecting step.
        step: StepRef = Step,
        /// What it finds.
        defect: Defect = Defect,
        /// The chance that it had to fail, with what happened to it.
        chance: Share = Chance,
    },
    /// Inspection sends a load back.
    Fails = "fails" {
        /// The load.
        load: LoadNo = Load,
        /// The inspecting step.
        step: StepRef = Step,
        /// The step to be done again.
        back_to: StepRef = BackTo,
    },
    /// Everything in the load is done.
    LoadReady = "load ready" {
        /// The load.
        load: LoadNo = Load,
    },
    /// All pieces of an order are done.
    OrderReady = "order ready" {
        /// The order.
        order: OrderNo = Order,
    },
    /// A pair of hands turns to a task.
    HandsTake = "hands take" {
        /// Which pair, from 0.
        hand: u32 = Hand,
        /// What.
        task: Task = Task,
    },
    /// A pair of hands is free again, or lays its task down.
    HandsFree = "hands free" {
        /// Which pair.
        hand: u32 = Hand,
    },
    /// The state of a bath; at every change, and now and then between.
    Bath = "bath" {
        /// The tank.
        tank: StationId = Station,
        /// Its state.
        sample: Box<BathSample> = Temperature,
    },
    /// The bath has come to the least temperature of its band while heating.
    InBand = "in band" {
        /// The tank.
        tank: StationId = Station,
    },
    /// A load was lifted out of a bath, and what it did there.
    Coated = "coated" {
        /// The load.
        load: LoadNo = Load,
        /// The tank.
        tank: StationId = Station,
        /// What.
        coated: Box<Coated> = Conversion,
    },
    /// Water was made good.
    ToppedUp = "topped up" {
        /// The tank.
        tank: StationId = Station,
        /// How much, at room temperature.
        volume: Volume = Volume,
    },
    /// A load passes a rinse whose water is counted: what it brings in, and how strong the water is then. It leaves with
    /// the water of the last tub.
    Rinsed = "rinsed" {
        /// The load.
        load: LoadNo = Load,
        /// Where.
        station: StationId = Station,
        /// Liquid that it brings in and, as water of the last tub, takes out.
        brought: Volume = Volume,
        /// Total acid of that liquid.
        strength: Strength = TotalAcid,
        /// Total acid of the first tub, the load having passed.
        first: Strength = FirstTub,
        /// Total acid of the last.
        last: Strength = LastTub,
    },
    /// The water of a rinse was renewed.
    Renewed = "renewed" {
        /// The rinse.
        station: StationId = Station,
        /// Clean water put in, as much spent water let out.
        volume: Volume = Volume,
    },
    /// Care of a bath begins; no load goes in until it ends.
    CareBegins = "care begins" {
        /// The tank.
        tank: StationId = Station,
        /// What is done.
        care: CareKind = Care,
    },
    /// Care of a bath has ended.
    CareEnds = "care ends" {
        /// The tank.
        tank: StationId = Station,
        /// What was done.
        care: CareKind = Care,
        /// What it took.
        used: Box<CareUse> = Volume,
    },
    /// What was drawn off a tank begins to settle in a vessel, which cannot be drawn on until it is filtered.
    VesselBegins = "vessel begins" {
        /// The vessel.
        vessel: VesselId = Vessel,
        /// The tank that it came from.
        tank: StationId = Station,
    },
    /// The vessel holds filtered solution again.
    VesselEnds = "vessel ends" {
        /// The vessel.
        vessel: VesselId = Vessel,
        /// The tank that its solution came from.
        tank: StationId = Station,
        /// What settling and filtering it took.
        used: Box<CareUse> = Volume,
    },
    /// A heater that is on may draw so much from here on, since others draw on the same supply.
    Allowed = "allowed" {
        /// The tank.
        tank: StationId = Station,
        /// At most.
        power: Power = Power,
    },
    /// A break begins that nobody stays for: the heater of a hot tank is off, nothing is in it, and its lid is on if it has one.
    /// Or the shop closes, nobody stays, and all that is so of a hot tank.
    Left = "left" {
        /// The tank.
        tank: StationId = Station,
        /// The end of the break, or the next opening; never, if there is none.
        until: Moment = Until,
    },
    /// Too little is left in a tank: its heater switches itself off.
    CutOff = "cut off" {
        /// The tank.
        tank: StationId = Station,
    },
    /// A hot tank is left alone from here on.
    LeftAlone = "left alone" {
        /// The tank.
        tank: StationId = Station,
        /// Until somebody comes, or it is cold.
        until: Moment = Until,
    },
}
}
