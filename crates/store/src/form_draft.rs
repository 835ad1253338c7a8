//! The table `form_draft`: forms half filled in, each as one text under the form's name.

use crate::checksum::Checksum;
use crate::{Result, Stamp, Store};
use rusqlite::{Connection, Row, params};

impl Store {
    /// Keeps a form as it is filled in so far. When this returns it is on the disk.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn keep_form(&mut self, name: &str, text: &str, at: Stamp) -> Result<()> {
        self.connection
            .prepare_cached(
                "INSERT INTO form_draft (name, text, utc_ms, offset_minutes, checksum) VALUES (?1, ?2, ?3, ?4, ?5)
                 ON CONFLICT (name) DO UPDATE SET text = ?2, utc_ms = ?3, offset_minutes = ?4, checksum = ?5",
            )?
            .execute(params![name, text, at.utc_ms, at.offset_minutes, checksum(name, text, at)])?;
        Ok(())
    }

    /// Lets go of a form that is done with, or was never kept.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn drop_form(&mut self, name: &str) -> Result<()> {
        self.connection.prepare_cached("DELETE FROM form_draft WHERE name = ?1")?.execute([name])?;
        Ok(())
    }

    /// Name and text of every form that is kept and sound.
    ///
    /// # Errors
    /// Only if the database cannot be read.
    pub fn kept_forms(&self) -> Result<Vec<(String, String)>> {
        let mut statement = self.connection.prepare_cached(ALL)?;
        let mut rows = statement.query([])?;
        let mut forms = Vec::new();
        while let Some(row) = rows.next()? {
            forms.extend(verified(row));
        }
        Ok(forms)
    }
}

const ALL: &str = "SELECT name, text, utc_ms, offset_minutes, checksum FROM form_draft ORDER BY name";

/// Damaged forms in words.
pub(crate) fn check(connection: &Connection) -> Result<Vec<String>> {
    let mut damaged = Vec::new();
    let mut statement = connection.prepare(ALL)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        if verified(row).is_none() {
            damaged.push("A form half filled in is damaged and was set aside.".to_owned());
        }
    }
    Ok(damaged)
}

fn verified(row: &Row<'_>) -> Option<(String, String)> {
    let (name, text): (String, String) = (row.get(0).ok()?, row.get(1).ok()?);
    let at = Stamp { utc_ms: row.get(2).ok()?, offset_minutes: row.get(3).ok()? };
    let check: i64 = row.get(4).ok()?;
    (check == checksum(&name, &text, at)).then_some((name, text))
}

fn checksum(name: &str, text: &str, at: Stamp) -> i64 {
    let form = Checksum::new("form_draft").text(name).text(text);
    form.integer(at.utc_ms).integer(i64::from(at.offset_minutes)).finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 0 };

    #[test]
    fn a_form_is_there_after_the_garage_was_closed_and_gone_once_it_is_done() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("garage.db");
        let mut store = Store::open(&path).unwrap();
        store.keep_form("begin", "{\"label\":\"no\"}", AT).unwrap();
        store.keep_form("begin", "{\"label\":\"nose\"}", AT).unwrap();
        drop(store);
        let mut store = Store::open(&path).unwrap();
        assert_eq!(store.kept_forms().unwrap(), [("begin".to_owned(), "{\"label\":\"nose\"}".to_owned())]);
        store.drop_form("begin").unwrap();
        assert_eq!(store.kept_forms().unwrap(), []);
    }

    #[test]
    fn a_damaged_form_is_set_aside_in_words() {
        let mut store = Store::in_memory().unwrap();
        store.keep_form("begin", "typed", AT).unwrap();
        store.connection.execute("UPDATE form_draft SET text = 'typee'", []).unwrap();
        assert_eq!(store.kept_forms().unwrap(), []);
        assert_eq!(check(&store.connection).unwrap().len(), 1);
    }
}
