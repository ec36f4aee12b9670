//! The command line as typed.

use super::compare::Assume;
use super::sampling::Sampling;
use super::sets::Sets;
use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;
use tankday_study::Precision;

/// The seed when none is given.
pub(super) const DEFAULT_SEED: u64 = 1;
/// As many replications as one run may have.
pub(super) const MOST_REPLICATIONS: u32 = 100_000;

/// Simulates and plans the working day of a small finishing line: hot manganese phosphate, rinse, oil.
///
/// A plan is no safety instruction: safety data sheets, local codes and licensed practice come first.
#[derive(Debug, Parser)]
#[command(
    name = "tankday",
    version,
    max_term_width = 100,
    arg_required_else_help = true
)]
#[command(
    after_help = "Exit status: 0 done; 1 the work failed; 2 the input or the command line is wrong; \
                        3 the day cannot be done as described: an order that is stated one by one does not get ready. \
                        Of orders that come by chance some may be under way at the end of any day."
)]
pub(super) struct Typed {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Say less: only the answer.
    #[arg(long, short, global = true, conflicts_with = "verbose")]
    pub quiet: bool,
    /// Say more.
    #[arg(long, short, global = true)]
    pub verbose: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a commented starter scenario that runs as it is.
    New(New),
    /// Read scenarios and report every mistake; nothing is simulated.
    Check(Check),
    /// Simulate the day or days: what to do, what is ready when, what sets the end.
    Run(Run),
    /// Compare alternatives on the same orders and the same luck: which to take, and how sure that is.
    Compare(Compare),
    /// Vary one or two values: how the figures follow, and where they turn.
    Sweep(Sweep),
    /// Put the parts of a divided comparison or sweep together.
    Join(Join),
    /// Search for a better day: what goes in with what, in which order, and how good that is.
    Plan(Plan),
    /// Find what can be promised for one more order, with the others still kept.
    Promise(Promise),
    /// Say what one load would do: does it fit, how long, what it takes from the bath, now or later.
    Load(super::one_load::Typed),
    /// Say what a new bath is mixed from, in which order, how it reads then, and how it may froth.
    Mix(super::mix::Typed),
    /// Say what an order costs, line by line, and its price; without --order, of every order of the day.
    Quote(super::quote::Typed),
    /// Take orders from a spreadsheet into a day, and give the results back to it.
    Orders(Orders),
    /// Check a written run again: nothing in two places, every piece accounted for, heat and water balanced.
    Audit(Audit),
    /// Print the JSON Schema of a scenario, for editors.
    Schema,
    /// Print the completions for a shell.
    Completions(Completions),
    /// Print the manual page.
    Man,
}

/// `tankday new`.
#[derive(Debug, Args)]
pub(super) struct New {
    /// The file to write; it must not exist.
    pub file: PathBuf,
}

/// `tankday check`.
#[derive(Debug, Args)]
pub(super) struct Check {
    /// Scenarios.
    #[arg(required_unless_present = "defaults")]
    pub files: Vec<PathBuf>,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// Print every default with where it comes from.
    #[arg(long)]
    pub defaults: bool,
    /// Draw a route: as DOT to standard output, with --out also as SVG.
    #[arg(long, value_name = "NAME")]
    pub route: Option<String>,
    /// Where to write the drawing of the route.
    #[arg(long, value_name = "DIR", requires = "route")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
}

/// `tankday run`.
#[derive(Debug, Args)]
pub(super) struct Run {
    /// The scenario.
    pub file: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// Write record, scenario, summary, day sheet and charts into this folder.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
    /// Print one JSON object instead of the summary.
    #[arg(long)]
    pub json: bool,
    /// Random seed.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    pub seed: u64,
    /// Days to simulate under different luck; without it one day with mean times.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_REPLICATIONS)))]
    pub replications: Option<u32>,
    /// Go on with days under different luck until half of every headline interval is at most this: `5 min`, or `2 %` of
    /// its mean.
    #[arg(long, value_name = "WIDTH", value_parser = super::sampling::precision, conflicts_with_all = ["replications", "plan"])]
    pub precision: Option<Precision>,
    /// At most so many days for --precision.
    #[arg(long, value_name = "N", default_value_t = super::sampling::MOST_FOR_PRECISION, requires = "precision",
          value_parser = clap::value_parser!(u32).range(2..=i64::from(MOST_REPLICATIONS)))]
    pub at_most: u32,
    /// Threads; without it as many as the machine has.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
    /// Tell what holds in the long run: one long run, its warm-up left out, the rest in batches.
    #[arg(long, conflicts_with_all = ["out", "replications", "precision", "audit"])]
    pub steady: bool,
    /// Check every record again with code that shares nothing with the simulation.
    #[arg(long)]
    pub audit: bool,
    /// Follow this plan, as `tankday plan --out` writes it, instead of the rules.
    #[arg(long, value_name = "PLAN", conflicts_with = "steady")]
    pub plan: Option<PathBuf>,
    /// Fix what can be fixed in the plan, and say what was changed.
    #[arg(long, requires = "plan")]
    pub repair: bool,
    /// Tell what each order waits for.
    #[arg(long, conflicts_with_all = ["json", "steady"])]
    pub report: bool,
}

/// `tankday compare`.
#[derive(Debug, Args)]
pub(super) struct Compare {
    /// Scenarios; all others are held against the first.
    #[arg(required = true, num_args = 2..)]
    pub files: Vec<PathBuf>,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// How many replications, under which luck.
    #[command(flatten)]
    pub sampling: Sampling,
    /// Compare them though their orders differ.
    #[arg(long)]
    pub different_orders: bool,
    /// Compare once more with something taken otherwise in every scenario: `two pairs of hands: shop.hands=2`. The name
    /// may be left out; several settings stand with a `;` between them. As often as you like.
    #[arg(long, value_name = "[NAME: ]KEY=VALUE", value_parser = Assume::read, conflicts_with = "part")]
    pub assume: Vec<Assume>,
    /// Write charts and data into this folder.
    #[arg(long, value_name = "DIR", conflicts_with = "part")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
    /// Print one JSON object instead of the tables.
    #[arg(long)]
    pub json: bool,
}

/// `tankday sweep`.
#[derive(Debug, Args)]
pub(super) struct Sweep {
    /// The scenario.
    pub file: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// A key and its values: `tanks.black tank.fill=8 L..40 L/9`, `rules.next load=due first, arrived first`. Once or twice.
    #[arg(long = "vary", value_name = "KEY=VALUES", required = true)]
    pub vary: Vec<String>,
    /// Try so many more values where the curve bends most.
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u16).range(0..=200),
          conflicts_with = "part")]
    pub refine: u16,
    /// How many replications, under which luck.
    #[command(flatten)]
    pub sampling: Sampling,
    /// Write charts and data into this folder.
    #[arg(long, value_name = "DIR", conflicts_with = "part")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
    /// Print one JSON object instead of the table.
    #[arg(long)]
    pub json: bool,
}

/// `tankday join`.
#[derive(Debug, Args)]
pub(super) struct Join {
    /// What `--part` wrote, all parts of one study.
    #[arg(required = true)]
    pub parts: Vec<PathBuf>,
    /// Write charts and data into this folder.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
    /// Print one JSON object instead of the tables.
    #[arg(long)]
    pub json: bool,
}

/// `tankday plan`.
#[derive(Debug, Args)]
pub(super) struct Plan {
    /// The scenario.
    pub file: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// Write record, scenario, summary, day sheet and charts of the planned day into this folder.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
    /// Print one JSON object instead of the summary.
    #[arg(long)]
    pub json: bool,
    /// Random seed of the search and of the simulated days.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    pub seed: u64,
    /// How much to search: quick, normal, long, or a number of simulated days.
    #[arg(long, value_name = "EFFORT", default_value = "normal", value_parser = super::plan::effort)]
    pub effort: tankday_plan::Effort,
    /// Tell what would help beyond the plan: plan the day again, effort quick, with one thing after the other made easier.
    /// With --effort long it is told without asking.
    #[arg(long, conflicts_with = "at")]
    pub what_helps: bool,
    /// End with status 3 if the plan does not keep all due times and limits.
    #[arg(long)]
    pub strict: bool,
    /// Tell what each order waits for.
    #[arg(long, conflicts_with = "json")]
    pub report: bool,
    /// Plan the rest of a day that is under way from this time on, such as 10:40; nothing is begun before.
    #[arg(long, value_name = "TIME")]
    pub at: Option<String>,
    /// Notes of what has happened so far: loads in and out, steps done, late orders, readings of baths, care of them, top-ups.
    #[arg(long, value_name = "NOTES", requires = "at")]
    pub done: Option<PathBuf>,
}

/// `tankday promise`.
#[derive(Debug, Args)]
pub(super) struct Promise {
    /// The scenario with the orders that there are.
    pub file: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// The new order: `20 x wood screw, small steel, arrives: 10:30`, or a file with the keys of an order.
    #[arg(long, value_name = "ORDER")]
    pub order: String,
    /// On such a share of days it must be ready by the time promised.
    #[arg(long, value_name = "SHARE", default_value = "90 %", value_parser = super::promise::sure)]
    pub sure: tankday_base::units::Share,
    /// Days to simulate under different luck for each plan.
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u32).range(10..=10_000))]
    pub replications: u32,
    /// Random seed of the search and of the simulated days.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    pub seed: u64,
    /// How much to search for each plan: quick, normal, long, or a number of simulated days. Steps are large: 5,000 days do
    /// the same as quick, which is 1,500; normal is 14,000.
    #[arg(long, value_name = "EFFORT", default_value = "quick", value_parser = super::plan::effort)]
    pub effort: tankday_plan::Effort,
    /// Print one JSON object.
    #[arg(long)]
    pub json: bool,
    /// Write the plan that keeps the promise, and the scenario with the new order, into this folder.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
}

/// `tankday orders`.
#[derive(Debug, Args)]
pub(super) struct Orders {
    /// The table: a row of headings, then a row for each order. Cells are divided by `,`, `;` or tab.
    pub csv: PathBuf,
    /// The scenario that they go into; the file itself stays as it is.
    #[arg(long, value_name = "FILE")]
    pub into: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// The route of orders whose row names none.
    #[arg(long, value_name = "NAME")]
    pub route: Option<String>,
    /// How dates with slashes are written: `day first` or `month first`.
    #[arg(long, value_name = "ORDER")]
    pub dates: Option<String>,
    /// How counts with signs are written: `decimal comma` or `decimal point`.
    #[arg(long, value_name = "HOW")]
    pub numbers: Option<String>,
    /// What a heading means that is not understood by itself: `part=Artikel`. As often as you like.
    #[arg(long, value_name = "KEY=HEADING", value_parser = super::orders::column)]
    pub column: Vec<(String, String)>,
    /// Days to simulate under different luck, for the chance of each order; without it one day with mean times.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_REPLICATIONS)))]
    pub replications: Option<u32>,
    /// Random seed.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SEED)]
    pub seed: u64,
    /// Print one JSON object instead of the summary.
    #[arg(long)]
    pub json: bool,
    /// Write the results as a table, and the scenario with the orders written out, into this folder.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
}

/// `tankday audit`.
#[derive(Debug, Args)]
pub(super) struct Audit {
    /// The folder that `tankday run --out` wrote: what differs from its list of files is told, too.
    pub dir: PathBuf,
}

/// `tankday completions`.
#[derive(Debug, Args)]
pub(super) struct Completions {
    /// The shell.
    pub shell: clap_complete::Shell,
}

#[cfg(test)]
mod tests {
    use super::Typed;
    use clap::{CommandFactory, Parser};

    #[test]
    fn the_command_line_is_sound() {
        Typed::command().debug_assert();
    }

    #[test]
    fn no_replications_and_no_threads_are_refused() {
        for option in ["--replications", "--threads"] {
            assert!(Typed::try_parse_from(["tankday", "run", "a.yaml", option, "0"]).is_err());
        }
        assert!(Typed::try_parse_from(["tankday", "-q", "-v", "schema"]).is_err());
    }
}
