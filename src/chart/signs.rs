//! Marks of orders: a disc on time, a square half filled if it is tight, a triangle late, a cross if it cannot be.

use super::hatch::Point;
use super::pen::Pen;
use super::theme::Token;
use tankday_study::Sure;

/// Half of a mark's width.
pub(super) const RADIUS: f64 = 5.0;

/// Draws the mark of how sure an order is.
pub(super) fn sign(pen: &Pen<'_>, centre: Point, sure: Sure) {
    match sure {
        Sure::Certain | Sure::Safe => pen.disc(centre, RADIUS, Token::Ok),
        Sure::Tight => tight(pen, centre),
        Sure::Late => late(pen, centre),
        Sure::Cannot => cannot(pen, centre),
    }
}

/// The colour of words about it.
pub(super) const fn colour(sure: Sure) -> Token {
    match sure {
        Sure::Certain | Sure::Safe => Token::Ok,
        Sure::Tight => Token::Tight,
        Sure::Late | Sure::Cannot => Token::Late,
    }
}

/// A triangle, point down.
pub(super) fn late(pen: &Pen<'_>, (x, y): Point) {
    pen.shape(
        &[(x - 6.0, y - 5.0), (x + 6.0, y - 5.0), (x, y + 5.5)],
        Token::Late,
    );
}

fn tight(pen: &Pen<'_>, (x, y): Point) {
    let (r, half) = (RADIUS - 0.8, RADIUS - 0.8);
    pen.rect((x - r, y - r), (2.0 * r, 2.0 * r), Token::Paper);
    pen.rect((x - r, y - r), (half, 2.0 * r), Token::Tight);
    let corners = [(x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)];
    pen.outline(&corners, Token::Tight, 1.4);
}

fn cannot(pen: &Pen<'_>, (x, y): Point) {
    let r = RADIUS - 0.5;
    pen.line((x - r, y - r), (x + r, y + r), Token::Late, 2.0);
    pen.line((x - r, y + r), (x + r, y - r), Token::Late, 2.0);
}

/// A small triangle that points up to `tip`: filled for what is usual, open for nine days in ten.
pub(super) fn pointer(pen: &Pen<'_>, (x, y): Point, filled: bool) {
    let corners = [(x, y), (x + 4.0, y + 7.0), (x - 4.0, y + 7.0)];
    pen.shape(&corners, if filled { Token::Ink } else { Token::Paper });
    pen.outline(&corners, Token::Ink, 1.2);
}
