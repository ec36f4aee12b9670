//! What is wrong with a scenario: a sentence, the places that caused it, what would be right.

use super::node::SourceSpan;
use super::source::Sources;

/// What kind of mistake it is, for those who sort or filter findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// The text is no YAML.
    Syntax,
    /// A limit on size or count is passed.
    Limit,
    /// A key that is not known here.
    UnknownKey,
    /// A key or a name that stands twice.
    Duplicate,
    /// A key that must be there.
    Missing,
    /// A value of the wrong kind: text for a number, a list for text.
    WrongKind,
    /// A unit that is missing, unknown or of another kind.
    Unit,
    /// A word that is not one of the choices.
    UnknownWord,
    /// A name that nothing bears.
    UnknownName,
    /// A number out of its range.
    Range,
    /// A clock time, a date or hours that cannot be.
    Time,
    /// A material that must stay out of the coating bath.
    Material,
    /// Work that does not fit where it must go.
    Capacity,
    /// A route that cannot be followed.
    Route,
    /// A bath or tank that cannot work so.
    Bath,
    /// An order that cannot be.
    Order,
    /// Work that needs hands where there are none.
    Hands,
    /// Something hot is left alone.
    Unattended,
    /// Two things written that exclude each other, or one that has no effect.
    Contradiction,
}

impl Code {
    /// As it is printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Syntax => "syntax",
            Self::Limit => "limit",
            Self::UnknownKey => "unknown-key",
            Self::Duplicate => "duplicate",
            Self::Missing => "missing",
            Self::WrongKind => "wrong-kind",
            Self::Unit => "unit",
            Self::UnknownWord => "unknown-word",
            Self::UnknownName => "unknown-name",
            Self::Range => "range",
            Self::Time => "time",
            Self::Material => "material",
            Self::Capacity => "capacity",
            Self::Route => "route",
            Self::Bath => "bath",
            Self::Order => "order",
            Self::Hands => "hands",
            Self::Unattended => "unattended",
            Self::Contradiction => "contradiction",
        }
    }
}

/// Whether the scenario can still be run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// It cannot.
    Error,
    /// It can, but somebody should look.
    Warning,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Error or warning.
    pub weight: Severity,
    /// Kind of mistake.
    pub code: Code,
    /// One sentence, without its full stop.
    pub message: String,
    /// The place that is wrong.
    pub at: SourceSpan,
    /// A word or two under the place; may be empty.
    pub label: String,
    /// Other places that have to do with it, each with its label.
    pub others: Vec<(SourceSpan, String)>,
    /// What would be right; may be empty.
    pub help: String,
}

impl Finding {
    /// The same in a text that begins at a place.
    pub(super) fn moved(mut self, from: usize) -> Self {
        self.at = self.at.moved(from);
        for (at, _) in &mut self.others {
            *at = at.moved(from);
        }
        self
    }

    /// An error with what it says.
    pub fn new(code: Code, at: SourceSpan, message: impl Into<String>) -> Self {
        Self::error(code, at).says(message)
    }

    /// A warning with what it says.
    pub fn warning(code: Code, at: SourceSpan, message: impl Into<String>) -> Self {
        Self::warns(code, at).says(message)
    }

    /// An error that says nothing yet.
    pub(super) const fn error(code: Code, at: SourceSpan) -> Self {
        Self {
            weight: Severity::Error,
            code,
            message: String::new(),
            at,
            label: String::new(),
            others: Vec::new(),
            help: String::new(),
        }
    }

    /// A warning that says nothing yet.
    pub(super) const fn warns(code: Code, at: SourceSpan) -> Self {
        let mut finding = Self::error(code, at);
        finding.weight = Severity::Warning;
        finding
    }

    /// With its sentence.
    pub(super) fn says(mut self, message: impl Into<String>) -> Self {
        self.message = message.into();
        self
    }

    /// With words under the place.
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// With what would be right.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }

    /// With another place that has to do with it.
    pub fn and(mut self, at: SourceSpan, label: impl Into<String>) -> Self {
        if at != self.at {
            self.others.push((at, label.into()));
        }
        self
    }
}

/// All findings of one scenario, in the order of their places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Findings {
    /// The texts that their places point into.
    pub sources: Sources,
    /// What was found.
    pub list: Vec<Finding>,
}

impl Findings {
    /// Findings sorted by place; what was found twice is kept once.
    pub fn new(sources: Sources, mut list: Vec<Finding>) -> Self {
        list.sort_by_key(|f| (f.at.start, f.at.end, f.code));
        list.dedup();
        Self { sources, list }
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The first mistake in one line: file, line, column and message. Empty if there is none.
    #[must_use]
    pub fn first(&self) -> String {
        let mistake = self.list.iter().find(|f| f.weight == Severity::Error);
        mistake.map_or_else(String::new, |f| {
            let (line, column) = self.line_and_column(f.at);
            let name = self.sources.within(f.at).name;
            format!("{name}:{line}:{column}: {}", f.message)
        })
    }

    /// Line and column of a place in its own file, both counted from 1, the column in characters.
    #[must_use]
    pub fn line_and_column(&self, at: SourceSpan) -> (usize, usize) {
        let within = self.sources.within(at);
        let before = within.text.get(..within.own(at).start).unwrap_or(within.text);
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        let line = before.bytes().filter(|b| *b == b'\n').count() + 1;
        let column = before.get(line_start..).map_or(0, |l| l.chars().count()) + 1;
        (line, column)
    }
}
