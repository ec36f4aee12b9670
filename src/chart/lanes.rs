//! Bars of states: each told by height and shape, then by hatch, then by colour.

use super::hatch::{Hatch, Point, strokes};
use super::pen::Pen;
use super::theme::Token;
use super::view::StationState;
use tankday_record::TankState;

/// Shape of a bar in its lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Shape {
    /// As high as the lane.
    Full,
    /// So high a share of the lane.
    Low(f64),
    /// Rising from one share of the lane to another.
    Wedge(f64, f64),
    /// No bar, a dotted line at the foot.
    Dotted,
}

/// How a state is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Style {
    pub(super) shape: Shape,
    pub(super) hatch: Hatch,
    pub(super) fill: Token,
    /// None for bars that touch with a gap instead.
    pub(super) edge: Option<Token>,
    /// The one colour of a bar that is too short for more.
    pub(super) flat: Token,
}

const fn style(shape: Shape, hatch: Hatch, fill: Token, edge: Token) -> Style {
    Style {
        shape,
        hatch,
        fill,
        edge: Some(edge),
        flat: edge,
    }
}

/// Hands at work.
pub(super) const HANDS: Style = Style {
    shape: Shape::Full,
    hatch: Hatch::None,
    fill: Token::Hand,
    edge: None,
    flat: Token::Hand,
};
/// Hands in a break.
pub(super) const BREAK: Style = style(Shape::Full, Hatch::Level(5.0), Token::Panel, Token::WaitE);
/// Hands waiting, a tank that is off.
pub(super) const DOTTED: Style = style(Shape::Dotted, Hatch::None, Token::Wait, Token::WaitE);
pub(super) const HEATING: Style = style(
    Shape::Wedge(0.16, 1.0),
    Hatch::Rising(7.0),
    Token::Heat,
    Token::HeatE,
);
pub(super) const HOT: Style = style(Shape::Low(0.36), Hatch::None, Token::Wait, Token::WaitE);
pub(super) const COATING: Style = Style {
    flat: Token::Coat,
    ..style(Shape::Full, Hatch::None, Token::Coat, Token::CoatE)
};
pub(super) const RECOVERING: Style = style(
    Shape::Wedge(0.5, 1.0),
    Hatch::Upright(4.0),
    Token::Rec,
    Token::RecE,
);
pub(super) const CARE: Style = style(Shape::Full, Hatch::Crossed(13.0), Token::Care, Token::CareE);
pub(super) const IN_HAND: Style = style(Shape::Full, Hatch::None, Token::Stat, Token::StatE);
pub(super) const BY_ITSELF: Style = style(Shape::Full, Hatch::Level(4.0), Token::Alone, Token::StatE);
pub(super) const HELD_UP: Style = style(Shape::Full, Hatch::Falling(6.0), Token::Wait, Token::WaitE);

/// The same as a full bar, where its length alone tells something.
pub(super) const fn upright(style: Style) -> Style {
    Style {
        shape: Shape::Full,
        ..style
    }
}

/// How a tank's state is drawn.
pub(super) const fn of_tank(state: TankState) -> Style {
    match state {
        TankState::Off => DOTTED,
        TankState::Heating => HEATING,
        TankState::Waiting => HOT,
        TankState::Coating(_) => COATING,
        TankState::Recovering => RECOVERING,
        TankState::Care => CARE,
    }
}

/// How a station's state is drawn.
pub(super) const fn of_station(state: StationState) -> Style {
    match state {
        StationState::InHand => IN_HAND,
        StationState::ByItself => BY_ITSELF,
        StationState::HeldUp => HELD_UP,
    }
}

/// Bars shorter than this are drawn in one colour.
const SHORT: f64 = 4.0;
/// A bar is at least this long, so that no load vanishes.
const LEAST: f64 = 1.0;

/// One lane of bars, from left to right or downwards; its foot is below it or to its left.
pub(super) struct Lane<'p, 'a> {
    pen: &'p Pen<'a>,
    top: f64,
    height: f64,
    down: bool,
    /// Where the bars drawn so far end.
    drawn_to: f64,
}

impl<'p, 'a> Lane<'p, 'a> {
    pub(super) const fn new(pen: &'p Pen<'a>, top: f64, height: f64) -> Self {
        Self {
            pen,
            top,
            height,
            down: false,
            drawn_to: f64::NEG_INFINITY,
        }
    }

    /// A lane that runs downwards: where its left edge is, and how wide it is.
    pub(super) const fn down(pen: &'p Pen<'a>, left: f64, wide: f64) -> Self {
        Self {
            pen,
            top: left,
            height: wide,
            down: true,
            drawn_to: f64::NEG_INFINITY,
        }
    }

    /// Draws a bar from one pixel to another; one that would add nothing to see to the bars before it is left out.
    pub(super) fn bar(&mut self, (from, to): Point, style: Style) {
        let to = to.max(from + LEAST);
        if to < self.drawn_to + LEAST / 2.0 {
            return;
        }
        self.drawn_to = to;
        if style.shape == Shape::Dotted {
            let line = [self.at(from, 0.0), self.at(to, 0.0)];
            self.pen.dashed(&line, Token::WaitE, 1.0, (2.0, 3.0));
            return;
        }
        if to - from < SHORT {
            self.pen.shape(&self.corners(from, to, style.shape), style.flat);
            return;
        }
        // Bars that touch keep a gap of a pixel: half of it on either side.
        let (from, to) = if style.edge.is_some() {
            (from + 0.5, to - 0.5)
        } else {
            (from, to - 1.0)
        };
        let shape = self.corners(from, to, style.shape);
        self.pen.shape(&shape, style.fill);
        let hatch = if self.down {
            style.hatch.turned()
        } else {
            style.hatch
        };
        for (a, b) in strokes(&shape, hatch) {
            self.pen.line(a, b, style.flat, 1.1);
        }
        if let Some(edge) = style.edge {
            self.pen.outline(&shape, edge, 1.0);
        }
    }

    fn corners(&self, from: f64, to: f64, shape: Shape) -> [Point; 4] {
        let (left, right) = match shape {
            Shape::Full | Shape::Dotted => (1.0, 1.0),
            Shape::Low(share) => (share, share),
            Shape::Wedge(left, right) => (left, right),
        };
        [
            self.at(from, 0.0),
            self.at(from, left),
            self.at(to, right),
            self.at(to, 0.0),
        ]
    }

    /// The point so far along the lane, so high a share above its foot.
    fn at(&self, along: f64, share: f64) -> Point {
        let rise = 0.5 + share * (self.height - 1.0);
        if self.down {
            (self.top + rise, along)
        } else {
            (along, self.top + self.height - rise)
        }
    }
}
