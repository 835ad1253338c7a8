//! The table `draft`: where the walk of a snapshot is, what is half typed there, and whether a question was answered.

use crate::checksum::Checksum;
use crate::{Result, Stamp, Store, StoreError};
use rusqlite::{Connection, OptionalExtension, Row, params};
use uuid::Uuid;

/// Where the walk is, and what was half typed there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The step, in the app's own words.
    pub step: String,
    /// As typed so far.
    pub text: String,
    /// True where the question about the reading taken last was answered.
    pub settled: bool,
    /// When.
    pub at: Stamp,
}

impl Draft {
    /// Nothing typed yet, and nothing asked.
    pub(crate) fn begun(step: &str, at: Stamp) -> Self {
        Self { step: step.to_owned(), text: String::new(), settled: false, at }
    }
}

impl Store {
    /// Keeps half-typed text. When this returns it is on the disk.
    ///
    /// # Errors
    /// No such snapshot, finished, or it cannot be written.
    pub fn keep_draft(&mut self, snapshot: Uuid, step: &str, text: &str, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let row = unfinished(&transaction, snapshot)?;
        let settled = of(&transaction, row)?.is_ok_and(|kept| kept.is_some_and(|kept| kept.settled));
        keep(&transaction, row, &Draft { text: text.to_owned(), settled, ..Draft::begun(step, at) })?;
        Ok(transaction.commit()?)
    }

    /// Goes to a step with nothing typed there; a question about the reading taken last is answered with that.
    ///
    /// # Errors
    /// No such snapshot, finished, or it cannot be written.
    pub fn go_to(&mut self, snapshot: Uuid, step: &str, at: Stamp) -> Result<()> {
        let transaction = self.write()?;
        let row = unfinished(&transaction, snapshot)?;
        keep(&transaction, row, &Draft { settled: true, ..Draft::begun(step, at) })?;
        Ok(transaction.commit()?)
    }
}

fn unfinished(connection: &Connection, snapshot: Uuid) -> Result<i64> {
    let (row, finished) = connection
        .prepare_cached("SELECT id, id IN (SELECT snapshot FROM finish) FROM snapshot WHERE uuid = ?1")?
        .query_row([snapshot.as_bytes()], |row| Ok((row.get::<_, i64>(0)?, row.get::<_, bool>(1)?)))
        .optional()?
        .ok_or_else(|| StoreError::NotFound { what: "snapshot", id: snapshot.to_string() })?;
    if finished {
        return Err(StoreError::Finished { what: "This snapshot".to_owned() });
    }
    Ok(row)
}

pub(crate) fn keep(connection: &Connection, snapshot: i64, draft: &Draft) -> Result<()> {
    connection
        .prepare_cached(
            "INSERT INTO draft (snapshot, step, text, settled, utc_ms, offset_minutes, checksum)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
             ON CONFLICT (snapshot) DO UPDATE SET
                 step = ?2, text = ?3, settled = ?4, utc_ms = ?5, offset_minutes = ?6, checksum = ?7",
        )?
        .execute(params![
            snapshot,
            draft.step,
            draft.text,
            draft.settled,
            draft.at.utc_ms,
            draft.at.offset_minutes,
            checksum(snapshot, draft)
        ])?;
    Ok(())
}

/// The draft of a snapshot; what is left of a damaged one, in words.
pub(crate) fn of(connection: &Connection, snapshot: i64) -> Result<std::result::Result<Option<Draft>, String>> {
    let found = connection
        .prepare_cached(
            "SELECT snapshot, step, text, settled, utc_ms, offset_minutes, checksum FROM draft WHERE snapshot = ?1",
        )?
        .query_row([snapshot], |row| Ok(verified(row).ok_or_else(|| what_is_left(row))))
        .optional()?;
    Ok(found.transpose())
}

/// Damaged drafts in words.
pub(crate) fn check(connection: &Connection) -> Result<Vec<String>> {
    let mut damaged = Vec::new();
    let mut statement = connection.prepare(
        "SELECT draft.snapshot, step, text, settled, draft.utc_ms, draft.offset_minutes, checksum, car.label, snapshot.name
         FROM draft JOIN snapshot ON snapshot.id = draft.snapshot JOIN car ON car.id = snapshot.car",
    )?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        if verified(row).is_none() {
            let name = |column| row.get::<_, String>(column).unwrap_or_else(|_| "?".to_owned());
            let (car, snapshot, what) = (name(7), name(8), what_is_left(row));
            damaged.push(format!("{car}: snapshot {snapshot}: {what} is damaged and was set aside."));
        }
    }
    Ok(damaged)
}

/// Gives every draft its checksum: before layout 2 they had none.
pub(crate) fn sign_all(connection: &Connection) -> Result<()> {
    let mut statement =
        connection.prepare("SELECT snapshot, step, text, settled, utc_ms, offset_minutes FROM draft")?;
    let mut rows = statement.query([])?;
    let mut drafts = Vec::new();
    while let Some(row) = rows.next()? {
        drafts.push((row.get::<_, i64>(0)?, read(row)?));
    }
    for (snapshot, draft) in drafts {
        keep(connection, snapshot, &draft)?;
    }
    Ok(())
}

fn read(row: &Row<'_>) -> rusqlite::Result<Draft> {
    Ok(Draft {
        step: row.get(1)?,
        text: row.get(2)?,
        settled: row.get(3)?,
        at: Stamp { utc_ms: row.get(4)?, offset_minutes: row.get(5)? },
    })
}

fn verified(row: &Row<'_>) -> Option<Draft> {
    let draft = read(row).ok()?;
    let (snapshot, check): (i64, i64) = (row.get(0).ok()?, row.get(6).ok()?);
    (check == checksum(snapshot, &draft)).then_some(draft)
}

/// Names a damaged draft by whatever of it can still be read.
fn what_is_left(row: &Row<'_>) -> String {
    let text: String = row.get(2).unwrap_or_else(|_| "?".to_owned());
    format!("the half-typed text, of which \u{201c}{text}\u{201d} is left,")
}

fn checksum(snapshot: i64, draft: &Draft) -> i64 {
    Checksum::new("draft")
        .integer(snapshot)
        .text(&draft.step)
        .text(&draft.text)
        .integer(i64::from(draft.settled))
        .integer(draft.at.utc_ms)
        .integer(i64::from(draft.at.offset_minutes))
        .finish()
}
