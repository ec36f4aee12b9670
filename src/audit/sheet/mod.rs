//! Holds the written day sheet against the record, with code that knows nothing of what writes it.
//!
//! Every row of the CSV must tell acts of the record, at their minute, with their lengths, places, pieces and amounts, in
//! their order; every act must have its row (`acts`, `held`). What the sentences of the rows state must be what their
//! cells say (`prose`), of a load that comes out what its gas tells (`gas`), and what its acts call for to be minded
//! (`minds`). Around the rows must stand what follows from the day and nothing else: headings, what to wear, the least
//! temperature, the meaning of marks and points (`day`). The calendar must hold the tasks of the CSV, at the same times
//! (`entries`); text and page must show its rows, one by one (`shown`, `page`).
//!
//! # Known and left
//!
//! - Cautions that a load, a bath or a breach calls for are held to be known words, not against what calls for them; those
//!   that the kind of an act calls for are.

mod acts;
mod cared;
mod day;
mod entries;
mod gas;
mod held;
mod ical;
mod left;
mod lids;
mod loads;
mod minds;
mod nameless;
mod names;
mod page;
mod prose;
mod shown;
mod stays;
mod table;

use super::found::{Fault, FaultKind};
use acts::Done;
use held::Held;
use names::Names;
use table::{Act, Row};
use tankday_base::shop::Shop;
use tankday_base::units::Moment;
use tankday_record::Record;

/// The day sheet as it is written; what is not there is not checked.
#[derive(Debug, Clone, Copy, Default)]
pub struct Written<'a> {
    /// `day-sheet.csv`.
    pub csv: &'a str,
    /// `day-sheet.ics`.
    pub calendar: Option<&'a str>,
    /// `day-sheet.txt`.
    pub text: Option<&'a str>,
    /// `day-sheet.html`.
    pub page: Option<&'a str>,
}

/// Everything in a written sheet that is not so in the record, in order of time; empty for a true sheet.
#[must_use]
pub fn check(shop: &Shop, record: &Record, written: &Written<'_>) -> Vec<Fault> {
    let mut faults = Faults::default();
    let rows = match table::read(&shop.calendar, written.csv) {
        Ok(rows) => rows,
        Err(e) => {
            faults.say(Moment::ZERO, format!("day-sheet.csv: {e}"));
            return faults.0;
        }
    };
    let names = Names::of(shop, record);
    let acts = all_acts(shop, record, &names);
    let mut held = Held {
        shop,
        names: &names,
        told: vec![false; acts.len()],
        acts: &acts,
    };
    let told = rows_hold(&mut held, record, &rows, &mut faults);
    let sheets = day::sheets(shop, &told);
    let loads = loads::Loads {
        shop,
        record,
        names: &names,
    };
    for sheet in &sheets {
        sheet.check_rows(shop, &mut faults);
        minds::check(&loads, sheet, &mut faults);
    }
    if let Some(calendar) = written.calendar {
        entries::check(shop, calendar, &sheets, &mut faults);
    }
    if let Some(text) = written.text {
        shown::text(text, &sheets, &mut faults);
    }
    if let Some(page) = written.page {
        page::check(shop, page, &sheets, &mut faults);
    }
    faults.0.sort_by_key(|f| f.at);
    faults.0
}

/// A row with the acts that it tells.
struct Told<'a> {
    row: &'a Row,
    acts: Vec<&'a Done>,
}

#[derive(Default)]
struct Faults(Vec<Fault>);

impl Faults {
    fn say(&mut self, at: Moment, text: String) {
        self.0.push(Fault {
            at,
            kind: FaultKind::Sheet,
            text,
        });
    }

    fn of_row(&mut self, row: &Row, what: &str) {
        let text = format!("day-sheet.csv, line {}, `{}`: {what}", row.line, row.cell("task"));
        self.say(row.at, text);
    }
}

/// All acts that the sheet must tell, in order of time.
fn all_acts(shop: &Shop, record: &Record, names: &Names) -> Vec<Done> {
    let mut all = acts::of_hands(shop, record, names);
    let heaters = acts::of_heaters(record);
    all.extend(acts::of_stops(record));
    all.extend(acts::of_news(shop, record, names));
    let absences = acts::of_absences(record, &heaters);
    all.extend(stays::after_closing(shop, record));
    all.extend(left::alone_at_closing(shop, record));
    all.extend(lids::of_lids(shop, record));
    all.extend(heaters);
    all.extend(absences);
    all.sort_by_key(|d| d.at);
    all
}

fn rows_hold<'a>(
    held: &mut Held<'a>,
    record: &Record,
    rows: &'a [Row],
    faults: &mut Faults,
) -> Vec<Told<'a>> {
    let mut all = Vec::new();
    let mut last = (Moment::ZERO, 0);
    for row in rows {
        if row.acts == [Act::Break] {
            break_holds(held.shop, row, faults);
            all.push(Told {
                row,
                acts: Vec::new(),
            });
            continue;
        }
        let Some(acts) = held.tells(row) else {
            let what = format!("nothing like it is done then: {}", row.cell("act"));
            faults.of_row(row, &what);
            all.push(Told {
                row,
                acts: Vec::new(),
            });
            continue;
        };
        for (name, should) in held.wrong_cells(row, &acts) {
            let what = format!("{name} says `{}`, and it is `{should}`", row.cell(name));
            faults.of_row(row, &what);
        }
        prose::check(held, row, &acts, faults);
        stays::check_note(held.shop, row, &acts, faults);
        left::check_note(held.shop, record, (row, &acts), faults);
        gas::check(held, record, row, &acts, faults);
        let now = acts.first().map_or(last, |d| (d.at, held::rank(row, &acts)));
        if now < last {
            faults.of_row(row, "it stands behind what is done after it");
        }
        last = now;
        all.push(Told { row, acts });
    }
    for done in held.left() {
        faults.say(
            done.at,
            format!("day-sheet.csv has no row for: {}", held.words(done)),
        );
    }
    missing_breaks(held, rows, faults);
    stays::check_breaks(held.shop, record, rows, faults);
    stays::check_forced(held.shop, record, rows, faults);
    left::check_breaks(held, record, rows, faults);
    all
}

/// A break of the calendar, from its beginning to its end.
fn break_holds(shop: &Shop, row: &Row, faults: &mut Faults) {
    let mut breaks = shop.calendar.days.iter().flat_map(|d| &d.breaks);
    let Some(pause) = breaks.find(|b| held::minute(b.from) == row.at) else {
        return faults.of_row(row, "no break begins then");
    };
    let should = format!("{:.1}", (pause.until - pause.from).in_minutes());
    if row.cell("step_min") != should {
        let what = format!("step_min says `{}`, and it is `{should}`", row.cell("step_min"));
        faults.of_row(row, &what);
    }
    let until = pause.until.clock();
    if !row.cell("task").contains(&until) {
        faults.of_row(row, &format!("the break goes on to {until}"));
    }
}

/// Breaks before the last task of hands, each of which must have its row, once.
fn missing_breaks(held: &Held<'_>, rows: &[Row], faults: &mut Faults) {
    let last = held.acts.iter().filter(|d| d.hand.is_some()).map(|d| d.to).max();
    for pause in held.shop.calendar.days.iter().flat_map(|d| &d.breaks) {
        let from = pause.from;
        let told = rows
            .iter()
            .filter(|r| r.acts == [Act::Break] && r.at == held::minute(from));
        let (count, due) = (told.count(), last.is_some_and(|last| from <= last));
        if count > 1 || count == 0 && due {
            faults.say(
                from,
                format!("day-sheet.csv has {count} rows for the break of {}", from.clock()),
            );
        }
    }
}
