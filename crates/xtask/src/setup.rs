//! `cargo xtask setup`: installs what this machine lacks, and says what and why.

use std::process::Command;

use crate::interface;
use crate::packages::{BUILD, Package, WINDOW_TESTS};
use crate::step::{self, Done, Stop};

/// What the machine is wanted for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum For {
    /// To build and open the window.
    Running,
    /// To run the tests as well.
    Everything,
}

/// System packages first, then those of the interface.
pub(crate) fn setup(purpose: For) -> Done {
    let wanted = BUILD.iter().chain(if purpose == For::Everything { WINDOW_TESTS } else { &[] });
    let missing: Vec<&Package> = wanted.filter(|package| package.is_missing()).collect();
    if missing.is_empty() {
        step::say("System packages: nothing is missing.");
    } else {
        step::say("System packages that are missing:");
        for package in &missing {
            step::say(&format!("  {:<24} {}", package.name, package.why));
        }
        install(&missing)?;
    }
    interface::install()
}

/// Installs with apt where that is allowed; elsewhere names the packages and stops.
fn install(missing: &[&Package]) -> Done {
    let names: Vec<&str> = missing.iter().map(|package| package.name).collect();
    let by_hand = format!("apt-get install --no-install-recommends {}", names.join(" "));
    if !step::on_path("apt-get") {
        return Err(Stop(format!(
            "This machine has no apt-get. Install what these Debian packages hold, then start again:\n  {}",
            names.join(" ")
        )));
    }
    let Some(front) = who_may() else {
        return Err(Stop(format!(
            "This user may not install system packages. Ask for them once, then start again:\n  sudo {by_hand}"
        )));
    };
    step::say("Installing them with apt-get.");
    let first = apt(front, &names);
    // A busy machine or a mirror in the middle of an update lets the first try fail half way.
    let installed = first.or_else(|Stop(words)| {
        step::say(&format!("{words}\nTrying once more."));
        apt(front, &names)
    });
    installed
        .map_err(|Stop(words)| Stop(format!("{words}\nThe packages could not be installed. By hand:\n  {by_hand}")))?;
    match missing.iter().find(|package| package.is_missing()) {
        None => Ok(()),
        Some(package) => Err(Stop(format!(
            "{} is installed, yet what it brings was not found. It is needed {}.",
            package.name, package.why
        ))),
    }
}

fn apt(front: &[&str], names: &[&str]) -> Done {
    let run = |arguments: &[&str]| {
        let words: Vec<&str> =
            front.iter().copied().chain(["env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "-q", "-y"]).collect();
        step::step(Command::new(words[0]).args(&words[1..]).args(arguments), "")
    };
    run(&["update"])?;
    run(&[&["install", "--no-install-recommends"], names].concat())
}

/// How this user may install: as root, or by `sudo` without a password; else not at all.
fn who_may() -> Option<&'static [&'static str]> {
    if step::answer(Command::new("id").arg("-u")).as_deref() == Some("0") {
        return Some(&[]);
    }
    step::answer(Command::new("sudo").args(["-n", "true"])).map(|_| ["sudo", "-n"].as_slice())
}
