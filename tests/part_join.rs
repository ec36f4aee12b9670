//! Shares of a study and the whole that they make.

use tankday::shard::{Shard, Share, fingerprint, joined};
use tankday::study::{Measure, Reading};

fn reading(n: u32) -> Reading {
    let mut reading = Reading([0.1 + f64::from(n) / 3.0; Measure::COUNT]);
    reading.0[2] = f64::NAN;
    reading
}

fn part(share: &str, study: &str) -> (String, Shard<String>) {
    let share = Share::read(share).unwrap();
    let readings: Vec<Reading> = share.stretch(25).map(reading).collect();
    let part = Shard::new(
        share,
        study.to_owned(),
        25,
        "setup".to_owned(),
        &[readings.clone(), readings],
    );
    let text = serde_json::to_string(&part).unwrap();
    (format!("part-{share}.json"), serde_json::from_str(&text).unwrap())
}

#[test]
fn shares_in_any_order_make_the_whole_bit_by_bit() {
    let parts = vec![
        part("3/4", "a"),
        part("1/4", "a"),
        part("4/4", "a"),
        part("2/4", "a"),
    ];
    let (setup, whole) = joined(parts).unwrap();
    assert_eq!((setup.as_str(), whole.len()), ("setup", 2));
    for readings in whole {
        let bits: Vec<_> = readings.iter().map(|r| r.0.map(f64::to_bits)).collect();
        let expected: Vec<_> = (0..25).map(|n| reading(n).0.map(f64::to_bits)).collect();
        assert_eq!(bits, expected);
    }
}

#[test]
fn stretches_cover_all_and_overlap_nowhere() {
    for (of, many) in [(1, 7), (4, 25), (16, 10), (7, 10_000)] {
        let mut next = 0;
        for nth in 1..=of {
            let stretch = Share { nth, of }.stretch(many);
            assert_eq!(stretch.start, next);
            next = stretch.end;
        }
        assert_eq!(next, many);
    }
}

#[test]
fn what_does_not_belong_together_is_refused() {
    let words = |parts| joined(parts).unwrap_err();
    assert_eq!(words(vec![]), "there are no parts");
    assert_eq!(
        words(vec![part("1/3", "a"), part("3/3", "a")]),
        "part 2/3 is missing"
    );
    assert_eq!(words(vec![part("2/3", "a")]), "parts 1/3 and 3/3 are missing");
    assert_eq!(
        words(vec![part("1/2", "a"), part("1/2", "a")]),
        "part-1/2.json and part-1/2.json are both part 1/2"
    );
    assert_eq!(
        words(vec![part("1/2", "a"), part("2/2", "b")]),
        "part-2/2.json is a part of another study than part-1/2.json"
    );
}

#[test]
fn shares_are_read() {
    assert_eq!(Share::read("3/16"), Ok(Share { nth: 3, of: 16 }));
    for wrong in ["", "3", "0/4", "5/4", "a/b", "1/0", "1/99999", "-1/4"] {
        assert!(Share::read(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn a_fingerprint_hangs_on_every_text_and_its_bounds() {
    assert_eq!(fingerprint(["a", "b"]), fingerprint(["a", "b"]));
    assert_ne!(fingerprint(["a", "b"]), fingerprint(["ab"]));
    assert_ne!(fingerprint(["a", "b"]), fingerprint(["b", "a"]));
}
