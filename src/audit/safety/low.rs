//! A hot bath does not run low beside idle hands, and no heater is on below its level.

use super::spell::{Spell, common, joined, total, without};
use super::tanks::Watched;
use super::there::There;
use super::{Danger, DangerKind};
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, Quantity, Span};
use tankday_record::{CareKind, LogEntry, Record};

/// So long may hands with nothing else to do let a low bath wait: they keep clear of what would make them late for a load
/// that must come out, and the end of a top-up must lie before a break. A choice of this check.
const GRACE: Span = Span::whole_minutes(20);

/// How long a heater may be on below its level before it has switched itself off.
const MOMENT: Span = Span::whole_minutes(1);

pub(super) fn check(
    shop: &Shop,
    record: &Record,
    tank: &Watched<'_>,
    there: &There,
    found: &mut Vec<Danger>,
) {
    beside_hands(shop, record, tank, there, found);
    // A shop without hands stands for a machine that nobody tops up: it has no level.
    if shop.hands > 0 {
        below_heater(tank, found);
    }
}

/// A heater that is on below its level boils its bath dry; for a moment it may, until it has switched itself off.
fn below_heater(tank: &Watched<'_>, found: &mut Vec<Danger>) {
    let level = tank.tank.fill.base() * tank.tank.heater.cut_off.in_fraction();
    for spell in common(&tank.below(level * (1.0 - 1e-3)), &tank.on()) {
        if spell.length() > MOMENT {
            let words = format!(
                "its heater is on with {:.2} L in it, below its level",
                tank.level(spell.to) * 1e3
            );
            found.push(Danger::of(DangerKind::BelowHeater, spell, tank.id, words));
        }
    }
}

fn beside_hands(shop: &Shop, record: &Record, tank: &Watched<'_>, there: &There, found: &mut Vec<Danger>) {
    let mark = shop.rules.top_up.below.in_fraction() * tank.tank.fill.base();
    if mark <= 0.0 {
        return;
    }
    let (cares, loaded) = (cared(record, tank.id, tank.end, |_| true), tank.loaded());
    // With a load in it may sink half way to where its heater switches itself off.
    let cut = (tank.tank.fill.base() * tank.tank.heater.cut_off.in_fraction()).min(mark);
    let far_below = common(&tank.below((mark + cut) / 2.0), &loaded);
    let low = without(&tank.below(mark), &loaded).into_iter().chain(far_below);
    let low = common(&joined(low.collect()), &tank.on());
    for spell in without(&low, &joined(cares)) {
        let idle = common(&[spell], &there.idle);
        if total(&idle) > GRACE {
            let litres = tank.level(spell.to) * 1e3;
            let words = format!(
                "its heater is on and it is low, down to {litres:.2} L, for {:.0} min beside idle hands",
                total(&idle).in_minutes()
            );
            found.push(Danger::of(DangerKind::Low, spell, tank.id, words));
        }
    }
}

/// When a tank is under care of some kinds.
pub(super) fn cared(
    record: &Record,
    id: StationId,
    end: Moment,
    which: impl Fn(CareKind) -> bool,
) -> Vec<Spell> {
    let (mut begun, mut cared) = (None, Vec::new());
    for entry in &record.entries {
        match entry.event {
            LogEntry::CareBegins { tank, care } if tank == id && which(care) => begun = Some(entry.at),
            LogEntry::CareEnds { tank, .. } if tank == id => {
                cared.extend(begun.take().map(|from| Spell::new(from, entry.at)));
            }
            _ => {}
        }
    }
    cared.extend(begun.map(|from| Spell::new(from, end)));
    cared
}
