//! A table of orders with what became of each, back for the spreadsheet that it came from.

use crate::narrative::{Promise, Results, promises};
use tankday_base::print::{cell, number};
use tankday_base::units::Moment;
use tankday_scenario::OrderTable;

/// The table as it came, with four columns more: when it is ready, in which loads it was, the chance that it is on time, and
/// its cost. Cells that a spreadsheet might run as a formula stand behind a `'`.
#[must_use]
pub fn order_results(results: &Results<'_>, table: &OrderTable) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let width = table
        .rows
        .iter()
        .map(|(_, cells)| cells.len())
        .fold(table.headings.len(), usize::max);
    let currency = &results.figures.cost.currency;
    let own = ["ready", "load", "chance of being on time"].map(str::to_owned);
    let heads = padded(&table.headings, width)
        .chain(own)
        .chain([format!("cost, {currency}")]);
    // Writing to memory does not fail.
    let _ = writer.write_record(heads.map(|h| cell(&h).into_owned()));
    let all = promises(results);
    for (id, cells) in &table.rows {
        let told = all.iter().find(|p| p.order.id == *id);
        let more = told.map_or_else(|| [(); 4].map(|()| String::new()), |p| columns(results, p));
        let _ = writer.write_record(padded(cells, width).chain(more).map(|c| cell(&c).into_owned()));
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

fn padded(cells: &[String], width: usize) -> impl Iterator<Item = String> {
    let blank = std::iter::repeat_n(String::new(), width.saturating_sub(cells.len()));
    cells.iter().cloned().chain(blank)
}

/// Ready, loads, chance, cost.
fn columns(results: &Results<'_>, promise: &Promise<'_>) -> [String; 4] {
    let order = promise.order;
    // As spreadsheets understand a time; whole minutes are enough.
    let time = |at: Moment| format!("{} {}", results.shop.calendar.date(at), at.clock());
    let ready = promise.chance.map_or(order.ready, |c| c.usual);
    let mut loads: Vec<&str> = Vec::new();
    for load in &results.figures.loads {
        if load.lots.iter().any(|l| l.order == order.order) {
            loads.push(results.labels.load(load.load));
        }
    }
    let chance = promise
        .chance
        .map(|c| f64::from(c.on_time) / f64::from(c.of.max(1)));
    let known = results.figures.cost.given;
    let share = results
        .figures
        .order_costs
        .iter()
        .find(|s| known && s.order == order.order);
    [
        ready.map_or_else(|| "not ready".to_owned(), time),
        loads.join(" "),
        chance.map_or_else(String::new, |c| format!("{} %", number(c * 100.0, 0))),
        share.map_or_else(String::new, |s| number(s.cost, 2)),
    ]
}
