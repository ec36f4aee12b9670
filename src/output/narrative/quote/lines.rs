//! A line of the cost, in words.

use tankday_base::print::{how_long, number};
use tankday_base::shop::{Shop, StepRef};
use tankday_base::units::Span;
use tankday_record::{CostLine, CostOf};

/// `12.34 EUR`.
pub(super) fn money(shop: &Shop, value: f64) -> String {
    format!("{} {}", number(value, 2), shop.prices.currency)
}

/// What a line of the cost is for, and what there is to say of it beside its amount.
#[must_use]
pub fn line_said(shop: &Shop, line: &CostLine) -> (String, String) {
    let step = |at: StepRef| shop.find_step(at).map_or("?", |s| s.name.as_str());
    let time = |span: Span| match span.in_minutes() {
        short if short < 10.0 => format!("{} min", number(short, 1)),
        _ => how_long(span),
    };
    let (name, detail) = match line.of {
        CostOf::Hands(at, span) => (format!("hands: {}", step(at)), time(span)),
        CostOf::Between(span) if span < Span::ZERO => (
            "hands: in breaks".to_owned(),
            format!("{} of the above nobody pays", time(Span::ZERO - span)),
        ),
        CostOf::Between(span) => (
            "hands: waiting, care".to_owned(),
            format!("its share of paid time without a load, {}", time(span)),
        ),
        CostOf::Heat => ("heat".to_owned(), String::new()),
        CostOf::Water => ("water".to_owned(), String::new()),
        CostOf::Concentrate => ("concentrate".to_owned(), "for what it uses up".to_owned()),
        CostOf::CareChemicals(mass) => (
            "care chemicals".to_owned(),
            format!(
                "{} g for the baths, all orders together",
                number(mass.in_grams(), 1)
            ),
        ),
        CostOf::Sludge => ("sludge".to_owned(), "its share of clearing the bath".to_owned()),
        CostOf::FilterMedia => ("filter media".to_owned(), String::new()),
        CostOf::Waste => ("waste".to_owned(), String::new()),
        CostOf::Wear(used) => (
            "bath wear".to_owned(),
            format!(
                "{} % of a bath's life to its iron limit, of make-up and waste",
                number(used.in_percent(), 2)
            ),
        ),
        CostOf::Supplies(at, what) if step(at) == what.words() => (what.words().to_owned(), String::new()),
        CostOf::Supplies(at, what) => (what.words().to_owned(), format!("to {}", step(at))),
        CostOf::TankHours(span) => ("tank hours".to_owned(), time(span)),
        CostOf::Rejects(Some(at)) => ("rejects".to_owned(), fails(shop, at)),
        CostOf::Rejects(None) => ("rejects".to_owned(), String::new()),
    };
    let missing = (!line.missing.is_empty()).then(|| format!("not stated: {}", line.missing.join(", ")));
    let said = Some(detail).filter(|d| !d.is_empty()).into_iter().chain(missing);
    (name, said.collect::<Vec<_>>().join("; "))
}

/// The share of a line in the whole cost, in percent; none where it has no amount.
#[must_use]
pub fn line_share(line: &CostLine, total: f64) -> Option<f64> {
    (line.money.abs() > 1e-9).then(|| 100.0 * line.money / total.max(f64::MIN_POSITIVE))
}

/// A line with its amount and its share, in one sentence of the terminal.
pub(super) fn line_told(shop: &Shop, line: &CostLine, total: f64) -> (String, String) {
    let (name, detail) = line_said(shop, line);
    let amount =
        line_share(line, total).map(|share| format!("{}, {} %", money(shop, line.money), number(share, 1)));
    let said = amount.into_iter().chain(Some(detail).filter(|d| !d.is_empty()));
    (name, said.collect::<Vec<_>>().join("; "))
}

/// `2 % of loads fail at inspect and go back to blast`.
fn fails(shop: &Shop, at: StepRef) -> String {
    let Some((step, retry)) = shop.find_step(at).and_then(|s| Some((s, s.retry?))) else {
        return String::new();
    };
    let back = StepRef {
        step: retry.back_to,
        ..at
    };
    format!(
        "{} % of loads fail at {} and go back to {}",
        number(retry.share.in_percent(), 1),
        step.name,
        shop.find_step(back).map_or("?", |s| s.name.as_str())
    )
}
