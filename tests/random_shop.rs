//! Random shops: small, odd, crowded. Everything that a scenario may say and the checks of scenarios let pass.

use crate::random_care::{any_care, in_place, supply, vessels};
use crate::random_route::{minutes, rinse, route, seed, spread};
use crate::small_shop::{at, min, shop};
use proptest::prelude::*;
use tankday::random::Spread;
use tankday::shop::*;
use tankday::units::*;

fn station() -> impl Strategy<Value = Station> {
    let together = prop_oneof![3 => Just(1u32), 1 => 2..5u32];
    (1..4u32, together, any::<bool>(), rinse()).prop_map(|(places, together, emptied, rinse)| {
        let frees = if emptied {
            Frees::WhenEmptied
        } else {
            Frees::WhenDone
        };
        Station {
            name: String::new(),
            places,
            together,
            frees,
            tank: None,
            rinse,
        }
    })
}

/// Plain stations, then tanks, at least one.
fn stations() -> impl Strategy<Value = Vec<Station>> {
    let tank = (4..30i64, 15..97i64, 10..60i64).prop_map(|(litres, warm, power)| {
        let tank = shop().stations[1].tank.unwrap();
        let fill = Volume::litres(litres as f64);
        let heater = Heater {
            power: Power::watts(power as f64 * 100.0),
            ..tank.heater
        };
        Tank {
            fill,
            volume: fill * 0.98,
            temperature: Temperature::celsius(warm as f64),
            heater,
            ..tank
        }
    });
    let plain = prop::collection::vec(station(), 1..5);
    (plain, prop::collection::vec(tank, 1..3)).prop_map(|(mut stations, tanks)| {
        let tank = |t| Station {
            tank: Some(t),
            ..shop().stations[1].clone()
        };
        stations.extend(tanks.into_iter().map(tank));
        let named = |(i, s): (usize, Station)| Station {
            name: format!("station {i}"),
            ..s
        };
        stations.into_iter().enumerate().map(named).collect()
    })
}

fn order() -> impl Strategy<Value = Order> {
    let once = (0..3_000i64).prop_map(|m| Arrival::At(at(0, 0) + min(m)));
    let stream = (
        prop_oneof![
            minutes(5, 200).prop_map(|mean| Spread::Exponential { mean }),
            minutes(5, 200).prop_map(Spread::Fixed)
        ],
        1..9u32,
        prop_oneof![
            Just(Vec::new()),
            Just(vec![
                (at(8, 0), at(11, 0)),
                (at(13, 0), at(15, 0)),
                (at(32, 0), at(39, 0))
            ])
        ],
    )
        .prop_map(|(gap, most, only)| Arrival::Every {
            gap,
            from: at(7, 0),
            until: at(40, 0),
            most,
            only,
            fewest: 1,
        });
    let due = prop::option::of(minutes(30, 600));
    (
        prop_oneof![3 => once, 1 => stream],
        0..2u32,
        1..300u32,
        0..2u32,
        due,
    )
        .prop_map(|(arrival, part, count, route, due_after)| Order {
            id: "order".into(),
            part: PartId(part),
            count,
            route: RouteId(route),
            arrival,
            tanks: Vec::new(),
            looks: count % 3 != 0,
            weight: 1.0,
            due_after,
        })
}

fn calendar() -> impl Strategy<Value = Calendar> {
    (
        1..4i64,
        6..9i64,
        4..11i64,
        any::<bool>(),
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(days, open, hours, rest, stays, watch)| {
            let day = |d: i64| Day {
                open: at(24 * d + open, 0),
                close: at(24 * d + open + hours, 30),
                breaks: if rest {
                    vec![Break {
                        from: at(24 * d + open + 2, 0),
                        until: at(24 * d + open + 2, 20),
                        stays,
                    }]
                } else {
                    Vec::new()
                },
                stays: watch,
            };
            let days: Vec<Day> = (0..days).map(day).collect();
            // Where somebody watches the tanks after closing, one pair of hands comes first, then two, then one again.
            let windows = days
                .iter()
                .filter(|_| watch)
                .flat_map(Day::stretches)
                .zip([1, 2].into_iter().cycle());
            let crews = windows.map(|((from, _), hands)| Crew { from, hands }).collect();
            Calendar {
                days,
                crews,
                ..shop().calendar
            }
        })
}

fn rules() -> impl Strategy<Value = Rules> {
    let next = prop_oneof![
        Just(NextLoad::DueFirst),
        Just(NextLoad::ArrivedFirst),
        Just(NextLoad::LongestDwellFirst),
        Just(NextLoad::SameRouteTogether)
    ];
    let combine = prop_oneof![
        Just(Combine::Never),
        Just(Combine::SamePart),
        Just(Combine::SameRoute)
    ];
    let on = prop_oneof![
        Just(HeatOn::AtOpening),
        Just(HeatOn::At(min(400))),
        Just(HeatOn::ReadyBy(min(510)))
    ];
    let off = prop_oneof![
        Just(HeatOff::AfterLast),
        Just(HeatOff::AtClosing),
        Just(HeatOff::Never)
    ];
    let lid = prop_oneof![
        Just(LidRule::BetweenLoads),
        Just(LidRule::WhenOff),
        Just(LidRule::Never)
    ];
    let heat = (on, off, lid, any::<bool>()).prop_map(|(on, off, lid, unattended)| Heat {
        on,
        off,
        lid,
        unattended,
    });
    let fill = (0..100i64, minutes(0, 60)).prop_map(|(share, wait_at_most)| Fill {
        at_least: Share::percent(share as f64),
        wait_at_most,
    });
    let top_up = (90..100i64, minutes(0, 5)).prop_map(|(below, takes)| TopUp {
        below: Share::percent(below as f64),
        takes,
    });
    (next, any::<[bool; 3]>(), combine, heat, fill, top_up, 24..100i64).prop_map(
        |(next, [urgent, look_ahead, evenly], combine, heat, fill, top_up, stop)| Rules {
            next,
            hands: if urgent {
                HandsFirst::Urgent
            } else {
                HandsFirst::InOrderAsked
            },
            look_ahead,
            when_full: if urgent == evenly {
                WhenFull::Wait
            } else {
                WhenFull::Go
            },
            split: if evenly { Split::Evenly } else { Split::FillFirst },
            combine,
            fill,
            heat,
            top_up,
            hold_back: false,
            care: Vec::new(),
            stop: at(stop, 0),
        },
    )
}

/// A whole shop.
pub(crate) fn any_shop() -> impl Strategy<Value = Shop> {
    let routes = prop::collection::vec(prop::collection::vec(seed(), 1..7), 2);
    let orders = prop::collection::vec(order(), 1..9);
    let coat = prop_oneof![
        spread().prop_map(CoatRule::Time),
        (5..20i64).prop_map(|g| CoatRule::Target(CoatWeight::grams_per_square_metre(g as f64)))
    ];
    // Iron, sludge, the share of a filling that a vessel keeps, and a supply.
    let start = (
        0..30i64,
        0..60i64,
        95..=100i64,
        prop::option::weighted(0.4, 10..25i64),
        any::<bool>(),
    );
    let care = (any_care(), start, prop::bool::weighted(0.2));
    (
        stations(),
        routes,
        orders,
        calendar(),
        rules(),
        0..4u32,
        coat,
        care,
    )
        .prop_map(
            |(stations, routes, orders, calendar, rules, hands, coat, (care, start, hold_back))| {
                let mut small = shop();
                small.baths[0].coat = coat;
                let (iron, sludge, kept, strong, wears) = start;
                small.baths[0].wears = wears || !care.is_empty();
                small.baths[0].now.iron = Concentration::grams_per_litre(iron as f64 / 10.0);
                small.baths[0].now.sludge = Concentration::grams_per_litre(sludge as f64 / 10.0);
                let vessels = vessels(&stations, kept as f64 / 100.0);
                let care = match (hands, vessels.is_empty()) {
                    (0, _) => Vec::new(),
                    (_, true) => in_place(care),
                    _ => care,
                };
                let rules = Rules {
                    care,
                    hold_back,
                    ..rules
                };
                let supply = strong.and_then(|tenths| supply(&stations, tenths as f64 / 10.0));
                let named = |(i, o): (usize, Order)| Order {
                    id: format!("order {i}"),
                    ..o
                };
                Shop {
                    routes: routes.iter().map(|seeds| route(&stations, seeds)).collect(),
                    orders: orders.into_iter().enumerate().map(named).collect(),
                    stations,
                    calendar,
                    rules,
                    hands,
                    vessels,
                    supply,
                    ..small
                }
            },
        )
}
