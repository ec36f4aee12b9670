//! `tankday quote`: what an order costs, and its price.

mod data;
mod typed;

pub(super) use typed::Typed;

use super::exit::{Exit, Failure};
use super::load::{draft, rendered, understood};
use super::settings::Saying;
use super::terminal::{self, Terminal};
use super::{card, files, reckon};
use serde_json::Value;
use std::path::Path;
use tankday_base::shop::{Arrival, Shop};
use tankday_base::units::Share;
use tankday_output::narrative::{Asked, Card, quote_list, quote_told};
use tankday_output::report;
use tankday_scenario::Draft;
use tankday_study::quote::{Asking, Quote, Quoted, quote, quotes};

/// The page, the figures as data, and the list as a table.
const PAGE: &str = "quote.html";
const DATA: &str = "quote.json";
const LIST: &str = "quotes.csv";

/// What a quote is, for everybody who tells it.
struct Answer {
    told: Card,
    data: Value,
    found: Found,
}

/// What was found.
enum Found {
    /// One order.
    One(Box<Quote>),
    /// All of the scenario.
    List(Vec<Quoted>),
}

impl Found {
    /// What the page shows of it.
    fn page(&self) -> report::Quotes<'_> {
        match self {
            Self::One(quote) => report::Quotes::One(quote),
            Self::List(quotes) => report::Quotes::List(quotes),
        }
    }
}

/// Quotes one more order, or all that the scenario has.
///
/// # Errors
/// When scenario, order or amounts are wrong, when standard output or a file cannot be written.
pub(super) fn one(typed: &Typed, saying: Saying) -> Result<Exit, Failure> {
    let mut draft = draft(&typed.file, &typed.set)?;
    if let Some(order) = &typed.order {
        add(&mut draft, order)?;
    }
    let shop = understood(&draft, saying)?.shop;
    let asking = asking(typed, &shop)?;
    let answer = match &typed.order {
        Some(_) => of_one(&shop, asking)?,
        None => of_all(&shop, asking)?,
    };
    let asked = Asked { shop: &shop, asking };
    given(typed, asked, report::Units::of(&draft.text()), &answer, saying)?;
    Ok(if answer.told.may {
        Exit::Done
    } else {
        Exit::CannotBeDone
    })
}

/// Adds the order that was typed, or that a file holds.
fn add(draft: &mut Draft, order: &str) -> Result<(), Failure> {
    let path = Path::new(order);
    let (named, text) = if path.is_file() {
        (order.to_owned(), files::read_text(path)?)
    } else {
        ("--order".to_owned(), order.to_owned())
    };
    draft
        .add_order(&named, &text)
        .map_err(|found| Failure::input(rendered(&found)))
}

/// What was typed, else the shop's own rates.
fn asking(typed: &Typed, shop: &Shop) -> Result<Asking, Failure> {
    let rates = &shop.prices.rates;
    let minimum = match &typed.minimum {
        Some(amount) => Some(amount.within(shop).map_err(Failure::input)?),
        None => rates.minimum,
    };
    Ok(Asking {
        margin: typed.margin.or(rates.margin).unwrap_or(Share::ZERO),
        minimum: minimum.unwrap_or(0.0),
    })
}

fn too_long() -> Failure {
    Failure::input("the days are too long to be quoted by: take a shorter scenario")
}

fn of_one(shop: &Shop, asking: Asking) -> Result<Answer, Failure> {
    let once = |o: &tankday_base::shop::Order| matches!(o.arrival, Arrival::At(_));
    if !shop.orders.last().is_some_and(once) {
        return Err(Failure::input(
            "the new order comes again and again: a price can be given only for one that comes once",
        ));
    }
    let quote = quote(shop, &reckon::day).ok_or_else(too_long)?;
    let asked = Asked { shop, asking };
    let told = quote_told(asked, &quote);
    Ok(Answer {
        data: data::object(asked, &quote, &told),
        told,
        found: Found::One(Box::new(quote)),
    })
}

fn of_all(shop: &Shop, asking: Asking) -> Result<Answer, Failure> {
    let quotes = quotes(shop, &reckon::day).ok_or_else(too_long)?;
    if quotes.is_empty() {
        return Err(Failure::input(
            "no order is stated one by one: write `--order \"60 x wood screw\"`",
        ));
    }
    let asked = Asked { shop, asking };
    let told = quote_list(asked, &quotes);
    Ok(Answer {
        data: data::list(asked, &quotes, &told),
        told,
        found: Found::List(quotes),
    })
}

/// Prints it, and writes what is to be written.
fn given(
    typed: &Typed,
    asked: Asked<'_>,
    units: report::Units,
    answer: &Answer,
    saying: Saying,
) -> Result<(), Failure> {
    let data = format!("{:#}\n", answer.data);
    typed.given.write(saying, || {
        let page = report::quote(&report::QuotePage {
            asked,
            told: &answer.told,
            quotes: answer.found.page(),
            units,
        });
        let mut set = vec![
            (PAGE.to_owned(), page.into_bytes()),
            (DATA.to_owned(), data.clone().into_bytes()),
        ];
        if let Found::List(list) = &answer.found {
            set.push((LIST.to_owned(), report::quote_csv(asked, list).into_bytes()));
        }
        set
    })?;
    if typed.given.json {
        return terminal::print(&data);
    }
    let screen = Terminal::standard_output();
    let set = card::Setting {
        columns: screen.columns,
        name: NAME,
        saying,
    };
    terminal::print_lines(&card::lines(&answer.told, set, |_| Vec::new()), screen.paper)
}

/// Columns of the name of a line.
const NAME: usize = 23;
