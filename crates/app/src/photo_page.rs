//! The photos of a snapshot, side by side in walking order, and for each side the one to stand in the same place by.

use crate::Garage;
use crate::problems::id;
use crate::snapshot_row::typed;
use crate::wire::{PhotoPicture, PhotoRef, PhotoView, PhotosView, Problem, SidePhoto};
use crate::words::{capital, day};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use trueground_core::capture::PhotoSide;
use trueground_store::{PhotoRecord, SnapshotRecord};
use uuid::Uuid;

/// The page.
///
/// # Errors
/// No such snapshot, or it cannot be read.
pub(crate) fn page(garage: &mut Garage, snapshot: Uuid) -> Result<PhotosView, Problem> {
    let record = garage.store.snapshot(snapshot)?;
    let photos = garage.store.photos(snapshot)?;
    for what in &photos.damaged {
        let notice = format!("Snapshot {}: {what} is damaged and was set aside.", record.name);
        if !garage.notices.contains(&notice) {
            garage.notices.push(notice);
        }
    }
    let before = before(garage, &record)?;
    let date = date(&record)?;
    let mut sides = Vec::new();
    for (side, before) in PhotoSide::ALL.into_iter().zip(before) {
        let newest = photos.newest(side);
        sides.push(SidePhoto {
            side,
            words: side.words().to_owned(),
            photo: photos.shown(side).map(|photo| view(photo, &date)),
            taken_off: newest.filter(|photo| photo.is_off()).map(|photo| photo.id.to_string()),
            others: photos.all.iter().filter(|photo| photo.side == side).count().saturating_sub(1),
            before,
        });
    }
    Ok(PhotosView { snapshot: snapshot.to_string(), sides })
}

/// For each side the photo of the last snapshot before this one that has one.
fn before(garage: &Garage, snapshot: &SnapshotRecord) -> Result<[Option<PhotoView>; 4], Problem> {
    let mut found = [const { None }; 4];
    let all = garage.store.snapshots(snapshot.car)?;
    for (other, ..) in
        all.into_iter().take_while(|(other, ..)| *other != snapshot.id).collect::<Vec<_>>().into_iter().rev()
    {
        let photos = garage.store.photos(other)?;
        if photos.all.is_empty() {
            continue;
        }
        // One whose description is damaged is no reason to show none.
        let Ok(date) = garage.store.snapshot(other).map_err(Problem::from).and_then(|record| date(&record)) else {
            continue;
        };
        for (side, found) in PhotoSide::ALL.into_iter().zip(&mut found) {
            if found.is_none() {
                *found = photos.shown(side).map(|photo| view(photo, &date));
            }
        }
        if found.iter().all(Option::is_some) {
            break;
        }
    }
    Ok(found)
}

/// Day of a snapshot, `YYYY-MM-DD`.
fn date(record: &SnapshotRecord) -> Result<String, Problem> {
    Ok(typed(record)?.date)
}

/// The photos of a snapshot that count, in walking order.
///
/// # Errors
/// They cannot be read.
pub(crate) fn shown(garage: &Garage, snapshot: Uuid, date: &str) -> Result<Vec<PhotoView>, Problem> {
    let photos = garage.store.photos(snapshot)?;
    Ok(PhotoSide::ALL.into_iter().filter_map(|side| Some(view(photos.shown(side)?, date))).collect())
}

fn view(photo: &PhotoRecord, date: &str) -> PhotoView {
    let added = photo.added_at().and_then(|at| at.get(..10).map(str::to_owned)).filter(|added| added != date);
    let when = match added {
        Some(added) => format!("{}, added {}", day(date), day(&added)),
        None => day(date),
    };
    PhotoView {
        photo: photo.id.to_string(),
        width_px: photo.width_px,
        height_px: photo.height_px,
        alt: format!("{} of the car, {when}.", capital(photo.side.words())),
        when,
    }
}

/// A picture as an image takes it.
///
/// # Errors
/// No such photo, or its picture is missing or damaged.
pub(crate) fn picture(garage: &Garage, request: &PhotoRef) -> Result<PhotoPicture, Problem> {
    let (_, photo) = garage.store.photo(id("photo", &request.photo)?)?;
    let bytes = garage.store.picture(&photo)?;
    Ok(PhotoPicture { photo: photo.id.to_string(), data_url: data_url(photo.media_type(), &bytes) })
}

/// Base64 that is a picture by its content, as an image takes it.
pub(crate) fn checked_data_url(data: &str) -> Option<String> {
    let bytes = STANDARD.decode(data).ok()?;
    let seen = trueground_core::picture::recognise(&bytes).ok()?;
    Some(data_url(seen.format.media_type(), &bytes))
}

/// `data:image/jpeg;base64,…`
pub(crate) fn data_url(media_type: &str, bytes: &[u8]) -> String {
    format!("data:{media_type};base64,{}", STANDARD.encode(bytes))
}
