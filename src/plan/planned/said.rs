//! What is told of it.

use super::{Planned, can_be_planned};
use serde::{Deserialize, Serialize};
use tankday_base::shop::Shop;

/// What the alternatives follow.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Following {
    /// Each its own rules.
    Rules {
        /// Whether a plan might change that: there is an order.
        can_be_planned: bool,
    },
    /// Each the best plan that is known for it.
    Plans {
        /// How much was searched for each, as it is typed.
        effort: String,
        /// What each follows.
        each: Vec<Followed>,
        /// How many searches came to their end.
        searched: usize,
    },
}

/// What one follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Followed {
    /// The plan that was found for it.
    OwnPlan,
    /// The plan that was found for another, by its place.
    PlanOf(usize),
    /// Plans of each day by itself, since orders come by chance.
    EachMorning,
    /// Its own rules: no plan is better.
    OwnRules,
    /// Its own rules: it has no order.
    NothingToPlan,
    /// Its own rules: the search was stopped before it was its turn.
    NotSearched,
}

impl Following {
    /// The rules of these shops.
    #[must_use]
    pub fn rules(shops: &[&Shop]) -> Self {
        Self::Rules {
            can_be_planned: shops.iter().any(|s| can_be_planned(s)),
        }
    }

    /// Plans.
    #[must_use]
    pub fn plans(shops: &[&Shop], planned: &[Planned], effort: String) -> Self {
        let one = |(at, (shop, planned)): (usize, (&&Shop, &Planned))| match &planned.plan {
            Some(_) if planned.from == at => Followed::OwnPlan,
            Some(_) => Followed::PlanOf(planned.from),
            None if planned.each_morning.is_some() => Followed::EachMorning,
            None if !can_be_planned(shop) => Followed::NothingToPlan,
            None if planned.searched => Followed::OwnRules,
            None => Followed::NotSearched,
        };
        Self::Plans {
            effort,
            each: shops.iter().zip(planned).enumerate().map(one).collect(),
            searched: planned.iter().filter(|p| p.searched).count(),
        }
    }

    /// Whether plans are followed.
    #[must_use]
    pub const fn planned(&self) -> bool {
        matches!(self, Self::Plans { .. })
    }
}
