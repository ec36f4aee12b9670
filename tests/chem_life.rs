//! Limits and life of a bath: P43, P46 to P48 of the shop practice figures, derived there; and the closed form
//! against a bath worked load by load.

use crate::bath_tanks::near;
use crate::chem_growth::bath;
use tankday::bath::chemistry::{
    Breach, CONSTANTS, Chemistry, Gravity, IronGrade, Limits, Mix, Oxidation, Reach, Recipe, Side, Watched,
    life_left,
};
use tankday::units::{Area, CoatWeight, Concentration, Share, Span, Temperature, Volume, VolumePerArea};

const RECIPE: Recipe = Recipe::DEFAULT;
const LIMITS: Limits = Limits::DEFAULT;
const W16: CoatWeight = CoatWeight::grams_per_square_metre(16.0);

fn mix(dm2: f64) -> Mix {
    Mix {
        weight: W16,
        area: Area::square_decimetres(dm2),
        hot: Span::hours(1.0),
        loads_by_day: 4.0,
    }
}

/// P46: 36 to 30 points without additions: 20, 10, 6.7, 4 uses at 1, 2, 3, 5 dm2/L.
#[test]
fn life_by_strength() {
    let one_litre = bath(36.0, 6.0, 1.0, 1.0);
    for (dm2, uses) in [(0.5, 40.3), (1.0, 20.15), (2.0, 10.08), (3.0, 6.72), (5.0, 4.03)] {
        let life = life_left(&RECIPE, &LIMITS, &one_litre, &mix(dm2));
        let reach = *life.to(Watched::Strength).unwrap();
        near(reach.area.in_square_metres(), 0.2015, 0.02, "m2/L");
        near(reach.loads, uses, 0.02, "uses");
        near(reach.days, uses / 4.0, 0.02, "days");
    }
}

/// P47: iron from 1 to 4 g/L. The source's figures leave dragged-out iron aside, so this does too.
#[test]
fn life_by_iron() {
    let one_litre = bath(36.0, 6.0, 1.0, 1.0);
    for (phi, area) in [(0.3, 0.6327), (0.0, 0.4429)] {
        let recipe = Recipe {
            oxidation: Oxidation::ByLoad(Share::fraction(phi)),
            drag_out: VolumePerArea::ZERO,
            ..RECIPE
        };
        let life = life_left(&recipe, &LIMITS, &one_litre, &mix(1.0));
        near(
            life.to(Watched::Iron).unwrap().area.in_square_metres(),
            area,
            1e-3,
            "m2/L",
        );
    }
}

/// P48: strength first, then sludge, then iron. The bed density that puts sludge there is assumed; the product's
/// narrow ratio window is set aside, as the source does.
#[test]
fn strength_then_sludge_then_iron() {
    let life = life_left(&RECIPE, &LIMITS, &bath(36.0, 6.0, 1.0, 20.0), &mix(20.0));
    let order: Vec<Watched> = life
        .reaches
        .iter()
        .map(|r| r.what)
        .filter(|w| *w != Watched::Ratio)
        .collect();
    assert_eq!(order, [Watched::Strength, Watched::Sludge, Watched::Iron]);
    assert_eq!(life.first().unwrap().side, Side::Below);
}

/// One load after another with water made up, until the limit is passed: within one load of the closed form, for
/// every limit, with iron counted by load and by hour. Iron is run in a strong bath: the manganese of a plain one ends
/// before its iron is too much.
#[test]
fn closed_form_agrees_with_loads() {
    let by_hour = Recipe {
        oxidation: Recipe::BY_HOUR,
        ..RECIPE
    };
    let passed = |b: &Chemistry, what: Watched, recipe: &Recipe| match what {
        Watched::Strength => LIMITS.strength.check(b.total_acid()),
        Watched::Ratio => LIMITS.ratio.check(b.ratio()),
        Watched::Iron => LIMITS.iron.check(b.iron()),
        _ => LIMITS.sludge.check(b.sludge_volume(recipe)),
    };
    let mut checked = 0;
    let (plain, strong) = (bath(36.0, 6.0, 1.0, 20.0), bath(72.0, 12.0, 1.0, 20.0));
    for (recipe, start) in [(RECIPE, plain), (by_hour, plain), (RECIPE, strong)] {
        let life = life_left(&recipe, &LIMITS, &start, &mix(2.0));
        let wanted = |r: &&Reach| (r.what == Watched::Iron) == (start == strong);
        for reach in life.reaches.iter().filter(wanted) {
            let mut b = start;
            let mut loads = 0;
            while passed(&b, reach.what, &recipe) != Some((Gravity::Stop, reach.side)) && loads < 5_000 {
                let area = mix(2.0).area;
                b.coat(&recipe, W16, area).unwrap();
                b.drag_out(recipe.drag_out * area).unwrap();
                b.hot_for(&recipe, Span::hours(1.0), Volume::litres(0.1)).unwrap();
                b.top_up(Volume::litres(20.0) - b.volume());
                loads += 1;
            }
            near(f64::from(loads), reach.loads, 0.03, &format!("{:?}", reach.what));
            checked += 1;
        }
    }
    assert!(checked >= 7, "{checked}");
}

/// A bath past a limit has nothing left to it; one that moves away from a limit never reaches it.
#[test]
fn nothing_left_and_never() {
    let weak = bath(29.0, 5.0, 1.0, 20.0);
    let life = life_left(&RECIPE, &LIMITS, &weak, &mix(1.0));
    let first = life.first().unwrap();
    assert_eq!((first.what, first.loads), (Watched::Strength, 0.0));
    let no_sludge = Recipe {
        oxidation: Oxidation::ByLoad(Share::ZERO),
        hydrolysed: Share::ZERO,
        ..RECIPE
    };
    assert!(
        life_left(&no_sludge, &LIMITS, &weak, &mix(1.0))
            .to(Watched::Sludge)
            .is_none()
    );
}

/// P43 and P9: what its iron makes of a bath.
#[test]
fn grades_of_iron() {
    for (iron, grade) in [
        (0.0, IronGrade::Thin),
        (0.19, IronGrade::Thin),
        (0.2, IronGrade::Doubtful),
        (0.5, IronGrade::Good),
        (3.0, IronGrade::Good),
        (3.1, IronGrade::High),
        (4.1, IronGrade::TooHigh),
    ] {
        assert_eq!(
            IronGrade::of(Concentration::grams_per_litre(iron)),
            grade,
            "{iron}"
        );
    }
}

/// Section 11: any breach is named, with its side and how grave it is.
#[test]
fn breaches() {
    let fill = Volume::litres(20.0);
    let hot = Temperature::celsius(95.0);
    assert_eq!(
        LIMITS.breaches(&RECIPE, &bath(36.0, 6.0, 1.0, 20.0), hot, fill),
        []
    );
    let named = |b: &Chemistry, t: f64| LIMITS.breaches(&RECIPE, b, Temperature::celsius(t), fill);
    let breach = |what, gravity, side| Breach { what, gravity, side };
    for (b, t, want) in [
        (
            bath(29.9, 5.0, 1.0, 20.0),
            95.0,
            breach(Watched::Strength, Gravity::Stop, Side::Below),
        ),
        (
            bath(30.5, 5.0, 1.0, 20.0),
            95.0,
            breach(Watched::Strength, Gravity::Warn, Side::Below),
        ),
        (
            bath(36.0, 7.0, 1.0, 20.0),
            95.0,
            breach(Watched::Ratio, Gravity::Stop, Side::Below),
        ),
        (
            bath(36.0, 5.0, 1.0, 20.0),
            95.0,
            breach(Watched::Ratio, Gravity::Stop, Side::Above),
        ),
        (
            bath(36.0, 6.0, 0.3, 20.0),
            95.0,
            breach(Watched::Iron, Gravity::Warn, Side::Below),
        ),
        (
            bath(36.0, 6.0, 4.1, 20.0),
            95.0,
            breach(Watched::Iron, Gravity::Stop, Side::Above),
        ),
        (
            bath(36.0, 6.0, 1.0, 20.0),
            89.0,
            breach(Watched::Temperature, Gravity::Warn, Side::Below),
        ),
        (
            bath(36.0, 6.0, 1.0, 20.0),
            98.1,
            breach(Watched::Temperature, Gravity::Stop, Side::Above),
        ),
        (
            bath(36.0, 6.0, 1.0, 20.0),
            f64::NAN,
            breach(Watched::Temperature, Gravity::Stop, Side::Above),
        ),
        (
            bath(36.0, 6.0, 1.0, 16.0),
            95.0,
            breach(Watched::Level, Gravity::Stop, Side::Below),
        ),
    ] {
        assert_eq!(named(&b, t), [want]);
    }
    let mut poisoned = bath(36.0, 6.0, 1.0, 20.0);
    poisoned.contaminants.zinc = true;
    assert_eq!(
        named(&poisoned, 95.0),
        [breach(Watched::Contaminants, Gravity::Stop, Side::Above)]
    );
}

/// Every default is believable by its own range, names its source, and can be measured; a wrong one is found.
#[test]
fn constants_explain_themselves() {
    let by_hour = Recipe {
        oxidation: Recipe::BY_HOUR,
        ..RECIPE
    };
    for c in &CONSTANTS {
        assert!(
            c.is_believable(&RECIPE) && c.is_believable(&by_hour),
            "{}",
            c.name
        );
        assert!((c.value)(&RECIPE).or((c.value)(&by_hour)).is_some(), "{}", c.name);
        assert!(
            !c.source.is_empty() && !c.measure.is_empty() && c.least < c.most,
            "{}",
            c.name
        );
    }
    let wrong = Recipe {
        attack_ratio: -1.0,
        drag_out: VolumePerArea::litres_per_square_metre(f64::NAN),
        ..RECIPE
    };
    let found: Vec<&str> = CONSTANTS
        .iter()
        .filter(|c| !c.is_believable(&wrong))
        .map(|c| c.name)
        .collect();
    assert_eq!(found, ["coating by metal dissolved", "drag-out"]);
}
