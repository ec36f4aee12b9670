//! What sets the end of the day, and what would help.

use super::Read;
use tankday_base::print::Replication;
use tankday_base::shop::{Hands, Shop};
use tankday_base::units::{Moment, Span};
use tankday_record::{Cause, Chain};
use tankday_study::Study;
use tankday_study::what_if::Gain;

/// What the time from opening to the end went into, on the day drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct EndView {
    /// Opening.
    pub from: Moment,
    /// When the last load was ready.
    pub to: Moment,
    /// Stretches that touch each other.
    pub pieces: Vec<EndPiece>,
    /// Causes with their time, the longest first, breaks and closed hours last.
    pub causes: Vec<EndCause>,
    /// What would help, the best first.
    pub gains: Vec<EndGain>,
    /// The end on every day reckoned; empty if there is only the one.
    pub ends: Vec<Moment>,
    /// What one of these is.
    pub each: Replication,
}

/// A stretch.
#[derive(Debug, Clone, PartialEq)]
pub struct EndPiece {
    /// Its beginning.
    pub from: Moment,
    /// Its end.
    pub to: Moment,
    /// Its cause, by its place in [`EndView::causes`].
    pub cause: usize,
    /// The load in question.
    pub load: Option<String>,
}

/// A cause.
#[derive(Debug, Clone, PartialEq)]
pub struct EndCause {
    /// Which.
    pub cause: Cause,
    /// In words.
    pub words: String,
    /// Its time.
    pub span: Span,
    /// Work that goes on by itself.
    pub alone: bool,
}

/// What one thing made easier would give.
#[derive(Debug, Clone, PartialEq)]
pub struct EndGain {
    /// What was made easier.
    pub words: String,
    /// By how much earlier the last load is ready.
    pub earlier: Span,
    /// By how much less all orders together are late; zero where that was not looked at.
    pub less_late: Span,
    /// Orders that get ready and did not before.
    pub more_orders: u32,
}

pub(super) fn of(read: &Read<'_>) -> Option<EndView> {
    let chain = Chain::read(&read.all)?;
    let mut causes: Vec<EndCause> = chain
        .causes()
        .into_iter()
        .map(|(cause, span)| EndCause {
            words: cause.words(read.shop),
            alone: matches!(&cause, Cause::Work(step) if works_alone(read.shop, step)),
            cause,
            span,
        })
        .collect();
    causes.sort_by_key(|c| matches!(c.cause, Cause::Closed));
    let piece = |p: &tankday_record::Piece| {
        Some(EndPiece {
            from: p.from,
            to: p.to,
            cause: causes.iter().position(|c| c.cause == p.cause)?,
            load: p.load.map(|load| read.labels.at(load, p.to).to_owned()),
        })
    };
    Some(EndView {
        from: chain.from,
        to: chain.to,
        pieces: chain.pieces.iter().filter_map(piece).collect(),
        causes,
        gains: Vec::new(),
        ends: Vec::new(),
        each: Replication::of_days(read.shop.calendar.days.len()),
    })
}

/// Whether no step of this name keeps hands throughout.
fn works_alone(shop: &Shop, name: &str) -> bool {
    let mut steps = shop.routes.iter().flat_map(|r| &r.steps);
    !steps.any(|s| s.name == name && s.hands == Hands::Throughout)
}

impl EndView {
    pub(super) fn add(&mut self, shop: &Shop, gains: &[Gain], study: Option<&Study>) {
        self.gains = gains
            .iter()
            .map(|gain| EndGain {
                words: gain.ease.words(shop),
                earlier: gain.earlier,
                less_late: gain.less_late,
                more_orders: gain.more_orders,
            })
            .collect();
        let ends = study.into_iter().flat_map(|s| &s.days);
        self.ends = ends.filter_map(|day| day.end).collect();
    }
}
