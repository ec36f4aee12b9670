//! `tankday orders`: orders from a spreadsheet, and what becomes of them back to it.

use super::args::Orders as Typed;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder};
use super::load::{draft, rendered, understood};
use super::reckon::{NoResults, Reckoned};
use super::sets::Sets;
use super::settings::Saying;
use super::terminal::{self, Terminal};
use super::{files, json, summary};
use tankday_base::print::{Line, Style, wrap};
use tankday_output::sheet::order_results;

/// The scenario with the orders written out, and the table with its results.
const SCENARIO: &str = "scenario.yaml";
const RESULTS: &str = "results.csv";

/// Reads `part=Artikel`.
///
/// # Errors
/// When no heading is named.
pub(super) fn column(text: &str) -> Result<(String, String), String> {
    let named = text
        .split_once('=')
        .filter(|(k, v)| !k.trim().is_empty() && !v.trim().is_empty());
    let (key, heading) = named.ok_or_else(|| format!("`{text}` is no KEY=HEADING such as part=Artikel"))?;
    Ok((format!("columns.{}", key.trim()), heading.trim().to_owned()))
}

/// Reads them, runs the day with them, and gives the results back.
///
/// # Errors
/// When table or scenario are wrong, when standard output or a file cannot be written.
pub(super) fn orders(typed: &Typed, saying: Saying) -> Result<Exit, Failure> {
    let mut draft = draft(&typed.into, &Sets::default())?;
    let name = typed.csv.display().to_string();
    let text = files::table_of(&typed.csv, files::MOST_BYTES)
        .map_err(|why| Failure::input(format!("cannot read {name}: {why}")))?;
    let stated = [
        ("route", &typed.route),
        ("dates", &typed.dates),
        ("numbers", &typed.numbers),
    ];
    let stated = stated
        .into_iter()
        .filter_map(|(key, value)| Some((key.to_owned(), value.clone()?)));
    let said: Vec<(String, String)> = stated.chain(typed.column.iter().cloned()).collect();
    let table = draft
        .add_table(&name, &text, &said)
        .map_err(|f| Failure::input(rendered(&f)))?;
    typed.set.put(std::slice::from_mut(&mut draft))?;
    let scenario = understood(&draft, saying)?;
    let shop = &scenario.shop;
    if let Some(dir) = &typed.out {
        let wanted = [(SCENARIO, None), (RESULTS, None)];
        Folder::new(dir, typed.force, saying).would_take(wanted)?;
    }
    let reckoned = match Reckoned::of(shop, None, typed.seed, typed.replications, false) {
        Ok(reckoned) => reckoned,
        Err(NoResults::TooLong) => {
            return Err(Failure::input("the days are too long for results of each order"));
        }
        Err(NoResults::Unsound(failure)) => return Err(failure),
    };
    let results = reckoned.results(shop);
    if let Some(dir) = &typed.out {
        let set = [
            (SCENARIO.to_owned(), draft.text().into_bytes()),
            (RESULTS.to_owned(), order_results(&results, &table).into_bytes()),
        ];
        Folder::new(dir, typed.force, saying).write(&set, Earlier::Goes)?;
    }
    if typed.json {
        terminal::print(&format!("{:#}\n", json::object(&results)))?;
    } else {
        let screen = Terminal::standard_output();
        let mut lines = match saying {
            Saying::Little => summary::answer(&results, screen.columns),
            _ => summary::lines(&results, screen),
        };
        if let Some(dir) = typed.out.as_ref().filter(|_| saying > Saying::Little) {
            let words = format!("Written into {}: {RESULTS}, {SCENARIO}", dir.display());
            lines.push(Line::empty());
            lines.extend(
                wrap(&words, screen.columns)
                    .into_iter()
                    .map(|w| Line::of(Style::Dim, w)),
            );
        }
        terminal::print_lines(&lines, screen.paper)?;
    }
    let ready = |p: &summary::Promise<'_>| p.sure > summary::Sure::Cannot;
    Ok(if summary::promises(&results).iter().all(ready) {
        Exit::Done
    } else {
        Exit::CannotBeDone
    })
}
