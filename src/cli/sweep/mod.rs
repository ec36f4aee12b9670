//! `tankday sweep`: one or two values varied.

mod data;
mod print;

use super::args;
use super::exit::{Exit, Failure};
use super::load::{draft, rendered};
use super::sampling::Sampling;
use super::settings::Saying;
use super::terminal::{self, Terminal};
use crate::scenario::{Draft, Findings, Scenario};
use crate::shop::Shop;
use crate::study::Reading;
use crate::sweep::{MOST_POINTS, Point, Setting, Sweep, Varied, grid, next_setting, scenario_at, varied};

/// What is told beside the figures.
pub(super) struct Told {
    /// Seed.
    pub seed: u64,
    /// How the currency is written.
    pub currency: String,
    /// What became of a wanted precision.
    pub reached: Option<String>,
}

/// Varies what is asked for.
///
/// # Errors
/// When the scenario or a key is wrong, when no point at all can be, when the work cannot be done.
pub(super) fn sweep(typed: &args::Sweep, saying: Saying) -> Result<Exit, Failure> {
    let keys = keys(typed)?;
    let draft = draft(&typed.file)?;
    // What is wrong everywhere is told once, with its place.
    let plain = draft
        .scenario()
        .map_err(|found| Failure::input(rendered(&found)))?;
    let settings = grid(&keys);
    if settings.len() > MOST_POINTS {
        return Err(Failure::input(format!(
            "{} points are more than the {MOST_POINTS} that are tried",
            settings.len()
        )));
    }
    let (points, reached) = points(&draft, &keys, settings, &typed.sampling, saying)?;
    let mut sweep = Sweep { keys, points };
    for _ in 0..typed.refine {
        let Some(setting) = next_setting(&sweep) else {
            break;
        };
        refine(&draft, &mut sweep, setting, &typed.sampling)?;
    }
    let told = Told {
        seed: typed.sampling.seed,
        currency: plain.shop.prices.currency.clone(),
        reached,
    };
    tell(typed, &sweep, &told, saying)?;
    Ok(Exit::Done)
}

fn keys(typed: &args::Sweep) -> Result<Vec<Varied>, Failure> {
    let keys: Vec<Varied> = typed
        .vary
        .iter()
        .map(|v| varied(v).map_err(|why| Failure::input(format!("--vary: {why}"))))
        .collect::<Result<_, _>>()?;
    if keys.len() > 2 {
        return Err(Failure::input("--vary stands once or twice"));
    }
    match keys.as_slice() {
        [one, two] if one.path == two.path => {
            Err(Failure::input(format!("--vary: `{}` is varied twice", one.path)))
        }
        [_, _] if typed.refine > 0 => Err(Failure::input("--refine goes with one key")),
        _ => Ok(keys),
    }
}

type Tried = (Vec<Setting>, Result<Scenario, Findings>);

/// Runs all points of a grid. Those that cannot be are kept with their reason.
fn points(
    draft: &Draft,
    keys: &[Varied],
    settings: Vec<Vec<Setting>>,
    sampling: &Sampling,
    saying: Saying,
) -> Result<(Vec<Point>, Option<String>), Failure> {
    let tried: Vec<Tried> = settings
        .into_iter()
        .map(|s| {
            let scenario = scenario_at(draft, keys, &s);
            (s, scenario)
        })
        .collect();
    if let (true, Some((_, Err(found)))) = (tried.iter().all(|(_, s)| s.is_err()), tried.first()) {
        return Err(Failure::input(format!(
            "none of the points can be; the first:\n{}",
            rendered(found)
        )));
    }
    let shops: Vec<&Shop> = tried
        .iter()
        .filter_map(|(_, s)| s.as_ref().ok())
        .map(|s| &s.shop)
        .collect();
    let sampled = sampling.run(&shops, saying)?;
    let mut readings = sampled.readings.into_iter();
    let mut points = Vec::new();
    for (settings, scenario) in &tried {
        let outcome: Result<Vec<Reading>, String> = match scenario {
            Ok(_) => Ok(readings.next().unwrap_or_default()),
            Err(found) => Err(found.first()),
        };
        points.push(Point {
            settings: settings.clone(),
            outcome,
        });
    }
    Ok((points, sampled.reached))
}

/// Adds one point, with as many replications as the others have.
fn refine(draft: &Draft, sweep: &mut Sweep, setting: Setting, sampling: &Sampling) -> Result<(), Failure> {
    let settings = vec![setting];
    let outcome = match scenario_at(draft, &sweep.keys, &settings) {
        Ok(scenario) => {
            let many = sweep.replications() as u32;
            let again = sampling.exactly(many);
            Ok(again
                .run(&[&scenario.shop], Saying::Little)?
                .readings
                .into_iter()
                .next()
                .unwrap_or_default())
        }
        Err(found) => Err(found.first()),
    };
    let at = |p: &Point| p.settings.first().map_or(0.0, |s| s.at);
    let point = Point { settings, outcome };
    let place = sweep
        .points
        .iter()
        .position(|p| at(p) > at(&point))
        .unwrap_or(sweep.points.len());
    sweep.points.insert(place, point);
    Ok(())
}

fn tell(typed: &args::Sweep, sweep: &Sweep, told: &Told, saying: Saying) -> Result<(), Failure> {
    if typed.json {
        return terminal::print(&data::text(sweep, told));
    }
    let paper = Terminal::standard_output();
    let lines = match saying {
        Saying::Little => print::answer(sweep, paper.columns),
        _ => print::lines(sweep, told, paper.columns),
    };
    terminal::print_lines(&lines, paper.paper)
}
