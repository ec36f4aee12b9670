//! What to watch: each with a code of our own that stays the same, in plain words.

use super::bare::{Kept, Waited};
use super::loads::TankLoad;
use super::orders::OrderFigure;
use super::rinses::RinseFigure;
use crate::event::{Breach, LoadNo, LogEntry};
use crate::visit::Trajectory;
use crate::watch::Record;
use std::collections::BTreeMap;
use tankday_base::shop::{Contaminants, Shop, StationId, StepRef};
use tankday_base::units::{
    AreaPerVolume, CoatWeight, Concentration, Energy, Length, MassPerVolume, Moment, Power, Share, Span,
    Strength, Temperature, Volume,
};

/// What a warning is about. The order of the variants is the order of print: the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WarningKind {
    /// A hot tank is left alone.
    HotTankAlone,
    /// A hot bath that has no lid stands open and nobody is there.
    NoLid,
    /// A load is in a bath when a break begins that nobody stays for.
    InAtBreak,
    /// Work is in an oven, in hot caustic or in hot oil, and nobody is there.
    HotStepAlone,
    /// An order is not done at the end.
    NotReady,
    /// A tank never reached its band although loads waited for it.
    NeverHot,
    /// A heater brings a bath into its band and not to its set point.
    WeakHeater,
    /// A heater switched itself off, since too little was left in its tank.
    RanLow,
    /// Solids go into a bath that is so hot that it froths over.
    HotSolids,
    /// Concentrate or acid goes into a bath above its band.
    HotConcentrate,
    /// A bath reads outside its limits: no load goes in.
    BathStopped,
    /// Work whose looks matter is kept out of a bath with too little iron to the end.
    HeldBack,
    /// A load is kept out of the bath, since what must follow on it has no place in time.
    KeptBack,
    /// Foreign metal or oil in a bath: no load goes in.
    Contaminated,
    /// A bath was too weak to coat a load to its end.
    Exhausted,
    /// A load did not reach its coating weight.
    ThinCoat,
    /// A bath that holds too little iron.
    Unconditioned,
    /// A load is in a bath that is so cold that nothing grows on its material.
    TooColdToCoat,
    /// A bath fell below its band with a load in it.
    ColdBath,
    /// A load brings more surface or mass than a bath of its size takes well.
    Overloaded,
    /// Total acid near its limit.
    StrengthOff,
    /// Total by free acid near its limit.
    RatioOff,
    /// Too much iron.
    IronHigh,
    /// Much sludge: it is stirred up.
    SludgeStirred,
    /// Too little in the tank, or too much.
    LevelOff,
    /// Too little room over the bath for its foam.
    FoamRoom,
    /// Heaters that are on together are stronger than the supply they share.
    HeatersOverSupply,
    /// A heater heats with less than its power, since others draw on the same supply.
    WaitsForSupply,
    /// A load stayed too long.
    StayedTooLong,
    /// A load waited too long.
    WaitedTooLong,
    /// A load was rinsed in spent water.
    SpentRinse,
    /// Hardened pieces whose route does not relieve hydrogen.
    NotRelieved,
    /// Hardened pieces: hydrogen.
    Hardened,
    /// Heavy work goes into the bath cold.
    HeavyLoad,
    /// Work on which oil may be left.
    Greasy,
    /// Work that was cleaned in strong acid.
    Pickled,
    /// Work with blind holes that hang down.
    HolesDown,
    /// Work with seams that hold liquid.
    Crevices,
    /// Work after closing.
    Overtime,
    /// A bath is kept hot for long though nothing more goes in.
    HotForNothing,
    /// Water is made good while hot.
    TopUp,
}

impl WarningKind {
    /// The code, as in `--json`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::HotTankAlone => "hot-tank-alone",
            Self::NoLid => "no-lid",
            Self::InAtBreak => "in-at-break",
            Self::HotStepAlone => "hot-step-alone",
            Self::NotReady => "not-ready",
            Self::NeverHot => "never-hot",
            Self::WeakHeater => "weak-heater",
            Self::RanLow => "ran-low",
            Self::HotSolids => "hot-solids",
            Self::HotConcentrate => "hot-concentrate",
            Self::BathStopped => "bath-stopped",
            Self::HeldBack => "held-back",
            Self::KeptBack => "kept-back",
            Self::Contaminated => "contaminated",
            Self::Exhausted => "bath-exhausted",
            Self::ThinCoat => "thin-coat",
            Self::Unconditioned => "unconditioned",
            Self::TooColdToCoat => "too-cold-to-coat",
            Self::ColdBath => "cold-bath",
            Self::Overloaded => "overloaded",
            Self::StrengthOff => "strength-off",
            Self::RatioOff => "ratio-off",
            Self::IronHigh => "iron-high",
            Self::SludgeStirred => "sludge-stirred",
            Self::LevelOff => "level-off",
            Self::FoamRoom => "foam-room",
            Self::HeatersOverSupply => "heaters-over-supply",
            Self::WaitsForSupply => "waits-for-supply",
            Self::StayedTooLong => "stayed-too-long",
            Self::WaitedTooLong => "waited-too-long",
            Self::SpentRinse => "spent-rinse",
            Self::NotRelieved => "not-relieved",
            Self::Hardened => "hardened",
            Self::HeavyLoad => "heavy-load",
            Self::Greasy => "greasy",
            Self::Pickled => "pickled",
            Self::HolesDown => "holes-down",
            Self::Crevices => "crevices",
            Self::Overtime => "overtime",
            Self::HotForNothing => "hot-for-nothing",
            Self::TopUp => "top-up",
        }
    }
}

/// Where or with what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Caution {
    /// When.
    pub at: Moment,
    /// Which station, if one.
    pub station: Option<StationId>,
    /// Which load, if one.
    pub load: Option<LoadNo>,
    /// At which step, if one.
    pub step: Option<StepRef>,
    /// By how much, or for how long; zero where that says nothing.
    pub by: Span,
    /// How much water; zero elsewhere.
    pub volume: Volume,
    /// What was read, where something was.
    pub reading: Option<Reading>,
}

/// A reading that a warning is about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reading {
    /// Total acid.
    Strength(Strength),
    /// Total by free acid.
    Ratio(f64),
    /// Iron.
    Iron(Concentration),
    /// Settled sludge by volume.
    Sludge(Share),
    /// Volume by fill.
    Level(Share),
    /// Temperature.
    Temperature(Temperature),
    /// Where a heated bath levels off.
    LevelsOff {
        /// Near this.
        temperature: Temperature,
        /// Whether under its lid; none where it has no lid.
        covered: Option<bool>,
    },
    /// Surface by volume.
    Load(AreaPerVolume),
    /// Mass by volume.
    Mass(MassPerVolume),
    /// Coating weight.
    Coat(CoatWeight),
    /// Free height.
    Height(Length),
    /// What a heater drew, and what that costs; nothing where power has no price.
    Power(Energy, f64),
    /// What must not be in the bath.
    Foreign(Contaminants),
    /// All heaters that are on, and the supply that they share.
    Supply {
        /// The heaters.
        heaters: Power,
        /// The supply.
        supply: Power,
    },
}

/// One thing to watch, with every place where it happens.
#[derive(Debug, Clone, PartialEq)]
pub struct Warning {
    /// What about.
    pub kind: WarningKind,
    /// Orders it concerns, by their index in [`super::Figures::orders`]; only for [`WarningKind::NotReady`].
    pub orders: Vec<usize>,
    /// Where and when; at least one unless it concerns orders.
    pub at: Vec<Caution>,
}

pub(super) fn of(
    shop: &Shop,
    record: &Record,
    orders: &[OrderFigure],
    loads: &[TankLoad],
    rinses: &[RinseFigure],
    (waited, kept, ways): (&[Waited], &[Kept], &BTreeMap<LoadNo, Trajectory>),
) -> Vec<Warning> {
    let mut found: Vec<Warning> = Vec::new();
    for entry in &record.entries {
        if let Some((kind, caution)) = event_warning(shop, entry.at, &entry.event) {
            add(&mut found, kind, caution);
        }
    }
    for wait in waited.iter().filter(|w| w.still) {
        let caution = Caution {
            load: Some(wait.load),
            step: Some(wait.step),
            by: wait.by,
            ..at(wait.at, None)
        };
        add(&mut found, WarningKind::WaitedTooLong, caution);
    }
    let end = record.entries.last().map_or(Moment::ZERO, |e| e.at);
    for kept in kept {
        let caution = Caution {
            load: Some(kept.load),
            step: Some(kept.behind),
            by: kept.until.unwrap_or(end) - kept.from,
            ..at(kept.from, None)
        };
        add(&mut found, WarningKind::KeptBack, caution);
    }
    for top_up in crate::top_ups(record) {
        let caution = Caution {
            volume: top_up.volume,
            ..at(top_up.from, Some(top_up.tank))
        };
        add(&mut found, WarningKind::TopUp, caution);
    }
    for load in loads {
        for kind in super::load_watch::of(shop, load) {
            let step = Some(load.step);
            add(
                &mut found,
                kind,
                Caution {
                    load: Some(load.load),
                    step,
                    ..at(load.set_in, Some(load.tank))
                },
            );
        }
    }
    for rinse in rinses {
        for (now, load) in &rinse.spent {
            let caution = Caution {
                load: Some(*load),
                ..at(*now, Some(rinse.station))
            };
            add(&mut found, WarningKind::SpentRinse, caution);
        }
    }
    let baths = super::bath_watch::of(shop, record, loads);
    let added = super::added_watch::of(shop, record);
    let heaters = super::heater_watch::of(shop, record, loads);
    let supply = super::supply_watch::of(shop, record);
    let mut alone = super::alone_watch::of(shop, record);
    alone.extend(super::open_watch::of(shop, record));
    alone.extend(super::hot_steps::of(shop, record, ways));
    let all = baths.into_iter().chain(added).chain(heaters);
    for (kind, caution) in all.chain(supply).chain(alone) {
        add(&mut found, kind, caution);
    }
    for held in super::bath_watch::held_back(shop, record, orders) {
        add(&mut found, WarningKind::HeldBack, held);
    }
    let left: Vec<usize> = (0..)
        .zip(orders)
        .filter(|(_, o)| o.ready.is_none())
        .map(|(i, _)| i)
        .collect();
    if !left.is_empty() {
        found.push(Warning {
            kind: WarningKind::NotReady,
            orders: left,
            at: Vec::new(),
        });
    }
    found.sort_by_key(|w| w.kind);
    found
}

pub(super) fn at(at: Moment, station: Option<StationId>) -> Caution {
    Caution {
        at,
        station,
        load: None,
        step: None,
        by: Span::ZERO,
        volume: Volume::ZERO,
        reading: None,
    }
}

fn add(found: &mut Vec<Warning>, kind: WarningKind, caution: Caution) {
    match found.iter_mut().find(|w| w.kind == kind) {
        Some(warning) => warning.at.push(caution),
        None => found.push(Warning {
            kind,
            orders: Vec::new(),
            at: vec![caution],
        }),
    }
}

fn event_warning(shop: &Shop, now: Moment, event: &LogEntry) -> Option<(WarningKind, Caution)> {
    match *event {
        LogEntry::CutOff { tank } => Some((WarningKind::RanLow, at(now, Some(tank)))),
        LogEntry::Breaks { load, step, what } => {
            let (kind, by) = match what {
                Breach::WaitedTooLong { by } => (WarningKind::WaitedTooLong, by),
                Breach::StayedTooLong { by } => (WarningKind::StayedTooLong, by),
                Breach::InAtBreak { by } => (WarningKind::InAtBreak, by),
            };
            Some((
                kind,
                Caution {
                    load: Some(load),
                    step: Some(step),
                    by,
                    ..at(now, None)
                },
            ))
        }
        LogEntry::HandsTake { task, .. } if !task.kind.is_care() && after_closing(shop, now) => {
            let load = task.load.map(|(load, _)| load);
            Some((
                WarningKind::Overtime,
                Caution {
                    load,
                    ..at(now, Some(task.station))
                },
            ))
        }
        _ => None,
    }
}

fn after_closing(shop: &Shop, now: Moment) -> bool {
    !shop.calendar.days.iter().any(|d| d.open <= now && now < d.close)
}
