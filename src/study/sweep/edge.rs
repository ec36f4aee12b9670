//! Where the best lies at the edge of what was tried. It is no turning point: how far it gets better was not tried, and
//! the sweep says how far to go on.

use super::turn::{Curve, least};
use super::why::bare;
use super::{Form, Setting, Sweep};
use crate::{Better, Measure};
use tankday_base::print::{capital, list};

/// A stretch at the edge on which nothing changes but noise and trifles, as a share of the range: where it is wider, the
/// curve has levelled off, and going on is no use.
const LEVEL_STRETCH: f64 = 1.0 / 3.0;

/// A figure that is best at the edge of the range.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Which figure.
    pub measure: Measure,
    /// The value at the edge.
    pub at: Setting,
    /// How far to go on: as far again as was tried, or, where less than nothing lies there, half the way to it; no further
    /// than can be. None where nothing lies beyond.
    pub go_on_to: Option<Setting>,
    /// Whether what can be ends before one would go on so far.
    pub ends: bool,
}

/// The judged figures that are best at an edge of a key of numbers, and still get better there.
#[must_use]
pub fn edges(sweep: &Sweep) -> Vec<Edge> {
    let [key] = sweep.keys.as_slice() else {
        return Vec::new();
    };
    let Some(form) = key.form.as_ref() else {
        return Vec::new();
    };
    Measure::ALL
        .iter()
        .filter_map(|m| edge(sweep, *m, form))
        .collect()
}

fn edge(sweep: &Sweep, measure: Measure, form: &Form) -> Option<Edge> {
    let sign = match measure.better() {
        Better::Lower => 1.0,
        Better::Higher => -1.0,
        Better::Neither => return None,
    };
    let curve = Curve::of(sweep, measure).filter(|c| c.at.len() >= 2)?;
    let means = curve.means();
    let best = least(&means, sign)?;
    let last = means.len() - 1;
    if best != 0 && best != last {
        return None;
    }
    let x = *curve.at.get(best)?;
    let (from, to) = (*curve.at.first()?, *curve.at.last()?);
    // The nearest point that is worse by more than noise and a trifle.
    let worse = (0..=last)
        .filter(|i| curve.differs(*i, best, &means))
        .filter_map(|i| Some((curve.at.get(i)? - x).abs()))
        .min_by(f64::total_cmp)?;
    // Two neighbours always lie apart: of those nothing between was tried.
    let neighbour = curve.at.get(if best == 0 { 1 } else { last - 1 })?;
    let near = (neighbour - x).abs().max(LEVEL_STRETCH * (to - from));
    let wanted = beyond(form, x, (from, to));
    let (go_on_to, ends) = within(form, x, wanted, sweep.reach);
    (worse <= near).then(|| Edge {
        measure,
        at: form.at(x),
        go_on_to,
        ends,
    })
}

/// How far one can go on, and whether one would have gone further.
fn within(
    form: &Form,
    x: f64,
    wanted: Option<Setting>,
    reach: Option<(f64, f64)>,
) -> (Option<Setting>, bool) {
    let (Some(setting), Some((least, most))) = (&wanted, reach) else {
        return (wanted, false);
    };
    let can = setting.at.clamp(least, most);
    if can == setting.at {
        return (wanted, false);
    }
    ((can != x).then(|| form.at(can)), true)
}

/// How far to go on from an edge.
pub(super) fn beyond(form: &Form, x: f64, (from, to): (f64, f64)) -> Option<Setting> {
    let further = x + if x > from { to - from } else { from - to };
    let further = if x > 0.0 && further <= 0.0 {
        0.5 * x
    } else {
        further
    };
    let setting = form.at(further);
    let new = if x > from { setting.at > x } else { setting.at < x };
    // Of whole numbers and times nothing lies below 1; where all that was tried is above zero, zero may be no value at all.
    (new && (setting.at > 0.0 || from < 0.0)).then_some(setting)
}

/// What is best at the edges, in a sentence or two for each edge.
#[must_use]
pub fn edge_words(sweep: &Sweep, of: impl Fn(Measure) -> bool) -> Vec<String> {
    let Some(form) = sweep.keys.first().and_then(|key| key.form.as_ref()) else {
        return Vec::new();
    };
    let words = |setting: &Setting| bare(form, setting.at);
    let found: Vec<Edge> = edges(sweep).into_iter().filter(|e| of(e.measure)).collect();
    let mut values: Vec<&Setting> = Vec::new();
    for edge in &found {
        if !values.contains(&&edge.at) {
            values.push(&edge.at);
        }
    }
    let one = |at: &Setting| {
        let here: Vec<&Edge> = found.iter().filter(|e| e.at == *at).collect();
        let figures: Vec<String> = here.iter().map(|e| e.measure.words().to_owned()).collect();
        let verb = if here.len() == 1 { "is" } else { "are" };
        let best = format!("{} {verb} best at {}", capital(&list(&figures)), words(at));
        let said = format!("{best}, the edge of what was tried, and may get better beyond it");
        let Some(edge) = here.first() else {
            return format!("{said}.");
        };
        match (&edge.go_on_to, edge.ends) {
            (Some(to), false) => format!("{said}: go on to {}.", words(to)),
            (Some(to), true) if to.at > at.at => format!("{said}: go on to {}, more cannot be.", words(to)),
            (Some(to), true) => format!("{said}: go on to {}, less cannot be.", words(to)),
            (None, false) => format!("{said}."),
            (None, true) => format!("{best}, and no value beyond it can be."),
        }
    };
    values.into_iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::beyond;
    use crate::sweep::varied;

    #[test]
    fn it_goes_on_as_far_again_and_never_to_nothing() {
        let form = |typed: &str| varied(typed).unwrap().form.unwrap();
        let to = |typed: &str, x: f64, range: (f64, f64)| beyond(&form(typed), x, range).map(|s| s.text);
        assert_eq!(to("a=8 L..24 L/9", 24.0, (8.0, 24.0)).unwrap(), "40 L");
        assert_eq!(to("a=8 L..24 L/9", 8.0, (8.0, 24.0)).unwrap(), "4 L");
        assert_eq!(
            to("a=after 2..12 loads", 12.0, (2.0, 12.0)).unwrap(),
            "after 22 loads"
        );
        assert_eq!(
            to("a=after 2..12 loads", 2.0, (2.0, 12.0)).unwrap(),
            "after 1 loads"
        );
        assert_eq!(to("a=1..6", 1.0, (1.0, 6.0)), None);
        assert_eq!(to("a=0 L..8 L/5", 0.0, (0.0, 8.0)), None);
    }
}
