//! From a tap to a photo that can be kept: taken or picked, recognised by its bytes, turned upright,
//! made smaller, freed of everything the camera wrote into it (the position above all), and hashed.
//! The decoding is the browser's; no picture is ever unpacked in the WASM heap.

mod jpeg;
mod pending;
mod sniff;
mod turn;
mod urls;
mod working_copy;

pub use pending::{PendingShot, forget_shot, not_arrived};
pub use sniff::{Foreign, Format, Sniffed, sniff};
pub use urls::{PhotoUrl, PhotoUrls};

use super::{
    ask::{Asking, Chosen, Wanted, ask},
    bytes::Bytes,
    marker::Shelf,
    store::{PhotoRow, ThumbRow},
};

/// The largest file that is read, in bytes.
pub const MAX_BYTES: u64 = 64 << 20;
/// The largest picture that is decoded, in pixels: a small file can hold a picture that no phone can
/// unpack.
pub const MAX_PIXELS: u64 = 120_000_000;
/// The long edge of the working copy and of the thumbnail, in pixels.
pub const LONG_EDGE: u32 = 2048;
pub const THUMB_EDGE: u32 = 320;

/// A photo that is ready to be stored with its act.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub photo: PhotoRow,
    pub thumb: ThumbRow,
    /// Of the working copy, upright, in pixels.
    pub width: u32,
    pub height: u32,
}

/// Why a file did not become a photo. The original stays where the person had it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PhotoFault {
    /// The file has no bytes: the camera did not finish.
    Empty,
    /// The file ends in the middle of the picture.
    Cut,
    /// Not a kind of picture that is read here. Nothing was kept of it.
    Foreign {
        kind: Foreign,
    },
    TooManyBytes {
        size: u64,
        limit: u64,
    },
    TooManyPixels {
        width: u32,
        height: u32,
        limit: u64,
    },
    /// The browser could not decode it, by the name of its error.
    NotDecoded {
        name: String,
    },
    /// The browser gave back an empty picture, as it does when it runs out of memory.
    CameOutBlank,
    /// The copy still had something in it that the camera wrote; it was thrown away.
    NotStripped,
    /// The file could not be read.
    Unreadable,
    /// This browser lacks something that is needed, by its name.
    Unsupported {
        what: &'static str,
    },
}

/// Where the photo is to come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    Camera,
    /// Pictures that are there already; several may be chosen.
    Album,
}

/// A camera or picker that is open.
pub struct Shooting {
    asking: Asking,
    shelf: std::rc::Rc<dyn Shelf>,
}

/// Opens the camera or picker; call straight from the tap. What is being photographed is put on the
/// shelf first, because the page may be killed while the camera is open; commit the draft as well.
/// `None` when there is no page to do it in.
pub fn shoot(
    shelf: std::rc::Rc<dyn Shelf>,
    source: Source,
    pending: &PendingShot,
) -> Option<Shooting> {
    pending::announce(&*shelf, pending);
    let camera = source == Source::Camera;
    let asking = ask(Wanted {
        accept: "image/*",
        camera,
        many: !camera,
    })?;
    Some(Shooting { asking, shelf })
}

impl Shooting {
    /// The files that came; empty when the person changed their mind. The pending mark stays until
    /// [`forget_shot`], which is called once the photo is stored or given up.
    pub async fn files(self) -> Vec<Chosen> {
        let files = self.asking.chosen().await;
        if files.is_empty() {
            forget_shot(&*self.shelf);
        }
        files
    }
}

/// Makes a chosen file into a photo. One at a time, whoever calls: decoding two large pictures at
/// once is more than a phone's memory bears.
pub async fn prepare(file: &Chosen) -> Result<Picture, PhotoFault> {
    if file.size() > MAX_BYTES {
        return Err(PhotoFault::TooManyBytes {
            size: file.size(),
            limit: MAX_BYTES,
        });
    }
    let bytes = file.bytes().await.ok_or(PhotoFault::Unreadable)?;
    prepare_bytes(&bytes).await
}

/// The same for bytes that are there already.
pub async fn prepare_bytes(bytes: &Bytes) -> Result<Picture, PhotoFault> {
    let size = bytes.len() as u64;
    if size > MAX_BYTES {
        return Err(PhotoFault::TooManyBytes {
            size,
            limit: MAX_BYTES,
        });
    }
    let sniffed = sniff(bytes)?;
    let (width, height) = (sniffed.width, sniffed.height);
    if u64::from(width) * u64::from(height) > MAX_PIXELS {
        return Err(PhotoFault::TooManyPixels {
            width,
            height,
            limit: MAX_PIXELS,
        });
    }
    let _turn = turn::turn().await;
    working_copy::make(bytes, &sniffed).await
}

/// True when a JPEG carries nothing that a camera or an editor writes beside the picture: no EXIF or
/// XMP (where a position would be), no Photoshop block, no comment.
pub fn is_stripped(jpeg: &Bytes) -> bool {
    let scan = jpeg::scan(jpeg);
    scan.complete && !scan.extras
}
