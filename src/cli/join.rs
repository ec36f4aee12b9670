//! `tankday join`: shares of a study, done by `--part`, put together and told like the undivided study.

use super::args::Join;
use super::compare::{self, Compared};
use super::exit::{Exit, Failure};
use super::sampling::Telling;
use super::settings::Saying;
use super::sweep::{self, Swept};
use super::{files, terminal};
use serde::{Deserialize, Serialize};
use tankday_study::shard::{Shard, joined};

/// A larger part is not read.
const MOST_BYTES: u64 = 1024 * 1024 * 1024;

/// What is written beside the readings of a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Setup {
    /// Of a comparison.
    Compare(Compared),
    /// Of a sweep.
    Sweep(Swept),
}

/// Puts them together.
///
/// # Errors
/// When a part cannot be read, is missing, is there twice or is of another study.
pub(super) fn join(typed: &Join, saying: Saying) -> Result<Exit, Failure> {
    let mut parts = Vec::new();
    for path in &typed.parts {
        let name = path.display().to_string();
        let text = files::read_text_up_to(path, MOST_BYTES)?;
        let part: Shard<Setup> = serde_json::from_str(&text)
            .map_err(|e| Failure::input(format!("{name} is not part of a study: {e}")))?;
        parts.push((name, part));
    }
    let (setup, readings) = joined(parts).map_err(Failure::input)?;
    let telling = Telling {
        json: typed.json,
        out: typed.out.clone(),
        force: typed.force,
        saying,
    };
    match setup {
        Setup::Compare(compared) => compare::tell(&telling, &compared.told(readings))?,
        Setup::Sweep(swept) => sweep::tell(&telling, &swept.told(readings))?,
    }
    Ok(Exit::Done)
}

/// Prints a part.
///
/// # Errors
/// When it cannot be written.
pub(super) fn print(part: &Shard<Setup>) -> Result<(), Failure> {
    let text =
        serde_json::to_string(part).map_err(|e| Failure::work(format!("cannot write the part: {e}")))?;
    terminal::print(&format!("{text}\n"))
}
