//! What does not go in with a load, and why.

use super::{Trial, usual_route};
use crate::baths::window;
use crate::compile::ANY_STAY;
use tankday_base::bath::Substrate;
use tankday_base::shop::{CoatRule, Coats, Combine, Part, PartId};
use tankday_base::units::Span;
use tankday_record::one_load::Apart;

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
        let route = |part| usual_route(self.shop, self.tank, part);
        let own = self.lots.iter().map(|(p, _)| *p);
        let differs = own.clone().find(|p| route(*p) != route(id));
        match self.shop.rules.combine {
            Combine::Never => return Some("the shop's rules put no loads together".to_owned()),
            Combine::SamePart => {
                return Some("the shop's rules put only pieces of one part together".to_owned());
            }
            Combine::SameRoute if differs.is_some() => {
                let name = |part| route(part).and_then(|r| self.shop.routes.get(r.index()));
                let way = name(id).map_or_else(|| "no route to this bath".to_owned(), |r| r.name.clone());
                return Some(format!("another route: {way}"));
            }
            Combine::SameRoute => {}
        }
        self.stays_differently(part, Substrate::of(material))
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
