//! Intervals, planning and differences: S2 to S5 of the check values.

use tankday::stats::{
    MeanInterval, interval_of_mean, mean, paired_difference, replications_for_half_width,
    replications_for_relative_error, student_quantile, student_tail, variance, welch_difference,
};

fn close(found: f64, exact: f64) {
    assert!(
        (found - exact).abs() <= 1e-9 * exact.abs(),
        "{found}, not {exact}"
    );
}

fn is_interval(interval: &MeanInterval, mean: f64, half_width: f64, low: f64, high: f64) {
    close(interval.mean, mean);
    close(interval.half_width, half_width);
    close(interval.low(), low);
    close(interval.high(), high);
}

/// S2, printed in every table of the t distribution; here to eight decimals.
#[test]
fn student_table() {
    let table = [
        (1.0, [6.313_751_51, 12.706_204_74, 63.656_741_16]),
        (2.0, [2.919_985_58, 4.302_652_73, 9.924_843_20]),
        (4.0, [2.131_846_79, 2.776_445_11, 4.604_094_87]),
        (9.0, [1.833_112_93, 2.262_157_16, 3.249_835_54]),
        (19.0, [1.729_132_81, 2.093_024_05, 2.860_934_61]),
        (29.0, [1.699_127_03, 2.045_229_64, 2.756_385_90]),
        (99.0, [1.660_391_16, 1.984_216_95, 2.626_405_46]),
        (999.0, [1.646_380_35, 1.962_341_46, 2.580_759_64]),
        (f64::INFINITY, [1.644_853_63, 1.959_963_98, 2.575_829_30]),
    ];
    for (df, row) in table {
        for (p, exact) in [0.95, 0.975, 0.995].into_iter().zip(row) {
            let found = student_quantile(p, df);
            assert!(
                (found - exact).abs() <= 5.1e-9,
                "{found} at {p}, {df}, not {exact}"
            );
            assert_eq!(student_quantile(0.5, df), 0.0);
        }
    }
    // Three comparisons at 90 % in all, by Bonferroni.
    assert!((student_quantile(1.0 - 0.1 / 6.0, 9.0) - 2.509_587_06).abs() <= 5.1e-9);
}

/// (degrees, p, quantile), computed for this file with 40 digits by halving an interval on the incomplete beta function.
const STUDENT: [(f64, f64, f64); 70] = [
    (0.3, 0.55, 0.225710058207605),
    (0.3, 0.9, 64.7865456370969),
    (0.3, 0.975, 6582.03569940076),
    (0.3, 0.9995, 3031053361.15382),
    (0.3, 0.99999999, 1.39581198368957e+25),
    (1.0, 0.55, 0.158384440324536),
    (1.0, 0.9, 3.07768353717525),
    (1.0, 0.975, 12.7062047361747),
    (1.0, 0.9995, 636.61924876879),
    (1.0, 0.99999999, 31830988.458436),
    (1.5, 0.55, 0.147626643460948),
    (1.5, 0.9, 2.19639841756554),
    (1.5, 0.975, 6.01666310442793),
    (1.5, 0.9995, 82.8474467036637),
    (1.5, 0.99999999, 112450.059596868),
    (2.0, 0.55, 0.14213381090374),
    (2.0, 0.9, 1.88561808316413),
    (2.0, 0.975, 4.30265272974946),
    (2.0, 0.9995, 31.5990545764454),
    (2.0, 0.99999999, 7071.06768803425),
    (3.7, 0.55, 0.134502863231898),
    (3.7, 0.9, 1.55756583886151),
    (3.7, 0.975, 2.86752070719119),
    (3.7, 0.9995, 9.47424013712466),
    (3.7, 0.99999999, 179.372092077411),
    (7.99238593, 0.55, 0.129711171235917),
    (7.99238593, 0.9, 1.3969346338984),
    (7.99238593, 0.975, 2.30638658248153),
    (7.99238593, 0.9995, 5.04362827303658),
    (7.99238593, 0.99999999, 21.9264535170405),
    (12.25, 0.55, 0.12829208469434),
    (12.25, 0.9, 1.35460818766366),
    (12.25, 0.975, 2.17389138839206),
    (12.25, 0.9995, 4.2917260731601),
    (12.25, 0.99999999, 12.7258454564943),
    (57.5, 0.55, 0.12621759066913),
    (57.5, 0.9, 1.29644881393617),
    (57.5, 0.975, 2.00208815197951),
    (57.5, 0.9995, 3.46793063965704),
    (57.5, 0.99999999, 6.51082148195369),
    (313.0, 0.55, 0.125763343557429),
    (313.0, 0.9, 1.28426214490368),
    (313.0, 0.975, 1.96757201948582),
    (313.0, 0.9995, 3.32188062301862),
    (313.0, 0.99999999, 5.76097219793352),
    (999.5, 0.55, 0.125693278486658),
    (999.5, 0.9, 1.28239914553677),
    (999.5, 0.975, 1.96234027038385),
    (999.5, 0.9995, 3.30028754195555),
    (999.5, 0.99999999, 5.65793546542303),
    (1000.0, 0.55, 0.125693262518716),
    (1000.0, 0.9, 1.28239872146092),
    (1000.0, 0.975, 1.96233908082641),
    (1000.0, 0.9995, 3.30028264842394),
    (1000.0, 0.99999999, 5.65791233678883),
    (2500.0, 0.55, 0.125674112099927),
    (2500.0, 0.9, 1.2818902908105),
    (2500.0, 0.975, 1.96091334479557),
    (2500.0, 0.9995, 3.29442280844537),
    (2500.0, 0.99999999, 5.6302884287334),
    (30000.0, 0.55, 0.125662410573446),
    (30000.0, 0.9, 1.28157978567117),
    (30000.0, 0.975, 1.96004306338393),
    (30000.0, 0.9995, 3.29085108488603),
    (30000.0, 0.99999999, 5.61352126092993),
    (1000000.0, 0.55, 0.125661378766488),
    (1000000.0, 0.9, 1.28155241212994),
    (1000000.0, 0.975, 1.95996635681411),
    (1000000.0, 0.9995, 3.29053646124872),
    (1000000.0, 0.99999999, 5.61204683349998),
];

#[test]
fn student_quantile_for_any_degrees() {
    for (df, p, exact) in STUDENT {
        let found = student_quantile(p, df);
        assert!(
            (found / exact - 1.0).abs() < 1e-9,
            "{found} at {df}, {p}, not {exact}"
        );
        assert!(
            (student_quantile(1.0 - p, df) + found).abs() < 1e-6 * found,
            "lower side at {df}, {p}"
        );
    }
}

#[test]
fn student_tail_at_simple_points() {
    // One degree is the Cauchy distribution: P(T > 1) = 1/4. Two degrees: P(T > t) = 1/2 - t / (2 sqrt(2 + t^2)).
    close(student_tail(1.0, 1.0), 0.25);
    close(student_tail(-1.0, 1.0), 0.75);
    close(student_tail(3.0, 2.0), 0.5 - 1.5 / 11f64.sqrt());
}

#[test]
fn student_bears_any_argument() {
    assert_eq!(student_quantile(0.0, 3.0), f64::NEG_INFINITY);
    assert_eq!(student_quantile(1.0, 3.0), f64::INFINITY);
    assert!(student_quantile(0.9, 0.0).is_nan() && student_quantile(f64::NAN, 3.0).is_nan());
}

/// S3: A. M. Law, Simulation Modeling and Analysis (2013), example 4.27.
#[test]
fn interval_for_a_mean() {
    let data = [1.20, 1.50, 1.68, 1.89, 0.95, 1.49, 1.58, 1.55, 0.50, 1.09];
    close(variance(&data).unwrap(), 0.167_512_222_2);
    let interval = interval_of_mean(&data, 0.90).unwrap();
    is_interval(&interval, 1.343, 0.237_253_414_5, 1.105_746_586, 1.580_253_414);
    close(interval_of_mean(&data, 0.95).unwrap().half_width, 0.292_783_113_0);
    assert!(interval.contains(1.2) && !interval.contains(1.6));
}

/// S4: ten bank days, average delay in minutes; Law, chapter 9.
#[test]
fn planned_number_of_replications() {
    let days = [1.53, 1.66, 1.24, 2.34, 2.00, 1.69, 2.69, 2.86, 1.70, 2.60];
    close(mean(&days).unwrap(), 2.031);
    close(variance(&days).unwrap(), 0.309_098_888_9);
    let interval = interval_of_mean(&days, 0.90).unwrap();
    assert!((interval.half_width - 0.322_283_4).abs() < 1e-7);
    assert!((interval.low() - 1.708_716_6).abs() < 1e-7 && (interval.high() - 2.353_283_4).abs() < 1e-7);
    assert_eq!(replications_for_half_width(&days, 0.90, 0.25), Some(16));
    assert_eq!(replications_for_relative_error(&days, 0.90, 0.1), Some(27));
    assert_eq!(
        replications_for_half_width(&days, 0.90, 1.0),
        Some(10),
        "what was made is enough"
    );
    assert_eq!(replications_for_half_width(&days, 0.90, 0.0), None);
    assert_eq!(replications_for_half_width(&days, 0.90, 1e-9), None);
}

/// The half-width asked for is met by the number planned and missed by one fewer, over many sizes.
#[test]
fn the_planned_number_is_the_smallest() {
    let days = [1.53, 1.66, 1.24, 2.34];
    let half_width =
        |n: u64| student_quantile(0.95, (n - 1) as f64) * (variance(&days).unwrap() / n as f64).sqrt();
    for k in 2..200 {
        let wanted = 0.5 / f64::from(k);
        let n = replications_for_half_width(&days, 0.90, wanted).unwrap();
        assert!(
            half_width(n) <= wanted && (n == 4 || half_width(n - 1) > wanted),
            "{n} for {wanted}"
        );
    }
}

/// S5: cost of five runs under two inventory policies; Law, chapter 10.
#[test]
fn two_designs() {
    let a = [126.97, 124.31, 126.68, 122.66, 127.23];
    let b = [118.21, 120.22, 122.45, 122.68, 119.40];
    let paired = paired_difference(&a, &b, 0.90).unwrap();
    is_interval(
        &paired.interval,
        4.978,
        3.328_873_125,
        1.649_126_875,
        8.306_873_125,
    );
    assert!((paired.correlation.unwrap() + 0.570_895_7).abs() < 5e-8);
    let welch = welch_difference(&a, &b, 0.90).unwrap();
    is_interval(&welch, 4.978, 2.317_214_382, 2.660_785_618, 7.295_214_382);
    assert!((welch.degrees - 7.992_385_93).abs() <= 5.1e-9);
    assert!((student_quantile(0.95, 7.992_385_93) - 1.859_777_72).abs() <= 5.1e-9);
}

#[test]
fn too_few_readings_have_no_interval() {
    assert_eq!(interval_of_mean(&[1.0], 0.9), None);
    assert_eq!(interval_of_mean(&[1.0, 2.0], 1.0), None);
    assert_eq!(paired_difference(&[1.0, 2.0], &[1.0], 0.9), None);
    assert_eq!(welch_difference(&[1.0, 2.0], &[1.0], 0.9), None);
    assert_eq!((mean(&[]), variance(&[4.0])), (None, None));
    let still = welch_difference(&[1.0, 1.0], &[2.0, 2.0], 0.9).unwrap();
    assert_eq!((still.mean, still.half_width), (-1.0, 0.0));
}
