//! The working copy and the thumbnail, made by the browser: decoded once at the size wanted, turned
//! upright, painted, and encoded anew, which leaves everything behind that the camera wrote.

use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, ImageBitmap, ImageBitmapOptions, ImageEncodeOptions, ImageOrientation, OffscreenCanvas,
    OffscreenCanvasRenderingContext2d, ResizeQuality,
};

use super::{Format, LONG_EDGE, PhotoFault, Picture, Sniffed, THUMB_EDGE, is_stripped};
use crate::ports::{
    bytes::Bytes,
    files, hash, js,
    store::{PhotoRow, ThumbRow},
};

const MIME: &str = "image/jpeg";
/// JPEG quality of the working copy and the thumbnail, 0 to 1: threads and paint marks stay legible.
const QUALITY: f64 = 0.85;
const THUMB_QUALITY: f64 = 0.75;

/// A decoded picture, closed when dropped: the browser frees it late by itself.
struct Decoded(ImageBitmap);

impl Drop for Decoded {
    fn drop(&mut self) {
        self.0.close();
    }
}

pub(super) async fn make(bytes: &Bytes, sniffed: &Sniffed) -> Result<Picture, PhotoFault> {
    let blob = files::blob(bytes, sniffed.format.mime());
    let blob = blob.ok_or(PhotoFault::Unsupported { what: "Blob" })?;
    let see_through = sniffed.format != Format::Jpeg;
    let full = decode(&blob, fit(sniffed.width, sniffed.height, LONG_EDGE)).await?;
    let (width, height) = size_of(&full.0, fit(sniffed.width, sniffed.height, LONG_EDGE));
    let copy = paint(&full.0, (width, height), see_through, QUALITY).await?;
    let small_size = fit(width, height, THUMB_EDGE);
    let small = shrink(&full.0, small_size).await?;
    drop(full);
    let thumb = paint(&small.0, small_size, see_through, THUMB_QUALITY).await?;
    drop(small);
    for made in [&copy, &thumb] {
        if !is_stripped(made) {
            return Err(PhotoFault::NotStripped);
        }
    }
    let hash = hash::sha256_of(&copy).await;
    let thumb_hash = hash::sha256_of(&thumb).await;
    let (Some(hash), Some(thumb_hash)) = (hash, thumb_hash) else {
        return Err(PhotoFault::Unsupported {
            what: "crypto.subtle",
        });
    };
    let thumb = ThumbRow {
        photo: hash.clone(),
        hash: thumb_hash,
        mime: MIME.into(),
        bytes: thumb,
    };
    let photo = PhotoRow {
        hash,
        mime: MIME.into(),
        bytes: copy,
    };
    Ok(Picture {
        photo,
        thumb,
        width,
        height,
    })
}

/// Width and height with the long edge at most `edge`; never larger than they were.
fn fit(width: u32, height: u32, edge: u32) -> (u32, u32) {
    let long = width.max(height);
    if long <= edge {
        return (width.max(1), height.max(1));
    }
    let scaled = |side: u32| (f64::from(side) * f64::from(edge) / f64::from(long)).round() as u32;
    (scaled(width).max(1), scaled(height).max(1))
}

/// The size to paint at: the one wanted, if the browser came to it but for its rounding; otherwise
/// (it turned the picture in another way than we read) one that fits what it made.
fn size_of(made: &ImageBitmap, wanted: (u32, u32)) -> (u32, u32) {
    let near = made.width().abs_diff(wanted.0) <= 2 && made.height().abs_diff(wanted.1) <= 2;
    if near {
        wanted
    } else {
        fit(made.width(), made.height(), LONG_EDGE)
    }
}

fn options(width: u32) -> ImageBitmapOptions {
    let options = ImageBitmapOptions::new();
    options.set_image_orientation(ImageOrientation::FromImage);
    options.set_resize_quality(ResizeQuality::High);
    // The width alone: the height follows, whichever way the browser turns the picture.
    options.set_resize_width(width);
    options
}

async fn decode(blob: &Blob, (width, _): (u32, u32)) -> Result<Decoded, PhotoFault> {
    let window = js::window().ok_or(PhotoFault::Unsupported { what: "window" })?;
    let promise =
        window.create_image_bitmap_with_blob_and_image_bitmap_options(blob, &options(width));
    bitmap(promise).await
}

async fn shrink(full: &ImageBitmap, (width, _): (u32, u32)) -> Result<Decoded, PhotoFault> {
    let window = js::window().ok_or(PhotoFault::Unsupported { what: "window" })?;
    let promise = window
        .create_image_bitmap_with_image_bitmap_and_image_bitmap_options(full, &options(width));
    bitmap(promise).await
}

async fn bitmap(
    promise: Result<js_sys::Promise, wasm_bindgen::JsValue>,
) -> Result<Decoded, PhotoFault> {
    let not_decoded = |error: wasm_bindgen::JsValue| PhotoFault::NotDecoded {
        name: js::error_name(&error),
    };
    let bitmap = JsFuture::from(promise.map_err(not_decoded)?)
        .await
        .map_err(not_decoded)?;
    let bitmap: ImageBitmap = bitmap.dyn_into().map_err(|_| PhotoFault::Unsupported {
        what: "createImageBitmap",
    })?;
    Ok(Decoded(bitmap))
}

async fn paint(
    bitmap: &ImageBitmap,
    (width, height): (u32, u32),
    see_through: bool,
    quality: f64,
) -> Result<Bytes, PhotoFault> {
    let unsupported = |_| PhotoFault::Unsupported {
        what: "OffscreenCanvas",
    };
    let canvas = OffscreenCanvas::new(width, height).map_err(unsupported)?;
    let context = canvas.get_context("2d").map_err(unsupported)?;
    let context = context.and_then(|it| it.dyn_into::<OffscreenCanvasRenderingContext2d>().ok());
    let context = context.ok_or(PhotoFault::Unsupported {
        what: "OffscreenCanvas 2d",
    })?;
    let (w, h) = (f64::from(width), f64::from(height));
    if see_through {
        // JPEG has no transparency: paper white instead of black.
        context.set_fill_style_str("white");
        context.fill_rect(0.0, 0.0, w, h);
    }
    context
        .draw_image_with_image_bitmap_and_dw_and_dh(bitmap, 0.0, 0.0, w, h)
        .map_err(|_| PhotoFault::CameOutBlank)?;
    if !see_through && is_blank(&context, w, h) {
        return Err(PhotoFault::CameOutBlank);
    }
    let encode = ImageEncodeOptions::new();
    encode.set_type(MIME);
    encode.set_quality(quality);
    let promise = canvas
        .convert_to_blob_with_options(&encode)
        .map_err(unsupported)?;
    let blob = JsFuture::from(promise)
        .await
        .map_err(|_| PhotoFault::CameOutBlank)?;
    let blob: Blob = blob.dyn_into().map_err(|_| PhotoFault::CameOutBlank)?;
    let buffer = JsFuture::from(blob.array_buffer())
        .await
        .map_err(|_| PhotoFault::Unreadable)?;
    let buffer = buffer.dyn_ref().ok_or(PhotoFault::Unreadable)?;
    Ok(Bytes::from_buffer(buffer))
}

/// A photo covers every pixel; one that is still see-through at its middle and corners was never
/// painted (a canvas beyond the browser's limits stays empty without a word).
fn is_blank(context: &OffscreenCanvasRenderingContext2d, width: f64, height: f64) -> bool {
    let (right, low) = ((width - 1.0).max(0.0), (height - 1.0).max(0.0));
    let spots = [
        (0.0, 0.0),
        (right, 0.0),
        (0.0, low),
        (right, low),
        (right / 2.0, low / 2.0),
    ];
    spots.iter().any(|&(x, y)| {
        let pixel = context.get_image_data(x.floor(), y.floor(), 1.0, 1.0);
        pixel.is_ok_and(|pixel| pixel.data().get(3).is_none_or(|&alpha| alpha == 0))
    })
}

#[cfg(test)]
mod tests {
    use super::fit;

    #[test]
    fn the_long_edge_is_what_is_limited() {
        assert_eq!(fit(4032, 3024, 2048), (2048, 1536));
        assert_eq!(fit(3024, 4032, 2048), (1536, 2048));
        assert_eq!(fit(16000, 2, 2048), (2048, 1));
        assert_eq!(fit(640, 480, 2048), (640, 480));
    }
}
