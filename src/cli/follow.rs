//! Reading a plan for a scenario: refused with everything that is wrong with it, or mended where that is asked for.

use super::exit::Failure;
use super::load::rendered;
use super::settings::Saying;
use super::{files, terminal};
use std::path::Path;
use tankday_base::shop::Shop;
use tankday_line::{Line, Plan};
use tankday_plan::plan_file::{delays, repair, understand};
use tankday_scenario::PlanFile;

/// The plan in a file. What comes otherwise than written, and what was mended, goes to standard error.
///
/// # Errors
/// Wrong input: the file cannot be read, or its plan cannot be followed.
pub(super) fn followed(path: &Path, shop: &Shop, mend: bool, saying: Saying) -> Result<Plan, Failure> {
    let text = files::read_text(path)?;
    let refused = |found: &tankday_scenario::Findings| Failure::input(rendered(found));
    let mut file =
        PlanFile::read(&path.display().to_string(), &text, &shop.calendar).map_err(|f| refused(&f))?;
    let line = Line::new(shop);
    let mut changes = Vec::new();
    if mend {
        (file, changes) = repair(shop, &line, &file);
    }
    let meant = understand(shop, &line, &file).map_err(|f| refused(&f))?;
    if saying > Saying::Little {
        if mend && changes.is_empty() {
            terminal::tell("Nothing in the plan had to be fixed.");
        } else if mend {
            terminal::tell(&format!("Fixed in the plan:\n  {}", changes.join("\n  ")));
        }
        let delays = delays(shop, &line, &file, &meant);
        if !delays.is_empty() {
            terminal::tell(&rendered(&delays));
        }
    }
    Ok(meant.plan)
}
