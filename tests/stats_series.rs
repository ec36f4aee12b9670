//! Series: warm-up, batch means, quantiles. S8 to S12 of the check values.

use tankday::stats::{
    QuantileRule, Warmup, autocorrelation, batch_means, interval_by_batches, mean, mser5, quantile,
    standard_deviation, variance, von_neumann_ratio,
};

fn near(found: f64, exact: f64) {
    assert!(
        (found - exact).abs() < 1e-9 * exact.abs().max(1.0),
        "{found}, not {exact}"
    );
}

/// The generator of S. K. Park and K. W. Miller, Communications of the ACM 31 (1988) 1192-1201.
struct ParkMiller(u64);

impl ParkMiller {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 16_807 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }
}

/// S9: 3,000 waits of an M/M/1 queue at 90 % load by Lindley's recursion, and the state of the generator after them.
fn golden_waits() -> (Vec<f64>, u64) {
    let mut source = ParkMiller(12_345);
    let (mut wait, mut waits) = (0.0f64, Vec::new());
    for _ in 0..3_000 {
        waits.push(wait);
        let service = -libm::log(source.next());
        let gap = -libm::log(source.next()) / 0.9;
        wait = (wait + service - gap).max(0.0);
    }
    (waits, source.0)
}

#[test]
fn golden_run() {
    let (waits, state) = golden_waits();
    assert_eq!(state, 599_481_893);
    let first = [
        0.0,
        2.135_307_318_030,
        0.0,
        1.158_217_008_022,
        0.829_219_624_036,
        0.648_334_389_269,
    ];
    waits
        .iter()
        .zip(first)
        .for_each(|(&found, exact)| near(found, exact));
    near(mean(&waits).unwrap(), 7.960_775_527_960);
    near(standard_deviation(&waits).unwrap(), 6.894_871_072_705);
    near(waits.iter().copied().fold(0.0, f64::max), 31.907_483_776_132);
    assert_eq!(waits.iter().filter(|&&w| w == 0.0).count(), 273);
    near(autocorrelation(&waits, 1).unwrap(), 0.979_592_374_870);
    near(autocorrelation(&waits, 10).unwrap(), 0.816_395_274_956);
    let warmup = mser5(&waits).unwrap();
    assert_eq!((warmup.cut, warmup.too_short), (350, false));
    near(warmup.statistic, 0.070_021_934_883_6);
    near(mean(&waits[warmup.cut..]).unwrap(), 7.759_834_922_826);
}

/// S10: 90 % intervals from batch means of the golden run.
#[test]
fn batch_means_of_the_golden_run() {
    let (waits, _) = golden_waits();
    for (batches, spread, half_width, lag_one, ratio) in [
        (
            10,
            8.489_441_138_7,
            1.688_996_587_6,
            -0.612_057_150_2,
            3.150_869_909_4,
        ),
        (
            20,
            18.187_457_717_2,
            1.648_919_114_4,
            -0.074_132_041_1,
            2.024_831_470_7,
        ),
        (
            30,
            29.817_605_651_1,
            1.693_953_965_6,
            0.157_745_528_8,
            1.631_517_180_7,
        ),
    ] {
        let means = batch_means(&waits, batches).unwrap();
        near(variance(&means).unwrap(), spread);
        near(autocorrelation(&means, 1).unwrap(), lag_one);
        near(von_neumann_ratio(&means).unwrap(), ratio);
        let interval = interval_by_batches(&waits, batches, 0.90).unwrap();
        near(interval.half_width, half_width);
        near(interval.mean, mean(&waits).unwrap());
        assert_eq!(interval.degrees, (batches - 1) as f64);
    }
}

/// S11: quantiles of the golden run by each rule.
#[test]
fn quantiles_of_the_golden_run() {
    let (waits, _) = golden_waits();
    for (p, linear, weibull, smallest) in [
        (0.90, 18.461_254_633_386, 18.466_681_598_956, 18.460_576_262_689),
        (0.95, 21.988_961_336_449, 22.015_373_031_937, 21.987_494_020_033),
    ] {
        near(quantile(&waits, p, QuantileRule::Linear).unwrap(), linear);
        near(quantile(&waits, p, QuantileRule::Weibull).unwrap(), weibull);
        near(quantile(&waits, p, QuantileRule::Smallest).unwrap(), smallest);
    }
}

#[test]
fn quantiles_at_the_ends() {
    let data = [3.0, 1.0, 2.0];
    for rule in [
        QuantileRule::Smallest,
        QuantileRule::Weibull,
        QuantileRule::Linear,
    ] {
        assert_eq!(quantile(&data, 0.0, rule), Some(1.0));
        assert_eq!(quantile(&data, 1.0, rule), Some(3.0));
        assert_eq!(quantile(&data, 1.1, rule), None);
        assert_eq!(quantile(&[], 0.5, rule), None);
        assert_eq!(quantile(&[7.0], 0.3, rule), Some(7.0));
    }
    assert_eq!(quantile(&data, 0.5, QuantileRule::Linear), Some(2.0));
}

/// S8: the data of the check values; batch means 4.8 9.0 11.0 12.4 12.6 13.0 11.8 12.6 13.4 12.0 11.2 13.6.
const RISING: [u8; 60] = [
    2, 5, 4, 7, 6, 8, 7, 10, 9, 11, 10, 12, 9, 13, 11, 12, 14, 11, 13, 12, 13, 11, 14, 12, 13, 12, 15, 11,
    13, 14, 12, 13, 11, 12, 11, 13, 12, 14, 11, 13, 15, 12, 13, 14, 13, 14, 11, 12, 11, 12, 11, 12, 12, 10,
    11, 13, 14, 15, 12, 14,
];

#[test]
fn warmup_of_a_rising_series() {
    let data: Vec<f64> = RISING.iter().map(|&x| f64::from(x)).collect();
    let found = mser5(&data).unwrap();
    assert_eq!((found.cut, found.too_short), (15, false));
    assert!(
        (found.statistic - 0.058_381_34).abs() < 5e-9,
        "{}",
        found.statistic
    );
    near(mean(&data[15..]).unwrap(), 12.511_111_111_111);
    near(mean(&data).unwrap(), 11.45);
}

#[test]
fn a_run_too_short_says_so() {
    let climbing: Vec<f64> = (0..60).map(f64::from).collect();
    let found = mser5(&climbing).unwrap();
    assert_eq!((found.cut, found.too_short), (30, true));
    assert_eq!(mser5(&climbing[..9]), None);
    let still = Warmup {
        cut: 0,
        statistic: 0.0,
        too_short: false,
    };
    assert_eq!(mser5(&[4.0; 40]), Some(still), "the first cut on a tie");
}

/// S12: an autoregression x' = 0.8 x + e with unit noise has n Var(mean) = 0.0248888889 n at n = 1000, where the naive
/// s^2/n gives 2.7778/n. Over 4,000 runs the variance of the means has a standard error of sqrt(2/4000) = 2.2 %.
#[test]
fn neighbours_that_move_together_widen_the_truth() {
    use tankday::random::{Purpose, Streams, normal_quantile, unit};
    let runs: Vec<(f64, f64)> = (0..4_000)
        .map(|run| {
            let noise = Streams::new(12, run).stream(Purpose::named("noise"));
            let mut x = normal_quantile(unit(noise.word(0, 0))) / 0.6;
            let series: Vec<f64> = (1..=1_000)
                .map(|k| {
                    x = 0.8 * x + normal_quantile(unit(noise.word(k, 0)));
                    x
                })
                .collect();
            (mean(&series).unwrap(), variance(&series).unwrap())
        })
        .collect();
    let true_variance = variance(&runs.iter().map(|run| run.0).collect::<Vec<_>>()).unwrap();
    assert!(
        (true_variance / 0.024_888_888_9 - 1.0).abs() < 0.09,
        "{true_variance}"
    );
    let naive = mean(&runs.iter().map(|run| run.1).collect::<Vec<_>>()).unwrap() / 1_000.0;
    let spread_of_series = 2.777_8e-3 - 0.024_888_888_9 / 1_000.0;
    assert!((naive / spread_of_series - 1.0).abs() < 0.01, "{naive}");
}
