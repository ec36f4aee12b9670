//! Care of the baths, row by row.

use super::caution::StepCaution;
use super::rows::Maker;
use super::tasks::Deed;
use super::{Row, RowKind};
use crate::print::{capital, litres, number};
use crate::record::{CareKind, CareUse, Event, Record, Task, TaskKind};
use crate::shop::StationId;
use crate::units::Moment;

/// Care of a tank from beginning to end; never-ending where the record ends before.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cared {
    pub(super) tank: StationId,
    pub(super) kind: CareKind,
    pub(super) from: Moment,
    pub(super) to: Moment,
    pub(super) used: CareUse,
}

/// All of a record, in order of beginning.
pub(super) fn cares(record: &Record) -> Vec<Cared> {
    let mut cares: Vec<Cared> = Vec::new();
    for entry in &record.entries {
        match &entry.event {
            Event::CareBegins { tank, care } => cares.push(Cared {
                tank: *tank,
                kind: *care,
                from: entry.at,
                to: Moment::NEVER,
                used: CareUse::default(),
            }),
            Event::CareEnds { tank, used, .. } => {
                if let Some(open) = cares.iter_mut().rev().find(|c| c.tank == *tank) {
                    (open.to, open.used) = (entry.at, **used);
                }
            }
            _ => {}
        }
    }
    cares
}

impl Maker<'_> {
    /// What hands do in the care of a bath.
    pub(super) fn care(&self, deed: &Deed, task: &Task) -> Row {
        let name = self.station(task.station);
        let care = self
            .cares
            .iter()
            .find(|c| c.tank == task.station && c.from <= deed.from && deed.to <= c.to);
        let used = care.map(|c| c.used).unwrap_or_default();
        let (words, caution) = care_words(&name, task.kind, care.map(|c| c.kind), &used);
        Row {
            takes: Some(deed.takes),
            ..care_row(deed.from, words, name, caution)
        }
    }

    /// A bath that is to cool is left to it.
    pub(super) fn stops(&self) -> Vec<Row> {
        let stops = self.cares.iter().filter(|c| c.kind.is_stop());
        let row = |c: &Cared| {
            let name = self.station(c.tank);
            let what = match c.kind {
                CareKind::Filter => "it cools and settles for the filter",
                CareKind::Settle => "it cools and settles",
                _ => "it cools to be renewed",
            };
            care_row(
                c.from,
                format!("{}: heater off, nothing more goes in; {what}", capital(&name)),
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
        caution: Some(caution),
        at_bath: true,
    }
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
