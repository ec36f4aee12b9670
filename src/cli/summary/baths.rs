//! The baths at the end: how they read, and how far they still go.

use super::Results;
use super::watch::{point, says_points};
use tankday_base::bath::chemistry::Reach;
use tankday_base::print::{Line, Style, fitted, number, padded, plural, right, wrap};
use tankday_output::narrative::{believed, stands};
use tankday_record::BathFigure;

/// Width of a bath's name.
const NAME: usize = 17;

pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let wears = |b: &&BathFigure| results.shop.baths.get(b.bath.index()).is_some_and(|r| r.wears);
    let baths: Vec<&BathFigure> = results.figures.baths.iter().filter(wears).collect();
    if baths.is_empty() {
        return Vec::new();
    }
    let cells = [("total acid", 11), ("acid ratio", 11), ("iron", 9), ("sludge", 9)];
    let cells: String = cells.iter().map(|(cell, wide)| right(cell, *wide)).collect();
    let heading = format!("{}{cells}", padded("BATHS at the end", NAME + 2));
    let mut lines = vec![Line::of(Style::Bold, heading)];
    if results.many().is_some() {
        let one = results.each().one();
        lines.push(Line::of(
            Style::Dim,
            format!("  on the {one} drawn, the one nearest the middle"),
        ));
    }
    for bath in baths {
        lines.extend(one(results, bath, columns));
    }
    if !says_points(results) {
        lines.extend(point(columns));
    }
    lines
}

fn one(results: &Results<'_>, bath: &BathFigure, columns: usize) -> Vec<Line> {
    let now = &bath.now;
    let readings = format!(
        "  {}{} p{}{} g/L{} g/L",
        padded(&fitted(&bath.name, NAME), NAME),
        right(&number(now.total_acid.in_points(), 1), 9),
        right(&number(now.total_acid / now.free_acid, 2), 11),
        right(&number(now.iron.in_grams_per_litre(), 2), 5),
        right(&number(now.sludge.in_grams_per_litre(), 2), 5),
    );
    let first = bath.life.as_ref().or(bath.spare.as_ref()).and_then(|l| l.first());
    let words = match (stands(results, bath), first) {
        (Some(words), _) => words,
        (None, Some(first)) => {
            let believed = believed(bath, results.shop);
            format!(
                "{}, then {}{believed}",
                goes_on(first),
                first.what.sentence(first.side)
            )
        }
        (None, None) => String::new(),
    };
    let words = wrap(&words, columns.saturating_sub(4)).into_iter();
    let words = words.map(|w| Line::of(Style::Dim, format!("    {w}")));
    std::iter::once(Line::plain(readings)).chain(words).collect()
}

/// How many loads of the present mix, how much surface that is, and how many days.
fn goes_on(reach: &Reach) -> String {
    let loads = reach.loads.floor();
    if loads < 1.0 {
        return "good for no more loads".to_owned();
    }
    let word = if loads < 2.0 {
        "load".to_owned()
    } else {
        plural("load")
    };
    let days = match reach.days.floor() {
        d if d < 1.0 => "less than a day".to_owned(),
        1.0 => "1 day".to_owned(),
        d => format!("{} days", number(d, 0)),
    };
    format!(
        "good for about {} more {word} like these, {} m\u{b2} or {days}",
        number(loads, 0),
        number(reach.area.in_square_metres(), 1)
    )
}
