//! `--target` and `--target NAME`, before or after FILE: which target of the file, and which file.

use crate::input::InputFile;
use crate::output::Problem;
use clap::error::ErrorKind;
use clap::{Args, CommandFactory};

/// FILE and the target that is chosen.
#[derive(Debug, Args)]
pub(crate) struct FileAndTarget {
    /// The file; - is standard input
    #[arg(value_name = "FILE")]
    file: Option<String>,
    /// The target in the file: by its name, where there are several
    #[arg(long, value_name = "NAME", num_args = 0..=1)]
    target: Option<Option<String>>,
    /// Print JSON, numbers in full
    #[arg(long)]
    pub json: bool,
}

impl FileAndTarget {
    /// The file. A word behind `--target` is the file where no other is given.
    pub(crate) fn file(&self) -> Option<InputFile> {
        self.file.as_ref().or_else(|| self.behind()).map(|path| InputFile::named(path))
    }

    /// The file, after [`FileAndTarget::check`].
    ///
    /// # Errors
    /// None is given.
    pub(crate) fn input(&self) -> Result<InputFile, Problem> {
        self.file().ok_or_else(|| Problem::new("No file is named.", "Name the exchange file of the car."))
    }

    /// True where a target is asked for.
    pub(crate) const fn is_asked(&self) -> bool {
        self.target.is_some()
    }

    /// The name that is given, if one is.
    pub(crate) fn name(&self) -> Option<&str> {
        self.file.as_ref().and_then(|_| self.behind()).map(String::as_str)
    }

    fn behind(&self) -> Option<&String> {
        self.target.as_ref()?.as_ref()
    }

    /// What the parser cannot say: a file is always needed.
    ///
    /// # Errors
    /// Neither FILE nor a word behind `--target`.
    pub(crate) fn check(&self, verb: &str) -> Result<(), clap::Error> {
        if self.file().is_some() {
            return Ok(());
        }
        let mut command = crate::Arguments::command();
        command.build();
        let (kind, words) = (ErrorKind::MissingRequiredArgument, "Which file? Name the exchange file of the car.");
        match command.find_subcommand_mut(verb) {
            Some(verb) => Err(verb.error(kind, words)),
            None => Err(command.error(kind, words)),
        }
    }
}
