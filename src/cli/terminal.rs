//! Where text goes: colour only on a terminal, signs beyond ASCII only where the locale has them, and a reader that
//! goes away is no error.

use super::exit::Failure;
use std::io::{ErrorKind, IsTerminal, Write};
use tankday_base::print::{Line, Paper};

/// Columns where nothing says how many there are.
pub(super) const COLUMNS: usize = 80;
/// More columns than this are not used: longer lines are hard to read.
const MOST_COLUMNS: usize = 120;
/// Fewer columns than this are taken for these.
const FEWEST_COLUMNS: usize = 40;

/// The terminal, or what stands in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Terminal {
    /// Colour and signs.
    pub paper: Paper,
    /// Columns to use.
    pub columns: usize,
}

impl Terminal {
    /// Standard output as the environment describes it.
    #[must_use]
    pub(super) fn standard_output() -> Self {
        let get = |name: &str| std::env::var(name).ok();
        Self::described(std::io::stdout().is_terminal(), get)
    }

    fn described(is_terminal: bool, get: impl Fn(&str) -> Option<String>) -> Self {
        let set = |name: &str| get(name).filter(|value| !value.is_empty());
        let plain = set("NO_COLOR").is_some() || set("TERM").is_some_and(|term| term == "dumb");
        let locale = set("LC_ALL").or_else(|| set("LC_CTYPE")).or_else(|| set("LANG"));
        // `language_COUNTRY.charset@variant`, or the charset alone.
        let unicode = locale.is_some_and(|locale| {
            let charset = locale.rsplit('.').next().and_then(|c| c.split('@').next());
            charset.is_some_and(|c| ["utf-8", "utf8"].iter().any(|u| c.eq_ignore_ascii_case(u)))
        });
        let columns = set("COLUMNS").and_then(|c| c.parse().ok()).unwrap_or(COLUMNS);
        Self {
            paper: Paper {
                colour: is_terminal && !plain,
                unicode,
            },
            columns: columns.clamp(FEWEST_COLUMNS, MOST_COLUMNS),
        }
    }
}

/// Writes lines to standard output.
///
/// # Errors
/// [`Failure::ReaderGone`] when the pipe is closed; otherwise when standard output cannot be written.
pub(super) fn print_lines(lines: &[Line], paper: Paper) -> Result<(), Failure> {
    let mut text = String::new();
    for line in lines {
        text.push_str(&line.write(paper));
        text.push('\n');
    }
    print(&text)
}

/// Writes text to standard output as it is.
///
/// # Errors
/// As [`print_lines`].
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes())
        .and_then(|()| out.flush())
        .map_err(|error| match error.kind() {
            ErrorKind::BrokenPipe => Failure::ReaderGone,
            ErrorKind::StorageFull => Failure::work("cannot write the output: no room is left on the disk"),
            _ => Failure::work(format!("cannot write the output: {error}")),
        })
}

/// Writes words to standard error; what cannot be written there is lost.
pub(super) fn tell(text: &str) {
    let mut error = std::io::stderr().lock();
    let _ = writeln!(error, "{}", text.trim_end());
}

#[cfg(test)]
mod tests {
    use super::Terminal;

    fn with(is_terminal: bool, set: &[(&str, &str)]) -> Terminal {
        let get = |name: &str| set.iter().find(|(n, _)| *n == name).map(|(_, v)| (*v).to_owned());
        Terminal::described(is_terminal, get)
    }

    #[test]
    fn colour_only_on_a_terminal_that_wants_it() {
        assert!(with(true, &[]).paper.colour);
        assert!(!with(false, &[]).paper.colour);
        assert!(!with(true, &[("NO_COLOR", "1")]).paper.colour);
        assert!(with(true, &[("NO_COLOR", "")]).paper.colour);
        assert!(!with(true, &[("TERM", "dumb")]).paper.colour);
    }

    #[test]
    fn the_locale_decides_on_signs() {
        assert!(with(false, &[("LANG", "en_GB.UTF-8")]).paper.unicode);
        assert!(
            !with(false, &[("LC_ALL", "C"), ("LANG", "en_GB.UTF-8")])
                .paper
                .unicode
        );
        assert!(!with(false, &[]).paper.unicode);
    }

    #[test]
    fn never_wider_than_a_page() {
        assert_eq!(with(true, &[("COLUMNS", "200")]).columns, 120);
        assert_eq!(with(true, &[("COLUMNS", "100")]).columns, 100);
        assert_eq!(with(true, &[("COLUMNS", "60")]).columns, 60);
        assert_eq!(with(true, &[("COLUMNS", "wide")]).columns, 80);
        assert_eq!(with(true, &[("COLUMNS", "3")]).columns, 40);
    }
}
