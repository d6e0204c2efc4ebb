//! Handing a file over to the person, and taking one from them.
//! A file is built first and handed over in a tap of its own, because building it takes longer than
//! the browser remembers a tap.

use js_sys::Array;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, Url};

use super::{
    Pending,
    ask::{Asking, Wanted, ask},
    bytes::Bytes,
    js,
};

/// How long a download's address stays good, in milliseconds.
const ADDRESS_MS: i32 = 60_000;

/// How it will go: through the share sheet, or as a download.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    Share,
    Download,
}

/// How it went. None of these proves that the file was kept: ask the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handed {
    Shared,
    Downloading,
    /// The share sheet was closed again.
    Cancelled,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileFault {
    /// The browser wants a fresh tap.
    NeedsTap,
    /// By the name of the browser's error.
    Refused { name: String },
    /// The file is larger than `limit` bytes.
    TooLarge { size: u64, limit: u64 },
    /// It could not be read (it was moved, or lies on a drive that is gone).
    Unreadable,
}

/// A file that is ready to be handed over.
pub struct ReadyFile {
    file: JsValue,
    name: String,
}

impl ReadyFile {
    /// From parts that follow each other; they are not copied into the WASM heap.
    pub fn new(name: &str, mime: &str, parts: &[Bytes]) -> Result<ReadyFile, FileFault> {
        let parts: Array = parts.iter().map(Bytes::to_js).collect();
        let options = web_sys::FilePropertyBag::new();
        options.set_type(mime);
        let file = File::new_with_u8_array_sequence_and_options(&parts, name, &options);
        let file = file.map_err(|error| refused(&error))?;
        Ok(ReadyFile {
            file: file.into(),
            name: name.into(),
        })
    }

    /// Which way it will take here; the share sheet is asked about this very file.
    pub fn way(&self) -> Way {
        let Some(window) = js::window() else {
            return Way::Download;
        };
        let can = js::call_now(&window.navigator(), "canShare", &[self.share_data()]);
        if can.is_ok_and(|can| can.is_truthy()) {
            Way::Share
        } else {
            Way::Download
        }
    }

    /// Hands it over; call straight from a tap. What needs the tap is done before this returns.
    pub fn hand_over(&self) -> Pending<'static, Result<Handed, FileFault>> {
        if self.way() == Way::Download {
            let done = self.download();
            return Box::pin(async move { done });
        }
        let navigator = js::window().map(|window| window.navigator());
        let sharing = js::call_now(&navigator.into(), "share", &[self.share_data()]);
        Box::pin(async move {
            let settled = match sharing {
                Ok(promise) => js::settle(promise).await,
                Err(error) => Err(error),
            };
            match settled {
                Ok(_) => Ok(Handed::Shared),
                Err(error) => match js::error_name(&error).as_str() {
                    "AbortError" => Ok(Handed::Cancelled),
                    "NotAllowedError" => Err(FileFault::NeedsTap),
                    _ => Err(refused(&error)),
                },
            }
        })
    }

    fn share_data(&self) -> JsValue {
        js::object([("files", Array::of1(&self.file).into())])
    }

    /// Saves it as a download, whatever the share sheet could do.
    pub fn download(&self) -> Result<Handed, FileFault> {
        let file: &Blob = self.file.unchecked_ref();
        let url = Url::create_object_url_with_blob(file).map_err(|error| refused(&error))?;
        let link = js::window()
            .and_then(|window| window.document()?.create_element("a").ok())
            .and_then(|link| link.dyn_into::<HtmlAnchorElement>().ok())
            .ok_or_else(|| FileFault::Refused {
                name: "NoPage".into(),
            })?;
        link.set_href(&url);
        link.set_download(&self.name);
        link.click();
        wasm_bindgen_futures::spawn_local(async move {
            js::sleep(ADDRESS_MS).await;
            let _ = Url::revoke_object_url(&url);
        });
        Ok(Handed::Downloading)
    }
}

/// A file that the person opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenedFile {
    pub name: String,
    pub bytes: Bytes,
}

/// Asks for one file; call straight from a tap, then await [`opened`].
pub fn ask_for_file(accept: &str) -> Option<Asking> {
    ask(Wanted {
        accept,
        camera: false,
        many: false,
    })
}

/// The file that was chosen, read whole, or `None` when none was. `limit` in bytes.
pub async fn opened(asking: Asking, limit: u64) -> Result<Option<OpenedFile>, FileFault> {
    let Some(chosen) = asking.chosen().await.into_iter().next() else {
        return Ok(None);
    };
    if chosen.size() > limit {
        return Err(FileFault::TooLarge {
            size: chosen.size(),
            limit,
        });
    }
    let bytes = chosen.bytes().await.ok_or(FileFault::Unreadable)?;
    Ok(Some(OpenedFile {
        name: chosen.name(),
        bytes,
    }))
}

/// A blob of a type that we set ourselves: what a file says of itself is not believed.
pub(super) fn blob(bytes: &Bytes, mime: &str) -> Option<Blob> {
    let options = BlobPropertyBag::new();
    options.set_type(mime);
    Blob::new_with_u8_array_sequence_and_options(&Array::of1(&bytes.to_js()), &options).ok()
}

fn refused(error: &JsValue) -> FileFault {
    FileFault::Refused {
        name: js::error_name(error),
    }
}
