//! Sets compact JSON out in lines for a person to read. Works on the text, so
//! that no second writer of every record is needed.

/// Indents by two spaces; lists of plain values stay on their line.
pub fn pretty(compact: &str) -> String {
    let mut out = String::with_capacity(compact.len() * 2);
    // For each open bracket, whether what is in it stands on lines of its own.
    let mut open: Vec<bool> = Vec::new();
    let mut in_text = false;
    let mut escaped = false;
    for (at, c) in compact.char_indices() {
        if in_text {
            out.push(c);
            in_text = escaped || c != '"';
            escaped = !escaped && c == '\\';
            continue;
        }
        match c {
            '{' | '[' => {
                let rest = compact.get(at + 1..).unwrap_or_default();
                let flat = c == '[' && !rest.starts_with('{') || rest.starts_with(['}', ']']);
                out.push(c);
                open.push(!flat);
                if !flat {
                    line(&mut out, open.len());
                }
            }
            '}' | ']' => {
                if open.pop() == Some(true) {
                    line(&mut out, open.len());
                }
                out.push(c);
            }
            ',' => {
                out.push(c);
                match open.last() {
                    Some(true) => line(&mut out, open.len()),
                    _ => out.push(' '),
                }
            }
            ':' => out.push_str(": "),
            _ => {
                in_text = c == '"';
                out.push(c);
            }
        }
    }
    out.push('\n');
    out
}

fn line(out: &mut String, depth: usize) {
    out.push('\n');
    for _ in 0..depth {
        out.push_str("  ");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_spaces_are_added_and_none_inside_text() {
        let compact = r#"{"a":"x,{\"y\":\\","b":[1,2],"c":[{"d":[]},{"e":{}}]}"#;
        let set_out = pretty(compact);
        let lines = [
            "{",
            r#"  "a": "x,{\"y\":\\","#,
            r#"  "b": [1, 2],"#,
            r#"  "c": ["#,
            "    {",
            r#"      "d": []"#,
            "    },",
            "    {",
            r#"      "e": {}"#,
            "    }",
            "  ]",
            "}",
            "",
        ];
        assert_eq!(set_out, lines.join("\n"));
    }
}
