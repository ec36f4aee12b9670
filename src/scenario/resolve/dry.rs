//! Steps that dry by the air of the room as meant.

use super::Context;
use crate::names::Names;
use crate::written::{File, Route, Step};
use tankday_base::bath::dry::in_air;
use tankday_base::random::Spread;
use tankday_base::shop::StepTime;
use tankday_base::units::{Span, VolumePerArea};

/// How long a step dries where the air decides; none for any other step.
pub(super) fn time(written: &Step, route: &Route, c: Context) -> Option<StepTime> {
    Some(StepTime::Work {
        load: Spread::Fixed(needed(written, route, c.file, c.names)?),
        each: Span::ZERO,
    })
}

/// The time that the wettest part ordered on a route takes, its film as stated or as it drains, which is taken to be
/// the same from a rinse as from a bath.
pub(crate) fn needed(written: &Step, route: &Route, file: &File, names: &Names) -> Option<Span> {
    let speed = written.dries.as_ref()?.value;
    let air = super::air(file.shop.as_ref()?.air.as_ref()?)?;
    let film = match &written.film {
        Some(stated) => stated.value,
        None => wettest(route, file, names),
    };
    Some(in_air(film, &air, speed))
}

fn wettest(route: &Route, file: &File, names: &Names) -> VolumePerArea {
    let name = Some(route.name.value.as_str());
    let own = file
        .orders
        .iter()
        .filter(|o| o.route.as_ref().map(|r| r.value.as_str()) == name);
    let parts = own.filter_map(|o| {
        let number = names.parts.get(&o.part.as_ref()?.value)?;
        file.parts.get(*number as usize)?.drag_out()
    });
    parts.fold(VolumePerArea::ZERO, VolumePerArea::max)
}
