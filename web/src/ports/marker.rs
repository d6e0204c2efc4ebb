//! A mark beside the database: how far each job had been saved when it was last acknowledged.
//! It lies in another store (localStorage), because a browser can lose a database, or the tail of
//! one, without a word; only the mark tells such a loss from a first run.

use std::{cell::RefCell, collections::BTreeMap, rc::Rc};

use countback_core::codec::json::{Map, Writer};
use web_sys::Storage;

use super::js;

/// A small synchronous shelf of texts. A shelf may be missing (blocked by a privacy setting): then
/// writes answer false and reads find nothing.
pub trait Shelf {
    fn get(&self, key: &str) -> Option<String>;
    /// True when the text was put there.
    fn set(&self, key: &str, text: &str) -> bool;
    fn remove(&self, key: &str);
    fn keys(&self) -> Vec<String>;
}

/// The browser's localStorage.
#[derive(Clone, Copy, Debug, Default)]
pub struct BrowserShelf;

impl BrowserShelf {
    fn storage(self) -> Option<Storage> {
        js::window()?.local_storage().ok().flatten()
    }
}

impl Shelf for BrowserShelf {
    fn get(&self, key: &str) -> Option<String> {
        self.storage()?.get_item(key).ok().flatten()
    }

    fn set(&self, key: &str, text: &str) -> bool {
        self.storage()
            .is_some_and(|storage| storage.set_item(key, text).is_ok())
    }

    fn remove(&self, key: &str) {
        if let Some(storage) = self.storage() {
            let _ = storage.remove_item(key);
        }
    }

    fn keys(&self) -> Vec<String> {
        let Some(storage) = self.storage() else {
            return Vec::new();
        };
        let count = storage.length().unwrap_or(0);
        (0..count)
            .filter_map(|at| storage.key(at).ok().flatten())
            .collect()
    }
}

/// The twin for tests. Clones share their texts, as tabs do.
#[derive(Clone, Debug, Default)]
pub struct MemoryShelf(Rc<RefCell<BTreeMap<String, String>>>);

impl Shelf for MemoryShelf {
    fn get(&self, key: &str) -> Option<String> {
        self.0.borrow().get(key).cloned()
    }

    fn set(&self, key: &str, text: &str) -> bool {
        self.0.borrow_mut().insert(key.into(), text.into());
        true
    }

    fn remove(&self, key: &str) {
        self.0.borrow_mut().remove(key);
    }

    fn keys(&self) -> Vec<String> {
        self.0.borrow().keys().cloned().collect()
    }
}

/// What was last acknowledged of one job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// Number of acts, which is also the sequence number of the last one.
    pub last_seq: u32,
    /// The chain hash over all of them, see [`super::store::chain`].
    pub head: String,
    /// The job is being deleted: if it is gone, that is no loss.
    pub deleting: bool,
}

/// The marks of one database on a shelf, one text a job, so that tabs do not overwrite each other.
#[derive(Clone)]
pub struct Marks {
    shelf: Rc<dyn Shelf>,
    prefix: String,
}

impl Marks {
    pub fn new(shelf: Rc<dyn Shelf>, database: &str) -> Self {
        Marks {
            shelf,
            prefix: format!("{database}.mark."),
        }
    }

    pub fn get(&self, job: &str) -> Option<Mark> {
        let text = self.shelf.get(&format!("{}{job}", self.prefix))?;
        let mut map = Map::parse(&text).ok()?;
        Some(Mark {
            last_seq: map.count("last_seq").ok()?,
            head: map.text("head").ok()?,
            deleting: map.flag("deleting").ok()?,
        })
    }

    /// True when the mark was kept.
    pub fn set(&self, job: &str, mark: &Mark) -> bool {
        let text = Writer::object(|w| {
            w.number("last_seq", i64::from(mark.last_seq));
            w.put("head", &mark.head);
            w.flag("deleting", mark.deleting);
        });
        self.shelf.set(&format!("{}{job}", self.prefix), &text)
    }

    pub fn remove(&self, job: &str) {
        self.shelf.remove(&format!("{}{job}", self.prefix));
    }

    pub fn all(&self) -> BTreeMap<String, Mark> {
        let keys = self.shelf.keys();
        let jobs = keys.iter().filter_map(|key| key.strip_prefix(&self.prefix));
        jobs.filter_map(|job| Some((job.to_owned(), self.get(job)?)))
            .collect()
    }
}
