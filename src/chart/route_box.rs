//! The box of a step: its name, its station, its time, when hands are needed.

use super::hatch::Point;
use super::pen::{Anchor, Pen, Type};
use super::theme::Token;
use super::width::{Weight, fitted, wrapped};
use tankday_base::print::how_long;
use tankday_base::shop::{CoatRule, Hands, Shop, Step, StepTime};
use tankday_base::units::Span;
use tankday_record::Bottleneck;

/// Height of a bar that tells when hands are needed.
const BAR: f64 = 5.0;
/// Length of an arrow's head.
const HEAD: f64 = 7.0;
const LINE: f64 = 16.0;
/// Height of the strip that marks the busiest.
const STRIP: f64 = 19.0;
/// Left and right of the words.
const PAD: f64 = 6.0;

/// What stands in a box.
pub(super) struct Words {
    name: Vec<String>,
    notes: Vec<String>,
    busiest: Option<String>,
}

impl Words {
    /// Of a step in a box so many pixels wide.
    pub(super) fn of(shop: &Shop, step: &Step, busiest: Option<&Bottleneck>, wide: f64) -> Self {
        let room = wide - 2.0 * PAD;
        let mut name = wrapped(&step.name, 14.0, Weight::Bold, room);
        if name.len() > 2 {
            let rest = name.split_off(1).join(" ");
            name.push(fitted(&rest, 14.0, Weight::Bold, room));
        }
        let notes = notes(shop, step);
        let busiest = busiest
            .filter(|b| step.stations.contains(&b.station))
            .map(|b| format!("busiest, {:.0} %", b.at_work.in_percent()));
        Self {
            name,
            notes: notes
                .iter()
                .map(|n| fitted(n, 12.0, Weight::Regular, room))
                .collect(),
            busiest,
        }
    }

    /// Pixels that they need.
    pub(super) fn height(&self) -> f64 {
        let strip = if self.busiest.is_some() { STRIP } else { 0.0 };
        14.0 + LINE * (self.name.len() + self.notes.len()) as f64 + strip
    }
}

/// Draws a box with its upper left corner at a point.
pub(super) fn draw(pen: &Pen<'_>, step: &Step, words: &Words, (x, y): Point, (w, h): Point) {
    let coats = step.time == StepTime::Coat;
    let (fill, edge, ink, ink2) = if coats {
        (Token::Coat, Token::CoatE, Token::OnCoat, Token::OnCoat)
    } else {
        (Token::Panel, Token::Axis, Token::Ink, Token::Ink2)
    };
    pen.rect((x, y), (w, h), fill);
    let corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
    hands(pen, step.hands, (x, y), w);
    let name = Type {
        size: 14.0,
        ..Type::label(ink)
    };
    let mut line = y + 5.0;
    for text in &words.name {
        line += LINE;
        pen.text(text, (x + PAD, line), name.bold());
    }
    for text in &words.notes {
        line += LINE;
        pen.text(text, (x + PAD, line), Type::note(ink2));
    }
    if let Some(busiest) = &words.busiest {
        pen.rect((x, y + h - STRIP), (w, STRIP), Token::Ink);
        let how = Type::note(Token::Paper).bold().anchored(Anchor::Middle);
        let text = fitted(busiest, how.size, how.weight, w - 4.0);
        pen.text(&text, (x + w / 2.0, y + h - STRIP / 2.0 + 4.5), how);
        pen.outline(&corners, Token::Ink, 3.0);
    } else {
        pen.outline(&corners, edge, 1.0);
    }
}

/// Over the whole top: hands throughout; at both ends: hands to put in and take out.
fn hands(pen: &Pen<'_>, hands: Hands, (x, y): Point, w: f64) {
    match hands {
        Hands::None => {}
        Hands::Throughout => pen.rect((x, y), (w, BAR), Token::Hand),
        Hands::Ends => {
            pen.rect((x, y), (w / 5.0, BAR), Token::Hand);
            pen.rect((x + w * 0.8, y), (w / 5.0, BAR), Token::Hand);
        }
    }
}

/// An arrow's head at the end of a line, in the direction of its last piece.
pub(super) fn head(pen: &Pen<'_>, points: &[Point], colour: Token) {
    let [.., (fx, fy), (x, y)] = *points else { return };
    let (dx, dy) = ((x - fx).signum(), (y - fy).signum());
    let half = HEAD / 2.0;
    let corners = if (x - fx).abs() >= (y - fy).abs() {
        [(x, y), (x - dx * HEAD, y - half), (x - dx * HEAD, y + half)]
    } else {
        [(x, y), (x - half, y - dy * HEAD), (x + half, y - dy * HEAD)]
    };
    pen.shape(&corners, colour);
}

/// Stations, time, and the parts that alone pass it.
fn notes(shop: &Shop, step: &Step) -> Vec<String> {
    let stations = step
        .stations
        .iter()
        .filter_map(|s| shop.stations.get(s.index()))
        .map(|s| s.name.as_str());
    let mut notes = vec![stations.collect::<Vec<_>>().join(" or ")];
    notes.extend(time(shop, step));
    if !step.only.is_empty() {
        let parts = step
            .only
            .iter()
            .filter_map(|p| shop.parts.get(p.index()))
            .map(|p| p.name.as_str());
        notes.push(format!("only {}", parts.collect::<Vec<_>>().join(", ")));
    }
    notes
}

/// How long the work takes, without putting in and taking out.
fn time(shop: &Shop, step: &Step) -> Vec<String> {
    match &step.time {
        StepTime::Coat => vec![dwell(shop, step)],
        StepTime::Work { load, each } if *each > Span::ZERO => {
            let seconds = each.in_seconds();
            let each = if seconds < 100.0 {
                format!("{} s", plain(seconds))
            } else {
                format!("{} min", plain(seconds / 60.0))
            };
            match load.mean() {
                Span::ZERO => vec![format!("{each} a piece")],
                load => vec![short(load), format!("and {each} a piece")],
            }
        }
        StepTime::Work { load, .. } => vec![range(load)],
    }
}

fn dwell(shop: &Shop, step: &Step) -> String {
    let tank = step
        .stations
        .iter()
        .find_map(|s| shop.stations.get(s.index())?.tank);
    match tank.and_then(|t| shop.baths.get(t.bath.index())).map(|b| &b.coat) {
        Some(CoatRule::Time(spread)) => range(spread),
        Some(CoatRule::Target(weight)) => {
            format!("until {} g/m²", plain(weight.in_grams_per_square_metre()))
        }
        None => String::new(),
    }
}

/// `14 min`, or `about 14 min` if it varies.
fn range(spread: &tankday_base::random::Spread) -> String {
    let (least, mean) = (spread.least(), spread.mean());
    if least == mean {
        short(mean)
    } else {
        format!("about {}", short(mean))
    }
}

fn plain(value: f64) -> String {
    let text = format!("{value:.1}");
    text.trim_end_matches(".0").to_owned()
}

/// What stands at the arrows to a step: how long it may wait.
pub(super) fn limit(step: &Step) -> Vec<String> {
    match step.within {
        _ if step.at_once => vec!["at once".to_owned()],
        Some(within) => vec!["within".to_owned(), short(within)],
        None => Vec::new(),
    }
}

fn short(span: Span) -> String {
    let minutes = span.in_minutes();
    if minutes < 10.0 {
        return format!("{} min", plain(minutes));
    }
    if minutes < 100.0 {
        return format!("{minutes:.0} min");
    }
    if span > Span::hours(48.0) {
        return how_long(span);
    }
    format!("{} h", plain(minutes / 60.0))
}
