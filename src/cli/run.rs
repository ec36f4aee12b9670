//! `tankday run`: simulates the day, tells what it yields.

use super::audit::refuse_sheet;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder, Wanted};
use super::follow::followed;
use super::load::{Loaded, load};
use super::pictures::view;
use super::reckon::{NoResults, Reckoned};
use super::sampling::Sampling;
use super::settings::{RunSettings, Saying};
use super::summary::{self, Results};
use super::{json, long, pictures, steady, terminal};
use tankday_audit::Written;
use tankday_base::print::{Line, Style, wrap};
use tankday_base::shop::{Arrival, Shop};
use tankday_line::Plan;
use tankday_output::report;
use tankday_output::sheet::{
    DaySheet, lines as sheet_lines, sheets, to_calendar, to_csv as sheet_csv, to_text,
};
use tankday_record::to_csv;

/// A day sheet of more rows than this is written, but not printed.
const MOST_ROWS: usize = 400;

/// Runs it.
///
/// # Errors
/// When the scenario is wrong, when a file or standard output cannot be written, when the audit finds faults.
pub(super) fn run(settings: &RunSettings) -> Result<Exit, Failure> {
    let loaded = load(&settings.file, &settings.set, settings.saying)?;
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(settings.threads)
        .build();
    let pool = pool.map_err(|e| Failure::work(format!("cannot start {} threads: {e}", settings.threads)))?;
    let shop = &loaded.scenario.shop;
    let plan = match &settings.plan {
        Some(path) => Some(followed(path, shop, settings.repair, settings.saying)?),
        None => None,
    };
    let plan = plan.as_ref();
    if settings.steady {
        return steady::run(settings, shop);
    }
    if let Some(dir) = &settings.out {
        let plan = plan.map(|_| ("plan.yaml", None));
        let folder = Folder::new(dir, settings.force, settings.saying);
        let drawn = pictures::wanted(shop);
        folder.would_take(wanted(&loaded, &drawn).chain(plan))?;
    }
    let (replications, reached) = match settings.precision {
        Some((precision, at_most)) => {
            let luck = (settings.seed, settings.threads);
            let (many, reached) = Sampling::needed(precision, at_most, luck, shop, settings.saying)?;
            (Some(many), Some(reached))
        }
        None => (settings.replications, None),
    };
    let reckon = || Reckoned::of(shop, plan, settings.seed, replications, settings.audit);
    pool.install(|| match reckon() {
        Ok(reckoned) => recorded(settings, &loaded, &reckoned, plan, reached.as_deref()),
        Err(NoResults::TooLong) if plan.is_some() => Err(Failure::input("the days are too long for a plan")),
        Err(NoResults::TooLong) => long::run(settings, shop),
        Err(NoResults::Unsound(failure)) => Err(failure),
    })
}

/// A run with a record.
fn recorded(
    settings: &RunSettings,
    loaded: &Loaded,
    reckoned: &Reckoned,
    plan: Option<&Plan>,
    reached: Option<&str>,
) -> Result<Exit, Failure> {
    let shop = &loaded.scenario.shop;
    let results = reckoned.results(shop);
    let sheets = sheets(shop, results.record, results.figures);
    if settings.audit {
        audited(&results, &sheets)?;
    }
    let mut written = Vec::new();
    if let Some(dir) = &settings.out {
        let set = set(loaded, &results, &sheets, &command(settings), plan)?;
        Folder::new(dir, settings.force, settings.saying).write(&set, Earlier::Goes)?;
        written = set.into_iter().map(|(name, _)| name).collect();
    }
    tell(settings, &results, &sheets, &written, reached)?;
    Ok(if all_done(shop, &results) {
        Exit::Done
    } else {
        Exit::CannotBeDone
    })
}

/// Holds the sheet in all its forms against the record.
fn audited(results: &Results<'_>, sheets: &[DaySheet]) -> Result<(), Failure> {
    let page = report::day_sheet(results, sheets, report::Units::Metric);
    let (calendar, text) = (to_calendar(&results.shop.title, sheets), to_text(sheets));
    let written = Written {
        csv: &sheet_csv(sheets),
        calendar: Some(&calendar),
        text: Some(&text),
        page: Some(&page),
    };
    refuse_sheet(results.shop, results.record, &written)
}

/// Whether every stated order gets ready, on one of the days at least.
fn all_done(shop: &Shop, results: &Results<'_>) -> bool {
    let stated = |p: &&summary::Promise<'_>| {
        shop.orders
            .get(p.order.source.index())
            .is_some_and(|o| matches!(o.arrival, Arrival::At(_)))
    };
    summary::promises(results)
        .iter()
        .filter(stated)
        .all(|p| p.sure > summary::Sure::Cannot)
}

/// What to type to get the same again.
fn command(settings: &RunSettings) -> String {
    let mut words = format!("tankday run {} --seed {}", settings.file.display(), settings.seed);
    if let Some(many) = settings.replications {
        words.push_str(&format!(" --replications {many}"));
    }
    if let Some(plan) = &settings.plan {
        words.push_str(&format!(" --plan {}", plan.display()));
    }
    words.push_str(&settings.set.typed());
    words + " --out out"
}

/// Files that every run writes, whatever comes of it, pictures left out; the bytes of those that are known before.
pub(super) fn wanted<'a>(loaded: &'a Loaded, drawn: &'a [String]) -> impl Iterator<Item = Wanted<'a>> {
    let later = [
        "record.csv",
        "summary.json",
        "day-sheet.txt",
        "day-sheet.csv",
        "day-sheet.html",
        "report.html",
        "day-sheet.ics",
    ];
    let later = later.into_iter().chain(drawn.iter().map(String::as_str));
    std::iter::once(("scenario.yaml", Some(loaded.text.as_bytes()))).chain(later.map(|name| (name, None)))
}

/// The files of a run: name and bytes.
pub(super) fn set(
    loaded: &Loaded,
    results: &Results<'_>,
    sheets: &[DaySheet],
    command: &str,
    plan: Option<&Plan>,
) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let text = |name: &str, text: String| (name.to_owned(), text.into_bytes());
    let view = view(results);
    let files: Vec<(&str, &str)> = loaded
        .files
        .iter()
        .map(|(n, t)| (n.as_str(), t.as_str()))
        .collect();
    let told = report::Run {
        results,
        view: &view,
        files: &files,
        whole: &loaded.text,
        granted: &loaded.scenario.granted,
        command,
    };
    let mut set = vec![
        text("scenario.yaml", loaded.text.clone()),
        text("record.csv", to_csv(results.shop, results.record)),
        text("report.html", report::run(&told)),
    ];
    set.extend(sheets_of(results, sheets));
    set.push(text(
        SHEET_PAGE,
        report::day_sheet(results, sheets, report::Units::of(&loaded.text)),
    ));
    if let Some(plan) = plan {
        let line = tankday_line::Line::new(results.shop);
        set.push(text(
            "plan.yaml",
            tankday_plan::plan_file::write(results.shop, &line, plan),
        ));
    }
    set.extend(pictures::pictures(results, &view)?);
    Ok(set)
}

/// The page of the day sheet.
pub(super) const SHEET_PAGE: &str = "day-sheet.html";

/// What every command writes of a day that hands follow: its sheets with their cautions, and its warnings.
pub(super) fn sheets_of(results: &Results<'_>, sheets: &[DaySheet]) -> Vec<(String, Vec<u8>)> {
    let text = |name: &str, text: String| (name.to_owned(), text.into_bytes());
    vec![
        text("summary.json", as_json(results)),
        text("day-sheet.txt", to_text(sheets)),
        text("day-sheet.csv", sheet_csv(sheets)),
        text("day-sheet.ics", to_calendar(&results.shop.title, sheets)),
    ]
}

fn as_json(results: &Results<'_>) -> String {
    format!("{:#}\n", json::object(results))
}

fn tell(
    settings: &RunSettings,
    results: &Results<'_>,
    sheets: &[DaySheet],
    written: &[String],
    reached: Option<&str>,
) -> Result<(), Failure> {
    if settings.json {
        return terminal::print(&as_json(results));
    }
    let columns = settings.terminal.columns;
    let mut lines = match settings.saying {
        Saying::Little => summary::answer(results, columns),
        _ => summary::lines(results, settings.terminal),
    };
    if let Some(reached) = reached {
        let words = format!("Precision: {reached}.");
        lines.extend(wrap(&words, columns).into_iter().map(|w| Line::of(Style::Dim, w)));
    }
    if settings.saying == Saying::Much {
        lines.push(Line::empty());
        lines.extend(summary::what_sets_the_end(results, columns));
        lines.push(Line::empty());
        lines.extend(summary::stations(results));
    }
    if settings.report {
        lines.push(Line::empty());
        lines.extend(summary::waits(results, columns));
    }
    if let Some(dir) = settings.out.as_ref().filter(|_| settings.saying > Saying::Little) {
        lines.push(Line::empty());
        let words = format!("Written into {}: {}", dir.display(), written.join(", "));
        lines.extend(wrap(&words, columns).into_iter().map(|w| Line::of(Style::Dim, w)));
    }
    if settings.saying > Saying::Little {
        lines.extend(printed_sheets(sheets, columns));
    }
    terminal::print_lines(&lines, settings.terminal.paper)
}

fn printed_sheets(sheets: &[DaySheet], columns: usize) -> Vec<Line> {
    let rows: usize = sheets.iter().map(|s| s.rows.len()).sum();
    let mut lines = vec![Line::empty(), summary::rule(columns), Line::empty()];
    if rows > MOST_ROWS {
        lines.push(Line::plain(format!(
            "DAY SHEET: {rows} rows, left out here; --out DIR writes it."
        )));
        return lines;
    }
    for (i, sheet) in sheets.iter().enumerate() {
        if i > 0 {
            lines.push(Line::empty());
        }
        lines.extend(sheet_lines(sheet));
    }
    lines
}
