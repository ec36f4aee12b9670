//! The checked shop: what the engine sees. Every default is resolved, every name is an id, every spread is a
//! distribution. Nothing here knows how it was written or how it is simulated.

mod aim;
mod bath;
mod calendar;
mod care;
mod fit;
mod growth;
mod ids;
mod kind;
mod limits;
mod materials;
mod odds;
mod order;
mod part;
mod rates;
mod recipe;
mod rinse;
mod route;
mod rules;
mod station;
mod vessel;
mod walks;

pub use aim::Aim;
pub use bath::{Band, BathRecipe, BathState, CoatRule, Contaminants, Room};
pub use calendar::{Break, Calendar, Crew, Day};
pub use care::{ACID_DENSITY, AcidBought, Care, Chore, Reads, Settle, Stop, Trigger, Trimming};
pub use fit::{Goes, Lies, Size, depth};
pub use growth::{CoatsFrom, Growth};
pub use ids::{BathId, MaterialId, OrderId, PartId, RouteId, StationId, StepIx, StepRef, VesselId};
pub use kind::StepKind;
pub use limits::{Limits, Window};
pub use materials::{
    OTHER_NAMES, built_in_materials, hard_materials, is_hard_name, material_source, other_names,
};
pub use odds::{Defect, Mishap, Mishaps, Odds};
pub use order::{Arrival, Order};
pub use part::{Coats, DRIPPED, DRIPS_UNTIL, HEAVY_LIFT, HEAVY_PIECE, HEAVY_SHARE, Held, Material, Part};
pub use rates::{Per, Rate, Rates, Supplies};
pub use recipe::{IronEffect, Oxidation, Recipe, StrengthEffect};
pub use rinse::{Renewal, Rinse, RinseLimit};
pub use route::{AtBreak, Hands, Relief, Relieves, Retry, Route, SHORT_WAIT, STAYS, Step, StepTime};
pub use rules::{
    Combine, Company, Fill, HandsFirst, HandsPaid, Heat, HeatOff, HeatOn, Keeping, LidRule, NextLoad, Rules,
    Split, TopUp, WhenFull,
};
pub use station::{
    Frees, Heater, HeaterKind, Inside, Insulation, LidKind, Station, Tank, Wall, WallMaterial,
};
pub use vessel::Vessel;
pub use walks::Walks;

use crate::units::{Length, Moment, Power, Pressure, Share, Temperature};

/// The air of the room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Dry-bulb temperature.
    pub temperature: Temperature,
    /// Relative humidity, 0 to 1.
    pub humidity: Share,
    /// Barometric pressure.
    pub pressure: Pressure,
    /// Height above the sea that the pressure came from, for print.
    pub altitude: Length,
}

/// What things cost, in the shop's own currency.
#[derive(Debug, Clone, PartialEq)]
pub struct Prices {
    /// How the currency is written: `EUR`.
    pub currency: String,
    /// For one kWh.
    pub power_per_kwh: f64,
    /// For one hour of one pair of hands.
    pub hands_per_hour: f64,
    /// Until when hands are paid.
    pub hands_paid: HandsPaid,
    /// For one litre of distilled or deionised water.
    pub water_per_litre: f64,
    /// For one litre of concentrate.
    pub concentrate_per_litre: f64,
    /// For one litre of tap water in a rinse.
    pub rinse_per_litre: f64,
    /// For one litre of spent liquid or wet sludge that is taken away.
    pub waste_per_litre: f64,
    /// For one filter medium.
    pub filter_each: f64,
    /// The prices that were stated, as the scenario calls them: one that was not is nothing because nobody knows it.
    pub stated: Vec<&'static str>,
    /// What the shop charges with beside them.
    pub rates: Rates,
}

impl Prices {
    /// Whether any price was stated.
    #[must_use]
    pub fn given(&self) -> bool {
        !self.stated.is_empty()
    }
}

/// A shop, checked and complete.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// What the scenario calls itself.
    pub title: String,
    /// Days, opening hours and breaks.
    pub calendar: Calendar,
    /// Pairs of hands, all alike. None where every step works by itself.
    pub hands: u32,
    /// The air of the room.
    pub air: Air,
    /// Prices.
    pub prices: Prices,
    /// Baths by recipe; a tank holds one of them.
    pub baths: Vec<BathRecipe>,
    /// Stations, tanks among them.
    pub stations: Vec<Station>,
    /// Storage vessels.
    pub vessels: Vec<Vessel>,
    /// What all heaters together may draw; none where nothing limits them.
    pub supply: Option<Power>,
    /// Whether a pump moves a hot bath, so that nobody carries it.
    pub pump: bool,
    /// Materials, built in and the shop's own.
    pub materials: Vec<Material>,
    /// Kinds of part.
    pub parts: Vec<Part>,
    /// Routes.
    pub routes: Vec<Route>,
    /// Orders, as stated or as streams.
    pub orders: Vec<Order>,
    /// Rules of the shop.
    pub rules: Rules,
    /// How long hands take between stations.
    pub walks: Walks,
    /// What a plan is to be good at.
    pub aim: Aim,
}

impl Shop {
    /// How many pairs of hands there are at a moment; after closing those of the hours before, at first those of the first.
    #[must_use]
    pub fn hands_at(&self, at: Moment) -> u32 {
        let crews = &self.calendar.crews;
        let begun = crews.partition_point(|c| c.from <= at);
        let crew = crews.get(begun.saturating_sub(1));
        crew.map_or(self.hands, |c| c.hands.min(self.hands))
    }

    /// How many pairs of hands come with each stretch of a day; none where there are always all of the shop's.
    #[must_use]
    pub fn crews_of(&self, day: &Day) -> Vec<Crew> {
        let of = |(from, _)| Crew {
            from,
            hands: self.hands_at(from),
        };
        match self.calendar.crews.is_empty() {
            true => Vec::new(),
            false => day.stretches().map(of).collect(),
        }
    }

    /// What work must have in common with an order to go into a bath together with it; nothing goes in with it if there is
    /// none. Loads of unlike stages of their routes are kept apart besides.
    #[must_use]
    pub fn company(&self, order: OrderId) -> Option<Company> {
        let order = &self.orders[order.index()];
        let part = match self.rules.combine {
            Combine::Never => return None,
            Combine::SamePart => Some(order.part),
            Combine::SameRoute => None,
        };
        Some(Company {
            route: order.route,
            part,
            looks: self.rules.hold_back.then_some(order.looks),
        })
    }

    /// The step behind a reference.
    #[must_use]
    pub fn step(&self, at: StepRef) -> &Step {
        &self.routes[at.route.index()].steps[at.step.index()]
    }

    /// The step that a record or a plan names; none if the shop has no such step.
    #[must_use]
    pub fn find_step(&self, at: StepRef) -> Option<&Step> {
        self.routes.get(at.route.index())?.steps.get(at.step.index())
    }

    /// What a station is called; `?` if the shop has none of this number.
    #[must_use]
    pub fn station_name(&self, id: StationId) -> &str {
        self.stations.get(id.index()).map_or("?", |s| s.name.as_str())
    }

    /// The tank that a station is; none if it is no tank.
    #[must_use]
    pub fn tank(&self, id: StationId) -> Option<&Tank> {
        self.stations.get(id.index())?.tank.as_ref()
    }

    /// Whether pieces of an order may go into a tank: they fit under its solution, and neither they nor the order are
    /// meant for another tank of the same bath.
    #[must_use]
    pub fn takes(&self, order: OrderId, tank: StationId) -> bool {
        let Some(order) = self.orders.get(order.index()) else {
            return false;
        };
        let goes = &self.parts[order.part.index()].goes;
        let bath = |s: StationId| self.tank(s).map(|t| t.bath);
        let meant = |tank: StationId| {
            let apart = |named: &[StationId]| named.iter().any(|s| bath(*s) == bath(tank));
            let named = [&goes.tanks, &order.tanks].into_iter();
            named.into_iter().all(|n| n.contains(&tank) || !apart(n))
        };
        let lies = |s: StationId| goes.lies(self.tank(s)?);
        let fits = match lies(tank) {
            None => false,
            // Nothing goes half into one tank that another covers whole.
            Some(Lies::Turned) => !self.tanks().any(|(other, ..)| {
                let whole = lies(other).is_some_and(|l| l != Lies::Turned);
                whole
                    && bath(other) == bath(tank)
                    && meant(other)
                    && self.may_go_instead(order.route, tank, other)
            }),
            Some(_) => true,
        };
        fits && meant(tank)
    }

    /// Whether every step of a route that may happen in a tank may happen in another as well.
    fn may_go_instead(&self, route: RouteId, tank: StationId, other: StationId) -> bool {
        let steps = &self.routes[route.index()].steps;
        let mut here = steps.iter().filter(|s| s.stations.contains(&tank));
        here.all(|s| s.stations.contains(&other))
    }

    /// Tanks with their station ids, in the order written.
    pub fn tanks(&self) -> impl Iterator<Item = (StationId, &Station, &Tank)> {
        self.stations
            .iter()
            .enumerate()
            .filter_map(|(i, s)| s.tank.as_ref().map(|t| (StationId(i as u32), s, t)))
    }
}
