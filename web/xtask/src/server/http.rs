//! As much of HTTP/1.1 as a static site needs: GET and HEAD, kept open.

use std::io::{BufRead, Error, ErrorKind, Result};

/// What was asked for.
pub struct Request {
    /// Decoded, without the query; begins with `/`.
    pub path: String,
    pub head_only: bool,
    /// The other side wants the connection closed after the answer.
    pub last: bool,
    /// False for any other method than GET and HEAD.
    pub readable: bool,
}

/// What is answered.
pub struct Answer {
    pub status: u16,
    pub headers: Vec<(&'static str, String)>,
    pub body: Vec<u8>,
}

impl Answer {
    /// Sets a header, in place of one of the same name.
    pub fn set(&mut self, name: &'static str, value: String) {
        self.headers.retain(|(have, _)| *have != name);
        self.headers.push((name, value));
    }

    /// As it goes over the wire.
    pub fn bytes(&self, head_only: bool) -> Vec<u8> {
        let mut head = format!("HTTP/1.1 {} {}\r\n", self.status, reason(self.status));
        for (name, value) in &self.headers {
            head.push_str(&format!("{name}: {value}\r\n"));
        }
        head.push_str(&format!("Content-Length: {}\r\n\r\n", self.body.len()));
        let mut bytes = head.into_bytes();
        if !head_only {
            bytes.extend_from_slice(&self.body);
        }
        bytes
    }
}

/// Reads one request; none when the other side has closed.
pub fn read(reader: &mut impl BufRead) -> Result<Option<Request>> {
    const LONGEST: usize = 16 * 1024;
    let mut line = String::new();
    if reader.read_line(&mut line)? == 0 {
        return Ok(None);
    }
    let mut words = line.split_whitespace();
    let method = words.next().unwrap_or_default().to_owned();
    let target = words.next().unwrap_or("/").to_owned();
    let mut seen = line.len();
    let mut last = false;
    loop {
        let mut header = String::new();
        if reader.read_line(&mut header)? == 0 {
            return Ok(None);
        }
        seen += header.len();
        if seen > LONGEST {
            return Err(Error::new(ErrorKind::InvalidData, "request too long"));
        }
        if header.trim().is_empty() {
            break;
        }
        if header.trim().eq_ignore_ascii_case("connection: close") {
            last = true;
        }
    }
    let path = decode(target.split(['?', '#']).next().unwrap_or("/"));
    Ok(Some(Request {
        path,
        head_only: method == "HEAD",
        last,
        readable: method == "GET" || method == "HEAD",
    }))
}

fn decode(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((&first, tail)) = rest.split_first() {
        let hex = tail
            .get(..2)
            .and_then(|pair| std::str::from_utf8(pair).ok());
        match hex.and_then(|pair| u8::from_str_radix(pair, 16).ok()) {
            Some(byte) if first == b'%' => {
                bytes.push(byte);
                rest = &tail[2..];
            }
            _ => {
                bytes.push(first);
                rest = tail;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn reason(status: u16) -> &'static str {
    match status {
        200 => "OK",
        404 => "Not Found",
        405 => "Method Not Allowed",
        500 => "Internal Server Error",
        503 => "Service Unavailable",
        _ => "Status",
    }
}
