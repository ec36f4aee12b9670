//! Slips that YAML reads as something else than was meant: keys between brackets that have no colon.

use super::finding::{Code, Finding};
use super::node::{Node, SourceSpan, Spanned, Value};
use super::slip::{key_of, known, with_point};
use std::collections::BTreeSet;

/// Slips that YAML reads as something else: keys between brackets that have no colon.
pub(super) fn in_tree(text: &str, tree: &Node) -> Vec<Finding> {
    let keys = known();
    let mut found = Vec::new();
    look(text, tree, &keys, &mut found);
    found
}

fn look(text: &str, node: &Node, keys: &BTreeSet<&str>, found: &mut Vec<Finding>) {
    match &node.value {
        Value::List(items) => items.iter().for_each(|i| look(text, i, keys, found)),
        Value::Map(entries) => {
            let mut before: Option<&(Spanned<String>, Node)> = None;
            for entry in entries {
                found.extend(without_colon(text, entry, before, keys));
                look(text, &entry.1, keys, found);
                before = Some(entry);
            }
        }
        Value::Empty | Value::Text(_) => {}
    }
}

fn without_colon(
    text: &str,
    (key, value): &(Spanned<String>, Node),
    before: Option<&(Spanned<String>, Node)>,
    keys: &BTreeSet<&str>,
) -> Option<Finding> {
    let written = text.get(key.at.range())?;
    if let Some((name, rest)) = written.split_once([' ', ':'])
        && keys.contains(name)
        && rest.starts_with(['{', '['])
    {
        let line = text[key.at.start..].lines().next().unwrap_or_default().trim_end();
        let rest = line[name.len()..].trim_start_matches([' ', ':']);
        let found = Finding::new(
            Code::Syntax,
            key.at,
            format!("a colon is missing behind `{name}`"),
        );
        return Some(found.help(format!("write `{name}: {rest}`")));
    }
    let alone = text[key.at.end..].trim_start().starts_with([',', '}']);
    if !matches!(value.value, Value::Empty) || !alone || keys.contains(written) {
        return None;
    }
    let syntax = |at: SourceSpan, message: String| Finding::new(Code::Syntax, at, message);
    if let Some((name, rest)) = written.split_once(':').filter(|(name, _)| keys.contains(name)) {
        let message = format!("a blank is missing behind the colon of `{name}`");
        return Some(syntax(key.at, message).help(format!("write `{name}: {rest}`")));
    }
    let last = before.and_then(|(k, v)| Some((k, v.text()?, v.at)));
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    if let Some((_, whole, at)) = last
        && digit(whole.chars().last())
        && digit(written.chars().next())
    {
        let number = format!("{whole},{written}");
        let at = SourceSpan::new(at.start, key.at.end);
        return Some(syntax(at, format!("`{number}` has a comma in its number")).help(with_point(&number)));
    }
    if let Some((name, rest)) = key_of(written, keys).filter(|(_, rest)| !rest.is_empty()) {
        let message = format!("a colon is missing behind `{name}`");
        return Some(syntax(key.at, message).help(format!("write `{name}: {rest}`")));
    }
    let (name, words, _) = last?;
    let message = format!("`{written}` is taken for a key, as a comma ends the text before it");
    let help = format!(
        "put the whole text in quotes: `{}: \"{words}, {written}\"`",
        name.value
    );
    Some(syntax(key.at, message).help(help))
}
