//! A load and a bath as a command line says them: `400 wood screws + 25 lateral levers`, `total acid 33, iron 1.2 g/L`.

use super::draft::Draft;
use super::finding::{Code, Finding, Findings};
use super::nearest::nearest;
use super::node::{Node, SourceSpan, Spanned, Value};
use super::part_name::part_meant;
use super::path;
use super::rules::not_known;
use super::source::Sources;
use super::thing::Thing;
use super::written::{Bath, File, Now};
use tankday_base::shop::{PartId, Shop};

/// At most so many pieces of one part in a load that is asked about.
const MOST: u32 = 1_000_000;
const LOAD: &str =
    "write a count and a part, several with a `+` between them: `400 wood screws + 25 lateral levers`";
const BATH: &str =
    "write readings with commas between them: `total acid 33 points, free acid 5.5 points, iron 1.2 g/L`";

/// Reads what is in a load; `named` is how the place that it comes from is called in print. Pieces of one part that stand
/// there twice are added up.
///
/// # Errors
/// Everything that is wrong with it, each at its place.
pub fn pieces_in(named: &str, text: &str, shop: &Shop) -> Result<Vec<(PartId, u32)>, Findings> {
    let mut sources = Sources::default();
    let from = sources.add(named, text);
    let mut pieces: Vec<(PartId, u32)> = Vec::new();
    let mut found = Vec::new();
    for (item, at) in divided(text, '+') {
        match one(item, at, shop) {
            Ok((part, count)) => match pieces.iter_mut().find(|(p, _)| *p == part) {
                Some((_, all)) => *all = all.saturating_add(count).min(MOST),
                None => pieces.push((part, count)),
            },
            Err(finding) => found.push(finding.moved(from)),
        }
    }
    if found.is_empty() {
        Ok(pieces)
    } else {
        Err(Findings::new(sources, found))
    }
}

/// `400 wood screws`, `400 x wood screw`, `1 brace chuck`.
fn one(item: &str, at: SourceSpan, shop: &Shop) -> Result<(PartId, u32), Finding> {
    let digits = item.len() - item.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let (count, rest) = item.split_at(digits);
    let name = rest.trim_start();
    let crossed = name.strip_prefix(['x', '×']).filter(|r| r.starts_with(' '));
    let name = crossed.unwrap_or(name).trim_start();
    let here = |message: &str| Finding::new(Code::Missing, at, message).help(LOAD);
    if item.is_empty() {
        return Err(here("nothing stands here"));
    }
    if count.is_empty() {
        return Err(here("this doesn't say how many").label("expected a count first"));
    }
    if name.is_empty() {
        return Err(here("this doesn't say which part"));
    }
    let count_at = SourceSpan::new(at.start, at.start + digits);
    let many = count.parse::<u32>().ok().filter(|n| (1..=MOST).contains(n));
    let many = many.ok_or_else(|| {
        Finding::new(Code::Range, count_at, format!("`{count}` is no count of a load"))
            .label(format!("expected 1 to {MOST}"))
    })?;
    let name_at = SourceSpan::new(at.end - name.len(), at.end);
    Ok((part_called(name, name_at, shop)?, many))
}

/// The part of a name, in the singular or in the plural.
fn part_called(name: &str, at: SourceSpan, shop: &Shop) -> Result<PartId, Finding> {
    let meant = part_meant(shop.parts.iter().map(|p| p.name.as_str()), name);
    let found = meant.and_then(|meant| shop.parts.iter().position(|p| p.name == meant));
    if let Some(part) = found {
        return Ok(PartId(u32::try_from(part).unwrap_or(u32::MAX)));
    }
    let name = Spanned::new(name.to_owned(), at);
    Err(not_known(
        &name,
        "part",
        shop.parts.iter().map(|p| p.name.as_str()),
    ))
}

impl Draft {
    /// Puts readings in place of those that a bath starts with; what is not read stays as it was written. `named` is how the
    /// place that they come from is called in print.
    ///
    /// # Errors
    /// Everything in the text that is no reading. Whether a value can be understood is found out by [`Draft::scenario`].
    pub fn set_readings(&mut self, named: &str, bath: &str, text: &str) -> Result<(), Findings> {
        let from = self.sources.add(named, text);
        self.changed = true;
        let mut found = Vec::new();
        let mut read = Vec::new();
        for (item, at) in divided(text, ',') {
            match reading(item, at) {
                Ok((key, value, value_at)) => read.push((key, at, value, value_at)),
                Err(finding) => found.push(finding.moved(from)),
            }
        }
        if let Some(iron) = self.no_longer_fresh(bath, from)
            && !read.iter().any(|(key, ..)| *key == Now::iron.name)
        {
            found.extend(self.put(bath, Now::iron.name, iron));
        }
        for (key, _, value, at) in read {
            let node = Node::of_text(value, at.moved(from));
            found.extend(self.put(bath, key, node));
        }
        if found.is_empty() {
            return Ok(());
        }
        Err(Findings::new(self.sources.clone(), found))
    }

    fn put(&mut self, bath: &str, key: &str, value: Node) -> Option<Finding> {
        let at = value.at;
        let way = format!("{}.{bath}.{}.{key}", File::baths.name, Bath::now.name);
        let put = path::set(&mut self.tree, &way, at, value);
        put.err().map(|f| Finding { at, ..f })
    }

    /// A bath that was just made up and is read now has no iron unless somebody reads some: what that is.
    fn no_longer_fresh(&mut self, bath: &str, from: usize) -> Option<Node> {
        let at = SourceSpan::new(from, from);
        let Value::Map(entries) = &mut self.tree.value else {
            return None;
        };
        let (_, baths) = entries.iter_mut().find(|(k, _)| k.value == File::baths.name)?;
        let Value::Map(baths) = &mut baths.value else {
            return None;
        };
        let (_, own) = baths.iter_mut().find(|(k, _)| k.value == bath)?;
        let Value::Map(keys) = &mut own.value else {
            return None;
        };
        let (_, now) = keys.iter_mut().find(|(k, _)| k.value == Bath::now.name)?;
        now.text()?;
        *now = Node::new(Value::Map(Vec::<(Spanned<String>, Node)>::new()), now.at);
        Some(Node::of_text("0 g/L".to_owned(), at))
    }
}

/// `total acid 33`: the key, the value with its unit, and the value's place. Acids read by titration are points.
fn reading(item: &str, at: SourceSpan) -> Result<(&'static str, String, SourceSpan), Finding> {
    let keys = || Now::TABLE.keys.iter().map(|k| k.name);
    let behind = |key: &&'static str| {
        let rest = item.strip_prefix(*key)?;
        (rest.is_empty() || rest.starts_with([' ', ':', '='])).then_some(rest)
    };
    let known = keys()
        .filter_map(|key| Some((key, behind(&key)?)))
        .max_by_key(|(key, _)| key.len());
    let Some((key, rest)) = known else {
        let finding = Finding::new(Code::UnknownKey, at, format!("`{item}` is no reading of a bath"));
        let words: Vec<&str> = item.split(' ').take(2).collect();
        let finding = match nearest(&words.join(" "), keys()) {
            Some(near) => finding.label(format!("did you mean `{near}`?")),
            None => finding.label("not known here"),
        };
        return Err(finding.help(BATH));
    };
    let value = rest.trim_start_matches([' ', ':', '=']);
    if value.is_empty() {
        return Err(Finding::new(Code::Missing, at, format!("`{key}` has no value")).help(BATH));
    }
    let value_at = SourceSpan::new(at.end - value.len(), at.end);
    let acid = key == Now::total_acid.name || key == Now::free_acid.name;
    let plain = value.chars().all(|c| c.is_ascii_digit() || c == '.');
    let unit = if acid && plain { " points" } else { "" };
    Ok((key, format!("{value}{unit}"), value_at))
}

/// The pieces of a text between separators, blanks around them left out, each with its place.
fn divided(text: &str, by: char) -> impl Iterator<Item = (&str, SourceSpan)> {
    let mut start = 0;
    text.split(by).map(move |piece| {
        let front = start + piece.len() - piece.trim_start().len();
        start += piece.len() + by.len_utf8();
        let piece = piece.trim();
        (piece, SourceSpan::new(front, front + piece.len()))
    })
}
