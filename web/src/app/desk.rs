//! The desk: the jobs at hand and the means to act on them. Screens read the
//! folded job from it and tell it commands; it decides, stores, and only then
//! folds, so that what a screen shows as saved is on disk.
use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, VecDeque};
use std::rc::Rc;

use countback_core::access::AtWork;
use countback_core::guard::{self, Break, BrokenOff};
use countback_core::job::{Book, Command, Ctx, Job, Refusal};
use countback_core::journal::{DeviceId, Event, EventId};
use countback_core::view::{self, At, WaysOn};
use countback_core::words::{self, Style};
use yew::{AttrValue, Callback};

use super::at_work::Of;
use super::boot;
use super::copies::Copies;
use super::prefs::Prefs;
use super::unsaved::Unsaved;
use crate::ports::clock::Clock;
use crate::ports::locale;
use crate::ports::lock::{JobLock, JobNews};
use crate::ports::marker::{BrowserShelf, Shelf};
use crate::ports::persist::Kept;
use crate::ports::photo::{PhotoUrls, Picture};
use crate::ports::store::{BrowserStore, DATABASE, Fault, Opening, early};
use crate::router::Route;

/// Set while the next start will open on a screen of the WASM's second file;
/// boot.js reads it.
const BOTH: &str = "countback.both";

/// How far the start has come.
#[derive(Clone, Debug, PartialEq)]
pub enum Stage {
    Loading,
    Ready,
    /// Nothing can be read.
    Failed(Fault),
}

/// Who may write to a job.
#[derive(Debug)]
pub enum Pen {
    /// Not asked for yet.
    Unasked,
    /// The browser has no locks; the store alone guards.
    Unguarded,
    Mine(JobLock),
    /// Another tab writes; this one reads.
    Elsewhere,
}

/// A job that is loaded.
pub struct OpenJob {
    pub book: Book,
    /// Acts stored, which is the last sequence number.
    pub seq: u32,
    pub pen: Pen,
}

/// What is shown for a while after an act.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    pub serial: u32,
    pub text: String,
    pub kind: NoticeKind,
    /// The job and the act that can be struck.
    pub undo: Option<(String, EventId)>,
    /// From a refusal: the job and the ways on.
    pub ways: Option<(String, WaysOn)>,
    /// When it was said, in ms.
    pub at: i64,
    /// The job it was said in.
    pub job: Option<AttrValue>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoticeKind {
    Saved,
    Refused,
    Fault,
}

/// How a command ended.
#[derive(Clone, Debug, PartialEq)]
pub enum Told {
    Saved(Vec<Event>),
    Refused(Refusal),
    Failed(Fault),
}

/// What is stored with a command in the same transaction.
#[derive(Clone, Debug, Default)]
pub struct Along {
    pub pictures: Vec<Picture>,
    /// The draft that the command makes good.
    pub drop_draft: Option<String>,
}

pub(super) struct Deed {
    pub job: String,
    pub command: Command,
    pub along: Along,
    pub done: Callback<Told>,
    /// Said by the caller; the desk stays silent.
    pub silent: bool,
    /// Another name than that of who is at work.
    pub by: Option<String>,
}

/// News about the app itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    pub opening: Option<Opening>,
    /// Jobs that are here and cannot be read.
    pub unread: Vec<String>,
    /// Why nothing is kept, if so.
    pub unkept: Option<Fault>,
    pub kept: Option<Kept>,
    pub offline: bool,
    pub update_waiting: bool,
    pub reload_wanted: bool,
    pub connection_lost: bool,
    /// The screen is being kept on.
    pub awake: bool,
    /// The first screen stands and all of the app is there: what lies further
    /// down is drawn too.
    pub whole: bool,
}

pub(super) struct Inner {
    pub shelf: Rc<dyn Shelf>,
    pub store: RefCell<Option<BrowserStore>>,
    pub clock: Clock,
    /// When this start was, by that clock.
    pub open_since: i64,
    pub device: Cell<DeviceId>,
    pub jobs: RefCell<BTreeMap<String, OpenJob>>,
    pub prefs: RefCell<Prefs>,
    pub stage: RefCell<Stage>,
    pub standing: RefCell<Standing>,
    pub notice: RefCell<Option<Notice>>,
    /// The job and the act that undo asks about before it strikes it.
    pub undoing: RefCell<Option<(String, EventId)>>,
    pub queue: RefCell<VecDeque<Deed>>,
    pub busy: Cell<bool>,
    pub urls: PhotoUrls,
    pub copies: RefCell<Copies>,
    pub news: RefCell<Option<JobNews>>,
    /// Pictures for which there was no room.
    pub unsaved: RefCell<Vec<Unsaved>>,
    pub style: Style,
    pub revision: Cell<u32>,
    pub hidden_at: Cell<Option<i64>>,
    /// The job that the person is in.
    pub at_hand: RefCell<Option<String>>,
    /// What broke work on a job off; none of a job that came here just now. A
    /// job that is not in here was last touched before this start.
    pub breaks: RefCell<Vec<(String, Option<BrokenOff>)>>,
    pub wake: RefCell<Option<crate::ports::wake::Wake>>,
    /// Who is at work, as the other jobs tell it, and of what that was read.
    pub at_work: RefCell<(Of, Rc<AtWork>)>,
    pub redraw: RefCell<Callback<u32>>,
}

/// A handle on the desk; differs from an earlier one when something changed.
#[derive(Clone)]
pub struct Desk {
    pub(super) inner: Rc<Inner>,
    revision: u32,
}

impl PartialEq for Desk {
    fn eq(&self, other: &Self) -> bool {
        self.revision == other.revision && Rc::ptr_eq(&self.inner, &other.inner)
    }
}

impl Desk {
    pub fn at_start() -> Self {
        let shelf: Rc<dyn Shelf> = Rc::new(BrowserShelf);
        let prefs = Prefs::load(&*shelf);
        let style = Style {
            decimal: locale::decimal(&*shelf),
            when: crate::ports::when::when,
        };
        let clock = Clock::start();
        let inner = Inner {
            open_since: clock.now_ms() as i64,
            shelf,
            store: RefCell::default(),
            clock,
            device: Cell::default(),
            jobs: RefCell::default(),
            prefs: RefCell::new(prefs),
            stage: RefCell::new(Stage::Loading),
            standing: RefCell::default(),
            notice: RefCell::default(),
            undoing: RefCell::default(),
            queue: RefCell::default(),
            busy: Cell::default(),
            urls: PhotoUrls::default(),
            copies: RefCell::default(),
            news: RefCell::default(),
            unsaved: RefCell::default(),
            style,
            revision: Cell::new(0),
            hidden_at: Cell::default(),
            at_hand: RefCell::default(),
            breaks: RefCell::default(),
            wake: RefCell::default(),
            at_work: RefCell::default(),
            redraw: RefCell::default(),
        };
        Self {
            inner: Rc::new(inner),
            revision: 0,
        }
    }

    /// The same desk as it is now.
    pub(super) fn at_revision(&self, revision: u32) -> Self {
        Self {
            inner: self.inner.clone(),
            revision,
        }
    }

    /// Has everything that shows the desk drawn again.
    pub fn changed(&self) {
        let next = self.inner.revision.get().wrapping_add(1);
        self.inner.revision.set(next);
        let redraw = self.inner.redraw.borrow().clone();
        redraw.emit(next);
    }

    /// Counts the changes so far.
    pub(super) fn revision_now(&self) -> u32 {
        self.inner.revision.get()
    }

    pub fn now(&self) -> i64 {
        self.inner.clock.now_ms() as i64
    }
    pub fn style(&self) -> Style {
        self.inner.style
    }
    pub fn at(&self) -> At {
        At {
            now: self.now(),
            open_since: self.inner.open_since,
            style: self.inner.style,
        }
    }
    pub fn stage(&self) -> Stage {
        self.inner.stage.borrow().clone()
    }
    pub fn standing(&self) -> Standing {
        self.inner.standing.borrow().clone()
    }
    pub fn notice(&self) -> Option<Notice> {
        self.inner.notice.borrow().clone()
    }
    pub fn shelf(&self) -> Rc<dyn Shelf> {
        self.inner.shelf.clone()
    }
    pub fn urls(&self) -> &PhotoUrls {
        &self.inner.urls
    }
    pub fn store(&self) -> Option<BrowserStore> {
        self.inner.store.borrow().clone()
    }

    pub fn prefs(&self) -> Prefs {
        self.inner.prefs.borrow().clone()
    }
    pub fn set_prefs(&self, change: impl FnOnce(&mut Prefs)) {
        {
            let mut prefs = self.inner.prefs.borrow_mut();
            change(&mut prefs);
            prefs.turn += 1;
            prefs.save(&*self.inner.shelf);
            prefs.show();
        }
        self.changed();
    }
    /// Remembers where the person is, without drawing anything anew.
    pub fn remember_route(&self, route: &Route) {
        let mut prefs = self.inner.prefs.borrow_mut();
        let href = route.href();
        if prefs.route != href {
            prefs.route = href;
            prefs.turn += 1;
            prefs.save(&*self.inner.shelf);
            // For boot.js: a start there needs both files of the WASM.
            if route.is_in_first_file() {
                self.inner.shelf.remove(BOTH);
            } else {
                self.inner.shelf.set(BOTH, "1");
            }
            drop(prefs);
            self.ask_early(route);
        }
    }

    /// Puts down for boot.js what a start on this screen reads first.
    pub(super) fn ask_early(&self, route: &Route) {
        let question = early::question(DATABASE, boot::first_on(route));
        if self.inner.shelf.get(early::KEPT).as_ref() != Some(&question) {
            self.inner.shelf.set(early::KEPT, &question);
        }
    }

    /// What is being typed and not logged, kept letter by letter; empty text is
    /// forgotten.
    pub fn keep_typed(&self, place: &str, text: &str) {
        let key = format!("countback.typed.{place}");
        if text.is_empty() {
            self.inner.shelf.remove(&key);
        } else {
            self.inner.shelf.set(&key, text);
        }
    }
    /// What was being typed there.
    pub fn typed(&self, place: &str) -> Option<String> {
        self.inner.shelf.get(&format!("countback.typed.{place}"))
    }

    /// Whether the screen is being kept on.
    pub fn is_awake(&self) -> bool {
        self.inner.standing.borrow().awake
    }
    /// Keeps the screen on where the browser can; says nothing where it cannot.
    pub fn stay_awake(&self) {
        let wake = self.wake();
        wasm_bindgen_futures::spawn_local(async move {
            wake.on().await;
        });
    }
    fn wake(&self) -> crate::ports::wake::Wake {
        let known = self.inner.wake.borrow().clone();
        known.unwrap_or_else(|| {
            let desk = self.clone();
            let wake = crate::ports::wake::Wake::new(move |on| {
                desk.inner.standing.borrow_mut().awake = on;
                desk.changed();
            });
            self.inner.wake.replace(Some(wake.clone()));
            wake
        })
    }
    /// Keeps the screen on, or lets it go dark; call from a tap.
    pub fn keep_awake(&self, on: bool) {
        let (desk, wake) = (self.clone(), self.wake());
        wasm_bindgen_futures::spawn_local(async move {
            if on && !wake.on().await {
                desk.say(NoticeKind::Refused, "This browser does not keep the screen on. Set the phone's own screen time longer.");
            } else if !on {
                wake.off().await;
            }
        });
    }

    /// The person is in this job now; work on another is thereby broken off.
    pub fn is_in(&self, job: &str) {
        let before = self.inner.at_hand.replace(Some(job.to_owned()));
        if let Some(before) = before.filter(|it| it != job) {
            self.broke_off(&before, Break::OtherJob);
        }
    }
    /// The app was out of sight from `since` until `until`, in ms.
    pub fn away(&self, since: i64, until: i64) {
        let patience_ms = i64::from(self.prefs().patience_min) * 60_000;
        let job = self.inner.at_hand.borrow().clone();
        if let (Some(job), Some(why)) = (job, Break::hidden(since, until, patience_ms)) {
            self.broke_off(&job, why);
        }
        self.changed();
    }
    /// Of breaks that nothing was said to, the first counts: what was in the
    /// hand then is asked about.
    fn broke_off(&self, job: &str, why: Break) {
        if !self.asks(job)
            && let Some(last) = self.last_act(job)
        {
            self.set_break(job, Some(BrokenOff { why, last }));
        }
    }
    /// What broke work on a job off last.
    pub fn broken_off(&self, job: &str) -> Option<BrokenOff> {
        let breaks = self.inner.breaks.borrow();
        if let Some((_, known)) = breaks.iter().find(|(of, _)| of == job) {
            return *known;
        }
        let kept = self.inner.shelf.get(&broken_key(job));
        let kept = kept.and_then(|id| id.parse().ok());
        let last = kept.or_else(|| self.last_act(job))?;
        let why = Break::Died;
        Some(BrokenOff { why, last })
    }
    fn last_act(&self, job: &str) -> Option<EventId> {
        self.read(job, |book| book.journal().last().map(|e| e.id))?
    }
    /// Whether a break asks for something to be touched again.
    fn asks(&self, job: &str) -> bool {
        let asks = |it: BrokenOff| self.read(job, |book| guard::resume(book, it.last).is_some());
        self.broken_off(job).and_then(asks).unwrap_or_default()
    }
    pub(super) fn set_break(&self, job: &str, broken: Option<BrokenOff>) {
        let mut breaks = self.inner.breaks.borrow_mut();
        breaks.retain(|(of, _)| of != job);
        breaks.push((job.to_owned(), broken));
    }
    /// An act is about to be added: what a break asks is about what came before.
    pub(super) fn pin_break(&self, job: &str) {
        let broken = self.broken_off(job);
        self.set_break(job, broken);
    }
    /// What a break still asks is kept for the next start.
    pub(super) fn keep_break(&self, job: &str) {
        let key = broken_key(job);
        match self.broken_off(job).filter(|_| self.asks(job)) {
            Some(it) => {
                self.inner.shelf.set(&key, &it.last.to_string());
            }
            None => self.inner.shelf.remove(&key),
        }
    }

    /// Keys of the jobs that are loaded.
    pub fn jobs(&self) -> Vec<String> {
        self.inner.jobs.borrow().keys().cloned().collect()
    }
    /// Reads a job. `None` when there is no such job here.
    pub fn read<R>(&self, job: &str, look: impl FnOnce(&Book) -> R) -> Option<R> {
        self.inner
            .jobs
            .borrow()
            .get(job)
            .map(|open| look(&open.book))
    }
    /// Reads a job together with all the others.
    pub fn read_all<R>(
        &self,
        job: &str,
        look: impl FnOnce(&Book, &[(&str, &Job)]) -> R,
    ) -> Option<R> {
        let jobs = self.inner.jobs.borrow();
        let others: Vec<(&str, &Job)> = jobs
            .iter()
            .filter(|(key, _)| *key != job)
            .map(|(key, open)| (key.as_str(), open.book.job()))
            .collect();
        jobs.get(job).map(|open| look(&open.book, &others))
    }
    /// Keys of the job at hand and then of those others that are looked through
    /// with it.
    pub fn jobs_with(&self, job: &str, with: fn(&Job, &Job) -> bool) -> Vec<String> {
        let keys = self.read_all(job, |book, others| {
            let asked = others.iter().filter(|(_, it)| with(book.job(), it));
            let first = std::iter::once(job.to_owned());
            first
                .chain(asked.map(|(key, _)| (*key).to_owned()))
                .collect()
        });
        keys.unwrap_or_default()
    }
    /// Whether another tab holds the pen.
    pub fn reads_only(&self, job: &str) -> bool {
        self.inner
            .jobs
            .borrow()
            .get(job)
            .is_some_and(|open| matches!(open.pen, Pen::Elsewhere))
    }

    pub fn ctx(&self) -> Ctx {
        Ctx {
            now: self.now(),
            device: self.inner.device.get(),
            by: self.inner.prefs.borrow().by.trim().to_owned(),
        }
    }

    /// Asks for a command; what came of it is said in a notice.
    pub fn tell(&self, job: &str, command: Command) {
        self.tell_then(job, command, Along::default(), Callback::noop());
    }
    /// Asks for a command with what goes along, and hears what came of it.
    pub fn tell_then(&self, job: &str, command: Command, along: Along, done: Callback<Told>) {
        self.ask(Deed {
            job: job.to_owned(),
            command,
            along,
            done,
            silent: false,
            by: None,
        });
    }
    /// Asks for a command in another's name: whoever looks a second time, or
    /// answers for an exception.
    pub fn tell_as(&self, job: &str, command: Command, by: &str) {
        self.ask(Deed {
            job: job.to_owned(),
            command,
            along: Along::default(),
            done: Callback::noop(),
            silent: false,
            by: Some(by.trim().to_owned()),
        });
    }
    /// The same, but a refusal is the caller's to show.
    pub fn try_tell(&self, job: &str, command: Command, done: Callback<Told>) {
        self.ask(Deed {
            job: job.to_owned(),
            command,
            along: Along::default(),
            done,
            silent: true,
            by: None,
        });
    }

    /// Shows a notice of its own.
    pub fn say(&self, kind: NoticeKind, text: impl Into<String>) {
        self.note(kind, text.into(), None);
    }
    pub(super) fn note(&self, kind: NoticeKind, text: String, undo: Option<(String, EventId)>) {
        let serial = self
            .inner
            .notice
            .borrow()
            .as_ref()
            .map_or(0, |n| n.serial)
            .wrapping_add(1);
        self.inner.notice.replace(Some(Notice {
            serial,
            text,
            kind,
            undo,
            at: self.now(),
            job: crate::router::current().job().cloned(),
            ways: None,
        }));
        self.changed();
    }
    /// Says why a command was refused, and what can be done about it.
    pub fn refuse(&self, job: &str, refusal: &Refusal) {
        let ways = self.read(job, |book| view::ways_on(book, refusal));
        self.note(NoticeKind::Refused, self.refusal(job, refusal), None);
        if let Some(notice) = self.inner.notice.borrow_mut().as_mut() {
            notice.ways = ways.flatten().map(|it| (job.to_owned(), it));
        }
    }
    /// The person came to another screen: what was said on the last one goes,
    /// but for a fault, and for a refusal within the same job. What an act says
    /// as it leads there itself stays.
    pub(super) fn came_to(&self, job: Option<&AttrValue>) {
        let ends = self.inner.notice.borrow().as_ref().is_some_and(|it| {
            let elsewhere = it.job.as_ref() != job;
            match it.kind {
                NoticeKind::Saved => elsewhere || self.now() - it.at > LEADS_MS,
                NoticeKind::Refused => elsewhere && self.now() - it.at > LEADS_MS,
                NoticeKind::Fault => false,
            }
        });
        if ends && let Some(serial) = self.notice().map(|it| it.serial) {
            self.end_notice(serial);
        }
    }
    pub fn end_notice(&self, serial: u32) {
        let is_it = self
            .inner
            .notice
            .borrow()
            .as_ref()
            .is_some_and(|n| n.serial == serial);
        if is_it {
            if let Some(notice) = self.inner.notice.borrow_mut().as_mut() {
                notice.text.clear();
                notice.undo = None;
            }
            self.changed();
        }
    }

    /// Says why nothing is kept.
    pub(super) fn not_kept(&self, fault: Fault) {
        self.inner.standing.borrow_mut().unkept = Some(fault);
    }

    /// A job could not be read: one that is damaged is told of until its copy
    /// has put it right.
    pub(super) fn unread(&self, job: &str, fault: &Fault) {
        if let Fault::Corrupt { .. } = fault {
            self.inner.standing.borrow_mut().unread.push(job.to_owned());
        } else {
            self.note(NoticeKind::Fault, super::faults::store(fault), None);
        }
    }

    /// A refusal in words.
    pub fn refusal(&self, job: &str, refusal: &Refusal) -> String {
        let style = self.inner.style;
        self.read(job, |book| words::refusal(book.job(), refusal, style))
            .unwrap_or_else(|| words::refusal(&Job::default(), refusal, style))
    }
}

/// An act that leads to another screen does so within this time, in ms. A
/// design choice, no source.
const LEADS_MS: i64 = 1_000;

/// Where the last act before a break that was not answered is kept.
fn broken_key(job: &str) -> String {
    format!("countback.broken.{job}")
}
