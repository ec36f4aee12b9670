//! Figures of many days put together.

use super::{Results, round};
use serde_json::{Map, Value, json};
use tankday_base::stats::interval_of_mean;
use tankday_study::StudyDay;

/// The level of the intervals.
const LEVEL: f64 = 0.95;

/// A mean with its interval; of one value or of equal ones the value alone.
pub(crate) fn interval(values: &[f64]) -> Value {
    let Some(first) = values.first() else {
        return Value::Null;
    };
    if values.iter().all(|v| v == first) {
        return round(*first);
    }
    match interval_of_mean(values, LEVEL) {
        Some(i) => json!({"mean": round(i.mean), "low": round(i.low()), "high": round(i.high())}),
        None => round(*first),
    }
}

/// A value of every day put together: what is a number and varies becomes a mean with its interval.
pub(super) fn over_days(results: &Results<'_>, of: impl Fn(&StudyDay) -> Value) -> Value {
    match results.many() {
        Some(study) => together(&study.days.iter().map(&of).collect::<Vec<_>>()),
        None => of(&StudyDay::of(results.figures, Vec::new())),
    }
}

fn together(values: &[Value]) -> Value {
    match values.first() {
        Some(Value::Object(first)) => {
            let field = |key: &String| {
                let all: Vec<Value> = values.iter().filter_map(|v| v.get(key).cloned()).collect();
                (key.clone(), together(&all))
            };
            Value::Object(first.keys().map(field).collect::<Map<_, _>>())
        }
        Some(Value::Array(first)) => {
            let place = |i: usize| {
                together(
                    &values
                        .iter()
                        .filter_map(|v| v.get(i).cloned())
                        .collect::<Vec<_>>(),
                )
            };
            Value::Array((0..first.len()).map(place).collect())
        }
        Some(first) => match values.iter().find(|v| v.is_number()) {
            Some(_) => interval(&values.iter().filter_map(Value::as_f64).collect::<Vec<_>>()),
            None => first.clone(),
        },
        None => Value::Null,
    }
}
