//! What a run costs, kind by kind, the most first.

use super::bars::{Bar, Bars};
use super::frame::Width;
use super::heading::Heading;
use super::lanes::{self, Style};
use super::pen::{Type, picture};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::view::{CostKind, CostView, DayView};
use tankday_base::print::{list, number};
use tankday_base::stats::{QuantileRule, mean, quantile};

/// Kinds below this share of the largest are drawn once more, ten times as large.
const SMALL: f64 = 0.05;
const TIMES: f64 = 10.0;
const WORDS: f64 = 30.0;

/// Solid, plain.
const SOLID: Style = Style {
    fill: Token::Rep,
    flat: Token::Rep,
    ..lanes::HANDS
};

/// Draws them; none where no price is given.
#[must_use]
pub fn cost(view: &DayView, width: Width) -> Option<Svg> {
    let costs = view.cost.as_ref()?;
    let finding = finding(costs);
    let heading = Heading::of_days("What does it cost?", &finding, view, width);
    let most = costs.kinds.first().map_or(0.0, |k| k.mean);
    let all = Bars::new(
        costs.kinds.iter().map(|k| bar(k, SOLID, 1.0)).collect(),
        0.0,
        width,
    );
    let small: Vec<Bar> = costs
        .kinds
        .iter()
        .filter(|k| k.mean < SMALL * most)
        .map(|k| bar(k, lanes::upright(lanes::HOT), TIMES))
        .collect();
    let small = (!small.is_empty()).then(|| Bars::new(small, most, width));
    let top = heading.height() + 8.0;
    let below = small.as_ref().map_or(0.0, |s| WORDS + s.height());
    let height = top + all.height() + below + 10.0;
    let alt = Alt {
        id: "cost".to_owned(),
        title: "What does it cost?".to_owned(),
        desc: desc(costs),
        finding,
    };
    Some(picture(
        (width.pixels(), height.ceil() as u32),
        alt,
        &heading,
        |pen| {
            all.draw(pen, top);
            if let Some(small) = &small {
                let y = top + all.height();
                let how = Type::note(Token::Ink2);
                pen.text(
                    "the small ones again, ten times as large",
                    (width.side(), y + 16.0),
                    how,
                );
                small.draw(pen, y + WORDS);
            }
        },
    ))
}

fn bar(kind: &CostKind, style: Style, times: f64) -> Bar {
    let name = if kind.origin.is_empty() {
        kind.name.to_owned()
    } else {
        format!("{}, {}", kind.name, kind.origin)
    };
    Bar {
        name,
        value: kind.mean * times,
        words: number(kind.mean, 2),
        style,
        days: if kind.values.len() > 1 {
            kind.values.iter().map(|v| v * times).collect()
        } else {
            Vec::new()
        },
    }
}

/// All together, and what most of it is.
fn finding(costs: &CostView) -> String {
    let total = mean(&costs.totals).unwrap_or(0.0);
    let Some(first) = costs.kinds.first() else {
        return "Nothing that has a price was used.".to_owned();
    };
    let a_day = match costs.days {
        0 | 1 => String::new(),
        days => format!(", {} a day", number(total / days as f64, 2)),
    };
    let spread = match (
        quantile(&costs.totals, 0.05, QuantileRule::Linear),
        quantile(&costs.totals, 0.95, QuantileRule::Linear),
    ) {
        (Some(low), Some(high)) if costs.totals.len() > 1 => {
            format!(
                " Nine runs in ten cost {} to {}.",
                number(low, 2),
                number(high, 2)
            )
        }
        _ => String::new(),
    };
    format!(
        "{} {}{a_day}; {} of it for {}.{spread}",
        number(total, 2),
        costs.currency,
        number(first.mean, 2),
        first.name
    )
}

fn desc(costs: &CostView) -> String {
    let kinds: Vec<String> = costs
        .kinds
        .iter()
        .map(|k| format!("{} {}", k.name, number(k.mean, 2)))
        .collect();
    let total = mean(&costs.totals).unwrap_or(0.0);
    let kinds = if kinds.is_empty() {
        "nothing".to_owned()
    } else {
        list(&kinds)
    };
    format!(
        "Cost bars: {kinds}. Together {} {}.",
        number(total, 2),
        costs.currency
    )
}
