//! Lines of words for people: styled, wrapped, counted. What becomes of a style is decided where it is written out.

mod line;
mod words;

pub use line::{Line, Paper, Style, wrap};
pub use words::{
    capital, clock_or_date, count_word, how_long, list, litres, minutes, number, pieces_of, plural, promise,
};
