//! What to watch: where and when each warning is found.

use super::bare::{Kept, Waited};
use super::loads::TankLoad;
use super::orders::OrderFigure;
use super::rinses::RinseFigure;
use super::warning_kind::WarningKind;
use crate::analysis::Analysis;
use crate::event::{Breach, LoadNo, LogEntry};
use tankday_base::shop::{Contaminants, Shop, StationId, StepRef};
use tankday_base::units::{
    AreaPerVolume, CoatWeight, Concentration, Energy, Length, MassPerVolume, Moment, Power, Share, Span,
    Strength, Temperature, Volume,
};

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
    read: &Analysis<'_>,
    orders: &[OrderFigure],
    loads: &[TankLoad],
    rinses: &[RinseFigure],
    (waited, kept): (&[Waited], &[Kept]),
) -> Vec<Warning> {
    let mut found: Vec<Warning> = Vec::new();
    for (kind, caution) in &read.watched.warned {
        add(&mut found, *kind, *caution);
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
    for kept in kept {
        let caution = Caution {
            load: Some(kept.load),
            step: Some(kept.behind),
            by: kept.until.unwrap_or(read.end) - kept.from,
            ..at(kept.from, None)
        };
        add(&mut found, WarningKind::KeptBack, caution);
    }
    for top_up in &read.top_ups {
        let caution = Caution {
            volume: top_up.volume,
            ..at(top_up.from, Some(top_up.tank))
        };
        add(&mut found, WarningKind::TopUp, caution);
    }
    for load in loads {
        for kind in super::load_watch::of(read.shop, load) {
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
    let baths = super::bath_watch::of(read, loads);
    let added = read.watched.added.found.iter().copied();
    let heaters = super::heater_watch::of(read, loads);
    let supply = super::supply_watch::of(read);
    let mut alone = super::alone_watch::of(read);
    alone.extend(super::open_watch::of(read));
    alone.extend(super::hot_steps::of(read));
    let filters = read.watched.filters.found();
    let all = baths.into_iter().chain(added).chain(filters).chain(heaters);
    for (kind, caution) in all.chain(supply).chain(alone) {
        add(&mut found, kind, caution);
    }
    for held in super::bath_watch::held_back(read, orders) {
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

pub(super) fn event_warning(shop: &Shop, now: Moment, event: &LogEntry) -> Option<(WarningKind, Caution)> {
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
