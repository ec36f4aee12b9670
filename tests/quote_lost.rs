//! Orders that are lost for another, and the tables of a quote.

use crate::quote::{quoted, with};
use tankday::quote::Asking;
use tankday::units::Share;

/// An order that is lost for another is named before anything else, as a rush and in its turn, and no saving is named beside it:
/// work that isn't done costs less, and nobody gains by it.
#[test]
fn an_order_that_is_lost_is_said_first_and_saves_nothing() {
    use tankday::narrative::{Asked, quote_told};
    let shop = with("scenarios/quoted-day.yaml", "60 wood screws, small steel");
    let quote = quoted(&shop);
    let rush = quote.rush.as_ref().unwrap();
    assert!(
        rush.later.first().is_some_and(|l| l.id == "B6" && l.is_lost()),
        "{rush:?}"
    );
    assert_eq!(rush.more, None);
    let asking = Asking {
        margin: Share::ZERO,
        minimum: 0.0,
    };
    let told = quote_told(Asked { shop: &shop, asking }, &quote);
    let extras = told.blocks.iter().find(|b| b.heading == "Extras").unwrap();
    let (_, said) = extras.rows.iter().find(|(name, _)| name == "rush").unwrap();
    assert!(said.starts_with("B6 isn't finished then; ready "), "{said}");
    assert!(!said.contains("the day costs"), "{said}");
    assert!(
        told.watch
            .first()
            .is_some_and(|w| w.starts_with("As a rush: B6 isn't finished")),
        "{:?}",
        told.watch
    );
    // So many pieces that others find no room, in their turn.
    let shop = with(
        "scenarios/quoted-day.yaml",
        "900 wood screws, small steel, due: 07:31",
    );
    let quote = quoted(&shop);
    assert!(
        quote.later.iter().any(tankday::quote::Later::is_lost),
        "{:?}",
        quote.later
    );
    assert_eq!(quote.more, None);
    let told = quote_told(Asked { shop: &shop, asking }, &quote);
    assert!(
        told.answer[0].starts_with("With this order: "),
        "{:?}",
        told.answer
    );
    assert!(
        told.answer.iter().all(|a| !a.contains("The day costs")),
        "{:?}",
        told.answer
    );
}

/// On the page each figure has a cell of its own, with its unit in the heading, so that every column sorts by value.
#[test]
fn the_tables_of_a_quote_have_one_figure_a_cell() {
    use tankday::narrative::{Asked, quote_told};
    use tankday::report::{QuotePage, Quotes, Units};
    let shop = with("scenarios/quoted-day.yaml", "60 wood screws, small steel");
    let quote = quoted(&shop);
    let asked = Asked {
        shop: &shop,
        asking: Asking {
            margin: Share::ZERO,
            minimum: 0.0,
        },
    };
    let told = quote_told(asked, &quote);
    let page = tankday::report::quote(&QuotePage {
        asked,
        told: &told,
        quotes: Quotes::One(&quote),
        units: Units::of(""),
    });
    let cells = page
        .split("<td class=\"r\"")
        .skip(1)
        .filter_map(|c| c.split_once('>')?.1.split_once("</td>"));
    let cells: Vec<&str> = cells.map(|(cell, _)| cell).collect();
    assert!(cells.len() > 60, "{cells:?}");
    for cell in &cells {
        assert!(!cell.contains("EUR") && !cell.contains(';'), "{cell}");
    }
    for heading in [
        "cost, EUR",
        "share, %",
        "price of a piece, EUR",
        "later, min",
        "more, %",
    ] {
        assert!(page.contains(heading), "{heading}");
    }
}
