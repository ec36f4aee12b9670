//! The rules that keep people from harm, checked against a record with code that knows neither the line nor the sheet.
//!
//! What is checked, one file a concern: nobody is away from a bath with its heater on or a load in it (`alone`); a hot bath
//! does not run low beside idle hands (`low`); what goes in and what is done to a bath (`work`). A rule that a day breaks
//! and says so among its warnings (`said`) is a finding that the user sees; one that it breaks in silence is a fault.

mod alone;
mod low;
mod said;
mod spell;
mod tanks;
mod there;
mod work;

use super::found::{FaultKind, Findings};
use super::hands::Doing;
use super::stage::Story;
use spell::Spell;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;
use tankday_record::{Figures, LoadNo, Record};
use there::There;

/// Which rule is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DangerKind {
    /// A bath with its heater on or a load in it, and nobody there.
    Alone,
    /// A hot bath without its lid, and nobody there.
    Uncovered,
    /// A hot bath that runs low beside idle hands.
    Low,
    /// A heater that is on below its level.
    BelowHeater,
    /// A load that goes in below the band.
    ColdLoad,
    /// A bath that is decanted, filtered or carried too hot.
    HotHandling,
    /// Solids that go into a bath that is too hot.
    HotSolids,
    /// Concentrate that goes into a bath above its band.
    HotConcentrate,
}

impl DangerKind {
    /// Whether a warning of it must say how long it lasts.
    const fn lasts(self) -> bool {
        matches!(self, Self::Alone | Self::Uncovered)
    }
}

/// A rule that was broken, where and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Danger {
    /// Which rule.
    pub kind: DangerKind,
    /// From when.
    pub from: Moment,
    /// Up to when; the same moment where it takes no time.
    pub to: Moment,
    /// The tank.
    pub tank: StationId,
    /// The loads that are in it then.
    pub loads: Vec<LoadNo>,
    /// What is wrong, in words that follow the name of the tank.
    pub text: String,
    /// Whether the day says so among its warnings.
    pub said: bool,
}

impl Danger {
    fn of(kind: DangerKind, spell: Spell, tank: StationId, text: impl Into<String>) -> Self {
        Self {
            kind,
            from: spell.from,
            to: spell.to,
            tank,
            loads: Vec::new(),
            text: text.into(),
            said: false,
        }
    }
}

/// Every rule that a day breaks, in order of time, said or not; the names in the record must be sound.
pub(super) fn dangers(shop: &Shop, record: &Record, story: &Story, tasks: &[Doing]) -> Vec<Danger> {
    let end = record.entries.last().map_or(Moment::ZERO, |e| e.at);
    let there = There::of(shop, tasks, end);
    let mut found = Vec::new();
    for tank in tanks::watched(shop, record, story, end) {
        alone::check(&tank, &there, &mut found);
        low::check(shop, record, &tank, &there, &mut found);
        work::check(shop, record, &tank, &mut found);
    }
    found.sort_by_key(|d| (d.from, d.tank));
    if !found.is_empty() {
        let warnings = Figures::of(shop, record).warnings;
        for danger in &mut found {
            danger.said = said::says(&warnings, danger);
        }
    }
    found
}

/// Every rule that is broken in silence is a fault.
pub(super) fn check(dangers: &[Danger], found: &mut Findings<'_>) {
    for danger in dangers.iter().filter(|d| !d.said) {
        let until = if danger.to > danger.from {
            format!(", until {}, and nothing says so", danger.to.clock())
        } else {
            ", and nothing says so".to_owned()
        };
        let text = format!("{}: {}{until}", found.station(danger.tank), danger.text);
        found.say(danger.from, FaultKind::Safety, text);
    }
}
