//! Photos in an exchange file: the picture is taken out of the text, and put back into it on export.

use super::{NewPhoto, PhotoRecord, PictureName, insert, made_id, of};
use crate::{Result, StoreError};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use rusqlite::Connection;
use serde_json::{Map, Value, json};
use std::collections::{HashMap, HashSet};
use trueground_core::capture::PhotoSide;
use trueground_core::picture;
use uuid::Uuid;

/// A picture that a file carries.
pub(crate) type Carried = (PictureName, Vec<u8>);

/// Takes the pictures out of an exchange file, so that it only names them.
///
/// # Errors
/// One that is not the picture it is named after; the place in the file is said.
pub(crate) fn take_pictures(file: &mut Value) -> Result<Vec<Carried>> {
    let mut carried = Vec::new();
    let snapshots = file.get_mut("snapshots").and_then(Value::as_array_mut);
    for (number, snapshot) in snapshots.into_iter().flatten().enumerate() {
        let photos = snapshot.get_mut("photos").and_then(Value::as_array_mut);
        for (nth, photo) in photos.into_iter().flatten().enumerate() {
            let place = |key: &str| format!("snapshots[{number}].photos[{nth}].{key}");
            let unreadable = |key: &str, what: String| StoreError::Unreadable { place: place(key), what };
            let Some(keys) = photo.as_object_mut() else { continue };
            let data = match keys.shift_remove("data") {
                Some(Value::String(data)) => data,
                _ => continue,
            };
            let text = |key: &str| keys.get(key).and_then(Value::as_str).unwrap_or_default();
            let number = |key: &str| keys.get(key).and_then(Value::as_u64).unwrap_or_default();
            let name = PictureName::parse(text("sha256"), text("media_type"))
                .ok_or_else(|| unreadable("sha256", "this is no SHA-256 with a media type beside it".to_owned()))?;
            let bytes = decode(&data).map_err(|what| unreadable("data", what))?;
            if !name.fits(&bytes) {
                let what = "this is not the picture that sha256 names".to_owned();
                return Err(unreadable("data", what));
            }
            let seen = picture::recognise(&bytes).map_err(|error| unreadable("data", error.to_string()))?;
            let says = (number("width_px"), number("height_px"), number("size_bytes"));
            let is = (u64::from(seen.width_px), u64::from(seen.height_px), bytes.len() as u64);
            if seen.format != name.format || says != is {
                let what = format!(
                    "the picture is {} of {} × {} px and {} bytes, and not as said beside it",
                    seen.format.media_type(),
                    is.0,
                    is.1,
                    is.2
                );
                return Err(unreadable("data", what));
            }
            carried.push((name, bytes));
        }
    }
    Ok(carried)
}

/// Bytes of a Base64 text.
fn decode(text: &str) -> std::result::Result<Vec<u8>, String> {
    // Four letters carry three bytes.
    if text.len() / 4 * 3 > picture::MOST_BYTES + 3 {
        return Err(picture::NoPicture::TooManyBytes { bytes: text.len() / 4 * 3 }.to_string());
    }
    STANDARD.decode(text).map_err(|error| format!("this is not Base64: {error}"))
}

/// A picture as an exchange file carries it.
pub(crate) fn encode(bytes: &[u8]) -> Value {
    Value::String(STANDARD.encode(bytes))
}

/// A photo as it stands in the exchange file, without its picture.
pub(crate) fn to_file(photo: &PhotoRecord) -> Value {
    let mut keys = Map::new();
    let mut set = |key: &str, value: Value| keys.insert(key.to_owned(), value);
    set("side", json!(photo.side.code()));
    set("sha256", json!(photo.name.hex()));
    set("media_type", json!(photo.media_type()));
    set("width_px", json!(photo.width_px));
    set("height_px", json!(photo.height_px));
    set("size_bytes", json!(photo.size_bytes));
    if let Some(at) = photo.at {
        set("added_at", json!(at.iso()));
    }
    for (key, value) in &photo.extra {
        set(key, value.clone());
    }
    if let Some(mark) = photo.marked {
        keys.shift_remove("taken_off");
        if mark.off {
            keys.insert("taken_off".to_owned(), json!({ "reason": "taken off", "at": mark.at.iso() }));
        }
    }
    Value::Object(keys)
}

/// Adds those photos that are not kept yet, to a finished snapshot too; true where there were any.
pub(crate) fn merge(connection: &Connection, row: i64, snapshot: Uuid, photos: Vec<Value>) -> Result<bool> {
    if photos.is_empty() {
        return Ok(false);
    }
    let kept: HashSet<Uuid> = of(connection, row)?.all.into_iter().map(|photo| photo.id).collect();
    let mut alike = HashMap::new();
    let mut changed = false;
    for each in photos {
        let Some(mut new) = from_file(each) else {
            let what = "A photo of the file has a name or a size that no photo has.".to_owned();
            return Err(StoreError::Contradiction { what });
        };
        let same = alike.entry((new.side, new.name)).or_insert(0);
        new.id = made_id(snapshot, new.side, &new.name, *same);
        *same += 1;
        if !kept.contains(&new.id) {
            insert(connection, row, &new, None)?;
            changed = true;
        }
    }
    Ok(changed)
}

/// What a photo of a file says, without an id; `None` where its names or sizes mean nothing here.
fn from_file(photo: Value) -> Option<NewPhoto> {
    let Value::Object(mut keys) = photo else { return None };
    let mut text = |key: &str| match keys.shift_remove(key) {
        Some(Value::String(text)) => text,
        _ => String::new(),
    };
    let (side, sha256, media_type) = (text("side"), text("sha256"), text("media_type"));
    let mut number = |key: &str| keys.shift_remove(key).and_then(|number| u32::try_from(number.as_u64()?).ok());
    let (width_px, height_px, size_bytes) = (number("width_px")?, number("height_px")?, number("size_bytes")?);
    let name = PictureName::parse(&sha256, &media_type)?;
    let side = PhotoSide::from_code(&side)?;
    Some(NewPhoto { id: Uuid::nil(), side, name, width_px, height_px, size_bytes, extra: keys })
}
