//! What the reader of JSON says of a value that does not belong where it stands, in the words of the person whose file it is.

use crate::wording::quotes_cut;

/// The message of `serde_json` in plain words, with what it quotes cut: "the text \"low\" stands where a number belongs". What is no
/// such message stays as it is, but for the cut.
pub fn misread(message: &str) -> String {
    let message = quotes_cut(message);
    let stands = |start: &str| {
        let (found, wanted) = message.strip_prefix(start)?.split_once(", expected ")?;
        Some(format!("{} stands where {} belongs", found_words(found), wanted_words(wanted)))
    };
    let missing = || Some(format!("{} is missing", message.strip_prefix("missing field ")?));
    stands("invalid type: ").or_else(|| stands("invalid value: ")).or_else(missing).unwrap_or(message)
}

fn found_words(found: &str) -> String {
    let number = |kind: &str| Some(format!("the number {}", found.strip_prefix(kind)?.trim_matches('`')));
    match found {
        "sequence" => "a list".to_owned(),
        "map" => "an object".to_owned(),
        _ => (found.strip_prefix("string ").map(|text| format!("the text {text}")))
            .or_else(|| number("integer "))
            .or_else(|| number("floating point "))
            .or_else(|| found.strip_prefix("boolean ").map(|truth| truth.trim_matches('`').to_owned()))
            .unwrap_or_else(|| found.to_owned()),
    }
}

fn wanted_words(wanted: &str) -> &str {
    match wanted {
        "f64" => "a number",
        "u8" | "u16" | "u32" | "u64" | "usize" => "a whole number from 0 up",
        "i8" | "i16" | "i32" | "i64" => "a whole number",
        "a string" | "string" => "a text",
        "a boolean" => "true or false",
        "a sequence" => "a list",
        "a map" => "an object",
        "value" => "something else",
        _ if wanted.starts_with("struct ") || wanted.starts_with("internally tagged enum ") => "an object",
        _ if wanted.starts_with("an array of ") => "a list of fixed length",
        _ => wanted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Deserialize;

    #[derive(Debug, Deserialize)]
    struct Point {
        #[serde(rename = "z_mm")]
        _z_mm: f64,
        #[serde(default, rename = "of")]
        _of: Vec<String>,
    }

    #[test]
    fn what_stands_in_a_wrong_place_is_said_in_plain_words() {
        for (file, said) in [
            (r#"{"z_mm": "low"}"#, "the text \"low\" stands where a number belongs"),
            (r#"{"z_mm": null}"#, "null stands where a number belongs"),
            (r#"{"z_mm": true}"#, "true stands where a number belongs"),
            (r#"{"z_mm": [5]}"#, "a list stands where a number belongs"),
            (r#"{"z_mm": 5, "of": {}}"#, "an object stands where a list belongs"),
            (r#"{"z_mm": 5, "of": [1.5]}"#, "the number 1.5 stands where a text belongs"),
            (r#"{}"#, "`z_mm` is missing"),
            (r#"7"#, "the number 7 stands where an object belongs"),
        ] {
            let value: serde_json::Value = serde_json::from_str(file).expect("JSON");
            let error = serde_json::from_value::<Point>(value).expect_err("it does not fit");
            assert_eq!(misread(&error.to_string()), said, "{file}");
        }
    }

    #[test]
    fn long_texts_are_cut_and_other_messages_stay() {
        let long = misread(&format!("invalid type: string \"{}\", expected f64", "x".repeat(70_000)));
        assert!(long.len() < 200, "{long}");
        assert_eq!(
            misread("unknown variant `fron`, expected `front` or `rear`"),
            "unknown variant `fron`, expected `front` or `rear`"
        );
    }
}
