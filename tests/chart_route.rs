//! The picture of a route: every step with its name and station, arrows, returns with their share, in the theme's colours.

use crate::chart_svg::points;
use crate::made_days::{two_loads, two_orders};
use crate::made_shop::TANK;
use crate::small_shop::{BENCH, OIL, shop, step};
use tankday::chart::theme::Token;
use tankday::chart::{Width, route};
use tankday::record::Figures;
use tankday::route::{description, summary};
use tankday::shop::{PartId, Retry, Route, RouteId, Shop, StepIx};
use tankday::units::Share;

/// Seven steps, two of them in either order, one for chucks only, one that sends back.
fn branched() -> Shop {
    let mut shop = shop();
    let steps = [
        ("sort", &[][..]),
        ("mask", &[0]),
        ("mark & weigh <all>", &[0]),
        ("blast", &[1, 2]),
        ("oil", &[3]),
        ("drain", &[4]),
        ("inspect", &[5, 3]),
    ];
    let made = steps.iter().enumerate().map(|(i, (name, after))| {
        let minutes = i as i64 + 1;
        step(name, if i == 4 { OIL } else { BENCH }, minutes, after)
    });
    shop.routes = vec![Route {
        name: "branched".into(),
        steps: made.collect(),
    }];
    shop.routes[0].steps[1].only = vec![PartId(1)];
    shop.routes[0].steps[6].retry = Some(Retry {
        share: Share::percent(4.0),
        back_to: StepIx(3),
        odds: None,
    });
    shop
}

#[test]
fn every_step_station_and_share_is_in_the_picture() {
    for width in Width::ALL {
        let picture = route(&branched(), RouteId(0), None, width);
        let text = picture.as_str();
        for words in [
            "Route branched",
            ">mask<",
            ">blast<",
            ">drain<",
            ">oil tray<",
            "only brace",
            "4 % back",
        ] {
            assert!(text.contains(words), "{words} is missing in\n{text}");
        }
        assert!(
            text.contains("weigh &lt;all&gt;"),
            "names are escaped and wrapped"
        );
        assert!(text.matches("<path").count() > 8);
        assert_eq!(picture.width(), width.pixels());
    }
}

#[test]
fn only_colours_of_the_theme_are_used() {
    let picture = route(&branched(), RouteId(0), None, Width::Page);
    let known: Vec<String> = Token::ALL.iter().map(|t| t.hex()).collect();
    let used = picture
        .as_str()
        .match_indices("=\"#")
        .map(|(i, _)| &picture.as_str()[i + 2..i + 9]);
    let used: Vec<&str> = used.collect();
    assert!(used.len() > 20);
    assert!(used.iter().all(|u| known.iter().any(|k| k == u)), "{used:?}");
}

#[test]
fn everything_lies_within_the_picture() {
    for width in Width::ALL {
        let picture = route(&branched(), RouteId(0), None, width);
        let (wide, high) = (f64::from(picture.width()), f64::from(picture.height()));
        let points = points(&picture);
        for (x, y) in &points {
            assert!(
                (0.0..=wide).contains(x) && (0.0..=high).contains(y),
                "{x} {y} in {wide} x {high}"
            );
        }
        assert!(points.len() > 50);
    }
}

/// On paper: 1 + 2 + 3 + 4 + 5 + 6 + 7 = 28 min for a chuck; a screw is not masked, 26; the chain sort, mark, blast, oil,
/// drain, inspect takes 1 + 3 + 4 + 5 + 6 + 7 = 26, which is all a screw needs.
#[test]
fn the_words_tell_the_shortest_time_and_the_returns() {
    let mut shop = branched();
    assert_eq!(
        summary(&shop, RouteId(0)),
        "7 steps; one piece needs at least 26 min in the shop."
    );
    shop.orders.remove(0);
    assert_eq!(
        summary(&shop, RouteId(0)),
        "7 steps; one piece needs at least 28 min in the shop. The longest chain of steps, sort, mark & weigh <all>, \
         blast, oil, drain, inspect, takes 26 min of it."
    );
    let told = description(&shop, RouteId(0));
    assert!(told.starts_with("Steps in order: sort, mask, mark & weigh <all>, blast, oil, drain, inspect."));
    assert!(
        told.ends_with("Only brace chuck go through mask. 4 per cent go back from inspect to blast."),
        "{told}"
    );
}

#[test]
fn a_route_that_is_not_there_gives_an_empty_picture() {
    let picture = route(&shop(), RouteId(9), None, Width::Page);
    assert!(picture.as_str().contains("<title"));
}

/// On paper, of the day of two loads, open 07:30 to 17:00 less half an hour, 540 min: the tank dwells 20 + 12 min, the sink
/// works 8 + 8, blasting takes 18, the bench with its two places 21. Hands put in and take out four times 4 min, blast 18,
/// inspect 11 + 10 and top up 6: 61 min.
#[test]
fn the_busiest_station_is_marked_from_a_run() {
    let (shop, record) = (two_orders(), two_loads());
    let figures = Figures::of(&shop, &record);
    let busiest = figures.bottleneck(&shop, RouteId(0)).unwrap();
    assert_eq!(busiest.station, TANK);
    assert!(
        (busiest.at_work.in_fraction() - 32.0 / 540.0).abs() < 1e-9,
        "{busiest:?}"
    );
    assert!(
        (busiest.hands.in_fraction() - 61.0 / 540.0).abs() < 1e-9,
        "{busiest:?}"
    );
    for width in Width::ALL {
        let marked = route(&shop, RouteId(0), Some(&figures), width);
        assert!(marked.as_str().contains(">busiest, 6 %<"), "{marked}");
        assert!(marked.finding().contains("Busiest is black tank"));
        let plain = route(&shop, RouteId(0), None, width);
        assert!(!plain.as_str().contains("usiest"));
    }
    assert!(figures.bottleneck(&shop, RouteId(9)).is_none());
}
