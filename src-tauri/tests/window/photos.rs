//! A photo chosen in the window is kept, there again after a restart, faint under the next snapshot's, and in the car's file.

use std::path::Path;

use serde_json::{Value, json};
use thirtyfour::By;

use crate::garage::Garage;
use crate::window::{LAPTOP, PHONE, Window};

/// A PNG of one colour that a browser can unpack: stored blocks (RFC 1951 section 3.2.4), checksums of RFC 1950 and of the standard.
fn png(width: u32, height: u32, colour: [u8; 3]) -> Vec<u8> {
    let crc = |bytes: &[u8]| {
        !bytes.iter().fold(u32::MAX, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { crc >> 1 ^ 0xedb8_8320 } else { crc >> 1 })
        })
    };
    let chunk = |kind: &[u8], content: &[u8]| {
        let named = [kind, content].concat();
        [&u32::try_from(content.len()).expect("short").to_be_bytes()[..], &named, &crc(&named).to_be_bytes()].concat()
    };
    let line = [&[0][..], &colour.repeat(width as usize)].concat();
    let mut packed = vec![0x78, 0x01];
    for nth in 0..height {
        let length = u16::try_from(line.len()).expect("short");
        packed.push(u8::from(nth + 1 == height));
        packed.extend(length.to_le_bytes());
        packed.extend((!length).to_le_bytes());
        packed.extend(&line);
    }
    let (mut a, mut b) = (1_u32, 0_u32);
    for byte in line.repeat(height as usize) {
        a = (a + u32::from(byte)) % 65_521;
        b = (b + a) % 65_521;
    }
    packed.extend((b << 16 | a).to_be_bytes());
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &head), chunk(b"IDAT", &packed), chunk(b"IEND", &[])].concat()
}

impl Window {
    /// From the garage to the result of one of the pickup's snapshots, newest first.
    async fn result_of(&self, nth: usize) {
        self.reload().await;
        self.touch_css("[data-label*=\"pickup\"]").await;
        self.touch("tab-readings").await;
        self.touch(&format!("snapshot-{nth}")).await;
        self.find("photo-left").await;
    }

    async fn choose(&self, file: &Path) {
        let input = self.page.find(By::Css("[data-test=\"photo-file\"]")).await.expect("the file input is there");
        input.send_keys(file.to_string_lossy()).await.expect("a file can be chosen");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_photo_is_kept_through_a_restart_and_lies_under_the_next() {
    let garage = Garage::empty();
    let file = garage.data().with_file_name("left.png");
    std::fs::write(&file, png(400, 300, [90, 40, 40])).expect("written");
    let hostile = garage.data().with_file_name("hostile.png");
    std::fs::write(&hostile, b"<svg onload='alert(1)'/>").expect("written");

    let window = Window::open(&garage).await;
    window.find("add-car").await;
    let cars = window.ask("open_sample_garage", json!({})).await;
    window.result_of(1).await;
    window.watch_policy().await;
    window.touch("photo-left").await;
    window.find("photo-over").await;
    assert!(!window.has("[data-test=\"ghost\"]").await, "nothing was taken before");
    window.choose(&hostile).await;
    assert!(window.text("photo-problem").await.contains("cannot be read as a picture"));
    assert!(!window.has("[data-test=\"photo-keep\"]").await);
    window.choose(&file).await;
    window.touch("photo-keep").await;
    window.find("photo-off").await;
    window.picture("photo-kept").await;
    window.touch("close").await;
    window.css("[data-test=\"photo-left\"]:not([data-photo=\"\"]) img").await;
    window.kept_policy().await;
    window.close().await;

    let window = Window::open(&garage).await;
    window.result_of(1).await;
    window.css("[data-test=\"photo-left\"] img").await;
    window.result_of(0).await;
    assert!(window.has("[data-test=\"photo-left\"][data-photo=\"\"]").await, "the newer snapshot has none");
    window.watch_policy().await;
    window.touch("photo-left").await;
    window.find("ghost").await;
    for (size, name) in [(PHONE, "ghost"), (LAPTOP, "ghost-wide")] {
        window.size(size).await;
        window.picture(name).await;
    }
    window.touch("ghost-fainter").await;
    window.touch("ghost-fainter").await;
    window.until("the last photo is gone", async || !window.has("[data-test=\"ghost\"]").await).await;
    window.kept_policy().await;

    let pickup = cars["cars"]
        .as_array()
        .expect("cars")
        .iter()
        .find(|car| car["label"].as_str().is_some_and(|label| label.contains("pickup")));
    let exported = window.ask("export_car", json!({"car": pickup.expect("the pickup")["car"]})).await;
    let car: Value = serde_json::from_str(exported["text"].as_str().expect("text")).expect("an exchange file");
    let photos: Vec<&Value> =
        car["snapshots"].as_array().expect("snapshots").iter().filter_map(|one| one.get("photos")).collect();
    assert_eq!(photos.len(), 1);
    assert_eq!((&photos[0][0]["side"], &photos[0][0]["media_type"]), (&json!("left"), &json!("image/jpeg")));
    assert!(photos[0][0]["data"].as_str().is_some_and(|data| data.starts_with("/9j/")));
    window.close().await;
}
