//! Care of the baths, row by row.

use super::caution::StepCaution;
use super::rows::Maker;
use super::tasks::Deed;
use super::{Row, RowKind};
use crate::bath::HOT;
use crate::print::{capital, litres, number};
use crate::record::{CareKind, CareUse, Event, HeaterState, Record, Task, TaskKind};
use crate::shop::{StationId, VesselId};
use crate::units::Moment;

/// Care of a tank from beginning to end; never-ending where the record ends before.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cared {
    pub(super) tank: StationId,
    pub(super) kind: CareKind,
    pub(super) from: Moment,
    pub(super) to: Moment,
    pub(super) used: CareUse,
    /// The vessel that it needs, or in which it goes on.
    pub(super) vessel: Option<VesselId>,
    /// Whether it goes on in the vessel, while the tank works.
    pub(super) outside: bool,
}

/// All of a record, in order of beginning.
pub(super) fn cares(record: &Record) -> Vec<Cared> {
    let mut cares: Vec<Cared> = Vec::new();
    for entry in &record.entries {
        match &entry.event {
            Event::CareBegins { tank, care } => cares.push(begun(*tank, *care, entry.at)),
            Event::CareEnds { tank, used, .. } => {
                let own = |c: &&mut Cared| c.tank == *tank && !c.outside;
                if let Some(open) = cares.iter_mut().rev().find(own) {
                    (open.to, open.used) = (entry.at, **used);
                }
            }
            Event::VesselBegins { vessel, tank } => {
                let own = |c: &&mut Cared| c.tank == *tank && !c.outside;
                if let Some(exchange) = cares.iter_mut().rev().find(own) {
                    exchange.vessel = Some(*vessel);
                }
                cares.push(Cared {
                    vessel: Some(*vessel),
                    outside: true,
                    ..begun(*tank, CareKind::Exchange, entry.at)
                });
            }
            Event::VesselEnds { vessel, used, .. } => {
                let same = |c: &&mut Cared| c.outside && c.vessel == Some(*vessel);
                if let Some(open) = cares.iter_mut().rev().find(same) {
                    (open.to, open.used) = (entry.at, **used);
                }
            }
            _ => {}
        }
    }
    cares
}

fn begun(tank: StationId, kind: CareKind, from: Moment) -> Cared {
    Cared {
        tank,
        kind,
        from,
        to: Moment::NEVER,
        used: CareUse::default(),
        vessel: None,
        outside: false,
    }
}

impl Maker<'_> {
    /// What hands do in the care of a bath.
    pub(super) fn care(&self, deed: &Deed, task: &Task) -> Row {
        let name = self.station(task.station);
        let care = self.care_of(deed, task);
        let used = care.map(|c| c.used).unwrap_or_default();
        let vessel = care.and_then(|c| c.vessel).map(|v| self.vessel(v));
        let (words, caution) = match vessel {
            Some(vessel) => vessel_words(&name, &vessel, task.kind, &used),
            None => care_words(&name, task.kind, care.map(|c| c.kind), &used),
        };
        let mut row = care_row(deed.from, words, name, caution);
        let adds = matches!(
            task.kind,
            TaskKind::AddConcentrate | TaskKind::TrimRatio | TaskKind::PutWoolIn
        );
        if adds && self.is_hot(task.station, deed.from) {
            row.cautions.push(StepCaution::TopUp);
        }
        Row {
            takes: Some(deed.takes),
            ..row
        }
    }

    /// The care that a task belongs to. Decanting and filtering is done in the vessel where the tank is not itself
    /// settled or filtered.
    fn care_of(&self, deed: &Deed, task: &Task) -> Option<&Cared> {
        let filters = matches!(
            task.kind,
            TaskKind::Decant | TaskKind::SetUpFilter | TaskKind::FillBack
        );
        let fits = |c: &&Cared| {
            let meanwhile = c.tank == task.station && c.from <= deed.from && deed.to <= c.to;
            let inside = matches!(c.kind, CareKind::Filter | CareKind::Settle);
            meanwhile && if filters { c.outside || inside } else { !c.outside }
        };
        let all = || self.cares.iter().filter(fits);
        all().find(|c| !c.outside).or_else(|| all().next())
    }

    fn vessel(&self, id: VesselId) -> String {
        let vessel = self.shop.vessels.get(id.index());
        vessel.map_or(String::new(), |v| v.name.clone())
    }

    /// Whether a bath scalds at a moment, by what was last read of it.
    fn is_hot(&self, id: StationId, when: Moment) -> bool {
        let until = self.record.entries.iter().take_while(|e| e.at <= when);
        let read = until.filter_map(|e| match &e.event {
            Event::Bath { tank, sample } if *tank == id => Some(sample.temperature),
            _ => None,
        });
        read.last().is_some_and(|t| t > HOT)
    }

    /// Whether a heater is on just before a moment.
    fn is_on_before(&self, id: StationId, when: Moment) -> bool {
        let before = self.record.entries.iter().filter(|e| e.at < when).rev();
        let state = before.filter_map(|e| match &e.event {
            Event::Bath { tank, sample } if *tank == id => Some(sample.heater),
            _ => None,
        });
        state.take(1).any(|heater| heater != HeaterState::Off)
    }

    /// A bath that is to cool is left to it.
    pub(super) fn stops(&self) -> Vec<Row> {
        let stops = self.cares.iter().filter(|c| c.kind.is_stop() && !c.outside);
        let row = |c: &Cared| {
            let name = self.station(c.tank);
            let (what, aim) = match c.kind {
                CareKind::Filter => ("cools and settles for the filter", "filtered"),
                CareKind::Settle => ("cools and settles", "settled"),
                CareKind::Exchange => ("cools to be exchanged", "exchanged"),
                _ => ("cools to be renewed", "renewed"),
            };
            let words = if self.is_on_before(c.tank, c.from) {
                format!("heater off, nothing more goes in; it {what}")
            } else {
                format!("heater stays off, nothing goes in until it is {aim}")
            };
            care_row(
                c.from,
                format!("{}: {words}", capital(&name)),
                name,
                StepCaution::Waste,
            )
        };
        stops.map(row).collect()
    }
}

fn care_row(at: Moment, deed: String, station: String, caution: StepCaution) -> Row {
    Row {
        at,
        kind: RowKind::Deed,
        deed,
        load: String::new(),
        part: String::new(),
        pieces: 0,
        station,
        takes: None,
        latest: None,
        cautions: vec![caution],
        at_bath: true,
        to_note: Vec::new(),
    }
}

fn vessel_words(name: &str, vessel: &str, kind: TaskKind, used: &CareUse) -> (String, StepCaution) {
    let water = if used.water.in_litres() < 0.05 {
        String::new()
    } else {
        format!(", make good with {} distilled water", litres(used.water))
    };
    let words = match kind {
        TaskKind::Exchange => format!(
            "Draw {} off the {name} into the empty half of the {vessel}, refill it with the {} that were kept{water}",
            litres(used.drawn_off),
            litres(used.refilled)
        ),
        TaskKind::Decant => format!("Decant what settled in the {vessel} from its sludge"),
        TaskKind::SetUpFilter => format!("Set up the filter, pour the heel in the {vessel} on it"),
        _ => format!(
            "Pour the filtered solution back into the {vessel}{water}: it keeps it for the next exchange"
        ),
    };
    (words, StepCaution::Waste)
}

fn care_words(name: &str, kind: TaskKind, care: Option<CareKind>, used: &CareUse) -> (String, StepCaution) {
    let grams = number(used.chemical.in_grams(), 1);
    match kind {
        TaskKind::AddConcentrate => (
            format!(
                "Add {} mL concentrate to the {name}, stir gently",
                number(used.concentrate.in_litres() * 1e3, 0)
            ),
            StepCaution::Concentrate,
        ),
        TaskKind::TrimRatio if care == Some(CareKind::LowerRatio) => (
            format!("Add phosphoric acid to the {name}, {grams} g as pure acid"),
            StepCaution::Concentrate,
        ),
        TaskKind::TrimRatio => (
            format!("Stir {grams} g carbonate into the {name} bit by bit: it froths"),
            StepCaution::Wool,
        ),
        TaskKind::PutWoolIn => (
            format!("Steel wool into the {name}: {grams} g are to dissolve"),
            StepCaution::Wool,
        ),
        TaskKind::TakeWoolOut => (
            format!("Take what is left of the wool out of the {name}"),
            StepCaution::Foam,
        ),
        TaskKind::Decant => (format!("Decant the {name} from its sludge"), StepCaution::Waste),
        TaskKind::SetUpFilter => (
            format!("Set up the filter, pour the heel of the {name} on it"),
            StepCaution::Waste,
        ),
        TaskKind::FillBack => (
            format!(
                "Fill the {name} back, make good with {} distilled water",
                litres(used.water)
            ),
            StepCaution::Waste,
        ),
        _ => (
            format!(
                "Throw {} of the {name} away; make up with {} water, then {} concentrate",
                litres(used.wasted),
                litres(used.water),
                litres(used.concentrate)
            ),
            StepCaution::MakeUp,
        ),
    }
}
