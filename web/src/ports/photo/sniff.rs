//! What a file is, by its bytes alone: names and types that a picker tells are not believed.
//! Signatures: PNG from ISO/IEC 15948, WebP from RFC 9649, the `ftyp` brands from ISO/IEC 14496-12
//! and 23008-12 (all from memory).

use super::{PhotoFault, jpeg};
use crate::ports::bytes::Bytes;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    Jpeg,
    Png,
    WebP,
}

impl Format {
    pub fn mime(self) -> &'static str {
        match self {
            Format::Jpeg => "image/jpeg",
            Format::Png => "image/png",
            Format::WebP => "image/webp",
        }
    }
}

/// Kinds of files that come instead of a photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Foreign {
    /// HEIC or HEIF, as some phones store photos.
    Heic,
    Avif,
    Gif,
    Tiff,
    /// A drawing or page, which could carry a script.
    Markup,
    Video,
    Unknown,
}

/// A picture that may be decoded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sniffed {
    pub format: Format,
    /// Upright, in pixels.
    pub width: u32,
    pub height: u32,
}

/// Recognises a whole picture, or says why not.
pub fn sniff(bytes: &Bytes) -> Result<Sniffed, PhotoFault> {
    if bytes.is_empty() {
        return Err(PhotoFault::Empty);
    }
    let mut start = Vec::new();
    bytes.in_steps(64, |part| {
        start.extend_from_slice(part);
        false
    });
    if start.starts_with(&[0xff, 0xd8, 0xff]) {
        return whole_jpeg(bytes);
    }
    if start.starts_with(b"\x89PNG\r\n\x1a\n") {
        return whole_png(bytes, &start);
    }
    if start.starts_with(b"RIFF") && start.get(8..12) == Some(b"WEBP") {
        return whole_webp(bytes, &start);
    }
    Err(PhotoFault::Foreign {
        kind: foreign(&start),
    })
}

fn foreign(start: &[u8]) -> Foreign {
    let text: Vec<u8> = start
        .iter()
        .copied()
        .skip_while(|b| !b.is_ascii_graphic())
        .collect();
    if start.get(4..8) == Some(b"ftyp") {
        return match start.get(8..12).unwrap_or_default() {
            b"heic" | b"heix" | b"hevc" | b"hevx" | b"heim" | b"heis" | b"mif1" | b"msf1" => {
                Foreign::Heic
            }
            b"avif" | b"avis" => Foreign::Avif,
            _ => Foreign::Video,
        };
    }
    match start {
        _ if start.starts_with(b"GIF8") => Foreign::Gif,
        _ if start.starts_with(b"II*\0") || start.starts_with(b"MM\0*") => Foreign::Tiff,
        _ if text.starts_with(b"<") => Foreign::Markup,
        _ if start.starts_with(b"\x1a\x45\xdf\xa3") => Foreign::Video,
        _ => Foreign::Unknown,
    }
}

fn whole_jpeg(bytes: &Bytes) -> Result<Sniffed, PhotoFault> {
    let scan = jpeg::scan(bytes);
    if !scan.complete || scan.width == 0 || scan.height == 0 {
        return Err(PhotoFault::Cut);
    }
    let (width, height) = match scan.lies_on_its_side() {
        true => (scan.height, scan.width),
        false => (scan.width, scan.height),
    };
    Ok(Sniffed {
        format: Format::Jpeg,
        width,
        height,
    })
}

/// Walks the chunks to the end chunk: length, name, that many bytes, a checksum.
fn whole_png(bytes: &Bytes, start: &[u8]) -> Result<Sniffed, PhotoFault> {
    let size = |at| Some(u32::from_be_bytes(*start.get(at..)?.first_chunk::<4>()?));
    let (Some(width), Some(height)) = (size(16), size(20)) else {
        return Err(PhotoFault::Cut);
    };
    let (mut skip, mut head, mut last, mut whole) = (8u64, Vec::with_capacity(8), false, false);
    bytes.in_steps(64 * 1024, |mut part| {
        while !part.is_empty() && !whole {
            let take = if skip > 0 {
                skip
            } else {
                8 - head.len() as u64
            };
            let (taken, rest) = part.split_at(take.min(part.len() as u64) as usize);
            part = rest;
            if skip > 0 {
                skip -= taken.len() as u64;
                whole = last && skip == 0;
                continue;
            }
            head.extend_from_slice(taken);
            if let Some(&[a, b, c, d, ..]) = head.first_chunk::<8>() {
                skip = u64::from(u32::from_be_bytes([a, b, c, d])) + 4;
                last = head.ends_with(b"IEND");
                head.clear();
            }
        }
        !whole
    });
    if !whole || width == 0 || height == 0 {
        return Err(PhotoFault::Cut);
    }
    Ok(Sniffed {
        format: Format::Png,
        width,
        height,
    })
}

fn whole_webp(bytes: &Bytes, start: &[u8]) -> Result<Sniffed, PhotoFault> {
    let byte = |at: usize| start.get(at).map(|&byte| u32::from(byte));
    let pair = |at| Some(byte(at)? | byte(at + 1)? << 8);
    let triple = |at| Some(pair(at)? | byte(at + 2)? << 16);
    let size = || match start.get(12..16)? {
        b"VP8X" => Some((triple(24)? + 1, triple(27)? + 1)),
        b"VP8 " => Some((pair(26)? & 0x3fff, pair(28)? & 0x3fff)),
        b"VP8L" => {
            let bits = pair(21)? | pair(23)? << 16;
            Some(((bits & 0x3fff) + 1, (bits >> 14 & 0x3fff) + 1))
        }
        _ => None,
    };
    let declared = || Some(u64::from(pair(4)? | pair(6)? << 16) + 8);
    let (Some((width, height)), Some(declared)) = (size(), declared()) else {
        return Err(PhotoFault::Cut);
    };
    if (bytes.len() as u64) < declared || width == 0 || height == 0 {
        return Err(PhotoFault::Cut);
    }
    Ok(Sniffed {
        format: Format::WebP,
        width,
        height,
    })
}

#[cfg(test)]
mod tests {
    use super::{Foreign, Format, PhotoFault, Sniffed, sniff};

    fn png() -> Vec<u8> {
        let mut all = b"\x89PNG\r\n\x1a\n".to_vec();
        let chunks: [(&[u8; 4], &[u8]); 3] = [
            (b"IHDR", &[0, 0, 0, 9, 0, 0, 0, 4, 8, 2, 0, 0, 0]),
            (b"IDAT", b"data"),
            (b"IEND", b""),
        ];
        for (name, body) in chunks {
            all.extend((body.len() as u32).to_be_bytes());
            all.extend(name);
            all.extend(body);
            all.extend([1, 2, 3, 4]);
        }
        all
    }

    fn webp() -> Vec<u8> {
        let mut all = b"RIFF\x16\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0".to_vec();
        all.extend([8, 0, 0, 3, 0, 0]);
        all
    }

    #[test]
    fn a_png_is_walked_to_its_end_chunk() {
        let whole = png();
        let want = Sniffed {
            format: Format::Png,
            width: 9,
            height: 4,
        };
        assert_eq!(sniff(&whole.clone().into()), Ok(want));
        for end in 8..whole.len() {
            assert_eq!(
                sniff(&whole[..end].to_vec().into()),
                Err(PhotoFault::Cut),
                "cut at {end}"
            );
        }
    }

    #[test]
    fn a_webp_must_be_as_long_as_it_says() {
        let whole = webp();
        let want = Sniffed {
            format: Format::WebP,
            width: 9,
            height: 4,
        };
        assert_eq!(sniff(&whole.clone().into()), Ok(want));
        let cut = whole[..whole.len() - 1].to_vec();
        assert_eq!(sniff(&cut.into()), Err(PhotoFault::Cut));
    }

    #[test]
    fn what_is_no_photo_is_named() {
        let cases: [(&[u8], Foreign); 8] = [
            (b"\0\0\0\x18ftypheic\0\0\0\0", Foreign::Heic),
            (b"\0\0\0\x18ftypavif\0\0\0\0", Foreign::Avif),
            (b"\0\0\0\x18ftypmp42\0\0\0\0", Foreign::Video),
            (b"GIF89a", Foreign::Gif),
            (b"MM\0*", Foreign::Tiff),
            (b"\xef\xbb\xbf <svg xmlns='x' onload='y'>", Foreign::Markup),
            (b"<!doctype html>", Foreign::Markup),
            (b"hello", Foreign::Unknown),
        ];
        for (bytes, kind) in cases {
            assert_eq!(
                sniff(&bytes.to_vec().into()),
                Err(PhotoFault::Foreign { kind })
            );
        }
        assert_eq!(sniff(&Vec::new().into()), Err(PhotoFault::Empty));
    }
}
