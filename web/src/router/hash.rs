//! Percent-encoding of one segment of a hash route.

/// Writes a segment so that it holds no `/`, `#`, `%` or control character of its own.
pub fn encode(segment: &str) -> String {
    let mut written = String::with_capacity(segment.len());
    for byte in segment.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.' | b'~') {
            written.push(char::from(byte));
        } else {
            written.push('%');
            for half in [byte >> 4, byte & 15] {
                written.push(
                    char::from_digit(u32::from(half), 16)
                        .unwrap_or('0')
                        .to_ascii_uppercase(),
                );
            }
        }
    }
    written
}

/// Reads a segment back. `None` if an escape is cut short, is not hexadecimal, or the bytes are not UTF-8.
pub fn decode(segment: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(segment.len());
    let mut rest = segment.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let high = char::from(rest.next()?).to_digit(16)?;
            let low = char::from(rest.next()?).to_digit(16)?;
            bytes.push(u8::try_from(high * 16 + low).ok()?);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_byte_of_a_segment_comes_back() {
        for character in (0..=0x2ff)
            .filter_map(char::from_u32)
            .chain(['😀', '\u{10ffff}'])
        {
            let segment = format!("a{character}b");
            let written = encode(&segment);
            assert!(
                written.is_ascii() && !written.contains(['/', '#', '?', ' ']),
                "{written}"
            );
            assert_eq!(decode(&written), Some(segment));
        }
    }

    #[test]
    fn a_broken_escape_is_refused() {
        for broken in ["%", "%4", "%zz", "%ff", "%-1", "%+1"] {
            assert_eq!(decode(broken), None, "{broken}");
        }
    }
}
