//! Draws from spreads: pinned values, exact means, and agreement with independent samplers.

use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::Distribution;
use tankday::random::{Purpose, Spread, Streams};
use tankday::units::Span;

fn minutes(value: f64) -> Span {
    Span::minutes(value)
}

/// One spread of every kind, all of them in minutes.
fn all() -> Vec<Spread> {
    vec![
        Spread::Fixed(minutes(5.0)),
        Spread::Uniform {
            least: minutes(4.0),
            most: minutes(7.0),
        },
        Spread::Normal {
            mean: minutes(5.0),
            sd: minutes(4.0),
        },
        Spread::Triangular {
            least: minutes(3.0),
            mostly: minutes(5.0),
            most: minutes(9.0),
        },
        Spread::Exponential { mean: minutes(4.5) },
        Spread::Lognormal {
            mean: minutes(10.0),
            sd: minutes(6.0),
        },
        Spread::Gamma {
            mean: minutes(24.0),
            sd: minutes(20.0),
        },
        Spread::Gamma {
            mean: minutes(25.0),
            sd: minutes(2.0),
        },
        Spread::Gamma {
            mean: minutes(2.0),
            sd: minutes(4.0),
        },
        Spread::Readings([4.0, 6.5, 5.0, 9.0].map(minutes).to_vec()),
    ]
}

fn draws(spread: &Spread, count: u64) -> Vec<f64> {
    let stream = Streams::new(2024, 0).stream(Purpose::named("test"));
    (0..count)
        .map(|k| spread.draw(stream.word(k, 0)).in_minutes())
        .collect()
}

/// Pinned on the day the samplers were written: the same word must give the same microseconds on any machine.
#[test]
fn value_stability() {
    const WORDS: [u64; 4] = [
        0x0000_1000_0000_0000,
        0x4000_0000_0000_0000,
        0x9e37_79b9_7f4a_7c15,
        u64::MAX,
    ];
    let found: Vec<String> = all()
        .iter()
        .map(|spread| {
            WORDS
                .map(|word| spread.draw(word).in_micros().to_string())
                .join(" ")
        })
        .collect();
    let pinned = [
        "300000000 300000000 300000000 300000000",
        "240000172 285000000 351246118 420000000",
        "1121 193915176 397936639 2273503941",
        "180202975 283923048 358335850 539999997",
        "257 77674160 259854386 9918936154",
        "36673014 353956474 607723146 48799827966",
        "78063 565650284 1463948763 38475278653",
        "996107830 1417412158 1533084065 2707185530",
        "0 1268245 51415157 15748216241",
        "240000000 390000000 300000000 540000000",
    ];
    assert_eq!(found, pinned);
}

/// The mean of 200,000 draws lies within 4.5 standard errors of the stated mean.
#[test]
fn means_are_true_means() {
    for spread in all() {
        let found = draws(&spread, 200_000);
        let mean = tankday::stats::mean(&found).unwrap();
        let error = tankday::stats::standard_deviation(&found).unwrap() / (found.len() as f64).sqrt();
        let stated = spread.mean().in_minutes();
        assert!(
            (mean - stated).abs() <= 4.5 * error + 1e-8,
            "{mean} for {stated}: {spread:?}"
        );
    }
}

/// About 5 min +- 4 min, cut at zero: mean 5 + 4 phi(1.25)/Phi(1.25) = 5 + 4 * 0.182649085/0.894350226 (a table of
/// the normal distribution) = 5.816902.
#[test]
fn the_cut_raises_the_mean_of_a_normal_spread() {
    let spread = Spread::Normal {
        mean: minutes(5.0),
        sd: minutes(4.0),
    };
    assert!(
        (spread.mean().in_minutes() - 5.816_902).abs() < 1e-6,
        "{}",
        spread.mean().in_minutes()
    );
}

#[test]
fn draws_stay_within_least_and_most_and_rise_with_the_word() {
    let stream = Streams::new(5, 0).stream(Purpose::named("order"));
    let mut words: Vec<u64> = (0..20_000).map(|k| stream.word(k, 0)).collect();
    words.extend([0, 1, u64::MAX - 1, u64::MAX]);
    words.sort_unstable();
    for spread in all() {
        let times: Vec<Span> = words.iter().map(|&word| spread.draw(word)).collect();
        assert!(
            times.iter().all(|&t| t >= spread.least() && t <= spread.most()),
            "{spread:?}"
        );
        assert!(
            matches!(spread, Spread::Readings(_)) || times.is_sorted(),
            "{spread:?}"
        );
    }
}

/// The greatest distance between two empirical distribution functions.
fn distance(mut one: Vec<f64>, mut two: Vec<f64>) -> f64 {
    one.sort_by(f64::total_cmp);
    two.sort_by(f64::total_cmp);
    let (mut i, mut k, mut most) = (0, 0, 0.0f64);
    while let (Some(&a), Some(&b)) = (one.get(i), two.get(k)) {
        i += usize::from(a <= b);
        k += usize::from(b <= a);
        most = most.max((i as f64 / one.len() as f64 - k as f64 / two.len() as f64).abs());
    }
    most
}

/// Kolmogorov-Smirnov: two samples of 20,000 from one distribution lie within 1.95 sqrt(2/n) = 0.0195 of each other
/// but for one case in a thousand (N. Smirnov, Ann. Math. Statist. 19 (1948) 279-281).
fn agrees(spread: &Spread, judge: impl Distribution<f64>) {
    let mut generator = ChaCha8Rng::seed_from_u64(77);
    let theirs: Vec<f64> = (0..20_000).map(|_| judge.sample(&mut generator)).collect();
    let apart = distance(draws(spread, 20_000), theirs);
    assert!(apart < 0.0195, "{apart} for {spread:?}");
}

#[test]
fn samplers_agree_with_independent_ones() {
    let of = |place: usize| all().swap_remove(place);
    agrees(&of(1), rand_distr::Uniform::new(4.0, 7.0).unwrap());
    agrees(&of(3), rand_distr::Triangular::new(3.0, 9.0, 5.0).unwrap());
    agrees(&of(4), rand_distr::Exp::new(1.0 / 4.5).unwrap());
    agrees(&of(6), rand_distr::Gamma::new(1.44, 24.0 / 1.44).unwrap());
    agrees(&of(7), rand_distr::Gamma::new(156.25, 25.0 / 156.25).unwrap());
    agrees(&of(8), rand_distr::Gamma::new(0.25, 8.0).unwrap());
    let variance = libm::log1p(0.36);
    let middle = libm::log(10.0) - 0.5 * variance;
    agrees(
        &of(5),
        rand_distr::LogNormal::new(middle, variance.sqrt()).unwrap(),
    );
}

/// A normal sampler whose values below zero are drawn again.
struct DrawnAgain(rand_distr::Normal<f64>);

impl Distribution<f64> for DrawnAgain {
    fn sample<R: rand::Rng + ?Sized>(&self, generator: &mut R) -> f64 {
        std::iter::repeat_with(|| self.0.sample(generator))
            .find(|&x| x > 0.0)
            .unwrap()
    }
}

#[test]
fn a_cut_normal_agrees_with_drawing_again() {
    agrees(
        &all().swap_remove(2),
        DrawnAgain(rand_distr::Normal::new(5.0, 4.0).unwrap()),
    );
}

#[test]
fn readings_come_up_equally_often() {
    let found = draws(&all()[9], 40_000);
    for reading in [4.0, 6.5, 5.0, 9.0] {
        let count = found.iter().filter(|&&t| t == reading).count() as f64;
        assert!(
            (count - 10_000.0).abs() < 4.0 * (40_000.0f64 * 0.25 * 0.75).sqrt(),
            "{count} of {reading}"
        );
    }
}

#[test]
fn lognormal_by_median_and_factor() {
    let spread = Spread::lognormal_about(minutes(8.0), 1.5);
    let half = spread.draw(1 << 63).in_minutes();
    assert!((half - 8.0).abs() < 1e-6, "median {half}");
    let mut found = draws(&spread, 100_000);
    found.retain(|t| (8.0 / 1.5..8.0 * 1.5).contains(t));
    assert!(
        (found.len() as f64 / 100_000.0 - 0.682_689).abs() < 0.006,
        "{}",
        found.len()
    );
}

#[test]
fn senseless_spreads_give_times_all_the_same() {
    let (zero, minus) = (Span::ZERO, Span::minutes(-3.0));
    let odd = [
        Spread::Fixed(minus),
        Spread::Uniform {
            least: minutes(7.0),
            most: minutes(4.0),
        },
        Spread::Normal {
            mean: minus,
            sd: minutes(0.01),
        },
        Spread::Normal { mean: zero, sd: zero },
        Spread::Triangular {
            least: minutes(5.0),
            mostly: minutes(1.0),
            most: minutes(3.0),
        },
        Spread::Exponential { mean: minus },
        Spread::Lognormal {
            mean: zero,
            sd: minutes(1.0),
        },
        Spread::Gamma {
            mean: Span::micros(1),
            sd: Span::FOREVER,
        },
        Spread::Gamma {
            mean: Span::FOREVER,
            sd: Span::micros(1),
        },
        Spread::Readings(Vec::new()),
    ];
    for spread in odd {
        for word in [0, 1, 1 << 63, u64::MAX] {
            let time = spread.draw(word);
            assert!(
                (Span::ZERO..=Span::FOREVER).contains(&time),
                "{time:?} from {spread:?}"
            );
        }
        assert!(spread.mean() >= Span::ZERO && spread.least() >= Span::ZERO && spread.most() >= Span::ZERO);
    }
}
