//! A table's text in cells that know their places. What is quoted, and where a line ends, is decided by `csv-core`.

use crate::node::SourceSpan;
use csv_core::{ReadFieldResult, ReaderBuilder};

/// One cell: what stands in it, quotes and blanks around it taken off, and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cell {
    pub(super) text: String,
    pub(super) at: SourceSpan,
}

/// The rows of a table, the headings first; rows without any text are left out.
pub(super) fn rows(text: &str) -> Vec<Vec<Cell>> {
    let by = separator(text);
    let mut reader = ReaderBuilder::new().delimiter(by).build();
    let mut field = vec![0; text.len().max(1)];
    let (mut all, mut row) = (Vec::new(), Vec::new());
    let (mut from, mut read, mut written) = (0, 0, 0);
    loop {
        let rest = text.as_bytes().get(read..).unwrap_or_default();
        let (result, took, gave) = reader.read_field(rest, field.get_mut(written..).unwrap_or_default());
        read += took;
        written += gave;
        match result {
            ReadFieldResult::Field { record_end } => {
                let content = field.get(..written).unwrap_or_default();
                row.push(Cell {
                    text: String::from_utf8_lossy(content).trim().to_owned(),
                    at: place(text, from, read, char::from(by)),
                });
                (from, written) = (read, 0);
                if record_end {
                    all.push(std::mem::take(&mut row));
                }
            }
            ReadFieldResult::InputEmpty if !rest.is_empty() => {}
            // No field is longer than the text.
            ReadFieldResult::OutputFull | ReadFieldResult::End => break,
            ReadFieldResult::InputEmpty => {}
        }
    }
    all.retain(|row: &Vec<Cell>| row.iter().any(|c| !c.text.is_empty()));
    all
}

/// The sign that stands most often in the line of headings: semicolon, tab or comma.
fn separator(text: &str) -> u8 {
    let first = text.lines().find(|l| !l.trim().is_empty()).unwrap_or("");
    let many = |sign: &u8| first.bytes().filter(|b| b == sign).count();
    let signs = [b';', b'\t', b','];
    signs.into_iter().rev().max_by_key(many).unwrap_or(b',')
}

/// The place of a field between two bytes, without what divides it from others.
fn place(text: &str, from: usize, to: usize, by: char) -> SourceSpan {
    let piece = text.get(from..to).unwrap_or("");
    let front = piece.len() - piece.trim_start_matches(['\r', '\n', ' ']).len();
    let piece = piece.trim_start_matches(['\r', '\n', ' ']);
    let piece = piece.trim_end_matches(['\r', '\n']);
    let piece = piece.strip_suffix(by).unwrap_or(piece).trim_end();
    SourceSpan::new(from + front, from + front + piece.len())
}

#[cfg(test)]
mod tests {
    use super::rows;

    fn texts(text: &str) -> Vec<Vec<String>> {
        let cells = rows(text).into_iter();
        cells.map(|r| r.into_iter().map(|c| c.text).collect()).collect()
    }

    #[test]
    fn separators_quotes_and_line_ends() {
        let expected = vec![vec!["a", "b"], vec!["x, y", "2"], vec!["say \"no\"", ""]];
        for text in [
            "a,b\n\"x, y\",2\n\"say \"\"no\"\"\",\n",
            "a;b\r\n\r\nx, y;2\r\n\"say \"\"no\"\"\";",
            "a\tb\nx, y\t 2 \n\t\n\"say \"\"no\"\"\"\t",
        ] {
            assert_eq!(texts(text), expected, "{text:?}");
        }
        assert!(texts("").is_empty() && texts("\n \n").is_empty());
    }

    #[test]
    fn every_cell_knows_its_place() {
        let text = "part;count\r\n\"wood screw\"; 1.200 \r\nä;7";
        let all = rows(text);
        let told: Vec<&str> = all.iter().flatten().map(|c| &text[c.at.range()]).collect();
        assert_eq!(told, ["part", "count", "\"wood screw\"", "1.200", "ä", "7"]);
    }
}
