//! The columns of a written record, and one row of it.

use super::CsvError;
use std::str::FromStr;

macro_rules! columns {
    ($($(#[$doc:meta])* $name:ident = $text:literal),+ $(,)?) => {
        /// A column of the written record.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum Column { $($(#[$doc])* $name),+ }

        impl Column {
            /// All of them, in the order written.
            pub(crate) const ALL: &'static [Self] = &[$(Self::$name),+];

            /// Its heading.
            pub(crate) const fn name(self) -> &'static str {
                match self { $(Self::$name => $text),+ }
            }
        }
    };
}

columns!(
    At = "at_us",
    Clock = "clock",
    LogEntry = "event",
    Order = "order",
    OrderName = "order_name",
    Source = "source",
    Nth = "nth",
    Pieces = "pieces",
    Load = "load",
    Into = "into",
    Route = "route",
    Step = "step",
    StepName = "step_name",
    BackTo = "back_to",
    Station = "station",
    StationName = "station_name",
    Hand = "hand",
    Task = "task",
    Planned = "planned_us",
    Most = "most_us",
    Limit = "limit",
    By = "by_us",
    Until = "until_us",
    Volume = "volume_m3",
    Temperature = "temperature_c",
    Water = "water_kg",
    Heater = "heater",
    Lid = "lid",
    Drawn = "drawn_j",
    Heated = "heated_j",
    Lost = "lost_j",
    Carried = "carried_j",
    ToLoads = "to_loads_j",
    Evaporated = "evaporated_kg",
    ToppedUp = "topped_up_kg",
    DraggedOut = "dragged_out_kg",
    FirstTub = "first_tub_total_acid_points",
    LastTub = "last_tub_total_acid_points",
    TotalAcid = "total_acid_points",
    FreeAcid = "free_acid_points",
    Iron = "iron_g_per_l",
    Stirred = "stirred_sludge_kg",
    Settled = "settled_sludge_kg",
    Area = "area_m2",
    Uses = "uses",
    Conversion = "conversion",
    OnCastIron = "conversion_on_cast_iron",
    Coating = "coating_kg",
    Metal = "metal_kg",
    Hydrogen = "hydrogen_m3",
    Exhausted = "exhausted",
    Care = "care",
    Concentrate = "concentrate_m3",
    Chemical = "chemical_kg",
    Wasted = "wasted_m3",
    Sludge = "sludge_kg",
    Media = "media",
    Vessel = "vessel",
    DrawnOff = "drawn_off_m3",
    Refilled = "refilled_m3",
    Power = "power_w",
    Defect = "defect",
    Chance = "chance",
    LoadName = "load_name",
);

/// One row: a text for each column, empty where the event has nothing to say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Row {
    cells: Vec<String>,
    line: u64,
}

impl Row {
    /// An empty row.
    pub(crate) fn new() -> Self {
        Self {
            cells: vec![String::new(); Column::ALL.len()],
            line: 0,
        }
    }

    /// A row as read, with its line in the file. Missing cells count as empty.
    pub(crate) fn read(cells: impl Iterator<Item = String>, line: u64) -> Self {
        let mut cells: Vec<String> = cells.collect();
        cells.resize(Column::ALL.len(), String::new());
        Self { cells, line }
    }

    /// Fills a cell.
    pub(crate) fn set(&mut self, column: Column, value: impl ToString) {
        if let Some(cell) = self.cells.get_mut(column as usize) {
            *cell = value.to_string();
        }
    }

    /// The text of a cell.
    pub(crate) fn text(&self, column: Column) -> &str {
        self.cells.get(column as usize).map_or("", String::as_str)
    }

    /// The whole row, in the order of the columns.
    pub(crate) fn cells(&self) -> &[String] {
        &self.cells
    }

    /// A refusal that names line and column.
    pub(crate) fn refuse(&self, column: Column, message: impl Into<String>) -> CsvError {
        CsvError {
            line: self.line,
            column: column.name(),
            message: message.into(),
        }
    }

    /// A whole number, or whatever else its type reads.
    pub(crate) fn get<T: FromStr>(&self, column: Column) -> Result<T, CsvError> {
        let text = self.text(column);
        text.parse()
            .map_err(|_| self.refuse(column, format!("`{text}` does not belong here")))
    }

    /// A finite number.
    pub(crate) fn number(&self, column: Column) -> Result<f64, CsvError> {
        let value: f64 = self.get(column)?;
        if value.is_finite() {
            Ok(value)
        } else {
            Err(self.refuse(column, "a finite number is expected"))
        }
    }

    /// One of several words.
    pub(crate) fn word<T>(
        &self,
        column: Column,
        words: impl Iterator<Item = (&'static str, T)>,
    ) -> Result<T, CsvError> {
        let text = self.text(column);
        let mut others = Vec::new();
        for (word, value) in words {
            if word == text {
                return Ok(value);
            }
            others.push(word);
        }
        Err(self.refuse(column, format!("`{text}` is none of {}", others.join(", "))))
    }
}

/// Whether two cells say the same: as texts, or as numbers where both are.
pub(crate) fn same(a: &str, b: &str) -> bool {
    a == b || matches!((a.parse::<f64>(), b.parse::<f64>()), (Ok(x), Ok(y)) if x == y)
}
