//! What may be said when the window is started from a terminal.

use std::ffi::OsString;
use std::path::PathBuf;

const USAGE: &str = "\
trueground-app [--data FOLDER] [--sample]
  --data FOLDER   keep the garage in this folder (also: the environment variable TRUEGROUND_DATA)
  --sample        put the sample cars into a garage that is still empty";

/// How the window starts.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Arguments {
    /// Folder of the garage; absent: the system's folder for the data of this app.
    pub data: Option<PathBuf>,
    /// Whether the sample cars go into an empty garage.
    pub sample: bool,
}

impl Arguments {
    /// Reads the words after the program's name; `from_environment` is the folder named there, which an argument overrides.
    ///
    /// # Errors
    /// The usage, headed by the word that was not understood.
    pub fn read(words: impl IntoIterator<Item = OsString>, from_environment: Option<OsString>) -> Result<Self, String> {
        let folder = from_environment.filter(|folder| !folder.is_empty()).map(PathBuf::from);
        let mut read = Self { data: folder, sample: false };
        let mut words = words.into_iter();
        while let Some(word) = words.next() {
            match word.to_str() {
                Some("--sample") => read.sample = true,
                Some("--data") => match words.next().filter(|folder| !folder.is_empty()) {
                    Some(folder) => read.data = Some(folder.into()),
                    None => return Err(format!("`--data` needs a folder after it.\n{USAGE}")),
                },
                _ => return Err(format!("`{}` is not understood.\n{USAGE}", word.to_string_lossy().escape_default())),
            }
        }
        Ok(read)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(words: &[&str], environment: Option<&str>) -> Result<Arguments, String> {
        Arguments::read(words.iter().map(OsString::from), environment.map(OsString::from))
    }

    #[test]
    fn an_argument_overrides_the_environment() {
        let folder = |read: Arguments| read.data.map(|folder| folder.display().to_string());
        assert_eq!(read(&[], None).map(folder), Ok(None));
        assert_eq!(read(&[], Some("")).map(folder), Ok(None));
        assert_eq!(read(&[], Some("here")).map(folder), Ok(Some("here".into())));
        assert_eq!(read(&["--data", "there"], Some("here")).map(folder), Ok(Some("there".into())));
        assert!(read(&["--sample"], None).is_ok_and(|read| read.sample));
    }

    #[test]
    fn what_is_not_understood_is_named() {
        for (words, said) in [(["--data"], "`--data` needs a folder"), (["--smaple"], "`--smaple` is not understood")] {
            let answer = read(&words, None).expect_err("nonsense must be refused");
            assert!(answer.starts_with(said) && answer.contains("--sample  "), "{answer}");
        }
    }
}
