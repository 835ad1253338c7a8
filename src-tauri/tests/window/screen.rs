//! A screen without glass: Xvfb, on a display number it chooses itself.

use std::io::{BufRead as _, BufReader};
use std::process::{Child, Command, Stdio};

/// A running screen; it ends with this value.
pub(crate) struct Screen {
    server: Child,
    /// `:N`, for the environment variable `DISPLAY`.
    pub(crate) display: String,
}

impl Screen {
    pub(crate) fn start() -> Self {
        let mut server = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", "1960x1100x24", "-nolisten", "tcp", "-noreset"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts (`cargo xtask setup` installs it)");
        let mut number = String::new();
        let said = server.stdout.take().expect("its output is ours");
        BufReader::new(said).read_line(&mut number).expect("Xvfb says its display");
        assert!(!number.trim().is_empty(), "Xvfb ended before it said its display");
        Self { server, display: format!(":{}", number.trim()) }
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}
