//! The sheet as CSV (RFC 4180), one row a deed.

use super::{DaySheet, Row, RowKind};
use crate::print::number;

const HEAD: [&str; 11] = [
    "date", "time", "what", "deed", "load", "part", "pieces", "station", "minutes", "latest", "caution",
];

/// All sheets in one table. Times are local; minutes are those under hands.
#[must_use]
pub fn to_csv(sheets: &[DaySheet]) -> String {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    // Writing into memory does not fail.
    let _ = writer.write_record(HEAD);
    for sheet in sheets {
        for row in &sheet.rows {
            let _ = writer.write_record(fields(sheet, row));
        }
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

fn fields(sheet: &DaySheet, row: &Row) -> [String; 11] {
    let days = row.at.day_and_time().0 - sheet.open.day_and_time().0;
    let date = sheet
        .date
        .saturating_add(jiff::Span::new().try_days(days).unwrap_or_default());
    [
        date.to_string(),
        row.at.clock(),
        what(row.kind).to_owned(),
        row.deed.clone(),
        row.load.clone(),
        row.part.clone(),
        if row.pieces > 0 {
            row.pieces.to_string()
        } else {
            String::new()
        },
        row.station.clone(),
        row.takes.map_or(String::new(), |t| number(t.in_minutes(), 1)),
        row.latest.map_or(String::new(), crate::units::Moment::clock),
        row.minds(),
    ]
}

fn what(kind: RowKind) -> &'static str {
    match kind {
        RowKind::Deed => "do",
        RowKind::Pressing => "must not wait",
        RowKind::Ready => "ready",
        RowKind::ReadyLate => "ready late",
        RowKind::Break => "break",
        RowKind::Note => "note",
    }
}
