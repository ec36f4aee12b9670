//! Nobody is away from a bath with its heater on or a load in it; a hot one is covered.

use super::spell::{Spell, common, joined, without};
use super::tanks::Watched;
use super::there::There;
use super::{Danger, DangerKind};
use tankday_base::shop::LidKind;
use tankday_record::LoadNo;

pub(super) fn check(tank: &Watched<'_>, there: &There, found: &mut Vec<Danger>) {
    let (on, loaded) = (tank.on(), tank.loaded());
    let unsafe_ = joined(on.iter().chain(&loaded).copied().collect());
    for spell in without(&unsafe_, &there.somebody) {
        let is_on = !common(&[spell], &on).is_empty();
        let loads = inside(tank, spell);
        let what = match (is_on, !loads.is_empty()) {
            (true, true) => "its heater is on and a load is in it",
            (true, false) => "its heater is on",
            _ => "a load is in it",
        };
        let danger = Danger::of(
            DangerKind::Alone,
            spell,
            tank.id,
            format!("{what} and nobody is there"),
        );
        found.push(Danger { loads, ..danger });
    }
    uncovered(tank, there, found);
}

/// Loads that are in it then.
fn inside(tank: &Watched<'_>, spell: Spell) -> Vec<LoadNo> {
    let here = |i: &&(LoadNo, Spell)| !common(&[spell], &[i.1]).is_empty();
    tank.inside.iter().filter(here).map(|i| i.0).collect()
}

/// A hot bath that nobody sees has its lid on; one that has none breaks the rule, too.
fn uncovered(tank: &Watched<'_>, there: &There, found: &mut Vec<Danger>) {
    let open = if tank.tank.lid == LidKind::None {
        tank.hot()
    } else {
        common(&tank.hot(), &tank.open())
    };
    // What a scenario says of its baths holds from the first opening on.
    let known = [Spell::new(there.opens, tank.end)];
    for spell in without(&common(&open, &known), &there.somebody) {
        let loads = inside(tank, spell);
        let danger = Danger::of(
            DangerKind::Uncovered,
            spell,
            tank.id,
            "it is hot and open, and nobody is there",
        );
        found.push(Danger { loads, ..danger });
    }
}
