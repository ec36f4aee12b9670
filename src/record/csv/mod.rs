//! A record as text, one row an event, and back again without loss.
//!
//! | column | holds |
//! | --- | --- |
//! | `at_us` | when, in whole microseconds since midnight before the first day |
//! | `clock` | the same for people: local date and time, with as many decimals of a second as needed |
//! | `event` | what happened, see below |
//! | `load_name` | name that a plan has for what the load is in from the bath on |
//! | `order`, `order_name` | number of the order in the run, from 0; its name |
//! | `source`, `nth` | place of the order in the scenario, from 0; which of its stream, from 1 |
//! | `pieces` | pieces of the order or load |
//! | `load`, `into` | number of the load, from 0; the load that it joins |
//! | `route`, `step`, `step_name` | place of the route in the scenario and of the step on it, from 0; the step's name |
//! | `back_to` | step that a failed load goes back to, on the same route |
//! | `station`, `station_name` | place of the station in the scenario, from 0; its name. Tanks are stations |
//! | `hand`, `task` | pair of hands, from 0; `put in`, `work`, `take out`, `top up`, or a task of care |
//! | `planned_us`, `most_us` | planned and longest stay, in microseconds |
//! | `limit`, `by_us` | the limit that was not kept, `waited` or `stayed`, and by how many microseconds |
//! | `until_us` | until when a hot tank is left alone |
//! | `volume_m3` | volume of the bath, of the water topped up or added in care at room temperature, or of the drag-out, in m3 |
//! | `temperature_c`, `water_kg`, `heater`, `lid` | the bath: °C; kg of water; `off`, `heating` or `holding`; `true` or `false` |
//! | `drawn_j`, `heated_j`, `lost_j`, `carried_j`, `to_loads_j` | energies since the start of the run, in J |
//! | `evaporated_kg`, `topped_up_kg`, `dragged_out_kg` | water since the start of the run, in kg |
//! | `total_acid_points`, `free_acid_points`, `iron_g_per_l` | how the bath reads; empty where it does not wear. `total_acid_points` of a rinse: the liquid that a load brings in |
//! | `first_tub_total_acid_points`, `last_tub_total_acid_points` | the water of a rinse, the load having passed |
//! | `stirred_sludge_kg`, `settled_sludge_kg` | its sludge, dry, in kg |
//! | `area_m2`, `uses` | area coated and loads since it was made up |
//! | `conversion`, `conversion_on_cast_iron` | of the coating of a load on steel and on cast iron, the integral of dt / tau |
//! | `coating_kg`, `metal_kg`, `hydrogen_m3` | coating formed, metal dissolved in kg, hydrogen set free at 20 °C in m3 |
//! | `exhausted` | whether the bath was too weak for the load |
//! | `care` | what care was done |
//! | `concentrate_m3`, `chemical_kg`, `wasted_m3`, `sludge_kg`, `media` | what it used and left over, filter media among it |
//!
//! What events there are, and which columns hold what of each, says [`LogEntry`] where it is declared.
//!
//! What a spreadsheet might run as a formula stands behind a `'`, which is taken away again when it is read.
//! Numbers are printed with as many digits as bring back the same bits. The columns for people (`clock` and the names)
//! follow from the others; a file in which they say something else is refused.

mod cell;
mod columns;
mod names;

pub(crate) use cell::Cell;
pub(crate) use columns::{Column, Row};
pub(crate) use names::Names;

use super::event::LogEntry;
use super::watch::{Entry, Record};
use columns::same;
use std::borrow::Cow;
use tankday_base::print::{cell, text_of};
use tankday_base::shop::Shop;
use tankday_base::units::Moment;

/// Why a text is no record of this shop.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, column {column}: {message}")]
pub struct CsvError {
    /// Line of the text, from 1.
    pub line: u64,
    /// Heading of the column.
    pub column: &'static str,
    /// What is wrong there.
    pub message: String,
}

/// The record as text, with a line of headings.
#[must_use]
pub fn to_csv(shop: &Shop, record: &Record) -> String {
    let mut out = String::new();
    push_line(&mut out, Column::ALL.iter().map(|c| Cow::Borrowed(c.name())));
    let mut names = Names::new(shop);
    for entry in &record.entries {
        push_line(
            &mut out,
            row(&mut names, entry).cells().iter().map(|text| cell(text)),
        );
    }
    out
}

/// The rows of a record as the objects of one JSON array, keys as the headings of [`to_csv`]; what is empty is left out.
#[must_use]
pub fn to_json(shop: &Shop, record: &Record) -> serde_json::Value {
    let mut names = Names::new(shop);
    let object = |entry: &Entry| {
        let row = row(&mut names, entry);
        let filled = Column::ALL.iter().filter(|c| !row.text(**c).is_empty());
        filled
            .map(|c| (c.name().to_owned(), json_value(*c, row.text(*c))))
            .collect()
    };
    serde_json::Value::Array(record.entries.iter().map(object).collect())
}

/// Reads what [`to_csv`] wrote for the same shop.
///
/// # Errors
/// At the first line that is no event, names something that the shop does not have, or whose columns for people
/// do not agree with the others.
pub fn from_csv(shop: &Shop, text: &str) -> Result<Record, CsvError> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut rows = reader.records();
    let head = rows.next().transpose().map_err(no_table)?.unwrap_or_default();
    check_head(&head)?;
    let mut record = Record::default();
    let mut names = Names::new(shop);
    for cells in rows {
        let cells = cells.map_err(no_table)?;
        let line = cells.position().map_or(0, csv::Position::line);
        if cells.len() > Column::ALL.len() {
            return Err(CsvError {
                line,
                column: "at_us",
                message: "too many columns".into(),
            });
        }
        let given = Row::read(cells.iter().map(|c| text_of(c).to_owned()), line);
        let entry = Entry {
            at: Moment::micros(given.get(Column::At)?),
            event: LogEntry::read(&given, shop)?,
        };
        compare(&given, &row(&mut names, &entry))?;
        record.entries.push(entry);
    }
    Ok(record)
}

/// The row of one entry. Entries must be given in the order of the record.
fn row(names: &mut Names<'_>, entry: &Entry) -> Row {
    if let LogEntry::OrderArrives {
        order, source, nth, ..
    } = entry.event
    {
        names.comes(order, source, nth);
    }
    let mut row = Row::new();
    row.set(Column::At, entry.at.in_micros());
    row.set(Column::Clock, names.clock(entry.at));
    row.set(Column::LogEntry, entry.event.name());
    entry.event.write(&mut row, names);
    row
}

fn check_head(head: &csv::StringRecord) -> Result<(), CsvError> {
    let wrong = Column::ALL
        .iter()
        .enumerate()
        .find(|(i, c)| head.get(*i) != Some(c.name()));
    match wrong {
        None if head.len() == Column::ALL.len() => Ok(()),
        None => Err(CsvError {
            line: 1,
            column: "at_us",
            message: "too many columns".into(),
        }),
        Some((i, c)) => {
            let found = head.get(i).unwrap_or_default();
            Err(CsvError {
                line: 1,
                column: c.name(),
                message: format!("the heading `{}` is expected, not `{found}`", c.name()),
            })
        }
    }
}

fn compare(given: &Row, belongs: &Row) -> Result<(), CsvError> {
    let differs = Column::ALL
        .iter()
        .find(|c| !same(given.text(**c), belongs.text(**c)));
    match differs {
        None => Ok(()),
        Some(&c) => Err(given.refuse(
            c,
            format!(
                "says `{}` where the rest of the line means `{}`",
                given.text(c),
                belongs.text(c)
            ),
        )),
    }
}

fn no_table(error: csv::Error) -> CsvError {
    let line = error.position().map_or(0, csv::Position::line);
    CsvError {
        line,
        column: "at_us",
        message: format!("is not a table of comma-separated values: {error}"),
    }
}

fn json_value(column: Column, text: &str) -> serde_json::Value {
    let is_word = matches!(
        column,
        Column::Clock | Column::OrderName | Column::StepName | Column::StationName | Column::LoadName
    );
    if is_word {
        return text.into();
    }
    serde_json::from_str(text).unwrap_or_else(|_| text.into())
}

/// Appends one line; a cell with a comma, a quote or a line break is put in quotes, as RFC 4180 says.
fn push_line<'a>(out: &mut String, cells: impl Iterator<Item = Cow<'a, str>>) {
    for (i, cell) in cells.enumerate() {
        if i > 0 {
            out.push(',');
        }
        if cell.contains([',', '"', '\n', '\r']) {
            out.push('"');
            out.push_str(&cell.replace('"', "\"\""));
            out.push('"');
        } else {
            out.push_str(&cell);
        }
    }
    out.push('\n');
}
