//! `tankday compare`: alternatives on the same orders and the same luck.

mod data;
mod print;

pub(super) use data::figures;

use super::args::Compare;
use super::exit::{Exit, Failure};
use super::load::load;
use super::settings::Saying;
use super::terminal::{self, Terminal};
use crate::compare::{Alternative, Comparison};
use crate::scenario::Scenario;
use crate::shop::Shop;
use std::path::{Path, PathBuf};

/// What is told beside the figures.
pub(super) struct Setting {
    /// Seed.
    pub seed: u64,
    /// How the currency of the first is written.
    pub currency: String,
    /// What became of a wanted precision.
    pub reached: Option<String>,
}

/// Compares them.
///
/// # Errors
/// When a scenario is wrong, when they have different orders, when the work cannot be done.
pub(super) fn compare(typed: &Compare, saying: Saying) -> Result<Exit, Failure> {
    let names = names(&typed.files);
    let scenarios: Vec<Scenario> = typed
        .files
        .iter()
        .map(|file| load(file, saying).map(|l| l.scenario))
        .collect::<Result<_, _>>()?;
    if !typed.different_orders {
        same_orders(&scenarios, &names)?;
    }
    let shops: Vec<&Shop> = scenarios.iter().map(|s| &s.shop).collect();
    let sampled = typed.sampling.run(&shops, saying)?;
    let setting = Setting {
        seed: typed.sampling.seed,
        currency: shops
            .first()
            .map_or_else(String::new, |s| s.prices.currency.clone()),
        reached: sampled.reached,
    };
    let alternatives = names.into_iter().zip(&scenarios).zip(sampled.readings);
    let comparison = Comparison::of(
        alternatives
            .map(|((name, scenario), readings)| Alternative {
                name,
                outlay: scenario.outlay,
                readings,
            })
            .collect(),
    );
    tell(typed, &comparison, &setting, saying)?;
    Ok(Exit::Done)
}

/// Prints it.
fn tell(typed: &Compare, comparison: &Comparison, setting: &Setting, saying: Saying) -> Result<(), Failure> {
    if typed.json {
        return terminal::print(&data::text(comparison, setting));
    }
    let paper = Terminal::standard_output();
    let lines = match saying {
        Saying::Little => print::answer(comparison, paper.columns),
        _ => print::lines(comparison, setting, paper.columns),
    };
    terminal::print_lines(&lines, paper.paper)
}

/// Names of alternatives: those of their files, with the folder where two are alike.
fn names(files: &[PathBuf]) -> Vec<String> {
    let stem = |path: &Path| {
        path.file_stem()
            .map_or_else(String::new, |s| s.to_string_lossy().into_owned())
    };
    let stems: Vec<String> = files.iter().map(|f| stem(f)).collect();
    let name = |(i, file): (usize, &PathBuf)| {
        let own = &stems[i];
        if stems.iter().filter(|s| *s == own).count() == 1 {
            return own.clone();
        }
        let path = file.display().to_string();
        let before = files.iter().take(i).filter(|f| *f == file).count();
        if before == 0 {
            path
        } else {
            format!("{path} ({})", before + 1)
        }
    };
    files.iter().enumerate().map(name).collect()
}

/// Refuses alternatives whose orders differ.
fn same_orders(scenarios: &[Scenario], names: &[String]) -> Result<(), Failure> {
    let Some(first) = scenarios.first() else {
        return Ok(());
    };
    for (scenario, name) in scenarios.iter().zip(names).skip(1) {
        if let Some(what) = orders_differ(&first.shop, &scenario.shop) {
            return Err(Failure::input(format!(
                "{name} has other orders than {}: {what}\na comparison would tell the orders apart, not the shops; \
                 --different-orders compares them all the same",
                names.first().map_or("", String::as_str)
            )));
        }
    }
    Ok(())
}

/// The first way in which two shops' orders differ, in words.
fn orders_differ(one: &Shop, two: &Shop) -> Option<String> {
    let part = |shop: &Shop, at: usize| -> Option<String> {
        Some(shop.parts.get(shop.orders.get(at)?.part.index())?.name.clone())
    };
    for (i, order) in one.orders.iter().enumerate() {
        let Some(at) = two.orders.iter().position(|o| o.id == order.id) else {
            return Some(format!("order {} is not among them", order.id));
        };
        let other = two.orders.get(at)?;
        let differs = if part(one, i) != part(two, at) {
            "another part"
        } else if order.count != other.count {
            "another count of pieces"
        } else if order.arrival != other.arrival {
            "another arrival"
        } else if order.due_after != other.due_after {
            "another promise"
        } else {
            continue;
        };
        return Some(format!("order {} has {differs}", order.id));
    }
    let new = two
        .orders
        .iter()
        .find(|o| !one.orders.iter().any(|p| p.id == o.id))?;
    Some(format!("order {} is new", new.id))
}
