//! Slips that show at the beginning of a line: a name without its colon over what belongs to it, a key without its colon
//! before a bracket, a dash that is missing before a bracket, a quote that is left open or closed too early.

use super::finding::{Code, Finding};
use super::node::SourceSpan;

/// A syntax error and the lines about it.
pub(super) struct Near<'a> {
    pub(super) text: &'a str,
    /// Each with its first byte, without its end.
    pub(super) lines: &'a [(usize, &'a str)],
    /// The line at which reading stopped.
    pub(super) here: usize,
    pub(super) at: SourceSpan,
    pub(super) message: &'a str,
}

impl<'a> Near<'a> {
    /// What is behind the error, if it is one of these.
    pub(super) fn slip(&self) -> Option<Finding> {
        self.name()
            .or_else(|| self.key_before_bracket())
            .or_else(|| self.beside_inner_bracket())
            .or_else(|| self.dash())
            .or_else(|| self.first_dash())
            .or_else(|| self.first_line())
            .or_else(|| self.behind_a_quote())
    }

    fn line(&self, nth: usize) -> Option<(usize, &'a str)> {
        self.lines.get(nth).copied()
    }

    fn here(&self) -> Option<(usize, &'a str)> {
        self.line(self.here)
    }

    /// The last line above the error with anything on it.
    fn above(&self) -> Option<(usize, &'a str)> {
        let above = self.lines.get(..self.here)?.iter().rev();
        above.copied().find(|(_, l)| !said(l).is_empty())
    }

    /// A name stands alone, without a colon, over lines that are indented more.
    fn name(&self) -> Option<Finding> {
        // A comment behind the name stops reading at the name itself.
        let (name, below) = if self.message.contains("comment intercepting") {
            (self.here()?, self.line(self.here + 1)?)
        } else {
            (self.above()?, self.here()?)
        };
        let ((start, line), (_, below)) = (name, below);
        let name = said(line);
        let is_name =
            name.starts_with(char::is_alphabetic) && !name.contains([':', '{', '[', '"', '#', '|', '>']);
        let inside = indent(below) > indent(line)
            || indent(below) == indent(line) && below.trim_start().starts_with("- ");
        (is_name && inside && said(below).contains(':')).then(|| {
            let begin = start + indent(line);
            let at = SourceSpan::new(begin, begin + name.len());
            let found = Finding::new(Code::Syntax, at, format!("a colon is missing behind `{name}`"));
            found.help(format!("write `{name}:`"))
        })
    }

    /// `band {least: 88 °C, hold: 95 °C}`
    fn key_before_bracket(&self) -> Option<Finding> {
        let (start, line) = self.here()?;
        let said = said(line);
        let key = said.split(['{', '[']).next()?.trim_end();
        let key = key.trim_start_matches("- ").trim_start();
        let letters = |c: char| c.is_alphanumeric() || " -_/.".contains(c);
        let opens =
            said.contains(['{', '[']) && key.starts_with(char::is_alphanumeric) && key.chars().all(letters);
        opens.then(|| {
            let begin = start + line.find(key).unwrap_or(0);
            let rest = line[begin - start + key.len()..].trim();
            let at = SourceSpan::new(begin, begin + key.len());
            let found = Finding::new(Code::Syntax, at, format!("a colon is missing behind `{key}`"));
            found.help(format!("write `{key}: {rest}`"))
        })
    }

    /// `{close: 17:00, breaks [12:00 to 12:30]}`, or `{breaks: [12:00 to 12:30] close: 17:00}`.
    fn beside_inner_bracket(&self) -> Option<Finding> {
        let (start, line) = self.here().filter(|_| self.message.contains("expected ',' or"))?;
        let opened = line.match_indices(['[', '{']).map(|(i, _)| i);
        let glued = |i: &usize| line[..*i].trim_end().ends_with(char::is_alphanumeric);
        if let Some(open) = opened.into_iter().find(glued) {
            let from = line[..open].rfind([',', '{', '[']).map_or(0, |i| i + 1);
            let key = line[from..open].trim();
            let close = line[open..].find([']', '}']).map_or(line.len(), |i| open + i + 1);
            let begin = start + from + line[from..open].find(key).unwrap_or(0);
            let at = SourceSpan::new(begin, begin + key.len());
            let found = Finding::new(Code::Syntax, at, format!("a colon is missing behind `{key}`"));
            return Some(found.help(format!("write `{key}: {}`", &line[open..close])));
        }
        let closed = line.match_indices([']', '}']).map(|(i, _)| i + 1);
        let goes_on = |i: &usize| line[*i..].trim_start().starts_with(char::is_alphabetic);
        let close = closed.into_iter().find(goes_on)?;
        let rest = line[close..].trim_start();
        let key = rest.split(':').next()?.trim();
        let begin = start + line.len() - rest.len();
        let value = rest.split([',', ']', '}']).next()?.trim();
        let at = SourceSpan::new(begin, begin + key.len());
        let found = Finding::new(Code::Syntax, at, format!("a comma is missing before `{key}`"));
        Some(found.label("a new key").help(format!("write `, {value}`")))
    }

    /// A line of a list without its dash: `{date: …}` beside others with `- {date: …}`.
    fn dash(&self) -> Option<Finding> {
        let is_item = |l: &str| l.trim_start().starts_with("- ");
        let near = [self.here(), self.above()];
        let (start, line) = near
            .into_iter()
            .flatten()
            .find(|(_, l)| l.trim_start().starts_with('{'))?;
        let nth = self.lines.iter().position(|l| l.0 == start)?;
        let beside = [nth.checked_sub(1), Some(nth + 1)].into_iter().flatten();
        let mut items = beside.filter_map(|n| self.line(n)).filter(|(_, l)| is_item(l));
        let (_, item) = items.next()?;
        let begin = start + indent(line);
        let at = SourceSpan::new(begin, begin + said(line).len());
        let found = Finding::new(Code::Syntax, at, "a dash is missing before this");
        Some(found.help(format!("write `{}- {}`", " ".repeat(indent(item)), said(line))))
    }

    /// The first item of a list without its dash: reading stops at the second, which has one.
    fn first_dash(&self) -> Option<Finding> {
        let (_, line) = self.here().filter(|(_, l)| l.trim_start().starts_with("- "))?;
        let above = self.lines.get(..self.here)?;
        let head = above
            .iter()
            .rposition(|(_, l)| !said(l).is_empty() && indent(l) < indent(line))?;
        above
            .get(head)
            .filter(|(_, l)| said(l).ends_with(':') && !said(l).starts_with('-'))?;
        let (start, first) = *above.get(head + 1..)?.iter().find(|(_, l)| !said(l).is_empty())?;
        let said = said(first);
        (said.contains(": ") && !said.starts_with('-')).then(|| {
            let begin = start + indent(first);
            let at = SourceSpan::new(begin, begin + said.len());
            let found = Finding::new(Code::Syntax, at, "a dash is missing before this");
            found.help(format!("write `{}- {said}`", " ".repeat(indent(line))))
        })
    }

    /// The first line of all is indented, so that the next stands further left than it may.
    fn first_line(&self) -> Option<Finding> {
        let (start, line) = *self
            .lines
            .iter()
            .find(|(_, l)| !said(l).is_empty() && !l.starts_with('#'))?;
        let stopped = self.message.contains("document start") && indent(line) > 0;
        stopped.then(|| {
            let at = SourceSpan::new(start, start + line.len());
            let found = Finding::new(Code::Syntax, at, "the first line is indented, and others are not");
            found.help(format!("write `{}`", said(line)))
        })
    }

    /// Text goes on behind a closing quote: a comma is missing there, or the quote was opened further up and not closed.
    fn behind_a_quote(&self) -> Option<Finding> {
        if !self.message.contains("trailing content after") {
            return None;
        }
        if let Some((start, line)) = self.open_quote() {
            let column = line.find(['"', '\''])?;
            let value = line[column + 1..].split([',', '}', ']']).next()?.trim_end();
            let mark = &line[column..=column];
            let at = SourceSpan::new(start + column, start + column + 1);
            let found = Finding::new(Code::Syntax, at, "a quote is opened and not closed");
            return Some(
                found
                    .label("opened here")
                    .help(format!("write `{mark}{value}{mark}`")),
            );
        }
        let (start, line) = self.here()?;
        let column = self.at.start.checked_sub(start)?;
        let quote = line.get(..column)?.rfind(['"', '\''])?;
        let rest = line[quote + 1..].trim_start();
        let at = SourceSpan::new(start + line.len() - rest.len(), start + line.len());
        if let Some((key, _)) = rest
            .split_once(':')
            .filter(|(key, _)| !key.contains([',', '}', ']']))
        {
            let at = SourceSpan::new(at.start, at.start + key.len());
            let found = Finding::new(Code::Syntax, at, format!("a comma is missing before `{key}`"));
            let value = rest.split([',', '}', ']']).next().unwrap_or_default();
            return Some(found.label("a new key").help(format!("write `, {value}`")));
        }
        let found = Finding::new(Code::Syntax, at, "text goes on behind the closing quote");
        Some(found.help("put all of it between the quotes, or leave both quotes out"))
    }

    /// The line above on which a quote is opened and not closed.
    fn open_quote(&self) -> Option<(usize, &'a str)> {
        let odd = |l: &str| l.matches('"').count() % 2 == 1;
        let above = self.text.get(..self.at.start).map_or(0, |t| t.lines().count());
        let lines = self.lines.get(..above.saturating_sub(1))?;
        lines
            .iter()
            .copied()
            .find(|(_, l)| odd(l) && !l.trim_start().starts_with('#'))
    }
}

fn indent(line: &str) -> usize {
    line.len() - line.trim_start_matches(' ').len()
}

/// Without comment, and without the blanks around it.
fn said(line: &str) -> &str {
    line.split(" #").next().unwrap_or_default().trim()
}
