//! `tankday run --steady`: what holds in the long run, from one long run of the days stated.

use super::exit::{Exit, Failure};
use super::json::round;
use super::settings::RunSettings;
use super::summary::fitted;
use super::terminal;
use crate::line::Line as Shopfloor;
use crate::luck::Luck;
use crate::print::{Line, Style, number, wrap};
use crate::record::InShop;
use crate::shop::Shop;
use crate::study::{BATCHES, Steady};
use serde_json::json;

/// Runs it and tells the time of an order in the shop. Baths keep their state over nights and weekends, as in any run.
///
/// # Errors
/// When the days do not end, when too few orders get ready, when standard output cannot be written.
pub(super) fn run(settings: &RunSettings, shop: &Shop) -> Result<Exit, Failure> {
    let mut watch = InShop::default();
    let outcome = Shopfloor::new(shop).run(Some(Luck::new(settings.seed, 0)), &mut watch);
    if outcome.endless {
        return Err(Failure::Told {
            message: "these days do not end: work goes round in circles, or far too many orders come".into(),
            exit: Exit::CannotBeDone,
        });
    }
    let times = watch.times();
    let Some(steady) = Steady::of(&times) else {
        return Err(Failure::input(format!(
            "{} orders got ready: too few for what holds in the long run, which needs some hundreds; repeat the days",
            times.len()
        )));
    };
    if settings.json {
        let object = json!({
            "title": shop.title,
            "seed": settings.seed,
            "orders": steady.orders,
            "orders_left": watch.left(),
            "warm_up_orders": steady.cut,
            "too_short": steady.too_short,
            "in_shop_min": {
                "mean": round(steady.minutes.mean),
                "low": round(steady.minutes.low()),
                "high": round(steady.minutes.high()),
            },
            "in_shop_uncut_min": round(steady.uncut),
            "batches": BATCHES,
            "neighbours": steady.neighbours.map(round),
            "von_neumann_ratio": steady.ratio.map(round),
        });
        terminal::print(&format!("{object:#}\n"))?;
    } else {
        terminal::print_lines(&lines(settings, shop, &steady), settings.terminal.paper)?;
    }
    Ok(Exit::Done)
}

fn lines(settings: &RunSettings, shop: &Shop, steady: &Steady) -> Vec<Line> {
    let columns = settings.terminal.columns;
    let i = &steady.minutes;
    let answer = format!(
        "In the long run an order is {} min in the shop (95 % sure between {} and {}).",
        number(i.mean, 1),
        number(i.low(), 1),
        number(i.high(), 1)
    );
    let how = format!(
        "From one run of {} orders, seed {}. The first {} are its warm-up (MSER-5) and left out; with them the mean would \
         be {} min. The rest is told in {BATCHES} batches.",
        steady.orders,
        settings.seed,
        steady.cut,
        number(steady.uncut, 1)
    );
    let mut lines = vec![Line::of(Style::Bold, fitted(&shop.title, columns))];
    lines.extend(
        wrap(&answer, columns)
            .into_iter()
            .map(|w| Line::of(Style::Bold, w)),
    );
    lines.extend(wrap(&how, columns).into_iter().map(|w| Line::of(Style::Dim, w)));
    let mut watch = Vec::new();
    if steady.too_short {
        watch.push(
            "The run is too short: its warm-up fills half of it. Repeat the days more often.".to_owned(),
        );
    }
    if let Some(r) = steady.neighbours.filter(|r| *r > 0.3) {
        watch.push(format!(
            "Neighbouring batches move together ({}): the interval is too narrow. Repeat the days more often.",
            number(r, 2)
        ));
    }
    let watch = watch.iter().flat_map(|w| wrap(w, columns));
    lines.extend(watch.map(|w| Line::of(Style::Watch, w)));
    lines
}
