//! What a run costs, kind by kind, on every day reckoned.

use tankday_base::stats::mean;
use tankday_record::{Cost, Figures};
use tankday_study::Study;

/// Costs of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct CostView {
    /// How the currency is written.
    pub currency: String,
    /// Days that the shop opens.
    pub days: usize,
    /// What costs something, the most first.
    pub kinds: Vec<CostKind>,
    /// All together on every day reckoned.
    pub totals: Vec<f64>,
}

/// One kind of cost.
#[derive(Debug, Clone, PartialEq)]
pub struct CostKind {
    /// What it is.
    pub name: &'static str,
    /// Where it comes from: `6.2 kWh`; empty if that says no more than the name.
    pub origin: String,
    /// The mean over the days reckoned.
    pub mean: f64,
    /// On every day reckoned.
    pub values: Vec<f64>,
}

/// Costs below this are none.
const LEAST: f64 = 0.005;

/// None where no price was given.
pub(super) fn of(figures: &Figures, days: usize, study: Option<&Study>) -> Option<CostView> {
    let costs: Vec<&Cost> = match study {
        Some(study) => study.days.iter().map(|d| &d.cost).collect(),
        None => vec![&figures.cost],
    };
    if !figures.cost.given {
        return None;
    }
    let energy = |tanks: &[tankday_record::TankFigure]| -> f64 {
        tanks.iter().map(|t| t.energy.in_kilowatt_hours()).sum()
    };
    let energies: Vec<f64> = match study {
        Some(study) => study.days.iter().map(|d| energy(&d.tanks)).collect(),
        None => vec![energy(&figures.tanks)],
    };
    let hours: Vec<f64> = costs.iter().map(|c| c.hands_time.in_hours()).collect();
    let middle = |values: &[f64]| mean(values).unwrap_or(0.0);
    let kind = |(name, of): tankday_record::CostKind| {
        let values: Vec<f64> = costs.iter().map(|c| of(c)).collect();
        let origin = match name {
            "hands" => format!("{:.1} h", middle(&hours)),
            "power" => format!("{:.1} kWh", middle(&energies)),
            _ => String::new(),
        };
        let mean = middle(&values);
        (mean >= LEAST).then_some(CostKind {
            name,
            origin,
            mean,
            values,
        })
    };
    let mut kinds: Vec<CostKind> = Cost::KINDS.into_iter().filter_map(kind).collect();
    kinds.sort_by(|a, b| b.mean.total_cmp(&a.mean));
    Some(CostView {
        currency: figures.cost.currency.clone(),
        days,
        kinds,
        totals: costs.iter().map(|c| c.total()).collect(),
    })
}
