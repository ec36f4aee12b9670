//! From YAML text to [`Node`]s. The only file that names the YAML crate.

use super::finding::{Code, Finding};
use super::node::{Node, SourceSpan, Spanned, Value};
use super::{slip, slip_read};
use serde::de::{Deserialize, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};
use serde_yaml::budget::Budget;
use serde_yaml::options::{DuplicateKeyPolicy, MergeKeyPolicy, NonFiniteFloatPolicy};
use serde_yaml::{Error, Location, Options};
use std::fmt;

/// Largest scenario that is read, in bytes.
pub(super) const MOST_BYTES: usize = 1_000_000;
/// Deepest nesting of lists and keys.
const DEEPEST: usize = 16;
/// Most values, each use of an alias counted.
const MOST_VALUES: usize = 250_000;
/// Most uses of an alias.
const MOST_ALIASES: usize = 10_000;

/// Reads the tree.
///
/// # Errors
/// The first mistake of syntax, or the limit that was passed: nothing after it can be understood. Slips that make YAML of
/// another meaning, all of them: what else is wrong may follow from these.
pub(super) fn load(text: &str) -> Result<Node, Vec<Finding>> {
    if text.len() > MOST_BYTES {
        let found = Finding::new(Code::Limit, SourceSpan::default(), "the file is larger than 1 MB");
        return Err(vec![
            found.help("a scenario of some thousand orders is still below that"),
        ]);
    }
    match serde_yaml::from_str_with_options::<serde_yaml::Spanned<Raw>>(text, options()) {
        Ok(raw) => match node(raw, text) {
            Node {
                value: Value::Empty,
                at,
            } => {
                let found = Finding::new(Code::Missing, at, "the file is empty");
                Err(vec![
                    found.help("`tankday new FILE` writes a scenario to start from"),
                ])
            }
            tree => match slip_read::in_tree(text, &tree) {
                slips if slips.is_empty() => Ok(tree),
                slips => Err(slips),
            },
        },
        Err(error) => Err(vec![syntax(&error, text)]),
    }
}

fn options() -> Options {
    serde_yaml::options! {
        budget: Some(limits()),
        duplicate_keys: DuplicateKeyPolicy::PassThrough,
        merge_keys: MergeKeyPolicy::Error,
        non_finite_float_policy: NonFiniteFloatPolicy::PassThrough,
        strict_booleans: true,
        with_snippet: false,
        no_schema: false,
    }
}

fn limits() -> Budget {
    let mut budget = Budget::default();
    budget.max_depth = DEEPEST;
    budget.flow_nesting_limit = DEEPEST;
    budget.max_nodes = MOST_VALUES;
    budget.max_aliases = MOST_ALIASES;
    budget.max_documents = 1;
    budget
}

/// A value before the text of its numbers is fetched from the source.
enum Raw {
    Empty,
    /// A number or `true`: its text is what stands in the source.
    AsWritten,
    Text(String),
    List(Vec<serde_yaml::Spanned<Raw>>),
    Map(Vec<(serde_yaml::Spanned<Key>, serde_yaml::Spanned<Raw>)>),
}

struct Key(String);

fn node(raw: serde_yaml::Spanned<Raw>, text: &str) -> Node {
    let at = place(&raw.referenced, text);
    let value = match raw.value {
        Raw::Empty => Value::Empty,
        Raw::Text(t) => Value::Text(t),
        Raw::AsWritten => {
            let defined = place(&raw.defined, text);
            Value::Text(text.get(defined.range()).unwrap_or_default().trim().to_owned())
        }
        Raw::List(items) => Value::List(items.into_iter().map(|i| node(i, text)).collect()),
        Raw::Map(entries) => Value::Map(entries.into_iter().map(|e| entry(e, text)).collect()),
    };
    Node { value, at }
}

fn entry(
    (key, value): (serde_yaml::Spanned<Key>, serde_yaml::Spanned<Raw>),
    text: &str,
) -> (Spanned<String>, Node) {
    let at = place(&key.referenced, text);
    let mut value = node(value, text);
    if matches!(value.value, Value::Empty) {
        value.at = at; // nothing is written there: point at its key
    }
    (Spanned::new(key.value.0, at), value)
}

/// Bytes of a location, without the blanks and line ends that a block may carry behind it.
fn place(location: &Location, text: &str) -> SourceSpan {
    let span = location.span();
    let Some(start) = span.byte_offset() else {
        return by_line(location, text);
    };
    let start = (start as usize).min(text.len());
    let end = (start + span.byte_len().unwrap_or(0) as usize).min(text.len());
    let written = text.get(start..end).unwrap_or_default();
    SourceSpan::new(start, start + written.trim_end().len())
}

/// The character at a line and column, for errors that tell no more.
fn by_line(location: &Location, text: &str) -> SourceSpan {
    let line = (location.line() as usize).saturating_sub(1);
    let start: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
    let rest = text
        .get(start..)
        .unwrap_or_default()
        .lines()
        .next()
        .unwrap_or_default();
    let column = (location.column() as usize).saturating_sub(1);
    let start = start + rest.char_indices().nth(column).map_or(rest.len(), |(i, _)| i);
    let length = text
        .get(start..)
        .and_then(|t| t.chars().next())
        .map_or(0, char::len_utf8);
    SourceSpan::new(start, start + length)
}

impl<'de> Deserialize<'de> for Key {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct KeyText;
        impl Visitor<'_> for KeyText {
            type Value = Key;
            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("a key")
            }
            fn visit_str<E>(self, v: &str) -> Result<Key, E> {
                Ok(Key(v.to_owned()))
            }
        }
        deserializer.deserialize_str(KeyText)
    }
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AnyValue)
    }
}

struct AnyValue;

/// Values whose text is what stands in the source.
macro_rules! as_written {
    ($($visit:ident $type:ty),+) => {
        $(fn $visit<E>(self, _: $type) -> Result<Raw, E> {
            Ok(Raw::AsWritten)
        })+
    };
}

impl<'de> Visitor<'de> for AnyValue {
    type Value = Raw;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a value")
    }
    fn visit_unit<E>(self) -> Result<Raw, E> {
        Ok(Raw::Empty)
    }
    fn visit_none<E>(self) -> Result<Raw, E> {
        Ok(Raw::Empty)
    }
    as_written!(visit_bool bool, visit_i64 i64, visit_u64 u64, visit_i128 i128, visit_u128 u128, visit_f64 f64);
    fn visit_str<E>(self, v: &str) -> Result<Raw, E> {
        Ok(Raw::Text(v.trim().to_owned()))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Raw, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element()? {
            items.push(item);
        }
        Ok(Raw::List(items))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Raw, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
            if entries.len() > MOST_VALUES {
                return Err(A::Error::custom("too many keys"));
            }
        }
        Ok(Raw::Map(entries))
    }
}

/// The crate's error in our words where it is common, else its own without its layout.
fn syntax(error: &Error, text: &str) -> Finding {
    let at = error
        .location()
        .map_or_else(SourceSpan::default, |l| place(&l, text));
    let message = plain(&error.without_snippet().to_string());
    if let Some(found) = slip::behind(text, at, &message) {
        return found;
    }
    let known = KNOWN
        .iter()
        .find(|(parts, ..)| parts.iter().any(|p| message.contains(p)));
    match known {
        Some((_, code, message, help)) => Finding::new(*code, at, *message).help(*help),
        None => Finding::new(Code::Syntax, at, format!("this cannot be read: {message}")).help(QUOTES),
    }
}

const QUOTES: &str = "nothing behind this place was read; is a quote or a bracket left open?";

/// What we say instead of the crate: parts of its messages, since some of them come wrapped into others, a kind, a
/// sentence, and what to do. Those that begin alike stand in the order in which they are tried.
const KNOWN: &[(&[&str], Code, &str, &str)] = &[
    (
        &["breached: Documents"],
        Code::Limit,
        "a second document begins here",
        "one file holds one scenario: remove the line `---`",
    ),
    (
        &["breached: Depth", "recursion limit", "nesting"],
        Code::Limit,
        "this is nested too deep",
        "no scenario needs more than 7 levels",
    ),
    (
        &["breached"],
        Code::Limit,
        "this is too much: more than 250,000 values, those repeated by aliases included",
        "shorten the scenario, or write out what the aliases stand for",
    ),
    (
        &["alias"],
        Code::Limit,
        "this alias cannot be followed",
        "an alias stands for something written above it; write it out",
    ),
    (
        &["merge keys"],
        Code::UnknownKey,
        "`<<` is not read here",
        "write out the keys that you want to share",
    ),
    (
        &["unclosed quote"],
        Code::Syntax,
        "a quote is opened and not closed",
        "close it, or leave both quotes out",
    ),
    (
        &["tabs disallowed"],
        Code::Syntax,
        "this line begins with a tab",
        "indent with blanks",
    ),
    (
        &["mismatched bracket"],
        Code::Syntax,
        "a bracket is closed by one of another kind",
        "`[` is closed by `]`, `{` by `}`",
    ),
];

/// The first sentence of a message, without the place that the crate appends to it.
fn plain(message: &str) -> String {
    let line = message.lines().next().unwrap_or_default();
    let line = line.split(" at line ").next().unwrap_or(line);
    let line = line.split(": line ").next().unwrap_or(line);
    line.trim_end_matches([' ', ',', ';']).to_owned()
}
