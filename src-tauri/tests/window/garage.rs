//! A folder of its own for one test: the garage, and all that a web view writes beside it.

use std::path::PathBuf;

use tempfile::TempDir;

pub(crate) struct Garage {
    folder: TempDir,
}

impl Garage {
    pub(crate) fn empty() -> Self {
        let folder = tempfile::Builder::new().prefix("trueground-window-").tempdir().expect("a folder can be made");
        let garage = Self { folder };
        // Where the person's downloads are, as the desktop's own file says it.
        let config = garage.folder.path().join("config");
        std::fs::create_dir_all(&config).expect("a folder can be made");
        std::fs::create_dir_all(garage.downloads()).expect("a folder can be made");
        let line = format!("XDG_DOWNLOAD_DIR=\"{}\"\n", garage.downloads().display());
        std::fs::write(config.join("user-dirs.dirs"), line).expect("a file can be written");
        garage
    }

    /// Where files go that the person saves.
    pub(crate) fn downloads(&self) -> PathBuf {
        self.folder.path().join("downloads")
    }

    /// Where the app keeps the garage.
    pub(crate) fn data(&self) -> PathBuf {
        self.folder.path().join("garage")
    }

    /// What the app and its web view are told about where to write.
    pub(crate) fn environment(&self) -> [(&'static str, PathBuf); 4] {
        let under = |name: &str| self.folder.path().join(name);
        [
            ("TRUEGROUND_DATA", self.data()),
            ("XDG_DATA_HOME", under("data")),
            ("XDG_CONFIG_HOME", under("config")),
            ("XDG_CACHE_HOME", under("cache")),
        ]
    }
}
