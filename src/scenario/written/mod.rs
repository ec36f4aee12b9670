//! The scenario as written: each value read, with its place, and nothing yet compared with anything else. A value
//! that could not be read is absent, and a finding tells why.

mod aim;
mod bath;
mod care;
mod chemistry;
mod odds;
mod part;
mod rinse;
mod rules;
mod shape;
mod shop;
mod tank;
mod vessel;
mod work;

pub(super) use aim::Aim;
pub(super) use bath::{Bath, Start};
pub(super) use care::{Act, Cares};
pub(super) use chemistry::Chemistry;
pub(super) use part::Part;
pub(super) use rinse::Rinse;
pub(super) use rules::{Rules, TopUp};
pub(super) use shop::{Air, Break, Days, Prices, Shop};
pub(super) use tank::{Lid, Station, Tank, face};
pub(super) use vessel::Vessel;
pub(super) use work::{Arrives, Material, Order, Route, Step};

use super::keys;
use super::node::{Node, Place, Spot};
use super::value;
use super::walk::{Fields, Walk};

/// Most of each thing in one scenario.
pub(super) const MOST_DAYS: usize = 5_000;
const MOST_STATIONS: usize = 1_000;
const MOST_NAMES: usize = 10_000;
const MOST_STEPS: usize = 64;
/// Most orders stated one by one.
pub(super) const MOST_ORDERS: usize = 100_000;
/// Most orders of one stream.
pub(super) const MOST_IN_STREAM: u32 = 10_000_000;

/// A value, if it could be read.
pub(super) type Got<T> = Option<Spot<T>>;

/// The whole file.
#[derive(Debug)]
pub(super) struct File {
    pub(super) title: Got<String>,
    /// What it costs to set up.
    pub(super) outlay: Got<f64>,
    pub(super) shop: Option<Shop>,
    pub(super) days: Vec<Days>,
    pub(super) baths: Vec<Bath>,
    pub(super) tanks: Vec<Tank>,
    pub(super) stations: Vec<Station>,
    pub(super) vessels: Vec<Vessel>,
    pub(super) materials: Vec<Material>,
    pub(super) parts: Vec<Part>,
    pub(super) routes: Vec<Route>,
    pub(super) orders: Vec<Order>,
    /// Where the key of the orders stands.
    pub(super) orders_at: Option<Place>,
    /// Whether orders are written that could not be read.
    pub(super) orders_unread: bool,
    pub(super) rules: Option<Rules>,
    pub(super) aim: Option<Aim>,
}

impl File {
    /// Reads a whole tree.
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::new(node, &keys::SCENARIO, walk)?;
        f.get("tankday", value::version);
        let mut file = Self {
            title: f.or("title", value::text),
            outlay: f.get("outlay", value::money),
            shop: part(&mut f, "shop", Shop::read, Shop::absent),
            days: several(&mut f, "days", MOST_DAYS, Days::read, Days::absent),
            baths: named(&mut f, "baths", MOST_STATIONS, Bath::read),
            tanks: things(&mut f, "tanks", MOST_STATIONS, Tank::read),
            stations: things(&mut f, "stations", MOST_STATIONS, Station::read),
            vessels: things(&mut f, "vessels", MOST_STATIONS, Vessel::read),
            materials: named(&mut f, "materials", MOST_NAMES, Material::read),
            parts: named(&mut f, "parts", MOST_NAMES, Part::read),
            routes: named(&mut f, "routes", MOST_NAMES, Route::read),
            orders_at: f.place("orders"),
            orders_unread: f.node("orders").is_some_and(|n| !f.walk.items(n).is_empty()),
            orders: things(&mut f, "orders", MOST_ORDERS, Order::read),
            rules: part(&mut f, "rules", Rules::read, Rules::absent),
            aim: part(&mut f, "aim", Aim::read, Aim::absent),
        };
        for step in file.routes.iter_mut().flat_map(|r| &mut r.steps) {
            step.find_bath(&file.tanks);
        }
        Some(file)
    }
}

/// A thing under a key, or the same thing with all its defaults.
fn part<T>(
    f: &mut Fields,
    key: &str,
    read: fn(&Node, &mut Walk) -> Option<T>,
    absent: fn(Place, &mut Walk) -> T,
) -> Option<T> {
    match f.node(key) {
        Some(node) => read(node, f.walk),
        None => Some(absent(f.at, f.walk)),
    }
}

/// A list of things, none if the key is not there.
fn things<T>(f: &mut Fields, key: &str, most: usize, read: fn(&Node, &mut Walk) -> Option<T>) -> Vec<T> {
    f.node(key)
        .map_or_else(Vec::new, |node| f.walk.list(node, key, most, read))
}

/// A list of things, or one with all its defaults.
fn several<T>(
    f: &mut Fields,
    key: &str,
    most: usize,
    read: fn(&Node, &mut Walk) -> Option<T>,
    absent: fn(Place, &mut Walk) -> T,
) -> Vec<T> {
    match f.node(key) {
        Some(node) if !f.walk.items(node).is_empty() => f.walk.list(node, key, most, read),
        _ => vec![absent(f.at, f.walk)],
    }
}

/// Things by name.
fn named<T>(
    f: &mut Fields,
    key: &str,
    most: usize,
    read: fn(&Spot<String>, &Node, &mut Walk) -> Option<T>,
) -> Vec<T> {
    let Some(node) = f.node(key) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for (name, node) in f.walk.named(node, key, most) {
        if let Some(message) = value::unfit_name(&name.value) {
            f.walk.add(super::finding::Finding::new(
                super::finding::Code::Limit,
                name.at,
                message,
            ));
            continue;
        }
        all.extend(read(name, node, f.walk));
    }
    all
}
