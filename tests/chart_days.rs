//! What pictures say of a day written by hand, and the pictures themselves, kept as files.

use crate::chart_svg::{elements, read};
use crate::made_days::{two_loads, two_orders};
use crate::made_shop::clock;
use snapbox::{assert_data_eq, file};
use tankday::chart::view::StationState;
use tankday::chart::{DayView, LaneOf, Places, Svg, Width, day, output, promises, sets_the_end, temperature};
use tankday::units::{Moment, Span};

fn view() -> DayView {
    DayView::of(&two_orders(), &two_loads())
}

fn at(hour: i64, minute: i64) -> Moment {
    clock(0, hour, minute)
}

fn desc(svg: &Svg) -> String {
    let all = elements(svg);
    read(all.iter().find(|e| e.tag == "desc").unwrap().text)
}

fn words(svg: &Svg) -> Vec<String> {
    elements(svg)
        .iter()
        .filter(|e| e.tag == "text")
        .map(|e| read(e.text))
        .collect()
}

#[test]
fn lanes_hold_what_the_record_says() {
    let view = view();
    let sink: Vec<_> = view.stations[0]
        .bars
        .iter()
        .map(|b| (b.from, b.to, b.state))
        .collect();
    use StationState::{ByItself, HeldUp, InHand};
    assert_eq!(
        sink,
        [
            (at(7, 30), at(7, 32), InHand),
            (at(7, 32), at(7, 40), ByItself),
            (at(7, 40), at(7, 42), InHand),
            (at(8, 0), at(8, 2), InHand),
            (at(8, 2), at(8, 10), ByItself),
            (at(8, 10), at(8, 24), HeldUp),
            (at(8, 24), at(8, 26), InHand),
        ]
    );
    assert_eq!(
        view.stations.len(),
        3,
        "sink, blast cabinet and bench; nobody used the others"
    );
    let hands = &view.hands[0];
    assert_eq!(hands.breaks, [(at(12, 0), at(12, 30))]);
    let blast = &hands.bars[2];
    assert_eq!(
        (blast.step.as_str(), blast.load.as_deref()),
        ("blast", Some("A1"))
    );
    let coating: Vec<_> = view.tanks[0]
        .bars
        .iter()
        .filter_map(|b| Some((b.from, b.load.as_deref()?)))
        .collect();
    assert_eq!(coating, [(at(8, 22), "L1"), (at(9, 6), "L2")]);
    assert_eq!(view.orders[1].late(), Some(Span::whole_minutes(10)));
    assert_eq!(view.on_time(), 1);
}

#[test]
fn findings_are_told_in_words() {
    let view = view();
    assert_eq!(
        desc(&day(&view, Width::Page)),
        "Timeline from 07:30 to 17:00. Black tank heats until 08:15 and coats 2 loads. \
         1 of 2 orders is ready on time, the last of all by 09:30. A2 is 10 min late."
    );
    assert_eq!(
        desc(&temperature(&view, Width::Page)),
        "Temperature of each tank through the day. Black tank is in its band from 08:15; \
         lowest with a load in it 93.5 °C, at 08:22; heating stops at 09:18."
    );
    // 400 screws of 4.8 cm2 are 19.2 dm2; twice that is 38.4 dm2.
    assert_eq!(
        desc(&output(&view, Width::Page)),
        "Pieces and area finished against the clock, with what was due. \
         All 800 pieces, 38.4 dm², are finished by 09:30."
    );
    let said = words(&day(&view, Width::Wide));
    for word in [
        "L1",
        "A1",
        "A2 10 min late",
        "open 07:30",
        "closing 17:00",
        "break",
        "Old hand tools, Thursday 5 March 2026",
    ] {
        assert!(said.iter().any(|s| s == word), "{word} in {said:?}");
    }
}

#[test]
fn the_clock_is_written_in_steps_that_leave_room() {
    let times = |width| -> Vec<String> {
        let svg = day(&view(), width);
        let clock = |w: &String| w.len() == 5 && w.as_bytes()[2] == b':';
        words(&svg).into_iter().filter(clock).collect()
    };
    assert_eq!(
        times(Width::Page),
        (8..=17).map(|h| format!("{h:02}:00")).collect::<Vec<_>>()
    );
    let halves = times(Width::Wide);
    assert_eq!(
        (halves[0].as_str(), halves[1].as_str(), halves.len()),
        ("07:30", "08:00", 20)
    );
}

#[test]
fn pictures_are_those_that_were_looked_at() {
    let view = view();
    assert_data_eq!(
        day(&view, Width::Page).to_string(),
        file!["golden/day-720.svg"].raw()
    );
    assert_data_eq!(
        day(&view, Width::Wide).to_string(),
        file!["golden/day-1080.svg"].raw()
    );
    assert_data_eq!(
        temperature(&view, Width::Page).to_string(),
        file!["golden/temperature-720.svg"].raw()
    );
    assert_data_eq!(
        output(&view, Width::Page).to_string(),
        file!["golden/output-720.svg"].raw()
    );
    assert_data_eq!(
        day(&view, Width::Phone).to_string(),
        file!["golden/day-336.svg"].raw()
    );
    assert_data_eq!(
        promises(&view, Width::Page).to_string(),
        file!["golden/promises-720.svg"].raw()
    );
    assert_data_eq!(
        sets_the_end(&view, Width::Page).unwrap().to_string(),
        file!["golden/sets-the-end-720.svg"].raw()
    );
}

/// On a phone the clock runs down: later times and later loads stand lower, and all of them left of the orders.
#[test]
fn on_a_phone_the_clock_runs_down() {
    let svg = day(&view(), Width::Phone);
    let all = elements(&svg);
    let place = |word: &str| {
        let found = all.iter().find(|e| e.tag == "text" && read(e.text) == word);
        let e = found.unwrap_or_else(|| panic!("{word} is missing"));
        (e.number("x"), e.number("y"))
    };
    assert!(place("09:00").1 > place("08:00").1);
    assert_eq!(place("09:00").0, place("08:00").0);
    assert!(place("A1").0 > place("L1").0, "orders stand right of the tank");
    assert!(svg.height() > 2 * svg.width());
}

/// With a seen place for each bar, as wide as its lane; stations are not drawn.
#[test]
fn bars_can_be_pointed_at_on_every_width() {
    let view = view();
    let coating = view.tanks[0].bars.iter().find(|b| b.load.is_some()).unwrap();
    for width in Width::ALL {
        let places = Places::of(&view, width);
        let [x, y, wide, high] = places.bar(LaneOf::Tank(0), coating.from, coating.to).unwrap();
        let (wide_page, high_page) = (f64::from(width.pixels()), f64::from(day(&view, width).height()));
        assert!(x > 0.0 && y > 0.0 && wide > 0.0 && high > 0.0);
        assert!(x + wide < wide_page && y + high < high_page);
        let [hx, hy, ..] = places.bar(LaneOf::Hands(0), coating.from, coating.to).unwrap();
        match width {
            Width::Phone => assert!(hx > x && hy == y, "beside the tank"),
            Width::Page | Width::Wide => assert!(hy > y && hx == x, "below the tank"),
        }
        let station = places.bar(LaneOf::Station(0), at(7, 32), at(7, 40));
        assert_eq!(station.is_none(), width == Width::Phone);
    }
}
