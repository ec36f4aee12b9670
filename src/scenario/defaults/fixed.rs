//! What no key of a scenario changes: constants of the models and of the rules, read from where they stand in the program.

use crate::bath::PACKED_BASKET;
use crate::bath::chemistry::{DONE, NO_COATING_BELOW, fresh, species};
use crate::bath::dry::FLASH_ENDS;
use crate::bath::filter::Medium;
use crate::bath::hydrogen::{COATING_NOT_ABOVE, RELIEF, RELIEF_AT_REST};
use crate::bath::settle::Particle;
use crate::shop::{DRIPPED, Rinse, Room};
use crate::units::{Amount, MediumResistance};

/// A constant without a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fixed {
    /// What it is.
    pub what: &'static str,
    /// Its value, with its unit.
    pub value: String,
    /// Between which values it is found, or believed to lie.
    pub range: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// How a shop measures its own.
    pub measure: &'static str,
}

fn of(
    what: &'static str,
    value: f64,
    unit: &str,
    (range, source, measure): (&'static str, &'static str, &'static str),
) -> Fixed {
    // Values are kept in SI units: what that adds in the last digits is taken off again.
    let value = (value * 1e6).round() / 1e6;
    Fixed {
        what,
        value: format!("{value} {unit}").trim_end().to_owned(),
        range,
        source,
        measure,
    }
}

/// All of them.
#[must_use]
pub fn fixed() -> Vec<Fixed> {
    [coating(), care(), work()].concat()
}

const BOOK: &str = "from memory: the paragraphs of DOD-P-16232F and MIL-DTL-16232G were not seen";

fn coating() -> Vec<Fixed> {
    vec![
        of(
            "no coating below",
            NO_COATING_BELOW.in_celsius(),
            "°C",
            (
                "80 to 84 °C",
                "about 180 °F: Products Finishing 2023",
                "coat coupons at 80, 84 and 88 °C",
            ),
        ),
        of(
            "a coating counts as done at",
            DONE.in_percent(),
            "% of its full weight",
            (
                "90 to 99 %",
                "assumption: what the published windows call done",
                "weigh a coupon when the bubbles cease",
            ),
        ),
        of(
            "hydrogen by mole of iron",
            species::gas_volume(Amount::moles(1.0)).in_litres(),
            "L at 20 °C",
            ("exact", "ideal gas at 101.325 kPa", "nothing to measure"),
        ),
        of(
            "much work for a bath, by surface",
            Room::MUCH.area.in_square_decimetres_per_litre(),
            "dm2/L",
            (
                "1 to 4 dm2/L",
                "assumption, from a barrel line in a handbook chapter",
                "count your rejects by load",
            ),
        ),
        of(
            "much work for a bath, by mass",
            Room::MUCH.mass.in_kilograms_per_litre(),
            "kg/L",
            ("0.25 to 0.3 kg/L", "the same barrel line", "the same"),
        ),
        of(
            "a coated part must stay below",
            COATING_NOT_ABOVE.in_celsius(),
            "°C",
            (
                "exact",
                "250 °F for manganese coatings: MIL-DTL-16232G, 6.1.1",
                "nothing to measure",
            ),
        ),
        of(
            "hydrogen is relieved in an oven after",
            RELIEF.time.in_hours(),
            "h",
            ("98 to 107 °C", BOOK, "ask whoever releases the parts"),
        ),
        of(
            "hydrogen is relieved at rest after",
            RELIEF_AT_REST.in_hours(),
            "h",
            ("room temperature", BOOK, "ask whoever releases the parts"),
        ),
    ]
}

fn care() -> Vec<Fixed> {
    let medium = Medium::fresh(MediumResistance::per_metre(1.0));
    vec![
        of(
            "foam room over a full bath",
            fresh::FOAM_ROOM.in_millimetres(),
            "mm",
            (
                "a hand's breadth",
                "common practice, no source",
                "watch fresh steel froth",
            ),
        ),
        of(
            "particles of sludge, size",
            Particle::SLUDGE.diameter.in_metres() * 1e6,
            "µm",
            (
                "2 to 12 µm",
                "inferred: a jug of 25 cm clears in two to three hours (common practice, no source)",
                "watch a jug of it clear: half the time is 1.4 times the size",
            ),
        ),
        of(
            "particles of sludge, density",
            Particle::SLUDGE.density.in_kilograms_per_cubic_metre(),
            "kg/m3",
            (
                "2840 to 3190 kg/m3",
                "strengite 2.84 to 2.87 (HandWiki); hureaulite about 3.19 from memory",
                "weigh a dried cake and the water it displaces",
            ),
        ),
        of(
            "a filter medium keeps of each cake",
            medium.kept * 100.0,
            "% of its resistance",
            (
                "0.1 to 10 %",
                "assumption, no source",
                "time a litre of clear water after each batch",
            ),
        ),
        of(
            "a filter medium is changed at",
            medium.change_at,
            "times its resistance when new",
            ("3 to 30 times", "assumption, no source", "the same"),
        ),
    ]
}

fn work() -> Vec<Fixed> {
    vec![
        of(
            "drag-out is stated for a drip of",
            DRIPPED.in_seconds(),
            "s",
            (
                "up to 40 s it thins with the square root of time",
                "a film that drains freely; weighed panels gain nothing beyond 40 s (Rinsing Manual, Appendix D)",
                "weigh a load before and after it drips",
            ),
        ),
        of(
            "a hot first rinse is one above",
            Rinse::HOTTEST.in_celsius(),
            "°C",
            (
                "20 to 50 °C is right",
                "a handbook chapter on phosphate coatings; a supplier's page asks for a hot rinse",
                "rinse trial pieces",
            ),
        ),
        of(
            "the heat of the work dries it down to",
            FLASH_ENDS.in_celsius(),
            "°C",
            (
                "35 to 50 °C",
                "common practice, no source",
                "watch when it is dry, by a contact thermometer",
            ),
        ),
        of(
            "pieces in the middle of a packed basket follow",
            PACKED_BASKET,
            "times slower",
            (
                "1 to 5 times",
                "common practice, no source",
                "a thermometer in the basket",
            ),
        ),
    ]
}
