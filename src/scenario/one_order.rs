//! One more order for a scenario, from a line of text or a small file, with the keys that orders have.
//!
//! The line is `20 x wood screw, small steel, arrives: 10:30`, or `20 wood screws, small steel`: pieces and part, then the route if the scenario does not
//! tell it by its other orders of that part, then any keys of an order.

use super::draft::Draft;
use super::finding::{Code, Finding, Findings};
use super::node::{Node, SourceSpan, Spanned, Value};
use super::part_name::part_meant;
use super::written::{File as Written, Order};
use super::yaml;

/// What the new order is called if it has no name.
const NAME: &str = "new order";

impl Draft {
    /// Adds an order behind all others; `named` is how the place that it comes from is called in print. Whether it can be
    /// is found out by [`Draft::scenario`].
    ///
    /// # Errors
    /// A text that is neither such a line nor keys of an order.
    pub fn add_order(&mut self, named: &str, text: &str) -> Result<(), Findings> {
        let from = self.sources.add(named, text);
        let refused = |f: Finding, draft: &Self| Findings::new(draft.sources.clone(), vec![f]);
        let line = text.trim();
        let read = if line.lines().count() == 1 && begins_with_count(line) {
            of_line(text)
        } else {
            of_keys(text)
        };
        let order = read.map_err(|f| refused(f.moved(from), self))?.moved(from);
        let order = self.completed(order, from, text.trim_end().len());
        if let Value::Map(entries) = &mut self.tree.value {
            match entries.iter_mut().find(|(k, _)| k.value == Written::orders.name) {
                Some((_, list)) => match &mut list.value {
                    Value::List(all) => all.push(order),
                    other => {
                        let at = list.at;
                        let old = std::mem::replace(other, Value::List(Vec::new()));
                        if let Value::List(all) = other {
                            if matches!(old, Value::Map(_)) {
                                all.push(Node { value: old, at });
                            }
                            all.push(order);
                        }
                    }
                },
                None => {
                    let at = order.at;
                    let list = Node::new(Value::List(vec![order]), at);
                    entries.push((Spanned::new(Written::orders.name.to_owned(), at), list));
                }
            }
        }
        self.changed = true;
        Ok(())
    }

    /// With a name, and with the route that the scenario's other orders of the same part take, if they take one.
    fn completed(&self, mut order: Node, from: usize, length: usize) -> Node {
        let at = SourceSpan::new(from, from + length);
        let put = |order: &mut Node, key: &str, value: String| {
            if let Value::Map(entries) = &mut order.value {
                let node = Node::of_text(value, at);
                entries.push((Spanned::new(key.to_owned(), at), node));
            }
        };
        let known = self.name_part(&mut order);
        if order.key(Order::id.name).is_none() {
            put(&mut order, Order::id.name, NAME.to_owned());
        }
        if order.key(Order::route.name).is_none() {
            let part = order
                .key(Order::part.name)
                .and_then(Node::text)
                .map(str::to_owned);
            let mut routes = self.routes_of(part.as_deref());
            routes.dedup();
            // Of a part that nobody knows that alone is told: which way it goes is asked when the part is named.
            if !known {
                routes.truncate(1);
            }
            if let [one] = routes.as_slice() {
                put(&mut order, Order::route.name, one.clone());
            }
        }
        order
    }

    /// Writes the part as the scenario does, where it was named in the plural or with other capitals. Whether the scenario
    /// knows it.
    fn name_part(&self, order: &mut Node) -> bool {
        let parts = match self.tree.key(Written::parts.name).map(|n| &n.value) {
            Some(Value::Map(parts)) => parts.as_slice(),
            _ => &[],
        };
        let Value::Map(entries) = &mut order.value else {
            return false;
        };
        let part = entries.iter_mut().find(|(k, _)| k.value == Order::part.name);
        let Some((node, typed)) = part.and_then(|(_, n)| Some((n.text()?.to_owned(), n))) else {
            return false;
        };
        let names = || parts.iter().map(|(k, _)| k.value.as_str());
        let name = part_meant(names(), &node);
        if let Some(name) = name {
            *typed = Node::of_text(name.to_owned(), typed.at);
        }
        name.is_some()
    }

    /// Routes that orders of a part take, sorted; the only route of the scenario where no order has that part.
    fn routes_of(&self, part: Option<&str>) -> Vec<String> {
        let orders = match self.tree.key(Written::orders.name).map(|n| &n.value) {
            Some(Value::List(all)) => all.as_slice(),
            _ => &[],
        };
        let alike = orders
            .iter()
            .filter(|o| o.key(Order::part.name).and_then(Node::text) == part);
        let mut routes: Vec<String> = alike
            .filter_map(|o| o.key(Order::route.name).and_then(Node::text).map(str::to_owned))
            .collect();
        if routes.is_empty()
            && let Some(Value::Map(all)) = self.tree.key(Written::routes.name).map(|n| &n.value)
        {
            routes = all.iter().map(|(k, _)| k.value.clone()).collect();
        }
        routes.sort();
        routes
    }
}

fn begins_with_count(line: &str) -> bool {
    line.starts_with(|c: char| c.is_ascii_digit()) && !line.contains('\n')
}

/// `60 wood screws`, `20 x wood screw`: the count, and the part behind it.
fn count_and_part(words: &str) -> (&str, &str) {
    let end = words
        .find(|c: char| c.is_whitespace() || c == 'x' || c == '×')
        .unwrap_or(words.len());
    let (count, rest) = words.split_at(end);
    let part = rest.trim_start();
    let attached = part.len() == rest.len();
    let crossed = part
        .strip_prefix(['x', '×'])
        .filter(|r| attached || r.is_empty() || r.starts_with(char::is_whitespace));
    (count, crossed.unwrap_or(part))
}

/// `20 x wood screw, small steel, arrives: 10:30`.
fn of_line(text: &str) -> Result<Node, Finding> {
    let mut entries: Vec<(Spanned<String>, Node)> = Vec::new();
    let mut put = |key: &str, key_at: SourceSpan, value: &str, at: SourceSpan| {
        let node = Node::of_text(value.to_owned(), at);
        entries.push((Spanned::new(key.to_owned(), key_at), node));
    };
    let mut start = 0;
    for (n, piece) in text.split(',').enumerate() {
        let at = trimmed(text, start, start + piece.len());
        start += piece.len() + 1;
        let words = &text[at.range()];
        if n == 0 {
            let (count, part) = count_and_part(words);
            let count_at = trimmed(text, at.start, at.start + count.len());
            let part_at = trimmed(text, at.end - part.len(), at.end);
            if part.trim().is_empty() {
                return Err(Finding::new(Code::Missing, at, "this does not say which part").help(HELP));
            }
            put(Order::count.name, count_at, count.trim(), count_at);
            put(Order::part.name, part_at, part.trim(), part_at);
        } else if let Some((key, value)) = words.split_once(':') {
            let key_at = trimmed(text, at.start, at.start + key.len());
            let value_at = trimmed(text, at.end - value.len(), at.end);
            put(key.trim(), key_at, value.trim(), value_at);
        } else if words.is_empty() {
            return Err(Finding::new(Code::Missing, at, "nothing stands between two commas").help(HELP));
        } else {
            put(Order::route.name, at, words, at);
        }
    }
    let at = trimmed(text, 0, text.len());
    Ok(Node::new(Value::Map(entries), at))
}

const HELP: &str = "write pieces, part and route, then what else an order has: \
    `20 x wood screw, small steel, arrives: 10:30`";

/// A place without the blanks around it.
fn trimmed(text: &str, start: usize, end: usize) -> SourceSpan {
    let words = &text[start..end];
    let front = words.len() - words.trim_start().len();
    let start = start + front.min(words.len());
    SourceSpan::new(start, (start + words.trim().len()).max(start))
}

fn first(found: Vec<Finding>) -> Finding {
    let none = || Finding::new(Code::Syntax, SourceSpan::default(), "this cannot be read");
    found.into_iter().next().unwrap_or_else(none)
}

/// Keys of an order, as in a scenario; a list of one is understood, too.
fn of_keys(text: &str) -> Result<Node, Finding> {
    let tree = yaml::load(text).map_err(first)?;
    let at = tree.at;
    let refused = |what: &str| {
        Finding::new(Code::WrongKind, at, format!("this isn't an order but {what}"))
            .label("expected an order")
            .help(HELP)
    };
    match tree.value {
        Value::Map(_) => Ok(tree),
        Value::List(mut all) if all.len() == 1 => all.pop().ok_or_else(|| refused("nothing")),
        Value::List(all) => Err(refused(&format!("a list of {}", all.len()))),
        _ => Err(refused("a text")),
    }
}
