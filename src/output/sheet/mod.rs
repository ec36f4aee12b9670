//! The day sheet: what to do, when, in order, with cautions. Made from a record, given as data, text, CSV and iCalendar.
//!
//! # Known and left
//!
//! - The sheet says all cautions about what may hurt before a load goes in, of those about its coating the first;
//!   WATCH has all.

mod act;
mod alone;
mod calendar;
mod calls;
mod cares;
mod caution;
mod csv;
mod deeds;
mod hot;
mod lids;
mod lines;
mod notes;
mod results;
mod rows;
mod stages;
mod stays;
mod tasks;
mod text;
mod to_note;

pub use act::{Act, Amount, Doing};
pub use calendar::to_calendar;
pub use caution::{ALWAYS, DEFERS, NEAR, StepCaution, WEAR};
pub use csv::to_csv;
pub use results::order_results;
pub use text::{lines, to_text};
pub use to_note::{Lot, ToNote, Whose};

use jiff::civil::Date;
use tankday_base::units::{Moment, Span};

/// What a row is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowKind {
    /// Something to do.
    SheetTask,
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

/// What is said of a load with a hydrogen risk, in a box of its own, from its bath on until it is relieved.
pub const HYDROGEN: &str = "Hydrogen risk: no force on it until relieved.";

/// One row: one act, or a few that belong together and follow each other at once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// When its first act begins.
    pub at: Moment,
    /// When hands are done with it; none where no hands are needed.
    pub until: Option<Moment>,
    /// What it is.
    pub kind: RowKind,
    /// What to do, whole, as it is printed.
    pub deed: String,
    /// Its acts in their order, at least one.
    pub doings: Vec<Doing>,
    /// How long hands are busy, pauses left out; none where no hands are needed.
    pub hands: Option<Span>,
    /// Not before: taken out of a bath, by the quickest growth that is believed.
    pub earliest: Option<Moment>,
    /// At the latest: taken out of a bath or of acid, or due.
    pub latest: Option<Moment>,
    /// What to mind: first what may hurt somebody, then what may spoil the work.
    pub cautions: Vec<StepCaution>,
    /// Whether a load in it carries a hydrogen risk.
    pub hydrogen: bool,
    /// Whether a bath is touched, so that its temperature is measured.
    pub at_bath: bool,
    /// Whether it calls somebody who does nothing with their hands: to stay by a tank, or to know that nobody does.
    pub calls: bool,
    /// What it adds to the notes of the day when it is done.
    pub to_note: Vec<ToNote>,
}

impl Row {
    /// A row that no hands stand behind.
    fn plain(at: Moment, kind: RowKind, deed: String, doing: Doing) -> Self {
        Self {
            at,
            until: None,
            kind,
            deed,
            doings: vec![doing],
            hands: None,
            earliest: None,
            latest: None,
            cautions: Vec::new(),
            hydrogen: false,
            at_bath: false,
            calls: false,
            to_note: Vec::new(),
        }
    }

    /// All that is to be minded, in a line.
    pub(crate) fn minds(&self) -> String {
        let box_of = self.hydrogen.then_some(HYDROGEN);
        let words: Vec<&str> = box_of
            .into_iter()
            .chain(self.cautions.iter().map(|c| c.words()))
            .collect();
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
    /// What is assumed of the part of the day that has passed; empty where none has.
    pub assumed: String,
    /// In order of time.
    pub rows: Vec<Row>,
}

impl DaySheet {
    /// Whether a row asks for a titration.
    #[must_use]
    pub fn titrates(&self) -> bool {
        self.rows
            .iter()
            .any(|r| r.cautions.contains(&StepCaution::Titrate))
    }

    /// When the last hands-on work of the day is done; none if hands do nothing.
    #[must_use]
    pub fn finish(&self) -> Option<Moment> {
        self.rows.iter().filter_map(|r| r.until).max()
    }
}

pub use rows::sheets;

#[cfg(test)]
mod tests;
