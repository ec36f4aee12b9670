//! What sets the end of the day: from the last load that is ready, back to the opening, along whatever each stretch
//! waited for.
//!
//! 1. Stand at the end, with the load that was ready last.
//! 2. Ask what this load was doing just before: work, dwell, putting in, taking out. That stretch has its cause; go to
//!    its beginning.
//! 3. If it was waiting, ask what was set free at the moment when the wait ended: hands (go to what they were doing),
//!    a place (go to the load that held it), heat, the end of a break, the opening, another load to go in with.
//! 4. Repeat until the opening. The stretches touch each other, so that their minutes add up exactly.

pub(super) mod facts;
mod trace;

use super::event::LoadNo;
use super::watch::Record;
use crate::analysis::Analysis;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, Span};

/// What a stretch of time went into.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// The tank was not in its band for the first time yet.
    HeatUp,
    /// The bath came back to temperature after a load.
    Recovery,
    /// A load was in a bath.
    Dwell,
    /// Putting in and taking out.
    PutInTakeOut,
    /// Work at a step of this name, under hands or by itself.
    Work(String),
    /// Topping up.
    TopUp,
    /// A bath was under care: replenished, filtered, renewed.
    Care,
    /// Hands were busy, with what the record does not tell.
    Hands,
    /// The places of a station were taken, by what the record does not tell.
    Place(StationId),
    /// More work was waited for, to fill the tank.
    Company,
    /// Kept back so that a load could be taken out in time.
    KeptBack,
    /// A break.
    Break,
    /// The shop was closed.
    Closed,
    /// The order had not come yet.
    NotThere,
}

/// A stretch of the day and its cause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Its beginning.
    pub from: Moment,
    /// Its end.
    pub to: Moment,
    /// What it went into.
    pub cause: Cause,
    /// The load in question, if there is one.
    pub load: Option<LoadNo>,
}

/// What sets the end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chain {
    /// Opening.
    pub from: Moment,
    /// The moment when the last load was ready.
    pub to: Moment,
    /// Stretches from opening to end, each beginning where the one before ends.
    pub pieces: Vec<Piece>,
}

impl Chain {
    /// Traces it; none if nothing was ready after the opening.
    #[must_use]
    pub fn of(shop: &Shop, record: &Record) -> Option<Self> {
        Self::read(&Analysis::of(shop, record))
    }

    /// The same from a record that has been read.
    #[must_use]
    pub fn read(read: &Analysis<'_>) -> Option<Self> {
        trace::chain(read)
    }

    /// From opening to the end.
    #[must_use]
    pub fn span(&self) -> Span {
        self.to - self.from
    }

    /// Time for each cause, the longest first; they add up to [`Chain::span`] exactly.
    #[must_use]
    pub fn causes(&self) -> Vec<(Cause, Span)> {
        let mut sums: Vec<(Cause, Span)> = Vec::new();
        for piece in &self.pieces {
            let span = piece.to - piece.from;
            match sums.iter_mut().find(|(cause, _)| *cause == piece.cause) {
                Some((_, sum)) => *sum += span,
                None => sums.push((piece.cause.clone(), span)),
            }
        }
        sums.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        sums
    }
}

impl Cause {
    /// In words.
    #[must_use]
    pub fn words(&self, shop: &Shop) -> String {
        match self {
            Self::HeatUp => "heat-up".into(),
            Self::Recovery => "waiting for the bath to recover".into(),
            Self::Dwell => "dwell".into(),
            Self::PutInTakeOut => "putting in and taking out".into(),
            Self::Work(step) => step.clone(),
            Self::TopUp => "top-up".into(),
            Self::Care => "care of the bath".into(),
            Self::Hands => "waiting for hands".into(),
            Self::Place(station) => match shop.stations.get(station.index()) {
                Some(station) => format!("waiting for a place, {}", station.name),
                None => "waiting for a place".into(),
            },
            Self::Company => "waiting for a fuller load".into(),
            Self::KeptBack => "kept back so that what follows is in time".into(),
            Self::Break => "break".into(),
            Self::Closed => "closed".into(),
            Self::NotThere => "waiting for orders to come".into(),
        }
    }
}

#[cfg(test)]
mod tests;
