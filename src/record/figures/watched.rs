//! What figures and warnings follow along a record while it is read.

use super::added_watch::Added;
use super::baths::Sums;
use super::filter_watch::Filters;
use super::foreign::Foreign;
use super::rinses::{self, Following};
use super::supply_watch;
use super::tanks::Heat;
use super::warning_kind::WarningKind;
use super::warnings::{Caution, event_warning};
use crate::event::LogEntry;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;

/// A hot tank left alone: from when, which, until when at the latest, and how many samples of it came before.
pub(super) type LeftAlone = (Moment, StationId, Moment, usize);

/// Everything of the kind.
#[derive(Debug, Clone)]
pub(crate) struct Watched<'s> {
    shop: &'s Shop,
    pub(super) heats: Vec<Heat>,
    pub(super) sums: Vec<Sums>,
    pub(super) rinses: Vec<Following>,
    pub(super) supply: Option<supply_watch::Watch>,
    pub(super) added: Added<'s>,
    pub(super) filters: Filters,
    pub(super) foreign: Foreign,
    pub(super) warned: Vec<(WarningKind, Caution)>,
    pub(super) left_alone: Vec<LeftAlone>,
}

impl<'s> Watched<'s> {
    pub(crate) fn of(shop: &'s Shop) -> Self {
        let tanks = || shop.tanks().map(|(id, ..)| id);
        Self {
            shop,
            heats: tanks().map(Heat::of).collect(),
            sums: tanks().map(Sums::of).collect(),
            rinses: rinses::all(shop),
            supply: supply_watch::Watch::of(shop),
            added: Added::of(shop),
            filters: Filters::default(),
            foreign: Foreign::of(shop),
            warned: Vec::new(),
            left_alone: Vec::new(),
        }
    }

    pub(crate) fn note(&mut self, at: Moment, event: &LogEntry) {
        for heat in &mut self.heats {
            heat.note(at, event);
        }
        for sums in &mut self.sums {
            sums.note(at, event);
        }
        for rinse in &mut self.rinses {
            rinse.note(at, event);
        }
        if let Some(supply) = &mut self.supply {
            supply.note(at, event);
        }
        self.added.note(at, event);
        self.filters.note(at, event);
        self.foreign.note(at, event);
        self.warned.extend(event_warning(self.shop, at, event));
        if let LogEntry::LeftAlone { tank, until } = *event {
            let own = self.sums.iter().find(|s| s.tank == tank);
            let before = own.map_or(0, |s| s.samples);
            self.left_alone.push((at, tank, until, before));
        }
    }
}
