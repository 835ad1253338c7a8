//! The system packages Trueground needs on a Debian machine: each with what it is for and how it is recognised.

use std::path::Path;
use std::process::Command;

use crate::step;

/// A Debian package.
#[derive(Debug)]
pub(crate) struct Package {
    pub(crate) name: &'static str,
    /// What it is for, in words that finish "needed …".
    pub(crate) why: &'static str,
    present: fn() -> bool,
}

/// Needed to build the window.
pub(crate) const BUILD: &[Package] =
    &[Package { name: "libwebkit2gtk-4.1-dev", why: "to build the window (web view and GTK 3)", present: web_view }];

/// Needed to drive the real window in the tests, without a screen.
pub(crate) const WINDOW_TESTS: &[Package] = &[
    Package { name: "xvfb", why: "as a screen for the window tests", present: || step::on_path("Xvfb") },
    Package {
        name: "webkit2gtk-driver",
        why: "to drive the window in the tests",
        present: || step::on_path("WebKitWebDriver"),
    },
    Package { name: "libgl1-mesa-dri", why: "to paint the window without a graphics card", present: software_gl },
    Package { name: "fonts-dejavu-core", why: "for letters in the window (any font will do)", present: any_font },
    Package {
        name: "strace",
        why: "to see each reading reach the disk before it is acknowledged",
        present: || step::on_path("strace"),
    },
];

impl Package {
    pub(crate) fn is_missing(&self) -> bool {
        !(self.present)()
    }
}

fn web_view() -> bool {
    step::answer(Command::new("pkg-config").args(["--exists", "webkit2gtk-4.1"])).is_some()
}

fn any_font() -> bool {
    step::answer(&mut Command::new("fc-list")).is_some_and(|list| !list.is_empty())
}

fn software_gl() -> bool {
    let Ok(folders) = std::fs::read_dir("/usr/lib") else { return false };
    let driver =
        |folder: &Path| ["dri/swrast_dri.so", "dri/libdril_dri.so"].iter().any(|name| folder.join(name).exists());
    driver(Path::new("/usr/lib")) || folders.flatten().any(|folder| driver(&folder.path()))
}
