//! Drying by the air of the room.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::resolve::drying;
use crate::thing::Thing;
use crate::written::{Route, Step};
use tankday_base::units::Span;

pub(super) const ALL: &[Rule] = &[
    Rule::Step(air_decides),
    Rule::Step(film_dries),
    Rule::Whole(dries_in_time),
];

/// Wet work that takes longer than this rusts before it is dry. Common practice, no source.
const LONG: Span = Span::whole_minutes(60);

/// Where the air decides how long, no time is written.
fn air_decides(_: &Facts, step: &Step) -> Option<Finding> {
    let dries = step.dries.as_ref()?;
    let at = step.first(&[&Step::time, &Step::each])?;
    let finding = Finding::new(Code::Contradiction, at, "the air decides how long this dries");
    Some(finding.label("not here").and(dries.at, "by the air"))
}

/// A film matters where the air dries it.
fn film_dries(_: &Facts, step: &Step) -> Option<Finding> {
    let film = step.film.as_ref().filter(|_| step.dries.is_none())?;
    let message = "a film matters only where the air decides how long it dries";
    Some(
        Finding::new(Code::Contradiction, film.at, message)
            .label("without effect")
            .help("write `dries: fan` instead of a time"),
    )
}

/// The air dries at all, and before rust comes.
fn dries_in_time(f: &Facts) -> Vec<Finding> {
    f.steps()
        .filter_map(|(route, step)| slow(f, route, step))
        .collect()
}

fn slow(f: &Facts, route: &Route, step: &Step) -> Option<Finding> {
    let at = step.dries.as_ref()?.at;
    let takes = drying(step, route, f.file, f.names)?;
    if takes >= Span::FOREVER {
        let message = "this air is full of vapour: nothing dries in it";
        return Some(Finding::new(Code::Range, at, message).label("never"));
    }
    (takes > LONG).then(|| {
        let minutes = takes.in_minutes();
        let message = format!("work dries {minutes:.0} min in this air, and bare steel rusts wet in minutes");
        Finding::warning(Code::Range, at, message)
            .label("slow")
            .help("use a fan or warm air, or blow it off first and write what is left: `film: 15 mL/m2`")
    })
}
