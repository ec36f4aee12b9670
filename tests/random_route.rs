//! Random routes: every manner of step, in every order, sent back anywhere.

use crate::small_shop::{min, step};
use proptest::prelude::*;
use tankday::random::Spread;
use tankday::shop::*;
use tankday::units::*;

pub(crate) fn minutes(least: i64, most: i64) -> impl Strategy<Value = Span> {
    (least * 2..=most * 2).prop_map(|half| Span::seconds(half as f64 * 30.0))
}

pub(crate) fn spread() -> impl Strategy<Value = Spread> {
    prop_oneof![
        4 => minutes(0, 40).prop_map(Spread::Fixed),
        1 => (minutes(0, 10), minutes(0, 30)).prop_map(|(least, more)| Spread::Uniform { least, most: least + more }),
        1 => minutes(1, 20).prop_map(|mean| Spread::Exponential { mean }),
        1 => prop::collection::vec(minutes(0, 30), 1..4).prop_map(Spread::Readings),
    ]
}

/// What a step is like, apart from its name, its stations and what comes before it.
fn manner() -> impl Strategy<Value = Step> {
    let hands = prop_oneof![Just(Hands::None), Just(Hands::Ends), Just(Hands::Throughout)];
    let at_break = prop_oneof![
        Just(AtBreak::FinishFirst),
        Just(AtBreak::Pause),
        Just(AtBreak::StartAgain)
    ];
    let times = (spread(), minutes(0, 1), minutes(0, 2), minutes(0, 2));
    let limits = (
        prop::option::weighted(0.2, minutes(1, 90)),
        prop::option::weighted(0.3, minutes(0, 60)),
    );
    let flags = (prop::bool::weighted(0.15), prop::bool::weighted(0.2));
    (hands, at_break, times, limits, flags).prop_map(
        |(hands, at_break, (load, each, put, take), limits, flags)| {
            let ends = hands == Hands::Ends;
            Step {
                hands,
                at_break,
                time: StepTime::Work {
                    load,
                    each: each.times(0.05),
                },
                put_in: if ends { put } else { Span::ZERO },
                take_out: if ends { take } else { Span::ZERO },
                most: limits.0.filter(|_| ends),
                within: limits.1,
                at_once: flags.0,
                overnight: flags.1 && ends,
                ..step("", StationId(0), 0, &[])
            }
        },
    )
}

/// Water that is counted, or not.
pub(crate) fn rinse() -> impl Strategy<Value = Option<Rinse>> {
    let limit = prop_oneof![
        2 => (1..40i64).prop_map(|tenths| Some(RinseLimit::Points(Strength::points(tenths as f64 / 10.0)))),
        1 => (1..9i64).prop_map(|percent| Some(RinseLimit::OfBath(Share::percent(percent as f64)))),
        1 => Just(None),
    ];
    let renewal = (
        limit,
        prop::option::weighted(0.3, 1..6u32),
        prop::bool::weighted(0.2),
        minutes(0, 12),
    )
        .prop_map(|(at, after, at_opening, takes)| Renewal {
            at,
            after,
            at_opening,
            takes,
        });
    let flow = prop_oneof![2 => Just(0i64), 1 => 1..60i64];
    let warm =
        prop_oneof![3 => Just(None), 1 => (15..90i64).prop_map(|t| Some(Temperature::celsius(t as f64)))];
    let rinse =
        (3..30i64, 1..4u32, flow, renewal, warm).prop_map(|(litres, tubs, flow, renewal, temperature)| {
            Rinse {
                temperature,
                fill: Volume::litres(litres as f64),
                tubs,
                flow: VolumeFlow::litres_per_minute(flow as f64 / 10.0),
                renewal,
            }
        });
    prop::option::weighted(0.4, rinse)
}

/// One step: manner, whether it coats, which stations, what it comes after, for which part only, sent back to where.
pub(crate) type Seed = (
    Step,
    bool,
    Vec<prop::sample::Index>,
    Vec<bool>,
    Option<u32>,
    Option<(f64, prop::sample::Index)>,
);

pub(crate) fn seed() -> impl Strategy<Value = Seed> {
    (
        manner(),
        prop::bool::weighted(0.3),
        prop::collection::vec(any::<prop::sample::Index>(), 1..3),
        prop::collection::vec(prop::bool::weighted(0.8), 3),
        prop::option::weighted(0.15, 0..2u32),
        prop::option::weighted(0.15, (0.0..60.0f64, any::<prop::sample::Index>())),
    )
}

const ODDS: Odds = Odds {
    overloaded: 3.0,
    underfired: 2.0,
    without_iron: 4.0,
    much_iron: 2.0,
    sludge: 4.0,
    too_hot: 2.0,
    too_short: 1.5,
    too_long: 3.0,
    spent_rinse: 3.0,
    waited: 4.0,
    hot_rinse: 3.0,
    dried_on: 3.0,
    greasy: 5.0,
    pickled: 3.0,
    holes_down: 3.0,
    crevices: 2.0,
};

pub(crate) fn route(stations: &[Station], seeds: &[Seed]) -> Route {
    let tank = |s: &StationId| stations[s.index()].tank.is_some();
    let all = (0..stations.len() as u32).map(StationId);
    let (tanks, plain): (Vec<StationId>, Vec<StationId>) = all.partition(tank);
    let mut steps: Vec<Step> = Vec::new();
    for (i, (manner, coats, places, after, only, back)) in seeds.iter().enumerate() {
        let mut some: Vec<StationId> = places.iter().map(|p| plain[p.index(plain.len())]).collect();
        some.sort();
        some.dedup();
        let near = after.iter().enumerate().filter(|(d, a)| **a && *d < i);
        let after: Vec<StepIx> = near.map(|(d, _)| StepIx((i - 1 - d) as u32)).collect();
        let before = before(&steps, &after);
        let retry = back
            .as_ref()
            .filter(|_| !before.is_empty())
            .map(|(percent, to)| Retry {
                share: Share::percent(*percent),
                back_to: before[to.index(before.len())],
                odds: (to.index(3) == 0).then_some(ODDS),
            });
        let mut step = Step {
            name: format!("step {i}"),
            stations: if *coats { tanks.clone() } else { some },
            only: only.map(PartId).into_iter().collect(),
            after,
            retry,
            ..manner.clone()
        };
        if *coats {
            step = Step {
                time: StepTime::Coat,
                hands: Hands::Ends,
                put_in: min(1),
                take_out: min(1),
                most: None,
                ..step
            };
            step.overnight = false;
        }
        steps.push(step);
    }
    Route {
        name: "random".into(),
        steps,
    }
}

fn before(steps: &[Step], after: &[StepIx]) -> Vec<StepIx> {
    let mut all: Vec<StepIx> = after.to_vec();
    for &a in after {
        all.extend(before(steps, &steps[a.index()].after));
    }
    all.sort();
    all.dedup();
    all
}
