//! The routes that are walked, step by step.

use super::Run;
use crate::report::page::Part;
use crate::report::picture::{BESIDE, picture};
use crate::report::table::{Cell, Column, Table};
use maud::{Markup, html};
use tankday_base::print::{count_word, how_long, number};
use tankday_base::random::Spread;
use tankday_base::route::{description, summary};
use tankday_base::shop::{Hands, Route, RouteId, Shop, Step, StepTime};
use tankday_base::units::Span;
use tankday_chart::route;

pub(super) fn part(told: &Run<'_>) -> Markup {
    let shop = told.results.shop;
    let walked: Vec<(RouteId, &Route)> = shop
        .routes
        .iter()
        .enumerate()
        .map(|(i, route)| (RouteId(i as u32), route))
        .filter(|(id, _)| shop.orders.iter().any(|o| o.route == *id))
        .collect();
    let busiest = |id: &RouteId| told.results.figures.bottleneck(shop, *id).is_some();
    let framed = if walked.iter().any(|(id, _)| busiest(id)) {
        " Framed in black: the station that was busiest on it."
    } else {
        ""
    };
    let pictures = html! {
        @for (id, drawn) in &walked {
            @if walked.len() > 1 { h3 { (drawn.name) } }
            p.read { (summary(shop, *id)) " " (description(shop, *id)) }
            (picture(&format!("route-{}", id.index()), BESIDE, |width| Some(route(shop, *id, Some(told.results.figures), width))))
        }
    };
    Part {
        id: "routes",
        heading: if walked.len() == 1 { "The route" } else { "The routes" },
        found: html! { @match walked.as_slice() {
            [] => "No order walks a route.",
            [(_, one)] => { "All work goes by the route " (one.name) "." (framed) },
            many => { "The orders walk " (count_word(many.len())) " routes." (framed) },
        } },
        read: "A bar over the whole top edge of a step: hands throughout. Two short bars: hands at the ends. Times on \
               the arrows: the longest wait allowed.",
        pictures,
        beside: true,
        table: html! { @for (_, drawn) in &walked { (table(shop, drawn)) } },
    }
    .section()
}

fn table(shop: &Shop, drawn: &Route) -> Markup {
    let caption = format!("Steps of the route {}", drawn.name);
    let table = Table {
        caption: &caption,
        columns: ["step", "at", "takes", "hands", "waits at most", "goes back"]
            .map(Column::words)
            .into(),
        rows: drawn.steps.iter().map(|s| row(shop, drawn, s)).collect(),
        sum: None,
    };
    table.html()
}

fn row(shop: &Shop, drawn: &Route, step: &Step) -> (Markup, Vec<Cell>) {
    let stations = step.stations.iter().filter_map(|s| shop.stations.get(s.index()));
    let stations: Vec<&str> = stations.map(|s| s.name.as_str()).collect();
    let back = step.retry.as_ref().map_or(String::new(), |retry| {
        let to = drawn
            .steps
            .get(retry.back_to.index())
            .map_or("?", |s| s.name.as_str());
        format!("{} % to {to}", number(retry.share.in_percent(), 1))
    });
    let cells = [
        Cell::words(stations.join(" or ")),
        Cell::words(takes(&step.time)).sorted(lasts(&step.time)),
        Cell::words(match step.hands {
            Hands::None => "none",
            Hands::Ends => "at the ends",
            Hands::Throughout => "throughout",
        }),
        Cell::words(step.within.map_or(String::new(), how_long))
            .sorted(step.within.map_or(f64::NAN, Span::in_minutes)),
        Cell::words(back).sorted(step.retry.as_ref().map_or(f64::NAN, |r| r.share.in_percent())),
    ];
    (html! { b { (step.name) } }, cells.into())
}

fn minutes(span: Span) -> String {
    let minutes = span.in_minutes();
    if (minutes - minutes.round()).abs() < 0.05 {
        format!("{} min", number(minutes, 0))
    } else {
        format!("{} min", number(minutes, 1))
    }
}

/// How long a step takes on average for one piece, minutes; not a number where the bath says it.
fn lasts(time: &StepTime) -> f64 {
    match time {
        StepTime::Coat => f64::NAN,
        StepTime::Work { load, each } => (load.mean() + *each).in_minutes(),
    }
}

/// How long a step takes, in words.
fn takes(time: &StepTime) -> String {
    let (load, each) = match time {
        StepTime::Coat => return "as the bath says".to_owned(),
        StepTime::Work { load, each } => (load, *each),
    };
    let bare = |span: Span| minutes(span).trim_end_matches(" min").to_owned();
    let load = match load {
        Spread::Fixed(span) => minutes(*span),
        Spread::Uniform { least, most } | Spread::Triangular { least, most, .. } => {
            format!("{} to {}", bare(*least), minutes(*most))
        }
        Spread::Normal { mean, sd } | Spread::Lognormal { mean, sd } | Spread::Gamma { mean, sd } => {
            format!("about {} ± {}", bare(*mean), minutes(*sd))
        }
        Spread::Exponential { mean } => format!("{} in the mean", minutes(*mean)),
        Spread::Readings(all) => format!("one of {} readings", all.len()),
    };
    if each > Span::ZERO {
        format!("{load}, and {} s a piece", number(each.in_seconds(), 0))
    } else {
        load
    }
}
