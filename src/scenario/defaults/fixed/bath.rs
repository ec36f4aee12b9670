//! Chemistry and coating.

use super::{Between, Exactly, Fixed, NOTHING, Unknown, of};
use tankday_base::bath::chemistry::{CoatsFrom, DONE, IronEffect, NO_GROWTH_BEYOND, species};
use tankday_base::bath::hydrogen::{
    COATING_NOT_ABOVE, FASTENER_OF_CONCERN, FASTENER_STRENGTH_OF_CONCERN, RELIEF, RELIEF_AT_REST,
    RELIEF_STARTS_WITHIN, RELIEVED_FROM, STRENGTH_OF_CONCERN,
};
use tankday_base::shop::Room;
use tankday_base::units::{Amount, MolarMass};

const BOOK: &str = "from memory: the paragraphs of DOD-P-16232F and MIL-DTL-16232G were not seen";
const ASK: &str = "ask whoever releases the parts";

pub(super) fn constants() -> Vec<Fixed> {
    [coating(), hydrogen(), molar_masses()].concat()
}

fn coating() -> Vec<Fixed> {
    vec![
        of(
            "steel takes no coating up to",
            (CoatsFrom::Steel.limit().in_celsius(), "°C", ""),
            Between(80.0, 84.0),
            "about 180 °F: Products Finishing 2023",
            "coat coupons at 80, 84 and 88 °C",
        ),
        of(
            "cast iron takes no coating up to",
            (CoatsFrom::CastIron.limit().in_celsius(), "°C", ""),
            Between(68.0, 72.0),
            "acceptable coatings from 70 to 95 °C: a handbook chapter on phosphate coatings; its range is an estimate",
            "coat pieces at 68, 72 and 80 °C",
        ),
        of(
            "growth comes up to its law above these within",
            (CoatsFrom::RAMP.in_kelvin(), "°C", ""),
            Between(1.0, 6.0),
            "assumption, no source: it begins without a jump, and coats between 82 and 88 °C are known as doubtful",
            "the same",
        ),
        of(
            "too little iron slows within",
            (
                IronEffect::FADES * 100.0,
                "%",
                "of `slow below`, on either side of it",
            ),
            Unknown,
            "assumption, no source: a bath does not jump from slow to quick",
            "weigh coupons as the iron rises",
        ),
        of(
            "acid ratio, its effect on the time of growth",
            (1.0, "times", "whatever the ratio: no effect is assumed"),
            Unknown,
            "no source gives a figure; outside its limits no load goes in",
            "weigh coupons at two ratios",
        ),
        of(
            "a coating counts as done at",
            (DONE.in_percent(), "%", "of its full weight"),
            Between(90.0, 99.0),
            "assumption: what the published windows call done",
            "weigh a coupon when the bubbles cease",
        ),
        of(
            "no coating grows, and acid attacks, beyond",
            (NO_GROWTH_BEYOND.in_minutes(), "min", ""),
            Between(5.0, 45.0),
            "encyclopaedia entry on the process",
            "weigh coupons after 15, 30 and 45 min",
        ),
        of(
            "hydrogen by mole of iron",
            (
                species::gas_volume(Amount::moles(1.0)).in_litres(),
                "L",
                "at 20 °C",
            ),
            Exactly,
            "ideal gas at 101.325 kPa",
            NOTHING,
        ),
        of(
            "much work for a bath, by surface",
            (Room::MUCH.area.in_square_decimetres_per_litre(), "dm2/L", ""),
            Between(1.0, 4.0),
            "assumption, from a barrel line in a handbook chapter",
            "count your rejects by load",
        ),
        of(
            "much work for a bath, by mass",
            (Room::MUCH.mass.in_kilograms_per_litre(), "kg/L", ""),
            Between(0.25, 0.3),
            "the same barrel line",
            "the same",
        ),
        of(
            "a coated part must stay below",
            (COATING_NOT_ABOVE.in_celsius(), "°C", ""),
            Exactly,
            "250 °F for manganese coatings: MIL-DTL-16232G, 6.1.1",
            NOTHING,
        ),
    ]
}

fn hydrogen() -> Vec<Fixed> {
    vec![
        of(
            "hydrogen is relieved in an oven after",
            (RELIEF.time.in_hours(), "h", ""),
            Exactly,
            BOOK,
            ASK,
        ),
        of(
            "hydrogen is relieved in an oven from",
            (RELIEF.least.in_celsius(), "°C", "of the part's core"),
            Between(RELIEF.least.in_celsius(), RELIEF.most.in_celsius()),
            BOOK,
            ASK,
        ),
        of(
            "hydrogen is relieved at rest after",
            (RELIEF_AT_REST.in_hours(), "h", "at room temperature"),
            Exactly,
            BOOK,
            ASK,
        ),
        of(
            "relief of hydrogen starts after coating within",
            (RELIEF_STARTS_WITHIN.in_hours(), "h", ""),
            Between(4.0, 24.0),
            "common practice, no source; an old rule said 24 h",
            ASK,
        ),
        of(
            "parts are relieved from a hardness of",
            (RELIEVED_FROM.in_hrc(), "HRC", ""),
            Exactly,
            "DOD-P-16232F, 3.3",
            "a hardness test, or ask the maker",
        ),
        of(
            "fasteners are of concern from a hardness of",
            (FASTENER_OF_CONCERN.in_hrc(), "HRC", ""),
            Exactly,
            "SAE AMS2759/9D, a scan partly misread",
            "the same",
        ),
        of(
            "steel is of concern from a strength of",
            (STRENGTH_OF_CONCERN.in_pascals() / 1e6, "MPa", ""),
            Exactly,
            "ISO 9717, clause 4",
            "ask the maker for the certificate",
        ),
        of(
            "fasteners are of concern from a strength of",
            (FASTENER_STRENGTH_OF_CONCERN.in_pascals() / 1e6, "MPa", ""),
            Exactly,
            "SAE AMS2759/9D",
            "the same",
        ),
    ]
}

fn molar_masses() -> Vec<Fixed> {
    let mass = |what, mass: MolarMass| {
        of(
            what,
            (mass.in_grams_per_mole(), "g/mol", ""),
            Exactly,
            "standard atomic weights (IUPAC)",
            NOTHING,
        )
    };
    vec![
        mass("molar mass of iron", species::IRON),
        mass("molar mass of manganese", species::MANGANESE),
        mass("molar mass of phosphoric acid", species::PHOSPHORIC_ACID),
        mass("molar mass of the coating, hureaulite", species::HUREAULITE),
        mass("molar mass of sludge, strengite", species::STRENGITE),
        mass("molar mass of manganese carbonate", species::MANGANESE_CARBONATE),
        mass("molar mass of soda ash", species::SODA_ASH),
        mass("molar mass of hydrogen peroxide", species::HYDROGEN_PEROXIDE),
    ]
}
