//! Runs too long for a record of every event: queues of hundreds of thousands of orders. What stays are the figures of
//! stations, hands and waits, gathered while the run goes on.

use super::exit::{Exit, Failure};
use super::json::{interval, round};
use super::settings::RunSettings;
use super::terminal;
use rayon::prelude::*;
use serde_json::{Value, json};
use tankday_base::print::{Line, Replication, Style, fitted, number, padded, right};
use tankday_base::random::Streams;
use tankday_base::shop::Shop;
use tankday_base::stats::mean;
use tankday_line::Line as Shopfloor;
use tankday_record::{StationFigure, Tally};

/// What is kept of one run.
struct Run {
    /// Orders that came, and that got ready.
    orders: (u64, u64),
    in_system_min: f64,
    stations: Vec<StationFigure>,
    endless: bool,
}

/// Runs it and tells the figures.
///
/// # Errors
/// When files are asked for, when the days do not end, when standard output cannot be written.
pub(super) fn run(settings: &RunSettings, shop: &Shop) -> Result<Exit, Failure> {
    if settings.out.is_some() {
        return Err(Failure::input(
            "these days hold too many events for a record: shorten them, or leave --out away",
        ));
    }
    let line = Shopfloor::new(shop);
    let luck = |n: u32| Some(Streams::new(settings.seed, u64::from(n)));
    let runs: Vec<Run> = match settings.replications {
        Some(many) => (0..many)
            .into_par_iter()
            .map(|n| one(shop, &line, luck(n)))
            .collect(),
        None => vec![one(shop, &line, None)],
    };
    if runs.iter().any(|r| r.endless) {
        return Err(Failure::Told {
            message: "these days do not end: work goes round in circles, or far too many orders come".into(),
            exit: Exit::CannotBeDone,
        });
    }
    if settings.json {
        terminal::print(&format!("{:#}\n", object(settings, shop, &runs)))?;
    } else {
        terminal::print_lines(&lines(settings, shop, &runs), settings.terminal.paper)?;
    }
    Ok(Exit::Done)
}

fn one(shop: &Shop, line: &Shopfloor<'_>, luck: Option<Streams>) -> Run {
    let mut tally = Tally::new(shop);
    let outcome = line.run(luck, &mut tally);
    let in_system = tally.in_system();
    Run {
        orders: (u64::from(outcome.orders), in_system.count),
        in_system_min: in_system
            .mean()
            .map_or(0.0, tankday_base::units::Span::in_minutes),
        stations: tally.stations(),
        endless: outcome.endless,
    }
}

/// A figure of every run.
fn each(runs: &[Run], of: impl Fn(&Run) -> Option<f64>) -> Vec<f64> {
    runs.iter().filter_map(of).collect()
}

fn wait(run: &Run, station: usize) -> Option<f64> {
    Some(run.stations.get(station)?.wait.mean()?.in_minutes())
}

fn object(settings: &RunSettings, shop: &Shop, runs: &[Run]) -> Value {
    let station = |(i, station): (usize, &tankday_base::shop::Station)| {
        let of = |get: fn(&StationFigure) -> f64| interval(&each(runs, |r| r.stations.get(i).map(get)));
        json!({
            "name": station.name,
            "served": of(|s| s.served as f64),
            "busy": of(|s| s.busy.in_fraction()),
            "mean_wait_min": interval(&each(runs, |r| wait(r, i))),
            "mean_in_line": of(|s| s.in_line),
            "mean_in_place": of(|s| s.in_place),
        })
    };
    json!({
        "title": shop.title,
        "seed": settings.seed,
        "replications": settings.replications.unwrap_or(0),
        "orders_come": interval(&each(runs, |r| Some(r.orders.0 as f64))),
        "orders_ready": interval(&each(runs, |r| Some(r.orders.1 as f64))),
        "mean_in_shop_min": interval(&each(runs, |r| Some(r.in_system_min))),
        "in_shop_over_runs": runs.iter().map(|r| round(r.in_system_min)).collect::<Vec<_>>(),
        "stations": shop.stations.iter().enumerate().map(station).collect::<Vec<_>>(),
    })
}

fn lines(settings: &RunSettings, shop: &Shop, runs: &[Run]) -> Vec<Line> {
    let middle = |values: Vec<f64>| mean(&values).unwrap_or(0.0);
    let what = Replication::of_days(shop.calendar.days.len());
    let how = match settings.replications {
        Some(many) => format!(
            "mean of {}, seed {}",
            what.simulated(many as usize),
            settings.seed
        ),
        None => "worked out with average times".to_owned(),
    };
    let answer = format!(
        "Of {} orders {} are finished, on average {} min after they come.",
        number(middle(each(runs, |r| Some(r.orders.0 as f64))), 0),
        number(middle(each(runs, |r| Some(r.orders.1 as f64))), 0),
        number(middle(each(runs, |r| Some(r.in_system_min))), 3),
    );
    let head = [("loads", 10), ("busy", 8), ("mean wait", 14), ("in line", 14)];
    let head: String = head.iter().map(|(cell, wide)| right(cell, *wide)).collect();
    let mut lines = vec![
        Line::of(Style::Bold, fitted(&shop.title, settings.terminal.columns)),
        Line::of(Style::Dim, how),
        Line::of(Style::Bold, answer),
        Line::empty(),
        Line::of(Style::Bold, "STATIONS")
            .to_column(26)
            .and(Style::Plain, head),
    ];
    for (i, station) in shop.stations.iter().enumerate() {
        let of = |get: fn(&StationFigure) -> f64| middle(each(runs, |r| r.stations.get(i).map(get)));
        lines.push(Line::plain(format!(
            "  {}{}{} %{} min{}",
            padded(&fitted(&station.name, 23), 24),
            right(&number(of(|s| s.served as f64), 0), 10),
            right(&number(of(|s| s.busy.in_percent()), 1), 6),
            right(&number(middle(each(runs, |r| wait(r, i))), 3), 10),
            right(&number(of(|s| s.in_line), 3), 14),
        )));
    }
    lines.push(Line::empty());
    lines.push(Line::of(
        Style::Dim,
        "Too many events for a record: no orders, day sheet or pictures.",
    ));
    lines
}
