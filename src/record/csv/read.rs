//! From a row to its event.

use super::CsvError;
use super::columns::{Column, Row};
use super::write::{CARES, HEATERS, TASKS};
use crate::event::{BathReadings, BathSample, Breach, CareUse, Coated, LoadNo, LogEntry, OrderNo, Task};
use crate::watch::Entry;
use tankday_base::shop::{Defect, OrderId, RouteId, Shop, StationId, StepIx, StepRef, VesselId};
use tankday_base::units::{
    Area, Concentration, Energy, Mass, Moment, Power, Quantity, Share, Span, Strength, Temperature, Volume,
};

/// Reads rows of one shop.
pub(super) struct Reading<'a> {
    shop: &'a Shop,
}

impl<'a> Reading<'a> {
    pub(super) fn new(shop: &'a Shop) -> Self {
        Self { shop }
    }

    pub(super) fn entry(&self, row: &Row) -> Result<Entry, CsvError> {
        let at = Moment::micros(row.get(Column::At)?);
        Ok(Entry {
            at,
            event: self.event(row)?,
        })
    }

    fn event(&self, row: &Row) -> Result<LogEntry, CsvError> {
        Ok(match row.text(Column::LogEntry) {
            "opens" => LogEntry::Opens,
            "closes" => LogEntry::Closes,
            "break begins" => LogEntry::BreakBegins,
            "break ends" => LogEntry::BreakEnds,
            "order arrives" => LogEntry::OrderArrives {
                order: order(row)?,
                source: self.source(row)?,
                nth: row.get(Column::Nth)?,
                pieces: row.get(Column::Pieces)?,
            },
            "load made" => LogEntry::LoadMade {
                load: load(row)?,
                order: order(row)?,
                pieces: row.get(Column::Pieces)?,
            },
            "load named" => LogEntry::LoadNamed {
                load: load(row)?,
                name: row.text(Column::LoadName).into(),
            },
            "joins" => LogEntry::Joins {
                load: load(row)?,
                into: LoadNo(row.get(Column::Into)?),
            },
            "order ready" => LogEntry::OrderReady { order: order(row)? },
            "hands take" => LogEntry::HandsTake {
                hand: row.get(Column::Hand)?,
                task: self.task(row)?,
            },
            "hands free" => LogEntry::HandsFree {
                hand: row.get(Column::Hand)?,
            },
            "bath" => LogEntry::Bath {
                tank: self.station(row)?,
                sample: Box::new(sample(row)?),
            },
            "in band" => LogEntry::InBand {
                tank: self.station(row)?,
            },
            "topped up" => LogEntry::ToppedUp {
                tank: self.station(row)?,
                volume: Volume::from_base(row.number(Column::Volume)?),
            },
            "rinsed" => LogEntry::Rinsed {
                load: load(row)?,
                station: self.station(row)?,
                brought: Volume::from_base(row.number(Column::Volume)?),
                strength: Strength::from_base(row.number(Column::Strength)?),
                first: Strength::from_base(row.number(Column::First)?),
                last: Strength::from_base(row.number(Column::Last)?),
            },
            "renewed" => LogEntry::Renewed {
                station: self.station(row)?,
                volume: Volume::from_base(row.number(Column::Volume)?),
            },
            "coated" => LogEntry::Coated {
                load: load(row)?,
                tank: self.station(row)?,
                coated: Box::new(coating(row)?),
            },
            "care begins" => LogEntry::CareBegins {
                tank: self.station(row)?,
                care: row.word(Column::Care, &CARES)?,
            },
            "care ends" => LogEntry::CareEnds {
                tank: self.station(row)?,
                care: row.word(Column::Care, &CARES)?,
                used: Box::new(care_use(row)?),
            },
            "vessel begins" => LogEntry::VesselBegins {
                vessel: self.vessel(row)?,
                tank: self.station(row)?,
            },
            "vessel ends" => LogEntry::VesselEnds {
                vessel: self.vessel(row)?,
                tank: self.station(row)?,
                used: Box::new(care_use(row)?),
            },
            "allowed" => LogEntry::Allowed {
                tank: self.station(row)?,
                power: Power::from_base(row.number(Column::Power)?),
            },
            "left" => LogEntry::Left {
                tank: self.station(row)?,
                until: Moment::micros(row.get(Column::Until)?),
            },
            "cut off" => LogEntry::CutOff {
                tank: self.station(row)?,
            },
            "left alone" => LogEntry::LeftAlone {
                tank: self.station(row)?,
                until: Moment::micros(row.get(Column::Until)?),
            },
            _ => self.load_event(row)?,
        })
    }

    fn load_event(&self, row: &Row) -> Result<LogEntry, CsvError> {
        let load = load(row);
        let step = || self.step(row, Column::Step);
        let station = || self.station(row);
        Ok(match row.text(Column::LogEntry) {
            "waits" => LogEntry::Waits {
                load: load?,
                step: step()?,
            },
            "set in" => LogEntry::SetIn {
                load: load?,
                step: step()?,
                station: station()?,
            },
            "work begins" => LogEntry::WorkBegins {
                load: load?,
                step: step()?,
                station: station()?,
                planned: Span::micros(row.get(Column::Planned)?),
                most: row.get_if_any(Column::Most)?.map(Span::micros),
            },
            "work pauses" => LogEntry::WorkPauses { load: load? },
            "work resumes" => LogEntry::WorkResumes { load: load? },
            "work ends" => LogEntry::WorkEnds {
                load: load?,
                step: step()?,
                station: station()?,
            },
            "lift begins" => LogEntry::LiftBegins {
                load: load?,
                step: step()?,
                station: station()?,
            },
            "place free" => LogEntry::PlaceFree {
                load: load?,
                station: station()?,
            },
            "step done" => LogEntry::StepDone {
                load: load?,
                step: step()?,
                station: station()?,
            },
            "breaks" => LogEntry::Breaks {
                load: load?,
                step: step()?,
                what: breach(row)?,
            },
            "found" => LogEntry::Found {
                load: load?,
                step: step()?,
                defect: row.word(Column::Defect, &Defect::ALL.map(|d| (d.words(), d)))?,
                chance: Share::from_base(row.number(Column::Chance)?),
            },
            "kept back" => LogEntry::KeptBack {
                load: load?,
                step: step()?,
                behind: self.step(row, Column::BackTo)?,
            },
            "fails" => LogEntry::Fails {
                load: load?,
                step: step()?,
                back_to: self.step(row, Column::BackTo)?,
            },
            "load ready" => LogEntry::LoadReady { load: load? },
            other => return Err(row.refuse(Column::LogEntry, format!("`{other}` is no event"))),
        })
    }

    fn task(&self, row: &Row) -> Result<Task, CsvError> {
        let load = match row.get_if_any(Column::Load)? {
            None => None,
            Some(no) => Some((LoadNo(no), self.step(row, Column::Step)?)),
        };
        let vessel = row.get_if_any::<u32>(Column::Vessel)?;
        Ok(Task {
            kind: row.word(Column::Task, &TASKS)?,
            station: self.station(row)?,
            load,
            vessel: vessel.map(|_| self.vessel(row)).transpose()?,
        })
    }

    fn step(&self, row: &Row, column: Column) -> Result<StepRef, CsvError> {
        let route = RouteId(row.get(Column::Route)?);
        let step = StepIx(row.get(column)?);
        let steps = match self.shop.routes.get(route.index()) {
            Some(route) => route.steps.len(),
            None => return Err(row.refuse(Column::Route, "the scenario has no such route")),
        };
        if step.index() < steps {
            Ok(StepRef { route, step })
        } else {
            Err(row.refuse(column, "the route has no such step"))
        }
    }

    fn station(&self, row: &Row) -> Result<StationId, CsvError> {
        let station = StationId(row.get(Column::Station)?);
        if station.index() < self.shop.stations.len() {
            Ok(station)
        } else {
            Err(row.refuse(Column::Station, "the scenario has no such station"))
        }
    }

    fn vessel(&self, row: &Row) -> Result<VesselId, CsvError> {
        let vessel = VesselId(row.get(Column::Vessel)?);
        if vessel.index() < self.shop.vessels.len() {
            Ok(vessel)
        } else {
            Err(row.refuse(Column::Vessel, "the scenario has no such vessel"))
        }
    }

    fn source(&self, row: &Row) -> Result<OrderId, CsvError> {
        let source = OrderId(row.get(Column::Source)?);
        if source.index() < self.shop.orders.len() {
            Ok(source)
        } else {
            Err(row.refuse(Column::Source, "the scenario has no such order"))
        }
    }
}

fn load(row: &Row) -> Result<LoadNo, CsvError> {
    row.get(Column::Load).map(LoadNo)
}

fn order(row: &Row) -> Result<OrderNo, CsvError> {
    row.get(Column::Order).map(OrderNo)
}

fn breach(row: &Row) -> Result<Breach, CsvError> {
    let by = Span::micros(row.get(Column::By)?);
    let limits = [
        ("waited", Breach::WaitedTooLong { by }),
        ("stayed", Breach::StayedTooLong { by }),
        ("break", Breach::InAtBreak { by }),
    ];
    row.word(Column::Limit, &limits)
}

fn sample(row: &Row) -> Result<BathSample, CsvError> {
    let energy = |column| row.number(column).map(Energy::from_base);
    let mass = |column| row.number(column).map(Mass::from_base);
    Ok(BathSample {
        temperature: Temperature::celsius(row.number(Column::Temperature)?),
        volume: Volume::from_base(row.number(Column::Volume)?),
        water: mass(Column::Water)?,
        heater: row.word(Column::Heater, &HEATERS)?,
        lid: row.get(Column::Lid)?,
        drawn: energy(Column::Drawn)?,
        heated: energy(Column::Heated)?,
        lost: energy(Column::Lost)?,
        carried: energy(Column::Carried)?,
        to_loads: energy(Column::ToLoads)?,
        evaporated: mass(Column::Evaporated)?,
        topped_up: mass(Column::ToppedUp)?,
        dragged_out: mass(Column::DraggedOut)?,
        readings: readings(row)?,
    })
}

/// How a bath reads, where anything is written of it.
fn readings(row: &Row) -> Result<Option<BathReadings>, CsvError> {
    if row.text(Column::TotalAcid).is_empty() {
        return Ok(None);
    }
    let mass = |column| row.number(column).map(Mass::from_base);
    Ok(Some(BathReadings {
        total_acid: Strength::from_base(row.number(Column::TotalAcid)?),
        free_acid: Strength::from_base(row.number(Column::FreeAcid)?),
        iron: Concentration::from_base(row.number(Column::Iron)?),
        stirred: mass(Column::Stirred)?,
        settled: mass(Column::Settled)?,
        area: Area::from_base(row.number(Column::Area)?),
        uses: row.get(Column::Uses)?,
    }))
}

fn coating(row: &Row) -> Result<Coated, CsvError> {
    let volume = |column| row.number(column).map(Volume::from_base);
    Ok(Coated {
        conversion: row.number(Column::Conversion)?,
        on_cast_iron: row.number(Column::OnCastIron)?,
        coating: Mass::from_base(row.number(Column::Coating)?),
        metal: Mass::from_base(row.number(Column::Metal)?),
        hydrogen: volume(Column::Hydrogen)?,
        dragged_out: volume(Column::Volume)?,
        exhausted: row.get(Column::Exhausted)?,
    })
}

fn care_use(row: &Row) -> Result<CareUse, CsvError> {
    let volume = |column| row.number(column).map(Volume::from_base);
    let mass = |column| row.number(column).map(Mass::from_base);
    Ok(CareUse {
        water: volume(Column::Volume)?,
        concentrate: volume(Column::Concentrate)?,
        chemical: mass(Column::Chemical)?,
        wasted: volume(Column::Wasted)?,
        sludge: mass(Column::Sludge)?,
        hydrogen: volume(Column::Hydrogen)?,
        media: row.get(Column::Media)?,
        drawn_off: volume(Column::DrawnOff)?,
        refilled: volume(Column::Refilled)?,
    })
}
