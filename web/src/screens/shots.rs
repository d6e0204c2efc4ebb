//! Taking photos for a thing: the camera or the album, one at a time, kept
//! with the draft or stored with their act.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::journal::{Act, PhotoTaken, Target};
use countback_core::view::{self, PhotoRow};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

use crate::app::{Along, Desk, NoticeKind, Told, Unsaved, faults, the_desk};
use crate::kit::{Banner, BannerKind, Button, ButtonKind, Icon, Readiness, Section, Shot, Thumbs};
use crate::ports::bytes::Bytes;
use crate::ports::photo::{self, PendingShot, PhotoUrl, Picture, Source};
use crate::ports::store::{BrowserStore, Fault, Store};
use crate::router::{self, Route};

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
    let place = router::current().href();
    html! {
        <>
        <div class="pair">
            { part!(Button { label: "Photo", icon: Icon::Camera, readiness: readiness.clone(), onpress: shoot(Source::Camera) }) }
            { part!(Button { label: "Album", icon: Icon::Photo, kind: ButtonKind::Quiet, readiness: readiness, onpress: shoot(Source::Album) }) }
        </div>
        { for desk.unsaved(&place).iter().map(|it| unsaved(&desk, it, &props.onpicture)) }
        </>
    }
}

crate::live!(TakePhoto, use_take_photo);

/// A picture that is on no disk yet, and what can be done about it.
fn unsaved(desk: &Desk, it: &Unsaved, onpicture: &Callback<Pictures>) -> Html {
    let thumb = &it.picture.thumb;
    let src = desk
        .urls()
        .put(&format!("t:{}", thumb.photo), &thumb.mime, &thumb.bytes);
    let act = |what: fn(&Desk, &Unsaved)| {
        let (desk, it) = (desk.clone(), it.clone());
        Callback::from(move |()| what(&desk, &it))
    };
    let again = {
        let (desk, it, onpicture) = (desk.clone(), it.clone(), onpicture.clone());
        Callback::from(move |()| {
            desk.let_go(&it);
            onpicture.emit(Pictures(vec![it.picture.clone()]));
        })
    };
    let text = match it.handed {
        true => "Handed over. Look whether it arrived, then let it go here.",
        false => {
            "It is lost when the app is closed. Free some room and try again, or hand it over to keep it elsewhere."
        }
    };
    html! {
        { part!(key: it.picture.photo.hash.clone(); Banner { kind: BannerKind::Caution, title: format!("A photo of {} is not saved.", it.subject), text: text, children: html! { <>
            if let Some(src) = src { <img class="thumb" src={src.as_str().to_owned()} alt={format!("Not saved: {}", it.subject)} /> }
            { part!(Button { label: "Try again", icon: Icon::Renew, onpress: again }) }
            { part!(Button { label: "Hand it over", icon: Icon::Share, onpress: act(Desk::hand_over_picture) }) }
            { part!(Button { label: "Let it go", kind: ButtonKind::Quiet, icon: Icon::Close, onpress: act(Desk::let_go) }) }
        </> } }) }
    }
}

/// Stores pictures of things that are logged already.
pub fn store_pictures(
    desk: &Desk,
    job: &str,
    on: Vec<Target>,
    caption: String,
    pictures: Pictures,
) {
    let place = router::current().href();
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
            pictures: vec![picture.clone()],
            drop_draft: None,
        };
        let done = {
            let (desk, place, caption) = (desk.clone(), place.clone(), caption.clone());
            Callback::from(move |told: Told| {
                if let Told::Failed(fault) = told {
                    desk.not_saved(&place, &caption, vec![picture.clone()], &fault);
                }
            })
        };
        desk.tell_then(job, Command::Record(act), along, done);
    }
}

/// Photos of a thing that is logged, and the taking of another.
pub fn shots(
    desk: &Desk,
    job: &AttrValue,
    photos: &[PhotoRow],
    of: Target,
    caption: String,
) -> Html {
    let onpicture = {
        let (desk, job, caption) = (desk.clone(), job.clone(), caption.clone());
        Callback::from(move |pictures| {
            store_pictures(&desk, &job, vec![of], caption.clone(), pictures)
        })
    };
    html! {
        <>
        if !photos.is_empty() {
            { part!(Thumbs { children: html! { <>
                { for photos.iter().map(|p| {
                    let alt = if p.caption.is_empty() { caption.clone() } else { p.caption.clone() };
                    let href = Route::Photo { job: job.clone(), photo: p.id.to_string().into() }.href();
                    part!(key: p.hash.clone(); StoredThumb { hash: p.hash.clone(), alt: alt, href: href })
                }) }
            </> } }) }
        }
        { part!(TakePhoto { job: job.clone(), subject: caption, onpicture: onpicture }) }
        </>
    }
}

/// What the whole looked like: before anything was touched, and later.
#[derive(Properties, PartialEq)]
pub struct OfAll {
    pub job: AttrValue,
}

fn of_all(props: &OfAll) -> Html {
    let desk = the_desk();
    let photos = desk.read(&props.job, |book| {
        view::photos_of_all(book.job(), desk.at())
    });
    let photos = photos.unwrap_or_default();
    html! {
        { part!(Section { title: "The whole, as it stood", count: photos.len().to_string(), children: html! { <>
            <p class="soft">{ "From the same spots before and after: what was there already is seen at the end." }</p>
            { shots(&desk, &props.job, &photos, Target::Job, "the whole".to_owned()) }
        </> } }) }
    }
}

crate::plain!(OfAll, of_all);

/// The address of a stored picture, once it is read.
#[hook]
pub fn use_picture(hash: AttrValue, small: bool) -> Option<AttrValue> {
    use_shot(hash, small).src()
}

/// What was read of a picture: its address, if it is here, or why not.
type Read = Result<Option<PhotoUrl>, AttrValue>;

/// A stored picture, or how it stands.
#[hook]
pub fn use_shot(hash: AttrValue, small: bool) -> Shot {
    let desk = the_desk();
    let key = if small {
        format!("t:{hash}")
    } else {
        hash.to_string()
    };
    // With its key: what was read of another is not shown as this one.
    let read = use_local(|| None::<(String, Read)>);
    {
        let (read, key) = (read.clone(), key.clone());
        use_effect_with((hash, small), move |(hash, small)| {
            let (hash, small) = (hash.clone(), *small);
            if let Some(known) = desk.urls().get(&key) {
                read.set(Some((key, Ok(Some(known)))));
                return;
            }
            spawn_local(async move {
                let found = match desk.store() {
                    Some(store) => stored(&store, &hash, small).await,
                    None => Err(Fault::Unavailable),
                };
                let shown = match found {
                    Ok(None) => Ok(None),
                    Ok(Some((mime, bytes))) => match desk.urls().put(&key, &mime, &bytes) {
                        Some(url) => Ok(Some(url)),
                        None => Err(faults::not_shown(&Fault::Unavailable)),
                    },
                    Err(fault) => Err(faults::not_shown(&fault)),
                };
                read.set(Some((key, shown.map_err(AttrValue::from))));
            });
        });
    }
    match read.as_ref() {
        Some((of, _)) if *of != key => Shot::Loading,
        None => Shot::Loading,
        Some((_, Ok(Some(url)))) => Shot::There(url.as_str().to_owned().into()),
        Some((_, Ok(None))) => Shot::Missing,
        Some((_, Err(why))) => Shot::Unreadable(why.clone()),
    }
}

/// A photo or its small picture as it is stored, with its kind.
async fn stored(
    store: &BrowserStore,
    hash: &str,
    small: bool,
) -> Result<Option<(String, Bytes)>, Fault> {
    Ok(match small {
        true => store.thumb(hash).await?.map(|t| (t.mime, t.bytes)),
        false => store.photo(hash).await?.map(|p| (p.mime, p.bytes)),
    })
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
    let src = use_shot(props.hash.clone(), true);
    html! { { part!(crate::kit::Thumb { src: src, alt: props.alt.clone(), href: props.href.clone() }) } }
}

crate::live!(StoredThumb, use_stored_thumb);
