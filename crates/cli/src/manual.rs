//! `trueground manual`: manual pages and shell completions, for whoever packs the program.

use crate::Answer;
use crate::output::Problem;
use clap::{Args, CommandFactory, Subcommand};
use clap_complete::Shell;

/// Manual pages and shell completions
#[derive(Debug, Args)]
#[command(hide = true)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Completions for a shell
    Completions {
        /// Which shell
        shell: Shell,
    },
    /// The manual page in roff, of the program or of one verb
    Page {
        /// The verb; none for the program
        verb: Option<String>,
    },
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let mut command = crate::Arguments::command();
    let mut out = Vec::new();
    match &arguments.what {
        What::Completions { shell } => clap_complete::generate(*shell, &mut command, "trueground", &mut out),
        What::Page { verb } => {
            command.build();
            let page = match verb {
                None => command,
                Some(verb) => command.find_subcommand(verb).cloned().ok_or_else(|| {
                    let message = format!("There is no verb {}.", trueground_core::wording::shown(verb));
                    Problem::new(message, "trueground --help lists them.")
                })?,
            };
            let unwritten = |e| Problem::new(format!("The page cannot be written: {e}."), "Ask for another.");
            clap_mangen::Man::new(page).render(&mut out).map_err(unwritten)?;
        }
    }
    String::from_utf8(out).map_err(|e| Problem::new(format!("The page is not text: {e}."), "Ask for another."))
}
