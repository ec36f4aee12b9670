//! Rinses as meant.

use crate::written::Station;
use tankday_base::shop::{Renewal, Rinse};
use tankday_base::units::Span;

/// The water of a station; inner none where nobody counts it. Where there are no hands it is never renewed.
pub(super) fn rinse(written: &Station, hands: u32) -> Option<Option<Rinse>> {
    let Some(fill) = &written.fill else {
        return Some(None);
    };
    let rule = written.renew.as_ref()?.rule.as_ref();
    let by_hand = rule.filter(|_| hands > 0);
    Some(Some(Rinse {
        fill: fill.value,
        tubs: written.tubs.as_ref()?.value,
        flow: written.flow.as_ref()?.value,
        temperature: written.temperature.as_ref()?.value,
        renewal: Renewal {
            at: by_hand.and_then(|r| r.at.as_ref()).map(|at| at.value),
            after: by_hand.and_then(|r| r.after.as_ref()).map(|n| n.value),
            at_opening: by_hand
                .and_then(|r| r.at_opening.as_ref())
                .is_some_and(|o| o.value),
            takes: rule
                .and_then(|r| r.takes.as_ref())
                .map_or(Span::ZERO, |t| t.value),
        },
    }))
}
