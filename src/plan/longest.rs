//! By how much limits are passed on a day, the longest of each kind: what no plan may do worse than the shop's own rules,
//! however many more orders it got ready by that.

use tankday_base::shop::{Shop, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Bare, Breach, LoadNo, LogEntry, bare};

/// A plan that passes a limit by more than it may costs more than one that gets nothing ready.
const EXCESS: f64 = 1e14;
const EXCESS_MINUTE: f64 = 1e9;
/// Shorter than this nothing is worth a word.
const HARDLY: Span = Span::whole_minutes(1);
/// What still waits when the last day closes lies until the next morning at least, and counts as lying a day longer.
const A_DAY: Span = Span::whole_minutes(24 * 60);

/// The longest by which a limit of each kind is passed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Longest {
    /// Lying stripped, or otherwise waiting.
    stripped: Span,
    /// Lying bare behind a bath.
    bare: Span,
    /// Staying at a step.
    stayed: Span,
    /// In a bath when a break began.
    in_break: Span,
    /// Left lying stripped when the days are over.
    left_stripped: Span,
    /// Left lying bare.
    left_bare: Span,
}

impl Longest {
    fn add(&mut self, what: Breach, coated: bool) {
        let (longest, by) = match what {
            Breach::WaitedTooLong { by } if coated => (&mut self.bare, by),
            Breach::WaitedTooLong { by } => (&mut self.stripped, by),
            Breach::StayedTooLong { by } => (&mut self.stayed, by),
            Breach::InAtBreak { by } => (&mut self.in_break, by),
        };
        *longest = by.max(*longest);
    }

    fn all(&self) -> [Span; 6] {
        [
            self.stripped,
            self.bare,
            self.stayed,
            self.in_break,
            self.left_stripped,
            self.left_bare,
        ]
    }

    /// What it costs to pass limits by more than allowed.
    pub(super) fn excess(&self, allowed: &Self) -> f64 {
        let over = self.all().into_iter().zip(allowed.all());
        let over = over.map(|(by, most)| by - most.max(HARDLY));
        over.filter(|by| *by > Span::ZERO)
            .map(|by| EXCESS + EXCESS_MINUTE * by.in_minutes())
            .sum()
    }
}

/// Watches a day for it.
#[derive(Debug)]
pub(super) struct Lying<'a> {
    shop: &'a Shop,
    longest: Longest,
    /// For each load until when it may wait, and for which step.
    waits: Vec<Option<(Moment, StepRef)>>,
}

impl<'a> Lying<'a> {
    pub(super) fn new(shop: &'a Shop) -> Self {
        Self {
            shop,
            longest: Longest::default(),
            waits: Vec::new(),
        }
    }

    pub(super) fn note(&mut self, at: Moment, event: &LogEntry) {
        match *event {
            LogEntry::LoadMade { .. } => self.waits.push(None),
            LogEntry::Waits { load, step } => {
                let within = self.shop.find_step(step).and_then(|s| s.within);
                if let Some(waits) = self.waits.get_mut(load.0 as usize) {
                    let both = waits.iter().copied().chain(within.map(|w| (at + w, step)));
                    *waits = both.min_by_key(|w| w.0);
                }
            }
            LogEntry::SetIn { load, .. } | LogEntry::Joins { load, .. } => self.goes_on(load),
            LogEntry::Breaks { step, what, .. } => {
                let coated = bare(self.shop, step) == Some(Bare::Coated);
                self.longest.add(what, coated);
            }
            _ => {}
        }
    }

    fn goes_on(&mut self, load: LoadNo) {
        if let Some(waits) = self.waits.get_mut(load.0 as usize) {
            *waits = None;
        }
    }

    /// What the days came to, now that they are over.
    pub(super) fn in_the_end(&self) -> Longest {
        let mut longest = self.longest;
        let closes = self.shop.calendar.days.last().map_or(Moment::ZERO, |d| d.close);
        for (latest, step) in self.waits.iter().flatten() {
            let left = match bare(self.shop, *step) {
                Some(Bare::Coated) => &mut longest.left_bare,
                Some(Bare::Stripped) => &mut longest.left_stripped,
                None => continue,
            };
            *left = (*left).max(closes + A_DAY - *latest);
        }
        longest
    }
}
