//! How fast a coat can grow at best: in a bath as hot as its band allows and as strong as counts, with iron enough.

use super::{Facts, material};
use crate::finding::{Code, Finding};
use tankday_base::bath::{Growth, Substrate};
use tankday_base::print::how_long;
use tankday_base::shop::{BathRecipe, CoatRule, Part, Shop};
use tankday_base::units::{CoatWeight, Span};

/// The law of growth of a bath at its best.
fn at_best(bath: &BathRecipe) -> Growth {
    let pace = if bath.wears {
        bath.chemistry.strength_effect.least.min(1.0)
    } else {
        1.0
    };
    bath.growth.paced(pace)
}

fn substrate(shop: &Shop, part: &Part) -> Option<Substrate> {
    shop.materials.get(part.material.index()).map(Substrate::of)
}

/// The shortest and the longest stay of a part in a bath.
fn window(bath: &BathRecipe, part: &Part) -> (Span, Span) {
    let own = part.dwell.unwrap_or((Span::ZERO, Span::FOREVER));
    let most = Ord::min(bath.most, own.1);
    (Ord::min(Ord::max(bath.least, own.0), most), most)
}

/// The shortest stay that a part can have in a bath.
pub(super) fn shortest(shop: &Shop, bath: &BathRecipe, part: &Part) -> Span {
    let (least, most) = window(bath, part);
    let needs = match &bath.coat {
        CoatRule::Time(time) => time.least(),
        CoatRule::Target(target) => needs(shop, bath, part, *target).unwrap_or(Span::ZERO),
    };
    Ord::min(Ord::max(needs, least), most)
}

/// The least time that a weight takes; none where it is never reached.
fn needs(shop: &Shop, bath: &BathRecipe, part: &Part, target: CoatWeight) -> Option<Span> {
    let time = at_best(bath).time_for(target, substrate(shop, part)?, bath.band.most);
    time.ok()
}

/// Weights that the longest dwell never gives.
pub(super) fn found(f: &Facts, shop: &Shop) -> Vec<Finding> {
    let pairs = f.pairs().filter_map(|(part, step)| {
        let written = f.bath(&step.bath.as_ref()?.value)?;
        let bath = shop.baths.iter().find(|b| b.name == written.name.value)?;
        let piece = shop.parts.iter().find(|p| p.name == part.name.value)?;
        let CoatRule::Target(target) = bath.coat else {
            return None;
        };
        let (_, most) = window(bath, piece);
        let needs = needs(shop, bath, piece, target).filter(|needs| *needs > most)?;
        let on = substrate(shop, piece)?;
        let best = at_best(bath);
        let gets = best.weight(best.conversion_on(on.from, bath.band.most, most), on);
        let grams = |w: CoatWeight| (w.in_grams_per_square_metre() * 10.0).round() / 10.0;
        let own = part.dwell.as_ref().filter(|d| d.value.1 <= bath.most);
        let message = format!(
            "`{}` never gets {} g/m2 in {}: {} g/m2 at most, in the hottest and strongest bath",
            part.name.value,
            grams(target),
            how_long(most),
            grams(gets)
        );
        let at = written.coat.as_ref()?.target.as_ref()?.at;
        let finding = Finding::warning(Code::Bath, at, message)
            .label("too heavy for this dwell")
            .and(material::material_place(part), "on this");
        let dwell = own.map(|d| d.at).or(written.dwell.as_ref().map(|d| d.at));
        let finding = match dwell {
            Some(dwell) => finding.and(dwell, "the longest stay"),
            None => finding,
        };
        Some(finding.help(format!(
            "it needs {} at least: write a longer dwell, or a lower target",
            how_long(needs)
        )))
    });
    pairs.collect()
}
