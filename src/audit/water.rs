//! Water by table, so that heat and volume are checked by other numbers than those that made them.
//!
//! Specific enthalpy and density of liquid water at 101.325 kPa by the IAPWS-95 formulation (IAPWS R6-95), every 5 K from
//! 0 °C; computed with the Python package iapws 1.5.5, the last row at the boiling point, 99.97 °C, carried on to 100 °C with
//! the slope between 95 °C and it. Between rows a parabola through three neighbours.

use crate::units::{Density, Temperature};

/// °C from one row to the next.
const STEP: f64 = 5.0;

/// Enthalpy above 0 °C in J/kg, density in kg/m3.
const ROWS: [(f64, f64); 21] = [
    (0.0, 999.844),
    (21_016.8, 999.967),
    (42_015.7, 999.702),
    (62_973.6, 999.103),
    (83_904.1, 998.207),
    (104_816.9, 997.048),
    (125_719.3, 995.649),
    (146_616.7, 994.033),
    (167_513.1, 992.216),
    (188_411.8, 990.213),
    (209_315.3, 988.035),
    (230_225.9, 985.693),
    (251_145.5, 983.196),
    (272_076.0, 980.551),
    (293_019.3, 977.765),
    (313_977.3, 974.843),
    (334_952.1, 971.790),
    (355_945.6, 968.611),
    (376_960.3, 965.310),
    (397_998.5, 961.888),
    (419_062.7, 958.349),
];

/// Enthalpy of one kilogram above liquid water at 0 °C, in J.
pub(super) fn enthalpy(at: Temperature) -> f64 {
    between(at, |row| row.0)
}

/// Density.
pub(super) fn density(at: Temperature) -> Density {
    Density::kilograms_per_cubic_metre(between(at, |row| row.1))
}

fn between(at: Temperature, value: impl Fn(&(f64, f64)) -> f64) -> f64 {
    let place = at.in_celsius() / STEP;
    let middle = (place.round().clamp(1.0, (ROWS.len() - 2) as f64)) as usize;
    let near = ROWS.get(middle - 1..=middle + 1).unwrap_or_default();
    let [low, mid, high] = near else { return 0.0 };
    let (low, mid, high) = (value(low), value(mid), value(high));
    let x = place - middle as f64;
    mid + x * (high - low) / 2.0 + x * x * (high - 2.0 * mid + low) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST/IAPWS-95 values as printed in the project's check table: density at 20, 60, 93 and 98 °C; mean heat capacity
    /// between 90 and 98 °C lies between those printed at the two, 4205.3 and 4213.4 J/kgK.
    #[test]
    fn the_table_agrees_with_printed_values() {
        let printed = [(20.0, 998.16), (60.0, 983.16), (93.0, 963.26), (98.0, 959.78)];
        for (t, rho) in printed {
            let density = density(Temperature::celsius(t));
            let printed = Density::kilograms_per_cubic_metre(rho);
            assert!((density / printed - 1.0).abs() < 1e-4, "{t} °C: {density:?}");
        }
        let (cold, hot) = (
            enthalpy(Temperature::celsius(90.0)),
            enthalpy(Temperature::celsius(98.0)),
        );
        let mean = (hot - cold) / 8.0;
        assert!((4205.3..4213.4).contains(&mean), "{mean}");
    }

    #[test]
    fn rows_are_met_and_joined_without_steps() {
        for (i, row) in ROWS.iter().enumerate() {
            let t = Temperature::celsius(i as f64 * STEP);
            assert!((enthalpy(t) - row.0).abs() < 1e-6);
        }
        for i in 1..400 {
            let t = f64::from(i) / 4.0;
            let slope =
                (enthalpy(Temperature::celsius(t + 0.01)) - enthalpy(Temperature::celsius(t - 0.01))) / 0.02;
            assert!((4170.0..4225.0).contains(&slope), "{t} °C: {slope}");
        }
    }
}
