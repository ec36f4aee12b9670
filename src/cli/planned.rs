//! `--planned`: every alternative is planned before its days are run.

use super::exit::Failure;
use super::sampling::{Sampling, in_pool};
use super::search::Searching;
use super::settings::Saying;
use super::terminal;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};
use tankday_base::print::{number, pieces_of};
use tankday_base::shop::Shop;
use tankday_line::Line;
use tankday_plan::Effort;
use tankday_plan::planned::{Asked, Following, Planned, Shops, can_be_planned, side_by_side};
use tankday_record::Record;
use tankday_study::{Days, Follows};

/// Nothing is said beforehand of work shorter than this.
const LONG: Duration = Duration::from_secs(5);

/// Reads an effort; a file that stands after `--planned` is told so.
///
/// # Errors
/// When it is none.
pub(super) fn effort(text: &str) -> Result<Effort, String> {
    super::plan::effort(text).map_err(|why| format!("{why}; a file stands before --planned"))
}

/// What the shops follow; nothing planned unless it is asked for.
#[derive(Debug, Default)]
pub(super) struct Plans {
    /// For each shop what it follows; none if each goes by its own rules.
    pub planned: Option<Vec<Planned>>,
}

impl Plans {
    /// Plans the shops if that is asked for. Of the `more` plans to come only the time is told.
    ///
    /// # Errors
    /// When no shop has an order that can be planned, when threads cannot be had.
    pub(super) fn of(
        shops: Shops<'_>,
        more: usize,
        sampling: &Sampling,
        saying: Saying,
    ) -> Result<Self, Failure> {
        let Some(asked) = asked(sampling) else {
            return Ok(Self::default());
        };
        if !shops.all.iter().any(|s| can_be_planned(s)) {
            return Err(Failure::input(
                "--planned: there is no order, so that there is nothing to plan; leave --planned away",
            ));
        }
        let all = shops.all.len();
        let (beforehand, searching) = (Beforehand::begin(all + more, saying), Searching::begin(saying));
        let one_more = || searching.told(beforehand.one_more());
        let planned = in_pool(sampling.threads, || {
            Ok(side_by_side(shops, asked, searching.stop(), one_more))
        })?;
        drop(searching);
        say_beforehand(shops.all, &planned, sampling, saying);
        Ok(Self {
            planned: Some(planned),
        })
    }

    /// Days by the plans and after them the same by the shops' own rules; only those where nothing is planned.
    pub(super) fn days<'a>(&'a self, shops: &[&'a Shop]) -> Vec<Days<'a>> {
        let by_rules = shops.iter().map(|shop| Days::by_rules(shop));
        let planned = self.planned.iter().flatten().zip(shops);
        let follows = |planned: &'a Planned| match (&planned.plan, &planned.each_morning) {
            (Some(plan), _) => Follows::Plan(plan),
            (None, Some(each_morning)) => Follows::EachMorning(each_morning),
            (None, None) => Follows::Rules,
        };
        let planned = planned.map(|(planned, shop)| Days {
            shop,
            follows: follows(planned),
        });
        planned.chain(by_rules).collect()
    }

    /// Days by what each of these shops follows.
    pub(super) fn days_followed<'a>(&'a self, shops: &[&'a Shop]) -> Vec<Days<'a>> {
        let mut days = self.days(shops);
        days.truncate(shops.len());
        days
    }

    /// Those from there on.
    pub(super) fn split_off(&mut self, at: usize) -> Self {
        Self {
            planned: self.planned.as_mut().map(|all| all.split_off(at)),
        }
    }

    /// What is told of the first of them.
    pub(super) fn following(&self, shops: &[&Shop], sampling: &Sampling) -> Following {
        match (&self.planned, sampling.planned) {
            (Some(planned), Some(effort)) => Following::plans(shops, planned, effort.typed()),
            _ => Following::rules(shops),
        }
    }
}

/// Says how many plans days take that are planned as they go, and how long, by what a day of mean times takes.
fn say_beforehand(shops: &[&Shop], planned: &[Planned], sampling: &Sampling, saying: Saying) {
    let days = shops.iter().zip(planned).filter_map(|(shop, planned)| {
        let begun = Instant::now();
        let each_morning = planned.each_morning.as_ref()?;
        let day = each_morning.day(shop, &Line::new(shop), None, &mut Record::default());
        Some((day.plans.len() as u32 - 1, begun.elapsed()))
    });
    let (plans, time) = match saying {
        Saying::Little => return,
        _ => days.fold((0, Duration::ZERO), |sum, day| (sum.0 + day.0, sum.1 + day.1)),
    };
    if plans == 0 {
        return;
    }
    let many = sampling.fixed();
    let (all, long) = (pieces_of(plans.saturating_mul(many), "plan"), about(time * many));
    terminal::tell(&format!(
        "orders come by chance: about {all} for {} of each, about {long} on one core",
        pieces_of(many, "day")
    ));
}

/// How to plan, if that is asked for.
pub(super) fn asked(sampling: &Sampling) -> Option<Asked> {
    sampling.planned.map(|effort| Asked {
        seed: sampling.seed,
        effort,
    })
}

/// Says how many plans there are and how long they take, by what the first took.
pub(super) struct Beforehand {
    plans: usize,
    quiet: bool,
    begun: Instant,
    done: AtomicUsize,
}

impl Beforehand {
    /// Before the first of so many.
    pub(super) fn begin(plans: usize, saying: Saying) -> Self {
        Self {
            plans,
            quiet: saying == Saying::Little,
            begun: Instant::now(),
            done: AtomicUsize::new(0),
        }
    }

    /// One more is done; the share of all that are.
    pub(super) fn one_more(&self) -> f64 {
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        let many = u32::try_from(self.plans).unwrap_or(u32::MAX);
        let left = self.begun.elapsed() * many.saturating_sub(1);
        if done == 1 && !self.quiet && left >= LONG {
            let (plans, long) = (pieces_of(many, "plan"), about(left));
            terminal::tell(&format!(
                "{plans}, about {long}; Ctrl-C ends the search with what there is"
            ));
        }
        (done as f64 / f64::from(many.max(1))).min(1.0)
    }
}

/// `40 s`, `12 min`.
pub(super) fn about(time: Duration) -> String {
    let seconds = time.as_secs_f64();
    match seconds {
        s if s < 90.0 => format!("{} s", number(s, 0)),
        s if s < 5_400.0 => format!("{} min", number(s / 60.0, 0)),
        s => format!("{} h", number(s / 3_600.0, 1)),
    }
}

#[cfg(test)]
mod tests {
    use super::about;
    use std::time::Duration;

    #[test]
    fn a_time_is_told_as_one_says_it() {
        let said = |s: u64| about(Duration::from_secs(s));
        assert_eq!([said(40), said(720), said(7_200)], ["40 s", "12 min", "2.0 h"]);
    }
}
