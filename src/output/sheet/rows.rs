//! From deeds, baths, orders and breaks to rows.

use super::cares::{Cared, cares};
use super::caution::StepCaution;
use super::lines::lines;
use super::tasks::deeds;
use super::to_note::Lots;
use super::{DaySheet, Row, RowKind};
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::print::{clock_beside, list, number, plural};
use tankday_base::shop::{Day, Relieves, Shop, StationId, StepRef};
use tankday_base::units::Moment;
use tankday_record::{
    Analysis, Breach, Cargo, Figures, Labels, LoadNo, LogEntry, Record, ToppedUp, Trajectory,
};

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
        if row.at.day_and_time().0 != day.open.day_and_time().0 {
            // Before this day, or after its midnight.
            row.deed = format!("{}: {}", shop.calendar.date(row.at).strftime("%A"), row.deed);
        }
        row.cautions.retain(|c| !said.contains(c));
        // Of what may spoil the work the first is enough; what may hurt, and what to do with the load, is said whole.
        let stay = row.cautions.iter().filter(|c| c.stays()).count();
        row.cautions.truncate(stay + 1);
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
        assumed: String::new(),
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
    pub(super) ways: BTreeMap<LoadNo, Trajectory>,
    /// What to mind before a load goes into a bath.
    pub(super) before: BTreeMap<LoadNo, Vec<StepCaution>>,
    pub(super) breaches: BTreeMap<(LoadNo, StepRef), Breach>,
    pub(super) top_ups: Vec<ToppedUp>,
    pub(super) cares: Vec<Cared>,
    pub(super) lots: Lots,
}

impl<'a> Maker<'a> {
    fn of(shop: &'a Shop, record: &'a Record, figures: &'a Figures) -> Self {
        let read = Analysis::of(shop, record);
        let mut maker = Self {
            shop,
            record,
            figures,
            labels: Labels::from(&read),
            lots: Lots::of(shop, record, &read.cargo),
            cargo: read.cargo,
            ways: read.ways,
            before: before(figures),
            breaches: BTreeMap::new(),
            top_ups: read.top_ups,
            cares: cares(record),
        };
        for entry in &record.entries {
            if let LogEntry::Breaks { load, step, what } = entry.event {
                maker.breaches.insert((load, step), what);
            }
        }
        maker
    }

    fn rows(&self) -> Vec<Row> {
        let lines = lines(self.shop, deeds(self.shop, self.record));
        let mut rows: Vec<Row> = lines.iter().filter_map(|line| self.line(line)).collect();
        let last = rows.iter().filter_map(|r| r.until).max().unwrap_or(Moment::ZERO);
        rows.extend(self.stops());
        rows.extend(self.heaters());
        rows.extend(self.left());
        rows.extend(self.lids());
        rows.extend(self.stays_after_closing());
        rows.extend(self.alone_after_closing());
        rows.extend(self.ready());
        rows.extend(self.breaks(last));
        rows.extend(self.sent_back());
        // At one moment: what one must know or switch, then deeds, then what is ready.
        rows.sort_by_key(|r| (r.at, order_of(r)));
        rows
    }

    /// A clock time as it stands in a line of a moment: with its weekday where that is another day.
    pub(super) fn clock(&self, at: Moment, beside: Moment) -> String {
        clock_beside(&self.shop.calendar, at, beside)
    }

    /// Whether a load carries hydrogen at a moment: hardened pieces that were in a bath and are not relieved yet.
    pub(super) fn hydrogen(&self, load: LoadNo, at: Moment) -> bool {
        let parts = self.cargo.parts_at(self.shop, load, at);
        let materials = parts
            .iter()
            .map(|(_, p, _)| self.shop.materials.get(p.material.index()));
        let hardened = materials.flatten().any(|m| m.hardened);
        let relieves = |s: StepRef| {
            let relief = self.shop.find_step(s).and_then(|s| s.relief);
            relief.is_some_and(|r| r.what == Relieves::Hydrogen)
        };
        let visits = self.ways.get(&load).map_or(&[][..], |w| w.visits.as_slice());
        let relieved = visits
            .iter()
            .any(|v| relieves(v.step) && v.ends.is_some_and(|end| end <= at));
        hardened && !relieved && self.labels.charged(load).is_some_and(|charged| charged <= at)
    }

    pub(super) fn parts(&self, load: LoadNo, at: Moment) -> String {
        let name = |(_, part, n): &(_, &tankday_base::shop::Part, u32)| {
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
    match (row.kind, row.hands) {
        (RowKind::Break, _) => 0,
        (RowKind::Pressing, _) => 1,
        (RowKind::SheetTask, None) => 2,
        (RowKind::SheetTask, Some(_)) => 3,
        (RowKind::Note, _) => 4,
        (RowKind::Ready | RowKind::ReadyLate, _) => 5,
    }
}
