//! Copies of jobs: packed into a file, handed over, opened again; the examples and procedures that
//! ship; and the end of a job.
use std::collections::BTreeSet;
use std::rc::Rc;

use countback_core::journal::{Act, Journal};
use countback_core::procedure::{
    Procedure, procedure_from_job, procedure_from_json, procedure_to_json,
};
use countback_core::words::plural;
use wasm_bindgen_futures::spawn_local;
use yew::Callback;

use super::desk::{Desk, NoticeKind};
use super::faults;
use crate::ports::archive::{self, ENDING, MAX_BYTES, OpenedJob};
use crate::ports::bytes::Bytes;
use crate::ports::clip;
use crate::ports::fetch::{self, DemoJob, Demos};
use crate::ports::files::{self, FileFault, Handed, ReadyFile};
use crate::ports::store::{Fault, Opening, Store};
use crate::router::{self, Route};

/// The longest procedure file that is read, in bytes.
const MOST_PROCEDURE: usize = 4_000_000;

/// A copy that is built and not known to be kept.
pub struct BuiltCopy {
    pub job: String,
    /// Acts and pictures in it.
    pub acts: usize,
    pub pictures: usize,
    /// Pictures that could not be read.
    pub without: usize,
    /// In bytes.
    pub size: usize,
    /// It was given to the share sheet or the downloads.
    pub handed: bool,
    file: ReadyFile,
}

/// What is under way. One copy at a time.
#[derive(Default)]
pub(super) enum Work {
    #[default]
    None,
    Building(String),
    Built(BuiltCopy),
    /// A file or an example is being read.
    Opening,
}

/// How the copy of one job stands.
pub enum Saving<'a> {
    Idle,
    Building,
    Built(&'a BuiltCopy),
}

#[derive(Default)]
pub(super) struct Copies {
    work: Work,
    demos: Option<Rc<Demos>>,
    /// Opened from files, the last first.
    opened: Vec<Procedure>,
    shipped: Vec<Procedure>,
    asking: bool,
    /// The title of the procedure that the next job starts from.
    chosen: Option<String>,
    leaving: Option<(String, Leaving)>,
}

/// What comes after the question whether a job is to be deleted. It is done once the sheet that
/// asks is gone, so that the way back leads where it should.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaving {
    Stay,
    Copy,
    Delete,
}

impl Desk {
    /// Looks at the copy of a job that is being made.
    pub fn saving<R>(&self, job: &str, look: impl FnOnce(Saving<'_>) -> R) -> R {
        match &self.inner.copies.borrow().work {
            Work::Building(of) if of == job => look(Saving::Building),
            Work::Built(copy) if copy.job == job => look(Saving::Built(copy)),
            _ => look(Saving::Idle),
        }
    }

    fn set_work(&self, work: Work) {
        self.inner.copies.borrow_mut().work = work;
        self.changed();
    }

    /// Whether a file or an example is being read.
    pub fn is_opening(&self) -> bool {
        matches!(self.inner.copies.borrow().work, Work::Opening)
    }

    /// How many acts have come since a copy was last kept; `None` when there is no copy.
    pub fn since_copy(&self, job: &str) -> Option<usize> {
        let prefs = self.inner.prefs.borrow();
        let (_, had) = prefs.copied.iter().find(|(of, _)| of == job)?;
        let now = self.read(job, |book| book.journal().len())?;
        Some(now.saturating_sub(*had as usize))
    }

    fn copied(&self, job: &str, acts: usize) {
        self.set_prefs(|prefs| {
            prefs.copied.retain(|(of, _)| of != job);
            prefs.copied.push((job.to_owned(), acts as u32));
        });
    }

    /// Builds the file of a job; it is handed over in a tap of its own.
    pub fn build_copy(&self, job: &str) {
        let Some(journal) = self.read(job, |book| book.journal().clone()) else {
            return;
        };
        self.set_work(Work::Building(job.to_owned()));
        let (desk, job) = (self.clone(), job.to_owned());
        spawn_local(async move {
            let store = desk.store();
            let store = store.as_ref().map(|store| store as &dyn Store);
            let work = match archive::pack_job(store, &journal).await {
                Ok(packed) => {
                    let name = format!("{}{ENDING}", file_name(&packed.about.title));
                    packed.file(&name).map(|file| BuiltCopy {
                        job,
                        acts: packed.about.acts,
                        pictures: packed.about.photos.len(),
                        without: photos_of(&journal)
                            .len()
                            .saturating_sub(packed.about.photos.len()),
                        size: packed.parts.iter().map(Bytes::len).sum(),
                        handed: false,
                        file,
                    })
                }
                Err(fault) => {
                    desk.say(NoticeKind::Fault, faults::archive(&fault));
                    return desk.set_work(Work::None);
                }
            };
            match work {
                Ok(copy) => desk.set_work(Work::Built(copy)),
                Err(fault) => {
                    desk.say(NoticeKind::Fault, faults::file(&fault));
                    desk.set_work(Work::None);
                }
            }
        });
    }

    /// Hands the built copy over; call straight from a tap.
    pub fn hand_over(&self) {
        let handing = match &self.inner.copies.borrow().work {
            Work::Built(copy) => copy.file.hand_over(),
            _ => return,
        };
        let desk = self.clone();
        self.handed(handing, move || {
            if let Work::Built(copy) = &mut desk.inner.copies.borrow_mut().work {
                copy.handed = true;
            }
        });
    }

    pub(super) fn handed(
        &self,
        handing: crate::ports::Pending<'static, Result<Handed, FileFault>>,
        done: impl FnOnce() + 'static,
    ) {
        let desk = self.clone();
        spawn_local(async move {
            match handing.await {
                Ok(Handed::Cancelled) => {}
                Ok(_) => {
                    done();
                    desk.changed();
                }
                Err(fault) => desk.say(NoticeKind::Fault, faults::file(&fault)),
            }
        });
    }

    /// The person says that the copy is where they can find it, or gives it up.
    pub fn end_copy(&self, kept: bool) {
        let work = std::mem::take(&mut self.inner.copies.borrow_mut().work);
        if let (Work::Built(copy), true) = (&work, kept) {
            self.copied(&copy.job, copy.acts);
        }
        self.changed();
    }

    /// Asks for a file and opens what is in it: a job or a procedure. Call straight from a tap; the
    /// title of a procedure is told.
    pub fn open_file(&self, planned: Callback<String>) {
        let accept = ".zip,.json,application/zip,application/json";
        let Some(asking) = files::ask_for_file(accept) else {
            return;
        };
        let desk = self.clone();
        spawn_local(async move {
            let file = match files::opened(asking, MAX_BYTES).await {
                Ok(Some(file)) => file,
                Ok(None) => return,
                Err(fault) => return desk.say(NoticeKind::Fault, faults::file(&fault)),
            };
            desk.set_work(Work::Opening);
            let mut first = 0;
            file.bytes.in_steps(1, |byte| {
                first = byte.first().copied().unwrap_or_default();
                false
            });
            if first == b'{' && file.bytes.len() <= MOST_PROCEDURE {
                desk.take_procedure(&file.bytes, &planned);
            } else {
                match archive::open_job(&file.bytes).await {
                    Ok(opened) => desk.take_job(opened).await,
                    Err(fault) => desk.say(NoticeKind::Fault, faults::archive(&fault)),
                }
            }
            desk.set_work(Work::None);
        });
    }

    fn take_procedure(&self, bytes: &Bytes, planned: &Callback<String>) {
        let text = String::from_utf8(bytes.to_vec()).unwrap_or_default();
        match procedure_from_json(&text) {
            Ok(procedure) => {
                let title = procedure.title.clone();
                {
                    let mut copies = self.inner.copies.borrow_mut();
                    copies.chosen = Some(title.clone());
                    copies.opened.retain(|known| known.title != title);
                    copies.opened.insert(0, procedure);
                }
                planned.emit(title);
            }
            Err(fault) => self.say(NoticeKind::Fault, faults::procedure(&fault)),
        }
    }

    /// Stores an opened job, or takes in what is new of one that is here, and shows it.
    async fn take_job(&self, opened: OpenedJob) {
        let Some(key) = opened.journal.iter().next().map(|e| e.id.to_string()) else {
            return;
        };
        let acts = opened.journal.len();
        let pictures = (opened.photos, opened.thumbs);
        let here = self.read(&key, |_| ()).is_some();
        let mut mended = false;
        let taken = if here {
            self.take_in(&key, &opened.journal, pictures).await
        } else {
            match self.still_readable(&key).await {
                Err(fault) => Err(fault),
                Ok(known) => {
                    // Stored, and not to be opened: what can be read of it and
                    // the copy, together.
                    mended = known.is_some();
                    let mut journal = opened.journal;
                    journal.merge(&Journal::new(known.into_iter().flatten()));
                    let n = journal.len();
                    let stored = self.store_new(journal, pictures, mended).await;
                    stored.map(|_| {
                        self.copied(&key, acts);
                        n
                    })
                }
            }
        };
        let new = match taken {
            Ok(new) => new,
            Err(fault) => return self.say(NoticeKind::Fault, faults::store(&fault)),
        };
        let mut said = match (here, new) {
            (false, n) if mended => {
                let n = plural(n as u32, "entry");
                format!("Put right with this copy: {n}, with all that could still be read here.")
            }
            (true, 0) => "Nothing new: every entry of this copy is here already.".to_owned(),
            (true, 1) => "1 new entry was taken in.".to_owned(),
            (true, n) => format!("{n} new entries were taken in."),
            (false, n) => format!("Opened, with {}.", plural(n as u32, "entry")),
        };
        if opened.missing > 0 {
            let missing = plural(opened.missing as u32, "picture");
            said.push_str(&format!(" The file lacks {missing}."));
        }
        self.found_again(&key);
        self.say(NoticeKind::Saved, said);
        router::go(&Route::Job { job: key.into() });
    }

    /// A job that was lost is here again.
    fn found_again(&self, key: &str) {
        let mut standing = self.inner.standing.borrow_mut();
        standing.unread.retain(|job| job != key);
        if let Some(Opening::Lost { jobs }) = &mut standing.opening {
            jobs.retain(|lost| lost.job != key);
            if jobs.is_empty() {
                standing.opening = None;
            }
        }
    }

    /// The examples, once [`Desk::load_demos`] has them.
    pub fn demos(&self) -> Option<Rc<Demos>> {
        self.inner.copies.borrow().demos.clone()
    }

    /// Fetches the list of examples and the procedures that ship, once.
    pub fn load_demos(&self) {
        let asked = std::mem::replace(&mut self.inner.copies.borrow_mut().asking, true);
        if asked || self.demos().is_some() {
            return;
        }
        let desk = self.clone();
        spawn_local(async move {
            let demos = fetch::demos().await;
            let shipped = match &demos {
                Some(demos) => fetch::procedures(demos).await.unwrap_or_default(),
                None => Vec::new(),
            };
            let shipped = shipped.iter().filter_map(|it| procedure_from_json(it).ok());
            {
                let mut copies = desk.inner.copies.borrow_mut();
                copies.shipped = shipped.collect();
                copies.asking = false;
                copies.demos = demos.map(Rc::new);
            }
            if desk.demos().is_none() {
                return desk.say(NoticeKind::Fault, faults::NO_EXAMPLES);
            }
            desk.changed();
        });
    }

    /// Opens an example by the way that a file goes.
    pub fn open_demo(&self, demo: &DemoJob) {
        self.set_work(Work::Opening);
        let (desk, demo) = (self.clone(), demo.clone());
        spawn_local(async move {
            match fetch::entries(&demo).await {
                None => desk.say(NoticeKind::Fault, faults::NO_EXAMPLES),
                Some(entries) => match archive::open_entries(entries).await {
                    Ok(opened) => desk.take_job(opened).await,
                    Err(fault) => desk.say(NoticeKind::Fault, faults::archive(&fault)),
                },
            }
            desk.set_work(Work::None);
        });
    }

    /// What a new job can start from: procedures opened from files, made from the jobs signed off
    /// here, and those that ship; each title once.
    pub fn procedures(&self) -> Vec<Procedure> {
        let copies = self.inner.copies.borrow();
        let jobs = self.inner.jobs.borrow();
        let signed = jobs.values().map(|open| open.book.job());
        let made = signed.filter(|job| job.is_signed()).map(procedure_from_job);
        let mut all = copies.opened.clone();
        for procedure in made.chain(copies.shipped.iter().cloned()) {
            if all.iter().all(|known| known.title != procedure.title) {
                all.push(procedure);
            }
        }
        all
    }

    /// The title of the procedure that was opened for the next job; told once.
    pub fn chosen_procedure(&self) -> Option<String> {
        self.inner.copies.borrow_mut().chosen.take()
    }

    /// Hands over the procedure made of a job; call straight from a tap.
    pub fn save_procedure(&self, job: &str) {
        let Some(procedure) = self.read(job, |book| procedure_from_job(book.job())) else {
            return;
        };
        let text = procedure_to_json(&procedure);
        self.hand_out(&procedure.title, "json", "application/json", &text);
    }

    /// Hands over a text as a file of that name and kind; call straight from a
    /// tap.
    pub fn hand_out(&self, name: &str, kind: &str, mime: &str, text: &str) {
        let name = format!("{}.{kind}", file_name(name));
        match ReadyFile::new(&name, mime, &[text.as_bytes().to_vec().into()]) {
            Ok(file) => self.handed(file.hand_over(), || ()),
            Err(fault) => self.say(NoticeKind::Fault, faults::file(&fault)),
        }
    }

    /// Puts a text on the clipboard and says so; call straight from a tap.
    pub fn copy_text(&self, text: &str) {
        let (desk, copying) = (self.clone(), clip::copy(text));
        spawn_local(async move {
            match copying.await {
                true => desk.say(NoticeKind::Saved, "Copied. Paste it into a message."),
                false => desk.say(
                    NoticeKind::Refused,
                    "This browser does not let the text be copied. Save it as a table instead.",
                ),
            }
        });
    }

    /// Whether the person is being asked if this job is to be deleted.
    pub fn leaving(&self, job: &str) -> bool {
        let copies = self.inner.copies.borrow();
        copies.leaving.as_ref().is_some_and(|(of, _)| of == job)
    }

    /// Asks, or notes the answer.
    pub fn leave(&self, job: &str, answer: Leaving) {
        self.inner.copies.borrow_mut().leaving = Some((job.to_owned(), answer));
        self.changed();
    }

    /// Does as answered; the sheet is gone.
    pub fn left(&self) {
        let answered = self.inner.copies.borrow_mut().leaving.take();
        match answered {
            Some((job, Leaving::Delete)) => self.delete_job(&job),
            Some((job, Leaving::Copy)) => self.build_copy(&job),
            _ => self.changed(),
        }
    }

    /// Deletes a job and the pictures that no other job speaks of.
    fn delete_job(&self, job: &str) {
        let (desk, job) = (self.clone(), job.to_owned());
        spawn_local(async move {
            if let Err(fault) = desk.delete(&job).await {
                return desk.say(NoticeKind::Fault, faults::store(&fault));
            }
            desk.set_prefs(|prefs| prefs.copied.retain(|(of, _)| *of != job));
            router::replace(&Route::Jobs);
            desk.say(NoticeKind::Saved, "The job is deleted.");
        });
        self.changed();
    }

    async fn delete(&self, job: &str) -> Result<(), Fault> {
        self.take_pen(job).await;
        if self.reads_only(job) {
            return Err(Fault::ReadOnly);
        }
        let store = self.store().ok_or(Fault::Unavailable)?;
        let heads = store.jobs().await?;
        let photos = {
            let jobs = self.inner.jobs.borrow();
            // A job that cannot be read may show the same pictures: then they stay.
            let all_read = heads.iter().all(|head| jobs.contains_key(&head.job));
            let mut photos = BTreeSet::new();
            if let (Some(open), true) = (jobs.get(job), all_read) {
                photos = photos_of(open.book.journal());
                for (_, other) in jobs.iter().filter(|(key, _)| *key != job) {
                    for hash in photos_of(other.book.journal()) {
                        photos.remove(hash);
                    }
                }
            }
            photos.into_iter().map(str::to_owned).collect::<Vec<_>>()
        };
        store.delete_job(job, &photos).await?;
        self.inner.jobs.borrow_mut().remove(job);
        if let Some(news) = self.inner.news.borrow().as_ref() {
            news.tell(job);
        }
        Ok(())
    }

    /// How many pictures a job speaks of.
    pub fn pictures(&self, job: &str) -> usize {
        self.read(job, |book| photos_of(book.journal()).len())
            .unwrap_or_default()
    }
}

/// Hashes of the photos that a journal speaks of, struck ones among them.
fn photos_of(journal: &Journal) -> BTreeSet<&str> {
    let mut photos = BTreeSet::new();
    for event in journal.iter() {
        if let Act::PhotoTaken(taken) = &event.act {
            photos.insert(taken.hash.as_str());
        }
    }
    photos
}

/// A title as every drive takes it: small letters, digits and dashes.
pub(super) fn file_name(title: &str) -> String {
    let words = title.split(|c: char| !c.is_ascii_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    let name = words.join("-").to_ascii_lowercase();
    match name.get(..name.len().min(48)) {
        Some(name) if !name.is_empty() => name.trim_end_matches('-').to_owned(),
        _ => "job".to_owned(),
    }
}
