//! The three figures beside the answer: end of the day, orders safe, cost.

use super::Results;
use super::promise::{Promise, Sure};
use super::spent::spent;
use tankday_base::print::{clock_or_date, number};
use tankday_base::units::Moment;

/// One of the three.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Three {
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: String,
    /// What goes with it; may be empty.
    pub note: String,
}

/// The three figures.
#[must_use]
pub fn three(results: &Results<'_>, promises: &[Promise<'_>]) -> [Three; 3] {
    [end(results), kept(results, promises), cost(results)]
}

fn end(results: &Results<'_>) -> Three {
    let calendar = &results.shop.calendar;
    let clock = |at: Option<Moment>| at.map_or("--:--".to_owned(), |at| clock_or_date(calendar, at));
    let more = match (results.many(), results.figures.closing) {
        (Some(study), _) => {
            let (by, many) = (clock(study.finish().1), results.each().many());
            format!(", by {by} on nine {many} in ten")
        }
        (None, Moment::NEVER) => String::new(),
        (None, at) => format!("; closing {}", clock_or_date(calendar, at)),
    };
    Three {
        name: "end of the day".to_owned(),
        value: clock(finish(results)),
        note: format!("last hands-on work{more}"),
    }
}

/// When the last hands-on work is done: usually, where there are many days. Headline and tile show this one figure.
pub(super) fn finish(results: &Results<'_>) -> Option<Moment> {
    match results.many() {
        Some(study) => study.finish().0,
        None => results.figures.finish,
    }
}

fn kept(results: &Results<'_>, promises: &[Promise<'_>]) -> Three {
    let safe = promises.iter().filter(|p| p.sure >= Sure::Safe).count();
    let (name, note) = match results.many() {
        Some(_) => {
            let many = results.each().many();
            ("orders safe", format!("on time on at least 95 of 100 {many}"))
        }
        None => ("orders on time", String::new()),
    };
    Three {
        name: name.to_owned(),
        value: format!("{safe} of {}", promises.len()),
        note,
    }
}

fn cost(results: &Results<'_>) -> Three {
    let one = &results.figures.cost;
    let spent = spent(results);
    let (value, note) = if one.given {
        let rest = number(spent.total - spent.hands, 2);
        let words = format!("hands {}, all else {rest}", number(spent.hands, 2));
        let of = match spent.of.as_str() {
            "" => String::new(),
            of => format!("; {of}"),
        };
        (number(spent.total, 2), format!("{words}{of}"))
    } else {
        ("--".to_owned(), "no prices are given".to_owned())
    };
    Three {
        name: format!("cost, {}", one.currency),
        value,
        note,
    }
}
