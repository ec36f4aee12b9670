//! Steps that relieve stress or hydrogen as meant: how hot, how long.

use super::Context;
use crate::thing::Thing;
use crate::written::{Order, Route, Step};
use tankday_base::bath::hydrogen::{RELIEF, RELIEF_AT_REST, RELIEVED_FROM, Steel};
use tankday_base::random::Spread;
use tankday_base::shop::{Relief, Relieves, StepTime};
use tankday_base::units::{Length, Span};

/// What a step relieves.
pub(super) fn relief(written: &Step) -> Option<Relief> {
    Some(Relief {
        what: written.relieves.as_ref()?.value,
        heat: written.heat.as_ref().and_then(|h| h.value),
    })
}

/// How long a step that relieves takes where nobody wrote it; none for any other step.
pub(super) fn time(written: &Step, route: &Route, c: Context) -> Option<StepTime> {
    let needed = needed(written, thickest(route, &c.file.orders, c))?;
    (written.place(&Step::time).is_none()).then_some(StepTime::Work {
        load: Spread::Fixed(needed),
        each: Span::ZERO,
    })
}

/// The least time of a step that relieves, for the greatest thickness of what passes it.
pub(crate) fn needed(written: &Step, thickest: Length) -> Option<Span> {
    let hard = Steel {
        hardness: Some(RELIEVED_FROM),
        worked_cold: true,
        ..Steel::default()
    };
    match (written.relieves.as_ref()?.value, written.heat.as_ref()?.value) {
        (Relieves::Stress, _) => hard.needs(thickest).stress_relief.map(|bake| bake.time),
        (Relieves::Hydrogen, Some(_)) => Some(RELIEF.time),
        (Relieves::Hydrogen, None) => Some(RELIEF_AT_REST),
    }
}

/// The greatest thickness of the parts that are ordered on a route.
fn thickest(route: &Route, orders: &[Order], c: Context) -> Length {
    let own = orders
        .iter()
        .filter(|o| o.route.as_ref().is_some_and(|r| r.value == route.name.value));
    let parts = own.filter_map(|o| {
        let number = c.names.parts.get(&o.part.as_ref()?.value)?;
        c.file.parts.get(*number as usize)
    });
    parts
        .filter_map(|p| Some(p.thick.as_ref()?.value))
        .fold(Length::ZERO, Length::max)
}
