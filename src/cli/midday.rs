//! `tankday plan --at --done`: the rest of a day that is under way.

use super::args::Plan as Typed;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder};
use super::load::{load, rendered};
use super::reckon::{NoResults, Reckoned};
use super::search::Searching;
use super::settings::Saying;
use super::summary;
use super::terminal::Terminal;
use super::{alone, files, json, terminal};
use tankday_base::print::{Line, Style, clock_beside, wrap};
use tankday_base::shop::Shop;
use tankday_base::units::Moment;
use tankday_output::narrative::{NOTHING_DONE, TanksNoted, assumed_since};
use tankday_output::report::Before;
use tankday_output::sheet::{DaySheet, lines as sheet_lines, sheets};
use tankday_plan::Found;
use tankday_plan::plan_file::rest_of_day;
use tankday_scenario::{Notes, moment_of};

/// Plans what is left of a day.
///
/// # Errors
/// When scenario, time or notes are wrong, when standard output or a file cannot be written.
pub(super) fn rest(typed: &Typed, at: &str, saying: Saying) -> Result<Exit, Failure> {
    let loaded = load(&typed.file, &typed.set, saying)?;
    let shop = &loaded.scenario.shop;
    let at = moment_of(at, &shop.calendar).map_err(|why| Failure::input(format!("--at: {why}")))?;
    let notes = match &typed.done {
        Some(path) => {
            let text = files::read_text(path)?;
            Notes::read(&path.display().to_string(), &text, &shop.calendar)
                .map_err(|found| Failure::input(rendered(&found)))?
        }
        None => Notes::default(),
    };
    let rest = rest_of_day(shop, &notes, at).map_err(|found| Failure::input(rendered(&found)))?;
    let contradictions = rest.contradictions(&notes);
    if !contradictions.is_empty() {
        return Err(Failure::input(rendered(&contradictions)));
    }
    if let Some(dir) = &typed.out {
        Folder::new(dir, typed.force, saying).would_take(alone::wanted())?;
    }
    let searching = Searching::begin(saying);
    let found = rest.plan(typed.seed, typed.effort, searching.stop(), &|done| {
        searching.told(done)
    });
    drop(searching);
    let found =
        found.ok_or_else(|| Failure::input("no order is stated one by one: there is nothing to plan"))?;
    let reckoned = match Reckoned::of(&rest.shop, Some(&found.plan), typed.seed, None, false) {
        Ok(reckoned) => reckoned,
        Err(NoResults::TooLong) => return Err(Failure::input("the days are too long to be planned")),
        Err(NoResults::Unsound(failure)) => return Err(failure),
    };
    let whole = reckoned.results(&rest.shop);
    let figures = reckoned.figures.clone().from_now_on(at);
    let results = summary::Results {
        figures: &figures,
        ..whole
    };
    let assumed = assumed(&results, at, &notes);
    let mut left = left(sheets(&rest.shop, results.record, &reckoned.figures), at);
    if let Some(first) = left.first_mut() {
        first.assumed.clone_from(&assumed);
    }
    if typed.json {
        let object = serde_json::json!({
            "from": rest.shop.calendar.local_time(at),
            "notes": rest.taken,
            "assumed": assumed,
            "run": json::object(&results),
            "evaluations": found.evaluations,
        });
        terminal::print(&format!("{object:#}\n"))?;
    } else {
        let over = over(&rest.shop, &found, &left, at);
        tell(
            &results,
            (&left, over),
            (&rest.taken, &assumed),
            typed.report,
            saying,
        )?;
    }
    if let Some(dir) = &typed.out {
        let before = Before {
            now: at,
            notes: &rest.taken,
        };
        let set = alone::set(&results, &left, &found.plan, Some(before));
        Folder::new(dir, typed.force, saying).write_and_say(&set, Earlier::Goes)?;
    }
    finish(typed, &results, &found)
}

fn finish(typed: &Typed, results: &summary::Results<'_>, found: &Found) -> Result<Exit, Failure> {
    if typed.strict && (found.judged.late_orders > 0 || found.judged.unready > 0) {
        terminal::tell(&super::plan::promises_break(results, &found.judged, None));
        return Ok(Exit::CannotBeDone);
    }
    Ok(super::plan::ends(&found.judged))
}

/// What is taken for granted of the day so far: that nothing was done, where no note tells of work, and how baths stand.
fn assumed(results: &summary::Results<'_>, at: Moment, notes: &Notes) -> String {
    let nothing = (notes.loads.is_empty() && notes.done.is_empty()).then(|| NOTHING_DONE.to_owned());
    let since = assumed_since(results, at, &noted_of(notes));
    nothing.into_iter().chain(since).collect::<Vec<_>>().join(" ")
}

/// The tanks of which notes tell what else would be assumed.
fn noted_of(notes: &Notes) -> TanksNoted {
    let read = notes.readings.iter().filter(|r| r.temperature.is_some());
    TanksNoted {
        topped_up: notes.water.iter().map(|w| w.tank.value.clone()).collect(),
        read: read.map(|r| r.tank.value.clone()).collect(),
        cared: notes.care.iter().map(|c| c.tank.value.clone()).collect(),
    }
}

/// What is still to be done.
fn left(sheets: Vec<DaySheet>, at: Moment) -> Vec<DaySheet> {
    let mut left = sheets;
    for sheet in &mut left {
        sheet.rows.retain(|r| r.at >= at);
    }
    left.retain(|s| s.close > at);
    left
}

/// Where nothing is left that could be done, and not all is ready: that, and why.
fn over(shop: &Shop, found: &Found, left: &[DaySheet], at: Moment) -> Option<String> {
    let nothing = left.iter().all(|sheet| sheet.rows.is_empty());
    let closes = shop.calendar.days.last()?.close;
    (nothing && found.judged.unready > 0).then(|| {
        let clock = |time| clock_beside(&shop.calendar, time, at);
        let closed = if closes <= at { "closed" } else { "closes" };
        format!(
            "Nothing more can be done from {} on: the last day {closed} at {}.",
            at.clock(),
            clock(closes)
        )
    })
}

/// What was taken from the notes, one line a note.
fn noted(taken: &[String]) -> Vec<Line> {
    if taken.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::empty(), Line::of(Style::Bold, "TAKEN FROM THE NOTES")];
    for note in taken {
        for (i, words) in wrap(note, 76).into_iter().enumerate() {
            let indent = if i == 0 { "  " } else { "    " };
            lines.push(Line::plain(format!("{indent}{words}")));
        }
    }
    lines
}

fn tell(
    results: &summary::Results<'_>,
    (left, over): (&[DaySheet], Option<String>),
    (taken, assumed): (&[String], &str),
    report: bool,
    saying: Saying,
) -> Result<(), Failure> {
    let screen = Terminal::standard_output();
    let over = over.map_or_else(Vec::new, |over| wrap(&over, screen.columns));
    let mut lines: Vec<Line> = over.into_iter().map(|l| Line::of(Style::Bold, l)).collect();
    lines.extend(summary::answer(results, screen.columns));
    lines.extend(wrap(assumed, screen.columns).into_iter().map(Line::plain));
    if saying > Saying::Little {
        lines.extend(noted(taken));
        lines.push(Line::empty());
        lines.extend(summary::warned(results, screen.columns));
    }
    if report {
        lines.push(Line::empty());
        lines.extend(summary::waits(results, screen.columns));
    }
    if saying > Saying::Little {
        for sheet in left {
            // It stands above already.
            let sheet = DaySheet {
                assumed: String::new(),
                ..sheet.clone()
            };
            lines.push(Line::empty());
            lines.extend(sheet_lines(&sheet));
        }
    }
    terminal::print_lines(&lines, screen.paper)
}
