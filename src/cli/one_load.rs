//! `tankday load`: what happens if this goes in now.

use super::args::Load as Typed;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder};
use super::load::{draft, rendered, understood};
use super::settings::Saying;
use super::terminal::{self, Terminal};
use data::object;
use tankday_base::print::{Line, Style, wrap};
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Temperature;
use tankday_line::{Asked, one_load};
use tankday_output::narrative::{Block, LoadTold, load_told, some_looks};
use tankday_output::report;
use tankday_record::one_load::OneLoad;
use tankday_scenario::{nearest, pieces_in};

mod data;

/// The page, and the figures as data.
const PAGE: &str = "load.html";
const DATA: &str = "load.json";

/// Reads `88 °C`.
///
/// # Errors
/// When it is no temperature of a bath.
pub(super) fn temperature(text: &str) -> Result<Temperature, String> {
    let at = Temperature::read(text).map_err(|e| format!("{}; {}", e.message, e.help))?;
    if (0.0..=110.0).contains(&at.in_celsius()) {
        Ok(at)
    } else {
        Err("a bath is between 0 °C and 110 °C".to_owned())
    }
}

/// Says what one load would do.
///
/// # Errors
/// When the scenario, the load or the readings are wrong, when standard output or a file cannot be written.
pub(super) fn one(typed: &Typed, saying: Saying) -> Result<Exit, Failure> {
    let mut draft = draft(&typed.file, &typed.set)?;
    let first = understood(&draft, Saying::Little)?;
    let pieces = pieces_in("--load", &typed.load, &first.shop).map_err(|f| Failure::input(rendered(&f)))?;
    let tank = tank(&first.shop, typed.tank.as_deref(), &pieces)?;
    if let Some(readings) = &typed.bath {
        let bath = bath_name(&first.shop, tank).to_owned();
        draft
            .set_readings("--bath", &bath, readings)
            .map_err(|f| Failure::input(rendered(&f)))?;
    }
    let scenario = understood(&draft, saying)?;
    let shop = &scenario.shop;
    let hold = shop.tank(tank).map(|t| shop.baths[t.bath.index()].band.hold);
    let asked = Asked {
        tank,
        pieces,
        at: typed.at.or(hold).unwrap_or_default(),
    };
    let load = one_load(shop, &asked)
        .ok_or_else(|| Failure::input("this scenario has no route on which a load could go into a bath"))?;
    let told = load_told(shop, &load);
    if let Some(dir) = &typed.out {
        let page = report::one_load(&report::OneLoadPage {
            shop,
            load: &load,
            told: &told,
        });
        let data = format!("{:#}\n", object(shop, &load, &told));
        let set = [
            (PAGE.to_owned(), page.into_bytes()),
            (DATA.to_owned(), data.into_bytes()),
        ];
        Folder::new(dir, typed.force, saying).write(&set, Earlier::Goes)?;
    }
    if typed.json {
        terminal::print(&format!("{:#}\n", object(shop, &load, &told)))?;
    } else {
        tell(&load, &told, saying)?;
    }
    Ok(if told.may { Exit::Done } else { Exit::CannotBeDone })
}

fn bath_name(shop: &Shop, tank: StationId) -> &str {
    let bath = shop.tank(tank).and_then(|t| shop.baths.get(t.bath.index()));
    bath.map_or("", |b| b.name.as_str())
}

/// The tank that was named; where none was, the first that all pieces go into, or else the first.
fn tank(
    shop: &Shop,
    named: Option<&str>,
    pieces: &[(tankday_base::shop::PartId, u32)],
) -> Result<StationId, Failure> {
    let names = || shop.tanks().map(|(_, s, _)| s.name.as_str());
    if let Some(name) = named {
        let found = shop.tanks().find(|(_, s, _)| s.name == name);
        return found.map(|(id, _, _)| id).ok_or_else(|| {
            let near = nearest(name, names()).map_or(String::new(), |n| format!(" Did you mean `{n}`?"));
            let all: Vec<String> = names().map(|n| format!("`{n}`")).collect();
            Failure::input(format!(
                "--tank: no tank is called `{name}`.{near} There is {}.",
                tankday_base::print::list(&all)
            ))
        });
    }
    let takes = |id: StationId| {
        let part = |p: &tankday_base::shop::PartId| shop.parts.get(p.index());
        let tank = shop.tank(id);
        pieces.iter().all(|(p, _)| {
            part(p).zip(tank).is_some_and(|(part, tank)| {
                let meant = part.goes.tanks.is_empty() || part.goes.tanks.contains(&id);
                meant && part.goes.lies(tank).is_some()
            })
        })
    };
    let tanks: Vec<StationId> = shop.tanks().map(|(id, _, _)| id).collect();
    let first = tanks
        .iter()
        .copied()
        .find(|id| takes(*id))
        .or_else(|| tanks.first().copied());
    first.ok_or_else(|| Failure::input("this scenario has no tank"))
}

/// Columns of the name of a figure.
const NAME: usize = 14;

fn tell(load: &OneLoad, told: &LoadTold, saying: Saying) -> Result<(), Failure> {
    let screen = Terminal::standard_output();
    let mut lines = wrapped(&told.place, &told.load, screen.columns);
    if saying == Saying::Little {
        lines.clear();
    }
    for (i, sentence) in told.answer.iter().enumerate() {
        let style = match (told.may, i) {
            (false, _) => Style::Late,
            (true, 0) => Style::Bold,
            (true, _) => Style::Plain,
        };
        lines.extend(
            wrap(sentence, screen.columns)
                .into_iter()
                .map(|w| Line::of(style, w)),
        );
    }
    if saying > Saying::Little {
        for warning in &told.watch {
            let words = wrap(warning, screen.columns - 4);
            let signs = std::iter::once("  ! ").chain(std::iter::repeat("    "));
            lines.extend(
                signs
                    .zip(words)
                    .map(|(sign, w)| Line::of(Style::Watch, sign).and(Style::Plain, w)),
            );
        }
        for (i, block) in told.blocks.iter().enumerate() {
            lines.extend(section(block, screen.columns));
            if i == 1 {
                lines.extend(curve(load));
            }
        }
    }
    terminal::print_lines(&lines, screen.paper)
}

fn wrapped(place: &str, load: &str, columns: usize) -> Vec<Line> {
    let words = wrap(&format!("{place}: {load}"), columns);
    let head = words.into_iter().map(|w| Line::of(Style::Bold, w));
    head.chain([Line::of(Style::Dim, "-".repeat(columns))]).collect()
}

fn section(block: &Block, columns: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Style::Bold, block.heading.to_uppercase())];
    for (name, words) in &block.rows {
        let own = name.chars().count();
        let (head, indent) = if own > NAME {
            let wide = wrap(&format!("{name}: {words}"), columns - 4);
            let first = std::iter::once("  ").chain(std::iter::repeat("    "));
            lines.extend(
                first
                    .zip(wide)
                    .map(|(blank, w)| Line::plain(format!("{blank}{w}"))),
            );
            continue;
        } else {
            (format!("  {name}"), NAME + 4)
        };
        let mut words = wrap(words, columns - indent).into_iter();
        let first = words.next().unwrap_or_default();
        lines.push(Line::plain(head).to_column(indent).and(Style::Plain, first));
        lines.extend(words.map(|w| Line::plain(" ".repeat(indent) + &w)));
    }
    lines
}

/// Coat and gas against time, in a few columns.
fn curve(load: &OneLoad) -> Vec<Line> {
    let looks = some_looks(&load.now, 8);
    if looks.len() < 2 {
        return Vec::new();
    }
    let row = |name: &str, value: &dyn Fn(&tankday_record::one_load::Look) -> String| {
        let cells: String = looks.iter().map(|l| format!("{:>7}", value(l))).collect();
        Line::plain(format!("  {name}"))
            .to_column(NAME + 4)
            .and(Style::Plain, cells)
    };
    let whole = |x: f64| format!("{x:.0}");
    let minutes = |x: f64| match (x - x.round()).abs() < 0.05 {
        true => format!("{x:.0}"),
        false => format!("{x:.1}"),
    };
    vec![
        row("min", &|l| minutes(l.after.in_minutes())),
        row("bath, °C", &|l| format!("{:.1}", l.temperature.in_celsius())),
        row("coat, %", &|l| whole(l.coat.in_percent())),
        row("fizzing, %", &|l| whole(l.gas.in_percent())),
    ]
}
