//! How many replications, under which luck, on how many threads: what comparing and sweeping have in common.

use super::args::{DEFAULT_SEED, MOST_REPLICATIONS};
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder};
use super::pictures;
use super::progress::Progress;
use super::settings::Saying;
use clap::Args;
use std::path::PathBuf;
use tankday_base::print::Replication;
use tankday_base::shop::Shop;
use tankday_base::units::read_span;
use tankday_plan::Effort;
use tankday_study::shard::{Share, fingerprint};
use tankday_study::{Days, FIRST, Precision, Reading, sample};

/// Most replications for a precision when nothing is said about them.
pub(super) const MOST_FOR_PRECISION: u32 = 10_000;
/// Replications when nothing is said about them.
const USUAL: u32 = 200;

/// Options of commands that run many replications.
#[derive(Debug, Clone, Args)]
pub(super) struct Sampling {
    /// Random seed.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    pub seed: u64,
    /// Replications under different luck; 200 without it.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(2..=i64::from(MOST_REPLICATIONS)),
          conflicts_with = "precision")]
    pub replications: Option<u32>,
    /// Go on until half of every headline interval is at most this: `5 min`, or `2 %` of its mean.
    #[arg(long, value_name = "WIDTH", value_parser = precision)]
    pub precision: Option<Precision>,
    /// At most so many replications for --precision.
    #[arg(long, value_name = "N", default_value_t = MOST_FOR_PRECISION, requires = "precision",
          value_parser = clap::value_parser!(u32).range(2..=i64::from(MOST_REPLICATIONS)))]
    pub at_most: u32,
    /// Threads; without it as many as the machine has.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
    /// Do one share of the replications, such as 3/16, and write it for `tankday join`.
    #[arg(long, value_name = "NTH/OF", value_parser = Share::read, conflicts_with = "precision")]
    pub part: Option<Share>,
    /// Plan each of them first, and run that plan under the same luck; where orders come by chance, plan each morning and
    /// at each of them. Say how much to search: quick, which it is without a word, normal, long, or a number of simulated
    /// days.
    #[arg(long, value_name = "EFFORT", num_args = 0..=1, default_missing_value = "quick",
          value_parser = super::planned::effort)]
    pub planned: Option<Effort>,
}

/// How results are told.
#[derive(Debug, Clone)]
pub(super) struct Telling {
    /// As one JSON object.
    pub json: bool,
    /// Where charts and data are written to.
    pub out: Option<PathBuf>,
    /// Replace what was edited there, or not written by us.
    pub force: bool,
    /// How much to say.
    pub saying: Saying,
}

impl Telling {
    /// Writes a set of files, if a folder is asked for.
    ///
    /// # Errors
    /// When files of the user's would be lost, or it cannot be written.
    pub(super) fn write(
        &self,
        set: impl FnOnce() -> Result<Vec<(String, Vec<u8>)>, Failure>,
    ) -> Result<(), Failure> {
        match &self.out {
            Some(dir) => Folder::new(dir, self.force, self.saying).write_and_say(&set()?, Earlier::Goes),
            None => Ok(()),
        }
    }

    /// Refuses before the work what would be refused after it.
    ///
    /// # Errors
    /// When files of the user's would be lost.
    pub(super) fn would_take(&self, names: &[&str], drawn: &[&str]) -> Result<(), Failure> {
        let Some(dir) = &self.out else { return Ok(()) };
        let drawn: Vec<String> = drawn
            .iter()
            .flat_map(|picture| pictures::names(picture))
            .collect();
        let all = names.iter().copied().chain(drawn.iter().map(String::as_str));
        Folder::new(dir, self.force, self.saying).would_take(all.map(|name| (name, None)))
    }
}

/// Reads `5 min` or `2 %`.
pub(super) fn precision(text: &str) -> Result<Precision, String> {
    let text = text.trim();
    let help = "write a time such as `5 min`, or a share such as `2 %`";
    if let Some(number) = text.strip_suffix('%') {
        let share: f64 = number.trim().parse().map_err(|_| help.to_owned())?;
        return match share > 0.0 && share < 100.0 {
            true => Ok(Precision::Share(share / 100.0)),
            false => Err(format!("`{text}` is not a share between 0 and 100 %")),
        };
    }
    match read_span(text) {
        Ok(span) if span > tankday_base::units::Span::ZERO => Ok(Precision::Time(span)),
        Ok(_) => Err("no interval is narrower than nothing".to_owned()),
        Err(error) => Err(format!("{}; {help}", error.message)),
    }
}

/// What was sampled: the replications of every shop.
pub(super) struct Sampled {
    /// Readings, shop by shop.
    pub readings: Vec<Vec<Reading>>,
    /// What became of a wanted precision, in words.
    pub reached: Option<String>,
}

impl Sampling {
    /// Replications, if no precision is asked for.
    pub(super) fn fixed(&self) -> u32 {
        self.replications.unwrap_or(USUAL)
    }

    /// What tells a study of these texts from any other.
    pub(super) fn fingerprint<'a>(&self, what: &'a str, texts: impl Iterator<Item = &'a str>) -> String {
        let planned = self
            .planned
            .map_or_else(String::new, |e| format!(", planned {}", e.typed()));
        let luck = format!("seed {}, {} replications{planned}", self.seed, self.fixed());
        let texts: Vec<&str> = std::iter::once(what).chain(texts).collect();
        fingerprint(texts.into_iter().chain([luck.as_str()]))
    }

    /// The same luck and threads for exactly so many replications.
    pub(super) fn exactly(&self, many: u32) -> Self {
        Self {
            replications: Some(many),
            precision: None,
            part: None,
            ..self.clone()
        }
    }

    /// How many replications of one shop a precision needs, and in words what became of it.
    ///
    /// # Errors
    /// As for [`Sampling::run`].
    pub(super) fn needed(
        precision: Precision,
        at_most: u32,
        (seed, threads): (u64, usize),
        shop: &Shop,
        saying: Saying,
    ) -> Result<(u32, String), Failure> {
        let sampling = Self {
            seed,
            replications: None,
            precision: Some(precision),
            at_most,
            threads: u16::try_from(threads).ok(),
            part: None,
            planned: None,
        };
        let sampled = sampling.run(&[Days::by_rules(shop)], saying)?;
        let many = sampled.readings.first().map_or(0, Vec::len);
        Ok((
            u32::try_from(many).unwrap_or(at_most),
            sampled.reached.unwrap_or_default(),
        ))
    }

    /// Runs what is asked for on threads of its own.
    ///
    /// # Errors
    /// When threads cannot be had, and when a shop's days do not end.
    pub(super) fn run(&self, shops: &[Days<'_>], saying: Saying) -> Result<Sampled, Failure> {
        let whole_run = match self.precision {
            Some(_) => 0..FIRST.min(self.at_most),
            None => 0..self.fixed(),
        };
        let first = self.part.map_or(whole_run, |share| share.stretch(self.fixed()));
        let progress = Progress::new(first.len() as u64 * shops.len() as u64, saying == Saying::Little);
        let stretch = |from: u32, to: u32| {
            let all = sample(shops, self.seed, from..to, || progress.step());
            all.into_iter().map(whole).collect::<Result<Vec<_>, Failure>>()
        };
        in_pool(self.threads, || {
            let mut readings = stretch(first.start, first.end)?;
            let reached = match self.precision {
                Some(precision) => {
                    let days = shops.first().map_or(1, |days| days.shop.calendar.days.len());
                    let each = Replication::of_days(days);
                    Some(self.refine((precision, each), &mut readings, &stretch, &progress)?)
                }
                None => None,
            };
            Ok(Sampled { readings, reached })
        })
    }

    /// Goes on until the precision is reached, and says what was.
    fn refine(
        &self,
        (precision, each): (Precision, Replication),
        readings: &mut [Vec<Reading>],
        stretch: &dyn Fn(u32, u32) -> Result<Vec<Vec<Reading>>, Failure>,
        progress: &Progress,
    ) -> Result<String, Failure> {
        loop {
            let now = readings.first().map_or(0, Vec::len) as u32;
            let missed: Vec<_> = readings.iter().flat_map(|r| precision.missed(r)).collect();
            if missed.is_empty() {
                let days = each.simulated(now as usize);
                return Ok(format!("the wanted precision is reached with {days}"));
            }
            if now >= self.at_most {
                let widest = missed.iter().map(|(m, i)| {
                    format!("{} +/- {:.2} {}", m.words(), i.half_width, m.unit())
                        .trim_end()
                        .to_owned()
                });
                let widest: Vec<String> = widest.collect();
                let days = each.simulated(now as usize);
                return Ok(format!(
                    "the wanted precision is not reached with {days}, the most allowed: {}",
                    widest.join(", ")
                ));
            }
            let views: Vec<&[Reading]> = readings.iter().map(Vec::as_slice).collect();
            let next = precision.next(&views, now, self.at_most);
            progress.more(u64::from(next - now) * readings.len() as u64);
            for (all, more) in readings.iter_mut().zip(stretch(now, next)?) {
                all.extend(more);
            }
        }
    }
}

/// Readings of which none is missing.
pub(super) fn whole(readings: Vec<Option<Reading>>) -> Result<Vec<Reading>, Failure> {
    readings
        .into_iter()
        .collect::<Option<_>>()
        .ok_or_else(|| Failure::Told {
            message: "these days do not end, or hold too many events for a record: shorten them".into(),
            exit: Exit::CannotBeDone,
        })
}

/// Does some work on so many threads.
pub(super) fn in_pool<T: Send>(
    threads: Option<u16>,
    work: impl FnOnce() -> Result<T, Failure> + Send,
) -> Result<T, Failure> {
    let machine = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let threads = threads.map_or(machine, usize::from);
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
    let pool = pool.map_err(|e| Failure::work(format!("cannot start {threads} threads: {e}")))?;
    pool.install(work)
}

#[cfg(test)]
mod tests {
    use super::precision;
    use tankday_study::Precision;

    #[test]
    fn a_precision_is_a_time_or_a_share() {
        assert_eq!(precision("2 %"), Ok(Precision::Share(0.02)));
        assert!(matches!(precision("5 min"), Ok(Precision::Time(t)) if t.in_minutes() == 5.0));
        for wrong in ["", "5", "0 min", "0 %", "100 %", "five minutes", "-2 %", "nan %"] {
            assert!(precision(wrong).is_err(), "{wrong}");
        }
    }
}
