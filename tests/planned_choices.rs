//! Choices under plans: more of something never comes out worse where the plan for less of it can be followed, and no plan
//! is worse than the shop's own rules; on the day of mean times, by the aim, exactly.

use crate::kept_cases::the_same;
use crate::random_shop::any_shop;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Effort, judged};
use tankday::planned::{Asked, Planned, Shops, all_others, carried, side_by_side};
use tankday::shop::Shop;
use tankday::sweep::{neighbours, scenario_at, varied};

/// Costs are sums of floating point numbers.
const NEAR: f64 = 1e-6;
/// The same plan with another pair of hands may draw a few joules more: so much of the aim, under a millisecond of the
/// finish.
const JOULES: f64 = 1e-5;

fn planned(shops: &[Shop], neighbours: &[Vec<usize>], days: u64) -> Vec<Planned> {
    let all: Vec<&Shop> = shops.iter().collect();
    let asked = Asked {
        seed: 1,
        effort: Effort::Days(days),
    };
    let shops = Shops {
        all: &all,
        neighbours,
    };
    side_by_side(shops, asked, &AtomicBool::new(false), || ())
}

/// What a plan's file costs in a shop; none where it cannot be followed.
fn cost_there(file: &str, shop: &Shop) -> Option<f64> {
    let line = Line::new(shop);
    Some(judged(shop, &line, &carried(file, shop, &line)?).cost)
}

/// Checks all neighbours, and returns how many plans could be followed next door.
#[track_caller]
fn none_is_worse(shops: &[Shop], neighbours: &[Vec<usize>], all: &[Planned]) -> usize {
    let mut followed = 0;
    for (at, planned) in all.iter().enumerate() {
        assert!(
            planned.judged.cost <= planned.rules.cost + NEAR,
            "{at}: worse than the rules"
        );
        let own = planned.file().and_then(|file| cost_there(file, &shops[at]));
        assert!(own.is_none_or(|own| (own - planned.judged.cost).abs() < NEAR));
        for other in &neighbours[at] {
            if let Some(cost) = all[*other].file().and_then(|file| cost_there(file, &shops[at])) {
                followed += 1;
                assert!(
                    planned.judged.cost <= cost + NEAR,
                    "{at} has {}, the plan of {other} {cost}",
                    planned.judged.cost
                );
            }
        }
    }
    followed
}

fn swept(file: &str, vary: &str, days: u64) -> (Vec<Shop>, Vec<Vec<usize>>, Vec<Planned>) {
    let draft = crate::shipped::draft(file);
    let keys = [varied(vary).unwrap()];
    let at = |setting: &tankday::sweep::Setting| scenario_at(&draft, &keys, std::slice::from_ref(setting));
    let shops: Vec<Shop> = keys[0].values.iter().map(|s| at(s).unwrap().shop).collect();
    let beside = neighbours(&keys, &vec![true; shops.len()]);
    let all = planned(&shops, &beside, days);
    (shops, beside, all)
}

#[test]
fn more_hands_and_more_litres_are_never_worse_where_the_same_plan_can_be_followed() {
    let mut runner = TestRunner::new(the_same(10, 23));
    let mut followed = 0;
    for _ in 0..10 {
        let shop = any_shop().new_tree(&mut runner).unwrap().current();
        let hands = shop.hands.max(1);
        let mut shops: Vec<Shop> = (hands..hands + 2)
            .map(|hands| Shop {
                hands,
                ..shop.clone()
            })
            .collect();
        let mut large = shops[0].clone();
        for tank in large.stations.iter_mut().filter_map(|s| s.tank.as_mut()) {
            (tank.fill, tank.volume) = (tank.fill * 1.2, tank.volume * 1.2);
        }
        shops.push(large);
        let beside = all_others(shops.len());
        followed += none_is_worse(&shops, &beside, &planned(&shops, &beside, 60));
    }
    assert!(
        followed >= 12,
        "only {followed} plans could be followed next door"
    );
}

#[test]
fn hands_swept_under_plans_never_make_a_day_worse() {
    let (shops, beside, all) = swept("tests/data/mixed-day-first.yaml", "shop.hands=1..4", 60);
    let followed = none_is_worse(&shops, &beside, &all);
    assert_eq!(followed, 6, "every plan can be followed beside it");
    for pair in all.windows(2) {
        let [less, more] = pair else { unreachable!() };
        assert!(
            more.judged.cost <= less.judged.cost + JOULES,
            "{:?} {:?}",
            less.judged,
            more.judged
        );
    }
}

#[test]
fn litres_swept_under_plans_never_lose_a_plan_that_can_be_followed() {
    let (shops, beside, all) = swept(
        "tests/data/mixed-day-first.yaml",
        "tanks.black tank.fill=16 L..24 L/5",
        60,
    );
    let costs: Vec<_> = all.iter().map(|p| (p.from, p.judged.cost)).collect();
    assert!(none_is_worse(&shops, &beside, &all) >= 4, "{costs:?}");
}
