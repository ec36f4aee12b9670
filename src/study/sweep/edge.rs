//! Where the best lies at the edge of what was tried. It is no turning point: how far it gets better was not tried, and
//! the sweep says how far to go on.

use super::turn::{Curve, least, turning};
use super::why::bare;
use super::{Form, Setting, Statement, Sweep};
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
    /// than can be. None where nothing lies beyond, or the curve has levelled off.
    pub go_on_to: Option<Setting>,
    /// Whether what can be ends before one would go on so far.
    pub ends: bool,
    /// Whether beyond it what is varied does nothing any more.
    pub idle_beyond: bool,
    /// Whether beyond it orders aren't finished that are finished here.
    pub loses_beyond: bool,
    /// From where on it is as good as at the edge; none where the edge alone is best.
    pub level: Option<Level>,
}

/// A stretch up to the edge on which a figure stays as good as it gets.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// Where it begins.
    pub from: Setting,
    /// Whether no figure changes there on any simulated day: what is varied has no effect any more.
    pub same: bool,
}

/// The judged figures that are best at an edge of a key of numbers: those that still get better there, and those that no
/// longer change.
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
    let curve = Curve::acting(sweep, measure).filter(|c| c.at.len() >= 2)?;
    let means = curve.means();
    let (best, last) = (least(&means, sign)?, means.len() - 1);
    let differs: Vec<bool> = (0..=last).map(|i| curve.differs(i, best, &means)).collect();
    let (edge, inner) = stretch(&differs, best)?;
    let x = *curve.at.get(edge)?;
    let (from, to) = (*curve.at.first()?, *curve.at.last()?);
    let apart = |i: usize| curve.at.get(i).map(|at| (at - x).abs());
    // The nearest point that is worse by more than noise and a trifle.
    let worse = (0..=last).filter(|i| differs.get(*i) == Some(&true));
    let worse = worse.filter_map(apart).min_by(f64::total_cmp)?;
    // Two neighbours always lie apart: of those nothing between was tried.
    let near = apart(if edge == 0 { 1 } else { last - 1 })?.max(LEVEL_STRETCH * (to - from));
    let same = inner != edge && unchanged(sweep, edge, inner);
    let idle_beyond = match edge {
        0 => sweep.idle.to.is_some(),
        _ => sweep.idle.from.is_some(),
    };
    let loses_beyond = sweep.points.iter().any(|p| {
        let beyond = p
            .settings
            .first()
            .is_some_and(|s| if edge == 0 { s.at < x } else { s.at > x });
        beyond && sweep.loses_orders(p)
    });
    let at = form.at(x);
    let level = Some(Level {
        from: form.at(*curve.at.get(inner)?),
        same,
    });
    if worse > near {
        // Where it is as good elsewhere, or a bend tells the same, the edge is nothing to speak of.
        let good = differs.iter().filter(|d| !**d).count();
        let told = good > edge.abs_diff(inner) + 1 || turning(sweep, measure).is_some();
        return (!told).then_some(Edge {
            measure,
            at,
            go_on_to: None,
            ends: false,
            idle_beyond,
            loses_beyond,
            level,
        });
    }
    let wanted = beyond(form, x, (from, to));
    let (go_on_to, ends) = match idle_beyond || loses_beyond {
        true => (None, false),
        false => within(form, x, wanted, sweep.reach),
    };
    (best == edge || same).then(|| Edge {
        measure,
        at,
        go_on_to,
        ends,
        idle_beyond,
        loses_beyond,
        level: level.filter(|_| same),
    })
}

/// Which edge the points reach that lie side by side with the best and do not differ from it, and the last of them on the
/// way inside; none where they reach neither edge or both.
fn stretch(differs: &[bool], best: usize) -> Option<(usize, usize)> {
    let last = differs.len().checked_sub(1)?;
    let alike = |i: &usize| differs.get(*i) == Some(&false);
    let begins = (0..best).rev().take_while(alike).last().unwrap_or(best);
    let ends = (best + 1..=last).take_while(alike).last().unwrap_or(best);
    match (begins == 0, ends == last) {
        (true, false) => Some((0, ends)),
        (false, true) => Some((last, begins)),
        _ => None,
    }
}

/// Whether from one point to another every figure of every replication is the same.
fn unchanged(sweep: &Sweep, one: usize, other: usize) -> bool {
    let acts = |p: &&super::Point| p.settings.first().is_some_and(|s| !sweep.idle.holds(s.at));
    let sound: Vec<_> = sweep
        .points
        .iter()
        .filter(|p| p.outcome.is_ok())
        .filter(acts)
        .collect();
    let bits = |i: usize| -> Option<Vec<u64>> {
        let all = sound.get(i)?.readings().iter();
        Some(all.flat_map(|r| r.0.iter().map(|v| v.to_bits())).collect())
    };
    let all = bits(one);
    (one.min(other)..=one.max(other)).all(|i| bits(i) == all)
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
pub fn edge_statements(sweep: &Sweep, of: impl Fn(Measure) -> bool) -> Vec<Statement> {
    let Some(form) = sweep.keys.first().and_then(|key| key.form.as_ref()) else {
        return Vec::new();
    };
    // Figures that lie there alike stand in one sentence.
    let mut groups: Vec<Vec<Edge>> = Vec::new();
    for edge in edges(sweep).into_iter().filter(|e| of(e.measure)) {
        let alike = |g: &&mut Vec<Edge>| {
            g.first()
                .is_some_and(|f| f.at == edge.at && f.level == edge.level)
        };
        match groups.iter_mut().find(alike) {
            Some(group) => group.push(edge),
            None => groups.push(vec![edge]),
        }
    }
    let statement = |these: &Vec<Edge>| Statement {
        measures: these.iter().map(|e| e.measure).collect(),
        text: said(form, these),
    };
    groups.iter().map(statement).collect()
}

/// What is best at one edge, of figures that lie there alike.
fn said(form: &Form, these: &[Edge]) -> String {
    let words = |setting: &Setting| bare(form, setting.at);
    let figures: Vec<String> = these.iter().map(|e| e.measure.words().to_owned()).collect();
    let verb = if these.len() == 1 { "is" } else { "are" };
    let who = capital(&list(&figures));
    let Some(edge) = these.first() else {
        return String::new();
    };
    let at = &edge.at;
    if edge.loses_beyond {
        return format!(
            "{who} {verb} best at {}, the last value tried at which no more orders are left over.",
            words(at)
        );
    }
    if edge.idle_beyond && edge.level.is_none() {
        return format!(
            "{who} {verb} best at {}, the last value tried that still acts.",
            words(at)
        );
    }
    let best = match &edge.level {
        None => format!("{who} {verb} best at {}", words(at)),
        Some(level) => {
            let on = if level.from.at < at.at { "on" } else { "down" };
            let how = if level.same {
                ""
            } else {
                " by more than noise or a trifle"
            };
            format!(
                "{who} {verb} best from {} {on}: up to {}, the edge of what was tried, nothing changes{how}",
                words(&level.from),
                words(at)
            )
        }
    };
    let said = match edge.level {
        None => format!("{best}, the edge of what was tried, and may get better beyond it"),
        Some(_) => format!("{best}; it may get better beyond it"),
    };
    match (&edge.go_on_to, edge.ends) {
        (Some(to), false) => format!("{said}: go on to {}.", words(to)),
        (Some(to), true) if to.at > at.at => format!("{said}: go on to {}, it takes no more.", words(to)),
        (Some(to), true) => format!("{said}: go on to {}, less cannot be.", words(to)),
        (None, true) => format!("{best}, and no value beyond it can be."),
        (None, false) if edge.level.is_some() => format!("{best}, and going on hardly pays."),
        (None, false) => format!("{said}."),
    }
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
