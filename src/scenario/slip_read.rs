//! Slips that YAML reads as something else than was meant: keys between brackets that have no colon.

use super::finding::{Code, Finding};
use super::node::{Node, SourceSpan, Spanned, Value};
use super::slip::{key_of, known, with_point};
use super::thing::{Table, Thing};
use super::time::weekday;
use super::written::File;
use std::collections::BTreeSet;
use tankday_base::units::read_clock;

/// Slips that YAML reads as something else: keys between brackets that have no colon.
pub(super) fn in_tree(text: &str, tree: &Node) -> Vec<Finding> {
    let keys = known();
    let mut found = Vec::new();
    look(text, tree, &keys, &mut found);
    found.extend(sections_within(text, tree));
    found
}

fn look(text: &str, node: &Node, keys: &BTreeSet<&str>, found: &mut Vec<Finding>) {
    match &node.value {
        Value::List(items) => items.iter().for_each(|i| look(text, i, keys, found)),
        Value::Map(entries) => {
            if let Some(dash) = second_item(text, entries) {
                found.push(dash);
                return;
            }
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

/// The first keys of a thing stand in it a second time, in the same order: the next item of a list, without its dash.
fn second_item(text: &str, entries: &[(Spanned<String>, Node)]) -> Option<Finding> {
    let key = |nth: usize| entries.get(nth).map(|(k, _)| k.value.as_str());
    let again = (1..entries.len()).find(|nth| key(*nth) == key(0))?;
    let alike = again >= 2 && key(again + 1) == key(1);
    let (name, _) = entries.get(again).filter(|_| alike)?;
    let begins = text.get(..name.at.start)?.rfind('\n').map_or(0, |i| i + 1);
    let blank = text.get(begins..name.at.start).filter(|t| t.trim().is_empty())?;
    let line = text[name.at.start..]
        .lines()
        .next()
        .unwrap_or_default()
        .trim_end();
    let at = SourceSpan::new(name.at.start, name.at.start + line.len());
    let found = Finding::new(Code::Syntax, at, "a dash is missing before this");
    Some(found.help(format!(
        "write `{}- {line}`",
        " ".repeat(blank.len().saturating_sub(2))
    )))
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
        let help = match last {
            // Of a count only thousands can be meant.
            Some((key, ..)) if key.value == "count" => format!("write `{whole}{written}`"),
            _ => with_point(&number),
        };
        return Some(syntax(at, format!("`{number}` has a comma in its number")).help(help));
    }
    if let Some((name, rest)) = key_of(written, keys).filter(|(_, rest)| !rest.is_empty()) {
        let message = format!("a colon is missing behind `{name}`");
        return Some(syntax(key.at, message).help(format!("write `{name}: {rest}`")));
    }
    let (name, words, at) = last?;
    if weekday(words).is_some() && read_clock(written).is_ok() {
        let at = SourceSpan::new(at.start, key.at.end);
        let message = format!("`{words}, {written}` has a comma in its time");
        return Some(syntax(at, message).help(format!("write `{}: {words} {written}`", name.value)));
    }
    let message = format!("`{written}` is taken for a key, as a comma ends the text before it");
    let help = format!(
        "put the whole text in quotes: `{}: \"{words}, {written}\"`",
        name.value
    );
    Some(syntax(key.at, message).help(help))
}

/// Sections of the file that are indented, so that they are read as keys of what stands above them.
fn sections_within(text: &str, tree: &Node) -> Vec<Finding> {
    let Value::Map(entries) = &tree.value else {
        return Vec::new();
    };
    let at_the_edge: BTreeSet<&str> = entries.iter().map(|(k, _)| k.value.as_str()).collect();
    let inner = Table::all(File::TABLE)
        .into_iter()
        .filter(|t| t.path != File::TABLE.path);
    let elsewhere: BTreeSet<&str> = inner.flat_map(|t| t.keys).map(|k| k.name).collect();
    let meant = File::TABLE
        .keys
        .iter()
        .filter(|k| k.required || !elsewhere.contains(k.name));
    let missing = meant
        .map(|k| k.name)
        .filter(|k| !at_the_edge.contains(k))
        .collect();
    let mut found = Vec::new();
    for (_, inner) in entries {
        below(text, inner, &missing, &mut found);
    }
    found
}

fn below(text: &str, node: &Node, missing: &BTreeSet<&str>, found: &mut Vec<Finding>) {
    match &node.value {
        Value::List(items) => items.iter().for_each(|i| below(text, i, missing, found)),
        Value::Map(entries) => {
            for (key, value) in entries {
                let begins = text[..key.at.start].lines().next_back().unwrap_or_default();
                let own_line = text[..key.at.start].ends_with(begins) && begins.trim().is_empty();
                // Nothing, where what belongs to it stands no further right than its name.
                let holds = !matches!(value.value, Value::Text(_));
                if missing.contains(key.value.as_str()) && own_line && holds {
                    let message = format!(
                        "`{}` is indented, so it belongs to what stands above it",
                        key.value
                    );
                    let finding = Finding::new(Code::Syntax, key.at, message);
                    found.push(finding.help(format!("write `{}:` without a blank before it", key.value)));
                } else {
                    below(text, value, missing, found);
                }
            }
        }
        Value::Empty | Value::Text(_) => {}
    }
}
