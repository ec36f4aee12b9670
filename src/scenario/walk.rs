//! Walks the tree of nodes and collects every finding on the way instead of stopping at the first.

use super::defaults;
use super::finding::{Code, Finding};
use super::keys::{Key, Table};
use super::nearest::nearest;
use super::node::{Node, Place, Spot, Value};
use std::collections::BTreeSet;

/// How a value is read: what it means, or nothing and at least one finding.
pub(super) type Read<T> = fn(&Node, &mut Walk) -> Option<T>;

/// The findings so far.
#[derive(Debug, Default)]
pub(super) struct Walk {
    /// All of them, in the order found.
    pub(super) found: Vec<Finding>,
    /// Keys that were left out somewhere, so that their default was taken.
    pub(super) granted: BTreeSet<&'static str>,
}

/// Findings beyond this number are not kept: nobody reads them.
pub(super) const MOST_FINDINGS: usize = 1_000;

impl Walk {
    /// Notes a finding.
    pub(super) fn add(&mut self, finding: Finding) {
        if self.found.len() < MOST_FINDINGS {
            self.found.push(finding);
        }
    }

    /// The items of a list; a single value counts as a list of one.
    pub(super) fn items<'a>(&mut self, node: &'a Node) -> &'a [Node] {
        match &node.value {
            Value::List(items) => items,
            Value::Empty => &[],
            _ => std::slice::from_ref(node),
        }
    }

    /// Reads each item of a list, leaving out those that cannot be read; refuses more than `most`.
    pub(super) fn list<T>(&mut self, node: &Node, what: &str, most: usize, read: Read<T>) -> Vec<T> {
        let items = self.items(node);
        if items.len() > most {
            self.add(Finding::new(
                Code::Limit,
                node.at,
                format!("{} {what} are more than the {most} that are read", items.len()),
            ));
            return Vec::new();
        }
        items.iter().filter_map(|i| read(i, self)).collect()
    }

    /// Names with their values: `wood screw: {...}`; refuses more than `most` and a name that stands twice.
    pub(super) fn named<'a>(
        &mut self,
        node: &'a Node,
        what: &str,
        most: usize,
    ) -> Vec<(&'a Spot<String>, &'a Node)> {
        let Value::Map(entries) = &node.value else {
            if !matches!(node.value, Value::Empty) {
                self.add(
                    Finding::new(
                        Code::WrongKind,
                        node.at,
                        format!("{what} are written as names with their values"),
                    )
                    .label(format!("this is {}", node.kind()))
                    .help("write each as its name, a colon, then its keys on lines of their own"),
                );
            }
            return Vec::new();
        };
        if entries.len() > most {
            let n = entries.len();
            self.add(Finding::new(
                Code::Limit,
                node.at,
                format!("{n} {what} are more than the {most} that are read"),
            ));
            return Vec::new();
        }
        self.once(entries.iter().map(|(k, v)| (k, v)), |(k, _)| k)
    }

    /// The same for things that own their names.
    pub(super) fn once_by<T>(&mut self, all: Vec<T>, name: impl Fn(&T) -> &Spot<String>) -> Vec<T> {
        let mut seen = std::collections::BTreeMap::new();
        let mut kept: Vec<T> = Vec::new();
        for one in all {
            let spot = name(&one).clone();
            match seen.get(&spot.value) {
                Some(first) => self.add(twice(&spot, *first)),
                None => {
                    seen.insert(spot.value, spot.at);
                    kept.push(one);
                }
            }
        }
        kept
    }

    /// Leaves out what bears a name that was borne before, with a finding.
    pub(super) fn once<'a, T>(
        &mut self,
        all: impl Iterator<Item = T>,
        name: impl Fn(&T) -> &'a Spot<String>,
    ) -> Vec<T> {
        let mut seen = std::collections::BTreeMap::new();
        let mut kept = Vec::new();
        for one in all {
            let spot = name(&one);
            match seen.get(spot.value.as_str()) {
                Some(first) => self.add(twice(spot, *first)),
                None => {
                    seen.insert(spot.value.as_str(), spot.at);
                    kept.push(one);
                }
            }
        }
        kept
    }
}

/// A name or key that stands twice.
pub(super) fn twice(second: &Spot<String>, first: Place) -> Finding {
    Finding::new(
        Code::Duplicate,
        second.at,
        format!("`{}` stands here a second time", second.value),
    )
    .label("again")
    .and(first, "first here")
    .help("remove one of the two, or give it another name")
}

/// The keys and values of one thing, checked against the keys that it may have.
pub(super) struct Fields<'a, 'w> {
    entries: Vec<Entry<'a>>,
    table: &'static Table,
    /// The findings.
    pub(super) walk: &'w mut Walk,
    /// The whole thing.
    pub(super) at: Place,
}

impl<'a, 'w> Fields<'a, 'w> {
    /// Of a node that should be keys with values; reports unknown, repeated and missing keys.
    pub(super) fn new(node: &'a Node, table: &'static Table, walk: &'w mut Walk) -> Option<Self> {
        Self::of(head(node), node, table, walk)
    }

    /// The same for a thing whose name stands elsewhere.
    pub(super) fn of(name: Place, node: &'a Node, table: &'static Table, walk: &'w mut Walk) -> Option<Self> {
        let entries = match &node.value {
            Value::Map(entries) => entries.as_slice(),
            Value::Empty => &[],
            _ => {
                walk.add(not_keys(node, table));
                return None;
            }
        };
        let entries = walk.once(entries.iter().map(|(k, v)| (k, v)), |(k, _)| k);
        let entries = walk.known_keys(entries, name, table);
        Some(Self {
            entries,
            table,
            walk,
            at: name,
        })
    }

    /// Of a thing that is not written at all, so that all of it has its defaults.
    pub(super) fn absent(table: &'static Table, walk: &'w mut Walk, at: Place) -> Self {
        Self {
            entries: Vec::new(),
            table,
            walk,
            at,
        }
    }

    /// Of a thing within this one, with all its defaults if it is not written.
    pub(super) fn inner(&mut self, key: &str, table: &'static Table) -> Option<Fields<'a, '_>> {
        match (self.node(key), self.place(key)) {
            (Some(node), Some(at)) => Fields::of(at, node, table, self.walk),
            _ => Some(Fields::absent(table, self.walk, self.at)),
        }
    }

    /// Whether the key is written.
    pub(super) fn has(&self, key: &str) -> bool {
        self.node(key).is_some()
    }

    /// Where the key stands, if it is written.
    pub(super) fn place(&self, key: &str) -> Option<Place> {
        self.entries
            .iter()
            .find(|(k, ..)| *k == key)
            .map(|(_, at, _)| *at)
    }

    /// Every key that is written, and where.
    pub(super) fn written(&self) -> Vec<(&'static str, Place)> {
        self.entries.iter().map(|(k, at, _)| (*k, *at)).collect()
    }

    /// The node of a key.
    pub(super) fn node(&self, key: &str) -> Option<&'a Node> {
        debug_assert!(
            self.table.keys.iter().any(|k| k.name == key),
            "{key} is not in its table"
        );
        self.entries
            .iter()
            .find(|(k, ..)| *k == key)
            .map(|(.., node)| *node)
    }

    /// The value of a key, if it is written and can be read.
    pub(super) fn get<T>(&mut self, key: &str, read: Read<T>) -> Option<Spot<T>> {
        let node = self.node(key)?;
        if matches!(node.value, Value::Empty) {
            self.walk.add(
                Finding::new(Code::Missing, node.at, format!("`{key}` has no value")).help(self.about(key)),
            );
            return None;
        }
        read(node, self.walk).map(|value| Spot::new(value, node.at))
    }

    /// The value of a key, or its default from the table of defaults.
    pub(super) fn or<T>(&mut self, key: &str, read: Read<T>) -> Option<Spot<T>> {
        if self.has(key) {
            return self.get(key, read);
        }
        let path = format!("{}.{key}", self.table.path);
        let Some(default) = defaults::find(&path) else {
            self.walk.add(Finding::new(
                Code::Missing,
                self.at,
                format!("`{path}` has no default"),
            ));
            return None;
        };
        self.walk.granted.insert(default.key);
        let node = Node {
            value: Value::Text(default.value.to_owned()),
            at: self.at,
        };
        read(&node, self.walk).map(|value| Spot::new(value, self.at))
    }

    fn about(&self, key: &str) -> String {
        let doc = self
            .table
            .keys
            .iter()
            .find(|k| k.name == key)
            .map_or("", |k| k.doc);
        format!("`{key}`: {doc}")
    }
}

/// A key as it was meant, where it stands, and its value.
type Entry<'a> = (&'static str, Place, &'a Node);

impl Walk {
    /// Reports keys that are not in the table, and keys of the table that must be there and are not. A misspelt key
    /// is read as the one that was meant, so that one slip makes one finding.
    fn known_keys<'a>(
        &mut self,
        written: Vec<(&'a Spot<String>, &'a Node)>,
        name: Place,
        table: &'static Table,
    ) -> Vec<Entry<'a>> {
        let is = |key: &Key| written.iter().any(|(k, _)| k.value == key.name);
        let free: Vec<&str> = table.keys.iter().filter(|k| !is(k)).map(|k| k.name).collect();
        let mut entries: Vec<Entry> = Vec::new();
        for (key, node) in &written {
            let known = table.keys.iter().find(|k| k.name == key.value).map(|k| k.name);
            let meant = known.or_else(|| {
                self.add(unknown_key(key, table));
                let taken = |name: &&str| entries.iter().any(|(k, ..)| k == name);
                nearest(&key.value, free.iter().copied().filter(|n| !taken(n)))
            });
            entries.extend(meant.map(|name| (name, key.at, *node)));
        }
        for key in table.keys.iter().filter(|k| k.required) {
            if !entries.iter().any(|(k, ..)| *k == key.name) {
                self.add(missing(key, table, name));
            }
        }
        entries
    }
}

fn missing(key: &Key, table: &Table, at: Place) -> Finding {
    Finding::new(
        Code::Missing,
        at,
        format!("`{}` is missing in {}", key.name, table.what),
    )
    .label(format!("has no `{}`", key.name))
    .help(format!("`{}`: {}", key.name, key.doc))
}

/// Where a thing begins: its first key and value, which say in print which one is meant.
fn head(node: &Node) -> Place {
    match &node.value {
        Value::Map(entries) => entries.first().map_or(node.at, |(k, v)| match v.value {
            Value::Text(_) => Place {
                start: k.at.start,
                end: v.at.end.max(k.at.end),
            },
            _ => k.at,
        }),
        _ => node.at,
    }
}

fn unknown_key(key: &Spot<String>, table: &Table) -> Finding {
    let names = table.keys.iter().map(|k| k.name);
    let finding = Finding::new(
        Code::UnknownKey,
        key.at,
        format!("{} has no key `{}`", table.what, key.value),
    );
    if key.value.starts_with("mostly ") {
        return finding
            .label("part of a time")
            .help("between braces a comma ends a value: leave it out, `3 to 9 min mostly 5 min`");
    }
    match nearest(&key.value, names.clone()) {
        Some(near) => finding.label(format!("did you mean `{near}`?")),
        None => finding.label("not known here"),
    }
    .help(format!("its keys are {}", list(names)))
}

fn not_keys(node: &Node, table: &Table) -> Finding {
    Finding::new(
        Code::WrongKind,
        node.at,
        format!("{} is written as keys with values", table.what),
    )
    .label(format!("this is {}", node.kind()))
    .help(format!(
        "its keys are {}",
        list(table.keys.iter().map(|k| k.name))
    ))
}

/// `a, b and c`, each in backticks.
pub fn list<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let quoted: Vec<String> = words.into_iter().map(|w| format!("`{w}`")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => "none".to_owned(),
    }
}
