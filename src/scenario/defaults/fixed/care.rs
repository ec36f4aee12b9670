//! Foam, sludge and the filter.

use super::{Between, Fixed, PRACTICE, Unknown, constants};
use tankday_base::bath::chemistry::fresh;
use tankday_base::bath::filter::Medium;
use tankday_base::bath::settle::Particle;
use tankday_base::bath::{HOT, SOLIDS};
use tankday_base::units::MediumResistance;

pub(super) fn constants() -> Vec<Fixed> {
    let medium = Medium::fresh(MediumResistance::per_metre(1.0));
    constants! {
        "foam room over a full bath": fresh::FOAM_ROOM.in_millimetres(), "mm"; Unknown;
            PRACTICE; "watch fresh steel froth";
        "a bath scalds, and somebody must be there, above": HOT.in_celsius(), "°C"; Unknown;
            PRACTICE; "nothing to measure: keep away from it";
        "solids make a bath froth over above": SOLIDS.in_celsius(), "°C"; Unknown;
            PRACTICE; "stir a spoonful in and watch";
        "particles of sludge, size": Particle::SLUDGE.diameter.in_metres() * 1e6, "µm"; Between(2.0, 12.0);
            "inferred: a jug of 25 cm clears in two to three hours (common practice, no source)";
            "watch a jug of it clear: half the time is 1.4 times the size";
        "particles of sludge, density": Particle::SLUDGE.density.in_kilograms_per_cubic_metre(), "kg/m3";
            Between(2840.0, 3190.0); "strengite 2.84 to 2.87 (HandWiki); hureaulite about 3.19 from memory";
            "weigh a dried cake and the water it displaces";
        "a filter medium keeps of each cake": medium.kept * 100.0, "%", "of its resistance"; Between(0.1, 10.0);
            "assumption, no source"; "time a litre of clear water after each batch";
        "a filter medium is changed at": medium.change_at, "times", "its resistance when new";
            Between(3.0, 30.0); "assumption, no source"; "the same";
    }
}
