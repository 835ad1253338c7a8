//! Typed text and lists of names as they are shown back in a message: cut, escaped, abbreviated.

/// Longest piece of typed text a message shows, in characters.
pub const SHOWN_CHARACTERS: usize = 60;

/// How many names of a list a message shows before it says how many more there are.
const SHOWN_NAMES: usize = 3;

/// With its first letter large.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The typed `text` as a message shows it: cut after [`SHOWN_CHARACTERS`], with control characters, direction marks and
/// everything else that does not stand still on a line written as `\u{…}`.
///
/// ```
/// assert_eq!(trueground_core::wording::shown("23 5/8\n"), "23 5/8\\n");
/// ```
pub fn shown(text: &str) -> String {
    let mut out = String::new();
    for (count, c) in text.chars().enumerate() {
        if count == SHOWN_CHARACTERS {
            out.push('…');
            break;
        }
        match c {
            '\'' | '"' | '\\' => out.push(c),
            _ if moves_the_line(c) => out.extend(c.escape_unicode()),
            _ => out.extend(c.escape_debug()),
        }
    }
    out
}

/// `names` as part of a sentence: `A`, `A and B`, `A, B and C`, `A, B, C and 19,997 more`.
pub fn listed<S: AsRef<str>>(names: &[S]) -> String {
    let show = |s: &S| shown(s.as_ref());
    match names {
        [] => "none".to_owned(),
        [one] => show(one),
        many if many.len() <= SHOWN_NAMES => {
            let (last, first) = many.split_last().expect("more than one name");
            format!("{} and {}", first.iter().map(show).collect::<Vec<_>>().join(", "), show(last))
        }
        many => format!(
            "{} and {} more",
            many[..SHOWN_NAMES].iter().map(show).collect::<Vec<_>>().join(", "),
            grouped(many.len() - SHOWN_NAMES)
        ),
    }
}

/// A count with a comma between groups of three digits: `19,997`.
pub fn grouped(count: usize) -> String {
    let digits = count.to_string();
    let mut out = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    out
}

/// The one of `known` that is nearest to `typed` by single-letter edits, if it is near enough to be meant.
pub fn nearest<'a>(typed: &str, known: &[&'a str]) -> Option<&'a str> {
    if typed.chars().count() > SHOWN_CHARACTERS {
        return None;
    }
    let plain = |s: &str| s.to_lowercase().replace(['-', ' '], "_");
    let typed = plain(typed);
    known
        .iter()
        .map(|k| (edits(&typed, &plain(k)), *k))
        .min_by_key(|(d, _)| *d)
        .filter(|(d, k)| *d <= 1 + k.chars().count() / 2)
        .map(|(_, k)| k)
}

/// The one of `known` that `typed` is but for one or two letters: one in a short word. Another word is no slip.
pub fn slip_of<'a>(typed: &str, known: &[&'a str]) -> Option<&'a str> {
    let letters = typed.chars().count();
    let allowed = if letters > 4 { 2 } else { 1 };
    known.iter().find(|known| letters <= SHOWN_CHARACTERS && edits(&typed.to_lowercase(), known) <= allowed).copied()
}

/// A message of some other program, with everything it quotes (between `` ` `` or `"`) cut as [`shown`] does.
pub fn quotes_cut(message: &str) -> String {
    let mut out = String::new();
    let mut quoted: Option<(char, String)> = None;
    let mut escaped = false;
    for c in message.chars() {
        match &mut quoted {
            None if matches!(c, '`' | '"') => quoted = Some((c, String::new())),
            None => out.push(c),
            Some((mark, text)) if c == *mark && !escaped => {
                out.extend([mark.to_string(), shown(text), mark.to_string()]);
                quoted = None;
            }
            Some((_, text)) => text.push(c),
        }
        escaped = c == '\\' && !escaped;
    }
    if let Some((mark, text)) = quoted {
        out.extend([mark.to_string(), shown(&text)]);
    }
    out
}

/// Direction marks and invisible characters, which could turn a message round or hide in it.
fn moves_the_line(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
        || c.is_control() && !matches!(c, '\n' | '\r' | '\t' | '\0')
}

/// Levenshtein distance, counted in characters.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let above = row[j + 1];
            row[j + 1] = (corner + usize::from(ca != *cb)).min(above + 1).min(row[j] + 1);
            corner = above;
        }
    }
    row[b.len()]
}

/// `2031-04-12` as "12 Apr 2031"; a text that is no date stays as it is.
pub fn day(date: &str) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sept", "Oct", "Nov", "Dec"];
    let mut parts = date.splitn(3, '-');
    let found = (|| {
        let year: i32 = parts.next()?.parse().ok()?;
        let month: usize = parts.next()?.parse().ok()?;
        let day: u32 = parts.next()?.parse().ok()?;
        Some(format!("{day} {} {year}", MONTHS.get(month.checked_sub(1)?)?))
    })();
    found.unwrap_or_else(|| date.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_text_is_cut_and_strange_characters_are_escaped() {
        assert_eq!(shown(&"9".repeat(10_000)).chars().count(), SHOWN_CHARACTERS + 1);
        assert_eq!(shown("12\u{202e}34\u{7}\0"), "12\\u{202e}34\\u{7}\\0");
        assert_eq!(shown(r#"1' 2 1/4""#), r#"1' 2 1/4""#);
    }

    #[test]
    fn what_a_message_quotes_is_cut() {
        let long = "x".repeat(5_000);
        let cut = quotes_cut(&format!("invalid type: string \"{long}\", expected `f64`"));
        assert_eq!(cut, format!("invalid type: string \"{}…\", expected `f64`", "x".repeat(SHOWN_CHARACTERS)));
    }

    #[test]
    fn lists_are_abbreviated() {
        assert_eq!(listed(&["A"]), "A");
        assert_eq!(listed(&["A", "B", "C"]), "A, B and C");
        let many: Vec<String> = (0..20_000).map(|i| format!("P{i}")).collect();
        assert_eq!(listed(&many), "P0, P1, P2 and 19,997 more");
    }

    #[test]
    fn a_slip_is_told_from_another_word() {
        let known = ["thickness_mm", "leaves", "note", "end"];
        for (typed, meant) in [("thikness_mm", "thickness_mm"), ("leafs", "leaves"), ("Note", "note"), ("ends", "end")]
        {
            assert_eq!(slip_of(typed, &known), Some(meant), "{typed}");
        }
        for other in ["meaning", "name", "what", "thickness", ""] {
            assert_eq!(slip_of(other, &known[..3]), None, "{other}");
        }
    }

    #[test]
    fn the_nearest_known_name_is_found_or_none() {
        assert_eq!(nearest("staff", &["point", "staff_mm", "u_mm"]), Some("staff_mm"));
        assert_eq!(nearest("U-MM", &["point", "staff_mm", "u_mm"]), Some("u_mm"));
        assert_eq!(nearest("colour of the car", &["point", "u_mm"]), None);
    }
}
