//! Where the pictures are: files named by their content, or memory where the garage itself is in memory.

use super::PictureName;
#[cfg(not(target_arch = "wasm32"))]
use crate::disk;
use crate::{Result, StoreError};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The pictures of a garage. A picture never changes, so it is written once.
#[derive(Clone, Debug)]
pub(crate) enum PhotoFiles {
    /// In `photos` beside this garage; copies in `backups/photos`.
    #[cfg_attr(target_arch = "wasm32", expect(dead_code, reason = "a browser has no folders"))]
    Beside(PathBuf),
    /// In memory, by file name.
    Memory(BTreeMap<String, Vec<u8>>),
}

impl PhotoFiles {
    /// Those of the garage in this file.
    #[cfg(not(target_arch = "wasm32"))]
    pub(crate) fn beside(garage: &Path) -> Self {
        Self::Beside(garage.to_owned())
    }

    /// In a browser they are gone with the page; an exported car keeps them.
    #[cfg(target_arch = "wasm32")]
    pub(crate) fn beside(_garage: &Path) -> Self {
        Self::in_memory()
    }

    pub(crate) const fn in_memory() -> Self {
        Self::Memory(BTreeMap::new())
    }

    /// Writes a picture whole and flushed, or not at all; one that is there and sound stays as it is.
    pub(crate) fn write(&mut self, name: &PictureName, bytes: &[u8]) -> Result<()> {
        match self {
            Self::Memory(kept) => {
                kept.insert(name.file_name(), bytes.to_owned());
                Ok(())
            }
            #[cfg(not(target_arch = "wasm32"))]
            Self::Beside(garage) => {
                let there = disk::photo(garage, &name.file_name()).is_some_and(|there| name.fits(&there));
                if there { disk::flush_photos(garage) } else { disk::write_photo(garage, &name.file_name(), bytes) }
            }
            #[cfg(target_arch = "wasm32")]
            Self::Beside(_) => Ok(()),
        }
    }

    /// The picture; from the backups where its own file is missing or damaged.
    pub(crate) fn read(&self, name: &PictureName) -> Result<Vec<u8>> {
        let file = name.file_name();
        let found = match self {
            Self::Memory(kept) => kept.get(&file).cloned(),
            #[cfg(not(target_arch = "wasm32"))]
            Self::Beside(garage) => disk::photo(garage, &file),
            #[cfg(target_arch = "wasm32")]
            Self::Beside(_) => None,
        };
        let was_there = found.is_some();
        if let Some(sound) = found.filter(|bytes| name.fits(bytes)) {
            return Ok(sound);
        }
        #[cfg(not(target_arch = "wasm32"))]
        if let Self::Beside(garage) = self
            && let Some(copy) = disk::photo_in_backup(garage, &file).filter(|copy| name.fits(copy))
        {
            // Where there is no room to put it back, it can be shown all the same.
            let _put_back = disk::write_photo(garage, &file, &copy);
            return Ok(copy);
        }
        let what = if was_there { "is damaged: its content is not what was added" } else { "is missing" };
        Err(StoreError::PictureLost { file, what })
    }

    /// Sees that the backups have a picture too.
    #[cfg(not(target_arch = "wasm32"))]
    pub(crate) fn back_up(&self, name: &PictureName) -> Result<()> {
        let bytes = self.read(name)?;
        match self {
            Self::Beside(garage) => disk::back_up_photo(garage, &name.file_name(), &bytes),
            Self::Memory(_) => Ok(()),
        }
    }

    /// An exported car is the copy.
    #[cfg(target_arch = "wasm32")]
    pub(crate) fn back_up(&self, name: &PictureName) -> Result<()> {
        self.read(name).map(|_| ())
    }
}
