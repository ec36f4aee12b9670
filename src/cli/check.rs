//! `tankday check`: every mistake of every file, and nothing simulated.

use super::args::Check;
use super::exit::{Exit, Failure};
use super::load::{Loaded, load};
use super::settings::Saying;
use super::{files, terminal};
use crate::print::count_word;
use crate::route::ProcessGraph;
use crate::scenario::defaults;
use crate::shop::Shop;

/// Checks them.
///
/// # Errors
/// When a file is wrong, after all were read; when there is no such route; when the drawing cannot be written.
pub(super) fn check(typed: &Check, saying: Saying) -> Result<Exit, Failure> {
    if typed.defaults {
        print_defaults()?;
    }
    let mut wrong = 0;
    for file in &typed.files {
        match load(file, saying) {
            Ok(loaded) => one(typed, &loaded, &file.display().to_string(), saying)?,
            Err(failure) => {
                terminal::tell(&failure.to_string());
                wrong += 1;
            }
        }
    }
    match (wrong, typed.files.len()) {
        (0, _) => Ok(Exit::Done),
        (_, 1) => Ok(Exit::WrongInput),
        (wrong, all) => {
            terminal::tell(&format!(
                "{} of {} files cannot be used",
                count_word(wrong),
                count_word(all)
            ));
            Ok(Exit::WrongInput)
        }
    }
}

fn one(typed: &Check, loaded: &Loaded, name: &str, saying: Saying) -> Result<(), Failure> {
    let shop = &loaded.scenario.shop;
    if let Some(route) = &typed.route {
        return draw(typed, shop, route);
    }
    if saying > Saying::Little {
        terminal::print(&format!("{name}: {}\n", contents(shop)))?;
    }
    Ok(())
}

/// What a scenario holds, in one line.
fn contents(shop: &Shop) -> String {
    let counted = |count: usize, one: &str| match count {
        1 => format!("1 {one}"),
        n => format!("{n} {one}s"),
    };
    let tanks = shop.tanks().count();
    format!(
        "{}; {}, {}, {}, {}, {}: nothing is wrong",
        shop.title,
        counted(shop.calendar.days.len(), "day"),
        counted(tanks, "tank"),
        counted(shop.stations.len() - tanks, "station"),
        counted(shop.routes.len(), "route"),
        counted(shop.orders.len(), "order"),
    )
}

fn print_defaults() -> Result<(), Failure> {
    let mut text = String::new();
    for default in defaults() {
        text.push_str(&format!(
            "{}: {}\n    {}\n",
            default.key, default.value, default.source
        ));
    }
    terminal::print(&text)
}

fn draw(typed: &Check, shop: &Shop, name: &str) -> Result<(), Failure> {
    let Some(route) = shop.routes.iter().find(|r| r.name == name) else {
        let names: Vec<String> = shop.routes.iter().map(|r| format!("`{}`", r.name)).collect();
        return Err(Failure::input(format!(
            "there is no route `{name}`; there is {}",
            crate::print::list(&names)
        )));
    };
    let dot = ProcessGraph::of(route).dot(shop, route);
    match &typed.out {
        Some(dir) => files::write_set(dir, &[(format!("{}.dot", file_name(name)), dot.into_bytes())]),
        None => terminal::print(&dot),
    }
}

/// A name that every file system takes.
fn file_name(name: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    format!("route-{}", name.chars().take(60).map(plain).collect::<String>())
}
