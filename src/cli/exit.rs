//! How the program ends.

use std::process::ExitCode;

/// Exit status, a contract with scripts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done,
    /// The work failed: a file could not be written, an audit found faults.
    Failed,
    /// The input or the command line is wrong.
    WrongInput,
    /// The scenario is valid, but the day cannot be done as described.
    CannotBeDone,
}

impl Exit {
    /// The status.
    #[must_use]
    pub const fn status(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Failed => 1,
            Self::WrongInput => 2,
            Self::CannotBeDone => 3,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.status())
    }
}

/// Why a command did not do what it was asked for.
#[derive(Debug, thiserror::Error)]
pub(super) enum Failure {
    /// A message of one or more lines, ready for print, and how to end.
    #[error("{message}")]
    Told {
        /// What went wrong, in words.
        message: String,
        /// How to end.
        exit: Exit,
    },
    /// Nobody reads our output any more. That is no error.
    #[error("the reader has gone")]
    ReaderGone,
}

impl Failure {
    /// The work failed.
    pub(super) fn work(message: impl Into<String>) -> Self {
        Self::Told {
            message: message.into(),
            exit: Exit::Failed,
        }
    }

    /// The input is wrong.
    pub(super) fn input(message: impl Into<String>) -> Self {
        Self::Told {
            message: message.into(),
            exit: Exit::WrongInput,
        }
    }

    /// How to end.
    #[must_use]
    pub(super) const fn exit(&self) -> Exit {
        match self {
            Self::Told { exit, .. } => *exit,
            Self::ReaderGone => Exit::Done,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Exit, Failure};

    #[test]
    fn the_statuses_are_a_contract() {
        let all = [Exit::Done, Exit::Failed, Exit::WrongInput, Exit::CannotBeDone];
        assert_eq!(all.map(Exit::status), [0, 1, 2, 3]);
    }

    #[test]
    fn a_reader_that_has_gone_is_no_error() {
        assert_eq!(Failure::ReaderGone.exit(), Exit::Done);
        assert_eq!(Failure::input("x").exit(), Exit::WrongInput);
    }
}
