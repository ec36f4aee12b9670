//! Mends the rows of a plan that say when baths are to be hot: each in time for its load.

use super::Reader;
use super::loads::{Grouped, NONE};
use super::order::Pair;
use std::collections::BTreeMap;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;
use tankday_scenario::{PlanFile, Spanned, Whose, WrittenHeat, nearest};

/// A load that is to go into a tank at a time.
type GoesIn<'l> = (Moment, &'l str);

/// Rows of tanks that there are not get the nearest, or go; a row that is too late for the loads before it is moved to them, or
/// one is added; a row that no load follows goes.
pub(super) fn mend_heat(
    reader: &Reader<'_>,
    grouped: &Grouped<'_>,
    list: &[Pair],
    file: &mut PlanFile,
    said: &mut Vec<String>,
) {
    let mut days: BTreeMap<(StationId, i64), Vec<WrittenHeat>> = BTreeMap::new();
    for row in std::mem::take(&mut file.heat) {
        if let Some((tank, row)) = of_a_tank(reader.shop, row, said) {
            let day = row.ready.value.day_and_time().0;
            days.entry((tank, day)).or_default().push(row);
        }
    }
    for ((tank, day), mut rows) in days {
        rows.sort_by_key(|r| r.ready.value);
        rows.dedup_by_key(|r| r.ready.value);
        let (loads, all_timed) = goes_in(reader.shop, grouped, list, tank);
        let today: Vec<GoesIn<'_>> = loads
            .into_iter()
            .filter(|l| l.0.day_and_time().0 == day)
            .collect();
        if let Some(first) = today.first() {
            first_in_time(*first, &today, &mut rows, said);
            if all_timed {
                later_in_time(&today, &mut rows, said);
            }
        }
        file.heat.extend(rows);
    }
    file.heat.sort_by_key(|r| r.ready.value);
}

/// A row with a tank of the shop.
fn of_a_tank(shop: &Shop, mut row: WrittenHeat, said: &mut Vec<String>) -> Option<(StationId, WrittenHeat)> {
    let by_name = |name: &str| shop.tanks().find(|(_, s, _)| s.name == name).map(|(id, ..)| id);
    if let Some(id) = by_name(&row.tank.value) {
        return Some((id, row));
    }
    let names: Vec<&str> = shop.tanks().map(|(_, s, _)| s.name.as_str()).collect();
    let only = (names.len() == 1).then(|| names[0]);
    let (at, old) = (row.ready.value.clock(), row.tank.value.clone());
    let Some(new) = nearest(&old, names.iter().copied()).or(only) else {
        said.push(format!("hot by {at}: there is no tank `{old}`; left out"));
        return None;
    };
    said.push(format!("hot by {at}: the {new}, not `{old}`"));
    row.tank = Spanned::new(new.to_owned(), row.tank.at);
    by_name(new).map(|id| (id, row))
}

/// The loads that go into a tank at a time, in order of time, and whether all that go in have one.
fn goes_in<'l>(
    shop: &Shop,
    grouped: &Grouped<'_>,
    list: &'l [Pair],
    tank: StationId,
) -> (Vec<GoesIn<'l>>, bool) {
    let only = shop.tanks().count() == 1;
    let mut loads = Vec::new();
    let mut heads = grouped.head.clone();
    heads.retain(|h| own(grouped, *h, tank, only) && bathes(grouped, *h));
    heads.sort_unstable();
    heads.dedup();
    for (task, known) in list.iter().filter(|(_, k)| !k.out) {
        let lot = grouped.plan.lots.get(known.lot as usize);
        let into = lot.is_some_and(|l| l.bath_step == Some(known.step));
        let (Whose::Load(name), Some(time)) = (&task.whose, known.time) else {
            continue;
        };
        if into && own(grouped, known.lot, tank, only) {
            loads.push((time.value, name.value.as_str()));
        }
    }
    loads.sort_by_key(|l| l.0);
    let all = loads.len() >= heads.len();
    (loads, all)
}

fn own(grouped: &Grouped<'_>, lot: u32, tank: StationId, only: bool) -> bool {
    let named = grouped.tank.get(lot as usize).copied();
    named == Some(tank.0) || only && named == Some(NONE)
}

fn bathes(grouped: &Grouped<'_>, lot: u32) -> bool {
    grouped
        .plan
        .lots
        .get(lot as usize)
        .is_some_and(|l| l.bath_step.is_some())
}

/// The first row of a day is in time for the first load: if a load follows it, it keeps its time and another is added.
fn first_in_time(
    (time, load): GoesIn<'_>,
    today: &[GoesIn<'_>],
    rows: &mut Vec<WrittenHeat>,
    said: &mut Vec<String>,
) {
    let Some(first) = rows.first().filter(|r| r.ready.value > time).cloned() else {
        return;
    };
    let next = rows.get(1).map_or(Moment::NEVER, |r| r.ready.value);
    let late = first.ready.value;
    let followed = today.iter().any(|l| late <= l.0 && l.0 < next);
    let row = WrittenHeat {
        ready: Spanned::new(time, first.ready.at),
        ..first
    };
    let (tank, by, late) = (row.tank.value.clone(), time.clock(), late.clock());
    if followed {
        rows.insert(0, row);
        said.push(format!("{tank}: hot by {by} for {load}, too, before {late}"));
    } else {
        rows[0] = row;
        said.push(format!("{tank}: hot by {by} for {load}, not by {late}"));
    }
}

/// Every later row has a load that it is for: the last before it that the row before it is not for, or it goes.
fn later_in_time(today: &[GoesIn<'_>], rows: &mut Vec<WrittenHeat>, said: &mut Vec<String>) {
    let mut kept: Vec<WrittenHeat> = Vec::new();
    let all = std::mem::take(rows);
    for (i, mut row) in all.iter().cloned().enumerate() {
        let at = row.ready.value;
        let next = all.get(i + 1).map_or(Moment::NEVER, |r| r.ready.value);
        let before = kept.last().map(|r| r.ready.value);
        if let Some(before) = before.filter(|_| !today.iter().any(|l| at <= l.0 && l.0 < next)) {
            let tank = row.tank.value.clone();
            let own = today.iter().filter(|l| before <= l.0 && l.0 < at).skip(1);
            let Some((time, load)) = own.last().copied() else {
                said.push(format!(
                    "{tank}: hot by {}: nothing goes in after it; left out",
                    at.clock()
                ));
                continue;
            };
            said.push(format!(
                "{tank}: hot by {} for {load}, not by {}",
                time.clock(),
                at.clock()
            ));
            row.ready = Spanned::new(time, row.ready.at);
        }
        kept.push(row);
    }
    *rows = kept;
}
