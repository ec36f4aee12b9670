//! The kinds of thing that can happen on the line.
//!
//! A *load* here is whatever moves together. It begins as one lot of one order; at a tank several may join into one
//! and stay together until their ways part.

pub(super) use super::reading::{BathReadings, BathSample, Coated, HeaterState};
pub(super) use super::task::{CareKind, CareUse, Task, TaskKind};
use std::sync::Arc;
use tankday_base::shop::{Defect, OrderId, StationId, StepRef, VesselId};
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

/// What happened. Events of one moment stand in the order in which they took effect.
#[derive(Debug, Clone, PartialEq)]
pub enum LogEntry {
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
    /// A plan has a name for the load that this one is in from the bath on.
    LoadNamed {
        /// The load.
        load: LoadNo,
        /// The name.
        name: Arc<str>,
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
    /// A load is kept out of a step: behind the bath another step must follow within a time, and its stations have no
    /// place for it by then.
    KeptBack {
        /// The load.
        load: LoadNo,
        /// The step that it is kept out of.
        step: StepRef,
        /// The step that has no place.
        behind: StepRef,
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
    /// What was drawn off a tank begins to settle in a vessel, which cannot be drawn on until it is filtered.
    VesselBegins {
        /// The vessel.
        vessel: VesselId,
        /// The tank that it came from.
        tank: StationId,
    },
    /// The vessel holds filtered solution again.
    VesselEnds {
        /// The vessel.
        vessel: VesselId,
        /// The tank that its solution came from.
        tank: StationId,
        /// What settling and filtering it took.
        used: Box<CareUse>,
    },
    /// A heater that is on may draw so much from here on, since others draw on the same supply.
    Allowed {
        /// The tank.
        tank: StationId,
        /// At most.
        power: Power,
    },
    /// A break begins that nobody stays for: the heater of a hot tank is off, nothing is in it, and its lid is on if it has one.
    /// Or the shop closes, nobody stays, and all that is so of a hot tank.
    Left {
        /// The tank.
        tank: StationId,
        /// The end of the break, or the next opening; never, if there is none.
        until: Moment,
    },
    /// Too little is left in a tank: its heater switches itself off.
    CutOff {
        /// The tank.
        tank: StationId,
    },
    /// A hot tank is left alone from here on.
    LeftAlone {
        /// The tank.
        tank: StationId,
        /// Until somebody comes, or it is cold.
        until: Moment,
    },
}
