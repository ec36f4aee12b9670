//! Reads the day sheet's CSV back: its columns by name, every cell as what it means.

use jiff::civil::Date;
use tankday_base::print::text_of;
use tankday_base::shop::{Calendar, Shop};
use tankday_base::units::{Moment, Span, read_clock};

/// Stands between the values of a row that does several acts.
pub(super) const BETWEEN: &str = " + ";

/// What a row says is done, in the words of the column `act`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Act {
    HeaterOn,
    HeaterOff,
    PutIn,
    TakeOut,
    Start,
    Take,
    TopUp,
    RenewRinse,
    Add,
    Care,
    Ready,
    Break,
    Note,
}

impl Act {
    const ALL: [(&'static str, Self); 13] = [
        ("heater on", Self::HeaterOn),
        ("heater off", Self::HeaterOff),
        ("put in", Self::PutIn),
        ("take out", Self::TakeOut),
        ("start", Self::Start),
        ("take", Self::Take),
        ("top up", Self::TopUp),
        ("renew rinse", Self::RenewRinse),
        ("add", Self::Add),
        ("care", Self::Care),
        ("ready", Self::Ready),
        ("break", Self::Break),
        ("note", Self::Note),
    ];

    fn read(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, act)| *act)
    }

    /// As in the column.
    pub(super) fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, act)| *act == self)
            .map_or("", |(word, _)| *word)
    }
}

/// One row, with its number in the file, the heading being 1. Cells are kept as written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) line: usize,
    /// The minute that it says.
    pub(super) at: Moment,
    pub(super) acts: Vec<Act>,
    cells: Vec<String>,
}

impl Row {
    /// A cell by the name of its column.
    pub(super) fn cell(&self, name: &str) -> &str {
        let at = HEAD.iter().position(|h| *h == name);
        at.and_then(|at| self.cells.get(at)).map_or("", String::as_str)
    }

    /// Whether hands, or a heater, have something to do.
    pub(super) fn is_task(&self) -> bool {
        matches!(self.cell("what"), "do" | "must not wait")
    }
}

/// The places that a cell names, one by one. A place may be called `a + b`, as one: the longest known name goes first.
pub(super) fn places<'c>(shop: &Shop, cell: &'c str) -> Vec<&'c str> {
    let (mut all, mut rest) = (Vec::new(), cell);
    while !rest.is_empty() {
        let ends = |name: &&str| {
            let behind = rest.strip_prefix(name);
            behind.is_some_and(|b| b.is_empty() || b.starts_with(BETWEEN))
        };
        let known = shop.stations.iter().map(|s| s.name.as_str()).filter(ends);
        let own = known.map(str::len).max().or_else(|| rest.find(BETWEEN));
        let (place, behind) = rest.split_at(own.unwrap_or(rest.len()));
        all.push(place);
        rest = behind.strip_prefix(BETWEEN).unwrap_or_default();
    }
    all
}

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

/// Kinds of row.
const WHAT: [&str; 6] = ["do", "must not wait", "ready", "ready late", "break", "note"];

/// All rows.
///
/// # Errors
/// With the line and what is wrong in it.
pub(super) fn read(calendar: &Calendar, text: &str) -> Result<Vec<Row>, String> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(false)
        .from_reader(text.as_bytes());
    let mut records = reader.records();
    let head = match records.next() {
        Some(Ok(head)) => head,
        _ => return Err("it has no heading".to_owned()),
    };
    if head.iter().ne(HEAD) {
        return Err(format!("line 1: the columns are not {}", HEAD.join(",")));
    }
    let mut rows = Vec::new();
    for (line, record) in (2..).zip(records) {
        let record = record.map_err(|e| format!("line {line}: {e}"))?;
        let cells: Vec<&str> = record.iter().map(text_of).collect();
        rows.push(row(calendar, line, &cells).map_err(|e| format!("line {line}: {e}"))?);
    }
    Ok(rows)
}

fn row(calendar: &Calendar, line: usize, cells: &[&str]) -> Result<Row, String> {
    let mut row = Row {
        line,
        at: Moment::ZERO,
        acts: Vec::new(),
        cells: cells.iter().map(|c| (*c).to_owned()).collect(),
    };
    let wrong = |name: &str, what: &str| format!("{name}: `{}` is not {what}", row.cell(name));
    let date: Date = row.cell("date").parse().map_err(|_| wrong("date", "a date"))?;
    let days = i64::from((date - calendar.first).get_days());
    let time = read_clock(row.cell("time")).map_err(|_| wrong("time", "a time of day"))?;
    let acts: Option<Vec<Act>> = row.cell("act").split(BETWEEN).map(Act::read).collect();
    let acts = acts.ok_or_else(|| wrong("act", "an act"))?;
    if !WHAT.contains(&row.cell("what")) {
        return Err(wrong("what", "a kind of row"));
    }
    row.at = Moment::ZERO + Span::whole_minutes(days * 24 * 60) + time;
    row.acts = acts;
    Ok(row)
}
