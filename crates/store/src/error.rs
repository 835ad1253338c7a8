//! What can go wrong with the store, in words.

use trueground_core::picture::NoPicture;

/// Why the store did not do as asked; nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Written by a later version of the program.
    #[error("This garage was written by a newer Trueground (its version is {found}, this one knows up to {known}).")]
    Newer {
        /// Version in the file.
        found: i64,
        /// Newest version known here.
        known: i64,
    },
    /// An older layout that the missing steps could not be taken on; nothing was changed.
    #[error("This garage is of version {found} and could not be brought to version {known}: {what}.")]
    NotBrought {
        /// Version in the file.
        found: i64,
        /// Version it was to have.
        known: i64,
        /// What the database said.
        what: String,
    },
    /// A database of something else.
    #[error("{what} is a database, but not a garage of Trueground.")]
    NotAGarage {
        /// The file.
        what: String,
    },
    /// Another process has it open.
    #[error("This garage is already open in another window or program.")]
    InUse,
    /// The file is damaged.
    #[error("The garage file is damaged: {what}.")]
    Damaged {
        /// What was found.
        what: String,
    },
    /// No such thing.
    #[error("There is no {what} {id} in this garage.")]
    NotFound {
        /// Sort of thing.
        what: &'static str,
        /// As asked for.
        id: String,
    },
    /// A finished snapshot.
    #[error("{what} is finished. A finished snapshot is not changed.")]
    Finished {
        /// The snapshot in words.
        what: String,
    },
    /// An exchange file that contradicts what is kept.
    #[error("{what}")]
    Contradiction {
        /// Whole sentence.
        what: String,
    },
    /// An exchange file that cannot be read.
    #[error("{place}: {what}")]
    Unreadable {
        /// Path inside the file.
        place: String,
        /// What is wrong there.
        what: String,
    },
    /// Bytes that are not taken in as a photo.
    #[error("{error}")]
    NoPicture {
        /// Why.
        error: NoPicture,
    },
    /// A photo whose picture is not there as it was added.
    #[error("The photo {file} {what}.")]
    PictureLost {
        /// Name of its file.
        file: String,
        /// What became of it.
        what: &'static str,
    },
    /// No room left.
    #[error("The disk is full. What was taken before is kept; this was not.")]
    DiskFull,
    /// The file system refused.
    #[error("{what}")]
    Disk {
        /// What and where.
        what: String,
    },
    /// Anything else from the database.
    #[error("The garage could not be read or written: {0}.")]
    Database(rusqlite::Error),
}

impl StoreError {
    /// Stable name for programs.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Newer { .. } => "garage_newer",
            Self::NotBrought { .. } => "garage_not_brought",
            Self::NotAGarage { .. } => "not_a_garage",
            Self::InUse => "garage_in_use",
            Self::Damaged { .. } => "garage_damaged",
            Self::NotFound { .. } => "not_found",
            Self::Finished { .. } => "snapshot_finished",
            Self::Contradiction { .. } => "file_contradicts",
            Self::Unreadable { .. } => "file_unreadable",
            Self::NoPicture { .. } => "no_picture",
            Self::PictureLost { .. } => "picture_lost",
            Self::DiskFull => "disk_full",
            Self::Disk { .. } => "disk_refused",
            Self::Database(_) => "database",
        }
    }

    /// What to do next.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::Newer { .. } => "Open it with the newer version. Nothing in it was touched.",
            Self::NotBrought { .. } => {
                "It is as it was: open it with the version before. A copy of it is in the folder backups beside it."
            }
            Self::NotAGarage { .. } => "Choose another folder for the garage. Nothing in that file was touched.",
            Self::InUse => "Go on there, or close it first.",
            Self::Damaged { .. } => {
                "Nothing is deleted. Start Trueground again; if it comes back, read in an exported file of the car."
            }
            Self::NotFound { .. } => "Go back to the garage and open it from there.",
            Self::Finished { .. } => "Take a new snapshot.",
            Self::Contradiction { .. } => "Nothing was read in. Compare the two and keep the one that is right.",
            Self::Unreadable { .. } => "Nothing was read in. Put it right there, or export the car again.",
            Self::NoPicture { error } => error.hint(),
            Self::PictureLost { .. } => {
                "No number hangs on it. Read in an exported file of the car that has it, or add the photo again."
            }
            Self::DiskFull => "Free some room, then take it again.",
            Self::Disk { .. } => "Look at the folder's permissions and at the disk.",
            Self::Database(_) => "Try again. If it comes back, export your cars and start Trueground again.",
        }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode;
        match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::InUse,
            Some(ErrorCode::DiskFull) => Self::DiskFull,
            Some(ErrorCode::SystemIoFailure | ErrorCode::ReadOnly | ErrorCode::CannotOpen) => Self::Disk {
                what: format!("The disk refused it ({error}). What was taken before is kept; this was not."),
            },
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Self::Damaged { what: error.to_string() },
            _ => Self::Database(error),
        }
    }
}
