//! The texts that places point into. A scenario that extends another has several; each begins where the one before
//! ends, so that one number tells both the file and the place in it.

use super::node::SourceSpan;

/// One text.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Source {
    /// How it is called in print.
    name: String,
    text: String,
    /// The place of its first byte.
    from: usize,
}

/// All texts of one scenario; the file that was asked for comes first.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sources(Vec<Source>);

/// A text that a place stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Within<'a> {
    /// How it is called in print.
    pub(super) name: &'a str,
    /// All of it.
    pub(super) text: &'a str,
    /// The place of its first byte.
    pub(super) from: usize,
}

impl Sources {
    /// Adds a text and tells the place of its first byte.
    pub(crate) fn add(&mut self, name: &str, text: &str) -> usize {
        // One more than its length: a place at the very end of a text is not the beginning of the next.
        let from = self.0.last().map_or(0, |s| s.from + s.text.len() + 1);
        self.0.push(Source {
            name: name.to_owned(),
            text: text.to_owned(),
            from,
        });
        from
    }

    /// What the file that was asked for is called.
    #[must_use]
    pub fn name(&self) -> &str {
        self.0.first().map_or("", |s| s.name.as_str())
    }

    /// Names and texts, in the order in which they were read.
    pub fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|s| (s.name.as_str(), s.text.as_str()))
    }

    /// The text that a place stands in.
    pub(super) fn within(&self, at: SourceSpan) -> Within<'_> {
        let held = self.0.iter().rev().find(|s| s.from <= at.start);
        held.map_or(
            Within {
                name: "",
                text: "",
                from: 0,
            },
            |s| Within {
                name: &s.name,
                text: &s.text,
                from: s.from,
            },
        )
    }
}

impl Within<'_> {
    /// A place counted from the beginning of this text.
    pub(super) fn own(&self, at: SourceSpan) -> SourceSpan {
        SourceSpan::new(
            at.start.saturating_sub(self.from),
            at.end.saturating_sub(self.from),
        )
    }

    /// Whether a place stands in this text.
    pub(super) fn holds(&self, at: SourceSpan) -> bool {
        at.start >= self.from && at.start <= self.from + self.text.len()
    }
}
