//! What lies where in the picture of the day, and what it says: data for the script, which shows it under the pointer
//! and follows one order through all its steps. Nobody needs it to read the page.

use super::Run;
use crate::report::picture::ACROSS;
use maud::{Markup, PreEscaped, html};
use serde_json::{Map, Value, json};
use tankday_base::print::clock_or_date;
use tankday_base::units::Moment;
use tankday_chart::{LaneOf, Places, Width};
use tankday_record::{Analysis, LoadNo, TankState};

/// More bars than this are too fine to be pointed at: those of the tanks alone are told.
const MOST: usize = 3_000;

/// A bar that can be pointed at.
struct Spot {
    lane: LaneOf,
    from: Moment,
    to: Moment,
    words: String,
    orders: Vec<String>,
}

/// The data as the script reads it: orders, bars with their words and the places of their orders in that list, and for
/// each width where they lie.
pub(super) fn data(told: &Run<'_>) -> Markup {
    let mut spots = all(told);
    if spots.len() > MOST {
        spots.retain(|s| matches!(s.lane, LaneOf::Tank(_)));
        spots.truncate(MOST);
    }
    let orders: Vec<&str> = told
        .results
        .figures
        .orders
        .iter()
        .map(|o| o.id.as_str())
        .collect();
    let place = |name: &String| orders.iter().position(|o| o == name);
    let bars: Vec<Value> = spots
        .iter()
        .map(|s| json!([s.words, s.orders.iter().filter_map(place).collect::<Vec<_>>()]))
        .collect();
    let at: Map<String, Value> = ACROSS
        .iter()
        .map(|w| (w.pixels().to_string(), places(told, &spots, *w)))
        .collect();
    let text = json!({"orders": orders, "bars": bars, "at": at}).to_string();
    // Within a script element nothing is escaped; so nothing that is typed may begin a mark there.
    let text = text.replace('<', "\\u003c");
    html! { script type="application/json" id="spots" { (PreEscaped(text)) } }
}

fn places(told: &Run<'_>, spots: &[Spot], width: Width) -> Value {
    let places = Places::of(told.view, width);
    let tenths = |x: f64| (x * 10.0).round() / 10.0;
    let one = |s: &Spot| match places.bar(s.lane, s.from, s.to) {
        Some(rect) => json!(rect.map(tenths)),
        None => Value::Null,
    };
    spots.iter().map(one).collect()
}

fn all(told: &Run<'_>) -> Vec<Spot> {
    let mut spots = tanks(told);
    spots.extend(hands(told));
    spots.extend(stations(told));
    spots.sort_by_key(|s| (s.from, s.to));
    spots
}

/// `L1: 400 wood screws and 25 lateral levers`; of what is no load in a tank its name alone.
fn load_words(told: &Run<'_>, name: &str) -> (String, Vec<String>) {
    let results = told.results;
    let found = results
        .figures
        .loads
        .iter()
        .find(|l| results.labels.at(l.load, l.begins) == name);
    match found {
        Some(load) => {
            let parts: Vec<String> = load
                .parts
                .iter()
                .map(|(id, n)| format!("{n} {}", super::part_name(results, *id, *n)))
                .collect();
            let orders = super::orders_of(results, load)
                .into_iter()
                .map(str::to_owned)
                .collect();
            (format!("{name}: {}", parts.join(", ")), orders)
        }
        None => {
            let order = name.split(", ").next().unwrap_or(name).to_owned();
            (name.to_owned(), vec![order])
        }
    }
}

fn span(told: &Run<'_>, from: Moment, to: Moment) -> String {
    format!(
        "{} to {}",
        clock_or_date(&told.results.shop.calendar, from),
        to.clock()
    )
}

fn tanks(told: &Run<'_>) -> Vec<Spot> {
    let mut spots = Vec::new();
    for (i, tank) in told.view.tanks.iter().enumerate() {
        for bar in tank.bars.iter().filter(|b| b.state != TankState::Off) {
            let when = span(told, bar.from, bar.to);
            let (words, orders) = match (&bar.load, bar.state) {
                (Some(load), _) => {
                    let (words, orders) = load_words(told, load);
                    (format!("{}, coating {words}, {when}", tank.name), orders)
                }
                (None, state) => (
                    format!("{}, {}, {when}", tank.name, state_words(state)),
                    Vec::new(),
                ),
            };
            spots.push(Spot {
                lane: LaneOf::Tank(i),
                from: bar.from,
                to: bar.to,
                words,
                orders,
            });
        }
    }
    spots
}

const fn state_words(state: TankState) -> &'static str {
    match state {
        TankState::Heating => "heating",
        TankState::Waiting => "hot, waiting",
        TankState::Coating(_) => "coating",
        TankState::Recovering => "recovering",
        TankState::Care => "care",
        TankState::Off => "off",
    }
}

fn hands(told: &Run<'_>) -> Vec<Spot> {
    let mut spots = Vec::new();
    for (i, hands) in told.view.hands.iter().enumerate() {
        for bar in &hands.bars {
            let (load, orders) = bar
                .load
                .as_deref()
                .map_or_else(Default::default, |l| load_words(told, l));
            let what = format!("{} {load}", bar.step);
            spots.push(Spot {
                lane: LaneOf::Hands(i),
                from: bar.from,
                to: bar.to,
                words: format!("hands, {}, {}", what.trim(), span(told, bar.from, bar.to)),
                orders,
            });
        }
    }
    spots
}

/// Stays at stations, load by load.
fn stations(told: &Run<'_>) -> Vec<Spot> {
    let results = told.results;
    let read = Analysis::of(results.shop, results.record);
    let orders = |load: LoadNo| -> Vec<String> {
        let mut names: Vec<String> = read
            .cargo
            .lots(load)
            .map(|l| results.labels.order(l.order).to_owned())
            .collect();
        names.dedup();
        names
    };
    let mut spots = Vec::new();
    for (load, way) in &read.ways {
        for visit in &way.visits {
            let name = super::station_name(results, visit.station);
            let Some(i) = told.view.stations.iter().position(|s| s.name == name) else {
                continue;
            };
            let step = results.shop.find_step(visit.step).map_or("", |s| s.name.as_str());
            let to = visit.done.unwrap_or(read.end);
            let label = results.labels.at(*load, visit.set_in);
            spots.push(Spot {
                lane: LaneOf::Station(i),
                from: visit.set_in,
                to,
                words: format!("{name}, {step} {label}, {}", span(told, visit.set_in, to)),
                orders: orders(*load),
            });
        }
    }
    spots
}
