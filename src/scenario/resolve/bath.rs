//! Baths as meant.

use crate::luck::Spread;
use crate::scenario::written::Bath;
use crate::shop::{Band, BathRecipe, BathState, CoatRule, Room};
use crate::units::Span;

/// A bath. Without a coating rule of its own, a stated window decides alone: a load stays its shortest.
pub(super) fn bath(written: &Bath) -> Option<BathRecipe> {
    let band = written.band.as_ref()?;
    let coat = written.coat.as_ref()?;
    let (least, most) = written.dwell.as_ref()?.value;
    let rule = match &coat.time {
        Some(time) => CoatRule::Time(time.value.clone()),
        None if !coat.written && written.dwell_written => CoatRule::Time(Spread::Fixed(least)),
        None => CoatRule::Target(coat.target.as_ref()?.value),
    };
    Some(BathRecipe {
        name: written.name.value.clone(),
        band: Band {
            least: band.least.as_ref()?.value,
            hold: band.hold.as_ref()?.value,
            most: band.most.as_ref()?.value,
        },
        room: Room {
            area: written.area.as_ref()?.value,
            mass: written.mass.as_ref()?.value,
        },
        least: own_window(written, &rule, least),
        most,
        coat: rule,
        now: state(written)?,
    })
}

/// A time that is stated without a window is not held up by the usual shortest stay.
fn own_window(written: &Bath, rule: &CoatRule, least: Span) -> Span {
    match rule {
        CoatRule::Time(_) if !written.dwell_written => Span::ZERO,
        _ => least,
    }
}

fn state(written: &Bath) -> Option<BathState> {
    let now = written.now.as_ref()?;
    Some(BathState {
        total_acid: now.total_acid.as_ref()?.value,
        free_acid: now.free_acid.as_ref()?.value,
        iron: now.iron.as_ref()?.value,
        sludge: now.sludge.as_ref()?.value,
        uses: now.uses.as_ref()?.value,
        area: now.area.as_ref()?.value,
    })
}
