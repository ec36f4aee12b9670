//! What no plan can beat. Each bound leaves something out of account, so that what remains can be done best in a known way;
//! the largest counts.
//!
//! `way.rs` follows each order by itself through hours, heat and steps. `resource.rs` looks at hands, tanks and stations one at a
//! time: all that is asked of it (`jobs.rs`), in as few loads as there can be (`loads.rs`), with the least that comes before
//! and after, is done there best by `machine.rs`, in the hours of `hours.rs`; `opening.rs` knows how little hands can do at
//! the start. `late.rs` compares with due times.
//!
//! Left out: later heating-ups, recovery and care of baths, walks, time that a bath with a wish for a weight takes beyond its
//! shortest dwell, and that what is done at one place must fit what is done at another.
//!
//! # Known and left
//!
//! - What no plan can beat knows the first heating-up, not later ones, no care and no recovery, and of a bath with a
//!   wish for a weight only its shortest dwell; so it is loose for filter stops. What must not wait (lifting out of a
//!   bath, wet steps) is taken as if hands could do any amount of it in breaks and at night. On the thirty orders of
//!   `tests/data/thirty.yaml` hands have 6 h 40 min to do, which with both breaks left out is over at 14:55; but the line
//!   lets hands finish what they have begun, such as looking at a load of castings for a quarter of an hour, and see to
//!   three wet loads at most, which fills a break of 15 min and all but a few minutes of one of 30 min. So no more than
//!   about 14:20 can be proved of hands alone. Lateness is bounded
//!   resource by resource, not by what all ask of one another.

mod assign;
mod hours;
mod jobs;
mod late;
mod loads;
mod machine;
mod opening;
mod resource;
mod way;

use super::hot::first_hot;
use hours::Hours;
use jobs::Work;
use loads::{classes, fewest_loads};
use resource::Resource;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};
use way::{Finder, Outline, Way};

/// Bounds of one shop for mean times, for days on which everything gets ready.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// The last load cannot be ready earlier.
    pub finish: Moment,
    /// All orders together cannot be less late.
    pub late: Span,
    /// No fewer orders are late.
    pub late_orders: u32,
}

impl Bounds {
    /// Bounds that say nothing.
    #[must_use]
    pub fn none(shop: &Shop) -> Self {
        Self {
            finish: shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open),
            late: Span::ZERO,
            late_orders: 0,
        }
    }

    /// The least that the aim can come to.
    #[must_use]
    pub fn cost(&self, shop: &Shop) -> f64 {
        let open = shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open);
        // Whichever orders are late, none counts less than the least.
        let due = shop.orders.iter().filter(|o| o.due_after.is_some());
        let weight = due.map(|o| o.weight).reduce(f64::min).unwrap_or(1.0);
        weight
            * (shop.aim.late_order * f64::from(self.late_orders)
                + shop.aim.late_minute * self.late.in_minutes())
            + shop.aim.finish_minute * (self.finish - open).in_minutes()
    }
}

/// The bounds of a shop.
#[must_use]
pub fn bounds(shop: &Shop) -> Bounds {
    with_ways(shop, |finder, ways| {
        let classes = classes(shop, ways);
        let work = Work {
            ways,
            classes: &classes,
            outlines: finder.outlines,
        };
        let resources = Resource::all(finder, &work);
        let alone = ways.iter().map(|w| w.ready).max().unwrap_or(Moment::ZERO);
        let late = late::least(finder, &work, &resources);
        Bounds {
            finish: resources
                .iter()
                .map(|r| r.finish(finder, &work))
                .fold(alone, Moment::max),
            late: late.by,
            late_orders: late.orders,
        }
    })
}

/// For each order the moment before which no plan has it ready, were it alone in the shop; none for those that come at
/// random or after all that is simulated.
#[must_use]
pub fn earliest_ready(shop: &Shop) -> Vec<Option<Moment>> {
    with_ways(shop, |_, ways| {
        let mut ready = vec![None; shop.orders.len()];
        for way in ways {
            ready[way.order] = Some(way.ready);
        }
        ready
    })
}

fn with_ways<T>(shop: &Shop, with: impl FnOnce(&Finder<'_>, &[Way]) -> T) -> T {
    let hours = Hours::of(shop);
    let hot = first_hot(shop);
    let outlines: Vec<Outline> = shop.routes.iter().map(Outline::of).collect();
    let finder = Finder {
        shop,
        hours: &hours,
        hot: &hot,
        outlines: &outlines,
        divisible: shop.tanks().next().is_some(),
    };
    let orders = shop.orders.iter().enumerate();
    let mut ways: Vec<Way> = orders.filter_map(|(i, o)| finder.way(i, o)).collect();
    for way in &mut ways {
        way.lots = fewest_lots(shop, way);
    }
    with(&finder, &ways)
}

/// The fewest lots of an order: each goes into a bath in one load.
fn fewest_lots(shop: &Shop, way: &Way) -> u64 {
    let steps = &shop.routes[way.route].steps;
    let baths = way.stages.iter().map(|s| &steps[s.step]);
    let baths = baths.filter(|s| s.time == tankday_base::shop::StepTime::Coat);
    let lots = baths.map(|s| fewest_loads(shop, s, std::iter::once(way)));
    lots.max().unwrap_or(1).max(1)
}
