//! What single values in a scenario come to mean: spreads, units, times, defaults.

use tankday::random::Spread;
use tankday::scenario;
use tankday::shop::{Arrival, CoatRule, HeatOn, Inside, LidKind, Shop, StepTime};
use tankday::units::{Length, Moment, Span, Temperature, Volume};

/// A small valid scenario with some lines replaced.
fn with(edits: &[(&str, &str)]) -> Shop {
    let mut text = std::fs::read_to_string("tests/broken/012-unknown-key.yaml").unwrap();
    for (from, to) in [("heatr", "heater")].iter().chain(edits) {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    scenario::read("test.yaml", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn minutes(value: f64) -> Span {
    Span::minutes(value)
}

/// The spread that a time in a step becomes.
fn spread(text: &str) -> Spread {
    let shop = with(&[("for: 8 min", &format!("for: {text}"))]);
    match &shop.routes[0].steps[0].time {
        StepTime::Work { load, .. } => load.clone(),
        StepTime::Coat => panic!("a coating step"),
    }
}

#[test]
fn spreads_become_distributions() {
    assert_eq!(spread("1 h 30 min"), Spread::Fixed(minutes(90.0)));
    let uniform = Spread::Uniform {
        least: minutes(4.0),
        most: minutes(7.0),
    };
    assert_eq!(spread("4 to 7 min"), uniform);
    assert_eq!(spread("240 s to 7 min"), uniform);
    let normal = Spread::Normal {
        mean: minutes(5.0),
        sd: minutes(1.0),
    };
    for text in [
        "about 5 min ± 1 min",
        "about 5 ± 1 min",
        "about 5 min +- 1 min",
        "about 5 min +/- 60 s",
    ] {
        assert_eq!(spread(text), normal, "{text}");
    }
    let triangular = Spread::Triangular {
        least: minutes(3.0),
        mostly: minutes(5.0),
        most: minutes(9.0),
    };
    for text in ["3 to 9 min mostly 5", "\"3 to 9 min, mostly 5 min\""] {
        assert_eq!(spread(text), triangular, "{text}");
    }
    assert_eq!(
        spread("exponential 4.5 min"),
        Spread::Exponential { mean: minutes(4.5) }
    );
    let (mean, sd) = (minutes(24.0), minutes(20.0));
    assert_eq!(spread("gamma 24 min ± 20 min"), Spread::Gamma { mean, sd });
    assert_eq!(spread("lognormal 24 ± 20 min"), Spread::Lognormal { mean, sd });
    assert_eq!(
        spread("[4 min, 5 min]"),
        Spread::Readings(vec![minutes(4.0), minutes(5.0)])
    );
}

/// Conversions are those of NIST Special Publication 811 (2008), appendix B: an inch is 25.4 mm, a US gallon
/// 3.785 411 784 L, a pound 0.453 592 37 kg, °F to °C is (t - 32) / 1.8; the Btu is the International Table one,
/// 1055.055 852 62 J.
#[test]
fn customary_units_are_read_everywhere() {
    let shop = with(&[
        ("35 cm x 25 cm x 30 cm", "14 x 10 x 12 in"),
        ("fill: 20 L", "fill: 5 gal"),
        (
            "least: 88 °C, hold: 95 °C, most: 98 °C",
            "least: 190 °F, hold: 203 °F, most: 208 °F",
        ),
        ("mass: 2.4 g, area: 4.8 cm2", "mass: 1 lb, area: 2 ft2"),
        ("power: 2.5 kW", "power: 8530 Btu/h"),
        ("area: 1 dm2/L", "area: 0.5 ft2/gal"),
    ]);
    let tank = shop.stations[0].tank.unwrap();
    let Inside::Box { length, .. } = tank.inside else {
        panic!("a box")
    };
    assert_eq!(length, Length::metres(14.0 * 0.0254));
    assert_eq!(tank.fill, Volume::litres(5.0 * 3.785_411_784));
    assert!((shop.parts[0].mass.in_kilograms() - 0.453_592_37).abs() < 1e-15);
    assert!((shop.parts[0].area.in_square_metres() - 2.0 * 0.092_903_04).abs() < 1e-12);
    assert!((tank.heater.power.in_watts() - 8530.0 * 1_055.055_852_62 / 3600.0).abs() < 1e-9);
    assert!((shop.baths[0].band.hold.in_celsius() - 95.0).abs() < 1e-12);
    assert!(
        (shop.baths[0].room.area.in_square_decimetres_per_litre() - 0.5 * 9.290_304 / 3.785_411_784).abs()
            < 1e-12
    );
}

#[test]
fn times_without_a_date_are_of_the_first_day() {
    let shop = with(&[
        (
            "breaks: [12:00 to 12:30]}",
            "breaks: [12:00 to 12:30], repeat: 2}",
        ),
        (
            "due: 15:00}",
            "arrives: 09:15, due: day 2 10:00}\n  - {id: A2, part: wood screw, route: black, arrives: 2026-03-06 08:30}",
        ),
    ]);
    assert_eq!(shop.calendar.days.len(), 2);
    assert_eq!(
        shop.orders[0].arrival,
        Arrival::At(Moment::ZERO + Span::hours(9.25))
    );
    assert_eq!(shop.orders[0].due_after, Some(Span::hours(24.75)));
    assert_eq!(
        shop.orders[1].arrival,
        Arrival::At(Moment::ZERO + Span::hours(32.5))
    );
    assert_eq!(shop.orders[1].count, 1);
    assert_eq!(shop.rules.stop, Moment::ZERO + Span::hours(24.0 + 17.0 + 12.0));
}

#[test]
fn days_may_leave_gaps() {
    let shop = with(&[(
        "breaks: [12:00 to 12:30]}",
        "}\n  - {date: 2026-03-09, open: 07:00, close: 24:00}\n  - {}",
    )]);
    let open: Vec<f64> = shop.calendar.days.iter().map(|d| d.open.in_hours()).collect();
    assert_eq!(open, [8.0, 4.0 * 24.0 + 7.0, 5.0 * 24.0 + 8.0]);
    assert_eq!(shop.calendar.days[1].close.in_hours(), 5.0 * 24.0);
}

#[test]
fn a_shop_may_never_close() {
    let days = "{date: 2026-03-05, open: 08:00, close: 17:00, breaks: [12:00 to 12:30]}";
    let shop = with(&[
        (days, "{around the clock: 30 days}"),
        (
            "due: 15:00",
            "arrives: {every: exponential 45 min, up to: 12}, due after: 4 h",
        ),
    ]);
    assert_eq!(shop.calendar.days[0].close, Moment::NEVER);
    assert_eq!(shop.rules.stop, Moment::ZERO + Span::hours(720.0));
    let Arrival::Every {
        from, until, most, ..
    } = shop.orders[0].arrival
    else {
        panic!("a stream")
    };
    assert_eq!((from, until, most), (Moment::ZERO, Moment::NEVER, 12));
}

#[test]
fn a_stated_dwell_alone_is_the_time() {
    let shop = with(&[("    room:", "    dwell: 12 to 20 min\n    room:")]);
    let bath = &shop.baths[0];
    assert_eq!(bath.coat, CoatRule::Time(Spread::Fixed(minutes(12.0))));
    assert_eq!((bath.least, bath.most), (minutes(12.0), minutes(20.0)));
}

#[test]
fn what_is_left_out_is_what_the_table_says() {
    let shop = with(&[]);
    let said = |key: &str| scenario::defaults().find(|d| d.key == key).unwrap().value;
    let bath = &shop.baths[0];
    assert_eq!(said("baths.coat.target"), "16 g/m2");
    let CoatRule::Target(target) = bath.coat else {
        panic!("a target")
    };
    assert_eq!(target.in_grams_per_square_metre(), 16.0);
    assert_eq!(said("baths.dwell"), "5 to 45 min");
    assert_eq!((bath.least, bath.most), (minutes(5.0), minutes(45.0)));
    let tank = shop.stations[0].tank.unwrap();
    assert_eq!(said("tanks.lid.leak"), "5 %");
    let LidKind::Lid { leak, .. } = tank.lid else {
        panic!("a lid")
    };
    assert!((leak.in_percent() - 5.0).abs() < 1e-12);
    assert_eq!(said("tanks.now.temperature"), "as the air");
    assert_eq!(tank.temperature, Temperature::celsius(20.0));
    // 0.35 x 0.25 bottom and 1.2 x 0.30 walls, 1 mm of 7900 kg/m3: (0.0875 + 0.36) x 7.9 = 3.535 kg
    assert!((tank.wall.vessel.in_kilograms() - 3.535_25).abs() < 1e-9);
    assert_eq!(said("rules.heat.switch on"), "at opening");
    assert_eq!(shop.rules.heat.on, HeatOn::AtOpening);
}

#[test]
fn each_default_has_a_source_and_stands_once() {
    let mut seen = std::collections::BTreeSet::new();
    for default in scenario::defaults() {
        assert!(
            !default.source.is_empty() && !default.value.is_empty(),
            "{}",
            default.key
        );
        assert!(seen.insert(default.key), "{} stands twice", default.key);
    }
}

#[test]
fn steps_may_be_written_in_any_order() {
    let shop = with(&[
        ("for: 8 min}", "for: 8 min, after: nothing}"),
        (
            "hands: throughout}",
            "hands: throughout}\n    - {do: wipe, at: bench, for: 1 min, after: [coat]}\n    - {do: weigh, at: bench, for: 1 min, after: nothing}",
        ),
        ("within: 4 h}", "within: 4 h, after: [degrease, weigh]}"),
    ]);
    let route = &shop.routes[0];
    let names: Vec<&str> = route.steps.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["degrease", "weigh", "coat", "rinse", "wipe"]);
    for (i, step) in route.steps.iter().enumerate() {
        assert!(step.after.iter().all(|a| a.index() < i), "{}", step.name);
    }
}

#[test]
fn anchors_are_followed() {
    let shop = with(&[
        ("loads: 2}", "loads: &two 2}"),
        ("{name: rinse bucket}", "{name: rinse bucket, loads: *two}"),
    ]);
    assert_eq!(shop.stations[1].places, 2);
    assert_eq!(shop.stations[2].places, 2);
}

#[test]
fn a_stream_comes_on_its_weekdays_and_varies_in_size() {
    let shop = with(&[(
        "due: 15:00",
        "arrives: {every: exponential 45 min, up to: 12, only: opening hours, fewest: 3}, due after: 4 h",
    )]);
    let Arrival::Every { only, fewest, .. } = &shop.orders[0].arrival else {
        panic!("a stream")
    };
    assert_eq!(only.len(), shop.calendar.days.len());
    assert_eq!(*fewest, 3);
}

/// A day is said as people say it; the first day is Thursday 5 March 2026.
#[test]
fn a_time_is_said_with_its_day() {
    let base = std::fs::read_to_string("tests/broken/below/two-routes.yaml").unwrap();
    let due = |text: &str| {
        let order =
            format!("orders: [{{id: A, part: wood screw, count: 4, route: black only, due: \"{text}\"}}]\n");
        let read = scenario::read("test.yaml", &(base.clone() + &order));
        let shop = read
            .unwrap_or_else(|f| panic!("{text}: {}", f.render(false)))
            .shop;
        let Arrival::At(at) = shop.orders[0].arrival else {
            panic!("{text}: comes again");
        };
        (at + shop.orders[0].due_after.unwrap()).in_minutes() / 60.0
    };
    for (text, hours) in [
        ("16:30", 16.5),
        ("4:30 pm", 16.5),
        ("today 4:30 pm", 16.5),
        ("tomorrow 12:00", 36.0),
        ("Fri 12:00", 36.0),
        ("Friday 6 March 12:00", 36.0),
        ("6 Mar 12 pm", 36.0),
        ("Mar 6 12:00", 36.0),
        ("Tue 24 Mar 20:30", 19.0 * 24.0 + 20.5),
        ("2026-03-24 8:30 pm", 19.0 * 24.0 + 20.5),
    ] {
        assert!((due(text) - hours).abs() < 1e-9, "{text}: {}", due(text));
    }
}
