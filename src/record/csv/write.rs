//! From an event to its row.

use super::columns::{Column, Row};
use crate::event::{
    BathSample, Breach, CareKind, CareUse, Coated, HeaterState, LoadNo, LogEntry, OrderNo, Task, TaskKind,
};
use crate::watch::Entry;
use tankday_base::shop::{Arrival, OrderId, Shop, StationId, StepRef};
use tankday_base::units::{Moment, Quantity};

pub(super) const TASKS: [(&str, TaskKind); 14] = [
    (TaskKind::PutIn.words(), TaskKind::PutIn),
    (TaskKind::Work.words(), TaskKind::Work),
    (TaskKind::TakeOut.words(), TaskKind::TakeOut),
    (TaskKind::TopUp.words(), TaskKind::TopUp),
    (TaskKind::Renew.words(), TaskKind::Renew),
    (TaskKind::AddConcentrate.words(), TaskKind::AddConcentrate),
    (TaskKind::TrimRatio.words(), TaskKind::TrimRatio),
    (TaskKind::PutWoolIn.words(), TaskKind::PutWoolIn),
    (TaskKind::TakeWoolOut.words(), TaskKind::TakeWoolOut),
    (TaskKind::Decant.words(), TaskKind::Decant),
    (TaskKind::SetUpFilter.words(), TaskKind::SetUpFilter),
    (TaskKind::FillBack.words(), TaskKind::FillBack),
    (TaskKind::MakeUpAnew.words(), TaskKind::MakeUpAnew),
    (TaskKind::Exchange.words(), TaskKind::Exchange),
];

pub(super) const CARES: [(&str, CareKind); 9] = [
    (CareKind::Replenish.words(), CareKind::Replenish),
    (CareKind::RaiseRatio.words(), CareKind::RaiseRatio),
    (CareKind::LowerRatio.words(), CareKind::LowerRatio),
    (CareKind::Condition.words(), CareKind::Condition),
    (CareKind::Filter.words(), CareKind::Filter),
    (CareKind::Settle.words(), CareKind::Settle),
    (CareKind::RenewHalf.words(), CareKind::RenewHalf),
    (CareKind::Renew.words(), CareKind::Renew),
    (CareKind::Exchange.words(), CareKind::Exchange),
];

pub(super) const HEATERS: [(&str, HeaterState); 3] = [
    ("off", HeaterState::Off),
    ("heating", HeaterState::Heating),
    ("holding", HeaterState::Holding),
];

fn word<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> &'static str {
    words
        .iter()
        .find(|(_, v)| v == value)
        .map_or("", |(word, _)| word)
}

/// Writes rows; knows the names of the orders that have come so far.
pub(super) struct Writing<'a> {
    shop: &'a Shop,
    orders: std::collections::BTreeMap<OrderNo, (OrderId, u32)>,
}

impl<'a> Writing<'a> {
    pub(super) fn new(shop: &'a Shop) -> Self {
        Self {
            shop,
            orders: std::collections::BTreeMap::new(),
        }
    }

    /// The row of one entry. Entries must be given in the order of the record.
    pub(super) fn row(&mut self, entry: &Entry) -> Row {
        let mut row = Row::new();
        row.set(Column::At, entry.at.in_micros());
        row.set(Column::Clock, self.clock(entry.at));
        row.set(Column::LogEntry, name(&entry.event));
        self.event(&mut row, &entry.event);
        row
    }

    fn clock(&self, at: Moment) -> String {
        let (_, time) = at.day_and_time();
        let micros = time.in_micros();
        let (s, rest) = (micros / 1_000_000, micros % 1_000_000);
        let whole = format!(
            "{}T{:02}:{:02}:{:02}",
            self.shop.calendar.date(at),
            s / 3_600,
            s / 60 % 60,
            s % 60
        );
        if rest == 0 {
            return whole;
        }
        format!("{whole}.{}", format!("{rest:06}").trim_end_matches('0'))
    }

    fn event(&mut self, row: &mut Row, event: &LogEntry) {
        match *event {
            LogEntry::Opens | LogEntry::Closes | LogEntry::BreakBegins | LogEntry::BreakEnds => {}
            LogEntry::OrderArrives {
                order,
                source,
                nth,
                pieces,
            } => {
                self.orders.insert(order, (source, nth));
                self.order(row, order);
                row.set(Column::Source, source.0);
                row.set(Column::Nth, nth);
                row.set(Column::Pieces, pieces);
            }
            LogEntry::LoadMade {
                load: LoadNo(load),
                order,
                pieces,
            } => {
                self.order(row, order);
                row.set(Column::Load, load);
                row.set(Column::Pieces, pieces);
            }
            LogEntry::LoadNamed {
                load: LoadNo(load),
                ref name,
            } => {
                row.set(Column::Load, load);
                row.set(Column::LoadName, name);
            }
            LogEntry::Joins {
                load: LoadNo(load),
                into: LoadNo(into),
            } => {
                row.set(Column::Load, load);
                row.set(Column::Into, into);
            }
            LogEntry::OrderReady { order } => self.order(row, order),
            LogEntry::HandsTake { hand, task } => self.task(row, hand, task),
            LogEntry::HandsFree { hand } => row.set(Column::Hand, hand),
            LogEntry::Bath { tank, ref sample } => {
                self.station(row, tank);
                bath(row, sample);
            }
            LogEntry::InBand { tank } | LogEntry::CutOff { tank } => self.station(row, tank),
            LogEntry::ToppedUp { tank, volume } => {
                self.station(row, tank);
                row.set(Column::Volume, volume.base());
            }
            LogEntry::Renewed { station, volume } => {
                self.station(row, station);
                row.set(Column::Volume, volume.base());
            }
            LogEntry::Rinsed {
                load,
                station,
                brought,
                strength,
                first,
                last,
            } => {
                self.place(row, load, None, Some(station));
                row.set(Column::Volume, brought.base());
                row.set(Column::Strength, strength.base());
                row.set(Column::First, first.base());
                row.set(Column::Last, last.base());
            }
            LogEntry::CareBegins { tank, care } => {
                self.station(row, tank);
                row.set(Column::Care, word(&CARES, &care));
            }
            LogEntry::CareEnds { tank, care, ref used } => {
                self.station(row, tank);
                row.set(Column::Care, word(&CARES, &care));
                care_use(row, used);
            }
            LogEntry::VesselBegins { vessel, tank } => {
                self.station(row, tank);
                row.set(Column::Vessel, vessel.0);
            }
            LogEntry::VesselEnds {
                vessel,
                tank,
                ref used,
            } => {
                self.station(row, tank);
                row.set(Column::Vessel, vessel.0);
                care_use(row, used);
            }
            LogEntry::Allowed { tank, power } => {
                self.station(row, tank);
                row.set(Column::Power, power.base());
            }
            LogEntry::Coated {
                load,
                tank,
                ref coated,
            } => {
                self.place(row, load, None, Some(tank));
                coating(row, coated);
            }
            LogEntry::Left { tank, until } | LogEntry::LeftAlone { tank, until } => {
                self.station(row, tank);
                row.set(Column::Until, until.in_micros());
            }
            ref of_a_load => self.load_event(row, of_a_load),
        }
    }

    fn load_event(&self, row: &mut Row, event: &LogEntry) {
        match *event {
            LogEntry::Waits { load, step } => self.place(row, load, Some(step), None),
            LogEntry::SetIn { load, step, station }
            | LogEntry::WorkEnds { load, step, station }
            | LogEntry::LiftBegins { load, step, station }
            | LogEntry::StepDone { load, step, station } => self.place(row, load, Some(step), Some(station)),
            LogEntry::WorkBegins {
                load,
                step,
                station,
                planned,
                most,
            } => {
                self.place(row, load, Some(step), Some(station));
                row.set(Column::Planned, planned.in_micros());
                row.set(
                    Column::Most,
                    most.map_or(String::new(), |m| m.in_micros().to_string()),
                );
            }
            LogEntry::PlaceFree { load, station } => self.place(row, load, None, Some(station)),
            LogEntry::Breaks { load, step, what } => {
                self.place(row, load, Some(step), None);
                let (limit, by) = match what {
                    Breach::WaitedTooLong { by } => ("waited", by),
                    Breach::StayedTooLong { by } => ("stayed", by),
                    Breach::InAtBreak { by } => ("break", by),
                };
                row.set(Column::Limit, limit);
                row.set(Column::By, by.in_micros());
            }
            LogEntry::Found {
                load,
                step,
                defect,
                chance,
            } => {
                self.place(row, load, Some(step), None);
                row.set(Column::Defect, defect.words());
                row.set(Column::Chance, chance.base());
            }
            LogEntry::KeptBack { load, step, behind } => {
                self.place(row, load, Some(step), None);
                row.set(Column::BackTo, behind.step.0);
            }
            LogEntry::Fails { load, step, back_to } => {
                self.place(row, load, Some(step), None);
                row.set(Column::BackTo, back_to.step.0);
            }
            LogEntry::WorkPauses { load } | LogEntry::WorkResumes { load } | LogEntry::LoadReady { load } => {
                self.place(row, load, None, None);
            }
            _ => {}
        }
    }

    fn task(&self, row: &mut Row, hand: u32, task: Task) {
        row.set(Column::Hand, hand);
        row.set(Column::Task, word(&TASKS, &task.kind));
        self.station(row, task.station);
        if let Some((load, step)) = task.load {
            self.place(row, load, Some(step), None);
        }
        if let Some(vessel) = task.vessel {
            row.set(Column::Vessel, vessel.0);
        }
    }

    fn place(&self, row: &mut Row, load: LoadNo, step: Option<StepRef>, station: Option<StationId>) {
        row.set(Column::Load, load.0);
        if let Some(step) = step {
            row.set(Column::Route, step.route.0);
            row.set(Column::Step, step.step.0);
            let known = self
                .shop
                .routes
                .get(step.route.index())
                .and_then(|r| r.steps.get(step.step.index()));
            row.set(Column::StepName, known.map_or("", |s| s.name.as_str()));
        }
        if let Some(station) = station {
            self.station(row, station);
        }
    }

    fn station(&self, row: &mut Row, station: StationId) {
        row.set(Column::Station, station.0);
        let known = self.shop.stations.get(station.index());
        row.set(Column::StationName, known.map_or("", |s| s.name.as_str()));
    }

    fn order(&self, row: &mut Row, order: OrderNo) {
        row.set(Column::Order, order.0);
        let known = self.orders.get(&order);
        let known = known.and_then(|(source, nth)| Some((self.shop.orders.get(source.index())?, nth)));
        if let Some((stated, nth)) = known {
            match stated.arrival {
                Arrival::At(_) => row.set(Column::OrderName, &stated.id),
                Arrival::Every { .. } => row.set(Column::OrderName, format!("{} {nth}", stated.id)),
            }
        }
    }
}

fn bath(row: &mut Row, s: &BathSample) {
    row.set(Column::Temperature, s.temperature.in_celsius());
    row.set(Column::Volume, s.volume.base());
    row.set(Column::Water, s.water.base());
    row.set(Column::Heater, word(&HEATERS, &s.heater));
    row.set(Column::Lid, s.lid);
    row.set(Column::Drawn, s.drawn.base());
    row.set(Column::Heated, s.heated.base());
    row.set(Column::Lost, s.lost.base());
    row.set(Column::Carried, s.carried.base());
    row.set(Column::ToLoads, s.to_loads.base());
    row.set(Column::Evaporated, s.evaporated.base());
    row.set(Column::ToppedUp, s.topped_up.base());
    row.set(Column::DraggedOut, s.dragged_out.base());
    if let Some(r) = &s.readings {
        row.set(Column::TotalAcid, r.total_acid.base());
        row.set(Column::FreeAcid, r.free_acid.base());
        row.set(Column::Iron, r.iron.base());
        row.set(Column::Stirred, r.stirred.base());
        row.set(Column::Settled, r.settled.base());
        row.set(Column::Area, r.area.base());
        row.set(Column::Uses, r.uses);
    }
}

fn coating(row: &mut Row, c: &Coated) {
    row.set(Column::Conversion, c.conversion);
    row.set(Column::OnCastIron, c.on_cast_iron);
    row.set(Column::Coating, c.coating.base());
    row.set(Column::Metal, c.metal.base());
    row.set(Column::Hydrogen, c.hydrogen.base());
    row.set(Column::Volume, c.dragged_out.base());
    row.set(Column::Exhausted, c.exhausted);
}

fn care_use(row: &mut Row, u: &CareUse) {
    row.set(Column::Volume, u.water.base());
    row.set(Column::Concentrate, u.concentrate.base());
    row.set(Column::Chemical, u.chemical.base());
    row.set(Column::Wasted, u.wasted.base());
    row.set(Column::Sludge, u.sludge.base());
    row.set(Column::Hydrogen, u.hydrogen.base());
    row.set(Column::Media, u.media);
    row.set(Column::DrawnOff, u.drawn_off.base());
    row.set(Column::Refilled, u.refilled.base());
}

fn name(event: &LogEntry) -> &'static str {
    match event {
        LogEntry::Opens => "opens",
        LogEntry::Closes => "closes",
        LogEntry::BreakBegins => "break begins",
        LogEntry::BreakEnds => "break ends",
        LogEntry::OrderArrives { .. } => "order arrives",
        LogEntry::LoadMade { .. } => "load made",
        LogEntry::LoadNamed { .. } => "load named",
        LogEntry::Joins { .. } => "joins",
        LogEntry::Waits { .. } => "waits",
        LogEntry::SetIn { .. } => "set in",
        LogEntry::WorkBegins { .. } => "work begins",
        LogEntry::WorkPauses { .. } => "work pauses",
        LogEntry::WorkResumes { .. } => "work resumes",
        LogEntry::WorkEnds { .. } => "work ends",
        LogEntry::LiftBegins { .. } => "lift begins",
        LogEntry::PlaceFree { .. } => "place free",
        LogEntry::StepDone { .. } => "step done",
        LogEntry::Breaks { .. } => "breaks",
        LogEntry::Found { .. } => "found",
        LogEntry::KeptBack { .. } => "kept back",
        LogEntry::Fails { .. } => "fails",
        LogEntry::LoadReady { .. } => "load ready",
        LogEntry::OrderReady { .. } => "order ready",
        LogEntry::HandsTake { .. } => "hands take",
        LogEntry::HandsFree { .. } => "hands free",
        LogEntry::Bath { .. } => "bath",
        LogEntry::InBand { .. } => "in band",
        LogEntry::ToppedUp { .. } => "topped up",
        LogEntry::Coated { .. } => "coated",
        LogEntry::CareBegins { .. } => "care begins",
        LogEntry::CareEnds { .. } => "care ends",
        LogEntry::VesselBegins { .. } => "vessel begins",
        LogEntry::VesselEnds { .. } => "vessel ends",
        LogEntry::Allowed { .. } => "allowed",
        LogEntry::Left { .. } => "left",
        LogEntry::CutOff { .. } => "cut off",
        LogEntry::LeftAlone { .. } => "left alone",
        LogEntry::Rinsed { .. } => "rinsed",
        LogEntry::Renewed { .. } => "renewed",
    }
}
