//! The mass balance of a bath against derived check values and hand arithmetic.
//!
//! Sources: P27 to P48 and worked example W1 of the shop practice figures; `data/chem/derived-check-values.csv`;
//! standard atomic weights of IUPAC, "Standard atomic weights of the elements 2021", abridged (from memory).

use crate::bath_tanks::near;
use crate::chem_growth::bath;
use tankday::bath::chemistry::{Chemistry, Dissolved, Oxidation, Recipe, Turnover, species};
use tankday::units::{Amount, Area, CoatWeight, MolarMass, Quantity, Share, Strength, Volume, VolumePerArea};

const RECIPE: Recipe = Recipe::DEFAULT;
const W16: CoatWeight = CoatWeight::grams_per_square_metre(16.0);
const M2: Area = Area::square_metres(1.0);

fn off(got: f64, want: f64, by: f64, what: &str) {
    assert!(
        (got - want).abs() <= by,
        "{what}: {got}, expected {want} within {by}"
    );
}

/// Formula weights summed by hand from the abridged weights H 1.0080, C 12.011, O 15.999, Na 22.990, P 30.974,
/// Mn 54.938, Fe 55.845; and the rounded ones that section 3 prints.
#[test]
fn molar_masses() {
    let grams = MolarMass::in_grams_per_mole;
    for (got, exact, printed, within) in [
        (species::IRON, 55.845, 55.85, 0.01),
        (species::HUREAULITE, 728.646, 728.6, 0.05),
        (species::STRENGITE, 186.845, 186.8, 0.05),
        (species::PHOSPHORIC_ACID, 97.994, 98.0, 0.01),
        (species::MANGANESE_CARBONATE, 114.946, 114.95, 0.01),
        (species::SODA_ASH, 105.988, 105.99, 0.01),
        (species::HYDROGEN_PEROXIDE, 34.014, 34.01, 0.01),
    ] {
        off(grams(got), exact, 5e-4, "formula");
        off(grams(got), printed, within, "as printed");
    }
    off(
        species::gas_volume(Amount::moles(1.0)).in_litres(),
        24.05,
        0.01,
        "molar volume at 20 °C",
    );
}

/// Whatever reacts, no element appears or vanishes: work dissolved + bath before = bath after + coating + sludge.
#[test]
fn reactions_keep_the_elements() {
    for r in [1.4, 2.0, 4.35, 6.0] {
        let recipe = Recipe {
            attack_ratio: r,
            ..RECIPE
        };
        let t = Turnover::of(&recipe, W16, M2);
        let after = t.change().elements() + t.sludge().elements() + t.in_coating();
        let iron = (t.metal() / species::IRON).in_moles();
        off(after.iron.in_moles(), iron, 1e-15, "iron");
        off(after.manganese.in_moles(), 0.0, 1e-15, "manganese");
        off(after.phosphorus.in_moles(), 0.0, 1e-15, "phosphorus");
    }
}

/// P33, P34, P36 and the row of vectors that holds more digits of them.
#[test]
fn one_square_metre() {
    let t = Turnover::of(&RECIPE, W16, M2);
    let c = t.change();
    let drag = RECIPE.drag_out * M2;
    let ta = c.total_acid(2.4).in_point_litres();
    let (drag_ta, drag_fa) = (36.0 * drag.in_litres(), 6.0 * drag.in_litres());
    let iron = (c.iron * species::IRON).in_grams();
    for (got, want, what) in [
        (t.metal().in_grams(), 8.0, "metal"),
        (iron, 4.7416, "iron to the bath"),
        (ta, -24.3761, "total acid by reaction"),
        (ta - drag_ta, -29.7761, "total acid"),
        (c.free_acid().in_point_litres() - drag_fa, -8.0021, "free acid"),
        (t.deficit().in_moles(), 0.1184, "deficit"),
        (t.sludge().mass().in_grams(), 12.5489, "sludge"),
        (
            t.manganese_in_coating().in_grams(),
            4.8254,
            "manganese in the coating",
        ),
        (t.hydrogen().in_litres(), 3.446, "hydrogen"),
        (t.acid_attacked().in_grams(), 28.076, "phosphoric acid"),
    ] {
        near(got, want, 1e-3, what);
    }
    let restore = (drag_ta - ta) * 4.75;
    off(restore, 141.4, 1.0, "replenisher mL");
}

/// P27 and P29: with nothing oxidised, hydrolysed or dragged out the free acid stands still at r 4.35, falls below
/// it and rises above it.
#[test]
fn sign_rule() {
    let bare = |r: f64| Recipe {
        attack_ratio: r,
        oxidation: Oxidation::ByLoad(Share::ZERO),
        hydrolysed: Share::ZERO,
        ..RECIPE
    };
    let still = species::HUREAULITE / (species::IRON * 3.0);
    off(still, 4.35, 0.01, "ratio with free acid unchanged");
    let moved = |r: f64| Turnover::of(&bare(r), W16, M2).change().free_acid().in_moles();
    off(moved(still), 0.0, 1e-14, "free acid");
    let ratio_after = |r: f64| {
        let mut b = bath(36.0, 6.0, 1.0, 20.0);
        b.coat(&bare(r), W16, M2).unwrap();
        b.ratio()
    };
    // The ratio turns a little earlier than the free acid, since total acid falls at any r.
    for r in [1.4, 2.0, 3.0, 3.7] {
        assert!(moved(r) < 0.0 && ratio_after(r) > 6.0, "r {r}");
    }
    assert!(moved(4.3) < 0.0 && ratio_after(4.3) < 6.0);
    for r in [4.4, 5.0, 8.0] {
        assert!(moved(r) > 0.0 && ratio_after(r) < 6.0, "r {r}");
    }
}

/// P31 and P32: free and total acid from the composition of a published bath, US 9,506,151 B2, claim 1:
/// Mn 11.8, Ni 0.5, Fe 1, P2O5 36, NO3 4.6 g/L. Metal that belongs to nitrate carries no acid phosphate.
#[test]
fn points_of_a_published_bath() {
    let metal = 11.8 / 54.938 + 0.5 / 58.693 + 1.0 / 55.845 - 4.6 / 62.004 / 2.0;
    let phosphorus = 36.0 / 141.943 * 2.0;
    let one_litre = Dissolved {
        acid: Amount::moles(phosphorus - 2.0 * metal),
        manganese: Amount::moles(metal),
        ..Dissolved::default()
    };
    let points = |a: Amount| (a / Volume::litres(1.0)).in_points();
    off(points(one_litre.free_acid()), 9.9, 0.1, "free acid");
    let total = |counts: f64| points(one_litre.total_acid(counts));
    off(total(2.4), 70.0, 10.0, "total acid");
    assert!(
        total(2.0) > 60.0 && total(2.67) < 77.0,
        "{} to {}",
        total(2.0),
        total(2.67)
    );
    off(total(2.4) / points(one_litre.free_acid()), 7.1, 0.3, "ratio");
    off(total(2.4) * 132.0 / 183.0, 50.0, 5.0, "at 132 g/L");
}

/// P35: 2.5 g of sludge at r 4.35 to 21 g at r 1.4.
#[test]
fn sludge_by_attack_ratio() {
    let sludge = |r: f64| {
        let recipe = Recipe {
            attack_ratio: r,
            ..RECIPE
        };
        Turnover::of(&recipe, W16, M2).sludge().mass().in_grams()
    };
    off(sludge(4.35), 2.5, 0.1, "r 4.35");
    off(sludge(1.4), 21.0, 0.6, "r 1.4");
}

fn w1() -> (Chemistry, Turnover) {
    let mut b = bath(36.0, 6.0, 1.0, 20.0);
    let area = Area::square_metres(0.40);
    let made = b.coat(&RECIPE, W16, area).unwrap();
    b.drag_out(RECIPE.drag_out * area).unwrap();
    b.evaporate(Volume::litres(1.71)).unwrap();
    let short = Volume::litres(20.0) - b.volume();
    b.top_up(short);
    (b, made)
}

/// Worked example W1, 0.5 % on each. Its iron leaves the little that is dragged out aside, within the tolerance.
#[test]
fn worked_example() {
    let (b, made) = w1();
    for (got, want, what) in [
        (made.coating().in_grams(), 6.4, "coating"),
        (made.metal().in_grams(), 3.2, "iron dissolved"),
        (made.hydrogen().in_litres(), 1.38, "hydrogen"),
        (made.sludge().mass().in_grams(), 5.0, "sludge"),
        (b.total_acid().in_points(), 35.40, "total acid"),
        (b.free_acid().in_points(), 5.84, "free acid"),
        (b.ratio(), 6.06, "ratio"),
        (b.iron().in_grams_per_litre(), 1.095, "iron"),
        (b.volume().in_litres(), 20.0, "volume"),
    ] {
        near(got, want, 0.005, what);
    }
    let concentrate = b.concentrate_for(&RECIPE, Strength::points(36.0)).in_litres() * 1e3;
    near(concentrate, 57.0, 0.01, "concentrate mL");
    assert_eq!((b.uses(), b.area().in_square_metres()), (1, 0.40));
}

/// P36, P37: 4.75 mL of concentrate raises a litre by a point, and 17 % by volume makes 35.8 points.
#[test]
fn concentrate() {
    let mut b = bath(30.0, 5.0, 1.0, 1_000.0);
    b.replenish(&RECIPE, Volume::litres(4.75));
    b.evaporate(Volume::litres(4.75)).unwrap();
    near(b.total_acid().in_points(), 31.0, 1e-9, "total acid");
    near(b.free_acid().in_points(), 5.0 + 1.0 / 6.0, 1e-9, "free acid");
    off(
        0.17 / RECIPE.concentrate_per_point.in_fraction(),
        35.8,
        0.1,
        "17 % by volume",
    );
}

/// P41: a gram of iron in a litre takes 2.9 points of total and 3.6 points of free acid before hydrolysis.
#[test]
fn dissolved_iron_takes_acid() {
    let recipe = Recipe {
        hydrolysed: Share::ZERO,
        ..RECIPE
    };
    let mut b = bath(36.0, 6.0, 0.0, 20.0);
    b.condition(&recipe, tankday::units::Mass::grams(20.0)).unwrap();
    off(b.total_acid().in_points() - 36.0, -2.9, 0.1, "total acid");
    off(b.free_acid().in_points() - 6.0, -3.6, 0.1, "free acid");
    near(b.iron().in_grams_per_litre(), 1.0, 1e-12, "iron");
    assert!(b.is_conditioned());
}

/// Section 11: pure precipitation leaves the total acid as it is; water changes no amount.
#[test]
fn what_moves_nothing() {
    let coat_only = Turnover::of(
        &Recipe {
            attack_ratio: 1e12,
            ..RECIPE
        },
        W16,
        M2,
    )
    .change();
    off(coat_only.total_acid(2.4).in_moles(), 0.0, 1e-9, "total acid");
    assert!(coat_only.acid.in_moles() > 0.1);
    let mut b = bath(36.0, 6.0, 1.0, 20.0);
    let before = b.elements();
    b.evaporate(Volume::litres(3.0)).unwrap();
    near(
        b.total_acid().in_points(),
        36.0 * 20.0 / 17.0,
        1e-12,
        "concentrated",
    );
    b.top_up(Volume::litres(3.0));
    assert_eq!(b.elements(), before);
    near(b.total_acid().in_points(), 36.0, 1e-12, "diluted again");
}

/// Section 11: splitting a load in two changes totals only through concentration, that is, through drag-out.
#[test]
fn splitting_a_load() {
    let run = |parts: u32, drag: VolumePerArea| {
        let mut b = bath(36.0, 6.0, 1.0, 20.0);
        for _ in 0..parts {
            let area = Area::square_metres(0.4) / f64::from(parts);
            b.coat(&RECIPE, W16, area).unwrap();
            b.drag_out(drag * area).unwrap();
        }
        b
    };
    let (one, two) = (run(1, VolumePerArea::ZERO), run(2, VolumePerArea::ZERO));
    near(
        two.total_acid().in_points(),
        one.total_acid().in_points(),
        1e-13,
        "total acid",
    );
    near(two.sludge().base(), one.sludge().base(), 1e-12, "sludge");
    let (one, two) = (run(1, RECIPE.drag_out), run(2, RECIPE.drag_out));
    let gone = |b: &Chemistry| b.account().dragged_out.phosphorus.in_moles();
    assert!(
        gone(&two) > gone(&one),
        "the first half leaves from a stronger bath"
    );
    near(gone(&two), gone(&one), 0.01, "drag-out");
}
