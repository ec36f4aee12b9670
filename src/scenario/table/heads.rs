//! Headings of a table, in any order and by the words that people use.

use super::Asked;
use super::split::Cell;
use crate::finding::{Code, Finding};
use crate::misspelled::is_slip;
use crate::node::SourceSpan;
use crate::reader::TEXT;
use crate::thing::thing;
use crate::walk::list;
use crate::written::Order;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Head {
    Id,
    Part,
    Count,
    Route,
    Arrives,
    Due,
    Looks,
    LateCounts,
    Tank,
    Material,
    Mass,
    Area,
    Bulk,
    Held,
}

/// The words by which each is known, the plainest first.
const WORDS: [(Head, &[&str]); 14] = [
    (
        Head::Id,
        &[
            "order",
            "id",
            "order no",
            "order number",
            "no",
            "number",
            "job",
            "reference",
        ],
    ),
    (
        Head::Part,
        &["part", "item", "article", "piece", "description", "what"],
    ),
    (
        Head::Count,
        &["count", "quantity", "qty", "pieces", "pcs", "how many", "amount"],
    ),
    (Head::Route, &["route", "finish", "process", "treatment"]),
    (Head::Arrives, &["arrives", "arrival", "received", "comes", "in"]),
    (
        Head::Due,
        &[
            "due",
            "due date",
            "promised",
            "promised for",
            "wanted",
            "wanted by",
            "deadline",
        ],
    ),
    (Head::Looks, &["looks"]),
    (
        Head::LateCounts,
        &["late counts", "priority", "weight of being late"],
    ),
    (Head::Tank, &["tank"]),
    (Head::Material, &["material", "steel", "metal"]),
    (Head::Mass, &["mass", "weight", "mass each", "weight each"]),
    (Head::Area, &["area", "surface", "area each"]),
    (Head::Bulk, &["bulk", "volume"]),
    (Head::Held, &["held"]),
];

thing! {
    /// How headings are called.
    Columns "orders.columns", "a set of headings" {
        may "id" id: String = TEXT, "the heading of the order's name";
        may "part" part: String = TEXT, "the heading of the part";
        may "count" count: String = TEXT, "the heading of the pieces";
        may "route" route: String = TEXT, "the heading of the route";
        may "arrives" arrives: String = TEXT, "the heading of when it comes";
        may "due" due: String = TEXT, "the heading of when it must be ready";
        may "looks" looks: String = TEXT, "the heading of whether its looks matter";
        may "late counts" late: String = TEXT, "the heading of how much its being late counts";
        may "tank" tank: String = TEXT, "the heading of the tank it is meant for";
        may "material" material: String = TEXT, "the heading of what a piece is made of";
        may "mass" mass: String = TEXT, "the heading of the mass of a piece";
        may "area" area: String = TEXT, "the heading of the area of a piece";
        may "bulk" bulk: String = TEXT, "the heading of the room that a piece takes";
        may "held" held: String = TEXT, "the heading of how it is held";
    }
}

impl Columns {
    fn stated(&self) -> Vec<(Head, &crate::node::Spanned<String>)> {
        let all = [
            (Head::Id, &self.id),
            (Head::Part, &self.part),
            (Head::Count, &self.count),
            (Head::Route, &self.route),
            (Head::Arrives, &self.arrives),
            (Head::Due, &self.due),
            (Head::Looks, &self.looks),
            (Head::LateCounts, &self.late),
            (Head::Tank, &self.tank),
            (Head::Material, &self.material),
            (Head::Mass, &self.mass),
            (Head::Area, &self.area),
            (Head::Bulk, &self.bulk),
            (Head::Held, &self.held),
        ];
        all.into_iter()
            .filter_map(|(head, name)| Some((head, name.as_ref()?)))
            .collect()
    }
}

impl Head {
    /// The key of an order that it is; none for what describes a part.
    pub(super) fn key(self) -> Option<&'static str> {
        Some(match self {
            Self::Id => Order::id.name,
            Self::Part => Order::part.name,
            Self::Count => Order::count.name,
            Self::Route => Order::route.name,
            Self::Arrives => Order::arrives.name,
            Self::Due => Order::due.name,
            Self::Looks => Order::looks.name,
            Self::LateCounts => Order::weight.name,
            Self::Tank => Order::tanks.name,
            Self::Material | Self::Mass | Self::Area | Self::Bulk | Self::Held => return None,
        })
    }
}

/// Which column holds what.
pub(super) struct Heads {
    columns: Vec<Option<Head>>,
}

/// Small letters, single blanks, no marks.
fn simple(text: &str) -> String {
    let letters = text.chars().flat_map(char::to_lowercase);
    let plain: String = letters
        .map(|c| if c.is_alphanumeric() { c } else { ' ' })
        .collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

impl Heads {
    /// Understands the first row. What is called otherwise is left alone, unless it may be a slip of the pen. Says beside it
    /// what stands in no row: headings that were named and are not there.
    pub(super) fn of(row: &[Cell], asked: &Asked<'_>, found: &mut Vec<Finding>) -> (Self, Vec<Finding>) {
        let stated = asked
            .said
            .and_then(|f| f.columns.as_ref())
            .map(Columns::stated)
            .unwrap_or_default();
        let names: Vec<String> = row.iter().map(|c| simple(&c.text)).collect();
        let absent = stated
            .iter()
            .filter(|(_, name)| !names.contains(&simple(&name.value)));
        let unknown = absent.map(|(_, name)| {
            let message = format!("no heading of the table is `{}`", name.value);
            let all = list(row.iter().map(|c| c.text.as_str()));
            Finding::new(Code::UnknownName, name.at, message).help(format!("there is {all}"))
        });
        let unknown: Vec<Finding> = unknown.collect();
        let meant = |name: &String| {
            let own = stated
                .iter()
                .find(|(_, n)| simple(&n.value) == *name)
                .map(|(head, _)| *head);
            let taken = |head: &Head| stated.iter().any(|(h, _)| h == head);
            let known = WORDS
                .iter()
                .find(|(head, words)| !taken(head) && words.contains(&name.as_str()));
            own.or(known.map(|(head, _)| *head))
        };
        let columns: Vec<Option<Head>> = names.iter().map(meant).collect();
        let heads = Self { columns };
        let meant = heads.slips(row, &names, found);
        heads.twice(row, found);
        heads.missing(row, (asked, &meant), found);
        (heads, unknown)
    }

    /// Says which headings may be a slip of the pen, and what they may be.
    fn slips(&self, row: &[Cell], names: &[String], found: &mut Vec<Finding>) -> Vec<Head> {
        let mut meant = Vec::new();
        let unknown = row
            .iter()
            .zip(names)
            .zip(&self.columns)
            .filter(|(_, head)| head.is_none());
        for ((cell, name), _) in unknown {
            let words = WORDS
                .iter()
                .flat_map(|(head, words)| words.iter().map(move |w| (*head, *w)));
            let near = words
                .filter(|(head, _)| !self.has(*head))
                .find(|(_, word)| is_slip(name, word));
            if let Some((head, near)) = near {
                let finding = Finding::new(
                    Code::UnknownName,
                    cell.at,
                    format!("no heading is `{}`", cell.text),
                );
                found.push(finding.label(format!("did you mean `{near}`?")));
                meant.push(head);
            }
        }
        meant
    }

    fn twice(&self, row: &[Cell], found: &mut Vec<Finding>) {
        for (i, (cell, head)) in row.iter().zip(&self.columns).enumerate() {
            let first = self.columns.iter().position(|h| h == head);
            if let Some(first) = first.filter(|first| head.is_some() && *first < i) {
                let message = format!("`{}` says the same as a heading before it", cell.text);
                let other = row.get(first).map_or(cell.at, |c| c.at);
                let finding = Finding::new(Code::Duplicate, cell.at, message);
                found.push(
                    finding
                        .and(other, "here")
                        .help("say which one counts: `columns: {count: pieces}`"),
                );
            }
        }
    }

    fn missing(&self, row: &[Cell], (asked, meant): (&Asked<'_>, &[Head]), found: &mut Vec<Finding>) {
        let at = row.first().map_or(SourceSpan::default(), |c| c.at);
        let route = asked.said.is_some_and(|f| f.route.is_some()) || asked.route.is_some();
        for (head, what) in [
            (Head::Part, "part"),
            (Head::Count, "count"),
            (Head::Route, "route"),
        ] {
            if self.has(head) || meant.contains(&head) || (head == Head::Route && route) {
                continue;
            }
            let words = WORDS
                .iter()
                .find(|(h, _)| *h == head)
                .map_or(&[][..], |(_, words)| words);
            let known = list(words.iter().copied());
            let help = match head {
                Head::Route => {
                    format!("head a column with one of {known}, or write `route: …` beside `from`")
                }
                _ => format!("head it with one of {known}, or name yours: `columns: {{{what}: …}}`"),
            };
            found.push(Finding::new(Code::Missing, at, format!("no column holds the {what}")).help(help));
        }
    }

    /// Says which columns are not read, with anything written over them.
    pub(super) fn unread(&self, row: &[Cell], asked: &Asked<'_>) -> Option<Finding> {
        let left = asked
            .said
            .and_then(|f| f.unread.as_ref())
            .map_or("", |n| n.value.as_str());
        let on_purpose = |cell: &Cell| left.split(',').any(|name| simple(name) == simple(&cell.text));
        let all = row.iter().zip(&self.columns);
        let unread = all.filter(|(cell, head)| head.is_none() && !cell.text.is_empty() && !on_purpose(cell));
        let unread: Vec<&Cell> = unread.map(|(cell, _)| cell).collect();
        let (first, named) = (unread.first()?, list(unread.iter().map(|c| c.text.as_str())));
        let message = match unread.len() {
            1 => format!("the column {named} is not read"),
            _ => format!("the columns {named} are not read"),
        };
        let names: Vec<&str> = unread.iter().map(|c| c.text.as_str()).collect();
        let help = format!(
            "name what counts of it by its key: `columns: {{part: …}}`, `--column part=…`; or leave it on purpose: `not read: {}`",
            names.join(", ")
        );
        Some(Finding::warning(Code::UnknownKey, first.at, message).help(help))
    }

    pub(super) fn has(&self, head: Head) -> bool {
        self.columns.contains(&Some(head))
    }

    /// How many headings there are.
    pub(super) fn many(&self) -> usize {
        self.columns.len()
    }

    /// The cell of a row, if anything stands in it.
    pub(super) fn cell<'r>(&self, head: Head, row: &'r [Cell]) -> Option<&'r Cell> {
        let at = self.columns.iter().position(|h| *h == Some(head))?;
        row.get(at).filter(|c| !c.text.is_empty())
    }

    /// Cells of a row in which something stands, each with what it is.
    pub(super) fn cells<'r>(&self, row: &'r [Cell]) -> impl Iterator<Item = (Head, &'r Cell)> {
        let all = self.columns.iter().zip(row);
        let told: Vec<(Head, &Cell)> = all.filter_map(|(h, c)| Some(((*h)?, c))).collect();
        told.into_iter().filter(|(_, c)| !c.text.is_empty())
    }
}
