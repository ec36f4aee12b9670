//! What happens on some of many simulated days, though the day that is shown may have none of it.

use super::Results;
use tankday_base::print::{Line, Style, lower};
use tankday_record::WarningKind;
use tankday_study::StudyDay;

/// Something that happens on some of the simulated days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SomeDays {
    /// Its code, as in the data.
    pub code: &'static str,
    /// What happens, in words that follow on a colon.
    pub words: String,
    /// On so many days.
    pub days: usize,
    /// Of so many.
    pub of: usize,
}

/// Work that lies bare too long or takes no coat, baths that are too cold for one, and whatever may hurt somebody, each with
/// the days on which it happens; nothing of a single day.
#[must_use]
pub fn some_days(results: &Results<'_>) -> Vec<SomeDays> {
    let Some(study) = results.many() else {
        return Vec::new();
    };
    let one = |code, words: String, so: &dyn Fn(&StudyDay) -> bool| SomeDays {
        code,
        words,
        days: study.days_on_which(so),
        of: study.days.len(),
    };
    let hurts = WarningKind::ALL.iter().filter(|kind| kind.hurts());
    let warned = |kind: &WarningKind| one(kind.code(), happens(*kind), &|day| day.warned.contains(kind));
    let mut all: Vec<SomeDays> = hurts.map(warned).collect();
    all.extend([
        one("lies-bare", "work lies bare too long".to_owned(), &|day| {
            !day.bare.is_empty()
        }),
        warned(&WarningKind::TooColdToCoat),
        one("no-coat", "work comes out without a coat".to_owned(), &|day| {
            !day.uncoated.is_empty()
        }),
    ]);
    all.retain(|some| some.days > 0);
    all
}

/// What a kind of warning says, without where and when.
fn happens(kind: WarningKind) -> String {
    let fact = kind.fact().split(": {places}").next().unwrap_or_default();
    lower(fact.trim_end_matches('.'))
}

/// The same as lines of the answer: `On 12 of 200 days coated work lies bare too long.`
pub(super) fn lines(results: &Results<'_>) -> Vec<Line> {
    let many = results.each().many();
    let line = |some: SomeDays| {
        let when = match some.days == some.of {
            true => format!("On all {} {many}", some.of),
            false => format!("On {} of {} {many}", some.days, some.of),
        };
        Line::of(Style::Late, format!("{when}: {}.", some.words))
    };
    some_days(results).into_iter().map(line).collect()
}
