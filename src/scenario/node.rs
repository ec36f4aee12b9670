//! The YAML as written: a tree in which every value and every key knows its place in the text.

use std::ops::Range;

/// Where something stands in the text, in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SourceSpan {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl SourceSpan {
    /// From a byte to one past the last.
    pub(super) const fn new(start: usize, end: usize) -> Self {
        Self { start, end }
    }

    /// As a range of bytes.
    #[must_use]
    pub const fn range(self) -> Range<usize> {
        self.start..self.end
    }

    /// The same place in a text that begins at `from`.
    pub(super) const fn moved(self, from: usize) -> Self {
        Self {
            start: self.start + from,
            end: self.end + from,
        }
    }
}

/// A value with its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub at: SourceSpan,
}

impl<T> Spanned<T> {
    /// A value at a place.
    pub const fn new(value: T, at: SourceSpan) -> Self {
        Self { value, at }
    }
}

/// One node of the tree.
#[derive(Debug, Clone)]
pub(super) struct Node {
    /// What it is.
    pub(super) value: Value,
    /// Where it stands.
    pub(super) at: SourceSpan,
}

/// What a node is. Numbers and `true` are text here: whoever reads a value decides what it must be.
#[derive(Debug, Clone)]
pub(super) enum Value {
    /// Nothing after the colon, `~` or `null`.
    Empty,
    /// Text, as written but without its quotes.
    Text(String),
    /// A list.
    List(Vec<Node>),
    /// Keys with their values, in the order written; a key may stand twice.
    Map(Vec<(Spanned<String>, Node)>),
}

impl Node {
    /// A value at a place.
    pub(super) const fn new(value: Value, at: SourceSpan) -> Self {
        Self { value, at }
    }

    /// A text at a place.
    pub(super) const fn of_text(text: String, at: SourceSpan) -> Self {
        Self::new(Value::Text(text), at)
    }

    /// What it is, for messages: `a list`.
    pub(super) fn kind(&self) -> &'static str {
        match &self.value {
            Value::Empty => "nothing",
            Value::Text(_) => "text",
            Value::List(_) => "a list",
            Value::Map(_) => "keys with values",
        }
    }

    /// The same tree in a text that begins at `from`.
    pub(super) fn moved(mut self, from: usize) -> Self {
        self.at = self.at.moved(from);
        self.value = match self.value {
            Value::List(items) => Value::List(items.into_iter().map(|i| i.moved(from)).collect()),
            Value::Map(entries) => {
                let moved = |(k, v): (Spanned<String>, Self)| {
                    (Spanned::new(k.value, k.at.moved(from)), v.moved(from))
                };
                Value::Map(entries.into_iter().map(moved).collect())
            }
            other => other,
        };
        self
    }

    /// The value of a key, the first if it stands twice.
    pub(super) fn key(&self, name: &str) -> Option<&Self> {
        match &self.value {
            Value::Map(entries) => entries.iter().find(|(k, _)| k.value == name).map(|(_, v)| v),
            _ => None,
        }
    }

    /// Its text, if it is one.
    pub(super) fn text(&self) -> Option<&str> {
        match &self.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// What a thing in a list is called: its `name`, `id`, `as` or `do`.
    pub(super) fn called(&self) -> Option<&str> {
        ["name", "id", "as", "do"]
            .iter()
            .find_map(|key| self.key(key))
            .and_then(Self::text)
    }
}
