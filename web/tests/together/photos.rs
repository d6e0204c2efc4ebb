//! The photo pipeline in a real browser, on a real phone's photo that lies on its side and carries a
//! position (its source stands beside the file).

use countback_web::ports::{
    bytes::Bytes,
    hash::sha256_hex,
    photo::{Foreign, PhotoFault, PhotoUrls, Picture, is_stripped, prepare_bytes},
};
use js_sys::{Function, Promise, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use wasm_bindgen_test::wasm_bindgen_test;

const PHONE: &[u8] =
    include_bytes!("../../../tests/fixtures/photos/phone_turned_with_position.jpg");

/// Runs a piece of test JavaScript with two arguments and waits for its promise.
async fn js(code: &str, a: &JsValue, b: &JsValue) -> JsValue {
    let run = Function::new_with_args("a, b", &format!("return (async () => {{ {code} }})()"));
    let promise: Promise = run
        .call2(&JsValue::NULL, a, b)
        .expect("runs")
        .unchecked_into();
    JsFuture::from(promise).await.expect("settles")
}

fn array(bytes: &[u8]) -> JsValue {
    Uint8Array::from(bytes).into()
}

/// A JPEG made by the browser, with the EXIF orientation 6 put into it.
async fn made(width: u32, height: u32, orientation: Option<u8>) -> Vec<u8> {
    let code = "
        const c = new OffscreenCanvas(a, b), x = c.getContext('2d');
        x.fillStyle = 'blue'; x.fillRect(0, 0, a, b);
        x.fillStyle = 'red'; x.fillRect(0, 0, a / 2, b / 2);
        const blob = await c.convertToBlob({ type: 'image/jpeg', quality: 0.9 });
        return new Uint8Array(await blob.arrayBuffer());";
    let plain: Uint8Array = js(code, &width.into(), &height.into())
        .await
        .unchecked_into();
    let mut plain = plain.to_vec();
    if let Some(orientation) = orientation {
        let mut exif =
            b"\xff\xe1\0\x22Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        exif.extend([orientation, 0, 0, 0, 0, 0, 0]);
        plain.splice(2..2, exif);
    }
    plain
}

/// The position that EXIF carries is found by its tag in the raw bytes: "GPS" has no text of its
/// own, so the pointer tag 0x8825 in the first directory is what is looked for.
fn mentions_position(bytes: &[u8]) -> bool {
    let tags = [[0x88, 0x25, 0x00, 0x04], [0x25, 0x88, 0x04, 0x00]];
    bytes
        .windows(4)
        .any(|window| tags.contains(&[window[0], window[1], window[2], window[3]]))
}

#[wasm_bindgen_test]
async fn a_phone_photo_comes_out_upright_small_and_without_a_position() {
    assert!(mentions_position(PHONE), "the fixture carries a position");
    let picture = prepare_bytes(&PHONE.to_vec().into())
        .await
        .expect("prepared");
    assert_eq!((picture.width, picture.height), (2048, 2048));
    let copy = picture.photo.bytes.to_vec();
    assert!(is_stripped(&picture.photo.bytes) && is_stripped(&picture.thumb.bytes));
    assert!(!mentions_position(&copy));
    for text in [&b"Exif"[..], b"Apple", b"iPhone", b"http://ns.adobe.com"] {
        assert!(
            !copy.windows(text.len()).any(|window| window == text),
            "{text:?} is left"
        );
    }
    assert_eq!(picture.photo.hash, sha256_hex(&copy));
    assert_eq!(
        picture.thumb.hash,
        sha256_hex(&picture.thumb.bytes.to_vec())
    );
    assert_eq!(picture.thumb.photo, picture.photo.hash);
    assert_eq!(upright_error(PHONE, &picture).await.0, (320, 320));
}

/// Size of the thumbnail, and the mean difference (0 to 255) of the working copy from the original
/// with its EXIF cut out, turned a quarter to the right by hand; and the same without turning.
async fn upright_error(original: &[u8], picture: &Picture) -> ((u32, u32), f64, f64) {
    let code = "
        const bitmap = bytes => createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }));
        // Cut every APP1 out of the original: what is left has no orientation.
        const parts = [a.subarray(0, 2)]; let at = 2;
        while (a[at] === 0xff && a[at + 1] !== 0xda) {
            const end = at + 2 + (a[at + 2] << 8 | a[at + 3]);
            if (a[at + 1] !== 0xe1) parts.push(a.subarray(at, end));
            at = end;
        }
        parts.push(a.subarray(at));
        const raw = await createImageBitmap(new Blob(parts, { type: 'image/jpeg' }));
        const pixels = (bitmap, turn) => {
            const c = new OffscreenCanvas(64, 64), x = c.getContext('2d');
            if (turn) { x.translate(64, 0); x.rotate(Math.PI / 2); }
            x.drawImage(bitmap, 0, 0, 64, 64);
            return x.getImageData(0, 0, 64, 64).data;
        };
        const ours = pixels(await bitmap(b[0]), false);
        const differs = (one, two) => one.reduce((sum, v, i) => sum + Math.abs(v - two[i]), 0) / one.length;
        const thumb = await bitmap(b[1]);
        return [thumb.width, thumb.height, differs(ours, pixels(raw, true)), differs(ours, pixels(raw, false))];";
    let ours = js_sys::Array::of2(
        &array(&picture.photo.bytes.to_vec()),
        &array(&picture.thumb.bytes.to_vec()),
    );
    let found: js_sys::Array = js(code, &array(original), &ours).await.unchecked_into();
    let number = |at| found.get(at).as_f64().expect("number");
    ((number(0) as u32, number(1) as u32), number(2), number(3))
}

#[wasm_bindgen_test]
async fn upright_means_turned_a_quarter_to_the_right() {
    let picture = prepare_bytes(&PHONE.to_vec().into())
        .await
        .expect("prepared");
    let (_, turned, as_stored) = upright_error(PHONE, &picture).await;
    assert!(turned < 6.0, "differs from the turned original by {turned}");
    assert!(
        as_stored > 3.0 * turned,
        "cannot tell turned ({turned}) from not ({as_stored})"
    );
}

#[wasm_bindgen_test]
async fn a_photo_on_its_side_swaps_width_and_height_and_is_never_enlarged() {
    let on_its_side = made(3000, 1500, Some(6)).await;
    let picture = prepare_bytes(&on_its_side.into()).await.expect("prepared");
    assert_eq!((picture.width, picture.height), (1024, 2048));
    let small = made(400, 300, None).await;
    let picture = prepare_bytes(&small.into()).await.expect("prepared");
    assert_eq!((picture.width, picture.height), (400, 300));
}

#[wasm_bindgen_test]
async fn a_twelve_megapixel_photo_passes() {
    let large = made(4032, 3024, Some(1)).await;
    let picture = prepare_bytes(&large.into()).await.expect("prepared");
    assert_eq!((picture.width, picture.height), (2048, 1536));
}

#[wasm_bindgen_test]
async fn what_cannot_be_a_photo_is_refused_by_name() {
    let refused = async |bytes: &[u8]| prepare_bytes(&bytes.to_vec().into()).await;
    assert_eq!(refused(b"").await, Err(PhotoFault::Empty));
    assert_eq!(
        refused(&PHONE[..PHONE.len() / 2]).await,
        Err(PhotoFault::Cut)
    );
    assert_eq!(
        refused(&PHONE[..PHONE.len() - 2]).await,
        Err(PhotoFault::Cut)
    );
    let heic = Err(PhotoFault::Foreign {
        kind: Foreign::Heic,
    });
    assert_eq!(refused(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic").await, heic);
    let markup = Err(PhotoFault::Foreign {
        kind: Foreign::Markup,
    });
    assert_eq!(
        refused(b"<svg xmlns='http://www.w3.org/2000/svg'/>").await,
        markup
    );
}

#[wasm_bindgen_test]
async fn a_header_that_promises_more_than_a_phone_can_unpack_is_refused() {
    let mut bomb = made(40, 30, None).await;
    let frame = bomb
        .windows(2)
        .position(|w| w == [0xff, 0xc0])
        .expect("frame header");
    bomb[frame + 5..frame + 9].copy_from_slice(&[0xff, 0xff, 0xff, 0xff]);
    let refused = prepare_bytes(&bomb.into()).await;
    let (width, height) = (65535, 65535);
    assert_eq!(
        refused,
        Err(PhotoFault::TooManyPixels {
            width,
            height,
            limit: 120_000_000
        })
    );
}

#[wasm_bindgen_test]
async fn rubbish_between_good_markers_is_not_decoded_or_is_a_picture_but_never_a_crash() {
    let mut broken = made(64, 64, None).await;
    let end = broken.len();
    for byte in &mut broken[300..end - 2] {
        *byte = if *byte == 0xff {
            0x11
        } else {
            byte.wrapping_mul(7) & 0x7f
        };
    }
    let tried = prepare_bytes(&broken.into()).await;
    let fine = matches!(
        tried,
        Ok(_) | Err(PhotoFault::NotDecoded { .. } | PhotoFault::Cut | PhotoFault::CameOutBlank)
    );
    assert!(fine, "{tried:?}");
}

#[wasm_bindgen_test]
async fn pictures_asked_for_at_once_are_made_one_after_the_other() {
    let code = "
        const plain = globalThis.createImageBitmap; let open = 0, most = 0;
        globalThis.most = () => most; globalThis.plainBitmap = plain;
        globalThis.createImageBitmap = async (...all) => {
            open++; most = Math.max(most, open);
            try { return await plain(...all); } finally { open--; }
        };";
    js(code, &JsValue::NULL, &JsValue::NULL).await;
    let bytes: Bytes = made(1200, 900, None).await.into();
    let (one, two, three) = futures_join(
        prepare_bytes(&bytes),
        prepare_bytes(&bytes),
        prepare_bytes(&bytes),
    )
    .await;
    assert!(one.is_ok() && two == one && three == one);
    let restore =
        "globalThis.createImageBitmap = globalThis.plainBitmap; return globalThis.most();";
    assert_eq!(
        js(restore, &JsValue::NULL, &JsValue::NULL).await.as_f64(),
        Some(1.0)
    );
}

async fn futures_join<T>(
    one: impl Future<Output = T>,
    two: impl Future<Output = T>,
    three: impl Future<Output = T>,
) -> (T, T, T) {
    use std::{pin::pin, task::Poll};
    let (mut one, mut two, mut three) = (pin!(one), pin!(two), pin!(three));
    let (mut a, mut b, mut c) = (None, None, None);
    std::future::poll_fn(|ctx| {
        let take = |slot: &mut Option<T>, poll: Poll<T>| {
            if let Poll::Ready(value) = poll {
                *slot = Some(value);
            }
        };
        if a.is_none() {
            take(&mut a, one.as_mut().poll(ctx));
        }
        if b.is_none() {
            take(&mut b, two.as_mut().poll(ctx));
        }
        if c.is_none() {
            take(&mut c, three.as_mut().poll(ctx));
        }
        match (a.take(), b.take(), c.take()) {
            (Some(x), Some(y), Some(z)) => Poll::Ready((x, y, z)),
            (x, y, z) => {
                (a, b, c) = (x, y, z);
                Poll::Pending
            }
        }
    })
    .await
}

#[wasm_bindgen_test]
async fn an_address_is_given_back_when_nothing_shows_it() {
    let urls = PhotoUrls::default();
    let bytes: Bytes = PHONE.to_vec().into();
    let shown = urls.put("shown", "image/jpeg", &bytes).expect("address");
    assert_eq!(urls.put("shown", "image/jpeg", &bytes), Some(shown.clone()));
    let reach = async |url: &str| {
        let code = "try { return (await (await fetch(a)).blob()).size } catch { return -1 }";
        js(code, &url.into(), &JsValue::NULL)
            .await
            .as_f64()
            .expect("number")
    };
    let gone = urls
        .put("gone", "image/jpeg", &bytes)
        .expect("address")
        .as_str()
        .to_owned();
    assert_eq!(reach(&gone).await, PHONE.len() as f64);
    for at in 0..200 {
        urls.put(&format!("other {at}"), "image/jpeg", &vec![1u8].into())
            .expect("address");
    }
    assert_eq!(reach(&gone).await, -1.0);
    assert_eq!(
        reach(shown.as_str()).await,
        PHONE.len() as f64,
        "still held, so still good"
    );
    let address = shown.as_str().to_owned();
    drop(shown);
    assert_eq!(reach(&address).await, -1.0);
}
