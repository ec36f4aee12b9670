//! Prints findings under the lines that caused them.

use super::finding::{Finding, Findings, Severity};
use super::node::SourceSpan;
use super::source::Within;
use super::walk::MOST_FINDINGS;
use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use tankday_base::print::wrap;
use tankday_base::units::POINT;

/// Findings printed in full; the rest is counted.
const MOST_PRINTED: usize = 50;
/// Width that long lines are cut to, in columns. Fixed, so that the same mistakes print the same everywhere.
const WIDTH: usize = 110;
/// A line longer than this is not printed under its finding, in bytes.
const LONGEST_LINE: usize = 2_000;

impl Findings {
    /// All findings as text, each with the line it stands on and its remedy, then how many there are. Empty if there
    /// are none.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour {
            Renderer::styled()
        } else {
            Renderer::plain()
        };
        let renderer = renderer.term_width(WIDTH).decor_style(DecorStyle::Ascii);
        let mut out = String::new();
        for finding in self.list.iter().take(MOST_PRINTED) {
            out.push_str(&renderer.render(&[self.group(finding)]));
            out.push_str("\n\n");
        }
        if self.speaks_of_points() {
            out.push_str(&format!("{}\n\n", wrap(POINT, WIDTH).join("\n")));
        }
        out.push_str(&self.sum());
        out
    }

    /// Whether what is printed names points, which not everybody titrates by.
    fn speaks_of_points(&self) -> bool {
        let printed = self.list.iter().take(MOST_PRINTED);
        let mut texts = printed.flat_map(|f| [&f.message, &f.label, &f.help]);
        texts.any(|text| {
            text.split(|c: char| !c.is_alphanumeric())
                .any(|word| word == "points")
        })
    }

    fn group<'a>(&'a self, finding: &'a Finding) -> Group<'a> {
        let level = match finding.weight {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
        };
        let title = level
            .primary_title(finding.message.as_str())
            .id(finding.code.word());
        let mut group = title.element(snippet(self.sources.within(finding.at), finding));
        for other in self.other_sources(finding) {
            group = group.element(snippet(other, finding));
        }
        if !finding.help.is_empty() {
            group = group.element(Level::HELP.message(finding.help.as_str()));
        }
        group
    }

    /// Texts that only the other places of a finding stand in.
    fn other_sources(&self, finding: &Finding) -> Vec<Within<'_>> {
        let first = self.sources.within(finding.at);
        let mut others: Vec<Within<'_>> = Vec::new();
        for (place, _) in &finding.others {
            let within = self.sources.within(*place);
            if within != first && !others.contains(&within) {
                others.push(within);
            }
        }
        others
    }

    fn sum(&self) -> String {
        let count = |w: Severity| self.list.iter().filter(|f| f.weight == w).count();
        let words = [
            (count(Severity::Error), "mistake"),
            (count(Severity::Warning), "warning"),
        ];
        let words: Vec<String> = words
            .iter()
            .filter(|(n, _)| *n > 0)
            .map(|(n, word)| format!("{n} {word}{}", if *n == 1 { "" } else { "s" }))
            .collect();
        if words.is_empty() {
            return String::new();
        }
        let least = if self.list.len() >= MOST_FINDINGS {
            " at least"
        } else {
            ""
        };
        let more = self.list.len().saturating_sub(MOST_PRINTED);
        let more = if more > 0 {
            format!(", the first {MOST_PRINTED} shown")
        } else {
            String::new()
        };
        format!("{}:{least} {}{more}\n", self.whose(), words.join(", "))
    }

    /// The text that all findings stand in; if there are several, the one that was asked for.
    fn whose(&self) -> &str {
        let mut names = self.list.iter().map(|f| self.sources.within(f.at).name);
        let first = names.next();
        match first {
            Some(first) if names.all(|name| name == first) => first,
            _ => self.sources.name(),
        }
    }
}

/// The lines of one text around the places of a finding in it.
fn snippet<'a>(source: Within<'a>, finding: &'a Finding) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let others: Vec<(SourceSpan, &str)> = finding
        .others
        .iter()
        .filter(|(place, _)| source.holds(*place))
        .map(|(place, label)| (source.own(*place), label.as_str()))
        .collect();
    let main = source.holds(finding.at).then(|| source.own(finding.at));
    let (start, end) = lines(source.text, others.iter().map(|(p, _)| *p).chain(main));
    let shown = source.text.get(start..end).unwrap_or_default();
    let first_line = source.text.get(..start).unwrap_or_default().matches('\n').count() + 1;
    if shown.lines().any(|l| l.len() > LONGEST_LINE) {
        return Snippet::source("(a very long line)")
            .line_start(first_line)
            .path(source.name);
    }
    let mut snippet = Snippet::source(shown).line_start(first_line).path(source.name);
    let span = |place: SourceSpan| first_line_of(source.text, place, start, shown.len());
    if let Some(main) = main {
        let mut primary = AnnotationKind::Primary.span(span(main));
        if !finding.label.is_empty() {
            primary = primary.label(finding.label.as_str());
        }
        snippet = snippet.annotation(primary);
    }
    for (place, label) in others {
        snippet = snippet.annotation(AnnotationKind::Context.span(span(place)).label(label));
    }
    snippet
}

/// From the beginning of the first line to the end of the last.
fn lines(text: &str, places: impl Iterator<Item = SourceSpan>) -> (usize, usize) {
    let (mut start, mut end) = (text.len(), 0);
    for place in places {
        start = start.min(place.start);
        end = end.max(place.start);
    }
    let start = text.get(..start).and_then(|t| t.rfind('\n')).map_or(0, |i| i + 1);
    let rest = text.get(end..).and_then(|t| t.find('\n'));
    (start, rest.map_or(text.len(), |i| end + i))
}

/// A place counted from `start`, cut at the end of its first line.
fn first_line_of(text: &str, place: SourceSpan, start: usize, length: usize) -> std::ops::Range<usize> {
    let written = text.get(place.range()).unwrap_or_default();
    let line = written.lines().next().map_or(0, |l| l.trim_end().len());
    let from = place.start.saturating_sub(start).min(length);
    from..(from + line).min(length)
}
