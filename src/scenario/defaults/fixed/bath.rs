//! Chemistry and coating.

use super::{Between, Exactly, Fixed, NOTHING, Unknown, constants};
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
    constants! {
        "steel takes no coating up to": CoatsFrom::Steel.limit().in_celsius(), "°C"; Between(80.0, 84.0);
            "about 180 °F: Products Finishing 2023"; "coat coupons at 80, 84 and 88 °C";
        "cast iron takes no coating up to": CoatsFrom::CastIron.limit().in_celsius(), "°C"; Between(68.0, 72.0);
            "acceptable coatings from 70 to 95 °C: a handbook chapter on phosphate coatings; its range is an estimate";
            "coat pieces at 68, 72 and 80 °C";
        "growth comes up to its law above these within": CoatsFrom::RAMP.in_kelvin(), "°C"; Between(1.0, 6.0);
            "assumption, no source: it begins without a jump, and coats between 82 and 88 °C are known as doubtful";
            "the same";
        "too little iron slows within": IronEffect::FADES * 100.0, "%", "of `slow below`, on either side of it";
            Unknown; "assumption, no source: a bath does not jump from slow to quick";
            "weigh coupons as the iron rises";
        "acid ratio, its effect on the time of growth": 1.0, "times", "whatever the ratio: no effect is assumed";
            Unknown; "no source gives a figure; outside its limits no load goes in";
            "weigh coupons at two ratios";
        "a coating counts as done at": DONE.in_percent(), "%", "of its full weight"; Between(90.0, 99.0);
            "assumption: what the published windows call done"; "weigh a coupon when the bubbles cease";
        "no coating grows, and acid attacks, beyond": NO_GROWTH_BEYOND.in_minutes(), "min"; Between(5.0, 45.0);
            "encyclopaedia entry on the process"; "weigh coupons after 15, 30 and 45 min";
        "hydrogen by mole of iron": species::gas_volume(Amount::moles(1.0)).in_litres(), "L", "at 20 °C";
            Exactly; "ideal gas at 101.325 kPa"; NOTHING;
        "much work for a bath, by area": Room::MUCH.area.in_square_decimetres_per_litre(), "dm2/L";
            Between(1.0, 4.0); "assumption, from a barrel line in a handbook chapter";
            "count your rejects by load";
        "much work for a bath, by mass": Room::MUCH.mass.in_kilograms_per_litre(), "kg/L"; Between(0.25, 0.3);
            "the same barrel line"; "the same";
        "a coated part must stay below": COATING_NOT_ABOVE.in_celsius(), "°C"; Exactly;
            "250 °F for manganese coatings: MIL-DTL-16232G, 6.1.1"; NOTHING;
    }
}

fn hydrogen() -> Vec<Fixed> {
    constants! {
        "hydrogen is relieved in an oven after": RELIEF.time.in_hours(), "h"; Exactly;
            BOOK; ASK;
        "hydrogen is relieved in an oven from": RELIEF.least.in_celsius(), "°C", "of the part's core";
            Between(RELIEF.least.in_celsius(), RELIEF.most.in_celsius()); BOOK; ASK;
        "hydrogen is relieved at rest after": RELIEF_AT_REST.in_hours(), "h", "at room temperature"; Exactly;
            BOOK; ASK;
        "relief of hydrogen starts after coating within": RELIEF_STARTS_WITHIN.in_hours(), "h";
            Between(4.0, 24.0); "common practice, no source; an old rule said 24 h"; ASK;
        "parts are relieved from a hardness of": RELIEVED_FROM.in_hrc(), "HRC"; Exactly;
            "DOD-P-16232F, 3.3"; "a hardness test, or ask the maker";
        "fasteners are of concern from a hardness of": FASTENER_OF_CONCERN.in_hrc(), "HRC"; Exactly;
            "SAE AMS2759/9D, a scan partly misread"; "the same";
        "steel is of concern from a strength of": STRENGTH_OF_CONCERN.in_pascals() / 1e6, "MPa"; Exactly;
            "ISO 9717, clause 4"; "ask the maker for the certificate";
        "fasteners are of concern from a strength of": FASTENER_STRENGTH_OF_CONCERN.in_pascals() / 1e6, "MPa";
            Exactly; "SAE AMS2759/9D"; "the same";
    }
}

fn molar_masses() -> Vec<Fixed> {
    const IUPAC: &str = "standard atomic weights (IUPAC)";
    let grams = |mass: MolarMass| mass.in_grams_per_mole();
    constants! {
        "molar mass of iron": grams(species::IRON), "g/mol"; Exactly; IUPAC; NOTHING;
        "molar mass of manganese": grams(species::MANGANESE), "g/mol"; Exactly; IUPAC; NOTHING;
        "molar mass of phosphoric acid": grams(species::PHOSPHORIC_ACID), "g/mol"; Exactly; IUPAC; NOTHING;
        "molar mass of the coating, hureaulite": grams(species::HUREAULITE), "g/mol"; Exactly; IUPAC; NOTHING;
        "molar mass of sludge, strengite": grams(species::STRENGITE), "g/mol"; Exactly; IUPAC; NOTHING;
        "molar mass of manganese carbonate": grams(species::MANGANESE_CARBONATE), "g/mol"; Exactly; IUPAC; NOTHING;
        "molar mass of soda ash": grams(species::SODA_ASH), "g/mol"; Exactly; IUPAC; NOTHING;
        "molar mass of hydrogen peroxide": grams(species::HYDROGEN_PEROXIDE), "g/mol"; Exactly; IUPAC; NOTHING;
    }
}
