//! What is told of a day and of choices, in words and figures, whoever tells it: the terminal, the page, the data.
//!
//! # Known and left
//!
//! - What sets the end is told of the day drawn; only the end itself is shown for all days. The busiest station is
//!   that of the day drawn too.

mod answer;
mod assumed;
mod bare;
mod believed;
mod beyond;
mod card;
mod chances;
mod choice;
mod ends;
mod following;
mod mends;
mod near;
mod one_load;
mod otherwise;
mod promise;
mod quote;
mod reading;
mod since;
mod some_days;
mod spent;
mod three;
mod traded;
mod vary;
mod watch;

pub use answer::answer;
pub use assumed::{Assumed, assumed, hangs_on};
pub use believed::{believed, dwell_believed, look_for, stands};
pub use beyond::{beyond, planning};
pub use card::{Block, Card};
pub use chances::chances;
pub use choice::{baths_left, better_on, decimals, paid, short, standings, unsharpened};
pub use ends::{Ends, NOTHING, ends, hours_early, in_minutes};
pub use following::{followed, following, following_notes, rules_say, rules_turn, same_answer};
pub use near::{by_rule, gap, near, searched, undone, unplanned, weighed};
pub use one_load::{CameOut, IN_THE_BATH, load_told, new_bath_told, seen, set_right_told, some_looks};
pub use otherwise::otherwise;
pub use promise::{Harm, Promise, Sure, promises};
pub use quote::{Asked, gains, lever_said, line_said, line_share, quote_list, quote_told};
pub use since::{NOTHING_DONE, TanksNoted, assumed_since};
pub use some_days::{SomeDays, some_days};
pub use spent::{Spent, hands_paid, left_undone, spent, waste};
pub use three::{Three, three};
pub use traded::{Apart, Way, apart, of_hundred, passed_over};
pub use vary::turns;
pub use watch::watch;

use tankday_base::print::Replication;
use tankday_base::shop::Shop;
use tankday_plan::Found;
use tankday_record::{Chain, Figures, Labels, Record};
use tankday_study::Study;
use tankday_study::what_if::{BeyondPlanning, Gain};

/// Everything that is told of a run.
#[derive(Debug, Clone, Copy)]
pub struct Results<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The day drawn.
    pub record: &'a Record,
    /// Its figures.
    pub figures: &'a Figures,
    /// Its names.
    pub labels: &'a Labels,
    /// What sets its end.
    pub chain: Option<&'a Chain>,
    /// What would help, the best first.
    pub gains: &'a [Gain],
    /// The replications, if there are any.
    pub study: Option<&'a Study>,
    /// Seed.
    pub seed: u64,
    /// The search that found its plan, if there was one.
    pub planned: Option<&'a Found>,
    /// What that planning gains by itself, and what would help then.
    pub beyond: Option<&'a BeyondPlanning>,
}

impl<'a> Results<'a> {
    /// When it is: one date in full, or the first and the last day.
    #[must_use]
    pub fn when(&self) -> String {
        let days = &self.shop.calendar.days;
        let date = |at| self.shop.calendar.date(at);
        match (days.first(), days.last()) {
            (Some(first), Some(last)) if days.len() > 1 => {
                let (from, to) = (date(first.open), date(last.open));
                let form = match (from.year() == to.year(), from.month() == to.month()) {
                    (true, true) => "%-d",
                    (true, false) => "%-d %B",
                    _ => "%-d %B %Y",
                };
                format!("{} to {}", from.strftime(form), to.strftime("%-d %B %Y"))
            }
            (Some(day), _) => date(day.open).strftime("%A %-d %B %Y").to_string(),
            _ => String::new(),
        }
    }

    /// The simulated days, where there are several: one says nothing about chances.
    #[must_use]
    pub fn many(&self) -> Option<&'a Study> {
        self.study.filter(|study| study.days.len() > 1)
    }

    /// What one of the simulated days is, where the shop opens on several.
    #[must_use]
    pub fn each(&self) -> Replication {
        Replication::of_days(self.shop.calendar.days.len())
    }

    /// How this was worked out.
    #[must_use]
    pub fn how(&self) -> String {
        match self.study {
            Some(study) => format!("{}, seed {}", self.each().simulated(study.days.len()), self.seed),
            None => "worked out with average times".to_owned(),
        }
    }
}
