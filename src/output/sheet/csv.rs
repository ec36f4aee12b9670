//! The sheet as CSV (RFC 4180), one row a line of the sheet. What a spreadsheet might run as a formula stands behind a `'`.
//!
//! A row that does several acts joins them with ` + ` in `act`; `load` and `station` then hold one name where it is the
//! same for all acts, or as many as there are acts, joined alike; so do `part` and `pieces`, by whether all acts are about
//! one load. `step_min` holds one value for each act that begins a step, in their order, `amount` and `unit` one for each
//! number stated: equal values stand as often as they count.

use super::act::{acts, amounts, each, names, of_loads};
use super::{DaySheet, Row, RowKind};
use tankday_base::print::{cell, number};
use tankday_base::units::{Moment, Span};

const HEAD: [&str; 16] = [
    "date",
    "time",
    "what",
    "act",
    "task",
    "load",
    "part",
    "pieces",
    "station",
    "hands_min",
    "step_min",
    "earliest",
    "latest",
    "amount",
    "unit",
    "caution",
];

/// All sheets in one table. Times are local; `hands_min` is how long hands are busy, `step_min` how long the step lasts.
/// `earliest` and `latest` say between which times a load is taken out.
#[must_use]
pub fn to_csv(sheets: &[DaySheet]) -> String {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    // Writing into memory does not fail.
    let _ = writer.write_record(HEAD);
    for sheet in sheets {
        for row in &sheet.rows {
            let _ = writer.write_record(fields(sheet, row).map(|f| cell(&f).into_owned()));
        }
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

fn fields(sheet: &DaySheet, row: &Row) -> [String; 16] {
    let (amount, unit) = amounts(&row.doings);
    [
        date(sheet, row.at),
        row.at.clock(),
        what(row.kind).to_owned(),
        acts(&row.doings),
        row.deed.clone(),
        names(row.doings.iter().map(|d| d.load.clone())),
        of_loads(&row.doings, |d| d.part.clone()),
        of_loads(&row.doings, |d| {
            if d.pieces > 0 {
                d.pieces.to_string()
            } else {
                String::new()
            }
        }),
        names(row.doings.iter().map(|d| d.station.clone())),
        row.hands.map_or(String::new(), in_minutes),
        each(row.doings.iter().filter_map(|d| d.step).map(in_minutes)),
        row.earliest.map_or(String::new(), |at| clock(sheet, row.at, at)),
        row.latest.map_or(String::new(), |at| clock(sheet, row.at, at)),
        amount,
        unit,
        row.minds(),
    ]
}

fn in_minutes(span: Span) -> String {
    number(span.in_minutes(), 1)
}

/// The date of a moment near a sheet's day.
fn date(sheet: &DaySheet, at: Moment) -> String {
    let days = at.day_and_time().0 - sheet.open.day_and_time().0;
    let step = jiff::Span::new().try_days(days).unwrap_or_default();
    sheet.date.saturating_add(step).to_string()
}

/// `08:36`, on another day than the row's with its date: `2026-03-14 13:00`.
fn clock(sheet: &DaySheet, row: Moment, at: Moment) -> String {
    if at.day_and_time().0 == row.day_and_time().0 {
        return at.clock();
    }
    format!("{} {}", date(sheet, at), at.clock())
}

const fn what(kind: RowKind) -> &'static str {
    match kind {
        RowKind::SheetTask => "do",
        RowKind::Pressing => "must not wait",
        RowKind::Ready => "ready",
        RowKind::ReadyLate => "ready late",
        RowKind::Break => "break",
        RowKind::Note => "note",
    }
}
