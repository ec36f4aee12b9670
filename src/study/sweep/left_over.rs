//! Which points leave orders unfinished that others finish: where an order is lost nothing is best, however little it costs.

use super::turn::paired;
use super::{Point, Statement, Sweep};
use crate::Measure;
use tankday_base::print::{list, number};
use tankday_base::stats::mean;

/// So many orders more, on average, and an order is lost oftener than not.
const AN_ORDER: f64 = 0.5;

impl Sweep {
    /// Whether a point leaves orders unfinished that another point finishes: more than there by half an order on average, and
    /// by more than noise.
    #[must_use]
    pub fn loses_orders(&self, point: &Point) -> bool {
        let Some(own) = point.column(Measure::Unready) else {
            return false;
        };
        let of = |column: &[f64]| mean(column).unwrap_or(f64::MAX);
        let all = self.points.iter().filter_map(|p| p.column(Measure::Unready));
        let Some(least) = all.min_by(|a, b| of(a).total_cmp(&of(b))) else {
            return false;
        };
        of(&own) - of(&least) >= AN_ORDER && paired(&own, &least).is_none_or(|d| !d.contains(0.0))
    }
}

/// Which points lose orders and are left out where the best is looked for, and that none finishes all of them where that is so.
pub(super) fn left_over_statements(sweep: &Sweep) -> Vec<Statement> {
    const LISTED: usize = 4;
    let one = |text: String| Statement {
        measures: vec![Measure::Unready],
        text,
    };
    let sound: Vec<&Point> = sweep.points.iter().filter(|p| !p.readings().is_empty()).collect();
    let lose: Vec<String> = sound
        .iter()
        .filter(|p| sweep.loses_orders(p))
        .map(|p| p.name())
        .collect();
    let at = match lose.as_slice() {
        [] => None,
        few if few.len() <= LISTED => Some(list(few)),
        [first, .., last] => Some(format!(
            "{} of the values tried, between {first} and {last},",
            lose.len()
        )),
        [_] => None,
    };
    let lost = at.map(|at| {
        one(format!(
            "At {at} orders aren't finished that are finished elsewhere: nothing is called best there."
        ))
    });
    let least = sound
        .iter()
        .filter_map(|p| mean(&p.column(Measure::Unready)?))
        .min_by(f64::total_cmp);
    let everywhere = least.filter(|least| *least >= AN_ORDER).map(|least| {
        one(format!(
            "Orders are left over at every value tried, at least {} on average: what is called best leaves some over, too.",
            number(least, 2)
        ))
    });
    lost.into_iter().chain(everywhere).collect()
}
