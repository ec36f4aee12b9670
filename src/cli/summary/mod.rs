//! The summary: the answer first, then figures, what to watch, orders, the day in signs, what sets its end.

mod answer;
mod baths;
mod day;
mod ends;
mod orders;
mod promise;
mod spent;
mod stations;
mod watch;

pub(in crate::cli) use promise::{Promise, Sure, promises};
pub(in crate::cli) use stations::stations;
pub(in crate::cli) use watch::words as watch_words;

use super::terminal::Terminal;
use crate::ease::Gain;
use crate::print::{Line, Style, clock_or_date, number};
use crate::record::{Chain, Figures, Labels, Record};
use crate::shop::Shop;
use crate::study::Study;
use crate::units::Moment;

/// Everything that a summary tells.
pub(in crate::cli) struct Results<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The day drawn.
    pub record: &'a Record,
    /// Its figures.
    pub figures: &'a Figures,
    /// Its names.
    pub labels: &'a Labels,
    /// What sets its end.
    pub chain: Option<&'a Chain>,
    /// What would help, the best first.
    pub gains: &'a [Gain],
    /// The replications, if there are any.
    pub study: Option<&'a Study>,
    /// Seed.
    pub seed: u64,
}

/// The answer alone: one sentence, and one for each order at risk.
#[must_use]
pub(in crate::cli) fn answer(results: &Results<'_>) -> Vec<Line> {
    answer::lines(results, &promises(results))
}

/// The whole summary.
#[must_use]
pub(in crate::cli) fn lines(results: &Results<'_>, terminal: Terminal) -> Vec<Line> {
    let columns = terminal.columns;
    let promises = promises(results);
    let mut lines = head(results, columns);
    lines.extend(answer::lines(results, &promises));
    lines.push(Line::empty());
    lines.extend(three_figures(results, &promises));
    for block in [
        watch::lines(results),
        orders::lines(results, &promises, columns),
        day::lines(results, columns),
        baths::lines(results),
        ends::lines(results, columns),
        spent::lines(results, columns),
    ] {
        if !block.is_empty() {
            lines.push(Line::empty());
            lines.extend(block);
        }
    }
    lines
}

/// A rule across the page.
#[must_use]
pub(in crate::cli) fn rule(columns: usize) -> Line {
    Line::plain("-".repeat(columns))
}

fn head(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let days = &results.shop.calendar.days;
    let date = |at: Moment| results.shop.calendar.date(at);
    let when = match (days.first(), days.last()) {
        (Some(first), Some(last)) if days.len() > 1 => {
            format!(
                "{} to {}",
                date(first.open).strftime("%-d"),
                date(last.open).strftime("%-d %B %Y")
            )
        }
        (Some(day), _) => date(day.open).strftime("%A %-d %B %Y").to_string(),
        _ => String::new(),
    };
    let how = match results.study {
        Some(study) if study.days.len() == 1 => format!("one day reckoned, seed {}", results.seed),
        Some(study) => format!("{} days reckoned, seed {}", study.days.len(), results.seed),
        None => "reckoned with mean times".to_owned(),
    };
    let title = &results.shop.title;
    let right = columns.saturating_sub(how.chars().count());
    let told = |words: String| {
        Line::of(Style::Bold, words)
            .to_column(right)
            .and(Style::Dim, how.clone())
    };
    let whole = format!("{title}, {when}");
    if whole.chars().count() + 2 <= right {
        return vec![told(whole), rule(columns)];
    }
    let title = Line::of(Style::Bold, fitted(title, columns));
    vec![title, told(when), rule(columns)]
}

/// Words cut to so many columns.
pub(in crate::cli) fn fitted(words: &str, columns: usize) -> String {
    if words.chars().count() <= columns {
        return words.to_owned();
    }
    let kept: String = words.chars().take(columns.saturating_sub(2)).collect();
    format!("{}..", kept.trim_end())
}

fn three_figures(results: &Results<'_>, promises: &[Promise]) -> Vec<Line> {
    let shop = results.shop;
    let clock = |at: Option<Moment>| at.map_or("--:--".to_owned(), |at| clock_or_date(&shop.calendar, at));
    let closing = match results.figures.closing {
        Moment::NEVER => String::new(),
        at => format!("closing {}", clock_or_date(&shop.calendar, at)),
    };
    let (end, later) = match results.study {
        Some(study) => {
            let (usual, nine) = study.end();
            (
                usual,
                format!("by {} on nine days in ten; {closing}", clock(nine)),
            )
        }
        None => (results.figures.end, closing),
    };
    let safe = promises.iter().filter(|p| p.sure >= Sure::Safe).count();
    let kept = match results.study {
        Some(_) => ("orders safe", "on time on at least 95 of 100 days"),
        None => ("orders on time", ""),
    };
    let cost = results
        .study
        .map_or_else(|| Money::of(&results.figures.cost), Money::mean);
    let given = results.figures.cost.given;
    let (total, spent) = if given {
        let rest = number(cost.total - cost.hands, 2);
        let words = format!("hands {}, all else {rest}", number(cost.hands, 2));
        (number(cost.total, 2), words)
    } else {
        ("--".to_owned(), "no prices are given".to_owned())
    };
    vec![
        figure("end of the day", &clock(end), later.trim_end_matches("; ")),
        figure(kept.0, &format!("{safe} of {}", promises.len()), kept.1),
        figure(
            &format!("cost, {}", results.figures.cost.currency),
            &total,
            &spent,
        ),
    ]
}

fn figure(name: &str, value: &str, note: &str) -> Line {
    Line::plain(format!("  {name:<14}"))
        .and(Style::Bold, format!(" {value:>9}"))
        .and(Style::Plain, "  ")
        .and(Style::Dim, note)
}

/// Cost of one day, or the mean over many.
struct Money {
    total: f64,
    hands: f64,
}

impl Money {
    fn of(cost: &crate::record::Cost) -> Self {
        Self {
            total: cost.total(),
            hands: cost.hands,
        }
    }

    fn mean(study: &Study) -> Self {
        let mean = |of: &dyn Fn(&crate::record::Cost) -> f64| {
            let all: Vec<f64> = study.days.iter().map(|d| of(&d.cost)).collect();
            crate::stats::mean(&all).unwrap_or(0.0)
        };
        Self {
            total: mean(&crate::record::Cost::total),
            hands: mean(&|c| c.hands),
        }
    }
}

#[cfg(test)]
mod tests;
