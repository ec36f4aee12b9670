//! Rules of meaning: what a scenario must keep beyond its format. One function each, from the facts to findings.

mod bath;
mod believe;
mod care;
mod chemistry;
mod clocked;
mod dry;
mod film;
mod fits;
mod grows;
mod handled;
mod hands;
mod heat;
mod heats;
mod hours;
mod kinds;
mod level;
mod liquid;
mod material;
mod names;
mod orders;
mod part;
mod ready;
mod relief;
mod rinse;
mod room;
mod route;
mod shop;
mod spoken;
mod start;
mod step;
mod tank;
mod temper;
mod turned;
mod vessel;
mod warms;

use super::calendar::Hours;
use super::finding::Finding;
pub(super) use names::not_known;

use super::names::Names;
use super::node::Spanned;
use super::resolve;
use super::walk::MOST_FINDINGS;
use super::written::{Act, Bath, File, Material, Order, Part, Route, Station, Step, Tank, Vessel};
use std::collections::BTreeSet;

use tankday_base::shop::Shop;
use tankday_base::units::{Area, Mass, Pressure, Temperature};

/// What the rules look at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Facts<'a> {
    /// As written.
    pub(super) file: &'a File,
    /// Its names.
    pub(super) names: &'a Names,
    /// Its days, if nothing is wrong with them.
    pub(super) hours: Option<&'a Hours>,
}

/// A rule: of what it is asked, and how.
#[derive(Debug, Clone, Copy)]
enum Rule {
    /// Of the scenario as a whole.
    Whole(fn(&Facts) -> Vec<Finding>),
    /// The same, with one finding at most.
    Once(fn(&Facts) -> Option<Finding>),
    /// Of each bath, and so on.
    Bath(Of<Bath>),
    Tank(Of<Tank>),
    Station(Of<Station>),
    Vessel(Of<Vessel>),
    Part(Of<Part>),
    Order(Of<Order>),
    Material(Of<Material>),
    Step(Of<Step>),
    /// Of each part that goes into a bath.
    Coated(Of<Part>),
    /// Of each part that is ordered and each step that coats it, the two once together.
    Coating(for<'a> fn(&Facts<'a>, &'a Part, &'a Step) -> Option<Finding>),
    /// Of each rule of care.
    Act(Of<Act>),
}

/// What is wrong with one thing.
type Of<T> = for<'a> fn(&Facts<'a>, &'a T) -> Option<Finding>;

impl Rule {
    fn check(self, f: &Facts) -> Vec<Finding> {
        match self {
            Self::Whole(rule) => rule(f),
            Self::Once(rule) => rule(f).into_iter().collect(),
            Self::Bath(rule) => f.each(&f.file.baths, rule),
            Self::Tank(rule) => f.each(&f.file.tanks, rule),
            Self::Station(rule) => f.each(&f.file.stations, rule),
            Self::Vessel(rule) => f.each(&f.file.vessels, rule),
            Self::Part(rule) => f.each(&f.file.parts, rule),
            Self::Order(rule) => f.each(&f.file.orders, rule),
            Self::Material(rule) => f.each(&f.file.materials, rule),
            Self::Step(rule) => f.each(f.steps().map(|(_, step)| step), rule),
            Self::Coated(rule) => f.each(f.coated(), rule),
            Self::Coating(rule) => f.pairs().filter_map(|(part, step)| rule(f, part, step)).collect(),
            Self::Act(rule) => f.each(f.acts(), rule),
        }
    }
}

const ALL: &[&[Rule]] = &[
    shop::ALL,
    names::ALL,
    bath::ALL,
    tank::ALL,
    liquid::ALL,
    part::ALL,
    material::ALL,
    step::ALL,
    kinds::ALL,
    route::ALL,
    dry::ALL,
    film::ALL,
    relief::ALL,
    temper::ALL,
    spoken::ALL,
    rinse::ALL,
    room::ALL,
    fits::ALL,
    turned::ALL,
    level::ALL,
    hours::ALL,
    believe::ALL,
    orders::ALL,
    hands::ALL,
    heat::ALL,
    chemistry::ALL,
    care::ALL,
    handled::ALL,
    vessel::ALL,
];

/// Everything that the rules find.
pub(super) fn check(facts: &Facts) -> Vec<Finding> {
    ALL.iter()
        .flat_map(|topic| topic.iter())
        .flat_map(|rule| rule.check(facts))
        .collect()
}

/// What can be said only once the shop is understood: how its baths get hot, and whether they can begin.
pub(super) fn of_shop(facts: &Facts, shop: &Shop) -> Vec<Finding> {
    let rules: [fn(&Facts, &Shop) -> Vec<Finding>; 3] = [warms::found, start::found, grows::found];
    rules.into_iter().flat_map(|rule| rule(facts, shop)).collect()
}

impl<'a> Facts<'a> {
    fn each<T: 'a>(&self, all: impl IntoIterator<Item = &'a T>, rule: Of<T>) -> Vec<Finding> {
        let found = all.into_iter().filter_map(|one| rule(self, one));
        found.take(MOST_FINDINGS).collect()
    }

    /// Every rule of care.
    fn acts(&self) -> impl Iterator<Item = &'a Act> + use<'a> {
        let care = self.file.rules.as_ref().and_then(|r| r.care.as_ref());
        care.into_iter().flat_map(|c| c.acts())
    }

    /// The temperature of the air.
    fn air(&self) -> Option<&'a Spanned<Temperature>> {
        self.file.shop.as_ref()?.air.as_ref()?.temperature.as_ref()
    }

    /// Where it is written that the shop has no hands, if it has none.
    fn no_hands(&self) -> Option<&'a Spanned<u32>> {
        self.file.shop.as_ref()?.hands.as_ref().filter(|h| h.value == 0)
    }

    /// Every step of every route.
    fn steps(&self) -> impl Iterator<Item = (&'a Route, &'a Step)> + use<'a> {
        self.file
            .routes
            .iter()
            .flat_map(|r| r.steps.iter().map(move |s| (r, s)))
    }

    fn bath(&self, name: &str) -> Option<&'a Bath> {
        self.file.baths.get(*self.names.baths.get(name)? as usize)
    }

    fn part(&self, name: &str) -> Option<&'a Part> {
        self.file.parts.get(*self.names.parts.get(name)? as usize)
    }

    fn route(&self, name: &str) -> Option<&'a Route> {
        self.file.routes.get(*self.names.routes.get(name)? as usize)
    }

    /// The tank of that name, if it is one.
    fn tank(&self, name: &str) -> Option<&'a Tank> {
        self.file.tanks.get(*self.names.stations.get(name)? as usize)
    }

    /// Whether every tank names a bath that there is: one of another bath may be missing where something should fit.
    fn tanks_are_known(&self) -> bool {
        let known = |t: &Tank| t.bath.as_ref().is_some_and(|b| self.bath(&b.value).is_some());
        self.file.tanks.iter().all(known)
    }

    /// The tanks in which a coating step may happen.
    fn tanks_for(&self, step: &'a Step) -> Vec<&'a Tank> {
        let bath = step.bath.as_ref().map(|b| b.value.as_str());
        let holds = |t: &&Tank| bath.is_some() && t.bath.as_ref().map(|b| b.value.as_str()) == bath;
        if step.stations.is_empty() {
            return self.file.tanks.iter().filter(holds).collect();
        }
        step.stations
            .iter()
            .filter_map(|s| self.tank(&s.value))
            .filter(holds)
            .collect()
    }

    /// Those of them that an order and its part do not rule out by naming others of the same bath.
    fn tanks_meant(&self, order: &'a Order, part: &'a Part, step: &'a Step) -> Vec<&'a Tank> {
        let own = self.tanks_for(step);
        let bath = step.bath.as_ref().map(|b| b.value.as_str());
        let of_bath = |n: &&Spanned<String>| {
            let tank = self.tank(&n.value).and_then(|t| t.bath.as_ref());
            tank.map(|b| b.value.as_str()) == bath
        };
        let meant = |named: &[Spanned<String>], tank: &Tank| {
            let mut named = named.iter().filter(of_bath).peekable();
            let name = tank.name.as_ref().map(|n| n.value.as_str());
            named.peek().is_none() || named.any(|n| Some(n.value.as_str()) == name)
        };
        own.into_iter()
            .filter(|t| meant(&part.tanks, t) && meant(&order.tanks, t))
            .collect()
    }

    /// What a part is made of.
    fn material(&self, part: &Part) -> Option<tankday_base::shop::Material> {
        self.material_called(&part.material.as_ref()?.value)
    }

    /// A material by its name.
    fn material_called(&self, name: &str) -> Option<tankday_base::shop::Material> {
        let number = *self.names.materials.get(name)? as usize;
        match self.names.built_in.get(number) {
            Some(built_in) => Some(built_in.clone()),
            None => resolve::material(
                self.file.materials.get(number - self.names.built_in.len())?,
                &self.names.built_in,
            ),
        }
    }

    /// Mass and surface of one piece, as stated or by its shape.
    fn measures(&self, part: &Part) -> Option<(Mass, Area)> {
        part.measures(self.material(part)?.density)
    }

    /// Every coating that is asked for: which order, which part, which step.
    fn coatings(&self) -> impl Iterator<Item = (&'a Order, &'a Part, &'a Step)> + use<'a, '_> {
        self.file.orders.iter().flat_map(|order| self.coatings_of(order))
    }

    /// Parts that go into a bath, each once.
    fn coated(&self) -> impl Iterator<Item = &'a Part> + use<'a, '_> {
        let mut seen = BTreeSet::new();
        let parts = self.coatings().map(|(_, part, _)| part);
        parts.filter(move |part| seen.insert(part.name.at.start))
    }

    /// Each pair of part and coating step once, whatever orders there are.
    fn pairs(&self) -> impl Iterator<Item = (&'a Part, &'a Step)> + use<'a, '_> {
        let mut seen = BTreeSet::new();
        let all = self.coatings().map(|(_, part, step)| (part, step));
        all.filter(move |(part, step)| seen.insert((part.name.at.start, step.places.at.start)))
    }

    fn coatings_of(&self, order: &'a Order) -> Vec<(&'a Order, &'a Part, &'a Step)> {
        let name = |got: &'a Option<Spanned<String>>| got.as_ref().map(|n| n.value.as_str());
        let (Some(part), Some(route)) = (
            name(&order.part).and_then(|n| self.part(n)),
            name(&order.route).and_then(|n| self.route(n)),
        ) else {
            return Vec::new();
        };
        let coats = route.steps.iter().filter(|s| s.coats() && s.concerns(part));
        coats.map(|step| (order, part, step)).collect()
    }

    /// Pressure of the room's air.
    fn pressure(&self) -> Option<Pressure> {
        resolve::air(self.file.shop.as_ref()?.air.as_ref()?).map(|a| a.pressure)
    }
}
