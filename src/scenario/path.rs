//! Values by their path: `tanks.black tank.fill`, `orders.A3`, `routes.castings.blast.for`. Keys and names are
//! divided by dots; a name may itself hold blanks and dots, the longest one that fits is taken.

use super::finding::{Code, Finding};
use super::nearest::nearest;
use super::node::{Node, SourceSpan, Spanned, Value};
use super::thing::{Kind, Thing};
use super::walk::list;
use super::written::File;

/// One more step down a tree.
enum Next {
    /// The child at this index; so many bytes of the path were used.
    Child(usize, usize),
    /// No child is called like the first so many bytes.
    None(usize),
}

/// Where the next part of a path leads.
fn next(node: &Node, rest: &str) -> Next {
    let names: Vec<(usize, String)> = match &node.value {
        Value::Map(entries) => entries
            .iter()
            .enumerate()
            .map(|(i, (k, _))| (i, k.value.clone()))
            .collect(),
        Value::List(items) => items
            .iter()
            .enumerate()
            .map(|(i, n)| (i, n.called().map_or_else(|| (i + 1).to_string(), str::to_owned)))
            .collect(),
        _ => Vec::new(),
    };
    let fits = |name: &str| {
        rest.strip_prefix(name)
            .is_some_and(|r| r.is_empty() || r.starts_with('.'))
    };
    let best = names
        .iter()
        .rev()
        .filter(|(_, n)| !n.is_empty() && fits(n))
        .max_by_key(|(_, n)| n.len());
    match best {
        Some((i, name)) => Next::Child(*i, name.len()),
        None => Next::None(rest.find('.').unwrap_or(rest.len())),
    }
}

fn child(node: &mut Node, at: usize) -> Option<&mut Node> {
    match &mut node.value {
        Value::Map(entries) => entries.get_mut(at).map(|(_, v)| v),
        Value::List(items) => items.get_mut(at),
        _ => None,
    }
}

/// The rest of a path behind its first `used` bytes and the dot after them.
fn behind(rest: &str, used: usize) -> &str {
    let rest = rest.get(used..).unwrap_or_default();
    rest.strip_prefix('.').unwrap_or(rest)
}

/// Puts a value where a path leads. Keys that are not written yet are made; names are not. `at` is where the path
/// itself is written, `value` is the value with its own place.
///
/// # Errors
/// A name that nothing bears, a path that goes on below a plain value, an empty path.
pub(super) fn set(tree: &mut Node, path: &str, at: SourceSpan, value: Node) -> Result<(), Finding> {
    let (mut node, mut rest, mut above) = (tree, path, "");
    loop {
        if rest.is_empty() {
            put(node, value);
            return Ok(());
        }
        let place = |used: usize| {
            let start = at.start + path.len() - rest.len();
            SourceSpan::new(start, start + used)
        };
        let (index, used) = match next(node, rest) {
            Next::Child(index, used) => (index, used),
            Next::None(used) => {
                let name = rest.get(..used).unwrap_or_default();
                (add_key(node, name, place(used), is_named(above))?, used)
            }
        };
        if above.is_empty() && used == rest.len() && !plain(node, index) {
            return Err(whole_section(rest, place(used)));
        }
        above = if above.is_empty() {
            rest.get(..used).unwrap_or(".")
        } else {
            "."
        };
        rest = behind(rest, used);
        let Some(below) = child(node, index) else {
            return Err(nothing_below(path, at));
        };
        node = below;
    }
}

/// Puts a value in a place. What is done when something holds, such as a care of the bath, is varied by its `when`.
fn put(node: &mut Node, value: Node) {
    if let Value::Map(entries) = &mut node.value
        && let Some((_, when)) = entries.iter_mut().find(|(k, _)| k.value == "when")
    {
        *when = value;
        return;
    }
    *node = value;
}

fn plain(node: &Node, index: usize) -> bool {
    match &node.value {
        Value::Map(entries) => !matches!(
            entries.get(index).map(|(_, v)| &v.value),
            Some(Value::Map(_) | Value::List(_))
        ),
        _ => false,
    }
}

/// Whether the keys of a section are names of things, which a path does not invent.
fn is_named(section: &str) -> bool {
    let of = |kind: &Kind| matches!(kind, Kind::Named(_) | Kind::NamedLists(_));
    File::TABLE.keys.iter().any(|k| k.name == section && of(&k.kind))
}

/// Makes an empty key in a thing and tells its index.
fn add_key(node: &mut Node, name: &str, at: SourceSpan, named: bool) -> Result<usize, Finding> {
    if matches!(node.value, Value::Empty) {
        node.value = Value::Map(Vec::new());
    }
    let called: Vec<String> = names_in(node);
    let numbered = match &node.value {
        Value::List(items) if called.is_empty() => items.len(),
        _ => 0,
    };
    match &mut node.value {
        Value::List(_) if numbered > 0 => Err(by_number(name, at, numbered)),
        Value::Map(entries) if !named => {
            let empty = Node::new(Value::Empty, at);
            entries.push((Spanned::new(name.to_owned(), at), empty));
            Ok(entries.len() - 1)
        }
        Value::Map(_) | Value::List(_) => Err(unknown(name, at, &called)),
        _ => Err(nothing_below(name, at)),
    }
}

fn names_in(node: &Node) -> Vec<String> {
    match &node.value {
        Value::Map(entries) => entries.iter().map(|(k, _)| k.value.clone()).collect(),
        Value::List(items) => items
            .iter()
            .filter_map(|n| n.called().map(str::to_owned))
            .collect(),
        _ => Vec::new(),
    }
}

fn unknown(name: &str, at: SourceSpan, called: &[String]) -> Finding {
    let names = || called.iter().map(String::as_str);
    let finding = Finding::new(Code::UnknownName, at, format!("nothing here is called `{name}`"));
    match nearest(name, names()) {
        Some(near) => finding.label(format!("did you mean `{near}`?")),
        None => finding.label("not known here"),
    }
    .help(format!("there is {}", list(names().take(12))))
}

/// What stands in a list without names is called by its number.
fn by_number(name: &str, at: SourceSpan, many: usize) -> Finding {
    let numbers = if many == 1 {
        "its number is 1".to_owned()
    } else {
        format!("their numbers are 1 to {many}")
    };
    let behind = if name.parse::<f64>().is_ok() { "…" } else { name };
    Finding::new(Code::UnknownName, at, format!("nothing here is called `{name}`"))
        .label("expected a number first")
        .help(format!(
            "what stands here has no names, {numbers}: write `1.{behind}` in place of `{name}`"
        ))
}

fn nothing_below(path: &str, at: SourceSpan) -> Finding {
    Finding::error(Code::WrongKind, at)
        .says(format!("`{path}` goes on below a plain value"))
        .help("a path ends at the key whose value it means, such as `tanks.black tank.fill`")
}

fn whole_section(name: &str, at: SourceSpan) -> Finding {
    Finding::new(Code::WrongKind, at, format!("`{name}` is a whole section"))
        .help("name one value in it, such as `tanks.black tank.fill`")
}

/// Takes away what a path leads to.
///
/// # Errors
/// When nothing is called so.
pub(super) fn remove(tree: &mut Node, path: &str, at: SourceSpan) -> Result<(), Finding> {
    let (mut node, mut rest) = (tree, path);
    loop {
        match next(node, rest) {
            Next::None(used) => {
                let name = rest.get(..used).unwrap_or_default();
                return Err(unknown(name, at, &names_in(node)));
            }
            Next::Child(index, used) => {
                rest = behind(rest, used);
                if rest.is_empty() {
                    take(node, index);
                    return Ok(());
                }
                match child(node, index) {
                    Some(below) => node = below,
                    None => return Err(nothing_below(path, at)),
                }
            }
        }
    }
}

fn take(node: &mut Node, index: usize) {
    match &mut node.value {
        Value::Map(entries) if index < entries.len() => {
            entries.remove(index);
        }
        Value::List(items) if index < items.len() => {
            items.remove(index);
        }
        _ => {}
    }
}
