//! What a new bath is mixed from, against amounts worked out by hand from the reactions, and against the balance of elements.
//!
//! Sources: atomic weights, IUPAC abridged standard atomic weights; density of phosphoric acid, the density end point of its
//! registration dossier at ECHA; the amounts for a litre follow from them and from the reactions (derived). The reaction of the
//! dioxide is from memory.

use crate::line_warned::read;
use proptest::prelude::*;
use tankday::bath::chemistry::mix::{Ingredients, MadeFrom, ingredients};
use tankday::bath::chemistry::{Contradiction, Readings};
use tankday::line::{Mixing, Unmixable, new_bath};
use tankday::shop::{AcidBought, Shop, StationId};
use tankday::units::*;

fn shop(more: &str) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1, air: {{temperature: 18 °C}}}}
days: [{{date: 2026-03-09, open: 08:00, close: 16:00}}]
baths: {{mn: {{{more}}}}}
tanks: [{{name: pot, bath: mn, inside: round 30 cm x 40 cm, fill: 16 L, heater: {{power: 2 kW}}}}]
stations: [{{name: rinse}}]
parts: {{cap: {{material: grey iron, mass: 400 g, area: 1.5 dm2}}}}
routes: {{black: [{{do: coat, in: mn}}, {{do: rinse, at: rinse, for: 1 min}}]}}
orders: [{{id: A1, part: cap, count: 4, route: black}}]
"
    ))
}

fn a_litre(from: MadeFrom, total: f64, ratio: f64, iron: f64) -> Ingredients {
    let shop = shop("");
    let to = Readings {
        volume: Volume::litres(1.0),
        total_acid: Strength::points(total),
        free_acid: Strength::points(total / ratio),
        iron: Concentration::grams_per_litre(iron),
        sludge: Concentration::ZERO,
    };
    ingredients(&shop.baths[0].chemistry, from, &to).unwrap()
}

/// Within one in a hundred.
fn near(value: f64, expected: f64) {
    assert!(
        (value - expected).abs() <= 0.01 * expected,
        "{value} for {expected}"
    );
}

#[test]
fn a_litre_from_carbonate_is_as_worked_out_by_hand() {
    // Total acid, ratio; pure acid, millilitres of 85 % and of 75 %, carbonate, carbon dioxide.
    for (total, ratio, acid, strong, weak, carbonate, gas) in [
        (36.0, 6.0, 25.48, 17.74, 21.57, 11.49, 2.41),
        (30.0, 6.0, 21.23, 14.78, 17.97, 9.58, 2.00),
        (50.0, 6.5, 35.81, 24.93, 30.31, 16.58, 3.47),
    ] {
        let made = a_litre(MadeFrom::Carbonate, total, ratio, 0.0);
        let bottle = |share: f64| AcidBought::of(Share::percent(share)).unwrap().holds(made.acid);
        near(made.acid.in_grams(), acid);
        near(bottle(85.0).in_litres() * 1e3, strong);
        near(bottle(75.0).in_litres() * 1e3, weak);
        near(made.carbonate.in_grams(), carbonate);
        near(made.carbon_dioxide.in_litres(), gas);
        assert_eq!(made.wool, Mass::ZERO);
        assert_eq!(made.hydrogen, Volume::ZERO);
    }
}

#[test]
fn iron_from_wool_takes_the_place_of_manganese() {
    let made = a_litre(MadeFrom::Carbonate, 36.0, 6.0, 0.5);
    near(made.carbonate.in_grams(), 10.47);
    near(made.wool.in_grams(), 0.5);
    near(made.hydrogen.in_litres(), 0.215);
    near(made.acid.in_grams(), 25.48);
}

#[test]
fn dioxide_takes_as_much_wool_as_it_brings_manganese() {
    let made = a_litre(MadeFrom::Dioxide, 36.0, 6.0, 0.5);
    near(made.dioxide.in_grams(), 4.35);
    near(made.wool.in_grams(), 2.79);
    near(made.reads.iron.in_grams_per_litre(), 2.79);
    near(made.acid.in_grams(), 25.48);
    assert_eq!(made.carbonate, Mass::ZERO);
}

#[test]
fn a_concentrate_goes_by_its_label_and_the_wool_takes_its_acid() {
    let plain = a_litre(MadeFrom::Concentrate, 36.0, 6.0, 0.0);
    near(plain.concentrate.in_litres() * 1e3, 36.0 * 4.75);
    near(plain.reads.total_acid.in_points(), 36.0);
    near(plain.reads.free_acid.in_points(), 6.0);
    let aged = a_litre(MadeFrom::Concentrate, 36.0, 6.0, 0.5);
    assert_eq!(aged.concentrate, plain.concentrate);
    // The wool takes free acid, and phosphoric acid brings the ratio back.
    near(aged.reads.total_acid / aged.reads.free_acid, 6.0);
    assert!(aged.acid > Mass::ZERO && plain.acid == Mass::ZERO);
    near(aged.hydrogen.in_litres(), 0.215);
    assert!(aged.acid_lasts);
    let much = a_litre(MadeFrom::Concentrate, 36.0, 6.0, 20.0);
    assert!(!much.acid_lasts && much.wool == Mass::ZERO);
}

proptest! {
    /// What goes in is what is dissolved then: titrated by hand from the amounts alone, it reads as was asked for.
    #[test]
    fn what_is_weighed_reads_as_asked(
        total in 5.0..120.0f64, ratio in 2.5..12.0f64, share in 0.0..1.0f64, dioxide in any::<bool>()
    ) {
        let (k, free) = (2.4, total / ratio / 100.0);
        let metal = (total / 100.0 - 2.0 * free) / k;
        let iron = share * metal * 55.845;
        let from = if dioxide { MadeFrom::Dioxide } else { MadeFrom::Carbonate };
        let made = a_litre(from, total, ratio, iron * 0.999);
        let manganese = made.carbonate.in_grams() / 114.946 + made.dioxide.in_grams() / 86.936;
        let wool = made.wool.in_grams() / 55.845;
        let acid = made.acid.in_grams() / 97.994 - 2.0 * (manganese + wool);
        prop_assert!((acid - free).abs() < 1e-3 * free.max(0.01), "{acid} {free}");
        let reads = 100.0 * (2.0 * acid + k * (manganese + wool));
        prop_assert!((reads - total).abs() < 2e-3 * total, "{reads} {total}");
        prop_assert!((made.reads.total_acid.in_points() - total).abs() < 1e-9 * total);
        let (least, most) = made.believed.unwrap();
        prop_assert!(least < made.reads.total_acid && made.reads.total_acid < most);
        // Gas: a mole of carbonate or of wool gives one of it; the dioxide takes up what the wool would give.
        let gas = made.carbon_dioxide + made.hydrogen;
        let moles = if dioxide { 0.0 } else { manganese + wool };
        prop_assert!((gas.in_litres() - moles * 24.055).abs() < 2e-3 * gas.in_litres().max(0.1));
    }
}

fn asked(from: MadeFrom) -> Mixing {
    Mixing {
        tank: StationId(1),
        from,
        fill: None,
        total_acid: None,
        ratio: None,
        iron: None,
    }
}

fn tank_of(shop: &Shop) -> StationId {
    shop.tanks().next().unwrap().0
}

#[test]
fn a_tank_is_filled_to_its_mark_and_its_froth_has_the_room_above() {
    let shop = shop("");
    let asked = Mixing {
        tank: tank_of(&shop),
        ..asked(MadeFrom::Carbonate)
    };
    let bath = new_bath(&shop, &asked).unwrap();
    assert_eq!(bath.takes.reads.volume, Volume::litres(16.0));
    // A round pot 30 cm wide and 40 cm high holds 28.27 L.
    near(bath.free.in_litres(), 28.27 - 16.0);
    near(bath.headroom.in_millimetres(), 400.0 - 226.4);
    // 16 kg from 18 to 88 °C take 1.30 kWh, and the heater gives two kilowatts, less what is lost.
    let heats = bath.heats.unwrap();
    assert!(
        heats > Span::whole_minutes(39) && heats < Span::whole_minutes(60),
        "{heats:?}"
    );
    let spoon = Ingredients::spoonful(bath.free);
    near(spoon.in_grams(), 12.27 / 24.055 * 114.946);
}

#[test]
fn what_cannot_be_mixed_says_why() {
    let shop = shop("");
    let tank = tank_of(&shop);
    let too_much = Mixing {
        tank,
        fill: Some(Volume::litres(30.0)),
        ..asked(MadeFrom::Carbonate)
    };
    assert!(matches!(
        new_bath(&shop, &too_much),
        Err(Unmixable::TooMuch { .. })
    ));
    let too_sour = Mixing {
        tank,
        ratio: Some(1.9),
        ..asked(MadeFrom::Carbonate)
    };
    assert!(matches!(
        new_bath(&shop, &too_sour),
        Err(Unmixable::Reads(Contradiction::TooMuchFreeAcid { .. }))
    ));
    let too_much_iron = Mixing {
        tank,
        iron: Some(Concentration::grams_per_litre(9.0)),
        ..asked(MadeFrom::Carbonate)
    };
    assert!(matches!(
        new_bath(&shop, &too_much_iron),
        Err(Unmixable::Reads(Contradiction::TooMuchIron { .. }))
    ));
    let no_tank = Mixing {
        tank: StationId(99),
        ..asked(MadeFrom::Carbonate)
    };
    assert_eq!(new_bath(&shop, &no_tank), Err(Unmixable::NoBath));
}
