//! The checks that both stores make on the way in and on the way out.

use super::{
    batch::{Batch, PhotoRow, ThumbRow},
    fault::{Damaged, Fault},
};
use crate::ports::{hash, panic};

/// Refuses once a bug was met.
pub(super) fn may_write() -> Result<(), Fault> {
    if panic::stopped() {
        Err(Fault::StoppedAfterBug)
    } else {
        Ok(())
    }
}

/// A photo as read, or the fault that its bytes are not what its hash says.
pub(super) async fn checked_photo(row: Option<PhotoRow>) -> Result<Option<PhotoRow>, Fault> {
    let Some(row) = row else { return Ok(None) };
    if hash::sha256_of(&row.bytes).await.as_ref() == Some(&row.hash) {
        return Ok(Some(row));
    }
    Err(Fault::Corrupt {
        what: Damaged::Photo { hash: row.hash },
    })
}

/// The same for a thumbnail.
pub(super) async fn checked_thumb(row: Option<ThumbRow>) -> Result<Option<ThumbRow>, Fault> {
    let Some(row) = row else { return Ok(None) };
    if hash::sha256_of(&row.bytes).await.as_ref() == Some(&row.hash) {
        return Ok(Some(row));
    }
    Err(Fault::Corrupt {
        what: Damaged::Thumb { photo: row.photo },
    })
}

/// Refuses a batch with a picture that is not what its hash says, before anything is opened.
pub(super) async fn check_pictures(batch: &Batch) -> Result<(), Fault> {
    for photo in &batch.photos {
        checked_photo(Some(photo.clone())).await?;
    }
    for thumb in &batch.thumbs {
        checked_thumb(Some(thumb.clone())).await?;
    }
    Ok(())
}
