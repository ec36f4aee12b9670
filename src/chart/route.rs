//! The process graph of a route: what must come after is an arrow, what goes back a dashed one; what was busiest in a run
//! is marked.

use super::frame::Width;
use super::heading::Heading;
use super::pen::picture;
use super::route_across::Map;
use super::route_box::{Words, draw};
use super::route_down::Down;
use super::svg::{Alt, Svg};
use tankday_base::route::{self, ProcessGraph};
use tankday_base::shop::{Route, RouteId, Shop};
use tankday_record::{Bottleneck, Figures};

/// Draws a route of a shop; with the figures of a run also which station was busiest.
#[must_use]
pub fn route(shop: &Shop, id: RouteId, run: Option<&Figures>, width: Width) -> Svg {
    let busiest = run.and_then(|figures| figures.bottleneck(shop, id));
    let empty = Route {
        name: String::new(),
        steps: Vec::new(),
    };
    let drawn = shop.routes.get(id.index()).unwrap_or(&empty);
    let title = format!("Route {}", drawn.name);
    let summary = summary(shop, id, busiest.as_ref());
    let heading = Heading::plain(&title, &summary, &shop.title, width);
    let alt = Alt {
        id: format!("route-{}", id.index()),
        title,
        finding: summary,
        desc: format!(
            "{}{}",
            route::description(shop, id),
            marked(shop, busiest.as_ref())
        ),
    };
    let top = heading.height() + 14.0;
    if width == Width::Phone {
        let down = Down::new(shop, drawn, busiest.as_ref(), top);
        let size = (width.pixels(), down.foot().ceil() as u32);
        return picture(size, alt, &heading, |pen| down.draw(pen));
    }
    let layout = ProcessGraph::of(drawn).layout();
    let wide = Map::wide_at(width);
    let words: Vec<Words> = drawn
        .steps
        .iter()
        .map(|step| Words::of(shop, step, busiest.as_ref(), wide))
        .collect();
    let high = words.iter().map(Words::height).fold(0.0, f64::max);
    let map = Map::new(&layout, high, top, width);
    let size = (width.pixels(), map.foot().ceil() as u32);
    picture(size, alt, &heading, |pen| {
        for edge in &layout.edges {
            map.edge(pen, drawn, edge);
        }
        for node in &layout.nodes {
            let i = node.step.index();
            if let (Some(step), Some(words)) = (drawn.steps.get(i), words.get(i)) {
                let corner = map.corner(node.layer, node.at.across);
                draw(pen, step, words, corner, (wide, high));
            }
        }
    })
}

/// The shortest time, and what was busiest in a run.
fn summary(shop: &Shop, id: RouteId, busiest: Option<&Bottleneck>) -> String {
    format!("{}{}", route::summary(shop, id), marked(shop, busiest))
}

/// What was busiest in a run and is marked; nothing without a run.
fn marked(shop: &Shop, busiest: Option<&Bottleneck>) -> String {
    let Some(busiest) = busiest else {
        return String::new();
    };
    let name = shop.stations.get(busiest.station.index());
    let name = name.map_or("", |s| s.name.as_str());
    let share = |share: tankday_base::units::Share| format!("{:.0} %", share.in_percent());
    let wait = busiest
        .wait
        .map_or_else(String::new, |wait| match tankday_base::print::minutes(wait) {
            0 => "; hardly any load waits for it".to_owned(),
            _ => format!("; loads wait {} for it on average", super::words::minutes(wait)),
        });
    let hands = if busiest.hands > busiest.at_work {
        format!(" Hands are busier: {}.", share(busiest.hands))
    } else {
        String::new()
    };
    format!(
        " Busiest is {name}, at work {} of the open hours{wait}.{hands}",
        share(busiest.at_work)
    )
}
