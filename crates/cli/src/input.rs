//! The file a verb works on: from a path, or from standard input where it is `-`.

use crate::output::Problem;
use clap::Args;
use std::fs::File;
use std::io::{self, Read};
use std::path::PathBuf;

/// Largest file that is read, in bytes.
const LARGEST: u64 = 64 << 20;

/// FILE, and how to answer.
#[derive(Debug, Args)]
pub(crate) struct FileArguments {
    #[command(flatten)]
    pub file: InputFile,
    /// Print JSON, numbers in full
    #[arg(long)]
    pub json: bool,
}

/// FILE.
#[derive(Debug, Args)]
pub(crate) struct InputFile {
    /// The file; - is standard input
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

impl InputFile {
    /// The file of that name.
    pub(crate) fn named(path: &str) -> Self {
        Self { file: PathBuf::from(path) }
    }

    /// The name of the file in messages.
    pub(crate) fn name(&self) -> String {
        if self.is_standard_input() { "standard input".to_owned() } else { self.file.display().to_string() }
    }

    fn is_standard_input(&self) -> bool {
        self.file.as_os_str() == "-"
    }

    /// The text of the file. A byte order mark is dropped.
    pub(crate) fn read(&self) -> Result<String, Problem> {
        let bytes = self.bytes().map_err(|problem| problem.at(&self.name()))?;
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&bytes).to_vec();
        String::from_utf8(bytes).map_err(|error| {
            let at = error.utf8_error().valid_up_to();
            let what = match error.as_bytes() {
                [0xff, 0xfe, ..] | [0xfe, 0xff, ..] => "The file is UTF-16 text".to_owned(),
                _ => format!("The file is not text: byte {} is not UTF-8", at + 1),
            };
            Problem::new(format!("{what}."), "Save it as UTF-8 text.").at(&self.name())
        })
    }

    fn bytes(&self) -> Result<Vec<u8>, Problem> {
        let unreadable = |error: io::Error| {
            let hint = "Name a file that can be read, or - for standard input.";
            Problem::new(format!("The file cannot be read: {error}."), hint)
        };
        let mut bytes = Vec::new();
        let read = if self.is_standard_input() {
            io::stdin().lock().take(LARGEST + 1).read_to_end(&mut bytes)
        } else {
            File::open(&self.file).and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes))
        };
        read.map_err(unreadable)?;
        if bytes.len() as u64 > LARGEST {
            return Err(Problem::new("The file is larger than 64 MB.", "Give the file of one car, or of one floor."));
        }
        Ok(bytes)
    }
}
