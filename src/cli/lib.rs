//! The command line: what was typed, what it means, one file a command. Only this room writes files.

mod alone;
mod args;
mod audit;
mod card;
mod check;
mod check_days;
mod check_tanks;
mod compare;
mod exit;
mod files;
mod folder;
mod follow;
mod given;
mod join;
mod json;
mod load;
mod long;
mod midday;
mod mix;
mod new;
mod one_load;
mod orders;
mod pictures;
mod plan;
mod planned;
mod progress;
mod promise;
mod quote;
mod reckon;
mod run;
mod sampling;
mod search;
mod sets;
mod settings;
mod shells;
mod steady;
mod summary;
mod sweep;
mod terminal;

pub use exit::Exit;

use args::{Command, Typed};
use clap::Parser;
use clap::error::ErrorKind;
use exit::Failure;
use settings::{RunSettings, Saying};
use std::ffi::OsString;

/// Reads the command line and does what it says.
pub fn run(words: impl IntoIterator<Item = OsString>) -> Exit {
    let typed = match Typed::try_parse_from(words) {
        Ok(typed) => typed,
        Err(error) => return refused(&error),
    };
    match files::clear_up_when_interrupted().and_then(|()| obey(typed)) {
        Ok(exit) => exit,
        Err(Failure::ReaderGone) => Exit::Done,
        Err(failure) => {
            terminal::tell(&failure.to_string());
            failure.exit()
        }
    }
}

/// Help and version are answers; all else is a mistake.
fn refused(error: &clap::Error) -> Exit {
    // A closed pipe does not matter here: there is nothing more to say.
    let _ = error.print();
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => Exit::Done,
        _ => Exit::WrongInput,
    }
}

fn obey(typed: Typed) -> Result<Exit, Failure> {
    let saying = Saying::of(typed.quiet, typed.verbose);
    match typed.command {
        Command::New(new) => new::new(&new, saying),
        Command::Check(check) => check::check(&check, saying),
        Command::Run(run) => run::run(&RunSettings::of(run, saying)),
        Command::Compare(typed) => compare::compare(&typed, saying),
        Command::Sweep(typed) => sweep::sweep(&typed, saying),
        Command::Join(typed) => join::join(&typed, saying),
        Command::Plan(typed) => match &typed.at {
            Some(at) => midday::rest(&typed, at, saying),
            None => plan::plan_day(&typed, saying),
        },
        Command::Promise(typed) => promise::one_more(&typed, saying),
        Command::Load(typed) => one_load::one(&typed, saying),
        Command::Mix(typed) => mix::new_bath(&typed, saying),
        Command::Quote(typed) => quote::one(&typed, saying),
        Command::Orders(typed) => orders::orders(&typed, saying),
        Command::Audit(typed) => audit::audit(&typed, saying),
        Command::Schema => shells::schema(),
        Command::Completions(completions) => shells::completions(completions.shell),
        Command::Man => shells::man(),
    }
}
