//! The keys and values of one thing, held against its table.

use super::finding::{Code, Finding};
use super::known_as::meant_by;
use super::nearest::nearest;
use super::node::{Node, SourceSpan, Spanned, Value};
use super::thing::{Field, Key, Kind, Table, Thing};
use super::usual;
use super::value;
use super::walk::{Read, Walk, list};

/// The keys and values of one thing, checked against the keys that it may have.
pub(super) struct Fields<'a, 'w> {
    entries: Vec<Entry<'a>>,
    /// The findings.
    pub(super) walk: &'w mut Walk,
    /// The whole thing.
    pub(super) at: SourceSpan,
    /// Its name, where that stands before its keys; else empty.
    pub(super) name: &'a str,
}

/// Where a thing stands, and each of its keys that is written.
#[derive(Debug, Clone)]
pub(super) struct Places {
    /// The whole thing.
    pub(super) at: SourceSpan,
    /// Each key with its own place and that of its value.
    pub(super) written: Vec<(&'static str, SourceSpan, SourceSpan)>,
}

impl Places {
    /// Where a key stands, if it is written.
    pub(super) fn of(&self, key: &Key) -> Option<SourceSpan> {
        let found = self.written.iter().find(|(name, ..)| *name == key.name);
        found.map(|(_, at, _)| *at)
    }

    /// Where its value stands, if it is written.
    pub(super) fn of_value(&self, key: &Key) -> Option<SourceSpan> {
        let found = self.written.iter().find(|(name, ..)| *name == key.name);
        found.map(|(.., at)| *at)
    }

    /// From its first key to its last value.
    pub(super) fn whole(&self) -> SourceSpan {
        let start = self.written.first().map_or(self.at.start, |(_, at, _)| at.start);
        let end = self.written.last().map_or(self.at.end, |(.., at)| at.end);
        SourceSpan::new(start, end.max(start))
    }
}

impl<'a, 'w> Fields<'a, 'w> {
    /// Of a node that should be keys with values; reports unknown, repeated and missing keys.
    pub(super) fn new(node: &'a Node, table: &'static Table, walk: &'w mut Walk) -> Option<Self> {
        Self::of(head(node), "", node, table, walk)
    }

    /// The same for a thing whose name stands elsewhere.
    fn of(
        at: SourceSpan,
        name: &'a str,
        node: &'a Node,
        table: &'static Table,
        walk: &'w mut Walk,
    ) -> Option<Self> {
        let entries = match &node.value {
            Value::Map(entries) => entries.as_slice(),
            Value::Empty => &[],
            _ => {
                return walk.refuse(not_keys(node, table));
            }
        };
        let entries = walk.once(entries.iter().map(|(k, v)| (k, v)), |(k, _)| k);
        let entries = known_keys(walk, entries, at, table);
        walk.add_odd(usual::odd(
            table,
            entries.iter().map(|(key, _, node)| (*key, *node)),
        ));
        Some(Self {
            entries,
            walk,
            at,
            name,
        })
    }

    /// Of a thing that is not written at all, so that all of it has its defaults.
    pub(super) fn absent(walk: &'w mut Walk, at: SourceSpan) -> Self {
        Self {
            entries: Vec::new(),
            walk,
            at,
            name: "",
        }
    }

    /// Of a thing of which one key alone is written.
    pub(super) fn only(key: &Key, node: &'a Node, walk: &'w mut Walk, at: SourceSpan) -> Self {
        Self {
            entries: vec![(key.name, at, node)],
            ..Self::absent(walk, at)
        }
    }

    /// Of a thing within this one, with all its defaults if it is not written.
    pub(super) fn inner(&mut self, key: &Key, table: &'static Table) -> Option<Fields<'a, '_>> {
        match (self.node(key), self.place(key)) {
            (Some(node), Some(at)) => Fields::of(at, "", node, table, self.walk),
            _ => Some(Fields::absent(self.walk, self.at)),
        }
    }

    /// A thing within this one, with all its defaults if it is not written.
    pub(super) fn thing<T: Thing>(&mut self, key: &Key) -> Option<T> {
        self.inner(key, T::TABLE).map(|mut f| T::of(&mut f))
    }

    /// A section of the file: the same, but its place is that of its first key.
    pub(super) fn part<T: Thing>(&mut self, key: &Key) -> Option<T> {
        match self.node(key) {
            Some(node) => T::read(node, self.walk),
            None => Some(T::absent(self.at, self.walk)),
        }
    }

    /// A list of things, none if the key is not there.
    pub(super) fn list<T>(&mut self, key: &Key, most: usize, read: Read<T>) -> Vec<T> {
        match self.node(key) {
            Some(node) => self.walk.list(node, key.name, most, read),
            None => Vec::new(),
        }
    }

    /// Things by name.
    pub(super) fn named<T: Thing>(&mut self, key: &Key, most: usize) -> Vec<T> {
        let read = |name: &Spanned<String>, node: &Node, walk: &mut Walk| {
            Fields::of(name.at, &name.value, node, T::TABLE, walk).map(|mut f| T::of(&mut f))
        };
        self.by_name(key, most, read)
    }

    /// What stands under names, whatever it is.
    pub(super) fn by_name<T>(
        &mut self,
        key: &Key,
        most: usize,
        read: fn(&Spanned<String>, &Node, &mut Walk) -> Option<T>,
    ) -> Vec<T> {
        let Some(node) = self.node(key) else {
            return Vec::new();
        };
        let mut all = Vec::new();
        for (name, node) in self.walk.named(node, key.name, most) {
            match value::unfit_name(&name.value) {
                Some(message) => self.walk.add(Finding::new(Code::Limit, name.at, message)),
                None => all.extend(read(name, node, self.walk)),
            }
        }
        all
    }

    /// One name or a list of names, each with its place.
    pub(super) fn names(&mut self, key: &Key) -> Vec<Spanned<String>> {
        let read = |n: &Node, w: &mut Walk| value::name(n, w).map(|name| Spanned::new(name, n.at));
        match self.node(key) {
            Some(node) => self.walk.list(node, "names", MOST_NAMES, read),
            None => Vec::new(),
        }
    }

    /// Whether the key is written.
    pub(super) fn has(&self, key: &Key) -> bool {
        self.entry(key).is_some()
    }

    /// Where the key stands, if it is written.
    pub(super) fn place(&self, key: &Key) -> Option<SourceSpan> {
        self.entry(key).map(|(_, at, _)| *at)
    }

    /// The node of a key.
    pub(super) fn node(&self, key: &Key) -> Option<&'a Node> {
        self.entry(key).map(|(.., node)| *node)
    }

    fn entry(&self, key: &Key) -> Option<&Entry<'a>> {
        self.entries.iter().find(|(k, ..)| *k == key.name)
    }

    /// Where it stands, and its keys.
    pub(super) fn places(&self) -> Places {
        let written = self.entries.iter().map(|(key, at, node)| (*key, *at, node.at));
        Places {
            at: self.at,
            written: written.collect(),
        }
    }

    /// The value of a key, if it is written and can be read.
    pub(super) fn get<T>(&mut self, field: &Field<T>) -> Option<Spanned<T>> {
        self.value(field, field.read)
    }

    /// The value of a key, or its default.
    pub(super) fn or<T>(&mut self, field: &Field<T>) -> Option<Spanned<T>> {
        self.value_or(field, "", field.read)
    }

    /// The value of a key that is read in a way of its own, if it is written and can be read.
    pub(super) fn value<T>(&mut self, key: &Key, read: Read<T>) -> Option<Spanned<T>> {
        let node = self.node(key)?;
        if matches!(node.value, Value::Empty) {
            self.no_value(key, node.at);
            return None;
        }
        read(node, self.walk).map(|value| Spanned::new(value, node.at))
    }

    /// The same, or what stands for the key in a case.
    pub(super) fn value_or<T>(&mut self, key: &Key, case: &str, read: Read<T>) -> Option<Spanned<T>> {
        if self.has(key) {
            return self.value(key, read);
        }
        let node = self.walk.granted(key, case, self.at)?;
        read(&node, self.walk).map(|value| Spanned::new(value, self.at))
    }

    fn no_value(&mut self, key: &Key, at: SourceSpan) {
        let message = format!("`{}` has no value", key.name);
        self.walk
            .add(Finding::new(Code::Missing, at, message).help(about(key)));
    }
}

/// Most names in a list of them.
const MOST_NAMES: usize = 64;

fn about(key: &Key) -> String {
    format!("`{}`: {}", key.name, key.doc)
}

/// A key as it was meant, where it stands, and its value.
type Entry<'a> = (&'static str, SourceSpan, &'a Node);

/// Reports keys that are not in the table, and keys of the table that must be there and are not. A misspelt key is read
/// as the one that was meant, so that one slip makes one finding.
fn known_keys<'a>(
    walk: &mut Walk,
    written: Vec<(&'a Spanned<String>, &'a Node)>,
    name: SourceSpan,
    table: &'static Table,
) -> Vec<Entry<'a>> {
    let is = |key: &Key| written.iter().any(|(k, _)| k.value == key.name);
    let free: Vec<&str> = table.keys.iter().filter(|k| !is(k)).map(|k| k.name).collect();
    let mut entries: Vec<Entry> = Vec::new();
    for (key, node) in &written {
        let known = table.keys.iter().find(|k| k.name == key.value).map(|k| k.name);
        let meant = known.or_else(|| {
            walk.add(unknown_key(key, table));
            let taken = |name: &&str| entries.iter().any(|(k, ..)| k == name);
            key_meant(&key.value, free.iter().copied().filter(|n| !taken(n)))
        });
        entries.extend(meant.map(|name| (name, key.at, *node)));
    }
    for key in table.keys.iter().filter(|k| k.required) {
        if !entries.iter().any(|(k, ..)| *k == key.name) {
            walk.add(missing(key, table, name));
        }
    }
    entries
}

fn missing(key: &Key, table: &Table, at: SourceSpan) -> Finding {
    Finding::error(Code::Missing, at)
        .says(format!("`{}` is missing in {}", key.name, table.what))
        .label(format!("has no `{}`", key.name))
        .help(about(key))
}

/// Where a thing begins: its first key and value, which say in print which one is meant.
fn head(node: &Node) -> SourceSpan {
    match &node.value {
        Value::Map(entries) => entries.first().map_or(node.at, |(k, v)| match v.value {
            Value::Text(_) => SourceSpan {
                start: k.at.start,
                end: v.at.end.max(k.at.end),
            },
            _ => k.at,
        }),
        _ => node.at,
    }
}

/// The key that a word that is none was meant to be: by what people call it, or by its letters.
fn key_meant<'a>(word: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Option<&'a str> {
    meant_by(word, keys.clone()).or_else(|| nearest(word, keys))
}

fn unknown_key(key: &Spanned<String>, table: &Table) -> Finding {
    let names = table.keys.iter().map(|k| k.name);
    let finding =
        Finding::error(Code::UnknownKey, key.at).says(format!("{} has no key `{}`", table.what, key.value));
    let keys = format!("its keys are {}", list(names.clone()));
    let meant = key_meant(&key.value, names).and_then(|near| table.keys.iter().find(|k| k.name == near));
    match meant {
        Some(near) => finding
            .label(format!("did you mean `{}`?", near.name))
            .help(format!("`{}`: {}; {keys}", near.name, near.doc)),
        None => match within(&key.value, table) {
            Some(place) => finding
                .label("not known here")
                .help(format!("it is a key of another place: write `{place}`; {keys}")),
            None => finding.label("not known here").help(keys),
        },
    }
}

/// The path of the file's own table.
const FILE: &str = super::written::File::TABLE.path;

/// Where a key that the file itself hasn't stands in the sections of the file: `shop.hands`. None where no section or more than
/// one has it.
fn within(key: &str, table: &Table) -> Option<String> {
    let has = |t: &&'static Table| t.keys.iter().any(|k| k.name == key);
    let of = |section: &Key| match section.kind {
        Kind::Thing(t) if has(&t) => Some(format!("{}.{key}", section.name)),
        Kind::Named(t) | Kind::Things(t) if has(&t) => Some(format!("{}.NAME.{key}", section.name)),
        _ => None,
    };
    let mut places = table.keys.iter().filter_map(of);
    places
        .next()
        .filter(|_| table.path == FILE && places.next().is_none())
}

fn not_keys(node: &Node, table: &Table) -> Finding {
    Finding::error(Code::WrongKind, node.at)
        .says(format!("{} is written as keys with values", table.what))
        .label(format!("this is {}", node.kind()))
        .help(format!(
            "its keys are {}",
            list(table.keys.iter().map(|k| k.name))
        ))
}
