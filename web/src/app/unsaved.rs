//! Pictures that were taken and could not be kept: held while the app is open,
//! to be tried again or handed over to another app.
use super::desk::{Desk, NoticeKind};
use super::faults;
use crate::ports::files::ReadyFile;
use crate::ports::photo::Picture;
use crate::ports::store::Fault;

/// A picture that is on no disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsaved {
    /// The screen that it was taken on, by its address.
    pub place: String,
    /// What is on it, in words.
    pub subject: String,
    pub picture: Picture,
    /// It was handed over; only the person knows whether it arrived.
    pub handed: bool,
}

impl Desk {
    /// Holds pictures that could not be kept, and says why.
    pub fn not_saved(&self, place: &str, subject: &str, pictures: Vec<Picture>, fault: &Fault) {
        let held = pictures.into_iter().map(|picture| Unsaved {
            place: place.to_owned(),
            subject: subject.to_owned(),
            picture,
            handed: false,
        });
        self.inner.unsaved.borrow_mut().extend(held);
        self.say(NoticeKind::Fault, faults::store(fault));
    }

    /// Those that were taken on this screen.
    pub fn unsaved(&self, place: &str) -> Vec<Unsaved> {
        let all = self.inner.unsaved.borrow();
        all.iter().filter(|it| it.place == place).cloned().collect()
    }

    /// Lets one go: it is tried again, or given up.
    pub fn let_go(&self, it: &Unsaved) {
        let hash = &it.picture.photo.hash;
        let same = |other: &Unsaved| other.place == it.place && other.picture.photo.hash == *hash;
        self.inner.unsaved.borrow_mut().retain(|it| !same(it));
        self.changed();
    }

    /// Hands one over as a file; call straight from a tap.
    pub fn hand_over_picture(&self, it: &Unsaved) {
        let photo = &it.picture.photo;
        let digits = photo.hash.get(..6).unwrap_or_default();
        let kind = photo.mime.rsplit('/').next().unwrap_or("jpeg");
        let name = format!("{} {digits}", it.subject);
        let name = format!("{}.{kind}", super::copies::file_name(&name));
        let (desk, hash) = (self.clone(), photo.hash.clone());
        match ReadyFile::new(&name, &photo.mime, std::slice::from_ref(&photo.bytes)) {
            Ok(file) => self.handed(file.hand_over(), move || {
                let mut all = desk.inner.unsaved.borrow_mut();
                for it in all.iter_mut().filter(|it| it.picture.photo.hash == hash) {
                    it.handed = true;
                }
            }),
            Err(fault) => self.say(NoticeKind::Fault, faults::file(&fault)),
        }
    }
}
