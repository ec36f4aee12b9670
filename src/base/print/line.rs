//! A line of styled words, and the paper that it is written on.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// How words stand out. Everything that a style says is also said by a word or a sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Style {
    /// As the rest.
    #[default]
    Plain,
    /// Headings and answers.
    Bold,
    /// Second things.
    Dim,
    /// To watch.
    Watch,
    /// Late.
    Late,
    /// A load in the bath.
    Coat,
    /// Heating, recovering.
    Heat,
    /// Care.
    Care,
}

impl Style {
    /// The escape that begins it, in basic colours so that the reader's own theme decides.
    const fn escape(self) -> &'static str {
        match self {
            Self::Plain => "",
            Self::Bold => "\u{1b}[1m",
            Self::Dim => "\u{1b}[2m",
            Self::Watch => "\u{1b}[1;33m",
            Self::Late => "\u{1b}[1;31m",
            Self::Coat => "\u{1b}[7m",
            Self::Heat => "\u{1b}[33m",
            Self::Care => "\u{1b}[32m",
        }
    }
}

/// A line in pieces.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Line(Vec<(Style, String)>);

/// What a text is written on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Paper {
    /// Whether escapes for colour may be written.
    pub colour: bool,
    /// Whether signs beyond ASCII may be written.
    pub unicode: bool,
}

impl Paper {
    /// A text file.
    pub const FILE: Self = Self {
        colour: false,
        unicode: true,
    };
}

impl Line {
    /// An empty line.
    #[must_use]
    pub const fn empty() -> Self {
        Self(Vec::new())
    }

    /// A line of plain words.
    #[must_use]
    pub fn plain(words: impl Into<String>) -> Self {
        Self::empty().and(Style::Plain, words)
    }

    /// A line in one style.
    #[must_use]
    pub fn of(style: Style, words: impl Into<String>) -> Self {
        Self::empty().and(style, words)
    }

    /// With more words behind it.
    #[must_use]
    pub fn and(mut self, style: Style, words: impl Into<String>) -> Self {
        let words = words.into();
        match self.0.last_mut() {
            Some((last, text)) if *last == style => text.push_str(&words),
            _ if words.is_empty() => {}
            _ => self.0.push((style, words)),
        }
        self
    }

    /// With blanks up to a column, at least one if the line is already longer and not empty there.
    #[must_use]
    pub fn to_column(self, column: usize) -> Self {
        let blanks = column.saturating_sub(self.width()).max(1);
        self.and(Style::Plain, " ".repeat(blanks))
    }

    /// Its pieces in order.
    pub fn pieces(&self) -> impl Iterator<Item = (Style, &str)> {
        self.0.iter().map(|(style, words)| (*style, words.as_str()))
    }

    /// Columns that it takes.
    #[must_use]
    pub fn width(&self) -> usize {
        self.0.iter().map(|(_, words)| columns_of(words)).sum()
    }

    /// As text without an end of line, trailing blanks left out.
    #[must_use]
    pub fn write(&self, paper: Paper) -> String {
        let mut text = String::new();
        let last = self.0.len().saturating_sub(1);
        for (i, (style, words)) in self.0.iter().enumerate() {
            let words = if i == last { words.trim_end() } else { words };
            let words = if paper.unicode {
                words.to_owned()
            } else {
                ascii(words)
            };
            let escape = style.escape();
            if paper.colour && !escape.is_empty() && !words.is_empty() {
                text.push_str(escape);
                text.push_str(&words);
                text.push_str("\u{1b}[0m");
            } else {
                text.push_str(&words);
            }
        }
        text
    }
}

/// Our own signs in plain ASCII; what the user wrote stays.
fn ascii(words: &str) -> String {
    words
        .replace("°C", "C")
        .replace("°F", "F")
        .replace('²', "2")
        .replace('³', "3")
        .replace('−', "-")
}

/// Breaks words into lines of at most so many columns; a word longer than that has a line of its own. No line ends at a
/// no-break space.
#[must_use]
pub fn wrap(words: &str, columns: usize) -> Vec<String> {
    let blank = |c: char| c.is_ascii_whitespace();
    let words: Vec<&str> = words.split(blank).filter(|w| !w.is_empty()).collect();
    if words.is_empty() {
        return Vec::new();
    }
    let plain = textwrap::Options::new(columns)
        .break_words(false)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit);
    let text = words.join(" ");
    let lines = textwrap::wrap(&text, plain).into_iter();
    lines.map(std::borrow::Cow::into_owned).collect()
}

/// Columns that words take in a terminal: two for a sign of full width.
#[must_use]
pub fn columns_of(words: &str) -> usize {
    words.width()
}

/// Words with blanks behind them up to so many columns; `{:<8}` counts signs, not columns.
#[must_use]
pub fn padded(words: &str, columns: usize) -> String {
    let blanks = columns.saturating_sub(columns_of(words));
    format!("{words}{}", " ".repeat(blanks))
}

/// A cell at the right edge of a column of so many columns. At least one blank stands before it, however long it is: two cells
/// side by side never run into each other.
#[must_use]
pub fn right(cell: &str, columns: usize) -> String {
    let blanks = columns.saturating_sub(columns_of(cell)).max(1);
    format!("{}{cell}", " ".repeat(blanks))
}

/// Words cut to so many columns.
#[must_use]
pub fn fitted(words: &str, columns: usize) -> String {
    if columns_of(words) <= columns {
        return words.to_owned();
    }
    let room = columns.saturating_sub(2);
    let mut kept = String::new();
    for sign in words.chars() {
        if columns_of(&kept) + sign.width().unwrap_or(0) > room {
            break;
        }
        kept.push(sign);
    }
    format!("{}..", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_that_fills_its_column_keeps_a_blank_before_it() {
        let row = |cells: [&str; 2]| cells.map(|cell| right(cell, 6)).concat();
        assert_eq!(row(["1.5", "12 m²"]), "   1.5 12 m²");
        assert_eq!(row(["-15.89", "-15.893"]), " -15.89 -15.893");
    }

    #[test]
    fn without_escapes_the_coloured_text_is_the_plain_one() {
        let line = Line::of(Style::Bold, "95 °C")
            .and(Style::Late, " late ")
            .and(Style::Coat, "L1 ");
        let coloured = line.write(Paper {
            colour: true,
            unicode: true,
        });
        let mut bare = String::new();
        let mut inside = false;
        for c in coloured.chars() {
            match c {
                '\u{1b}' => inside = true,
                'm' if inside => inside = false,
                _ if !inside => bare.push(c),
                _ => {}
            }
        }
        assert_eq!(bare, line.write(Paper::FILE));
        assert_eq!(bare, "95 °C late L1");
        assert!(coloured.starts_with("\u{1b}[1m95"));
    }

    #[test]
    fn plain_ascii_where_the_locale_wants_it() {
        let paper = Paper {
            colour: false,
            unicode: false,
        };
        assert_eq!(
            Line::plain("14.4 dm², 88 °C, −2").write(paper),
            "14.4 dm2, 88 C, -2"
        );
    }

    #[test]
    fn words_wrap_and_none_is_lost() {
        let words = "Top up the black tank, 1.2 L distilled water, thin stream";
        assert_eq!(
            wrap(words, 44),
            ["Top up the black tank, 1.2 L distilled", "water, thin stream"]
        );
        assert_eq!(
            wrap("incomprehensibilities of", 5),
            ["incomprehensibilities", "of"]
        );
        assert!(wrap("  ", 5).is_empty());
        assert_eq!(wrap("after 46\u{a0}min", 8), ["after", "46\u{a0}min"]);
    }

    #[test]
    fn signs_of_full_width_take_two_columns() {
        assert_eq!(columns_of("\u{9264} A1"), 5);
        assert_eq!(padded("\u{9264}", 4), "\u{9264}  ");
        assert_eq!(
            fitted("\u{9264}\u{9264}\u{9264}\u{9264}", 6),
            "\u{9264}\u{9264}.."
        );
        assert_eq!(fitted("vise jaws", 6), "vise..");
        assert_eq!(wrap("\u{9264}\u{9264} \u{9264}\u{9264}", 6).len(), 2);
    }
}
