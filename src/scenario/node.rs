//! The YAML as written: a tree in which every value and every key knows its place in the text.

use std::ops::Range;

/// Where something stands in the text, in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Place {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Place {
    /// As a range of bytes.
    #[must_use]
    pub const fn range(self) -> Range<usize> {
        self.start..self.end
    }
}

/// A value with its place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spot<T> {
    /// The value.
    pub(super) value: T,
    /// Where it stands.
    pub(super) at: Place,
}

impl<T> Spot<T> {
    /// A value at a place.
    pub(super) const fn new(value: T, at: Place) -> Self {
        Self { value, at }
    }
}

/// One node of the tree.
#[derive(Debug, Clone)]
pub(super) struct Node {
    /// What it is.
    pub(super) value: Value,
    /// Where it stands.
    pub(super) at: Place,
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
    Map(Vec<(Spot<String>, Node)>),
}

impl Node {
    /// What it is, for messages: `a list`.
    pub(super) fn kind(&self) -> &'static str {
        match &self.value {
            Value::Empty => "nothing",
            Value::Text(_) => "text",
            Value::List(_) => "a list",
            Value::Map(_) => "keys with values",
        }
    }
}
