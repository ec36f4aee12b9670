//! One load in one bath, without a day around it, by the same steps as when the line puts a load in and lifts it: cold
//! work mixed in, growth by the bath as it is, the stay that it needs, what it takes and gives.

mod apart;
mod course;
mod new_bath;
mod set_right;

pub use new_bath::{Mixing, Unmixable, new_bath};
pub use set_right::set_right;

use crate::baths::start;
use crate::cargo::Cargo;
use crate::compile::Compiled;
use crate::drag::after_dripping;
use tankday_base::bath::TankHeat;
use tankday_base::bath::chemistry::{Chemistry, Life, Mix, life_left};
use tankday_base::bath::tank::Geometry;
use tankday_base::shop::{
    Arrival, BathRecipe, Coats, Inside, Order, Part, PartId, RouteId, Shop, StationId, Step, StepTime, Tank,
};
use tankday_base::units::{Area, CoatWeight, Length, Mass, Moment, Quantity, Temperature, Volume};
use tankday_record::one_load::{Course, Ends, OneLoad, Pieces, Takes};

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// The tank.
    pub tank: StationId,
    /// Parts and how many of each, at least one of them.
    pub pieces: Vec<(PartId, u32)>,
    /// The bath as the load goes in.
    pub at: Temperature,
}

/// What one load would do; none where the tank is no tank, nothing is in the load, or the shop has no route.
#[must_use]
pub fn one_load(shop: &Shop, asked: &Asked) -> Option<OneLoad> {
    let trial = Trial::new(shop, asked)?;
    let now = trial.course(asked.at);
    let later = trial.later(asked.at);
    let chemistry = start(trial.recipe, &trial.bath_at(asked.at));
    let limits = &trial.recipe.limits;
    let breaches =
        |bath: &Chemistry| limits.breaches(&trial.recipe.chemistry, bath, asked.at, trial.tank.fill);
    Some(OneLoad {
        tank: asked.tank,
        pieces: trial.pieces(),
        takes: takes(trial.cargo.bulk),
        room: takes(trial.room),
        headroom: trial.headroom(),
        breaches: chemistry.as_ref().map_or(Vec::new(), breaches),
        life: trial.life(chemistry.as_ref(), later.as_ref().map_or(&now, |l| &l.course)),
        apart: trial.apart(),
        clashes: trial.clashes(),
        now,
        later,
    })
}

/// A load before a tank.
struct Trial<'a> {
    shop: &'a Shop,
    tank: &'a Tank,
    recipe: &'a BathRecipe,
    table: TankHeat,
    lots: Vec<(PartId, u32)>,
    cargo: Cargo,
    /// Liquid that leaves the bath on its pieces.
    drag: Volume,
    /// Area m2, mass kg, basket m3.
    room: [f64; 3],
}

impl<'a> Trial<'a> {
    fn new(shop: &'a Shop, asked: &Asked) -> Option<Self> {
        let tank = shop.tank(asked.tank)?;
        let load = with_orders(shop, asked)?;
        let compiled = Compiled::new(&load);
        let number = compiled.stations.find(asked.tank)?.tank?;
        let mut cargo: Option<Cargo> = None;
        let mut drag = Volume::ZERO;
        for order in compiled.orders.iter() {
            let own = Cargo::of(order, *compiled.surfaces.find(order.part)?, order.count);
            drag += Volume::from_base(own.drags * drips(shop, tank, (order.route, order.part)));
            match &mut cargo {
                Some(all) => all.join(&own),
                None => cargo = Some(own),
            }
        }
        Some(Self {
            shop,
            tank,
            recipe: shop.baths.get(tank.bath.index())?,
            table: TankHeat::new(tank, &shop.air),
            lots: asked.pieces.clone(),
            cargo: cargo?,
            drag,
            room: *compiled.room.find(number)?,
        })
    }

    fn parts(&self) -> impl Iterator<Item = (PartId, &'a Part, u32)> + '_ {
        let part = |(id, count): &(PartId, u32)| Some((*id, self.shop.parts.get(id.index())?, *count));
        self.lots.iter().filter_map(part)
    }

    fn pieces(&self) -> Vec<Pieces> {
        let one = |(part, p, count): (PartId, &Part, u32)| Pieces {
            part,
            count,
            lies: p.goes.lies(self.tank),
            refused: match &self.shop.materials[p.material.index()].coats {
                Coats::Yes | Coats::AfterTrial(_) => None,
                Coats::No(why) => Some(why.clone()),
            },
        };
        self.parts().map(one).collect()
    }

    /// Free height with the load in: what the pieces displace lifts the level.
    fn headroom(&self) -> Length {
        let (Inside::Box { height, .. } | Inside::Round { height, .. }) = self.tank.inside;
        let metal = |(_, p, count): (PartId, &Part, u32)| {
            p.mass * f64::from(count) / self.shop.materials[p.material.index()].density
        };
        let filled = self.parts().map(metal).fold(self.tank.volume, |all, v| all + v);
        (height - Geometry::new(self.tank.inside, filled).depth).max(Length::ZERO)
    }

    /// Loads like this one that are left to each limit of the bath as it is.
    fn life(&self, bath: Option<&Chemistry>, course: &Course) -> Option<Life> {
        let area = Area::from_base(self.cargo.bulk[0]);
        if course.ends == Ends::Nothing || area <= Area::ZERO {
            return None;
        }
        let mut coating = Mass::ZERO;
        for ((_, part, count), weight) in self.parts().zip(&course.coated) {
            coating += *weight * (part.area * f64::from(count));
        }
        let mix = Mix {
            weight: CoatWeight::grams_per_square_metre(coating.in_grams() / area.in_square_metres()),
            area,
            hot: course.stay,
            loads_by_day: 1.0,
        };
        let recipe = &self.recipe.chemistry;
        Some(life_left(recipe, &self.recipe.limits, bath?, &mix))
    }
}

fn takes([area, mass, basket]: [f64; 3]) -> Takes {
    Takes {
        area: Area::from_base(area),
        mass: Mass::from_base(mass),
        basket: (basket.is_finite() && basket > 0.0).then(|| Volume::from_base(basket)),
    }
}

/// The shop with these pieces as its only orders, each on its usual route.
fn with_orders(shop: &Shop, asked: &Asked) -> Option<Shop> {
    let bath = shop.tank(asked.tank)?;
    let order = |&(part, count): &(PartId, u32)| {
        (part.index() < shop.parts.len()).then(|| Order {
            id: String::new(),
            part,
            count,
            route: usual_route(shop, bath, part).unwrap_or(RouteId(0)),
            arrival: Arrival::At(Moment::ZERO),
            tanks: vec![asked.tank],
            looks: true,
            weight: 1.0,
            due_after: None,
        })
    };
    let orders: Option<Vec<Order>> = asked.pieces.iter().map(order).collect();
    (!shop.routes.is_empty()).then_some(Shop {
        orders: orders?,
        ..shop.clone()
    })
}

/// The step in which a part on a route goes into the bath of a tank.
fn coats<'s>(shop: &'s Shop, tank: &Tank, (route, part): (RouteId, PartId)) -> Option<&'s Step> {
    let steps = &shop.routes.get(route.index())?.steps;
    steps.iter().find(|step| {
        let bath = |s: &StationId| shop.tank(*s).map(|t| t.bath);
        let passes = step.only.is_empty() || step.only.contains(&part);
        passes && step.time == StepTime::Coat && step.stations.iter().any(|s| bath(s) == Some(tank.bath))
    })
}

/// The routes that a part takes to a bath: those of its orders, else all that lead there.
fn routes(shop: &Shop, tank: &Tank, part: PartId) -> Vec<RouteId> {
    let leads = |r: &RouteId| coats(shop, tank, (*r, part)).is_some();
    let ordered = shop.orders.iter().filter(|o| o.part == part).map(|o| o.route);
    let ordered: Vec<RouteId> = ordered.filter(leads).collect();
    if !ordered.is_empty() {
        return ordered;
    }
    (0..).map(RouteId).take(shop.routes.len()).filter(leads).collect()
}

/// The route by which a load of it goes: the first of those.
fn usual_route(shop: &Shop, tank: &Tank, part: PartId) -> Option<RouteId> {
    routes(shop, tank, part).first().copied()
}

/// What dripping leaves of the drag-out as stated; all of it where no route says how long it drips.
fn drips(shop: &Shop, tank: &Tank, on: (RouteId, PartId)) -> f64 {
    coats(shop, tank, on).map_or(1.0, |step| after_dripping(step.drip))
}
