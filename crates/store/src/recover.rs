//! Opening a garage that may be damaged: the file is set aside, the last sound copy opened, and what can still be read of the
//! damaged file brought over. Nothing is deleted.

use crate::{Opened, Result, Stamp, Store};
#[cfg(not(target_arch = "wasm32"))]
use crate::{StoreError, disk, photo::PhotoFiles};
use std::path::Path;

impl Store {
    /// Opens the garage; a damaged one is set aside and the newest sound copy takes its place.
    ///
    /// # Errors
    /// As [`Store::open`], except that damage is dealt with.
    #[cfg(not(target_arch = "wasm32"))]
    pub fn open_or_recover(path: &Path, at: Stamp) -> Result<Opened> {
        let damage = match Self::open_sound(path) {
            Ok(store) => return Ok(Opened { store, notices: Vec::new() }),
            Err(StoreError::Damaged { what }) => what,
            Err(error) => return Err(error),
        };
        let aside = disk::set_aside(path, at)?;
        let name = aside.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let mut notices =
            vec![format!("The garage file was damaged ({damage}). It was set aside as {name} and is kept.")];
        let mut opened = None;
        for copy in disk::backups(path) {
            disk::copy(&copy, path)?;
            match Self::open_sound(path) {
                Ok(store) => {
                    notices.push("The last sound copy was opened in its place.".to_owned());
                    opened = Some(store);
                    break;
                }
                Err(StoreError::Damaged { .. }) => {
                    disk::set_aside(path, at)?;
                }
                Err(error) => return Err(error),
            }
        }
        let mut store = match opened {
            Some(store) => store,
            None => {
                notices.push("There was no sound copy, so an empty garage was opened.".to_owned());
                Self::open(path)?
            }
        };
        let (brought, corrected, events) = store.bring_over(&aside, at);
        if brought > 0 {
            notices.push(format!(
                "{brought} newer readings could still be read in the damaged file and were brought over."
            ));
        }
        if corrected > 0 {
            notices.push(format!("So were {corrected} newer corrections of finished snapshots."));
        }
        if events > 0 {
            notices.push(format!("So were {events} newer entries of its cars' history."));
        }
        Ok(Opened { store, notices })
    }

    /// There is nothing to recover from without files.
    ///
    /// # Errors
    /// As [`Store::open`].
    #[cfg(target_arch = "wasm32")]
    pub fn open_or_recover(path: &Path, _at: Stamp) -> Result<Opened> {
        Ok(Opened { store: Self::open(path)?, notices: Vec::new() })
    }

    /// Opens it where its layout is whole and its cars can be listed; anything else that the database finds is damage too.
    #[cfg(not(target_arch = "wasm32"))]
    fn open_sound(path: &Path) -> Result<Self> {
        let sound = Self::open(path).and_then(|store| {
            if !crate::migration::layout_is_sound(&store.connection)? {
                return Err(StoreError::Damaged { what: "its tables are not as they were made".to_owned() });
            }
            store.cars().map(|_| store)
        });
        sound.map_err(|error| match error {
            StoreError::Database(error) => StoreError::Damaged { what: error.to_string() },
            other => other,
        })
    }

    /// Merges whatever cars of a damaged file can still be read; returns how many readings, corrections and entries of the
    /// history were new.
    #[cfg(not(target_arch = "wasm32"))]
    fn bring_over(&mut self, aside: &Path, at: Stamp) -> (usize, usize, usize) {
        let Ok(connection) = rusqlite::Connection::open(aside) else { return (0, 0, 0) };
        // Pictures lie beside the garage that takes the place of this one.
        let damaged = Self { connection, path: None, photos: PhotoFiles::in_memory() };
        let Ok(cars) = damaged.cars() else { return (0, 0, 0) };
        let mut brought = (0, 0, 0);
        for car in cars {
            if let Ok(loaded) = damaged.car_file(car.id)
                && let Ok(imported) = self.import_document(loaded.document, at)
            {
                brought.0 += imported.new_readings;
                brought.1 += imported.new_corrections;
                brought.2 += imported.new_events;
            }
        }
        brought
    }
}
