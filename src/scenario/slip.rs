//! The usual slips behind a text that is no YAML, or YAML that means something else: a tab, a colon or the blank behind it
//! forgotten, a comma in a text or a number, a bracket left open, a line that stands too far left or right. Each is told where
//! it was made, which is not always where reading stopped, with the text to write instead.

use super::finding::{Code, Finding};
use super::node::SourceSpan;
use super::slip_line;
use super::thing::{Table, Thing};
use super::written::File;
use std::collections::BTreeSet;

/// A line of the text.
#[derive(Debug, Clone, Copy)]
struct Line<'a> {
    /// Its first byte.
    start: usize,
    /// Without its end.
    text: &'a str,
}

impl<'a> Line<'a> {
    fn indent(self) -> usize {
        self.text.len() - self.text.trim_start_matches(' ').len()
    }

    /// Without comment, and without the blanks around it.
    fn said(self) -> &'a str {
        let plain = self.text.split(" #").next().unwrap_or_default();
        plain.trim()
    }

    /// What stands behind its dashes, and at which column.
    fn content(self) -> (usize, &'a str) {
        let (mut column, mut said) = (self.indent(), self.said());
        while let Some(rest) = said.strip_prefix("- ") {
            column += said.len() - rest.trim_start().len();
            said = rest.trim_start();
        }
        (column, said)
    }

    fn place(self) -> SourceSpan {
        let start = self.start + self.text.len() - self.text.trim_start().len();
        SourceSpan::new(start, start + self.said().len())
    }
}

fn lines(text: &str) -> Vec<Line<'_>> {
    let mut start = 0;
    let mut all = Vec::new();
    for whole in text.split_inclusive('\n') {
        all.push(Line {
            start,
            text: whole.trim_end_matches(['\n', '\r']),
        });
        start += whole.len();
    }
    all
}

/// Every key that a scenario knows.
pub(super) fn known() -> BTreeSet<&'static str> {
    let keys = Table::all(File::TABLE).into_iter().flat_map(|t| t.keys);
    keys.map(|k| k.name).collect()
}

/// The longest key that a text begins with, and what follows it.
pub(super) fn key_of<'a>(text: &'a str, keys: &BTreeSet<&str>) -> Option<(&'a str, &'a str)> {
    let ends = text.match_indices(' ').map(|(i, _)| i).chain([text.len()]);
    let split = ends
        .collect::<Vec<_>>()
        .into_iter()
        .rfind(|end| keys.contains(&text[..*end]))?;
    Some((&text[..split], text[split..].trim_start()))
}

/// What is behind a syntax error at a place of a text, if it is one of the usual slips.
pub(super) fn behind(text: &str, at: SourceSpan, message: &str) -> Option<Finding> {
    let lines = lines(text);
    let here = lines.iter().rposition(|l| l.start <= at.start)?;
    let near = Near {
        keys: known(),
        lines: &lines,
        here,
        at,
        message,
    };
    let lines = slip_line::Near {
        text,
        lines: &near.lines.iter().map(|l| (l.start, l.text)).collect::<Vec<_>>(),
        here,
        at,
        message,
    };
    near.tab()
        .or_else(|| lines.slip())
        .or_else(|| near.bracket(text))
        .or_else(|| near.line_of_its_own())
        .or_else(|| near.colon_in_text())
        .or_else(|| near.indented())
        .or_else(|| near.first_letter(text))
}

/// A syntax error and the lines about it.
struct Near<'a> {
    keys: BTreeSet<&'static str>,
    lines: &'a [Line<'a>],
    here: usize,
    at: SourceSpan,
    message: &'a str,
}

impl<'a> Near<'a> {
    fn line(&self) -> Option<Line<'a>> {
        self.lines.get(self.here).copied()
    }

    /// The last line before the one of the error with anything on it.
    fn before(&self) -> Option<Line<'a>> {
        let above = self.lines.get(..self.here)?;
        above.iter().rev().find(|l| !l.said().is_empty()).copied()
    }

    fn tab(&self) -> Option<Finding> {
        if !self.message.contains("tab") {
            return None;
        }
        let from = self.here.saturating_sub(1);
        let about = self.lines.get(from..(self.here + 2).min(self.lines.len()))?;
        let blank = |l: &Line<'_>| l.text.len() - l.text.trim_start().len();
        let nth = about.iter().position(|l| l.text[..blank(l)].contains('\t'))?;
        let line = about[nth];
        let tab = line.start + line.text.find('\t')?;
        // As far in as the line below, else as the one above.
        let below = self.lines.get(from + nth + 1).filter(|l| !l.said().is_empty());
        let above = self.lines.get((from + nth).checked_sub(1)?);
        let with = below.filter(|l| !l.text.starts_with('\t')).or(above)?;
        let said = line.text.trim();
        Some(
            Finding::new(
                Code::Syntax,
                SourceSpan::new(tab, tab + 1),
                "a tab indents this line",
            )
            .label("a tab")
            .help(format!(
                "only blanks indent: write `{}{said}`",
                " ".repeat(with.indent())
            )),
        )
    }

    fn bracket(&self, text: &str) -> Option<Finding> {
        if self.message.contains("misplaced bracket") {
            let found = Finding::new(Code::Syntax, self.at, "a bracket is closed that was not opened");
            return Some(found.help("remove it"));
        }
        let unclosed = self.message.contains("unclosed bracket");
        let end = if unclosed {
            self.at.start + 1
        } else {
            self.at.start
        };
        let open = *open_brackets(text.get(..end)?).last()?;
        let row = self.lines.iter().rposition(|l| l.start <= open)?;
        let line = *self.lines.get(row)?;
        let close = if text[open..].starts_with('{') { '}' } else { ']' };
        if unclosed || row < self.here {
            let from = &line.text[open - line.start..];
            let from = from.split(" #").next().unwrap_or_default().trim_end();
            let whole = from.trim_end_matches(',');
            let ends_here = unclosed || row + 1 == self.here || whole.len() == from.len();
            let help = if ends_here {
                format!("write `{whole}{close}`")
            } else {
                format!("close it with `{close}`")
            };
            let at = SourceSpan::new(open, open + 1);
            return Some(
                Finding::new(Code::Syntax, at, "a bracket is opened and not closed")
                    .label("opened here")
                    .help(help),
            );
        }
        self.comma(text, open)
    }

    /// A comma is missing before the key that ends where the error is.
    fn comma(&self, text: &str, open: usize) -> Option<Finding> {
        if !text[self.at.start..].starts_with(':') {
            return None;
        }
        let inside = &text[open + 1..self.at.start];
        let from = open + 1 + inside.rfind([',', '[', '{']).map_or(0, |i| i + 1);
        let part = &text[from..self.at.start];
        let words = part.match_indices(' ').map(|(i, _)| i + 1);
        let starts: Vec<usize> = words.filter(|i| !part[*i..].trim().is_empty()).collect();
        let is_key = |i: &&usize| self.keys.contains(part[**i..].trim());
        let word = &part[*starts.iter().find(is_key).or(starts.last())?..];
        // More than one blank may stand before it, also such as the letters of a screen do not show.
        let begins = part.len() - word.trim_start().len();
        let key = word.trim();
        let rest = text[self.at.start..].split([',', '}', ']', '\n']).next()?;
        let place = SourceSpan::new(from + begins, from + begins + key.len());
        Some(
            Finding::new(Code::Syntax, place, format!("a comma is missing before `{key}`"))
                .label("a new key")
                .help(format!(
                    "write `{}, {key}{}`",
                    part[..begins].trim(),
                    rest.trim_end()
                )),
        )
    }

    /// A line that should hold a key and has no colon, or no blank behind it.
    fn line_of_its_own(&self) -> Option<Finding> {
        let own = self.line().and_then(|l| self.uncoloned(l, true));
        own.or_else(|| self.before().and_then(|l| self.uncoloned(l, false)))
    }

    fn uncoloned(&self, line: Line<'_>, own: bool) -> Option<Finding> {
        let (_, said) = line.content();
        let at = line.place();
        let glued = |r: &&str| {
            r.starts_with(['{', '[', '"']) || r.starts_with(char::is_alphabetic) && r.contains(':')
        };
        if let Some(rest) = said.strip_prefix('-').filter(glued) {
            let found = Finding::new(Code::Syntax, at, "a blank is missing behind the dash");
            return Some(found.help(format!("write `- {rest}`")));
        }
        let dashes = &line.said()[..line.said().len() - said.len()];
        if said.contains(": ") || said.ends_with(':') || !said.starts_with(char::is_alphabetic) {
            return None;
        }
        let simple = own && self.message.contains("simple key");
        let colon = said.split_once(':').filter(|(key, rest)| {
            let letters = key.chars().all(|c| c.is_alphabetic() || c == ' ');
            letters && !rest.is_empty() && (self.keys.contains(key) || simple)
        });
        if let Some((key, rest)) = colon {
            let found = Finding::new(
                Code::Syntax,
                at,
                format!("a blank is missing behind the colon of `{key}`"),
            );
            return Some(found.help(format!("write `{dashes}{key}: {rest}`")));
        }
        let first = || said.split_once(' ').unwrap_or((said, ""));
        let (key, rest) = match key_of(said, &self.keys) {
            Some(found) => found,
            None if simple => first(),
            None => return None,
        };
        let instead = format!("{dashes}{key}: {rest}");
        let found = Finding::new(Code::Syntax, at, format!("a colon is missing behind `{key}`"));
        Some(found.help(format!("write `{}`", instead.trim_end())))
    }

    /// A text with a colon in it.
    fn colon_in_text(&self) -> Option<Finding> {
        let line = self.line().filter(|_| self.message.contains("mapping values"))?;
        let (_, said) = line.content();
        let (key, value) = said.split_once(": ")?;
        if !value.contains(": ") || value.starts_with(['"', '\'', '{', '[']) {
            return None;
        }
        let start = line.start + line.text.find(value)?;
        Some(
            Finding::new(
                Code::Syntax,
                SourceSpan::new(start, start + value.len()),
                "a colon with a blank behind it stands in this text",
            )
            .help(format!(
                "put the text in quotes: `{key}: \"{}\"`",
                value.replace('"', "'")
            )),
        )
    }

    /// A line that stands at the column of none that it could belong to.
    fn indented(&self) -> Option<Finding> {
        if !["block collection", "block mapping", "mapping values"]
            .iter()
            .any(|m| self.message.contains(m))
        {
            return None;
        }
        let line = self.line()?;
        let own = line.indent();
        let dash = line.said().starts_with("- ");
        let mut least = usize::MAX;
        let mut columns: Vec<usize> = Vec::new();
        for above in self
            .lines
            .get(..self.here)?
            .iter()
            .rev()
            .filter(|l| !l.said().is_empty())
        {
            let (inner, _) = above.content();
            let item = above.said().starts_with("- ");
            for column in [inner, above.indent()] {
                if column < least && (dash == (item && column == above.indent())) {
                    columns.push(column);
                }
            }
            least = least.min(above.indent());
        }
        if columns.is_empty() || columns.contains(&own) {
            return None;
        }
        let meant = *columns.iter().min_by_key(|c| c.abs_diff(own))?;
        let blanks = |n: usize| {
            if n == 1 {
                "1 blank".to_owned()
            } else {
                format!("{n} blanks")
            }
        };
        Some(
            Finding::new(
                Code::Syntax,
                line.place(),
                format!(
                    "this line is indented by {}, those that it belongs to by {}",
                    blanks(own),
                    meant
                ),
            )
            .help(format!("write `{}{}`", " ".repeat(meant), line.said())),
        )
    }

    /// A sign that no text begins with.
    fn first_letter(&self, text: &str) -> Option<Finding> {
        if !self.message.contains("unexpected character") {
            return None;
        }
        let line = self.line()?;
        let rest = line
            .text
            .get(self.at.start.checked_sub(line.start)?..)?
            .trim_end();
        let sign = text[self.at.start..].chars().next()?;
        let found = Finding::new(
            Code::Syntax,
            self.at,
            format!("a text cannot begin with `{sign}`"),
        );
        Some(found.help(format!("put it in quotes: `\"{rest}\"`")))
    }
}

/// Where the brackets stand that are open at the end of a text.
fn open_brackets(text: &str) -> Vec<usize> {
    let (mut open, mut quote, mut comment) = (Vec::new(), None, false);
    let mut before = '\n';
    for (i, c) in text.char_indices() {
        match (quote, c) {
            _ if comment => comment = c != '\n',
            (Some(q), _) if c == q => quote = None,
            (Some(_), _) => {}
            (None, '#') if before.is_whitespace() => comment = true,
            (None, '"' | '\'') if !before.is_alphanumeric() => quote = Some(c),
            (None, '{' | '[') if !open.is_empty() || before.is_whitespace() => open.push(i),
            (None, '}' | ']') => {
                open.pop();
            }
            _ => {}
        }
        before = c;
    }
    open
}

/// What to write for a number with a comma.
pub(super) fn with_point(number: &str) -> String {
    let Some((whole, rest)) = number.split_once(',') else {
        return String::new();
    };
    let digits = rest.chars().take_while(char::is_ascii_digit).count();
    let point = format!("write `{whole}.{rest}`");
    if digits == 3 {
        format!("{point}, or `{whole}{rest}` if thousands are meant")
    } else {
        point
    }
}
