//! One scenario laid over another, tree over tree, before anything is understood. Keys that the upper one does not
//! write stay as they are below; tanks, stations and orders are found by their names, and so is all that is written
//! as names with values. A route is one thing: whoever writes it writes all its steps.

use super::node::{Node, Spanned, Value};
use super::thing::{Key, Kind, Thing};
use super::written::File;

/// Whether a section is a list whose items have names.
fn is_named_list(name: &str) -> bool {
    let of = |kind: &Kind| matches!(kind, Kind::Things(table) if table.keys.iter().any(Key::finds));
    File::TABLE.keys.iter().any(|k| k.name == name && of(&k.kind))
}

/// Whether what a section has under its names is replaced as a whole.
fn is_whole(name: &str) -> bool {
    File::TABLE
        .keys
        .iter()
        .any(|k| k.name == name && matches!(k.kind, Kind::NamedLists(_)))
}

/// The upper scenario over the lower one.
pub(super) fn over(lower: Node, upper: Node) -> Node {
    match (lower.value, upper.value) {
        (Value::Map(below), Value::Map(above)) => Node {
            value: Value::Map(keys(below, above, section)),
            at: upper.at,
        },
        (_, value) => Node { value, at: upper.at },
    }
}

type Lay = fn(&str, Node, Node) -> Node;

/// Keys laid over keys; those that stand twice in the upper thing stay twice, to be found out later.
fn keys(
    mut below: Vec<(Spanned<String>, Node)>,
    above: Vec<(Spanned<String>, Node)>,
    lay: Lay,
) -> Vec<(Spanned<String>, Node)> {
    let mut used = vec![false; below.len()];
    for (key, node) in above {
        let found = below.iter().position(|(k, _)| k.value == key.value);
        match found.filter(|i| used.get(*i) == Some(&false)) {
            Some(i) => {
                if let (Some(entry), Some(used)) = (below.get_mut(i), used.get_mut(i)) {
                    let empty = Node::new(Value::Empty, entry.1.at);
                    let lower = std::mem::replace(&mut entry.1, empty);
                    *entry = (key.clone(), lay(&key.value, lower, node));
                    *used = true;
                }
            }
            None => {
                below.push((key, node));
                used.push(true);
            }
        }
    }
    below
}

/// A section of the file.
fn section(name: &str, lower: Node, upper: Node) -> Node {
    let at = upper.at;
    match (lower.value, upper.value) {
        (Value::List(below), Value::List(above)) if is_named_list(name) => Node {
            value: Value::List(items(below, above)),
            at,
        },
        (Value::Map(below), Value::Map(above)) => {
            let lay: Lay = if is_whole(name) {
                |_, _, upper| upper
            } else {
                thing
            };
            Node::new(Value::Map(keys(below, above, lay)), at)
        }
        (_, value) => Node { value, at },
    }
}

/// Anything deeper: keys over keys, all else is replaced.
fn thing(_: &str, lower: Node, upper: Node) -> Node {
    let at = upper.at;
    match (lower.value, upper.value) {
        (Value::Map(below), Value::Map(above)) => Node {
            value: Value::Map(keys(below, above, thing)),
            at,
        },
        (_, value) => Node { value, at },
    }
}

/// Items with names over items with names; new ones come last.
fn items(mut below: Vec<Node>, above: Vec<Node>) -> Vec<Node> {
    let mut used = vec![false; below.len()];
    for node in above {
        let found = node
            .called()
            .and_then(|name| below.iter().position(|b| b.called() == Some(name)));
        match found.filter(|i| used.get(*i) == Some(&false)) {
            Some(i) => {
                if let (Some(place), Some(used)) = (below.get_mut(i), used.get_mut(i)) {
                    *place = thing("", place.clone(), node);
                    *used = true;
                }
            }
            None => {
                below.push(node);
                used.push(true);
            }
        }
    }
    below
}
