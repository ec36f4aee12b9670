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
pub(super) fn step<const N: usize>(
    y: &[f64; N],
    first: &[f64; N],
    h: f64,
    mut slope: impl FnMut(f64, &[f64; N]) -> [f64; N],
) -> Step<N> {
    let along = |weights: &[f64], k: &[[f64; N]]| -> [f64; N] {
        std::array::from_fn(|n| y[n] + h * weights.iter().zip(k).map(|(w, k)| w * k[n]).sum::<f64>())
    };
    let mut k = [[0.0; N]; 7];
    k[0] = *first;
    k[1] = slope(C[0] * h, &along(&A2, &k));
    k[2] = slope(C[1] * h, &along(&A3, &k));
    k[3] = slope(C[2] * h, &along(&A4, &k));
    k[4] = slope(C[3] * h, &along(&A5, &k));
    k[5] = slope(C[4] * h, &along(&A6, &k));
    let end = along(&B, &k);
    k[6] = slope(h, &end);
    let error = std::array::from_fn(|n| h * E.iter().zip(&k).map(|(w, k)| w * k[n]).sum::<f64>());
    Step { y: end, error }
}
