//! The scenario as written: each value read, with its place, and nothing yet compared with anything else. A value
//! that could not be read is absent, and a finding tells why. Each file declares the keys of some things.

mod aim;
mod bath;
mod care;
mod chemistry;
mod material;
mod odds;
mod order;
mod part;
mod rates;
mod route;
mod rules;
mod shop;
mod station;
mod tank;
mod trigger;
mod vessel;
mod weekly;

pub(super) use aim::Aim;
pub(super) use bath::{Bath, Coat, Now, Start};
pub(super) use care::{Act, Cares};
pub(super) use chemistry::Chemistry;
pub(super) use material::Material;
pub(super) use odds::Odds;
pub(super) use order::{Arrives, Order, Stream};
pub(super) use part::Part;
pub(super) use rates::Rates;
pub(super) use route::{Route, Step};
pub(super) use rules::{Rules, TopUp};
pub(super) use shop::{Air, Break, Days, Prices, Shop};
pub(super) use station::Station;
pub(super) use tank::{Heater, Lid, OwnLid, Tank, Wall};
pub(super) use vessel::Vessel;
pub(super) use weekly::{OpenDays, Weekly, Window};

use super::defaults::OURS;
use super::node::{Node, Spanned};
use super::reader::{MONEY, TEXT};
use super::thing::{Kind, Reader, Thing, thing};
use super::value;
use super::walk::Walk;

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
pub(super) type Given<T> = Option<Spanned<T>>;

const VERSION: Reader<u32> = Reader::new(Kind::Count, value::version);

thing! {
    /// The whole file.
    File "scenario", "a scenario" {
        must "tankday" _version: u32 = VERSION, "the version of this format, 1";
        or "title" title: String = TEXT, "what the scenario calls itself", {"A day in the shop": OURS};
        /// Followed before anything is read, as the next.
        may own "extends" _extends: () = Kind::Text => |_f| (),
            "the file that this one is like but for what it writes itself";
        may own "without" _without: () = Kind::Some(&Kind::Text) => |_f| (),
            "what of that file is left out, each as a path such as orders.A3";
        may "outlay" outlay: f64 = MONEY,
            "what it costs to buy and set up, in the shop's currency, such as 450";
        may part "shop" shop: Shop, "hands, room air and prices";
        may own "days" days: Vec<OpenDays> = OpenDays::KIND => |f| Days::of_file(f),
            "the days that the shop opens, one or several, or those that come again every week";
        may named "baths" baths: Bath = MOST_STATIONS, "the baths by name";
        may list "tanks" tanks: Tank = MOST_STATIONS, "the tanks that hold them";
        may list "stations" stations: Station = MOST_STATIONS, "the other places where work happens", after "vessels";
        may list "vessels" vessels: Vessel = MOST_STATIONS,
            "vessels in which filtered solution is kept, and bath settles outside its tank";
        may named "materials" materials: Material = MOST_NAMES, "materials beside the built-in ones";
        must named "parts" parts: Part = MOST_NAMES, "the kinds of part by name";
        must own "routes" routes: Vec<Route> = Kind::NamedLists(Step::TABLE)
            => |f| f.by_name(&Self::routes, MOST_NAMES, Route::read),
            "the ways through the shop by name, each a list of steps";
        must list "orders" orders: Order = MOST_ORDERS, "what is to be done for whom, by when";
        may part "rules" rules: Rules, "how the shop decides what comes next";
        may part "aim" aim: Aim, "what a plan is to be good at";
    }
    plus {
        /// Whether orders are written that could not be read.
        orders_unread: bool = |f| f.node(&Self::orders).is_some_and(|n| !f.walk.items(n).is_empty());
    }
}

impl File {
    /// Reads a whole tree.
    pub(super) fn of_tree(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut file = Self::read(node, walk)?;
        for step in file.routes.iter_mut().flat_map(|r| &mut r.steps) {
            step.find_bath(&file.tanks);
        }
        Some(file)
    }
}
