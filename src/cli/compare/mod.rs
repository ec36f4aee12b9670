//! `tankday compare`: alternatives on the same orders and the same luck.

mod assume;
mod data;
mod print;

pub(super) use assume::Assume;
pub(super) use data::{figures, following, follows};

use super::args::Compare;
use super::exit::{Exit, Failure};
use super::join::{self, Setup};
use super::load::{Loaded, load_all};
use super::pictures;
use super::planned::Plans;
use super::sampling::Telling;
use super::settings::Saying;
use super::terminal::{self, Terminal};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use tankday_base::print::Replication;
use tankday_base::shop::Shop;
use tankday_chart as chart;
use tankday_output::report;
use tankday_plan::planned::{Following, Shops, all_others};
use tankday_scenario::{Draft, Scenario};
use tankday_study::Reading;
use tankday_study::compare::{Alternative, Assumption, Comparison};
use tankday_study::shard::Shard;

/// What is told beside the readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Compared {
    /// Names of the alternatives.
    names: Vec<String>,
    /// What each costs to set up, as bits.
    outlays: Vec<Option<u64>>,
    /// Seed.
    seed: u64,
    /// Opening days of one replication of the first.
    days: usize,
    /// How the currency of the first is written.
    currency: String,
    /// What became of a wanted precision.
    reached: Option<String>,
    /// Texts of the alternatives, each standing alone.
    texts: Vec<String>,
    /// What the alternatives follow.
    following: Following,
}

/// What is told.
pub(super) struct Told<'a> {
    /// The alternatives as they were run.
    comparison: Comparison,
    /// The same by the shops' own rules, where plans were followed.
    by_rules: Option<Comparison>,
    /// The same with something taken otherwise.
    assumptions: Vec<Assumption>,
    /// What is told beside it.
    setting: &'a Compared,
}

impl Compared {
    /// The comparison of these readings, alternative by alternative; where plans are followed, those by rules stand behind.
    pub(super) fn told(&self, mut readings: Vec<Vec<Reading>>) -> Told<'_> {
        let rest = readings.split_off(self.names.len().min(readings.len()));
        Told {
            comparison: self.comparison(readings),
            by_rules: self.following.planned().then(|| self.comparison(rest)),
            assumptions: Vec::new(),
            setting: self,
        }
    }

    fn comparison(&self, readings: Vec<Vec<Reading>>) -> Comparison {
        let named = self.names.iter().zip(&self.outlays).zip(readings);
        let alternatives = named.map(|((name, outlay), readings)| Alternative {
            name: name.clone(),
            outlay: outlay.map(f64::from_bits),
            readings,
        });
        Comparison::of(alternatives.collect()).with_each(Replication::of_days(self.days))
    }
}

/// Compares them.
///
/// # Errors
/// When a scenario is wrong, when they have different orders, when the work cannot be done.
pub(super) fn compare(typed: &Compare, saying: Saying) -> Result<Exit, Failure> {
    let names = names(&typed.files);
    let loaded: Vec<Loaded> = load_all(&typed.files, &typed.set, saying)?;
    let scenarios: Vec<&Scenario> = loaded.iter().map(|l| &l.scenario).collect();
    if !typed.different_orders {
        same_orders(&scenarios, &names)?;
    }
    let telling = Telling {
        json: typed.json,
        out: typed.out.clone(),
        force: typed.force,
        saying,
    };
    telling.would_take(&["compare.json", "report.html"], &["compare", "lost"])?;
    let shops: Vec<&Shop> = scenarios.iter().map(|s| &s.shop).collect();
    let drafts: Vec<&Draft> = loaded.iter().map(|l| &l.draft).collect();
    let assumed = assume::shops(&drafts, typed)?;
    let under: Vec<&Shop> = assumed.iter().flatten().flatten().collect();
    let all = [shops.as_slice(), under.as_slice()].concat();
    let neighbours = neighbours(shops.len(), under.len());
    let planned = Shops {
        all: &all,
        neighbours: &neighbours,
    };
    let mut plans = Plans::of(planned, 0, &typed.sampling, saying)?;
    let plans_under = plans.split_off(shops.len());
    let sampled = typed.sampling.run(&plans.days(&shops), saying)?;
    let compared = Compared {
        names,
        outlays: scenarios.iter().map(|s| s.outlay.map(f64::to_bits)).collect(),
        seed: typed.sampling.seed,
        days: shops.first().map_or(1, |s| s.calendar.days.len()),
        currency: shops
            .first()
            .map_or_else(String::new, |s| s.prices.currency.clone()),
        reached: sampled.reached,
        texts: loaded.iter().map(|l| l.text.clone()).collect(),
        following: plans.following(&shops, &typed.sampling),
    };
    if let Some(share) = typed.sampling.part {
        let texts = loaded.iter().map(|l| l.text.as_str());
        let study = typed.sampling.fingerprint("compare", texts);
        let setup = Setup::Compare(compared);
        let part = Shard::new(share, study, typed.sampling.fixed(), setup, &sampled.readings);
        join::print(&part)?;
        return Ok(Exit::Done);
    }
    let mut told = compared.told(sampled.readings);
    let days = plans_under.days_followed(&under);
    told.assumptions = assume::compared(&assumed, &days, &told.comparison, typed, saying)?;
    tell(&telling, &told)?;
    Ok(Exit::Done)
}

/// Whose plans are tried where: those of all alternatives in all others, under each assumption by itself; those of the
/// alternatives as they are also in the same under each assumption.
fn neighbours(alternatives: usize, under: usize) -> Vec<Vec<usize>> {
    let mut all = all_others(alternatives);
    all.extend((0..under).map(|at| {
        let (group, own) = (at / alternatives, at % alternatives);
        let first = alternatives * (group + 1);
        let others = (first..first + alternatives).filter(|i| *i != first + own);
        others.chain([own]).collect()
    }));
    all
}

/// Tells it: prints it, and writes its files where some are asked for.
///
/// # Errors
/// When it cannot be written.
pub(super) fn tell(telling: &Telling, told: &Told<'_>) -> Result<(), Failure> {
    telling.write(|| {
        let text = |name: &str, text: String| (name.to_owned(), text.into_bytes());
        let mut set = vec![
            text("compare.json", data::text(told)),
            text("report.html", page(told)),
        ];
        set.extend(charts(&told.comparison)?);
        Ok(set)
    })?;
    if telling.json {
        return terminal::print(&data::text(told));
    }
    let paper = Terminal::standard_output();
    let lines = match telling.saying {
        Saying::Little => print::answer(told, paper.columns),
        _ => print::lines(told, paper.columns),
    };
    terminal::print_lines(&lines, paper.paper)
}

/// The report.
fn page(told: &Told<'_>) -> String {
    let compared = told.setting;
    let scenarios = compared.names.iter().cloned().zip(compared.texts.iter().cloned());
    report::compare(&report::Compare {
        comparison: &told.comparison,
        by_rules: told.by_rules.as_ref(),
        following: &compared.following,
        assumptions: &told.assumptions,
        scenarios: &scenarios.collect::<Vec<_>>(),
        currency: &compared.currency,
        seed: compared.seed,
        reached: compared.reached.as_deref(),
    })
}

/// The pictures as files.
fn charts(comparison: &Comparison) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let bars = comparison
        .alternatives
        .iter()
        .map(|a| chart::Bar::of(&a.name, |m| a.mean(m)));
    let bars: Vec<chart::Bar> = bars.collect();
    let mut set = pictures::files("compare", &chart::compare(comparison, chart::Width::Page))?;
    set.extend(pictures::files("lost", &chart::lost(&bars, chart::Width::Page))?);
    Ok(set)
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
fn same_orders(scenarios: &[&Scenario], names: &[String]) -> Result<(), Failure> {
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
