//! The books of a bath: they close to rounding whatever is done to it; a generic ODE routine agrees with the steps.
//!
//! The integrator is a classic Runge-Kutta rule of fourth order (textbook), written here and used for nothing else;
//! it integrates rates written from the reactions of section 3 of the shop practice figures, not from the code.

use crate::bath_tanks::near;
use crate::chem_growth::bath;
use crate::kept_cases::keeping;
use proptest::prelude::*;
use tankday::bath::Growth;
use tankday::bath::chemistry::{Chemistry, Exhausted, Recipe, Trim, Turnover, fresh};
use tankday::units::{Area, CoatWeight, Concentration, Mass, Share, Span, Strength, Temperature, Volume};

const RECIPE: Recipe = Recipe::DEFAULT;
const HOURLY: Recipe = Recipe {
    oxidation: Recipe::BY_HOUR,
    ..RECIPE
};

fn rk4<const N: usize>(y: &mut [f64; N], t: f64, steps: u32, rate: impl Fn(f64, &[f64; N]) -> [f64; N]) {
    let h = t / f64::from(steps);
    let plus = |y: &[f64; N], k: &[f64; N], by: f64| std::array::from_fn(|i| y[i] + by * k[i]);
    for n in 0..steps {
        let at = f64::from(n) * h;
        let a = rate(at, y);
        let b = rate(at + h / 2.0, &plus(y, &a, h / 2.0));
        let c = rate(at + h / 2.0, &plus(y, &b, h / 2.0));
        let d = rate(at + h, &plus(y, &c, h));
        *y = std::array::from_fn(|i| y[i] + h / 6.0 * (a[i] + 2.0 * b[i] + 2.0 * c[i] + d[i]));
    }
}

/// A load integrated over its ten minutes: coating first order in time, attack, oxidation and hydrolysis in
/// proportion; total acid, free acid in points, iron in g/L, sludge in g, gas in L.
#[test]
fn a_load_as_an_ode() {
    let (volume, area, minutes, tau) = (20.0, 0.4, 10.0, 4.5);
    let mut y = [36.0, 6.0, 1.0, 0.0, 0.0];
    rk4(&mut y, minutes, 400, |t, _| {
        let w = 18.0 / tau * libm::exp(-t / tau) * area;
        let (attack, coat) = (w / 2.0 / 55.845, w / 728.646);
        let into_coat = 5.0 * 0.2 * coat;
        let oxidised = 0.3 * (attack - into_coat);
        let deficit = 2.0 * attack - 6.0 * coat - oxidised;
        let given_back = 0.4 * deficit;
        [
            -(1.6 * attack + 0.4 * oxidised) * 100.0 / volume,
            -(deficit - given_back) * 100.0 / volume,
            (attack - into_coat - oxidised) * 55.845 / volume,
            oxidised * 186.845 + given_back / 6.0 * 728.646,
            attack * 24.055,
        ]
    });
    let law = Growth::DEFAULT;
    let x = law.conversion(Temperature::celsius(95.0), Span::minutes(minutes));
    let mut b = bath(36.0, 6.0, 1.0, volume);
    let made = b
        .coat(
            &RECIPE,
            law.weight(x, tankday::bath::Substrate::PLAIN),
            Area::square_metres(area),
        )
        .unwrap();
    near(b.total_acid().in_points(), y[0], 1e-8, "total acid");
    near(b.free_acid().in_points(), y[1], 1e-8, "free acid");
    near(b.iron().in_grams_per_litre(), y[2], 1e-8, "iron");
    near(
        b.suspended().in_grams() * 2.0,
        y[3],
        1e-6,
        "sludge, half of it stirred up",
    );
    near(made.hydrogen().in_litres(), y[4], 1e-4, "gas");
}

/// Eight hot hours: iron oxidises 1 % an hour, water leaves steadily. Then twelve idle: 0.1 % an hour and a half-life
/// of four hours in the stirred-up sludge. All as rates.
#[test]
fn hours_as_an_ode() {
    let mut b = bath(36.0, 6.0, 2.0, 20.0);
    b.coat(
        &HOURLY,
        CoatWeight::grams_per_square_metre(16.0),
        Area::square_metres(1.0),
    )
    .unwrap();
    let start = b.readings();
    let v = start.volume.in_litres();
    let iron = start.iron.in_grams_per_litre() * v / 55.845;
    let mut y = [
        v,
        iron,
        start.free_acid.in_points() * v / 100.0,
        start.total_acid.in_points() * v / 100.0,
        0.0,
    ];
    let k = -libm::log(0.99);
    rk4(&mut y, 8.0, 800, |_, y| {
        [-0.25, -k * y[1], k * y[1], -0.4 * k * y[1], 186.845 * k * y[1]]
    });
    let stirred = b.suspended().in_grams();
    for _ in 0..4 {
        b.hot_for(&HOURLY, Span::hours(2.0), Volume::litres(0.5)).unwrap();
    }
    near(b.volume().in_litres(), y[0], 1e-12, "volume");
    near(b.iron().in_grams_per_litre(), y[1] * 55.845 / y[0], 1e-10, "iron");
    near(b.free_acid().in_points(), y[2] * 100.0 / y[0], 1e-10, "free acid");
    near(
        b.total_acid().in_points(),
        y[3] * 100.0 / y[0],
        1e-10,
        "total acid",
    );
    near(
        b.suspended().in_grams() - stirred,
        y[4] / 2.0,
        1e-9,
        "half of the new sludge",
    );
    assert_eq!(b.hot(), Span::hours(8.0));
    let before = b.suspended().in_grams();
    let mut still = RECIPE;
    still.settling_half = Span::hours(4.0);
    b.idle_for(&still, Span::hours(12.0));
    near(b.suspended().in_grams(), before / 8.0, 1e-9, "three half-lives");
}

/// Oxidising with peroxide: 1 g of iron by 0.30 g, 3.35 g of sludge, 1.8 point-litres of free acid up (section 5).
#[test]
fn peroxide() {
    let mut b = bath(36.0, 6.0, 3.5, 20.0);
    let used = b.oxidise_out(&RECIPE, Concentration::grams_per_litre(2.5));
    near(used.in_grams() / 20.0, 0.30, 0.02, "peroxide");
    near(
        (b.suspended() + b.settled()).in_grams() / 20.0,
        3.35,
        0.002,
        "sludge",
    );
    near(
        (b.free_acid().in_points() - 6.0) * 20.0 / 20.0,
        1.8,
        0.006,
        "free acid",
    );
    assert!(b.total_acid().in_points() < 36.0);
}

/// What each deed resets and leaves (table of section 5).
#[test]
fn what_care_resets() {
    let worn = || {
        let mut b = bath(31.0, 5.5, 3.6, 20.0);
        b.coat(
            &RECIPE,
            CoatWeight::grams_per_square_metre(16.0),
            Area::square_metres(1.0),
        )
        .unwrap();
        b
    };
    let mut b = worn();
    b.discard(Volume::litres(10.0), Share::fraction(1.0)).unwrap();
    assert_eq!(b.settled(), Mass::ZERO);
    near(
        b.suspended().in_grams(),
        worn().suspended().in_grams() / 2.0,
        1e-12,
        "stirred up halves",
    );
    near(
        b.iron().in_grams_per_litre(),
        worn().iron().in_grams_per_litre(),
        1e-12,
        "same concentration",
    );
    let mut b = worn();
    b.settle_and_decant(Share::fraction(1.0), Volume::litres(0.6))
        .unwrap();
    assert!(b.sludge().in_grams_per_litre() < 1e-9);
    near(
        b.total_acid().in_points(),
        worn().total_acid().in_points(),
        1e-12,
        "acid stays",
    );
    let mut b = worn();
    b.filter(Share::fraction(0.9), Volume::litres(0.4)).unwrap();
    near(
        b.settled().in_grams(),
        worn().settled().in_grams() * 0.1,
        1e-9,
        "filtered",
    );
    let mut b = worn();
    b.trim(Trim::ManganeseCarbonate, Strength::points(5.0));
    near(b.free_acid().in_points(), 5.0, 1e-12, "trimmed down");
    b.trim(Trim::PhosphoricAcid, Strength::points(6.0));
    near(b.free_acid().in_points(), 6.0, 1e-12, "trimmed up");
    let mut b = worn();
    b.renew(&RECIPE, Volume::litres(18.0));
    near(b.total_acid().in_points(), 36.0, 1e-12, "renewed");
    assert_eq!(
        (b.uses(), b.is_conditioned(), b.sludge()),
        (0, false, Concentration::ZERO)
    );
    assert!(b.residuals().largest(b.account()) < 1e-13);
}

/// P38 to P42: a fresh bath, its ageing, hydrogen and the space it needs.
#[test]
fn fresh_bath() {
    let litres = Volume::litres(100.0);
    near(
        fresh::concentrate(&RECIPE, litres).in_litres(),
        17.0,
        0.01,
        "17 % by volume (P10, P37)",
    );
    let b = fresh::make_up(&RECIPE, litres).unwrap();
    assert!(!b.is_conditioned());
    near(b.total_acid().in_points(), 36.0, 1e-12, "strength");
    let all = fresh::conditioning(&RECIPE, &b, Concentration::grams_per_litre(2.75));
    near(all.wool.in_grams(), 275.0, 1e-9, "wool");
    near(
        all.turnover.hydrogen().in_litres(),
        118.0,
        0.01,
        "hydrogen of 275 g",
    );
    near(
        all.turnover.deficit().in_point_litres() / 100.0,
        9.8,
        0.01,
        "points of free acid",
    );
    assert!(!all.acid_lasts);
    let some = fresh::conditioning(&RECIPE, &b, Concentration::grams_per_litre(0.55));
    near(
        some.turnover.hydrogen().in_litres(),
        24.0,
        0.02,
        "hydrogen of 55 g",
    );
    assert!(
        some.acid_lasts && fresh::conditioning(&RECIPE, &b, Concentration::grams_per_litre(1.0)).acid_lasts
    );
    // Section 10: a square metre gives about 3.5 L of hydrogen, and 350 L of closed space then hold 1 %.
    let gas = Turnover::of(
        &RECIPE,
        CoatWeight::grams_per_square_metre(16.0),
        Area::square_metres(1.0),
    )
    .hydrogen();
    near(
        fresh::space_for(gas, Share::percent(1.0)).in_litres(),
        350.0,
        0.02,
        "space",
    );
}

/// What a bath does not hold it does not give: an error, and nothing changed.
#[test]
fn an_exhausted_bath_says_so() {
    let mut b = bath(36.0, 6.0, 1.0, 1.0);
    let before = b;
    let heavy = CoatWeight::grams_per_square_metre(1e4);
    assert!(b.coat(&RECIPE, heavy, Area::square_metres(1.0)).is_err());
    assert_eq!(
        b.condition(&RECIPE, Mass::kilograms(1.0)),
        Err(Exhausted::FreeAcid)
    );
    assert_eq!(b.drag_out(Volume::litres(1.0)), Err(Exhausted::Volume));
    assert_eq!(b.evaporate(Volume::litres(2.0)), Err(Exhausted::Volume));
    assert_eq!(b, before);
}

fn act(b: &mut Chemistry, what: u8, much: f64) {
    let litre = Volume::litres(much);
    // Refused deeds change nothing, which is what the books must show.
    let _ = match what {
        0 | 1 => b
            .coat(
                &HOURLY,
                CoatWeight::grams_per_square_metre(16.0),
                Area::square_metres(much),
            )
            .map(drop),
        2 => b.drag_out(litre * 0.1),
        3 => b.hot_for(&HOURLY, Span::hours(4.0 * much), litre),
        4 => b.condition(&RECIPE, Mass::grams(10.0 * much)).map(drop),
        5 => b.discard(litre * 5.0, Share::fraction(much)),
        6 => b.settle_and_decant(Share::fraction(much), litre),
        7 => b.filter(Share::fraction(much), litre),
        8 => b
            .overstay(&RECIPE, Span::hours(2.0 * much), Area::square_metres(1.0))
            .map(drop),
        other => {
            match other {
                9 => b.top_up(litre),
                10 => b.replenish(&RECIPE, litre),
                11 => b.idle_for(&HOURLY, Span::hours(12.0 * much)),
                12 => drop(b.trim(Trim::ManganeseCarbonate, Strength::points(6.0 * much))),
                13 => drop(b.trim(Trim::SodaAsh, Strength::points(6.0 * much))),
                14 => drop(b.trim(Trim::PhosphoricAcid, Strength::points(8.0 * much))),
                15 => drop(b.oxidise_out(&RECIPE, Concentration::grams_per_litre(2.0 * much))),
                16 => b.stir_up(Share::fraction(much)),
                _ => b.renew(&RECIPE, Volume::litres(20.0)),
            }
            Ok(())
        }
    };
}

proptest! {
    #![proptest_config(keeping(256))]

    /// Section 11: iron, manganese, phosphorus and water close to rounding after any deeds, and no stock is negative.
    #[test]
    fn books_close_whatever_is_done(deeds in prop::collection::vec((0u8..18, 0.0f64..1.0), 0..120)) {
        let mut b = bath(36.0, 6.0, 1.0, 20.0);
        for (what, much) in deeds {
            act(&mut b, what, much);
            prop_assert!(b.residuals().largest(b.account()) < 1e-11, "{:?}", b.residuals());
            let r = b.readings();
            prop_assert!(r.free_acid.in_points() > -1e-9 && r.iron.in_grams_per_litre() > -1e-9);
            prop_assert!(r.volume.in_litres() > 0.0 && r.sludge.in_grams_per_litre() > -1e-9);
            prop_assert!(r.total_acid.in_points() > -1e-9);
        }
    }
}
