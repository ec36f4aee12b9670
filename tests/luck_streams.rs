//! Addressed luck: the same address gives the same word for ever, and different addresses give unrelated words.

use tankday::random::{Purpose, Stream, Streams, unit};

const SOAK: Purpose = Purpose::named("soak");
const RINSE: Purpose = Purpose::named("rinse");

/// Pinned on the day the generator was chosen. A change here changes every seeded result that anybody has kept.
#[test]
fn value_stability() {
    let stream = Streams::new(42, 0).stream(SOAK);
    let words = [
        stream.word(0, 0),
        stream.word(1, 0),
        stream.word(0, 1),
        stream.word(u64::MAX, 7),
    ];
    assert_eq!(
        words.map(|w| format!("{w:016x}")),
        [
            "416a055758e384da",
            "6905ec458e47ba3b",
            "9f0bd4bf4c28dd9d",
            "143b6af34b6a94d0"
        ]
    );
    let other = [
        Streams::new(43, 0).stream(SOAK).word(0, 0),
        Streams::new(42, 1).stream(SOAK).word(0, 0),
        Streams::new(42, 0).stream(RINSE).word(0, 0),
    ];
    assert_eq!(
        other.map(|w| format!("{w:016x}")),
        ["974b8f09fd91708f", "864bc2d4f56e8320", "6a6b891bc7a4154d"]
    );
}

#[test]
fn unit_lies_inside_and_is_symmetric() {
    assert!(unit(0) > 0.0 && unit(u64::MAX) < 1.0);
    for word in [0, 1 << 12, 0x0123_4567_89ab_cdef, u64::MAX] {
        assert_eq!(unit(!word), 1.0 - unit(word), "exact complement");
    }
}

/// Chi-square over 256 cells, for the highest and for the lowest byte. With 255 degrees of freedom the value lies
/// between 171.6 and 366.6 but for one case in 100,000 (Wilson-Hilferty approximation at +-4.26 deviations).
fn bytes_are_even(words: impl Fn(u64) -> u64) {
    const DRAWS: u64 = 65_536;
    for shift in [56, 28, 0] {
        let mut cells = [0u32; 256];
        for k in 0..DRAWS {
            cells[(words(k) >> shift) as usize & 255] += 1;
        }
        let expected = DRAWS as f64 / 256.0;
        let chi: f64 = cells
            .iter()
            .map(|&c| (f64::from(c) - expected).powi(2) / expected)
            .sum();
        assert!((171.6..366.6).contains(&chi), "chi-square {chi} at shift {shift}");
    }
}

#[test]
fn words_are_even_along_every_part_of_the_address() {
    let stream = Streams::new(1, 0).stream(SOAK);
    bytes_are_even(|k| stream.word(k, 0));
    bytes_are_even(|k| stream.word(0, k));
    bytes_are_even(|k| stream.word(k << 32, k));
    bytes_are_even(|k| Streams::new(1, k).stream(SOAK).word(0, 0));
    bytes_are_even(|k| Streams::new(k, 0).stream(SOAK).word(0, 0));
    bytes_are_even(|k| {
        Streams::new(1, 0)
            .stream(Purpose::named(&k.to_string()))
            .word(0, 0)
    });
}

/// Correlation of n pairs of independent draws has a standard deviation of 1/sqrt(n).
fn correlation(pairs: impl Fn(u64) -> (u64, u64)) -> f64 {
    const PAIRS: u64 = 100_000;
    let sum: f64 = (0..PAIRS)
        .map(|k| {
            let (a, b) = pairs(k);
            (unit(a) - 0.5) * (unit(b) - 0.5) * 12.0
        })
        .sum();
    sum / PAIRS as f64
}

#[test]
fn neighbours_are_uncorrelated() {
    let limit = 4.0 / 100_000f64.sqrt();
    let stream = Streams::new(1, 0).stream(SOAK);
    let next_run = Streams::new(1, 1).stream(SOAK);
    let next_seed = Streams::new(2, 0).stream(SOAK);
    let rinse = Streams::new(1, 0).stream(RINSE);
    let of = |a: Stream, b: Stream, who: u64, visit: u64| {
        correlation(move |k| (a.word(k, 0), b.word(k + who, visit)))
    };
    for (a, b, who, visit) in [
        (stream, stream, 1, 0),
        (stream, stream, 0, 1),
        (stream, stream, 2, 1),
        (stream, next_run, 0, 0),
        (stream, next_seed, 0, 0),
        (stream, rinse, 0, 0),
        (stream, rinse, 1, 0),
    ] {
        let r = of(a, b, who, visit);
        assert!(r.abs() < limit, "correlation {r} at distance ({who}, {visit})");
    }
}

/// Each bit of the address that flips must flip each bit of the word in half of all cases: of 2,000 cases, 1,000
/// within 5 standard deviations of 22.4.
#[test]
fn one_bit_of_the_address_changes_half_the_word() {
    let stream = Streams::new(9, 3).stream(RINSE);
    for bit in 0..64 {
        let mut flips = [0u32; 64];
        for k in 0..2_000u64 {
            let by_who = stream.word(k, k % 5) ^ stream.word(k ^ (1 << bit), k % 5);
            for (place, count) in flips.iter_mut().enumerate() {
                *count += u32::from(by_who >> place & 1 == 1);
            }
        }
        for (place, &count) in flips.iter().enumerate() {
            assert!(
                (888..=1_112).contains(&count),
                "{count} flips of bit {place} by bit {bit}"
            );
        }
    }
}

/// S6 of the check values: with inversion and the same uniforms two exponentials correlate as 1, with uniforms and
/// their complements as 1 - pi^2/6 = -0.644934 (exact: the integral of ln u ln(1-u) is 2 - pi^2/6).
#[test]
fn inversion_keeps_luck_common() {
    use tankday::random::Spread;
    use tankday::units::Span;
    let (one, two) = (
        Spread::Exponential {
            mean: Span::minutes(9.0),
        },
        Spread::Exponential {
            mean: Span::minutes(4.0),
        },
    );
    let stream = Streams::new(6, 0).stream(SOAK);
    let draws: Vec<[f64; 3]> = (0..400_000)
        .map(|k| {
            let word = stream.word(k, 0);
            [one.draw(word), two.draw(word), two.draw(!word)].map(Span::in_minutes)
        })
        .collect();
    let column = |c: usize| draws.iter().map(|row| row[c]).collect::<Vec<_>>();
    let correlation = |a: &[f64], b: &[f64]| tankday::stats::correlation(a, b).unwrap();
    assert!(correlation(&column(0), &column(1)) > 1.0 - 1e-12);
    let opposite = correlation(&column(0), &column(2));
    assert!((opposite + 0.644_934).abs() < 0.005, "{opposite}");
}
