//! An answer on one screen or one page: what is asked about, the answer, tables of words, what to watch.

/// A heading and rows below it, each a name and what there is to say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// Heading.
    pub heading: &'static str,
    /// What its table holds, in more words than the heading.
    pub caption: &'static str,
    /// What the names are, and what is said of them.
    pub columns: [&'static str; 2],
    /// Rows.
    pub rows: Vec<(String, String)>,
}

/// An answer: of one load, of a bath, of a quote.
#[derive(Debug, Clone, PartialEq)]
pub struct Card {
    /// Where: `Black tank at 95 °C`.
    pub place: String,
    /// What is asked about: `400 wood screws and 25 lateral levers`.
    pub about: String,
    /// Whether it can be done as things are.
    pub may: bool,
    /// The answer, the first sentence the heading.
    pub answer: Vec<String>,
    /// Figures.
    pub blocks: Vec<Block>,
    /// What to watch, each with what to do.
    pub watch: Vec<String>,
}

impl Card {
    /// What it is about, in one line: `Black tank at 95 °C: 400 wood screws`.
    #[must_use]
    pub fn title(&self) -> String {
        if self.about.is_empty() {
            self.place.clone()
        } else {
            format!("{}: {}", self.place, self.about)
        }
    }
}
