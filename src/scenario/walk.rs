//! Walks the tree of nodes and collects every finding on the way instead of stopping at the first.

use super::finding::{Code, Finding};
use super::node::{Node, SourceSpan, Spanned, Value};
use super::thing::{Field, Key};
use std::collections::BTreeSet;

/// How a value is read: what it means, or nothing and at least one finding.
pub(super) type Read<T> = fn(&Node, &mut Walk) -> Option<T>;

/// The findings so far.
#[derive(Debug, Default)]
pub(super) struct Walk {
    /// All of them, in the order found.
    pub(super) found: Vec<Finding>,
    /// Of values outside their usual ranges: said only where nothing else is said of the same value.
    pub(super) odd: Vec<Finding>,
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

    /// Notes what is outside of its usual range.
    pub(super) fn add_odd(&mut self, odd: Vec<Finding>) {
        let room = MOST_FINDINGS.saturating_sub(self.odd.len());
        self.odd.extend(odd.into_iter().take(room));
    }

    /// Findings of unusual values become findings where nothing else is said of the same value.
    pub(super) fn say_odd(&mut self) {
        for odd in std::mem::take(&mut self.odd) {
            if !self.found.iter().any(|f| f.at == odd.at) {
                self.add(odd);
            }
        }
    }

    /// Notes why something cannot be read.
    pub(super) fn refuse<T>(&mut self, finding: Finding) -> Option<T> {
        self.add(finding);
        None
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
            self.add(Finding::error(Code::Limit, node.at).says(format!(
                "{} {what} are more than the {most} that are read",
                items.len()
            )));
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
    ) -> Vec<(&'a Spanned<String>, &'a Node)> {
        let Value::Map(entries) = &node.value else {
            if !matches!(node.value, Value::Empty) {
                self.add(
                    Finding::error(Code::WrongKind, node.at)
                        .says(format!("{what} are written as names with their values"))
                        .label(format!("this is {}", node.kind()))
                        .help("write each as its name, a colon, then its keys on lines of their own"),
                );
            }
            return Vec::new();
        };
        if entries.len() > most {
            let n = entries.len();
            self.add(
                Finding::error(Code::Limit, node.at)
                    .says(format!("{n} {what} are more than the {most} that are read")),
            );
            return Vec::new();
        }
        self.once(entries.iter().map(|(k, v)| (k, v)), |(k, _)| k)
    }

    /// The same for things that own their names.
    pub(super) fn once_by<T>(&mut self, all: Vec<T>, name: impl Fn(&T) -> &Spanned<String>) -> Vec<T> {
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
        name: impl Fn(&T) -> &'a Spanned<String>,
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
pub(super) fn twice(second: &Spanned<String>, first: SourceSpan) -> Finding {
    Finding::error(Code::Duplicate, second.at)
        .says(format!("`{}` is used twice", second.value))
        .label("again")
        .and(first, "first here")
        .help("remove one of the two, or give it another name")
}

impl Walk {
    /// What stands for a key in a case, as [`Key::usual`] has it.
    pub(super) fn usual<T>(&mut self, field: &Field<T>, case: &str) -> Option<T> {
        self.usual_of(field, case, field.read)
    }

    /// The same for a key that is read in a way of its own.
    pub(super) fn usual_of<T>(&mut self, key: &Key, case: &str, read: Read<T>) -> Option<T> {
        let node = self.granted(key, case, SourceSpan::default())?;
        read(&node, self)
    }

    /// What stands for a key in a case, as it would be written at a place.
    pub(super) fn granted(&mut self, key: &Key, case: &str, at: SourceSpan) -> Option<Node> {
        let usual = key.usual(case);
        debug_assert!(usual.is_some(), "{}: no default for `{case}`", key.name);
        let default = usual?;
        self.granted.insert(default.key);
        let value = Value::Text(default.value.to_owned());
        Some(Node { value, at })
    }
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
