//! What all pages share: the frame around them, and a section of a picture with its words and its table.

use super::look::style;
use super::units::Units;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Adds what is not needed to read a page.
const SCRIPT: &str = include_str!("script.js");

/// A page.
pub(super) struct Page<'a> {
    /// In the window's title.
    pub(super) title: &'a str,
    /// The line above everything.
    pub(super) top: Markup,
    /// What stands in it; its first element has the id `answer`.
    pub(super) main: Markup,
    /// More rules for the style sheet.
    pub(super) rules: &'a str,
    /// The units that it speaks in first.
    pub(super) units: Units,
    /// One more script, for what only this page has; may be empty.
    pub(super) script: &'a str,
}

impl Page<'_> {
    /// As an HTML file.
    pub(super) fn write(&self) -> String {
        let page = html! {
            (DOCTYPE)
            html lang="en" data-units=(self.units.word()) {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    meta name="color-scheme" content="light dark";
                    title { (self.title) }
                    style { (PreEscaped(style())) (PreEscaped(self.rules)) }
                }
                body {
                    a.skip href="#answer" { "To the answer" }
                    div.page {
                        header.top { span { (self.top) } div.set {} }
                        main id="answer" tabindex="-1" { (self.main) }
                    }
                    script { (PreEscaped(SCRIPT)) }
                    @if !self.script.is_empty() { script { (PreEscaped(self.script)) } }
                }
            }
        };
        page.into_string() + "\n"
    }
}

/// A part of the page: heading, what is found, how to read it, pictures, and the same as a table.
pub(super) struct Part<'a> {
    /// Its id, for the contents.
    pub(super) id: &'a str,
    /// Its heading.
    pub(super) heading: &'a str,
    /// What is found.
    pub(super) found: Markup,
    /// How to read it; may be empty.
    pub(super) read: &'a str,
    /// The pictures; may be empty.
    pub(super) pictures: Markup,
    /// Whether there is room for the words beside the pictures.
    pub(super) beside: bool,
    /// What stands in the fold below them; may be empty.
    pub(super) table: Markup,
}

impl Part<'_> {
    /// As a section.
    pub(super) fn section(&self) -> Markup {
        html! {
            section.part.beside[self.beside] id=(self.id) aria-labelledby={ (self.id) "-h" } {
                div.keep {
                    h2 id={ (self.id) "-h" } { (self.heading) }
                    div.side {
                        p.find { (self.found) }
                        @if !self.read.is_empty() { p.read { (typed(self.read)) } }
                    }
                    @if !self.pictures.0.is_empty() { div.pics { (self.pictures) } }
                }
                @if !self.table.0.is_empty() { (fold("The same as a table", &self.table)) }
            }
        }
    }
}

/// Words in which what is typed, from `--` to the end of its value, is set as such and stays on one line.
fn typed(words: &str) -> Markup {
    let (before, rest) = words.split_at(words.find("--").unwrap_or(words.len()));
    let end = rest.match_indices(' ').nth(1).map_or(rest.len(), |(at, _)| at);
    let (option, after) = rest.split_at(end);
    html! { (before) @if !option.is_empty() { code.typed { (option) } } (after) }
}

/// What opens on demand; in print it is open.
pub(super) fn fold(summary: &str, inside: &Markup) -> Markup {
    html! {
        details.more { summary { (summary) } (inside) }
    }
}

/// The triangle of a caution.
pub(super) fn sign() -> Markup {
    html! {
        svg.sign viewBox="0 0 20 18" aria-hidden="true" {
            path d="M10 1.5 18.8 16.5H1.2Z" fill="none" stroke="var(--late)" stroke-width="2" stroke-linejoin="round" {}
            path d="M10 6.5v5M10 13v2" fill="none" stroke="var(--late)" stroke-width="2.2" {}
        }
    }
}
