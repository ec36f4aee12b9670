//! From deeds, baths, orders and breaks to rows.

use super::cares::{Cared, cares};
use super::caution::StepCaution;
use super::tasks::{deeds, step};
use super::to_note::Lots;
use super::{DaySheet, Row, RowKind};
use crate::print::{list, number, plural};
use crate::record::{Breach, Cargo, Event, Figures, Labels, LoadNo, Record, Visit, Way, ways};
use crate::shop::{Day, Shop, StationId, StepRef};
use crate::units::{Moment, Volume};
use std::collections::{BTreeMap, BTreeSet};

/// The sheets of all days.
#[must_use]
pub fn sheets(shop: &Shop, record: &Record, figures: &Figures) -> Vec<DaySheet> {
    let maker = Maker::of(shop, record, figures);
    let mut rows = maker.rows();
    let days = &shop.calendar.days;
    let mut sheets = Vec::new();
    for (i, day) in days.iter().enumerate() {
        let until = days.get(i + 1).map_or(Moment::NEVER, |next| midnight(next.open));
        let later = rows.iter().position(|r| r.at >= until).unwrap_or(rows.len());
        let rest = rows.split_off(later);
        sheets.push(day_sheet(shop, day, std::mem::replace(&mut rows, rest)));
    }
    sheets
}

fn midnight(at: Moment) -> Moment {
    at - at.day_and_time().1
}

fn day_sheet(shop: &Shop, day: &Day, mut rows: Vec<Row>) -> DaySheet {
    let mut said = Vec::new();
    for row in &mut rows {
        row.cautions.retain(|c| !said.contains(c));
        // Of what may spoil the work the first is enough; what may hurt is said whole.
        let hurts = row.cautions.iter().filter(|c| c.may_hurt()).count();
        row.cautions.truncate(hurts + 1);
        said.extend(row.cautions.iter().filter(|c| c.once_a_day()));
    }
    let least: BTreeSet<String> = shop
        .tanks()
        .filter_map(|(_, _, tank)| shop.baths.get(tank.bath.index()))
        .map(|bath| format!("{} °C", number(bath.band.least.in_celsius(), 0)))
        .collect();
    DaySheet {
        date: shop.calendar.date(day.open),
        open: day.open,
        close: day.close,
        least: list(&least.into_iter().collect::<Vec<_>>()),
        rows,
    }
}

/// What is known of each load before it goes into a bath, in the order of the warnings.
fn before(figures: &Figures) -> BTreeMap<LoadNo, Vec<StepCaution>> {
    let mut before: BTreeMap<LoadNo, Vec<StepCaution>> = BTreeMap::new();
    for warning in &figures.warnings {
        let Some(caution) = StepCaution::of_warning(warning.kind) else {
            continue;
        };
        for load in warning.at.iter().filter_map(|c| c.load) {
            before.entry(load).or_default().push(caution);
        }
    }
    before
}

/// Makes rows.
pub(super) struct Maker<'a> {
    pub(super) shop: &'a Shop,
    pub(super) record: &'a Record,
    pub(super) figures: &'a Figures,
    pub(super) labels: Labels,
    pub(super) cargo: Cargo,
    pub(super) ways: BTreeMap<LoadNo, Way>,
    /// What to mind before a load goes into a bath.
    pub(super) before: BTreeMap<LoadNo, Vec<StepCaution>>,
    pub(super) breaches: BTreeMap<(LoadNo, StepRef), Breach>,
    pub(super) top_ups: Vec<(StationId, Moment, Volume)>,
    pub(super) cares: Vec<Cared>,
    pub(super) lots: Lots,
}

impl<'a> Maker<'a> {
    fn of(shop: &'a Shop, record: &'a Record, figures: &'a Figures) -> Self {
        let cargo = Cargo::of(record);
        let mut maker = Self {
            shop,
            record,
            figures,
            labels: Labels::of(shop, record),
            lots: Lots::of(shop, record, &cargo),
            cargo,
            ways: ways(record),
            before: before(figures),
            breaches: BTreeMap::new(),
            top_ups: Vec::new(),
            cares: cares(record),
        };
        for entry in &record.entries {
            match entry.event {
                Event::Breaks { load, step, what } => {
                    maker.breaches.insert((load, step), what);
                }
                Event::ToppedUp { tank, volume } => maker.top_ups.push((tank, entry.at, volume)),
                _ => {}
            }
        }
        maker
    }

    fn rows(&self) -> Vec<Row> {
        let mut rows: Vec<Row> = deeds(self.shop, self.record)
            .iter()
            .map(|d| self.deed(d))
            .collect();
        rows.extend(self.stops());
        rows.extend(self.heaters());
        rows.extend(self.left());
        rows.extend(self.ready());
        rows.extend(self.breaks());
        rows.extend(self.sent_back());
        // At one moment: what one must know or switch, then deeds, then what is ready.
        rows.sort_by_key(|r| (r.at, order_of(r)));
        rows
    }

    /// The visit of a load for a step that had begun at a moment.
    pub(super) fn visit(&self, load: LoadNo, at: StepRef, when: Moment) -> Option<&Visit> {
        let visits = &self.ways.get(&load)?.visits;
        visits.iter().rev().find(|v| v.step == at && v.set_in <= when)
    }

    pub(super) fn step_names(&self, steps: &[StepRef]) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for name in steps.iter().filter_map(|s| step(self.shop, *s)).map(|s| &s.name) {
            if names.last() != Some(name) {
                names.push(name.clone());
            }
        }
        names
    }

    pub(super) fn parts(&self, load: LoadNo, at: Moment) -> String {
        let name = |(_, part, n): &(_, &crate::shop::Part, u32)| {
            if *n == 1 {
                part.name.clone()
            } else {
                plural(&part.name)
            }
        };
        list(
            &self
                .cargo
                .parts_at(self.shop, load, at)
                .iter()
                .map(name)
                .collect::<Vec<_>>(),
        )
    }

    pub(super) fn station(&self, id: StationId) -> String {
        self.shop
            .stations
            .get(id.index())
            .map_or(String::new(), |s| s.name.clone())
    }
}

fn order_of(row: &Row) -> u8 {
    match (row.kind, row.takes) {
        (RowKind::Break, _) => 0,
        (RowKind::Pressing, _) => 1,
        (RowKind::Deed, None) => 2,
        (RowKind::Deed, Some(_)) => 3,
        (RowKind::Note, _) => 4,
        (RowKind::Ready | RowKind::ReadyLate, _) => 5,
    }
}
