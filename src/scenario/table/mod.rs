//! Orders from a table: `orders: {from: orders.csv}`. Each row becomes an order whose values stand where the row has them, so
//! that whatever is wrong with one is said at its row and column.

mod cells;
mod heads;
mod into;
mod split;

use super::finding::{Code, Finding};
use super::node::{Node, SourceSpan, Spanned, Value};
use super::part_name::part_meant;
use super::reader::{NAME, TEXT};
use super::rules::not_known;
use super::thing::{thing, words};
use super::time;
use super::walk::MOST_FINDINGS;
use super::written::{Order, Part};
use cells::Unclear;
use heads::{Head, Heads};
use split::Cell;

/// What stands first in a date with slashes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Dates {
    DayFirst,
    MonthFirst,
}

/// What divides a whole number from its decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Numbers {
    DecimalComma,
    DecimalPoint,
}

thing! {
    /// Orders from a file.
    From "orders.from", "a table of orders" {
        must "from" from: String = NAME, "a table of orders, such as orders.csv: a row of headings, then a row for each";
        may "route" route: String = NAME, "which way through the shop orders go whose row names none";

        may "not read" unread: String = TEXT, "headings that are left unread on purpose: Customer, Note";
        may thing "columns" columns: heads::Columns, "how the headings are called that are not understood by themselves";
        may "dates" dates: Dates = words!("day first" => Dates::DayFirst, "month first" => Dates::MonthFirst),
            "how dates with slashes are written: day first, month first";
        may "numbers" numbers: Numbers
            = words!("decimal comma" => Numbers::DecimalComma, "decimal point" => Numbers::DecimalPoint),
            "how counts with signs are written: decimal comma, decimal point";
    }
}

/// What a table was read as.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct OrderTable {
    /// Headings as written.
    pub headings: Vec<String>,
    /// Each row: the name of its order, and its cells as written.
    pub rows: Vec<(String, Vec<String>)>,
}

/// What is known of a table before its rows are read.
pub(super) struct Asked<'a> {
    pub(super) said: Option<&'a From>,
    /// Where the table is asked for, for what concerns no row.
    pub(super) at: SourceSpan,
    /// Names of the parts that the scenario has.
    pub(super) parts: Vec<String>,
    /// The only route of the scenario, if it has one.
    pub(super) route: Option<String>,
}

/// What a table gives: orders, and parts that its rows describe.
pub(super) struct Given {
    pub(super) orders: Vec<Node>,
    pub(super) parts: Vec<(Spanned<String>, Node)>,
    pub(super) table: OrderTable,
    /// Warnings: headings that are not read.
    pub(super) unread: Vec<Finding>,
}

/// Reads a table whose text begins at `from` among all sources.
///
/// # Errors
/// Everything that is wrong with it.
pub(super) fn orders(text: &str, from: usize, asked: &Asked<'_>) -> Result<Given, Vec<Finding>> {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let skipped = text.len() - body.len();
    let mut rows = split::rows(body).into_iter();
    let Some(first) = rows.next() else {
        let empty = Finding::new(Code::Missing, asked.at, "this table is empty");
        return Err(vec![
            empty.help("the first row holds headings, such as `order; part; count; due`"),
        ]);
    };
    let mut reading = Reading {
        asked,
        found: Vec::new(),
        order: None,
        parts: Vec::new(),
    };
    let (heads, unknown) = Heads::of(&first, asked, &mut reading.found);
    let rows: Vec<Vec<Cell>> = rows.collect();
    reading.order = dates(asked, &heads, &rows);
    let mut given = Given {
        orders: Vec::new(),
        parts: Vec::new(),
        table: OrderTable::default(),
        unread: heads
            .unread(&first, asked)
            .into_iter()
            .map(|f| f.moved(from + skipped))
            .collect(),
    };
    given.table.headings = first.iter().map(|c| c.text.clone()).collect();
    for (number, row) in rows.iter().enumerate() {
        if reading.found.len() >= MOST_FINDINGS {
            break;
        }
        let order = reading.order(&heads, row, number + 1);
        let id = order
            .key(Order::id.name)
            .and_then(Node::text)
            .unwrap_or_default()
            .to_owned();
        given
            .table
            .rows
            .push((id, row.iter().map(|c| c.text.clone()).collect()));
        given.orders.push(order.moved(from + skipped));
    }
    let found: Vec<Finding> = reading
        .found
        .into_iter()
        .map(|f| f.moved(from + skipped))
        .chain(unknown)
        .collect();
    if !found.is_empty() {
        return Err(found);
    }
    let moved = |(name, node): (Spanned<String>, Node)| {
        (
            Spanned::new(name.value, name.at.moved(from + skipped)),
            node.moved(from + skipped),
        )
    };
    given.parts = reading.parts.into_iter().map(moved).collect();
    Ok(given)
}

/// The order of day and month: as stated, or as any date of the table proves.
fn dates(asked: &Asked<'_>, heads: &Heads, rows: &[Vec<Cell>]) -> Option<Dates> {
    let stated = asked.said.and_then(|f| f.dates.as_ref()).map(|d| d.value);
    let timed = |row: &Vec<Cell>| {
        let cells = [Head::Arrives, Head::Due]
            .into_iter()
            .filter_map(|head| heads.cell(head, row));
        cells.filter_map(|c| cells::proven(&c.text)).next()
    };
    stated.or_else(|| rows.iter().find_map(timed))
}

/// A table under way.
struct Reading<'a> {
    asked: &'a Asked<'a>,
    found: Vec<Finding>,
    order: Option<Dates>,
    /// Parts that rows describe.
    parts: Vec<(Spanned<String>, Node)>,
}

impl Reading<'_> {
    /// The order of a row; what of it cannot be read is found and left out.
    fn order(&mut self, heads: &Heads, row: &[Cell], number: usize) -> Node {
        let at = match (row.first(), row.last()) {
            (Some(first), Some(last)) => SourceSpan::new(first.at.start, last.at.end),
            _ => SourceSpan::default(),
        };
        self.too_many(heads, row);
        let mut entries = Vec::new();
        let mut put = |key: &str, text: String, at: SourceSpan| {
            entries.push((Spanned::new(key.to_owned(), at), Node::of_text(text, at)));
        };
        if !heads.has(Head::Id) || heads.cell(Head::Id, row).is_none() {
            put(Order::id.name, format!("row {number}"), at);
        }
        for (head, cell) in heads.cells(row) {
            let Some(key) = head.key() else { continue };
            match self.value(head, cell) {
                Ok(text) => put(key, text, cell.at),
                // What holds for the whole table is asked once.
                Err(unclear) if unclear.asks && self.found.iter().any(|f| f.help == unclear.help) => {}
                Err(Unclear { message, help, .. }) => {
                    self.found
                        .push(Finding::new(Code::Order, cell.at, message).help(help));
                }
            }
        }
        if heads.has(Head::Count) && heads.cell(Head::Count, row).is_none() {
            let none = Finding::new(Code::Missing, at, "this row doesn't say how many pieces");
            self.found.push(none.help("write a count, or take the row out"));
        }
        if heads.cell(Head::Route, row).is_none()
            && let Some(route) = self.usual_route()
        {
            put(Order::route.name, route, at);
        }
        self.describe(heads, row);
        Node::new(Value::Map(entries), at)
    }

    fn usual_route(&self) -> Option<String> {
        let stated = self.asked.said.and_then(|f| f.route.as_ref());
        stated
            .map(|r| r.value.clone())
            .or_else(|| self.asked.route.clone())
    }

    fn value(&self, head: Head, cell: &Cell) -> Result<String, Unclear> {
        match head {
            Head::Count => {
                let how = self.asked.said.and_then(|f| f.numbers.as_ref()).map(|n| n.value);
                cells::count(&cell.text, how).map(|n| n.to_string())
            }
            Head::Due => cells::moment(&cell.text, self.order, time::CLOSING),
            Head::Arrives => cells::moment(&cell.text, self.order, time::OPENING),
            Head::Part => Ok(self.part_named(&cell.text)),
            _ => Ok(cell.text.clone()),
        }
    }

    /// The part by its name in the scenario, or in a row before.
    fn part_named(&self, typed: &str) -> String {
        let described = self.parts.iter().map(|(name, _)| name.value.as_str());
        let names = self.asked.parts.iter().map(String::as_str).chain(described);
        part_meant(names, typed).unwrap_or(typed).to_owned()
    }

    /// More cells than headings: a comma inside a number, or a quote that is missing.
    fn too_many(&mut self, heads: &Heads, row: &[Cell]) {
        let extra = row.iter().skip(heads.many()).find(|c| !c.text.is_empty());
        if let Some(cell) = extra {
            let message = format!(
                "this row has {} cells, and there are {} headings",
                row.len(),
                heads.many()
            );
            let help = "put quotes around a text or a number that holds the sign between cells: `\"1,5\"`";
            self.found.push(
                Finding::new(Code::Syntax, cell.at, message)
                    .label("one too many")
                    .help(help),
            );
        }
    }

    /// A part that no scenario knows and whose row says what it is made of becomes one.
    fn describe(&mut self, heads: &Heads, row: &[Cell]) {
        let Some(name) = heads.cell(Head::Part, row) else {
            return;
        };
        let meant = self.part_named(&name.text);
        let known = self.asked.parts.contains(&meant) || self.parts.iter().any(|(k, _)| k.value == meant);
        let told = [Head::Material, Head::Mass, Head::Area];
        if known {
            return;
        }
        if !told.iter().all(|head| heads.cell(*head, row).is_some()) {
            let name = Spanned::new(name.text.clone(), name.at);
            let finding = not_known(&name, "part", self.asked.parts.iter().map(String::as_str));
            let help = format!(
                "{}; or describe it in the row: material, mass and area",
                finding.help
            );
            self.found.push(finding.help(help));
            return;
        }
        let keys = [
            (Head::Material, Part::material.name),
            (Head::Mass, Part::mass.name),
            (Head::Area, Part::area.name),
            (Head::Bulk, Part::bulk.name),
            (Head::Held, Part::held.name),
        ];
        let cell = |(head, key): (Head, &str)| {
            let cell = heads.cell(head, row)?;
            let key = Spanned::new(key.to_owned(), cell.at);
            Some((key, Node::of_text(cell.text.clone(), cell.at)))
        };
        let entries = keys.into_iter().filter_map(cell).collect();
        let name = Spanned::new(name.text.clone(), name.at);
        let at = name.at;
        self.parts.push((name, Node::new(Value::Map(entries), at)));
    }
}
