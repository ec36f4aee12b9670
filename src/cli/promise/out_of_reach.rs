//! An order that no plan has ready, however long it is searched for.

use tankday_base::shop::{Arrival, Day, Shop};
use tankday_base::units::{Moment, Span};
use tankday_plan::bounds;

/// So many opening days beyond those stated are looked at for a promise, and none of them lies further ahead than so many
/// days of the calendar.
pub(super) const MORE_DAYS: usize = 6;
const AHEAD: usize = 31;

/// The last order of a shop alone in it, with as many hours as any calendar has that is looked at: as many further days, each as
/// long as the longest stated, without breaks, and as far ahead as can be.
fn alone_with_all_hours(shop: &Shop) -> Option<Shop> {
    let new = shop.orders.last()?.clone();
    let last = shop.calendar.days.last()?.clone();
    if shop.calendar.days.iter().any(|d| d.close == Moment::NEVER) {
        return None;
    }
    let longest = shop.calendar.days.iter().map(|d| d.close - d.open).max()?;
    let mut alone = shop.clone();
    alone.orders = vec![new];
    let further = AHEAD - MORE_DAYS + 1..=AHEAD;
    alone.calendar.days.extend(further.map(|ahead| {
        let open = last.open + Span::hours(24.0).times(ahead as f64);
        Day {
            open,
            close: open + longest,
            breaks: Vec::new(),
            stays: last.stays,
        }
    }));
    let close = alone.calendar.days.last()?.close;
    alone.rules.stop = alone.rules.stop + (close - last.close);
    Some(alone)
}

/// Whether what no plan can beat says that the last order of a shop is not ready on the days stated nor on those that follow,
/// though nothing else were to be done.
pub(super) fn out_of_reach(shop: &Shop) -> bool {
    let comes_once = |s: &Shop| matches!(s.orders.last().map(|o| &o.arrival), Some(Arrival::At(_)));
    let Some(alone) = alone_with_all_hours(shop).filter(comes_once) else {
        return false;
    };
    bounds(&alone).finish > alone.rules.stop
}
