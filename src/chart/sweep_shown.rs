//! What of a sweep is drawn, what is said in a line instead, and how to read what is drawn.

use super::heading::MOST_SHOWN;
use tankday_base::print::{list, number};
use tankday_study::Measure;
use tankday_study::sweep::{Change, NOTHING_TURNS, Sweep, best_cells, change, statements, turning};

/// Figures that are drawn if they change, behind those that the sweep speaks of.
const DRAWN: [Measure; 7] = [
    Measure::Area,
    Measure::CostPerArea,
    Measure::LateOrders,
    Measure::Lateness,
    Measure::InShop,
    Measure::Finish,
    Measure::Power,
];
/// Curves in one picture.
const MOST_FIGURES: usize = 3;

/// What of a sweep is drawn and said.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepShown {
    /// Figures that are drawn, the one that the first sentence is about first; of a table of cells one. Empty where no
    /// figure changes.
    pub drawn: Vec<Measure>,
    /// The first sentence.
    pub finding: String,
    /// Figures that do not change, with their values; empty where all do.
    pub flat: String,
    /// How to read what is drawn; empty where nothing is.
    pub caption: String,
}

impl SweepShown {
    /// Of a sweep.
    #[must_use]
    pub fn of(sweep: &Sweep) -> Self {
        let said = statements(sweep);
        let mut drawn: Vec<Measure> = Vec::new();
        let spoken = said.iter().flat_map(|s| s.measures.iter().copied());
        let real = |m: &Measure| change(sweep, *m) == Some(Change::Real);
        for measure in spoken.chain(DRAWN.into_iter().filter(real)) {
            if !drawn.contains(&measure) {
                drawn.push(measure);
            }
        }
        drawn.truncate(if is_map(sweep) { 1 } else { MOST_FIGURES });
        let finding = said.first().map_or(NOTHING_TURNS, |s| s.text.as_str());
        let caption = match (drawn.is_empty(), is_map(sweep)) {
            (true, _) => String::new(),
            (_, true) => of_cells(sweep, &drawn),
            (_, false) => of_curves(sweep, &drawn),
        };
        Self {
            finding: finding.replace("m2", "m²"),
            flat: flat(sweep).replace("m2", "m²"),
            caption,
            drawn,
        }
    }
}

/// Whether it is drawn as a table of cells: two keys.
pub(super) fn is_map(sweep: &Sweep) -> bool {
    sweep.keys.len() != 1
}

/// Whether points are drawn along numbers, joined by a line; words stand side by side.
pub(super) fn is_curve(sweep: &Sweep) -> bool {
    sweep.keys.first().is_some_and(|k| k.form.is_some())
}

fn of_curves(sweep: &Sweep, drawn: &[Measure]) -> String {
    let days = sweep.replications();
    let sound = sweep.points.iter().filter(|p| p.outcome.is_ok()).count();
    let dots = if days <= MOST_SHOWN {
        format!("Each dot is {}, beside its value.", sweep.each.simulated(1))
    } else {
        format!(
            "{} at each value are too many to draw one by one.",
            sweep.each.simulated(days)
        )
    };
    let mut words = vec![dots];
    if days > 1 {
        let line = if is_curve(sweep) && sound > 1 {
            "; the line joins the means"
        } else {
            ""
        };
        words.push(format!("The thick bar is the 95 % interval of the mean{line}."));
    }
    let turns: Vec<_> = drawn.iter().filter_map(|m| turning(sweep, *m)).collect();
    if turns.iter().any(|t| t.low < t.high) {
        words.push("Grey ground: where the turning point may lie.".to_owned());
    }
    if !turns.is_empty() {
        words.push("Dashed line: where it most likely turns.".to_owned());
    }
    if sound < sweep.points.len() {
        words.push("Cross at the foot: this value can't be.".to_owned());
    }
    words.join(" ")
}

fn of_cells(sweep: &Sweep, drawn: &[Measure]) -> String {
    let days = match sweep.replications() {
        1 => sweep.each.simulated(1),
        many => format!("the mean of {}", sweep.each.simulated(many)),
    };
    let mut words = vec![format!("Each cell is {days}, darker where the figure is higher.")];
    if best_cells(sweep).iter().any(|b| drawn.contains(&b.measure)) {
        words.push("Framed: the best, and those that can't be told from it.".to_owned());
    }
    if sweep.points.iter().any(|p| p.outcome.is_err()) {
        words.push("Dash: these values can't be.".to_owned());
    }
    words.join(" ")
}

/// Figures that do not change, with their values: first those that are the same throughout, then those that change by no
/// more than noise.
fn flat(sweep: &Sweep) -> String {
    let sound = sweep.points.iter().filter(|p| p.outcome.is_ok()).count();
    let same = if sound == 1 {
        "Only one value, so there's nothing to compare"
    } else {
        "The same at every value"
    };
    let heads = [
        (Change::None, same),
        (Change::Noise, "No change beyond noise or a trifle"),
    ];
    let of = |(kind, head): (Change, &str)| {
        let these = DRAWN.into_iter().filter(|m| change(sweep, *m) == Some(kind));
        let told: Vec<String> = these.map(|m| value(sweep, m)).collect();
        (!told.is_empty()).then(|| format!("{head}: {}.", list(&told)))
    };
    let all: Vec<String> = heads.into_iter().filter_map(of).collect();
    all.join(" ")
}

/// `power a day 12.1 to 12.4 kWh`: the mean, from the least to the largest of all points.
fn value(sweep: &Sweep, measure: Measure) -> String {
    let columns = sweep.points.iter().filter_map(|p| p.column(measure));
    let means = columns.filter_map(|c| tankday_base::stats::mean(&c));
    let (low, high) = means.fold((f64::MAX, f64::MIN), |(l, h), m| (l.min(m), h.max(m)));
    let whole = low.fract() == 0.0 && high.fract() == 0.0;
    let decimals = if whole { 0 } else { measure.decimals() };
    let (low, high) = (number(low, decimals), number(high, decimals));
    let range = if low == high {
        low
    } else {
        format!("{low} to {high}")
    };
    format!("{} {range} {}", measure.words(), measure.unit())
        .trim_end()
        .to_owned()
}
