//! `tankday run --steady`: what holds in the long run, from one long run of the days stated.

use super::exit::{Exit, Failure};
use super::json::round;
use super::settings::RunSettings;
use super::terminal;
use serde_json::{Value, json};
use tankday_base::print::{Line, Style, fitted, number, pieces_of, wrap};
use tankday_base::random::Streams;
use tankday_base::shop::Shop;
use tankday_line::Line as Shopfloor;
use tankday_record::LongRun;
use tankday_study::{BATCHES, LongRunFigures, Steady};

/// Runs it and tells the time of an order in the shop, late orders, pieces and hands. Baths keep their state over nights
/// and weekends, as in any run.
///
/// # Errors
/// When the days do not end, when too few orders get ready, when standard output cannot be written.
pub(super) fn run(settings: &RunSettings, shop: &Shop) -> Result<Exit, Failure> {
    let mut watch = LongRun::new(shop);
    let outcome = Shopfloor::new(shop).run(Some(Streams::new(settings.seed, 0)), &mut watch);
    if outcome.endless {
        return Err(Failure::Told {
            message: "these days do not end: work goes round in circles, or far too many orders come".into(),
            exit: Exit::CannotBeDone,
        });
    }
    let Some(figures) = LongRunFigures::of(&watch) else {
        return Err(Failure::input(format!(
            "{} got ready: too few for what holds in the long run, which needs some hundreds; repeat the days",
            pieces_of(watch.orders().len() as u32, "order")
        )));
    };
    if settings.json {
        let object = object(settings, shop, &watch, &figures);
        terminal::print(&format!("{object:#}\n"))?;
    } else {
        let lines = lines(settings, shop, &watch, &figures);
        terminal::print_lines(&lines, settings.terminal.paper)?;
    }
    Ok(Exit::Done)
}

fn object(settings: &RunSettings, shop: &Shop, watch: &LongRun<'_>, figures: &LongRunFigures) -> Value {
    let one = |s: &Steady| {
        json!({
            "mean": round(s.mean.mean),
            "low": round(s.mean.low()),
            "high": round(s.mean.high()),
            "uncut": round(s.uncut),
            "values": s.many,
            "warm_up": s.cut,
            "lag_1_correlation": s.neighbours.map(round),
            "von_neumann_ratio": s.ratio.map(round),
        })
    };
    json!({
        "title": shop.title,
        "seed": settings.seed,
        "orders": figures.in_shop.many,
        "orders_left": watch.left(),
        "too_short": figures.in_shop.too_short,
        "batches": BATCHES,
        "in_shop_min": one(&figures.in_shop),
        "late_share": figures.late.as_ref().map(one),
        "pieces_per_day": figures.pieces.as_ref().map(one),
        "hands_min_per_day": figures.hands.as_ref().map(one),
    })
}

/// A mean with its interval: `12.3 min (95 % sure between 12 and 12.6)`.
fn with_interval(of: &Steady, times: f64, unit: &str, decimals: usize) -> String {
    let say = |x: f64| number(times * x, decimals);
    let least = |x: f64| say(x.max(0.0));
    let i = &of.mean;
    format!(
        "{}{unit} (95 % sure between {} and {})",
        say(i.mean),
        least(i.low()),
        say(i.high())
    )
}

fn lines(settings: &RunSettings, shop: &Shop, watch: &LongRun<'_>, figures: &LongRunFigures) -> Vec<Line> {
    let columns = settings.terminal.columns;
    let steady = &figures.in_shop;
    let answer = format!(
        "In the long run an order is {} in the shop.",
        with_interval(steady, 1.0, " min", 1)
    );
    let late = figures.late.as_ref().map(|s| {
        if s.uncut == 0.0 {
            return format!("None of the {} due was late.", pieces_of(s.many as u32, "order"));
        }
        let share = with_interval(s, 100.0, " %", 1);
        format!("Of the orders that have a due time {share} are late.")
    });
    let pieces = figures.pieces.as_ref().map(|s| {
        let many = with_interval(s, 1.0, "", 0);
        format!("Pieces ready a day: {many}.")
    });
    let hands = figures.hands.as_ref().map(|s| {
        let many = with_interval(s, 1.0, " min", 0);
        format!("Hands at work a day: {many}.")
    });
    let warmup = match steady.cut {
        0 => "None of it is warm-up (MSER-5).".to_owned(),
        cut => format!(
            "The first {cut} are its warm-up (MSER-5) and left out; with them the mean time in the shop would be {} min.",
            number(steady.uncut, 1)
        ),
    };
    let how = format!(
        "From one run of {}, seed {}. {warmup} Its figures are means of {BATCHES} batches.",
        pieces_of(steady.many as u32, "order"),
        settings.seed
    );
    let mut lines = vec![Line::of(Style::Bold, fitted(&shop.title, columns))];
    lines.extend(
        wrap(&answer, columns)
            .into_iter()
            .map(|w| Line::of(Style::Bold, w)),
    );
    for more in [late, pieces, hands].into_iter().flatten() {
        lines.extend(wrap(&more, columns).into_iter().map(Line::plain));
    }
    lines.extend(wrap(&how, columns).into_iter().map(|w| Line::of(Style::Dim, w)));
    let mut watch_out = Vec::new();
    if steady.too_short {
        watch_out.push(
            "The run is too short: its warm-up fills half of it. Repeat the days more often.".to_owned(),
        );
    }
    if watch.left() > 0 {
        watch_out.push(format!(
            "{} not ready at the end. If they grow with the days, the shop cannot keep up, and nothing \
             holds in the long run.",
            match watch.left() {
                1 => "1 order that came is".to_owned(),
                left => format!("{left} orders that came are"),
            }
        ));
    }
    if let Some(r) = steady.neighbours.filter(|r| *r > 0.3) {
        watch_out.push(format!(
            "Neighbouring batches move together ({}): the interval is too narrow. Repeat the days more often.",
            number(r, 2)
        ));
    }
    let watch_out = watch_out.iter().flat_map(|w| wrap(w, columns));
    lines.extend(watch_out.map(|w| Line::of(Style::Watch, w)));
    lines
}
