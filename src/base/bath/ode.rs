//! One step of a Runge-Kutta pair of order 5 with its order 4 companion (Dormand and Prince 1980).

/// What a step came to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step<const N: usize> {
    /// Values at its end.
    pub(super) y: [f64; N],
    /// Difference of the two orders.
    pub(super) error: [f64; N],
}

const C: [f64; 5] = [1.0 / 5.0, 3.0 / 10.0, 4.0 / 5.0, 8.0 / 9.0, 1.0];
const A2: [f64; 1] = [1.0 / 5.0];
const A3: [f64; 2] = [3.0 / 40.0, 9.0 / 40.0];
const A4: [f64; 3] = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
const A5: [f64; 4] = [
    19_372.0 / 6_561.0,
    -25_360.0 / 2_187.0,
    64_448.0 / 6_561.0,
    -212.0 / 729.0,
];
const A6: [f64; 5] = [
    9_017.0 / 3_168.0,
    -355.0 / 33.0,
    46_732.0 / 5_247.0,
    49.0 / 176.0,
    -5_103.0 / 18_656.0,
];
const B: [f64; 6] = [
    35.0 / 384.0,
    0.0,
    500.0 / 1_113.0,
    125.0 / 192.0,
    -2_187.0 / 6_784.0,
    11.0 / 84.0,
];
/// Order 5 less order 4, the slope at the end included.
const E: [f64; 7] = [
    71.0 / 57_600.0,
    0.0,
    -71.0 / 16_695.0,
    71.0 / 1_920.0,
    -17_253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];

/// Steps `h` on from `y` at 0, where `slope(x, y)` is the derivative and `first` is its value at the start.
#[inline]
pub(super) fn step<const N: usize>(
    y: &[f64; N],
    first: &[f64; N],
    h: f64,
    mut slope: impl FnMut(f64, &[f64; N]) -> [f64; N],
) -> Step<N> {
    let k1 = *first;
    let k2 = slope(C[0] * h, &along(y, h, &A2, &[k1]));
    let k3 = slope(C[1] * h, &along(y, h, &A3, &[k1, k2]));
    let k4 = slope(C[2] * h, &along(y, h, &A4, &[k1, k2, k3]));
    let k5 = slope(C[3] * h, &along(y, h, &A5, &[k1, k2, k3, k4]));
    let k6 = slope(C[4] * h, &along(y, h, &A6, &[k1, k2, k3, k4, k5]));
    let end = along(y, h, &B, &[k1, k2, k3, k4, k5, k6]);
    let k7 = slope(h, &end);
    let error = along(&[0.0; N], h, &E, &[k1, k2, k3, k4, k5, k6, k7]);
    Step { y: end, error }
}

/// How much longer the next step may be than one whose error was so many times what is allowed.
pub(super) fn next_length(size: f64) -> f64 {
    // The fourth root instead of the fifth: nearly the same near 1, and many times cheaper.
    (0.85 / size.max(1e-6).sqrt().sqrt()).clamp(0.1, 4.0)
}

/// From `y` along a weighted sum of slopes.
#[inline]
fn along<const N: usize, const M: usize>(y: &[f64; N], h: f64, w: &[f64; M], k: &[[f64; N]; M]) -> [f64; N] {
    std::array::from_fn(|n| {
        let mut sum = 0.0;
        for (w, k) in w.iter().zip(k) {
            sum += w * k[n];
        }
        y[n] + h * sum
    })
}
