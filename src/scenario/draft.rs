//! A scenario that is read as YAML and not yet understood: other files are laid under it, values in it may be
//! changed by their path, and then it is understood.

use super::defaults::defaults;
use super::finding::{Code, Finding, Findings, Severity};
use super::node::{Node, SourceSpan, Value};
use super::source::Sources;
use super::walk::{Walk, twice};
use super::{Scenario, merge, path, understood, write, written, yaml};

/// Files that may extend each other in a row.
const LONGEST_CHAIN: usize = 16;

/// A file with its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    /// How it is called in print.
    pub name: String,
    /// What tells it from every other file, however it was called: two files with the same are one.
    pub id: String,
    /// Its text.
    pub text: String,
}

/// Fetches the file that another one extends: by the file that asks and the name written there. The error is a reason
/// in words.
pub type Fetch<'a> = &'a dyn Fn(&File, &str) -> Result<File, String>;

/// A scenario as written, all that it extends laid under it.
#[derive(Debug, Clone)]
pub struct Draft {
    pub(super) tree: Node,
    pub(super) sources: Sources,
    /// Whether it extends another or was changed, so that its own text does not tell all.
    pub(super) changed: bool,
    /// Warnings of what in a table of orders is not read.
    pub(super) unread: Vec<Finding>,
}

impl Draft {
    /// Reads a file and those that it extends.
    ///
    /// # Errors
    /// What is no YAML, cannot be fetched, extends itself, or removes what is not there.
    pub fn open(file: File, fetch: Fetch<'_>) -> Result<Self, Findings> {
        let mut sources = Sources::default();
        match chain(file, fetch, &mut sources) {
            Ok((tree, files)) => {
                let mut draft = Self {
                    tree,
                    sources,
                    changed: files > 1,
                    unread: Vec::new(),
                };
                draft.take_tables(fetch)?;
                Ok(draft)
            }
            Err(found) => Err(Findings::new(sources, found)),
        }
    }

    /// Puts a value where a path leads. `named` is how the place where path and value come from is called in print.
    ///
    /// # Errors
    /// A path that leads nowhere. Whether the value can be understood is found out by [`Draft::scenario`].
    pub fn set(&mut self, named: &str, path: &str, value: &str) -> Result<(), Findings> {
        let from = self.sources.add(named, &format!("{path}={value}"));
        let at = SourceSpan::new(from, from + path.len());
        let value_from = at.end + 1;
        let node = Node::of_text(
            value.to_owned(),
            SourceSpan::new(value_from, value_from + value.len()),
        );
        self.changed = true;
        path::set(&mut self.tree, path, at, node)
            .map_err(|finding| Findings::new(self.sources.clone(), vec![finding]))
    }

    /// What it means.
    ///
    /// # Errors
    /// Everything that is wrong with it, warnings included.
    pub fn scenario(&self) -> Result<Scenario, Findings> {
        let mut walk = Walk::default();
        let meant = understood(&self.tree, &mut walk);
        let granted = defaults().filter(|d| walk.granted.contains(d.key)).collect();
        walk.found.extend(self.unread.iter().cloned());
        let found = Findings::new(self.sources.clone(), walk.found);
        match meant {
            Some((shop, beside)) if found.list.iter().all(|f| f.weight == Severity::Warning) => {
                Ok(Scenario {
                    shop,
                    outlay: beside.outlay,
                    odds: beside.odds,
                    warnings: found,
                    granted,
                })
            }
            _ => Err(found),
        }
    }

    /// The files that it was read from, names and texts, in the order in which they were read.
    pub fn files(&self) -> impl Iterator<Item = (&str, &str)> {
        self.sources.texts()
    }

    /// The scenario in one text that stands alone: the file's own, unless it extends another or was changed.
    #[must_use]
    pub fn text(&self) -> String {
        match self.sources.texts().next() {
            Some((_, text)) if !self.changed => text.to_owned(),
            _ => write::text(&self.tree),
        }
    }
}

/// Reads a file and, first, what it extends; tells how many files those are.
fn chain(file: File, fetch: Fetch<'_>, sources: &mut Sources) -> Result<(Node, usize), Vec<Finding>> {
    let mut uppers: Vec<Layer> = Vec::new();
    let mut ids = Vec::new();
    let mut file = file;
    loop {
        let layer = Layer::of(&file, sources)?;
        ids.push(file.id.clone());
        let Some((written, at)) = layer.extends.clone() else {
            uppers.push(layer);
            break;
        };
        let refuse = |message: String| vec![Finding::new(Code::Contradiction, at, message)];
        if ids.len() == LONGEST_CHAIN {
            return Err(refuse(format!(
                "more than {LONGEST_CHAIN} files extend each other"
            )));
        }
        let lower = fetch(&file, &written).map_err(|why| {
            vec![Finding::error(Code::Missing, at).says(format!("`{written}` cannot be read: {why}"))]
        })?;
        if ids.contains(&lower.id) {
            return Err(refuse(format!("`{written}` extends this file in turn")));
        }
        uppers.push(layer);
        file = lower;
    }
    let files = uppers.len();
    let mut found = Vec::new();
    let mut tree: Option<Node> = None;
    for layer in uppers.into_iter().rev() {
        tree = Some(match tree {
            Some(lower) => layer.over(lower, &mut found),
            None => layer.bottom(&mut found),
        });
    }
    match tree {
        Some(tree) if found.is_empty() => Ok((tree, files)),
        _ => Err(found),
    }
}

/// One file, what it extends and what it removes taken out.
struct Layer {
    tree: Node,
    extends: Option<(String, SourceSpan)>,
    without: Option<Node>,
}

impl Layer {
    fn of(file: &File, sources: &mut Sources) -> Result<Self, Vec<Finding>> {
        let from = sources.add(&file.name, &file.text);
        let tree = yaml::load(&file.text)
            .map_err(|found| found.into_iter().map(|f| f.moved(from)).collect::<Vec<_>>())?;
        let mut tree = tree.moved(from);
        let extends = taken(&mut tree, written::File::_extends.name)?;
        let without = taken(&mut tree, written::File::_without.name)?;
        let extends = match extends {
            None => None,
            Some(node) => match node.text() {
                Some(text) => Some((text.to_owned(), node.at)),
                None => {
                    let message = "`extends` is written as the name of one file";
                    return Err(vec![
                        Finding::new(Code::WrongKind, node.at, message)
                            .label(format!("this is {}", node.kind())),
                    ]);
                }
            },
        };
        Ok(Self {
            tree,
            extends,
            without,
        })
    }

    /// The lowest file: it has nothing to remove.
    fn bottom(self, found: &mut Vec<Finding>) -> Node {
        if let Some(node) = self.without {
            let message = "`without` removes nothing here: this scenario extends no other";
            found.push(Finding::new(Code::Contradiction, node.at, message));
        }
        self.tree
    }

    fn over(self, mut lower: Node, found: &mut Vec<Finding>) -> Node {
        let mut walk = Walk::default();
        if let Some(without) = &self.without {
            for item in walk.items(without) {
                let removed = match item.text() {
                    Some(text) => path::remove(&mut lower, text, item.at),
                    None => Err(Finding::error(Code::WrongKind, item.at)
                        .says("`without` lists what is removed, each as a path such as `orders.A3`")),
                };
                found.extend(removed.err());
            }
        }
        merge::over(lower, self.tree)
    }
}

/// Takes a key out of the top of a tree.
fn taken(tree: &mut Node, key: &str) -> Result<Option<Node>, Vec<Finding>> {
    let Value::Map(entries) = &mut tree.value else {
        return Ok(None);
    };
    let Some(at) = entries.iter().position(|(k, _)| k.value == key) else {
        return Ok(None);
    };
    let (first, node) = entries.remove(at);
    match entries.iter().find(|(k, _)| k.value == key) {
        Some((second, _)) => Err(vec![twice(second, first.at)]),
        None => Ok(Some(node)),
    }
}
