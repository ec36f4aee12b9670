//! What is said of a quote: the price, the lines that it is made of, alone and at a full load, extras, what moves it most.

mod extras;
mod lines;

pub use extras::gains;
pub use lines::{line_said, line_share};

use super::{Block, Card};
use extras::lost;
use lines::{line_told, money};
use tankday_base::print::{list, number, pieces_of};
use tankday_base::shop::{Order, Shop};
use tankday_record::Priced;
use tankday_study::quote::{Asking, Lever, LeverKind, Quote, Quoted};

/// A quote is told of a shop, with what is asked for it.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The shop with the order.
    pub shop: &'a Shop,
    /// Margin and minimum.
    pub asking: Asking,
}

/// One quote.
#[must_use]
pub fn quote_told(asked: Asked<'_>, quote: &Quote) -> Card {
    let told = Telling { asked, quote };
    let (may, answer) = told.answer();
    let blocks = [told.costs(), told.cases(), told.extras(), told.levers()];
    Card {
        place: "Quote".to_owned(),
        about: told.order().map_or_else(String::new, |o| asked.order(o)),
        may,
        answer,
        blocks: blocks.into_iter().filter(|b| !b.rows.is_empty()).collect(),
        watch: told.watch(),
    }
}

/// A list of quotes: a row for each order, then what is left out of all of them.
#[must_use]
pub fn quote_list(asked: Asked<'_>, quotes: &[Quoted]) -> Card {
    let row = |q: &Quoted| {
        let order = asked.shop.orders.get(q.order.index())?;
        Some((order.id.clone(), asked.row(order, q)))
    };
    let priced: Vec<&Priced> = quotes.iter().filter_map(|q| q.today.as_ref()).collect();
    let total: f64 = priced.iter().map(|p| asked.asking.price(p.total())).sum();
    let cost: f64 = priced.iter().map(|p| p.total()).sum();
    let unready = quotes.len() - priced.len();
    let mut answer = vec![format!(
        "{} for {}, which cost {}.",
        asked.money(total),
        pieces_of(u32::try_from(priced.len()).unwrap_or(u32::MAX), "order"),
        asked.money(cost)
    )];
    if unready > 0 {
        answer.push(format!(
            "{} won't be finished on these days and {} no price.",
            tankday_base::print::capital(&pieces_of(u32::try_from(unready).unwrap_or(u32::MAX), "order")),
            if unready == 1 { "has" } else { "have" }
        ));
    }
    let streams = asked.shop.orders.len() - quotes.len();
    if streams > 0 {
        answer.push(format!(
            "Without {} that come again and again: quote one of them with --order.",
            pieces_of(u32::try_from(streams).unwrap_or(u32::MAX), "stream of orders")
        ));
    }
    let left_out = missing(priced.iter().flat_map(|p| p.missing()));
    Card {
        place: "Quotes".to_owned(),
        about: asked.shop.title.clone(),
        may: unready == 0,
        answer,
        blocks: vec![Block {
            heading: "Order by order",
            caption: "Price of each order as part of the day's loads, and of a piece alone and at a full load",
            columns: ["order", "price"],
            rows: quotes.iter().filter_map(row).collect(),
        }],
        watch: left_out.into_iter().collect(),
    }
}

impl Asked<'_> {
    /// `12.34 EUR`.
    fn money(&self, value: f64) -> String {
        money(self.shop, value)
    }

    /// What one piece costs: as many decimals as its size asks for.
    fn each(&self, value: f64) -> String {
        let places = if value.abs() < 1.0 { 3 } else { 2 };
        format!("{} {}", number(value, places), self.shop.prices.currency)
    }

    /// `60 wood screws, small steel`.
    fn order(&self, order: &Order) -> String {
        let part = self.shop.parts.get(order.part.index());
        let route = self.shop.routes.get(order.route.index());
        let pieces = pieces_of(order.count, part.map_or("?", |p| p.name.as_str()));
        format!("{pieces}, {}", route.map_or("?", |r| r.name.as_str()))
    }

    fn row(&self, order: &Order, quoted: &Quoted) -> String {
        let each = |p: &Option<Priced>| {
            p.as_ref().map_or_else(
                || "no price".to_owned(),
                |p| self.each(self.asking.price(p.total()) / f64::from(p.pieces.max(1))),
            )
        };
        let Some(today) = &quoted.today else {
            return format!("{}: not finished, no price", self.order(order));
        };
        format!(
            "{}: {}, {} a piece; alone {}, at a full load {} a piece",
            self.order(order),
            self.money(self.asking.price(today.total())),
            each(&quoted.today),
            each(&quoted.alone),
            each(&quoted.full)
        )
    }
}

/// Prices and rates that the scenario leaves out.
fn missing<'a>(keys: impl Iterator<Item = &'a str>) -> Option<String> {
    let mut all: Vec<String> = Vec::new();
    for key in keys {
        if !all.iter().any(|k| k == key) {
            all.push(key.to_owned());
        }
    }
    (!all.is_empty()).then(|| format!("Left out, since the scenario doesn't state it: {}.", list(&all)))
}

/// What is taken otherwise: `hands 10 % dearer`.
#[must_use]
pub fn lever_said(shop: &Shop, kind: LeverKind) -> String {
    match kind {
        LeverKind::TwiceAsMany => "twice as many pieces".to_owned(),
        LeverKind::StepInHalf(step) => {
            let name = shop.find_step(step).map_or("?", |s| s.name.as_str());
            format!("{name} in half the time")
        }
        LeverKind::Hands => "hands 10 % dearer".to_owned(),
        LeverKind::Power => "power 10 % dearer".to_owned(),
        LeverKind::Concentrate => "concentrate 10 % dearer".to_owned(),
    }
}

struct Telling<'a> {
    asked: Asked<'a>,
    quote: &'a Quote,
}

impl Telling<'_> {
    fn order(&self) -> Option<&Order> {
        self.asked.shop.orders.get(self.quote.quoted.order.index())
    }

    fn answer(&self) -> (bool, Vec<String>) {
        let Some(today) = &self.quote.quoted.today else {
            return (
                false,
                vec![
                    "No price: it won't be finished on the stated days, together with the other orders."
                        .to_owned(),
                ],
            );
        };
        let asking = self.asked.asking;
        let (cost, pieces) = (today.total(), today.pieces.max(1));
        let price = asking.price(cost);
        // An order that is lost weighs more than any price.
        let mut said: Vec<String> = lost(&self.quote.later, "With this order").into_iter().collect();
        said.push(format!(
            "{} for {}: {} a piece.",
            self.asked.money(price),
            self.order().map_or_else(String::new, |o| self.asked.order(o)),
            self.asked.each(price / f64::from(pieces))
        ));
        let margin = number(asking.margin.in_percent(), 0);
        said.push(match (asking.at_least(cost), asking.margin.in_fraction() > 0.0) {
            (true, _) => format!(
                "That is the least that an order costs; as part of the day's loads this one costs {}.",
                self.asked.money(cost)
            ),
            (false, true) => format!(
                "As part of the day's loads it costs {}; {margin} % of the price is margin.",
                self.asked.money(cost)
            ),
            (false, false) => {
                "That is what it costs as part of the day's loads, without any margin.".to_owned()
            }
        });
        if let Some(more) = self.quote.more {
            said.push(format!(
                "The day costs {} {} with it than without it.",
                self.asked.money(more.abs()),
                if more < 0.0 { "less" } else { "more" }
            ));
        }
        (true, said)
    }

    /// The lines of the cost.
    fn costs(&self) -> Block {
        let lines = self.quote.quoted.today.iter().flat_map(|today| {
            let total = today.total();
            let lines = today
                .lines
                .iter()
                .map(move |line| line_told(self.asked.shop, line, total));
            lines.chain([("together".to_owned(), self.asked.money(total))])
        });
        Block {
            heading: "What it costs",
            caption: "Cost of the order as part of the day's loads, line by line",
            columns: ["what for", "cost"],
            rows: lines.collect(),
        }
    }

    /// Alone, in the day, at a full load.
    fn cases(&self) -> Block {
        let quoted = &self.quote.quoted;
        let cases = [
            ("with the day's loads", &quoted.today),
            ("alone", &quoted.alone),
            ("a full load alone", &quoted.full),
        ];
        let said = |p: &Priced| {
            let (cost, pieces) = (p.total(), f64::from(p.pieces.max(1)));
            let price = self.asked.asking.price(cost);
            let kg = p.mass.in_kilograms();
            let by_mass = match kg > 0.0 {
                true => format!(", {} per kg", self.asked.money(price / kg)),
                false => String::new(),
            };
            format!(
                "{}: cost {}, price {}; {} a piece{by_mass}",
                pieces_of(p.pieces, "piece"),
                self.asked.money(cost),
                self.asked.money(price),
                self.asked.each(price / pieces)
            )
        };
        let row = |(name, priced): (&str, &Option<Priced>)| {
            let words = priced
                .as_ref()
                .map_or_else(|| "not finished on the stated days".to_owned(), said);
            (name.to_owned(), words)
        };
        let full = cases
            .into_iter()
            .filter(|(name, p)| p.is_some() || *name != "a full load alone");
        Block {
            heading: "Alone, with others, at a full load",
            caption: "Cost and price by how full the day is",
            columns: ["as", "cost and price"],
            rows: full.map(row).collect(),
        }
    }

    fn levers(&self) -> Block {
        let row = |lever: &Lever| {
            let way = if lever.by < 0.0 { "less" } else { "more" };
            let by = number(lever.by.abs() * 100.0, 1);
            (
                lever_said(self.asked.shop, lever.kind),
                format!("{} a piece, {by} % {way}", self.asked.each(lever.each)),
            )
        };
        Block {
            heading: "What moves the cost most",
            caption: "Cost of a piece, as part of the day's loads, with one thing otherwise",
            columns: ["otherwise", "cost of a piece"],
            rows: self.quote.levers.iter().map(row).collect(),
        }
    }

    fn watch(&self) -> Vec<String> {
        let mut said = self.relief_watch();
        let left_out = self.quote.quoted.today.iter().flat_map(|p| p.missing());
        said.extend(missing(left_out));
        said.extend(self.rush_watch());
        said
    }
}
