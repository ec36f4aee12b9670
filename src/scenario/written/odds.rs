//! The odds of inspection as written.

use crate::finding::{Code, Finding};
use crate::node::Node;
use crate::reader::factor;
use crate::thing::{Kind, Reader, thing};
use crate::value;
use crate::walk::Walk;
use tankday_base::units::Share;

/// By how much a cause multiplies the odds.
const FACTOR: Reader<f64> = factor::<10, 1_000>();
/// A share below all.
const SOME_PASS: Reader<Share> = Reader::new(Kind::of::<Share>(), some_pass);

/// Where a factor comes from: itself from nowhere, but its cause is known.
macro_rules! because {
    ($cause:literal) => {
        concat!(
            "times the odds: assumption, no source; the cause itself: ",
            $cause
        )
    };
}

thing! {
    /// How often loads fail, and by how much each cause multiplies the odds.
    Odds "rules.odds", "a set of odds" {
        or "base" base: Share = SOME_PASS,
            "share of loads that fail although nothing happened to them, such as 2 %",
            {"2 %": "assumption, no source: count your own rejects"};
        or "overloaded" overloaded: f64 = FACTOR, "more than 2 dm2 of area for each litre",
            {"3": because!("crowded and touching parts come out blotchy (supplier's trade article)")};
        or "underfired" underfired: f64 = FACTOR, "the tank is heated from below",
            {"2": because!("cold spots (a handbook chapter on phosphate coatings wants even heat)")};
        or "without iron" without_iron: f64 = FACTOR, "the bath holds less iron than its warning limit",
            {"4": because!("a bath without iron coats thin and grey (a supplier's product page)")};
        or "much iron" much_iron: f64 = FACTOR, "the bath holds more iron than its warning limit",
            {"2": because!("white floating dust (a machine-translated process note)")};
        or "sludge" sludge: f64 = FACTOR, "the bath holds more sludge than its warning limit",
            {"4": because!("stirred sludge gives dusty coats (a supplier's product page)")};
        or "too hot" too_hot: f64 = FACTOR, "the bath is hotter than its band",
            {"2": because!("coarse (Products Finishing 2023)")};
        or "too short" too_short: f64 = FACTOR, "the coating does not reach its weight",
            {"4": because!("light and thin (Products Finishing 2023)")};
        or "too long" too_long: f64 = FACTOR, "longer in the bath than 45 min, or than it allows",
            {"3": because!("etched (Products Finishing 2023, an encyclopaedia entry)")};
        or "spent rinse" spent_rinse: f64 = FACTOR, "rinsed in water that should have been renewed",
            {"3": because!("rough, whitish residues (a handbook chapter); the factor is that of a hot rinse")};
        or "waited" waited: f64 = FACTOR, "waited longer than allowed between rinse and oil",
            {"4": because!("rust bleeds through after slow drying and late oil (trade letters)")};
        or "hot rinse" hot_rinse: f64 = FACTOR, "rinsed in water above 50 °C",
            {"3": because!("a hot first rinse sets residues, rough and whitish (a handbook chapter on phosphate coatings)")};
        or "dried on" dried_on: f64 = FACTOR, "waited longer than allowed between bath and rinse",
            {"3": because!("bath that drips dry on the part, rough and whitish (a handbook chapter on phosphate coatings)")};
        or "greasy" greasy: f64 = FACTOR, "some of its parts are greasy",
            {"5": because!("oil or fingerprints left, blotchy and mottled (common practice, no source)")};
        or "pickled" pickled: f64 = FACTOR, "some of its parts are pickled",
            {"3": because!("strong acid before the bath, coarse (Products Finishing 2023)")};
        or "holes down" holes_down: f64 = FACTOR, "blind holes hang down in some of its parts",
            {"3": because!("a pocket of gas, bare spots (common practice, no source)")};
        or "crevices" crevices: f64 = FACTOR, "some of its parts have crevices",
            {"2": because!("acid trapped in seams bleeds as rust (trade letters)")};
    }
}

/// A share below all: where every load fails nothing is ever ready.
fn some_pass(node: &Node, walk: &mut Walk) -> Option<Share> {
    let share = value::share(node, walk)?;
    if share.in_fraction() < 1.0 {
        return Some(share);
    }
    walk.refuse(Finding::error(Code::Range, node.at).says("where every load fails, nothing is ever ready"))
}
