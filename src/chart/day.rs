//! The day: what was done, in what order and when, by tank, by hands and by station, and when orders were ready.

use super::clock_axis::{Clock, ClockAxis};
use super::day_down::Down;
use super::frame::{BEYOND, Frame, Width};
use super::heading::Heading;
use super::key::Key;
use super::lanes::{self, Lane, Style};
use super::marks::Marks;
use super::pen::{Anchor, Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::tank_lane::{bars, draw_tank, longest};
use super::theme::Token;
use super::view::{BathLine, DayView, HandLane, StationLane, StationState};
use super::width::{fitted, wrapped};
use super::words;
use tankday_record::TankState;

pub(super) const TANK: f64 = 24.0;
pub(super) const HANDS: f64 = 22.0;
pub(super) const STATION: f64 = 12.0;
/// Between lanes; between stations.
const GAP: f64 = 12.0;
const STATION_GAP: f64 = 8.0;
/// Between groups of lanes, half of it on either side of a line.
const GROUP: f64 = 20.0;
/// More stations than this are not drawn.
const MOST_STATIONS: usize = 40;

/// Draws the day.
#[must_use]
pub fn day(view: &DayView, width: Width) -> Svg {
    let heading = heading(view, width);
    let alt = Alt {
        id: "day".to_owned(),
        title: "The day".to_owned(),
        finding: words::of_day(view),
        desc: desc(view),
    };
    if width == Width::Phone {
        let down = Down::new(view, &heading, samples(view, false));
        let size = (width.pixels(), down.height().ceil() as u32);
        return picture(size, alt, &heading, |pen| down.draw(pen));
    }
    let plan = Plan::new(view, &heading, width);
    picture((width.pixels(), plan.height as u32), alt, &heading, |pen| {
        plan.draw(pen)
    })
}

/// What stands above it.
pub(super) fn heading(view: &DayView, width: Width) -> Heading {
    Heading::new("The day", &words::of_day(view), view, width)
}

fn desc(view: &DayView) -> String {
    let span = view.days.first().zip(view.days.last());
    let first = span.map_or(String::new(), |(first, last)| {
        let end = words::clock(view, last.close.unwrap_or(last.to));
        format!("Timeline from {} to {end}. ", words::clock(view, first.open))
    });
    let tanks: Vec<String> = view
        .tanks
        .iter()
        .take(3)
        .map(|t| words::of_tank(view, t))
        .collect();
    let tanks = match tanks.len() {
        0 => String::new(),
        _ => words::sentence(&tanks.join("; ")) + ". ",
    };
    format!("{first}{tanks}{}", words::of_day(view))
}

/// Where everything goes.
pub(super) struct Plan<'v> {
    view: &'v DayView,
    pub(super) frame: Frame<'v>,
    marks: Marks,
    key: Key,
    /// Pixels left free at the side, and of the names' column.
    side: f64,
    names: f64,
    notes: Vec<String>,
    height: f64,
}

impl<'v> Plan<'v> {
    pub(super) fn new(view: &'v DayView, heading: &Heading, width: Width) -> Self {
        let names = names_width(view, width);
        let axis = ClockAxis::new(
            Clock::of(view),
            width.side() + names,
            width.px() - width.side() - BEYOND,
        );
        let marks = Marks::new(&view.orders, &axis);
        let top = heading.height() + Frame::room_above(Clock::of(view));
        let bottom = top + lanes_height(view) + marks.height() + 6.0;
        let key = Key::new(samples(view, true), width);
        let notes = notes(view, &axis, &marks);
        let foot = Frame::room_below(Clock::of(view)) + key.height() + 18.0 * notes.len() as f64;
        Self {
            view,
            frame: Frame {
                clock: Clock::of(view),
                axis,
                top,
                bottom,
            },
            marks,
            key,
            side: width.side(),
            names,
            notes,
            height: (bottom + foot + 16.0).ceil(),
        }
    }

    fn draw(&self, pen: &Pen<'_>) {
        self.frame.breaks(pen);
        self.frame.grid(pen);
        self.frame.times(pen);
        let view = self.view;
        let tops = Tops::of(view, self.frame.top);
        for (tank, y) in view.tanks.iter().zip(&tops.tanks) {
            self.name(pen, &tank.name, *y, TANK);
            self.tank(pen, tank, *y);
        }
        for (i, (hands, y)) in view.hands.iter().zip(&tops.hands).enumerate() {
            let name = if view.hands.len() == 1 {
                "hands".to_owned()
            } else {
                format!("hands {}", i + 1)
            };
            self.name(pen, &name, *y, HANDS);
            self.hands(pen, hands, *y);
        }
        for (station, y) in view.stations.iter().zip(&tops.stations) {
            let words = Type::label(Token::Ink2);
            let name = fitted(&station.name, words.size, words.weight, self.names - 10.0);
            pen.text(&name, (self.side, y + STATION / 2.0 + 4.5), words);
            self.station(pen, station, *y);
        }
        for line in &tops.lines {
            let ends = ((self.side, *line), (self.frame.axis.ends().1, *line));
            pen.line(ends.0, ends.1, Token::Grid, 1.0);
        }
        let y = tops.orders;
        self.frame.closing(pen);
        pen.text(
            "orders ready",
            (self.side, y + 13.5),
            Type::label(Token::Ink).bold(),
        );
        self.marks.draw(pen, y);
        let foot = self.frame.bottom + Frame::room_below(Clock::of(view)) + 6.0;
        self.key.draw(pen, foot);
        for (i, note) in self.notes.iter().enumerate() {
            let y = foot + self.key.height() + 14.0 + 18.0 * i as f64;
            pen.text(note, (self.side, y), Type::note(Token::Ink2));
        }
    }

    /// The bold name of a lane, in two lines if one does not hold it.
    fn name(&self, pen: &Pen<'_>, name: &str, top: f64, height: f64) {
        let how = Type::label(Token::Ink).bold();
        let room = self.names - 10.0;
        let mut lines = wrapped(name, how.size, how.weight, room);
        if lines.len() > 2 {
            let rest = lines.split_off(1).join(" ");
            lines.push(fitted(&rest, how.size, how.weight, room));
        }
        let first = top + height / 2.0 + 4.5 - 7.0 * (lines.len() as f64 - 1.0);
        for (i, line) in lines.iter().enumerate() {
            pen.text(line, (self.side, first + 14.0 * i as f64), how);
        }
    }

    fn tank(&self, pen: &Pen<'_>, tank: &BathLine, top: f64) {
        draw_tank(pen, &self.frame.axis, tank, top, TANK);
    }

    fn hands(&self, pen: &Pen<'_>, hands: &HandLane, top: f64) {
        let axis = &self.frame.axis;
        for stretch in axis.stretches() {
            Lane::new(pen, top, HANDS).bar(stretch.at, lanes::DOTTED);
        }
        for (from, to) in &hands.breaks {
            bars(pen, axis, (top, HANDS), [(*from, *to, lanes::BREAK)]);
        }
        let working = hands.bars.iter().map(|b| (b.from, b.to, lanes::HANDS));
        bars(pen, axis, (top, HANDS), working);
        let words = Type::note(Token::OnHand).anchored(Anchor::Middle);
        for bar in &hands.bars {
            let Some((a, b)) = longest(axis, bar.from, bar.to) else {
                continue;
            };
            if let Some(name) = hand_name(bar, b - a) {
                pen.text(&name, ((a + b) / 2.0, top + HANDS / 2.0 + 4.5), words);
            }
        }
    }

    fn station(&self, pen: &Pen<'_>, station: &StationLane, top: f64) {
        let states = station
            .bars
            .iter()
            .map(|b| (b.from, b.to, lanes::of_station(b.state)));
        bars(pen, &self.frame.axis, (top, STATION), states);
    }
}

/// The upper edge of every lane, and the lines between groups of them.
pub(super) struct Tops {
    pub(super) tanks: Vec<f64>,
    pub(super) hands: Vec<f64>,
    pub(super) stations: Vec<f64>,
    orders: f64,
    lines: Vec<f64>,
}

impl Tops {
    pub(super) fn of(view: &DayView, top: f64) -> Self {
        let mut y = top + GAP;
        let mut lines = Vec::new();
        let mut lanes = |count: usize, step: f64, ruled: bool| -> Vec<f64> {
            if ruled {
                lines.push(y + GROUP / 2.0 - GAP);
                y += GROUP - GAP;
            }
            let first = y;
            y += step * count as f64;
            (0..count).map(|i| first + step * i as f64).collect()
        };
        let stations = view.stations.len().min(MOST_STATIONS);
        let both = !view.tanks.is_empty() && !view.hands.is_empty();
        let tanks = lanes(view.tanks.len(), TANK + GAP, false);
        let hands = lanes(view.hands.len(), HANDS + GAP, both);
        let stations = lanes(stations, STATION + STATION_GAP, stations > 0);
        let orders = lanes(1, 0.0, true);
        Self {
            tanks,
            hands,
            stations,
            orders: orders.first().copied().unwrap_or(top),
            lines,
        }
    }
}

/// Step and load if they fit into so many pixels, or the load alone.
fn hand_name(bar: &super::view::HandBar, room: f64) -> Option<String> {
    let words = Type::note(Token::OnHand);
    let load = bar.load.as_deref().unwrap_or_default();
    let both = format!("{} {load}", bar.step);
    [both.trim(), load]
        .into_iter()
        .find(|name| !name.is_empty() && words.width(name) + 6.0 <= room)
        .map(str::to_owned)
}

fn names_width(view: &DayView, width: Width) -> f64 {
    let bold = view.tanks.iter().map(|t| t.name.as_str()).chain(["orders ready"]);
    let plain = view.stations.iter().map(|s| s.name.as_str());
    let widest = bold
        .map(|n| Type::label(Token::Ink).bold().width(n))
        .chain(plain.map(|n| Type::label(Token::Ink).width(n)))
        .fold(0.0, f64::max);
    (widest + 12.0).min(0.22 * width.px())
}

fn lanes_height(view: &DayView) -> f64 {
    let (tanks, hands) = (view.tanks.len() as f64, view.hands.len() as f64);
    let stations = view.stations.len().min(MOST_STATIONS) as f64;
    let rules = [tanks * hands > 0.0, stations > 0.0, true];
    let rules = rules.iter().filter(|r| **r).count() as f64;
    GAP + tanks * (TANK + GAP)
        + hands * (HANDS + GAP)
        + stations * (STATION + STATION_GAP)
        + rules * (GROUP - GAP)
}

/// A sample of each state that occurs, with or without those of stations.
pub(super) fn samples(view: &DayView, stations: bool) -> Vec<(Style, &'static str)> {
    let tank =
        |wanted: fn(TankState) -> bool| view.tanks.iter().flat_map(|t| &t.bars).any(|b| wanted(b.state));
    let station = |state: StationState| {
        let mut bars = view.stations.iter().flat_map(|s| &s.bars);
        stations && bars.any(|b| b.state == state)
    };
    let hands = !view.hands.is_empty();
    let all = [
        (tank(|s| s == TankState::Heating), lanes::HEATING, "heating"),
        (tank(|s| s == TankState::Waiting), lanes::HOT, "hot, waiting"),
        (
            tank(|s| matches!(s, TankState::Coating(_))),
            lanes::COATING,
            "coating",
        ),
        (
            tank(|s| s == TankState::Recovering),
            lanes::RECOVERING,
            "recovering",
        ),
        (tank(|s| s == TankState::Care), lanes::CARE, "care"),
        (
            view.hands.iter().any(|h| !h.bars.is_empty()),
            lanes::HANDS,
            "hands working",
        ),
        (
            view.hands.iter().any(|h| !h.breaks.is_empty()),
            lanes::BREAK,
            "break",
        ),
        (
            hands || tank(|s| s == TankState::Off),
            lanes::DOTTED,
            off_name(hands, tank(|s| s == TankState::Off)),
        ),
        (station(StationState::InHand), lanes::IN_HAND, "hands needed"),
        (
            station(StationState::ByItself),
            lanes::BY_ITSELF,
            "runs by itself",
        ),
        (station(StationState::HeldUp), lanes::HELD_UP, "blocked"),
    ];
    all.into_iter()
        .filter(|(occurs, ..)| *occurs)
        .map(|(_, style, name)| (style, name))
        .collect()
}

const fn off_name(hands: bool, off: bool) -> &'static str {
    match (hands, off) {
        (true, true) => "tank off, hands waiting",
        (true, false) => "hands waiting",
        _ => "off",
    }
}

/// What the picture leaves out, in words.
fn notes(view: &DayView, axis: &ClockAxis, marks: &Marks) -> Vec<String> {
    let mut notes = Vec::new();
    let nameless = |b: &&super::view::HandBar| {
        longest(axis, b.from, b.to).is_some_and(|(x, y)| hand_name(b, y - x).is_none())
    };
    let short = view.hands.iter().flat_map(|h| &h.bars).filter(nameless).count();
    if short > 0 {
        let steps = words::count(short, "short step carries", "short steps carry");
        notes.push(format!("{steps} no name; the day sheet lists them."));
    }
    if marks.nameless > 0 {
        let orders = words::count(marks.nameless, "order carries", "orders carry");
        notes.push(format!("{orders} no name where it would not be legible."));
    }
    let more = view.stations.len().saturating_sub(MOST_STATIONS);
    if more > 0 {
        notes.push(format!(
            "{} not drawn.",
            words::count(more, "more station is", "more stations are")
        ));
    }
    notes
}
