//! What the command line means, with everything resolved.

use super::args::Run;
use super::sets::Sets;
use super::terminal::Terminal;
use std::path::PathBuf;
use tankday_study::Precision;

/// How much to say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Saying {
    /// Only the answer.
    Little,
    /// The summary and the day sheet.
    Usual,
    /// And the stations, and what was done.
    Much,
}

impl Saying {
    /// From the two switches, which exclude each other.
    #[must_use]
    pub(super) const fn of(quiet: bool, verbose: bool) -> Self {
        match (quiet, verbose) {
            (true, _) => Self::Little,
            (_, true) => Self::Much,
            _ => Self::Usual,
        }
    }
}

/// How a run is to be done.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RunSettings {
    /// The scenario.
    pub file: PathBuf,
    /// What is put in place of what it says.
    pub set: Sets,
    /// Where to write to.
    pub out: Option<PathBuf>,
    /// Replace what was edited there, or not written by us.
    pub force: bool,
    /// Print JSON.
    pub json: bool,
    /// Seed.
    pub seed: u64,
    /// Replications; none for mean times.
    pub replications: Option<u32>,
    /// How closely the headline figures are to be known, and with how many replications at most.
    pub precision: Option<(Precision, u32)>,
    /// Threads.
    pub threads: usize,
    /// Tell what holds in the long run.
    pub steady: bool,
    /// Audit every record.
    pub audit: bool,
    /// The plan to follow.
    pub plan: Option<PathBuf>,
    /// Mend it.
    pub repair: bool,
    /// Tell what each order waits for.
    pub report: bool,
    /// How much to say.
    pub saying: Saying,
    /// What the text is written on.
    pub terminal: Terminal,
}

impl RunSettings {
    /// Resolves what was typed.
    #[must_use]
    pub(super) fn of(run: Run, saying: Saying) -> Self {
        let terminal = Terminal::standard_output();
        let machine = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        Self {
            threads: run.threads.map_or(machine, usize::from),
            file: run.file,
            set: run.set,
            out: run.out,
            force: run.force,
            json: run.json,
            steady: run.steady,
            audit: run.audit,
            plan: run.plan,
            repair: run.repair,
            report: run.report,
            seed: run.seed,
            replications: run.replications,
            precision: run.precision.map(|p| (p, run.at_most)),
            saying,
            terminal,
        }
    }
}
