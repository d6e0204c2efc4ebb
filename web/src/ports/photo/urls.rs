//! Addresses under which the page can show stored pictures. Each is given back to the browser when
//! nothing shows it any more and newer ones have pushed it out.

use std::{cell::RefCell, collections::VecDeque, rc::Rc};

use web_sys::Url;

use crate::ports::{bytes::Bytes, files};

/// How many addresses are kept alive although nothing shows them, so that a list scrolled back does
/// not flicker.
const SPARE: usize = 120;

/// An address, good as long as this is held. Clones share it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoUrl(Rc<Owned>);

#[derive(Debug, PartialEq, Eq)]
struct Owned(String);

impl Drop for Owned {
    fn drop(&mut self) {
        let _ = Url::revoke_object_url(&self.0);
    }
}

impl PhotoUrl {
    pub fn as_str(&self) -> &str {
        &self.0.0
    }
}

/// The addresses of one page.
#[derive(Default)]
pub struct PhotoUrls(RefCell<VecDeque<(String, PhotoUrl)>>);

impl PhotoUrls {
    /// The address of the picture kept under `key`, if it has one. Use different keys for a photo
    /// and its thumbnail.
    pub fn get(&self, key: &str) -> Option<PhotoUrl> {
        let mut all = self.0.borrow_mut();
        let at = all.iter().position(|(known, _)| known == key)?;
        let found = all.remove(at)?;
        let url = found.1.clone();
        all.push_back(found);
        Some(url)
    }

    /// Makes an address for these bytes, or gives the one there is. `mime` must be one that was set
    /// by this app, never one that came with a file.
    pub fn put(&self, key: &str, mime: &str, bytes: &Bytes) -> Option<PhotoUrl> {
        if let Some(known) = self.get(key) {
            return Some(known);
        }
        let blob = files::blob(bytes, mime)?;
        let url = Url::create_object_url_with_blob(&blob).ok()?;
        let url = PhotoUrl(Rc::new(Owned(url)));
        let mut all = self.0.borrow_mut();
        all.push_back((key.to_owned(), url.clone()));
        if all.len() > SPARE {
            all.pop_front();
        }
        Some(url)
    }
}
