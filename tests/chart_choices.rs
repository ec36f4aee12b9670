//! Pictures of comparisons and sweeps keep the rules of all pictures, also at the extremes.

use super::chart_extremes::no_label_lies_on_another;
use super::chart_pictures::{has_name_and_description, only_token_colours, words_are_legible_and_inside};
use tankday::chart::{self, Bar, Svg, Width};
use tankday::compare::{Alternative, Comparison};
use tankday::print::Replication;
use tankday::study::{Measure, Reading};
use tankday::sweep::{Idle, Point, Sweep, grid, varied};

/// Readings around a value that differs by figure.
fn readings(many: u32, centre: f64) -> Vec<Reading> {
    let one = |n: u32| {
        let wave = f64::from(n * 7 % 11) - 5.0;
        let mut values = [0.0; Measure::COUNT];
        for (i, value) in values.iter_mut().enumerate() {
            *value = centre * (1.0 + i as f64) + 0.1 * centre * wave;
        }
        Reading(values)
    };
    (0..many).map(one).collect()
}

fn comparison(alternatives: u32, many: u32, name: &str) -> Comparison {
    let one = |i: u32| Alternative {
        name: format!("{name} {i}"),
        outlay: None,
        readings: readings(many, 10.0 + f64::from(i * i % 7)),
    };
    Comparison::of((0..alternatives).map(one).collect())
}

fn swept(typed: &[&str], many: u32, wrong: usize) -> Sweep {
    let keys: Vec<_> = typed.iter().map(|t| varied(t).unwrap()).collect();
    let points = grid(&keys).into_iter().enumerate().map(|(i, settings)| Point {
        outcome: if i < wrong {
            Err("it does not fit".to_owned())
        } else {
            let x = settings.iter().map(|s| s.at).sum::<f64>();
            Ok(readings(many, 20.0 + (x - 5.0) * (x - 5.0)))
        },
        settings,
    });
    Sweep {
        points: points.collect(),
        keys,
        reach: None,
        idle: Idle::default(),
        each: Replication::Day,
    }
}

fn bars(many: usize, parts: [f64; 6]) -> Vec<Bar> {
    let long = "an alternative with quite a long name that does not fit";
    (0..many)
        .map(|i| Bar {
            name: format!("{i} {long}"),
            parts,
            sure: Some((0.9 * parts[0], 1.1 * parts[0])),
        })
        .collect()
}

pub(crate) fn pictures(page: Width) -> Vec<(&'static str, Svg)> {
    vec![
        ("two", chart::compare(&comparison(2, 200, "tank"), page)),
        (
            "twenty",
            chart::compare(
                &comparison(20, 2_000, "a bench with everything on it & <more>"),
                page,
            ),
        ),
        ("alike", chart::compare(&comparison(1, 2, "alone"), page)),
        (
            "curve",
            chart::sweep(&swept(&["tanks.black tank.fill=0 L..10 L/11"], 50, 2), page),
        ),
        (
            "dense",
            chart::sweep(&swept(&["tanks.black tank.fill=0 L..10 L/60"], 260, 0), page),
        ),
        (
            "words",
            chart::sweep(
                &swept(
                    &["rules.next load=due first, arrived first, longest dwell first"],
                    20,
                    0,
                ),
                page,
            ),
        ),
        ("one point", chart::sweep(&swept(&["a.b=5 L"], 5, 0), page)),
        (
            "map",
            chart::sweep(&swept(&["a.b=0 L..10 L/11", "c.d=0..9"], 20, 3), page),
        ),
        (
            "wide map",
            chart::sweep(&swept(&["a.b=1000000 L..1000001 L/2", "c.d=0..60"], 3, 0), page),
        ),
        (
            "lost",
            chart::lost(&bars(3, [2.0, 1.0, 0.3, 0.01, 0.5, 4.0]), page),
        ),
        (
            "lost by many",
            chart::lost(&bars(100, [1e6, 1.0, 0.0, 0.0, 0.0, 0.0]), page),
        ),
        ("nothing lost", chart::lost(&bars(1, [0.0; 6]), page)),
        ("none", chart::lost(&[], page)),
    ]
}

#[test]
fn every_choice_keeps_the_rules() {
    for (width, (name, svg)) in Width::ALL
        .into_iter()
        .flat_map(|w| pictures(w).into_iter().map(move |p| (w, p)))
    {
        let name = format!("{name} at {}", width.pixels());
        only_token_colours(&name, &svg);
        words_are_legible_and_inside(&name, &svg);
        has_name_and_description(&name, &svg);
        no_label_lies_on_another(&name, &svg);
    }
}

/// Written to a folder for looking at, when one is named.
#[cfg(feature = "png")]
#[test]
fn every_choice_becomes_a_png() {
    let dir = std::env::var_os("TANKDAY_PICTURES");
    let widths: &[Width] = if dir.is_some() {
        &Width::ALL
    } else {
        &[Width::Phone]
    };
    for width in widths {
        for (name, svg) in pictures(*width) {
            let png = chart::png::render(&svg, 1.0).unwrap();
            assert!(png.starts_with(b"\x89PNG"), "{name}");
            if let Some(dir) = &dir {
                let file = format!("{name}-{}.png", width.pixels());
                std::fs::write(std::path::Path::new(dir).join(file), png).unwrap();
            }
        }
    }
}
