//! `tankday load`: what happens if this goes in now.

use super::card;
use super::exit::{Exit, Failure};
use super::load::{draft, rendered, understood};
use super::settings::Saying;
use super::terminal::{self, Terminal};
use data::object;
pub(super) use data::{blocks, breaches, readings};
use serde_json::Value;
use tankday_base::print::{Line, Style};
use tankday_base::shop::{Defect, PartId, Shop, StationId};
use tankday_base::units::Temperature;
use tankday_line::{Asked, one_load, set_right};
use tankday_output::narrative::{
    Block, CameOut, Card, IN_THE_BATH, load_told, seen, set_right_told, some_looks,
};
use tankday_output::report;
use tankday_record::one_load::OneLoad;
use tankday_scenario::{Scenario, nearest, pieces_in};

mod data;
mod typed;

pub(super) use typed::Typed;

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

/// What is seen on a load that came out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Seen(Vec<Defect>);

impl Seen {
    /// Reads `grey, blotchy`.
    ///
    /// # Errors
    /// A word for nothing that is known to go wrong.
    pub(super) fn read(text: &str) -> Result<Self, String> {
        seen(text).map(Self)
    }
}

/// What was asked for, as it is told: what is said, what is drawn, what stands in the data.
struct Answer {
    told: Card,
    load: Option<OneLoad>,
    data: Value,
}

/// Says what one load would do, or how the bath is set right.
///
/// # Errors
/// When the scenario, the load or the readings are wrong, when standard output or a file cannot be written.
pub(super) fn one(typed: &Typed, saying: Saying) -> Result<Exit, Failure> {
    let mut draft = draft(&typed.file, &typed.set)?;
    let first = understood(&draft, Saying::Little)?.shop;
    let pieces = typed.load.as_ref().map(|text| pieces_in("--load", text, &first));
    let pieces = pieces.transpose().map_err(|f| Failure::input(rendered(&f)))?;
    let tank = tank(
        &first,
        typed.tank.as_deref(),
        pieces.as_deref().unwrap_or_default(),
    )?;
    if let Some(readings) = &typed.bath {
        let bath = bath_name(&first, tank).to_owned();
        let set = draft.set_readings("--bath", &bath, readings);
        set.map_err(|f| Failure::input(rendered(&f)))?;
    }
    let scenario = understood(&draft, saying)?;
    let mut answer = answer(typed, &scenario.shop, tank, pieces)?;
    if let Some(Seen(defects)) = &typed.came_out {
        let told = came_out(&scenario, tank, answer.load.as_ref(), defects);
        answer.data["came_out"] = data::blocks(&told);
        let old = std::mem::take(&mut answer.told.blocks);
        answer.told.blocks = told.into_iter().chain(old).collect();
    }
    let units = report::Units::of(&draft.text());
    given(typed, (&scenario.shop, units), &answer, saying)?;
    Ok(if answer.told.may {
        Exit::Done
    } else {
        Exit::CannotBeDone
    })
}

fn answer(
    typed: &Typed,
    shop: &Shop,
    tank: StationId,
    pieces: Option<Vec<(PartId, u32)>>,
) -> Result<Answer, Failure> {
    let hold = shop.tank(tank).map(|t| shop.baths[t.bath.index()].band.hold);
    let at = typed.at.or(hold).unwrap_or_default();
    let Some(pieces) = pieces else {
        let right = set_right(shop, tank, at).ok_or_else(|| {
            let bath = bath_name(shop, tank);
            Failure::input(format!(
                "`{bath}` is a bath that doesn't wear: there is nothing to add to it"
            ))
        })?;
        let told = set_right_told(shop, tank, &right);
        let data = data::set_right(shop, tank, &right, &told);
        return Ok(Answer {
            told,
            load: None,
            data,
        });
    };
    let load = one_load(shop, &Asked { tank, pieces, at })
        .ok_or_else(|| Failure::input("this scenario has no route on which a load could go into a bath"))?;
    let told = load_told(shop, &load);
    let data = object(shop, &load, &told);
    Ok(Answer {
        told,
        load: Some(load),
        data,
    })
}

/// Causes and ways out, for the bath of a tank and the usual route of what was in it.
fn came_out(scenario: &Scenario, tank: StationId, load: Option<&OneLoad>, seen: &[Defect]) -> Vec<Block> {
    let shop = &scenario.shop;
    let recipe = shop.tank(tank).and_then(|t| shop.baths.get(t.bath.index()));
    let (Some(recipe), Some((base, odds))) = (recipe, &scenario.odds) else {
        return Vec::new();
    };
    let part = load.and_then(|l| l.pieces.first()).map(|p| p.part);
    let order = shop
        .orders
        .iter()
        .find(|o| part.is_none_or(|part| o.part == part));
    let route = order.and_then(|o| shop.routes.get(o.route.index()));
    CameOut {
        shop,
        recipe,
        odds: (*base, odds),
        route,
    }
    .told(seen)
}

/// Prints it, and writes what is to be written.
fn given(
    typed: &Typed,
    (shop, units): (&Shop, report::Units),
    answer: &Answer,
    saying: Saying,
) -> Result<(), Failure> {
    let data = format!("{:#}\n", answer.data);
    typed.given.write(saying, || {
        let page = report::one_load(&report::OneLoadPage {
            shop,
            load: answer.load.as_ref(),
            told: &answer.told,
            units,
        });
        vec![
            (PAGE.to_owned(), page.into_bytes()),
            (DATA.to_owned(), data.clone().into_bytes()),
        ]
    })?;
    if typed.given.json {
        return terminal::print(&data);
    }
    tell(answer, saying)
}

pub(super) fn bath_name(shop: &Shop, tank: StationId) -> &str {
    let bath = shop.tank(tank).and_then(|t| shop.baths.get(t.bath.index()));
    bath.map_or("", |b| b.name.as_str())
}

/// The tank that was named; where none was, the first that all pieces go into, or else the first.
pub(super) fn tank(shop: &Shop, named: Option<&str>, pieces: &[(PartId, u32)]) -> Result<StationId, Failure> {
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
        let part = |p: &PartId| shop.parts.get(p.index());
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

fn tell(answer: &Answer, saying: Saying) -> Result<(), Failure> {
    let screen = Terminal::standard_output();
    let set = card::Setting {
        columns: screen.columns,
        name: NAME,
        saying,
    };
    let lines = card::lines(&answer.told, set, |block| {
        let load = answer.load.as_ref().filter(|_| block.heading == IN_THE_BATH);
        load.map_or_else(Vec::new, curve)
    });
    terminal::print_lines(&lines, screen.paper)
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
