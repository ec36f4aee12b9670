//! Random care of baths: rules that the checks of scenarios let pass, in the order in which scenarios have them.

use crate::small_shop::min;
use proptest::prelude::*;
use tankday::shop::*;
use tankday::units::*;

fn when(mark: Option<Reads>) -> impl Strategy<Value = Vec<Trigger>> {
    let one = prop_oneof![
        (1..6u32).prop_map(Trigger::Loads),
        (1..40i64).prop_map(|dm2| Trigger::Coated(Area::square_decimetres(dm2 as f64))),
        (6..20i64).prop_map(|hour| Trigger::Clock(min(60 * hour))),
        Just(Trigger::AtBreak),
        Just(Trigger::AfterLast),
        Just(Trigger::Overnight),
    ];
    (prop::collection::vec(one, 0..3), any::<bool>()).prop_map(move |(mut when, reads)| {
        when.extend(mark.filter(|_| reads || when.is_empty()).map(Trigger::Reads));
        if when.is_empty() {
            when.push(Trigger::Overnight);
        }
        when
    })
}

fn rule(chore: impl Strategy<Value = Chore>, mark: Option<Reads>) -> impl Strategy<Value = Option<Care>> {
    let rule = (chore, when(mark)).prop_map(|(chore, when)| Care { chore, when });
    prop::option::weighted(0.35, rule)
}

fn takes() -> impl Strategy<Value = Span> {
    (0..20i64).prop_map(min)
}

fn cool_to() -> impl Strategy<Value = Temperature> {
    (30..95i64).prop_map(|t| Temperature::celsius(t as f64))
}

fn stop(filtered: bool) -> impl Strategy<Value = Chore> {
    let settle = prop_oneof![
        (0..300i64).prop_map(|m| Settle::For(min(m))),
        (1..60i64).prop_map(|s| Settle::ClearTo(Share::percent(s as f64))),
    ];
    let shares = (1..60i64, 0..10i64);
    (cool_to(), settle, shares, 1..20i64, takes(), any::<bool>()).prop_map(
        move |(cool_to, settle, (heel, lost), pour, set_up, into)| {
            Chore::Stop(Stop {
                cool_to,
                settle,
                heel: Share::percent(heel as f64),
                filtered,
                area: Area::square_decimetres(6.0),
                head: Length::centimetres(20.0),
                medium: MediumResistance::from_base(3e8),
                cake: CakeResistance::from_base(2e11),
                lost: Share::percent(lost as f64),
                pour: VolumeFlow::litres_per_minute(pour as f64),
                set_up,
                into: (filtered && into).then_some(VesselId(0)),
            })
        },
    )
}

/// Rules of care, none or several.
pub(crate) fn any_care() -> impl Strategy<Value = Vec<Care>> {
    let points = Strength::points;
    let grams = Concentration::grams_per_litre;
    let replenish = (34..40i64, takes()).prop_map(move |(to, takes)| Chore::Replenish {
        to: points(to as f64),
        takes,
    });
    let trim = |by: Trimming| takes().prop_map(move |takes| Chore::Trim { by, to: 6.2, takes });
    let condition = (40..97i64, 0..60i64, takes()).prop_map(move |(at, stays, takes)| Chore::Condition {
        to: grams(1.0),
        at: Temperature::celsius(at as f64),
        stays: min(stays),
        takes,
    });
    let renew = |share: f64| {
        (cool_to(), takes()).prop_map(move |(cool_to, takes)| Chore::Renew {
            share: Share::percent(share),
            cool_to,
            takes,
        })
    };
    let up = prop_oneof![trim(Trimming::ManganeseCarbonate), trim(Trimming::SodaAsh)];
    (
        rule(replenish, Some(Reads::StrengthBelow(points(33.0)))),
        rule(up, Some(Reads::RatioBelow(5.9))),
        rule(
            trim(Trimming::PhosphoricAcid(
                AcidBought::of(Share::percent(85.0)).unwrap(),
            )),
            Some(Reads::RatioAbove(6.5)),
        ),
        rule(condition, Some(Reads::IronBelow(grams(0.6)))),
        rule(stop(true), Some(Reads::SludgeAbove(Share::percent(1.0)))),
        rule(stop(false), Some(Reads::SludgeAbove(Share::percent(2.0)))),
        rule(renew(50.0), Some(Reads::IronAbove(grams(2.0)))),
        rule(renew(100.0), Some(Reads::IronAbove(grams(3.0)))),
    )
        .prop_map(|(a, b, c, d, e, f, g, h)| [a, b, c, d, e, f, g, h].into_iter().flatten().collect())
}

/// A vessel that serves all tanks, where they take the same filling.
pub(crate) fn vessels(stations: &[Station], share: f64) -> Vec<Vessel> {
    let mut fills = stations.iter().filter_map(|s| s.tank).map(|t| t.fill);
    let Some(fill) = fills.next().filter(|fill| fills.all(|f| f == *fill)) else {
        return Vec::new();
    };
    vec![Vessel {
        name: "storage".into(),
        bath: BathId(0),
        holds: fill * 1.2,
        filtered: fill * share,
    }]
}

/// A supply that bears the strongest heater at least.
pub(crate) fn supply(stations: &[Station], share: f64) -> Option<Power> {
    let powers = stations.iter().filter_map(|s| s.tank).map(|t| t.heater.power);
    powers.reduce(Power::max).map(|most| most * share)
}

/// Care without vessels: none is there.
pub(crate) fn in_place(mut care: Vec<Care>) -> Vec<Care> {
    for rule in &mut care {
        if let Chore::Stop(stop) = &mut rule.chore {
            stop.into = None;
        }
    }
    care
}
