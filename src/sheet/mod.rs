//! The day sheet: what to do, when, in order, with cautions. Made from a record, given as data, text, CSV and iCalendar.

mod calendar;
mod calls;
mod cares;
mod caution;
mod csv;
mod deeds;
mod notes;
mod rows;
mod tasks;
mod text;
mod to_note;

pub use calendar::to_calendar;
pub use caution::{ALWAYS, DEFERS, NEAR, StepCaution, WEAR};
pub use csv::to_csv;
pub use text::{lines, to_text};
pub use to_note::{Lot, ToNote, Whose};

use crate::units::{Moment, Span};
use jiff::civil::Date;

/// What a row is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowKind {
    /// Something to do.
    Deed,
    /// Something to do that must not wait: the load is done.
    Pressing,
    /// An order is ready.
    Ready,
    /// An order is ready, but late.
    ReadyLate,
    /// A break.
    Break,
    /// Something to know.
    Note,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// When.
    pub at: Moment,
    /// What it is.
    pub kind: RowKind,
    /// What to do, whole, as it is printed.
    pub deed: String,
    /// The load or order.
    pub load: String,
    /// Kinds of part.
    pub part: String,
    /// Pieces; 0 where none are meant.
    pub pieces: u32,
    /// Where.
    pub station: String,
    /// How long.
    pub takes: Option<Span>,
    /// At the latest.
    pub latest: Option<Moment>,
    /// What to mind: first what may hurt somebody, then what may spoil the work.
    pub cautions: Vec<StepCaution>,
    /// Whether a bath is touched, so that its temperature is measured.
    pub at_bath: bool,
    /// What it adds to the notes of the day when it is done.
    pub to_note: Vec<ToNote>,
}

impl Row {
    /// All that is to be minded, in a line.
    pub(crate) fn minds(&self) -> String {
        let words: Vec<&str> = self.cautions.iter().map(|c| c.words()).collect();
        words.join(" ")
    }
}

/// One day's sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DaySheet {
    /// Its date.
    pub date: Date,
    /// Opening.
    pub open: Moment,
    /// Closing.
    pub close: Moment,
    /// What no load goes in below, tank by tank if they differ: `88 °C`.
    pub least: String,
    /// In order of time.
    pub rows: Vec<Row>,
}

impl DaySheet {
    /// Its rows as they are printed: orders that are ready at one moment stand in one row.
    #[must_use]
    pub fn printed(&self) -> Vec<Row> {
        let mut printed: Vec<Row> = Vec::with_capacity(self.rows.len());
        for row in &self.rows {
            let ready = matches!(row.kind, RowKind::Ready | RowKind::ReadyLate);
            match printed.last_mut() {
                Some(last) if ready && last.kind == row.kind && last.at == row.at => {
                    last.deed.push_str("; ");
                    last.deed.push_str(&row.deed);
                }
                _ => printed.push(row.clone()),
            }
        }
        printed
    }
}

pub use rows::sheets;

#[cfg(test)]
mod tests;
