//! Lines of words for people: styled, wrapped, counted. What becomes of a style is decided where it is written out.

mod cell;
mod line;
mod plural;
mod replication;
mod words;

pub use cell::{cell, text_of};
pub use line::{Line, Paper, Style, columns_of, fitted, padded, right, wrap};
pub use plural::{pieces_of, plural};
pub use replication::Replication;
pub use words::{
    capital, clock_beside, clock_or_date, count_word, how_long, list, litres, lower, minutes, number, promise,
};
