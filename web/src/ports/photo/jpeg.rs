//! Reads a JPEG's markers, a piece at a time and without decoding: its size, which way up it was
//! taken, whether it is whole, and whether anything beside the picture is in it.
//! Marker values: ITU-T T.81 table B.1; EXIF in APP1: CIPA DC-008 (both from memory).

use crate::ports::bytes::Bytes;

const STEP: usize = 64 * 1024;
/// Longest start of a segment that is looked into. EXIF's first directory lies at its start.
const LOOK: usize = 64 * 1024;

/// What a scan finds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Scan {
    /// As stored, before turning; 0 when the picture's header was not found.
    pub(super) width: u32,
    pub(super) height: u32,
    /// EXIF orientation 1 to 8.
    pub(super) orientation: Option<u8>,
    /// The end marker was reached.
    pub(super) complete: bool,
    /// There is an APP1 (EXIF, XMP), APP13 (Photoshop) or comment segment.
    pub(super) extras: bool,
}

impl Scan {
    /// True when the stored rows are the picture's columns.
    pub(super) fn lies_on_its_side(&self) -> bool {
        self.orientation.is_some_and(|way| (5..=8).contains(&way))
    }
}

enum At {
    Marker,
    MarkerCode,
    LengthHigh { code: u8 },
    LengthLow { code: u8, high: u8 },
    Body { code: u8, left: usize },
    Picture,
    PictureMarker,
    End,
}

struct Reader {
    at: At,
    body: Vec<u8>,
    scan: Scan,
}

pub(super) fn scan(bytes: &Bytes) -> Scan {
    let mut reader = Reader {
        at: At::Marker,
        body: Vec::new(),
        scan: Scan::default(),
    };
    bytes.in_steps(STEP, |part| {
        reader.feed(part);
        !matches!(reader.at, At::End)
    });
    reader.scan
}

impl Reader {
    fn feed(&mut self, mut part: &[u8]) {
        while let Some((&byte, rest)) = part.split_first() {
            self.at = match self.at {
                // Anything between segments is skipped, as decoders do.
                At::Marker if byte == 0xff => At::MarkerCode,
                At::Marker => At::Marker,
                At::MarkerCode => marker(byte),
                At::LengthHigh { code } => At::LengthLow { code, high: byte },
                At::LengthLow { code, high } => {
                    let length = usize::from(high) << 8 | usize::from(byte);
                    self.body.clear();
                    self.begin(code, length.saturating_sub(2))
                }
                At::Body { code, left } => {
                    let take = left.min(part.len());
                    let (taken, after) = part.split_at(take);
                    let room = LOOK.saturating_sub(self.body.len()).min(take);
                    self.body.extend(taken.iter().take(room));
                    part = after;
                    self.at = self.begin(code, left - take);
                    continue;
                }
                At::Picture if byte == 0xff => At::PictureMarker,
                At::Picture => At::Picture,
                At::PictureMarker => match byte {
                    0x00 | 0xd0..=0xd7 => At::Picture,
                    0xff => At::PictureMarker,
                    code => marker(code),
                },
                At::End => return,
            };
            if matches!(self.at, At::End) {
                self.scan.complete = true;
                return;
            }
            part = rest;
        }
    }

    /// In a segment's body with so much left of it; at its end, on to what follows.
    fn begin(&mut self, code: u8, left: usize) -> At {
        if left > 0 {
            return At::Body { code, left };
        }
        match code {
            0xc0..=0xcf if !matches!(code, 0xc4 | 0xc8 | 0xcc) => self.size(),
            0xe1 => {
                self.scan.extras = true;
                self.scan.orientation = self.scan.orientation.or(orientation(&self.body));
            }
            0xed | 0xfe => self.scan.extras = true,
            _ => {}
        }
        if code == 0xda {
            At::Picture
        } else {
            At::Marker
        }
    }

    fn size(&mut self) {
        if let Some(&[_, h1, h0, w1, w0]) = self.body.first_chunk::<5>() {
            self.scan.height = u32::from(u16::from_be_bytes([h1, h0]));
            self.scan.width = u32::from(u16::from_be_bytes([w1, w0]));
        }
    }
}

fn marker(code: u8) -> At {
    match code {
        0xff => At::MarkerCode,
        0xd9 => At::End,
        // Markers that stand alone.
        0x00 | 0x01 | 0xd0..=0xd8 => At::Marker,
        code => At::LengthHigh { code },
    }
}

/// The orientation tag of an EXIF segment's first directory.
fn orientation(body: &[u8]) -> Option<u8> {
    const TAG: u16 = 0x0112;
    let tiff = body.strip_prefix(b"Exif\0\0")?;
    let little = match tiff.get(..2)? {
        b"II" => true,
        b"MM" => false,
        _ => return None,
    };
    let u16_at = |at: usize| {
        let bytes = tiff.get(at..)?.first_chunk::<2>()?;
        Some(if little {
            u16::from_le_bytes(*bytes)
        } else {
            u16::from_be_bytes(*bytes)
        })
    };
    let u32_at = |at: usize| {
        let bytes = tiff.get(at..)?.first_chunk::<4>()?;
        Some(if little {
            u32::from_le_bytes(*bytes)
        } else {
            u32::from_be_bytes(*bytes)
        })
    };
    let directory = u32_at(4)? as usize;
    let count = u16_at(directory)?;
    let mut entries = (0..usize::from(count)).map(|n| directory + 2 + n * 12);
    let entry = entries.find(|&at| u16_at(at) == Some(TAG))?;
    u8::try_from(u16_at(entry + 8)?)
        .ok()
        .filter(|way| (1..=8).contains(way))
}

#[cfg(test)]
mod tests {
    use super::{Bytes, Scan, scan};

    /// Start, EXIF with this orientation, a 7 x 5 picture header, a little picture, end.
    fn jpeg(orientation: u8) -> Vec<u8> {
        let mut exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        exif.extend([orientation, 0, 0, 0, 0, 0, 0]);
        let mut all = vec![0xff, 0xd8, 0xff, 0xe1, 0, exif.len() as u8 + 2];
        all.extend(exif);
        all.extend([0xff, 0xc0, 0, 8, 8, 0, 5, 0, 7, 1]);
        all.extend([
            0xff, 0xda, 0, 2, 1, 2, 0xff, 0, 3, 0xff, 0xd0, 4, 0xff, 0xd9,
        ]);
        all
    }

    #[test]
    fn finds_size_orientation_and_end() {
        let found = scan(&jpeg(6).into());
        let want = Scan {
            width: 7,
            height: 5,
            orientation: Some(6),
            complete: true,
            extras: true,
        };
        assert_eq!(found, want);
        assert!(found.lies_on_its_side());
        assert!(!scan(&jpeg(3).into()).lies_on_its_side());
    }

    #[test]
    fn a_picture_cut_anywhere_is_not_complete() {
        let whole = jpeg(1);
        for end in 0..whole.len() {
            assert!(
                !scan(&whole[..end].to_vec().into()).complete,
                "cut at {end}"
            );
        }
    }

    #[test]
    fn what_follows_the_end_does_not_matter() {
        let mut with_tail = jpeg(1);
        with_tail.extend([0xff, 0xfe, 0xff, 0xff, 1, 2, 3]);
        assert!(scan(&with_tail.into()).complete);
    }

    #[test]
    fn any_bytes_at_all_are_survived() {
        // A fixed, simple generator: the seed is in the message.
        for seed in 1..2000u64 {
            let mut state = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15);
            let mut bytes = jpeg(8);
            for _ in 0..6 {
                state = state
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1);
                let at = (state >> 33) as usize % bytes.len();
                bytes[at] = (state >> 20) as u8;
            }
            let found = scan(&Bytes::from(bytes));
            assert!(
                found.orientation.is_none_or(|way| (1..=8).contains(&way)),
                "seed {seed}"
            );
        }
    }
}
