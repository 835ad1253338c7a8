//! The guide holds together: what a page links to or shows is there, each picture says what it shows, and none lies unused.

use std::collections::BTreeSet;
use std::fs;

use crate::tree::{assert_none, files, root};

const GUIDE: &str = "docs/guide";

/// Links and pictures of a page: whether it is a picture, its words, where it leads.
fn links(text: &str) -> Vec<(bool, &str, &str)> {
    text.match_indices("](")
        .filter_map(|(at, _)| {
            let opens = text[..at].rfind('[')?;
            let to = text[at + 2..].split(')').next()?;
            Some((text[..opens].ends_with('!'), &text[opens + 1..at], to))
        })
        .collect()
}

#[test]
fn what_the_guide_links_to_is_there() {
    let mut lost = Vec::new();
    for page in files(GUIDE, &[".md"]) {
        for (picture, words, to) in links(&page.text) {
            if !root().join(GUIDE).join(to).is_file() {
                lost.push(format!("{}: {to}", page.path));
            }
            if picture && words.len() < 20 {
                lost.push(format!("{}: {to} does not say what it shows", page.path));
            }
        }
    }
    assert_none(&lost, "a page of the guide leads nowhere, or shows a picture without words");
}

#[test]
fn every_page_and_picture_of_the_guide_can_be_reached() {
    let pages = files(GUIDE, &[".md"]);
    let reached: BTreeSet<String> =
        pages.iter().flat_map(|page| links(&page.text)).map(|(_, _, to)| to.to_owned()).collect();
    let mut there: Vec<String> = pages.iter().map(|page| page.path.replace("docs/guide/", "")).collect();
    for entry in fs::read_dir(root().join(GUIDE).join("pictures")).expect("the guide has pictures") {
        there.push(format!("pictures/{}", entry.expect("a folder is listed").file_name().to_string_lossy()));
    }
    let alone: Vec<String> = there.into_iter().filter(|name| name != "README.md" && !reached.contains(name)).collect();
    assert_none(&alone, "no page of the guide leads there");
}

#[test]
fn a_picture_of_the_guide_is_small_and_readable() {
    let mut found = Vec::new();
    for picture in files("docs/guide/pictures", &[".svg"]) {
        // Drawn 340 wide and shown as wide as a phone, a letter is at least 15 px.
        let small =
            picture.text.split("font-size=\"").skip(1).filter_map(|rest| rest.split('"').next()?.parse::<f64>().ok());
        found.extend(small.filter(|size| *size < 15.0).map(|size| format!("{}: letters of {size}", picture.path)));
        found.extend(picture.holding(&["style=", "<style", "href"]));
    }
    for entry in fs::read_dir(root().join("docs/guide/pictures")).expect("the guide has pictures") {
        let entry = entry.expect("a folder is listed");
        if entry.metadata().expect("it is there").len() > 150_000 {
            found.push(format!("{}: more than 150 kB", entry.file_name().to_string_lossy()));
        }
    }
    assert_none(&found, "a picture of the guide is small, readable on a phone, and brings no style of its own");
}
