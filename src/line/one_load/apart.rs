//! What does not go in with a load, and why.

use super::{Trial, routes};
use crate::baths::window;
use crate::compile::ANY_STAY;
use tankday_base::bath::Substrate;
use tankday_base::shop::{CoatRule, Coats, Combine, Part, PartId, RouteId};
use tankday_base::units::Span;
use tankday_record::one_load::{Apart, Clash, Forbids, Ruled};

impl Trial<'_> {
    /// Parts of the shop that do not go in with it.
    pub(super) fn apart(&self) -> Vec<Apart> {
        let all = (0..).map(PartId).zip(&self.shop.parts);
        let others = all.filter(|(id, _)| self.lots.iter().all(|(own, _)| own != id));
        let why = |(part, p): (PartId, &Part)| {
            Some(Apart {
                part,
                why: self.keeps_apart(part, p)?,
            })
        };
        others.filter_map(why).collect()
    }

    fn keeps_apart(&self, id: PartId, part: &Part) -> Option<String> {
        let material = &self.shop.materials[part.material.index()];
        if let Coats::No(why) = &material.coats {
            return Some(why.clone());
        }
        if part.goes.lies(self.tank).is_none() {
            return Some("doesn't go under the solution".to_owned());
        }
        let own = self.lots.iter().map(|(own, _)| *own);
        let ruled = own.filter_map(|own| self.ruled_apart(own, id)).next();
        if let Some(rule) = ruled {
            return Some(match rule {
                Ruled::NothingTogether => "the shop's rules put no loads together".to_owned(),
                Ruled::OnePart => "the shop's rules put only pieces of one part together".to_owned(),
                Ruled::OneRoute(_, way) => format!("another route: {}", self.route_name(way)),
            });
        }
        self.stays_differently(part, Substrate::of(material))
    }

    /// Pairs of its own parts that the shop's rules, or their dwells, keep out of one load.
    pub(super) fn clashes(&self) -> Vec<Clash> {
        let parts = self.lots.iter().map(|(part, _)| *part);
        let pairs = parts
            .clone()
            .enumerate()
            .flat_map(|(n, one)| parts.clone().skip(n + 1).map(move |other| (one, other)));
        let clash = |(one, other): (PartId, PartId)| {
            let ruled = self.ruled_apart(one, other).map(Forbids::Rule);
            let why = ruled.or_else(|| self.no_common_stay(one, other))?;
            Some(Clash { one, other, why })
        };
        pairs.filter_map(clash).collect()
    }

    /// What the shop's rules say against two parts in one load.
    fn ruled_apart(&self, one: PartId, other: PartId) -> Option<Ruled> {
        if one == other {
            return None;
        }
        match self.shop.rules.combine {
            Combine::Never => Some(Ruled::NothingTogether),
            Combine::SamePart => Some(Ruled::OnePart),
            Combine::SameRoute => {
                let [a, b] = [one, other].map(|part| routes(self.shop, self.tank, part));
                let shared = a.iter().any(|route| b.contains(route));
                (!shared).then(|| Ruled::OneRoute(a.first().copied(), b.first().copied()))
            }
        }
    }

    /// Two parts whose own dwells leave no time that both may stay.
    fn no_common_stay(&self, one: PartId, other: PartId) -> Option<Forbids> {
        let dwell = |part: PartId| self.shop.parts.get(part.index()).and_then(|p| p.dwell);
        let (a, b) = (dwell(one)?, dwell(other)?);
        (a.0.max(b.0) > a.1.min(b.1)).then_some(Forbids::Dwells(a, b))
    }

    fn route_name(&self, route: Option<RouteId>) -> String {
        let route = route.and_then(|r| self.shop.routes.get(r.index()));
        route.map_or_else(|| "no route to this bath".to_owned(), |r| r.name.clone())
    }

    /// Its own dwell, or the time that its target takes, is not that of the load.
    fn stays_differently(&self, part: &Part, on: Substrate) -> Option<String> {
        let (least, most) = window(self.recipe, &self.cargo);
        let own = part.dwell.unwrap_or((Span::ZERO, ANY_STAY));
        if own.0 > most || own.1 < least {
            return Some(format!(
                "stays {:.0} to {:.0} min, this load {:.0} to {:.0} min",
                own.0.in_minutes(),
                own.1.in_minutes(),
                least.in_minutes(),
                most.in_minutes()
            ));
        }
        let CoatRule::Target(target) = self.recipe.coat else {
            return None;
        };
        let needs = self
            .recipe
            .growth
            .time_for(target, on, self.recipe.band.hold)
            .ok()?;
        (needs > most).then(|| {
            format!(
                "needs {:.0} min to its target, this load may stay {:.0} min",
                needs.in_minutes(),
                most.in_minutes()
            )
        })
    }
}
