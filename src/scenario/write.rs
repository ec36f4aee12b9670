//! A tree back into YAML text.

use super::node::{Node, Value};

/// The tree as a text that reads to the same tree. Every value stands between quotes, so that none can be mistaken.
pub(super) fn text(tree: &Node) -> String {
    let mut out = String::new();
    block(&mut out, tree, 0);
    out
}

fn block(out: &mut String, node: &Node, depth: usize) {
    match &node.value {
        Value::Map(entries) if !entries.is_empty() => {
            for (key, value) in entries {
                out.push_str(&"  ".repeat(depth));
                out.push_str(&quoted(&key.value));
                out.push(':');
                below(out, value, depth);
            }
        }
        Value::List(items) if !items.is_empty() => {
            for item in items {
                out.push_str(&"  ".repeat(depth));
                out.push('-');
                below(out, item, depth);
            }
        }
        _ => below(out, node, depth),
    }
}

/// What stands behind a colon or a dash: a plain value on the same line, anything else on lines of its own.
fn below(out: &mut String, node: &Node, depth: usize) {
    match &node.value {
        Value::Empty => out.push('\n'),
        Value::Text(text) => {
            out.push(' ');
            out.push_str(&quoted(text));
            out.push('\n');
        }
        Value::List(items) if items.is_empty() => out.push_str(" []\n"),
        Value::Map(entries) if entries.is_empty() => out.push_str(" {}\n"),
        _ => {
            out.push('\n');
            block(out, node, depth + 1);
        }
    }
}

/// Text that stands as it is where YAML lets it, else between quotes. Between braces or brackets commas do not stand bare.
pub fn plain_or_quoted(text: &str, inside: bool) -> String {
    let first = text.chars().next().is_some_and(char::is_alphanumeric);
    let bare = |c: char| c.is_alphanumeric() || " -_./()+".contains(c) || (c == ',' && !inside);
    let last = text.ends_with(|c: char| c.is_alphanumeric() || c == ')');
    let null = text.eq_ignore_ascii_case("null");
    if first && last && !null && text.chars().all(bare) {
        text.to_owned()
    } else {
        quoted(text)
    }
}

/// Between double quotes, with what must not stand there escaped.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() => out.push_str(&format!("\\u{:04x}", c as u32)),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
