//! From text to words that can be compared: lower case, plain letters, numbers
//! apart from their units, one form for one and several.

/// Words that tell nothing from anything else.
const IDLE: &[&str] = &[
    "a", "an", "and", "at", "for", "from", "in", "is", "it", "of", "on", "or", "the", "to", "with",
    "x",
];

/// Calls `each` with every word of `text`, in order. `scratch` is room to work
/// in, so that thousands of records need no room each.
pub fn each_token(text: &str, scratch: &mut String, mut each: impl FnMut(&str)) {
    scratch.clear();
    let mut chars = text.chars().peekable();
    let mut last_digit = false;
    while let Some(c) = chars.next() {
        if c.is_alphanumeric() {
            for lower in c.to_lowercase() {
                scratch.push(plain(lower));
            }
            last_digit = c.is_ascii_digit();
            continue;
        }
        // 1.25 and 1,25 are one number.
        if matches!(c, '.' | ',') && last_digit && chars.peek().is_some_and(char::is_ascii_digit) {
            scratch.push('.');
            continue;
        }
        flush(scratch, &mut each);
        last_digit = false;
    }
    flush(scratch, &mut each);
}

/// The words of a text.
pub fn tokens(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    each_token(text, &mut String::new(), |it| found.push(it.to_owned()));
    found
}

fn flush(word: &mut String, each: &mut impl FnMut(&str)) {
    if word.is_empty() {
        return;
    }
    split(word, each);
    word.clear();
}

/// "10mm" is 10 and mm; "m8x25" is m8 and 25.
fn split(word: &str, each: &mut impl FnMut(&str)) {
    let number = |it: &str| !it.is_empty() && it.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    if word.bytes().any(|b| b.is_ascii_digit()) {
        for unit in ["mm", "nm", "mil", "km", "in"] {
            if let Some(before) = word.strip_suffix(unit)
                && number(before)
            {
                each(before);
                each(unit);
                return;
            }
        }
        if let Some((before, after)) = word.split_once('x')
            && number(before.strip_prefix('m').unwrap_or(before))
            && after.starts_with(|c: char| c.is_ascii_digit())
        {
            each(before);
            split(after, each);
            return;
        }
    }
    let word = singular(word);
    if !IDLE.contains(&word) {
        each(word);
    }
}

/// Cuts the mark of several off: "bolts", "bushes". What is left is for
/// comparing, asked and found words being cut alike.
fn singular(word: &str) -> &str {
    if word.len() < 4 || !word.ends_with('s') {
        return word;
    }
    if ["ss", "us", "is"].iter().any(|end| word.ends_with(end)) {
        return word;
    }
    for end in ["shes", "ches", "xes", "sses"] {
        if word.ends_with(end) {
            return word.strip_suffix("es").unwrap_or(word);
        }
    }
    word.strip_suffix('s').unwrap_or(word)
}

/// Letters without their marks, for the alphabets of Western Europe.
fn plain(c: char) -> char {
    match c {
        'à'..='å' => 'a',
        'ç' => 'c',
        'è'..='ë' => 'e',
        'ì'..='ï' => 'i',
        'ñ' => 'n',
        'ò'..='ö' | 'ø' => 'o',
        'ù'..='ü' => 'u',
        'ý' | 'ÿ' => 'y',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_cut_alike() {
        for (text, words) in [
            (
                "M8 x 1.25 x 30 bolts, 10mm head",
                &["m8", "1.25", "30", "bolt", "10", "mm", "head"][..],
            ),
            ("M8x25", &["m8", "25"]),
            ("M8x1,25x30", &["m8", "1.25", "30"]),
            ("the bushes of the boss", &["bush", "boss"]),
            ("Kühler-Schlauch", &["kuhler", "schlauch"]),
            ("T30, P-clip", &["t30", "p", "clip"]),
            ("gas", &["gas"]),
            ("...", &[]),
        ] {
            assert_eq!(tokens(text), words, "{text}");
        }
    }
}
