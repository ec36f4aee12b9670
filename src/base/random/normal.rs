//! The standard normal distribution: its distribution function, density and quantile.

#![allow(
    clippy::excessive_precision,
    reason = "the coefficients stand as they are printed in the source"
)]

/// The probability that a standard normal variable lies below `x`.
#[must_use]
pub fn normal_distribution(x: f64) -> f64 {
    0.5 * libm::erfc(-x * std::f64::consts::FRAC_1_SQRT_2)
}

/// The density of the standard normal distribution at `x`.
#[must_use]
pub fn normal_density(x: f64) -> f64 {
    /// 1 / sqrt(2 pi).
    const PEAK: f64 = 0.398_942_280_401_432_7;
    PEAK * libm::exp(-0.5 * x * x)
}

/// The value below which a standard normal variable lies with probability `p`: minus infinity at `p <= 0`, infinity
/// at `p >= 1`. Right to 1e-15 of its size.
///
/// Algorithm AS 241, routine PPND16: M. J. Wichura, Applied Statistics 37 (1988) 477-484.
#[inline]
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * polynomial(r, &CENTRE_TOP) / polynomial(r, &CENTRE_BOTTOM);
    }
    normal_tail(p)
}

/// The quantile outside the middle 85 %.
fn normal_tail(p: f64) -> f64 {
    let tail = p.min(1.0 - p);
    if tail.is_nan() {
        return f64::NAN;
    }
    let size = if tail <= 0.0 {
        f64::INFINITY
    } else {
        let r = (-libm::log(tail)).sqrt();
        if r <= 5.0 {
            polynomial(r - 1.6, &TAIL_TOP) / polynomial(r - 1.6, &TAIL_BOTTOM)
        } else {
            polynomial(r - 5.0, &FAR_TOP) / polynomial(r - 5.0, &FAR_BOTTOM)
        }
    };
    if p < 0.5 { -size } else { size }
}

/// A polynomial by Horner's rule, highest power first.
#[inline]
fn polynomial(x: f64, coefficients: &[f64; 8]) -> f64 {
    coefficients.iter().fold(0.0, |sum, &c| sum * x + c)
}

// The coefficients of AS 241 as printed; a double keeps 16 or 17 of their digits.
const CENTRE_TOP: [f64; 8] = [
    2.509_080_928_730_122_672_7e3,
    3.343_057_558_358_812_810_5e4,
    6.726_577_092_700_870_085_3e4,
    4.592_195_393_154_987_145_7e4,
    1.373_169_376_550_946_112_5e4,
    1.971_590_950_306_551_442_7e3,
    1.331_416_678_917_843_774_5e2,
    3.387_132_872_796_366_608_0e0,
];
const CENTRE_BOTTOM: [f64; 8] = [
    5.226_495_278_852_854_561_0e3,
    2.872_908_573_572_194_267_4e4,
    3.930_789_580_009_271_061_0e4,
    2.121_379_430_158_659_586_7e4,
    5.394_196_021_424_751_107_7e3,
    6.871_870_074_920_579_083_0e2,
    4.231_333_070_160_091_125_2e1,
    1.0,
];
const TAIL_TOP: [f64; 8] = [
    7.745_450_142_783_414_076_40e-4,
    2.272_384_498_926_918_458_33e-2,
    2.417_807_251_774_506_117_70e-1,
    1.270_458_252_452_368_382_58e0,
    3.647_848_324_763_204_605_04e0,
    5.769_497_221_460_691_405_50e0,
    4.630_337_846_156_545_295_90e0,
    1.423_437_110_749_683_577_34e0,
];
const TAIL_BOTTOM: [f64; 8] = [
    1.050_750_071_644_416_843_24e-9,
    5.475_938_084_995_344_946_00e-4,
    1.519_866_656_361_645_719_66e-2,
    1.481_039_764_274_800_745_90e-1,
    6.897_673_349_851_000_045_50e-1,
    1.676_384_830_183_803_849_40e0,
    2.053_191_626_637_758_821_87e0,
    1.0,
];
const FAR_TOP: [f64; 8] = [
    2.010_334_399_292_288_132_65e-7,
    2.711_555_568_743_487_578_15e-5,
    1.242_660_947_388_078_438_60e-3,
    2.653_218_952_657_612_309_30e-2,
    2.965_605_718_285_048_912_30e-1,
    1.784_826_539_917_291_335_80e0,
    5.463_784_911_164_114_369_90e0,
    6.657_904_643_501_103_777_20e0,
];
const FAR_BOTTOM: [f64; 8] = [
    2.044_263_103_389_939_785_64e-15,
    1.421_511_758_316_445_888_70e-7,
    1.846_318_317_510_054_681_80e-5,
    7.868_691_311_456_132_591_00e-4,
    1.487_536_129_085_061_485_25e-2,
    1.369_298_809_227_358_053_10e-1,
    5.998_322_065_558_879_376_90e-1,
    1.0,
];
