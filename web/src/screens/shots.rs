//! Taking photos for a thing: the camera or the album, one at a time, kept
//! with the draft or stored with their act.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::journal::{Act, PhotoTaken, Target};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

use crate::app::{Along, Desk, NoticeKind, faults, the_desk};
use crate::kit::{Button, ButtonKind, Icon, Readiness};
use crate::ports::photo::{self, PendingShot, Picture, Source};
use crate::ports::store::Store;
use crate::router;

/// Props of [`TakePhoto`].
#[derive(Properties, PartialEq)]
pub struct TakePhoto {
    pub job: AttrValue,
    /// What is photographed, in words.
    pub subject: AttrValue,
    #[prop_or_default]
    pub draft: AttrValue,
    pub onpicture: Callback<Pictures>,
}

/// What the camera brought.
#[derive(Clone, Debug, PartialEq)]
pub struct Pictures(pub Vec<Picture>);

/// Camera and album, side by side.
#[hook]
fn use_take_photo(props: &TakePhoto) -> Html {
    let desk = the_desk();
    let busy = use_local(|| false);
    let shoot = |source: Source| {
        let desk = desk.clone();
        let busy = busy.clone();
        let onpicture = props.onpicture.clone();
        let pending = PendingShot {
            job: props.job.to_string(),
            subject: props.subject.to_string(),
            route: router::current().href(),
            draft: props.draft.to_string(),
        };
        Callback::from(move |()| {
            let Some(shooting) = photo::shoot(desk.shelf(), source, &pending) else {
                return;
            };
            let (desk, busy, onpicture) = (desk.clone(), busy.clone(), onpicture.clone());
            spawn_local(async move {
                let files = shooting.files().await;
                busy.set(!files.is_empty());
                let mut pictures = Vec::new();
                for file in &files {
                    match photo::prepare(file).await {
                        Ok(picture) => pictures.push(picture),
                        Err(fault) => desk.say(NoticeKind::Fault, faults::photo(&fault)),
                    }
                }
                busy.set(false);
                photo::forget_shot(&*desk.shelf());
                if !pictures.is_empty() {
                    onpicture.emit(Pictures(pictures));
                }
            });
        })
    };
    let readiness = if *busy {
        Readiness::Busy
    } else {
        Readiness::Ready
    };
    html! {
        <div class="pair">
            { part!(Button { label: "Photo", icon: Icon::Camera, readiness: readiness.clone(), onpress: shoot(Source::Camera) }) }
            { part!(Button { label: "Album", icon: Icon::Photo, kind: ButtonKind::Quiet, readiness: readiness, onpress: shoot(Source::Album) }) }
        </div>
    }
}

crate::live!(TakePhoto, use_take_photo);

/// Stores pictures of things that are logged already.
pub fn store_pictures(
    desk: &Desk,
    job: &str,
    on: Vec<Target>,
    caption: String,
    pictures: Pictures,
) {
    for picture in pictures.0 {
        let act = Act::PhotoTaken(PhotoTaken {
            hash: picture.photo.hash.clone(),
            thumb: picture.thumb.hash.clone(),
            width: picture.width,
            height: picture.height,
            on: on.clone(),
            caption: caption.clone(),
        });
        let along = Along {
            pictures: vec![picture],
            drop_draft: None,
        };
        desk.tell_then(job, Command::Record(act), along, Callback::noop());
    }
}

/// The address of a stored picture, once it is read.
#[hook]
pub fn use_picture(hash: AttrValue, small: bool) -> Option<AttrValue> {
    let desk = the_desk();
    let key = if small {
        format!("t:{hash}")
    } else {
        hash.to_string()
    };
    let url = use_local(|| None);
    {
        let url = url.clone();
        use_effect_with((hash, small), move |(hash, small)| {
            let known = desk.urls().get(&key);
            let (hash, small) = (hash.clone(), *small);
            if known.is_some() {
                url.set(known);
            } else if let Some(store) = desk.store() {
                spawn_local(async move {
                    let found = if small {
                        store
                            .thumb(&hash)
                            .await
                            .ok()
                            .flatten()
                            .map(|t| (t.mime, t.bytes))
                    } else {
                        store
                            .photo(&hash)
                            .await
                            .ok()
                            .flatten()
                            .map(|p| (p.mime, p.bytes))
                    };
                    if let Some((mime, bytes)) = found {
                        url.set(desk.urls().put(&key, &mime, &bytes));
                    }
                });
            }
        });
    }
    (*url)
        .as_ref()
        .map(|u| AttrValue::from(u.as_str().to_owned()))
}

/// Props of [`StoredThumb`].
#[derive(Properties, PartialEq)]
pub struct StoredThumb {
    pub hash: AttrValue,
    pub alt: AttrValue,
    pub href: AttrValue,
}

/// A small stored picture that opens the photo.
#[hook]
fn use_stored_thumb(props: &StoredThumb) -> Html {
    let src = use_picture(props.hash.clone(), true);
    html! { { part!(crate::kit::Thumb { src: src, alt: props.alt.clone(), href: props.href.clone() }) } }
}

crate::live!(StoredThumb, use_stored_thumb);
