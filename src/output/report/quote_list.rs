//! A list of quotes as a table for spreadsheets.

use crate::narrative::Asked;
use tankday_base::print::{cell, number};
use tankday_record::Priced;
use tankday_study::quote::Quoted;

/// One row an order, with a row of headings. Amounts are in the currency that the headings name; a cell is empty where there
/// is no price. `not stated` names what the scenario leaves out and the price does not hold.
#[must_use]
pub fn quote_csv(asked: Asked<'_>, quotes: &[Quoted]) -> String {
    let currency = &asked.shop.prices.currency;
    let mut writer = csv::Writer::from_writer(Vec::new());
    let heads = [
        "order".to_owned(),
        "part".to_owned(),
        "pieces".to_owned(),
        "route".to_owned(),
        format!("cost, {currency}"),
        format!("price, {currency}"),
        format!("price of a piece, {currency}"),
        format!("price of a kg, {currency}"),
        format!("price of a piece alone, {currency}"),
        "pieces in a full load".to_owned(),
        format!("price of a piece at a full load, {currency}"),
        "not stated".to_owned(),
    ];
    // Writing to memory does not fail.
    let _ = writer.write_record(heads.map(|h| cell(&h).into_owned()));
    for quoted in quotes {
        let _ = writer.write_record(row(asked, quoted).map(|c| cell(&c).into_owned()));
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

fn row(asked: Asked<'_>, quoted: &Quoted) -> [String; 12] {
    let shop = asked.shop;
    let order = shop.orders.get(quoted.order.index());
    let name = |n: Option<&String>| n.cloned().unwrap_or_default();
    let of = |p: &Option<Priced>, value: &dyn Fn(&Priced) -> Option<f64>, places: usize| {
        let value = p.as_ref().and_then(value);
        value.map_or_else(String::new, |v| number(v, places))
    };
    let price = |p: &Priced| asked.asking.price(p.total());
    let each = |p: &Priced| Some(price(p) / f64::from(p.pieces.max(1)));
    let kg = |p: &Priced| {
        Some(p.mass.in_kilograms())
            .filter(|kg| *kg > 0.0)
            .map(|kg| price(p) / kg)
    };
    let today = &quoted.today;
    [
        name(order.map(|o| &o.id)),
        name(
            order
                .and_then(|o| shop.parts.get(o.part.index()))
                .map(|p| &p.name),
        ),
        order.map_or_else(String::new, |o| o.count.to_string()),
        name(
            order
                .and_then(|o| shop.routes.get(o.route.index()))
                .map(|r| &r.name),
        ),
        of(today, &|p| Some(p.total()), 2),
        of(today, &|p| Some(price(p)), 2),
        of(today, &each, 4),
        of(today, &kg, 2),
        of(&quoted.alone, &each, 4),
        quoted
            .full
            .as_ref()
            .map_or_else(String::new, |p| p.pieces.to_string()),
        of(&quoted.full, &each, 4),
        today
            .as_ref()
            .map_or_else(String::new, |p| p.missing().join("; ")),
    ]
}
