//! The first screen: the answer, three figures, what to watch, contents.

use super::page::sign;
use crate::narrative::{Promise, Results, Three, answer, three, watch};
use maud::{Markup, html};
use tankday_base::print::{Line, Style};
use tankday_base::units::POINT;

/// Warnings that are told here; the rest stand in the list of all.
const MOST: usize = 5;

/// The answer as the page's heading: what is late stands out; what is said plainly stands below it.
pub(super) fn heading(results: &Results<'_>) -> Markup {
    let (below, head): (Vec<Line>, Vec<Line>) = answer(results).into_iter().partition(is_plain);
    html! {
        div.said {
            h1 { (pieces(&head)) }
            @if !below.is_empty() { p.rest { (pieces(&below)) } }
        }
    }
}

fn is_plain(line: &Line) -> bool {
    line.pieces().all(|(style, _)| style == Style::Plain)
}

fn pieces(lines: &[Line]) -> Markup {
    html! {
        @for (i, line) in lines.iter().enumerate() {
            @if i > 0 { " " }
            @for (style, words) in line.pieces() {
                @if style == Style::Late { em { (words) } } @else { (words) }
            }
        }
    }
}

/// The three figures.
pub(super) fn figures(results: &Results<'_>, promises: &[Promise<'_>]) -> Markup {
    let figures = three(results, promises);
    html! { dl.three { @for figure in &figures { (one(figure)) } } }
}

/// One figure of a row of them.
pub(super) fn one(figure: &Three) -> Markup {
    html! {
        div {
            dt { (figure.name) }
            dd { (figure.value) }
            @if !figure.note.is_empty() { dd.note { (figure.note) } }
        }
    }
}

/// What to watch.
pub(super) fn to_watch(results: &Results<'_>) -> Markup {
    let warnings = &results.figures.warnings;
    html! {
        section.watch aria-labelledby="watch-h" {
            h2 id="watch-h" { (sign()) "Watch" }
            @if warnings.is_empty() {
                p { "Nothing unusual. The usual cautions stand on the day sheet." }
            } @else {
                ul {
                    @for warning in warnings.iter().take(MOST) { li { (warned(results, warning)) } }
                    @if warnings.len() > MOST {
                        li { a href="#warnings" { "and " (warnings.len() - MOST) " more" } }
                    }
                }
                @if warnings.iter().take(MOST).any(|w| watch(results, w).0.contains(" points")) {
                    p.read { (POINT) }
                }
            }
        }
    }
}

/// A bold fact and the deed.
pub(super) fn warned(results: &Results<'_>, warning: &tankday_record::Warning) -> Markup {
    let (fact, deed) = watch(results, warning);
    html! { b { (fact) } " " (deed) }
}

/// Links to the parts of the page.
pub(super) fn contents(parts: &[(&str, &str)], files: &[(&str, &str)]) -> Markup {
    html! {
        nav.toc aria-label="Contents" {
            ol {
                @for (id, name) in parts { li { a href={ "#" (id) } { (name) } } }
                @for (file, name) in files { li { a href=(file) { (name) } } }
            }
        }
    }
}
