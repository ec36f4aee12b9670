//! What holds for every picture of every run: token colours, legible words inside the picture, a name and a description.

use crate::chart_svg::{colours, elements, read};
use crate::made_shop::{clock, order, shop};
use tankday::chart::theme::Token;
use tankday::chart::width::{Weight, width};
use tankday::chart::{DayView, Svg, Width, day, output, temperature};
use tankday::line::Line;
use tankday::record::Record;
use tankday::shop::{Arrival, Order, Shop};
use tankday::units::Span;

fn view(shop: &Shop) -> DayView {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    DayView::of(shop, &record)
}

/// Orders promised one after the other, so that some are on time and some late.
fn orders(count: i64, name: &str) -> Vec<Order> {
    let nth = |n: i64| Order {
        tanks: Vec::new(),
        looks: true,
        weight: 1.0,
        due_after: Some(Span::whole_minutes(100 + 60 * n)),
        count: 60,
        ..order(&format!("{name}{n}"))
    };
    (1..=count).map(nth).collect()
}

/// Sixty letters, some of which mean something in XML, and a character that XML has no place for.
const LONG: &str = "Lever caps & <screws> of \"old\" planes, for 'whom' it\u{1} concerns";

fn long_names() -> Shop {
    let mut shop = shop(1, 1, orders(5, LONG));
    for station in &mut shop.stations {
        station.name = format!("{} {LONG}", station.name);
    }
    shop.title = LONG.repeat(3);
    shop.routes[0].steps[1].name = LONG.to_owned();
    shop
}

fn never_closing(days: i64) -> Shop {
    let mut stream = order("walk-in");
    stream.arrival = Arrival::Every {
        gap: tankday::random::Spread::Fixed(Span::whole_minutes(45)),
        from: clock(0, 8, 0),
        until: clock(days, 0, 0),
        most: 10_000,
        only: Vec::new(),
        fewest: 1,
    };
    let mut shop = shop(1, 2, vec![stream]);
    shop.calendar.days[0].close = tankday::units::Moment::NEVER;
    shop.calendar.days[0].breaks.clear();
    shop.rules.stop = clock(days, 0, 0);
    shop
}

/// Shops whose pictures are easy to break: few and many orders, none, long names, many days, no closing, no hands.
fn shops() -> Vec<(&'static str, Shop)> {
    let mut no_tank = shop(1, 1, orders(3, "A"));
    no_tank.stations[2].tank = None;
    no_tank.hands = 0;
    no_tank.orders.clear();
    vec![
        ("few", shop(1, 1, orders(7, "A"))),
        ("one", shop(1, 1, orders(1, "A"))),
        ("none", shop(1, 1, Vec::new())),
        ("long names", long_names()),
        ("300 orders on 9 days", shop(9, 2, orders(300, "N"))),
        ("40 days", shop(40, 1, orders(60, "B"))),
        ("never closing", never_closing(20)),
        ("no tank, no hands", no_tank),
    ]
}

fn pictures() -> Vec<(String, Svg)> {
    let mut all = Vec::new();
    for (name, shop) in shops() {
        let view = view(&shop);
        for at in Width::ALL {
            for (what, svg) in [
                ("day", day(&view, at)),
                ("temperature", temperature(&view, at)),
                ("output", output(&view, at)),
            ] {
                assert_eq!(svg.width(), at.pixels());
                all.push((format!("{what} of {name} at {}", at.pixels()), svg));
            }
        }
    }
    all
}

pub(crate) fn only_token_colours(name: &str, svg: &Svg) {
    let known: Vec<String> = Token::ALL.iter().map(|t| t.hex()).collect();
    for colour in colours(svg) {
        assert!(known.iter().any(|k| k == colour), "{name}: {colour}");
    }
}

pub(crate) fn words_are_legible_and_inside(name: &str, svg: &Svg) {
    for e in elements(svg).iter().filter(|e| e.tag == "text") {
        let size = e.number("font-size");
        assert!(size >= 12.0, "{name}: {size} in {e:?}");
        let weight = if e.get("font-weight").is_some() {
            Weight::Bold
        } else {
            Weight::Regular
        };
        let wide = width(&read(e.text), size, weight);
        let left = match e.get("text-anchor") {
            Some("middle") => e.number("x") - wide / 2.0,
            Some("end") => e.number("x") - wide,
            _ => e.number("x"),
        };
        assert!(
            left >= 0.0 && left + wide <= f64::from(svg.width()),
            "{name}: {e:?} from {left:.1}, {wide:.1} wide"
        );
        let y = e.number("y");
        assert!(
            y - size >= 0.0 && y + 0.3 * size <= f64::from(svg.height()),
            "{name}: {e:?} at {y}"
        );
    }
}

pub(crate) fn has_name_and_description(name: &str, svg: &Svg) {
    let all = elements(svg);
    let labelled: Vec<&str> = all[0]
        .get("aria-labelledby")
        .unwrap_or_default()
        .split(' ')
        .collect();
    let ids: Vec<&str> = all.iter().filter_map(|e| e.get("id")).collect();
    assert_eq!(labelled, ids, "{name}");
    assert_ne!(ids[0], ids[1], "{name}");
    let (title, desc) = (all[1], all[2]);
    assert!(title.tag == "title" && desc.tag == "desc", "{name}");
    assert!(
        !title.text.is_empty() && desc.text.contains('.'),
        "{name}: {}",
        desc.text
    );
}

#[test]
fn every_picture_keeps_the_rules() {
    for (name, svg) in pictures() {
        only_token_colours(&name, &svg);
        words_are_legible_and_inside(&name, &svg);
        has_name_and_description(&name, &svg);
        let count = elements(&svg).len();
        assert!(count < 6_000, "{name}: {count} elements");
        assert!(
            !svg.as_str().contains("NaN") && !svg.as_str().contains("inf"),
            "{name}"
        );
    }
}

#[cfg(feature = "png")]
#[test]
fn every_picture_becomes_a_png_of_its_size() {
    for (name, shop) in shops().into_iter().take(4) {
        let view = view(&shop);
        for svg in [
            day(&view, Width::Page),
            temperature(&view, Width::Page),
            output(&view, Width::Page),
        ] {
            let png = tankday::chart::png::render(&svg, 1.5).unwrap_or_else(|e| panic!("{name}: {e}"));
            assert_eq!(&png[..8], b"\x89PNG\r\n\x1a\n");
            let side = |at: usize| u32::from_be_bytes([png[at], png[at + 1], png[at + 2], png[at + 3]]);
            assert_eq!(
                (side(16), side(20)),
                (1_080, (f64::from(svg.height()) * 1.5).ceil() as u32)
            );
        }
    }
}

#[cfg(feature = "png")]
#[test]
fn a_png_without_or_with_too_many_pixels_is_refused() {
    let svg = day(&view(&shop(1, 1, Vec::new())), Width::Page);
    for scale in [0.0, -1.0, f64::NAN, 1e4] {
        let refused = tankday::chart::png::render(&svg, scale).unwrap_err();
        assert!(refused.to_string().ends_with("pixels is not made"), "{refused}");
    }
}
