//! Rinses as meant.

use crate::written;
use tankday_base::shop::{Renewal, Rinse};
use tankday_base::units::Span;

/// The water of a station; inner none where nobody counts it. Where there are no hands it is never renewed.
pub(super) fn rinse(written: &written::Rinse, hands: u32) -> Option<Option<Rinse>> {
    let Some(fill) = &written.fill else {
        return Some(None);
    };
    let renew = written.renew.as_ref()?;
    let by_hand = hands > 0;
    Some(Some(Rinse {
        fill: fill.value,
        tubs: written.tubs.as_ref()?.value,
        flow: written.flow.as_ref()?.value,
        temperature: written.temperature.as_ref()?.value,
        renewal: Renewal {
            at: renew.at.as_ref().filter(|_| by_hand).map(|at| at.value),
            after: renew.after.as_ref().filter(|_| by_hand).map(|n| n.value),
            at_opening: by_hand && renew.at_opening.as_ref().is_some_and(|o| o.value),
            takes: renew.takes.as_ref().map_or(Span::ZERO, |t| t.value),
        },
    }))
}
