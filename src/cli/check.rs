//! `tankday check`: every mistake of every file, and nothing simulated.

use super::args::Check;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder};
use super::load::{Loaded, load};
use super::settings::Saying;
use super::{pictures, terminal};
use tankday_base::print::{capital, count_word, number};
use tankday_base::route::{ProcessGraph, summary};
use tankday_base::shop::{
    Coats, Material, OTHER_NAMES, Part, RouteId, Shop, built_in_materials, hard_materials, material_source,
};
use tankday_base::units::{Area, POINT, Share};
use tankday_chart::Width;
use tankday_scenario::{constant, defaults, fixed, kinds};

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
        match load(file, &typed.set, saying) {
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
        return draw(typed, shop, route, saying);
    }
    if saying > Saying::Little {
        terminal::print(&format!(
            "{name}: {}\n{}{}{}",
            contents(shop),
            super::check_days::lines(shop),
            super::check_tanks::lines(shop),
            shapes(shop)
        ))?;
    }
    Ok(())
}

/// `1 day`, `3 days`.
pub(super) fn counted(count: usize, one: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        n => format!("{n} {one}s"),
    }
}

/// What a scenario holds, in one line.
fn contents(shop: &Shop) -> String {
    let tanks = shop.tanks().count();
    format!(
        "{}; {}, {}, {}, {}, {}: no mistakes found",
        shop.title,
        counted(shop.calendar.days.len(), "day"),
        counted(tanks, "tank"),
        counted(shop.stations.len() - tanks, "station"),
        counted(shop.routes.len(), "route"),
        counted(shop.orders.len(), "order"),
    )
}

/// What shapes give, and how sure that is: a line for each part that has one.
fn shapes(shop: &Shop) -> String {
    let one = |part: &Part| {
        let shape = part.shape?;
        let cm2 = |area: Area| number(area.in_square_decimetres() * 100.0, 1);
        let (least, most) = shape.area_between;
        let area = if part.area == shape.area {
            "by its shape"
        } else {
            "as measured; by its shape"
        };
        let mass = if part.mass == shape.mass && shape.mass_within > Share::ZERO {
            format!("within {} %", number(shape.mass_within.in_fraction() * 100.0, 0))
        } else {
            "as measured".to_owned()
        };
        Some(format!(
            "  {}: {} cm², {area} {} to {} cm²; {} g, {mass}\n",
            part.name,
            cm2(part.area),
            cm2(least),
            cm2(most),
            number(part.mass.in_grams(), 2),
        ))
    };
    shop.parts.iter().filter_map(one).collect()
}

fn print_defaults() -> Result<(), Failure> {
    let (mut text, mut explained) = (String::new(), false);
    for default in defaults() {
        text.push_str(&format!(
            "{}: {}\n    {}\n",
            default.key, default.value, default.source
        ));
        if !explained && default.value.contains(" point") {
            text.push_str(&format!("    {POINT}\n"));
            explained = true;
        }
        if let Some(constant) = default.key.strip_prefix("baths.chemistry.").and_then(constant) {
            let unit = if constant.unit.is_empty() { "" } else { " " };
            text.push_str(&format!(
                "    believable from {} to {}{unit}{}; your own: {}\n",
                constant.least, constant.most, constant.unit, constant.measure
            ));
        }
    }
    text.push_str("\nMaterials that need not be written; `materials:` takes your own\n");
    for material in built_in_materials() {
        text.push_str(&material_lines(&material));
    }
    text.push_str("    Hardened steel under other names: ");
    let hard: Vec<String> = hard_materials().into_iter().map(|m| m.name).collect();
    text.push_str(&format!("{}\n", hard.join(", ")));
    for (name, others) in OTHER_NAMES {
        text.push_str(&format!(
            "    {} under other names: {}\n",
            capital(name),
            others.join(", ")
        ));
    }
    text.push_str(
        "\nKinds of steps, each with the words of `do` that say it; `kind` says it for other words\n",
    );
    for (kind, phrases) in kinds() {
        text.push_str(&format!("{}: {}\n", kind.word(), phrases.join(", ")));
    }
    text.push_str("\nWhat no key changes\n");
    for one in fixed() {
        text.push_str(&format!(
            "{}: {}\n    {}\n    range: {}; your own: {}\n",
            one.what, one.value, one.source, one.range, one.measure
        ));
    }
    terminal::print(&text)
}

/// A built-in material, with where it comes from.
fn material_lines(material: &Material) -> String {
    let does = match &material.coats {
        Coats::Yes => format!(
            "its coating takes {} times as long and gets {} times as heavy as on blasted plain steel; none grows up to {} °C",
            material.slower,
            material.heavier,
            number(material.from.limit().in_celsius(), 0)
        ),
        Coats::AfterTrial(why) => format!(
            "a trial piece first: {why}; its coating is taken for {} times as long and {} times as heavy as on blasted plain steel",
            material.slower, material.heavier
        ),
        Coats::No(why) => format!("stays out of the bath: {why}"),
    };
    format!(
        "{}: {does}; {} J/kgK, {} kg/m3\n    {}\n    your own: weigh coupons of it bare, coated and stripped\n",
        material.name,
        number(material.heat_capacity.in_joules_per_kilogram_kelvin(), 0),
        number(material.density.in_kilograms_per_cubic_metre(), 0),
        material_source(&material.name).unwrap_or("no source")
    )
}

fn draw(typed: &Check, shop: &Shop, name: &str, saying: Saying) -> Result<(), Failure> {
    let Some(at) = shop.routes.iter().position(|r| r.name == name) else {
        let names: Vec<String> = shop.routes.iter().map(|r| format!("`{}`", r.name)).collect();
        return Err(Failure::input(format!(
            "there is no route `{name}`; there is {}",
            tankday_base::print::list(&names)
        )));
    };
    let (id, route) = (RouteId(at as u32), &shop.routes[at]);
    let dot = ProcessGraph::of(route).dot(shop, route);
    if saying > Saying::Little {
        terminal::tell(&format!("{name}: {}", summary(shop, id)));
    }
    let Some(dir) = &typed.out else {
        return terminal::print(&dot);
    };
    let picture = tankday_chart::route(shop, id, None, Width::Page);
    let name = file_name(name);
    let mut files = pictures::files(&name, &picture)?;
    files.push((format!("{name}.dot"), dot.into_bytes()));
    // Drawings of other routes are as true as before.
    Folder::new(dir, typed.force, saying).write_and_say(&files, Earlier::Stays)
}

/// A name that every file system takes.
pub(super) fn file_name(name: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    format!("route-{}", name.chars().take(60).map(plain).collect::<String>())
}
