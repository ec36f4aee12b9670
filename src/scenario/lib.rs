//! The scenario: YAML that a finisher reads aloud, to a checked [`Shop`].
//!
//! Reading goes through four stages, and every mistake of the first three is collected before anything is refused:
//! the text becomes a tree of nodes that know their places (`yaml`), the tree becomes values (`written`), the values
//! are checked against each other (`rules`), and what has passed becomes a shop (`resolve`).
//!
//! Each key is declared once, at its thing in `written`; the macro in `thing` makes of it what reads it, what messages say
//! of it, its place in the schema and its default. Between which values its number usually lies stands in `usual`.

mod amount;
mod calendar;
mod defaults;
mod draft;
mod every_week;
mod fields;
mod finding;
mod holds;
mod kinds;
mod known_as;
mod load_line;
mod meant_time;
mod measure;
mod merge;
mod misspelled;
mod money;
mod names;
mod nearest;
mod node;
mod noted;
mod noted_bath;
mod notes;
mod one_order;
mod part_name;
mod path;
mod plan_file;
mod reader;
mod render;
mod resolve;
mod rules;
mod said_date;
mod schema;
mod slip;
mod slip_line;
mod slip_read;
mod source;
mod starter;
mod steps;
mod table;
mod thing;
mod time;
mod units;
mod usual;
mod value;
mod walk;
mod week_hours;
mod weekly;
mod write;
mod written;
mod written_days;
mod yaml;

pub use defaults::{DefaultValue, Fixed, constant, defaults, fixed};
pub use draft::{Draft, Fetch, File};
pub use finding::{Code, Finding, Findings, Severity};
pub use kinds::kinds;
pub use load_line::pieces_in;
pub use nearest::nearest;
pub use node::{SourceSpan, Spanned};
pub use noted_bath::{NotedCare, NotedWater};
pub use notes::{Lots, NotedLate, NotedLoad, NotedReading, NotedStep, NotedWhose, Notes, Seen, moment_of};
pub use plan_file::{Held, PlanFile, Whose, WrittenCare, WrittenHeat, WrittenLoad, WrittenTask};
pub use schema::schema;
pub use source::Sources;
pub use starter::starter;
pub use table::OrderTable;

use tankday_base::shop::{Odds, Shop};
use tankday_base::units::Share;
use walk::Walk;
pub use walk::list as listed;
pub use write::plain_or_quoted;

/// A scenario that can be run.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenario {
    /// The shop that it means.
    pub shop: Shop,
    /// What it costs to buy and set up, in the shop's currency; none if nothing is said about it.
    pub outlay: Option<f64>,
    /// Share of loads that fail although nothing happened to them, and by how much each cause multiplies the odds.
    pub odds: Option<(Share, Odds)>,
    /// What somebody should look at, though it can be run.
    pub warnings: Findings,
    /// Defaults that stand for what was left out somewhere, in the order of the table of defaults.
    pub granted: Vec<&'static DefaultValue>,
}

/// Reads a scenario that stands alone; `name` is how the file is called in print. One that extends another is read
/// by [`Draft::open`].
///
/// # Errors
/// Everything that is wrong with it, warnings included, in the order of the text. Mistakes of YAML itself stop at the
/// first, since nothing after it can be understood.
pub fn read(name: &str, text: &str) -> Result<Scenario, Findings> {
    let file = File {
        name: name.to_owned(),
        id: name.to_owned(),
        text: text.to_owned(),
    };
    Draft::open(file, &|_, _| Err("no other file is at hand".to_owned()))?.scenario()
}

/// What a scenario says beside its shop.
struct Beside {
    outlay: Option<f64>,
    odds: Option<(Share, Odds)>,
}

/// The shop that a tree means and what is said beside it, if nothing is wrong.
fn understood(tree: &node::Node, walk: &mut Walk) -> Option<(Shop, Beside)> {
    let mut file = written::File::of_tree(tree, walk)?;
    let hours = calendar::hours(&file.days, walk);
    every_week::write_out(&mut file, hours.as_ref(), walk);
    let names = names::Names::of(&file);
    let facts = rules::Facts {
        file: &file,
        names: &names,
        hours: hours.as_ref(),
    };
    for finding in rules::check(&facts) {
        walk.add(finding);
    }
    walk.say_odd();
    if walk.found.iter().any(|f| f.weight == Severity::Error) {
        return None;
    }
    let beside = Beside {
        outlay: file.outlay.as_ref().map(|o| o.value),
        odds: resolve::stated_odds(&file),
    };
    let context = hours.as_ref().map(|hours| resolve::Context {
        file: &file,
        names: &names,
        hours,
    });
    let shop = context.and_then(|context| context.shop(walk));
    for finding in shop.iter().flat_map(|shop| rules::of_shop(&facts, shop)) {
        walk.add(finding);
    }
    if shop.is_none() {
        let at = SourceSpan::default();
        walk.add(
            Finding::error(Code::Missing, at).says("something in this scenario could not be understood"),
        );
    }
    shop.map(|shop| (shop, beside))
}
