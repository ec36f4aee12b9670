//! Which rule of care brings a bath back that reads outside its limits, and when it acts.

use tankday_base::print::number;
use tankday_base::shop::{Care, Chore, Reads, Shop, Trigger, Trimming};
use tankday_record::{CareKind, Caution, Reading};

/// `its rule `replenish` acts before the next load`: none where no rule of the shop would bring back what a caution has read.
pub(super) fn rule(shop: &Shop, caution: &Caution) -> Option<String> {
    let reading = caution.reading?;
    let tank = shop.tank(caution.station?)?;
    let limits = shop.baths.get(tank.bath.index())?.limits;
    let low = match reading {
        Reading::Strength(now) => now < limits.strength.stop_below,
        Reading::Ratio(now) => now < limits.ratio.stop_below,
        Reading::Iron(now) => now < limits.iron.stop_below,
        _ => false,
    };
    let own = shop.rules.care.iter().filter(|c| mends(&c.chore, reading, low));
    let mut acts = own.filter_map(|care| Some((CareKind::of_rule(&care.chore), when(care, reading)?)));
    let (kind, when) = acts.next()?;
    Some(format!("its rule `{}` acts {when}", kind.words()))
}

/// Whether what is done brings back a reading that is too low, or else too high.
fn mends(chore: &Chore, reading: Reading, low: bool) -> bool {
    match (chore, reading) {
        (Chore::Replenish { .. }, Reading::Strength(_)) | (Chore::Condition { .. }, Reading::Iron(_)) => low,
        (Chore::Trim { by, .. }, Reading::Ratio(_)) => low != matches!(by, Trimming::PhosphoricAcid(_)),
        (Chore::Stop(_), Reading::Sludge(_)) | (Chore::Renew { .. }, Reading::Sludge(_)) => true,
        (Chore::Renew { .. }, Reading::Iron(_)) => !low,
        _ => false,
    }
}

/// When a rule acts on a bath that reads so and takes no load; none where only loads call it.
fn when(care: &Care, reading: Reading) -> Option<String> {
    care.when.iter().find_map(|trigger| match trigger {
        Trigger::Reads(mark) => passes(*mark, reading).then(|| "before the next load".to_owned()),
        Trigger::Clock(time) => {
            let minutes = time.in_minutes();
            let (hour, minute) = ((minutes / 60.0).floor(), minutes % 60.0);
            Some(format!(
                "each day at {:0>2}:{:0>2}",
                number(hour, 0),
                number(minute, 0)
            ))
        }
        Trigger::AtBreak => Some("each day at its first break".to_owned()),
        Trigger::Overnight => Some("each night".to_owned()),
        Trigger::AfterLast | Trigger::Loads(_) | Trigger::Coated(_) => None,
    })
}

fn passes(mark: Reads, reading: Reading) -> bool {
    match (mark, reading) {
        (Reads::StrengthBelow(mark), Reading::Strength(now)) => now < mark,
        (Reads::RatioBelow(mark), Reading::Ratio(now)) => now < mark,
        (Reads::RatioAbove(mark), Reading::Ratio(now)) => now > mark,
        (Reads::IronBelow(mark), Reading::Iron(now)) => now < mark,
        (Reads::IronAbove(mark), Reading::Iron(now)) => now > mark,
        (Reads::SludgeAbove(mark), Reading::Sludge(now)) => now > mark,
        _ => false,
    }
}
