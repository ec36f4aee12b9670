//! What a command writes of day sheets that no report stands beside: of the rest of a day, of a promise.

use super::folder::Wanted;
use super::run::{SHEET_PAGE, sheets_of};
use super::summary::Results;
use tankday_line::{Line, Plan};
use tankday_output::report::{self, Before};
use tankday_output::sheet::DaySheet;
use tankday_plan::plan_file::write;

const PLAN: &str = "plan.yaml";

/// The names of all of it.
pub(super) fn wanted<'a>() -> impl Iterator<Item = Wanted<'a>> {
    let names = [
        PLAN,
        "summary.json",
        "day-sheet.txt",
        "day-sheet.csv",
        "day-sheet.ics",
        SHEET_PAGE,
    ];
    names.into_iter().map(|name| (name, None))
}

/// Its files: name and bytes.
pub(super) fn set(
    results: &Results<'_>,
    sheets: &[DaySheet],
    plan: &Plan,
    before: Option<Before<'_>>,
) -> Vec<(String, Vec<u8>)> {
    let page = report::sheets_alone(results, sheets, before);
    let plan = write(results.shop, &Line::new(results.shop), plan);
    let mut set = sheets_of(results, sheets);
    set.push((SHEET_PAGE.to_owned(), page.into_bytes()));
    set.push((PLAN.to_owned(), plan.into_bytes()));
    debug_assert!(
        set.iter().all(|(name, _)| wanted().any(|w| w.0 == name)),
        "a file that was not asked for"
    );
    set
}
