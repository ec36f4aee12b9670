//! `tankday audit`, and `tankday run --audit`: a record is checked again by code that shares nothing with the simulation.

use super::args::Audit;
use super::exit::{Exit, Failure};
use super::folder::{Held, held};
use super::load::load;
use super::sets::Sets;
use super::settings::Saying;
use super::{files, terminal};
use tankday_audit::{Fault, Written, check, check_safety, check_sheet};
use tankday_base::print::{clock_or_date, pieces_of};
use tankday_base::shop::Shop;
use tankday_output::sheet::{sheets, to_csv};
use tankday_record::{Figures, Record, from_csv};

/// A record larger than this is not read.
const MOST_BYTES: u64 = 512 * 1024 * 1024;
/// Faults that are printed one by one.
const MOST_FAULTS: usize = 20;

/// Checks what `run --out` wrote.
///
/// # Errors
/// Wrong input when a file is missing; the work failed when the record does not add up, the day sheet beside it
/// does not follow from it, or a file is not as it was written.
pub(super) fn audit(typed: &Audit, saying: Saying) -> Result<Exit, Failure> {
    let held = held(&typed.dir)?;
    let sound = match &held {
        Some(held) => as_listed(typed, held, saying)?,
        None => Exit::Done,
    };
    // What a comparison, a sweep or the rest of a day wrote has no record.
    if held.is_none() || typed.dir.join("record.csv").exists() {
        record_adds_up(typed, saying)?;
    }
    Ok(sound)
}

/// Tells how a folder differs from its list of files.
fn as_listed(typed: &Audit, held: &Held, saying: Saying) -> Result<Exit, Failure> {
    let dir = typed.dir.display();
    if !held.differs.is_empty() {
        terminal::tell(&format!(
            "{dir} is not as tankday wrote it:\n  {}",
            held.differs.join("\n  ")
        ));
    }
    if saying > Saying::Little {
        let mut words = match held.same {
            1 => format!("{dir}: 1 file is as tankday wrote it"),
            same => format!("{dir}: {same} files are as tankday wrote them"),
        };
        if !held.others.is_empty() {
            words.push_str(&format!("; not from tankday: {}", held.others.join(", ")));
        }
        terminal::print(&(words + "\n"))?;
    }
    Ok(if held.differs.is_empty() {
        Exit::Done
    } else {
        Exit::Failed
    })
}

fn record_adds_up(typed: &Audit, saying: Saying) -> Result<(), Failure> {
    let loaded = load(&typed.dir.join("scenario.yaml"), &Sets::default(), Saying::Little)?;
    let shop = &loaded.scenario.shop;
    let path = typed.dir.join("record.csv");
    let text = files::read_text_up_to(&path, MOST_BYTES)?;
    let record = from_csv(shop, &text);
    let record =
        record.map_err(|e| Failure::work(format!("{} is not a record of this shop: {e}", path.display())))?;
    refuse_faults(shop, &record)?;
    sheet_follows(typed, shop, &record)?;
    if saying > Saying::Little {
        let orders = record
            .entries
            .iter()
            .filter(|e| matches!(e.event, tankday_record::LogEntry::OrderArrives { .. }));
        let (events, orders) = (record.entries.len(), orders.count());
        terminal::print(&format!(
            "{}: {}, {}: everything adds up\n",
            path.display(),
            pieces_of(events as u32, "event"),
            pieces_of(orders as u32, "order")
        ))?;
    }
    Ok(())
}

/// Refuses a record that does not add up, or of a day that could hurt somebody and does not say so.
///
/// # Errors
/// The work failed: with its faults, in order of time.
pub(super) fn refuse_faults(shop: &Shop, record: &Record) -> Result<(), Failure> {
    refuse(shop, "the record does not add up", &check(shop, record))?;
    refuse(shop, "the day is not safe", &check_safety(shop, record))
}

/// Refuses a day sheet that says something else than the record.
///
/// # Errors
/// The work failed: with what is not so, in order of time.
pub(super) fn refuse_sheet(shop: &Shop, record: &Record, written: &Written<'_>) -> Result<(), Failure> {
    let faults = check_sheet(shop, record, written);
    refuse(shop, "the day sheet does not follow from the record", &faults)
}

fn refuse(shop: &Shop, what: &str, faults: &[Fault]) -> Result<(), Failure> {
    if faults.is_empty() {
        return Ok(());
    }
    let line = |fault: &Fault| format!("{} {}", clock_or_date(&shop.calendar, fault.at), fault.text);
    let mut words: Vec<String> = faults.iter().take(MOST_FAULTS).map(line).collect();
    if faults.len() > MOST_FAULTS {
        words.push(format!("and {} more", faults.len() - MOST_FAULTS));
    }
    Err(Failure::work(format!("{what}:\n  {}", words.join("\n  "))))
}

/// Holds the sheet that is there, in all its forms, against the record.
fn sheet_follows(typed: &Audit, shop: &Shop, record: &Record) -> Result<(), Failure> {
    let read = |name: &str| {
        let path = typed.dir.join(name);
        let there = path.exists();
        there
            .then(|| files::read_text_up_to(&path, MOST_BYTES))
            .transpose()
    };
    let Some(csv) = read("day-sheet.csv")? else {
        return Ok(());
    };
    let (calendar, text) = (read("day-sheet.ics")?, read("day-sheet.txt")?);
    let page = read("day-sheet.html")?;
    let written = Written {
        csv: &csv,
        calendar: calendar.as_deref(),
        text: text.as_deref(),
        page: page.as_deref(),
    };
    refuse_sheet(shop, record, &written)?;
    if csv == to_csv(&sheets(shop, record, &Figures::of(shop, record))) {
        return Ok(());
    }
    Err(Failure::work(format!(
        "{} does not follow from the record",
        typed.dir.join("day-sheet.csv").display()
    )))
}
