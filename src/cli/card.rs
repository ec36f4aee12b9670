//! A card on the terminal: the answer, what to watch, tables of words.

use super::settings::Saying;
use tankday_base::print::{Line, Style, wrap};
use tankday_output::narrative::{Block, Card};

/// How a card is set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting {
    /// Columns of the screen.
    pub columns: usize,
    /// Columns of the name of a figure.
    pub name: usize,
    /// How much is said.
    pub saying: Saying,
}

/// Its lines; `more` adds to a block what only its command draws.
pub(super) fn lines(card: &Card, set: Setting, more: impl Fn(&Block) -> Vec<Line>) -> Vec<Line> {
    let mut lines = match set.saying {
        Saying::Little => Vec::new(),
        _ => head(card, set.columns),
    };
    for (i, sentence) in card.answer.iter().enumerate() {
        let style = match (card.may, i) {
            (false, _) => Style::Late,
            (true, 0) => Style::Bold,
            (true, _) => Style::Plain,
        };
        let words = wrap(sentence, set.columns).into_iter();
        lines.extend(words.map(|w| Line::of(style, w)));
    }
    if set.saying > Saying::Little {
        lines.extend(card.watch.iter().flat_map(|w| warning(w, set.columns)));
        for block in &card.blocks {
            lines.extend(section(block, set));
            lines.extend(more(block));
        }
    }
    lines
}

fn head(card: &Card, columns: usize) -> Vec<Line> {
    let words = wrap(&card.title(), columns).into_iter();
    let head = words.map(|w| Line::of(Style::Bold, w));
    head.chain([Line::of(Style::Dim, "-".repeat(columns))]).collect()
}

fn warning(words: &str, columns: usize) -> Vec<Line> {
    let words = wrap(words, columns - 4).into_iter();
    let signs = std::iter::once("  ! ").chain(std::iter::repeat("    "));
    signs
        .zip(words)
        .map(|(sign, w)| Line::of(Style::Watch, sign).and(Style::Plain, w))
        .collect()
}

fn section(block: &Block, set: Setting) -> Vec<Line> {
    let mut lines = vec![Line::of(Style::Bold, block.heading.to_uppercase())];
    for (name, words) in &block.rows {
        if name.chars().count() > set.name {
            let wide = wrap(&format!("{name}: {words}"), set.columns - 4);
            let first = std::iter::once("  ").chain(std::iter::repeat("    "));
            let wide = first.zip(wide);
            lines.extend(wide.map(|(blank, w)| Line::plain(format!("{blank}{w}"))));
            continue;
        }
        let indent = set.name + 4;
        let mut words = wrap(words, set.columns - indent).into_iter();
        let first = words.next().unwrap_or_default();
        let head = Line::plain(format!("  {name}"));
        lines.push(head.to_column(indent).and(Style::Plain, first));
        lines.extend(words.map(|w| Line::plain(" ".repeat(indent) + &w)));
    }
    lines
}
