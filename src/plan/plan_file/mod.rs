//! A plan as a file: written to be read aloud and changed by hand, and understood again with everything that is
//! wrong with it at its place.
//!
//! `say.rs` writes it; `loads.rs`, `tasks.rs`, `cares.rs` and `times.rs` find out what its names mean and which limits it breaks; `delays.rs`
//! runs it once and tells what comes otherwise than written; `repair.rs` and `order.rs` mend what can be mended. `noted.rs`, `passed.rs`, `contradict.rs`, `readings.rs`, `cared.rs` and
//! `fizz.rs` understand the notes of a day that is under way, `echo.rs` says them again.
//!
//! # How it goes
//!
//! `plan_file` makes a plan a file and a file a plan. The YAML is read by `scenario::PlanFile`, every value with its
//! place; what its names mean is found out in `plan_file`, which knows the shop. `plan` reads back what it has
//! written and tells of that, so that the file and the summary cannot differ. Times in a file are whole seconds.
//! Orders may be divided by a plan otherwise than the rule would (`line::Plan::divided`). Orders are planned as they
//! come and by name, whatever their place in the file (`canonical.rs`).
//!
//! # Known and left
//!
//! - A day that a plan of the shop's own rules gives is not written as loads and tasks.

mod cared;
mod cares;
mod contradict;
mod delays;
mod echo;
mod fizz;
mod heats;
mod loads;
mod noted;
mod order;
mod passed;
mod readings;
mod repair;
mod said;
mod say;
mod tasks;
mod times;
mod watered;

pub use delays::delays;
pub use noted::{Rest, rest_of_day};
pub use repair::repair;
pub use say::write;

use std::collections::BTreeMap;
use tankday_base::shop::{Arrival, Keeping, Shop};
use tankday_line::{Line, Plan};
use tankday_scenario::{Code, Finding, Findings, PlanFile, SourceSpan};

/// What tells a plan's ground from any other: its orders, routes and stations, not how long anything takes.
#[must_use]
pub fn rests_on(shop: &Shop) -> String {
    let mut texts: Vec<String> = vec![shop.calendar.first.to_string()];
    for order in &shop.orders {
        let part = shop.parts.get(order.part.index()).map_or("", |p| p.name.as_str());
        let route = shop
            .routes
            .get(order.route.index())
            .map_or("", |r| r.name.as_str());
        texts.push(format!("{}|{part}|{}|{route}", order.id, order.count));
    }
    for route in &shop.routes {
        texts.push(route.name.clone());
        texts.extend(route.steps.iter().map(|s| s.name.clone()));
    }
    texts.extend(shop.stations.iter().map(|s| s.name.clone()));
    tankday_base::fingerprint::of(texts.iter().map(String::as_str))
}

/// A plan from a file, ready to be followed.
#[derive(Debug)]
pub struct Meant {
    /// What the line follows.
    pub plan: Plan,
    /// Where each of its tasks stands in the file.
    pub(crate) places: Vec<Option<SourceSpan>>,
    /// Where each of its lots stands in the file.
    pub(crate) lots: Vec<SourceSpan>,
    /// Where each care of its stands in the file.
    pub(crate) care: Vec<SourceSpan>,
}

/// Finds out what a plan means in a shop.
///
/// # Errors
/// Everything that cannot be: names that nothing bears, pieces that do not add up, loads that no tank takes, tasks
/// that cannot follow each other so, times that cannot be.
pub fn understand(shop: &Shop, line: &Line<'_>, file: &PlanFile) -> Result<Meant, Findings> {
    let (meant, found) = read(shop, line, file);
    if found.is_empty() {
        return Ok(meant);
    }
    Err(Findings::new(file.sources.clone(), found))
}

fn read(shop: &Shop, line: &Line<'_>, file: &PlanFile) -> (Meant, Vec<Finding>) {
    let names = Names::of(shop);
    let mut found = Vec::new();
    if let Some(finding) = another_scenario(shop, file) {
        // Everything else would be a consequence.
        found.push(finding);
    }
    let only_that = !found.is_empty();
    let mut reader = Reader {
        shop,
        line,
        file,
        names,
        found,
    };
    let meant = match file.keeping {
        Keeping::OwnRules => nothing_planned(line, file),
        Keeping::Strictly | Keeping::Loosely => {
            let grouped = reader.loads();
            reader.tasks(grouped)
        }
    };
    let mut found = reader.found;
    if only_that {
        found.truncate(1);
    }
    (meant, found)
}

/// The day by the shop's own rules.
fn nothing_planned(line: &Line<'_>, file: &PlanFile) -> Meant {
    let mut plan = Plan::of(line);
    plan.keeping = Keeping::OwnRules;
    Meant {
        places: vec![None; plan.rank.len()],
        lots: vec![file.loads_at; plan.lots.len()],
        care: Vec::new(),
        plan,
    }
}

fn another_scenario(shop: &Shop, file: &PlanFile) -> Option<Finding> {
    let written = file.rests_on.as_ref().filter(|w| w.value != rests_on(shop))?;
    let made_for = file
        .title
        .as_ref()
        .map_or("another scenario".to_owned(), |t| format!("`{}`", t.value));
    let message = if file.title.as_ref().is_some_and(|t| t.value == shop.title) {
        "this plan was made before the orders, routes or stations of the scenario were changed".to_owned()
    } else {
        format!("this plan was made for {made_for}, not for `{}`", shop.title)
    };
    Some(
        Finding::new(Code::Contradiction, written.at, message)
            .label("other orders, routes or stations")
            .help("plan this scenario anew, or remove this line to see what of the plan still holds"),
    )
}

/// Names of a shop.
struct Names<'a> {
    orders: BTreeMap<&'a str, u32>,
    stations: BTreeMap<&'a str, u32>,
}

impl<'a> Names<'a> {
    fn of(shop: &'a Shop) -> Self {
        let orders = shop.orders.iter().zip(0..);
        let stated = orders.filter(|(o, _)| matches!(o.arrival, Arrival::At(_)));
        Self {
            orders: stated.map(|(o, i)| (o.id.as_str(), i)).collect(),
            stations: shop
                .stations
                .iter()
                .zip(0..)
                .map(|(s, i)| (s.name.as_str(), i))
                .collect(),
        }
    }
}

/// Understands a file, and collects what is wrong with it.
struct Reader<'a> {
    shop: &'a Shop,
    line: &'a Line<'a>,
    file: &'a PlanFile,
    names: Names<'a>,
    found: Vec<Finding>,
}

impl Reader<'_> {
    fn add(&mut self, finding: Finding) {
        self.found.push(finding);
    }

    fn order_name(&self, order: u32) -> &str {
        self.shop.orders.get(order as usize).map_or("", |o| o.id.as_str())
    }

    fn station_name(&self, station: u32) -> &str {
        self.shop
            .stations
            .get(station as usize)
            .map_or("", |s| s.name.as_str())
    }

    fn route_name(&self, route: u32) -> &str {
        self.shop
            .routes
            .get(route as usize)
            .map_or("", |r| r.name.as_str())
    }
}

/// A name that nothing bears.
fn unknown(at: SourceSpan, what: &str, name: &str, known: &[&str]) -> Finding {
    let near = tankday_scenario::nearest(name, known.iter().copied());
    let finding = Finding::new(Code::UnknownName, at, format!("there is no {what} `{name}`"));
    let finding = match near {
        Some(near) => finding.label(format!("did you mean `{near}`?")),
        None => finding.label("not known here"),
    };
    let some = tankday_scenario::listed(known.iter().take(12).copied());
    finding.help(format!("there is {some}"))
}
