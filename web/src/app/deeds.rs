//! The one place where things are done: commands are decided, stored in one
//! transaction and folded, one after the other, in the order of the taps.
use countback_core::codec;
use countback_core::job::{Book, Command, Ctx, Refusal};
use countback_core::journal::{Act, Event, Journal};
use countback_core::view;
use wasm_bindgen_futures::spawn_local;
use yew::Callback;

use super::desk::{Along, Deed, Desk, NoticeKind, OpenJob, Pen, Told};
use super::faults;
use super::prefs;
use crate::ports::lock::{JobLock, LockFault};
use crate::ports::marks;
use crate::ports::store::{
    ActRow, Batch, DraftRow, Fault, JobRows, Opening, PhotoRow, Store, ThumbRow,
};
use crate::router;

/// Pictures that come with a whole job.
pub(super) type Pictures = (Vec<PhotoRow>, Vec<ThumbRow>);

impl Desk {
    pub(super) fn ask(&self, deed: Deed) {
        marks::mark("act:tap");
        self.inner.queue.borrow_mut().push_back(deed);
        if !self.inner.busy.replace(true) {
            let desk = self.clone();
            spawn_local(async move { desk.work_off().await });
        }
    }

    async fn work_off(&self) {
        loop {
            let next = self.inner.queue.borrow_mut().pop_front();
            let Some(deed) = next else { break };
            let mut ctx = self.ctx();
            if let Some(by) = deed.by {
                ctx.by = by;
            }
            let told = self
                .carry_out(&deed.job, deed.command, deed.along, ctx)
                .await;
            self.tell_of(&deed.job, &told, deed.silent);
            deed.done.emit(told);
        }
        self.inner.busy.set(false);
    }

    fn tell_of(&self, job: &str, told: &Told, silent: bool) {
        match told {
            Told::Saved(events) => {
                marks::measure_saved();
                let said = self.read(job, |book| {
                    let said = events.iter().find(|e| !is_small(e)).or(events.first());
                    said.map(|e| view::entry_text(book, e, self.style()))
                });
                let text = said.flatten().unwrap_or_default();
                let struck = events.iter().any(|e| matches!(e.act, Act::Struck { .. }));
                let undo = events
                    .first()
                    .filter(|_| !struck && router::current().job().is_some_and(|it| it == job))
                    .map(|e| (job.to_owned(), e.id));
                self.note(NoticeKind::Saved, format!("Saved. {text}"), undo);
            }
            Told::Refused(refusal) if !silent => {
                self.note(NoticeKind::Refused, self.refusal(job, refusal), None);
            }
            Told::Refused(_) => self.changed(),
            Told::Failed(fault) => self.note(NoticeKind::Fault, faults::store(fault), None),
        }
    }

    /// Decides, stores, folds.
    async fn carry_out(&self, job: &str, command: Command, along: Along, ctx: Ctx) -> Told {
        let decided = {
            let jobs = self.inner.jobs.borrow();
            match jobs.get(job) {
                Some(open) if matches!(open.pen, Pen::Elsewhere) => {
                    return Told::Failed(Fault::ReadOnly);
                }
                Some(open) => open
                    .book
                    .decide(command, &ctx)
                    .map(|events| (events, open.seq)),
                None => Book::default()
                    .decide(command, &ctx)
                    .map(|events| (events, 0)),
            }
        };
        let (events, seq) = match decided {
            Ok(decided) => decided,
            Err(refusal) => return Told::Refused(refusal),
        };
        let mut batch = batch(job, &events, seq, along);
        batch.put_setting = Some((prefs::WITH_ACT, self.inner.prefs.borrow().text()));
        let Some(store) = self.store() else {
            return Told::Failed(Fault::Unavailable);
        };
        match store.commit(batch).await {
            Ok(ack) => {
                self.pin_break(job);
                if let Some(open) = self.inner.jobs.borrow_mut().get_mut(job) {
                    open.seq = ack.last_seq;
                    open.book.append(events.clone());
                }
                self.keep_break(job);
                if let Some(news) = self.inner.news.borrow().as_ref() {
                    news.tell(job);
                }
                if !ack.unreadable.is_empty() {
                    self.note(
                        NoticeKind::Fault,
                        faults::photos_unreadable(ack.unreadable.len()),
                        None,
                    );
                }
                Told::Saved(events)
            }
            Err(Fault::OutOfOrder { .. }) => {
                // Another tab wrote; take in what it wrote, then let the person look.
                let _ = self.load(job).await;
                Told::Failed(Fault::OutOfOrder {
                    expected: 0,
                    found: 0,
                })
            }
            Err(fault) => Told::Failed(fault),
        }
    }

    /// Opens a new job; the key is told once it is stored.
    pub fn open_job(&self, command: Command, done: Callback<Result<String, Told>>) {
        let desk = self.clone();
        spawn_local(async move {
            let events = match desk.first_acts(&command) {
                Ok(events) => events,
                Err(refusal) => {
                    desk.note(NoticeKind::Refused, desk.refusal("", &refusal), None);
                    return done.emit(Err(Told::Refused(refusal)));
                }
            };
            match desk
                .store_new(Journal::new(events), Pictures::default(), false)
                .await
            {
                Ok(key) => done.emit(Ok(key)),
                Err(fault) => {
                    desk.note(NoticeKind::Fault, faults::store(&fault), None);
                    done.emit(Err(Told::Failed(fault)));
                }
            }
        });
    }

    /// The acts that open a job. A job begins its clock at the second it is
    /// opened in; one that is opened in the same second as another begins with
    /// the next that is free, so that no two share an id.
    fn first_acts(&self, command: &Command) -> Result<Vec<Event>, Refusal> {
        let now = self.ctx();
        let mut ctx = now.clone();
        loop {
            let mut events = Book::default().decide(command.clone(), &ctx)?;
            let key = events.first().map(|e| e.id.to_string());
            let here = key.is_some_and(|key| {
                self.inner.jobs.borrow().contains_key(&key)
                    || self.inner.standing.borrow().unread.contains(&key)
            });
            if !here {
                for event in &mut events {
                    event.at = now.now;
                }
                return Ok(events);
            }
            ctx.now = ctx.now.saturating_add(1_000);
        }
    }

    /// Stores a whole journal as a job, with its pictures, in one transaction;
    /// in place of what is stored of that job where that could not be read.
    pub(super) async fn store_new(
        &self,
        journal: Journal,
        pictures: Pictures,
        instead: bool,
    ) -> Result<String, Fault> {
        let events: Vec<Event> = journal.iter().cloned().collect();
        let Some(first) = events.first() else {
            return Err(Fault::BadBatch { at_row: 0 });
        };
        let key = first.id.to_string();
        let store = self.store().ok_or(Fault::Unavailable)?;
        let mut batch = batch(&key, &events, 0, Along::default());
        (batch.photos, batch.thumbs) = pictures;
        batch.instead = instead;
        let ack = store.commit(batch).await?;
        let open = OpenJob {
            book: Book::open(journal),
            seq: ack.last_seq,
            pen: Pen::Unasked,
        };
        self.inner.jobs.borrow_mut().insert(key.clone(), open);
        // It came here just now: nothing was in this hand.
        self.set_break(&key, None);
        self.take_pen(&key).await;
        self.changed();
        Ok(key)
    }

    /// What can still be read of a job that is stored and cannot be opened; none
    /// where nothing of it is stored.
    ///
    /// # Errors
    /// [`Fault::NewerVersion`] where a newer version wrote it, as it may be whole.
    pub(super) async fn still_readable(&self, job: &str) -> Result<Option<Vec<Event>>, Fault> {
        let store = self.store().ok_or(Fault::Unavailable)?;
        let rows = match store.rows(job).await {
            Ok(rows) if rows.rows.is_empty() && rows.missing == 0 => return Ok(None),
            Ok(rows) => rows.rows,
            Err(Fault::Corrupt { .. }) => Vec::new(),
            Err(fault) => return Err(fault),
        };
        let mut events = Vec::with_capacity(rows.len());
        for row in &rows {
            match codec::decode(&row.line) {
                Ok(event) => events.push(event),
                Err(codec::CodecError::Newer { .. }) => return Err(Fault::NewerVersion),
                Err(codec::CodecError::Damaged { .. }) => {}
            }
        }
        Ok(Some(events))
    }

    /// Takes in the acts of a copy of a job that is here, in one transaction.
    pub(super) async fn take_in(
        &self,
        job: &str,
        journal: &Journal,
        pictures: Pictures,
    ) -> Result<usize, Fault> {
        self.take_pen(job).await;
        if self.reads_only(job) {
            return Err(Fault::ReadOnly);
        }
        let (new, seq) = {
            let jobs = self.inner.jobs.borrow();
            let open = jobs.get(job).ok_or(Fault::Gone)?;
            let new: Vec<Event> = journal
                .iter()
                .filter(|e| open.book.journal().get(e.id).is_none())
                .cloned()
                .collect();
            (new, open.seq)
        };
        let store = self.store().ok_or(Fault::Unavailable)?;
        let mut batch = batch(job, &new, seq, Along::default());
        (batch.photos, batch.thumbs) = pictures;
        let ack = store.commit(batch).await?;
        let n = new.len();
        if let (Some(open), true) = (self.inner.jobs.borrow_mut().get_mut(job), n > 0) {
            open.seq = ack.last_seq;
            open.book.append(new);
        }
        if let Some(news) = self.inner.news.borrow().as_ref() {
            news.tell(job);
        }
        self.changed();
        Ok(n)
    }

    /// Reads a job from the store and folds it.
    pub async fn load(&self, job: &str) -> Result<(), Fault> {
        let store = self.store().ok_or(Fault::Unavailable)?;
        let rows = store.rows(job).await?;
        self.fold_rows(job, &rows)?;
        self.changed();
        Ok(())
    }

    /// Folds the rows of a job, in place of what is known of it.
    pub(super) fn fold_rows(&self, job: &str, rows: &JobRows) -> Result<(), Fault> {
        if rows.rows.is_empty() && rows.missing == 0 {
            // Another tab has deleted it.
            self.inner.jobs.borrow_mut().remove(job);
            return Ok(());
        }
        let mut events = Vec::with_capacity(rows.rows.len());
        for row in &rows.rows {
            match codec::decode(&row.line) {
                Ok(event) => events.push(event),
                Err(codec::CodecError::Newer { .. }) => return Err(Fault::NewerVersion),
                Err(codec::CodecError::Damaged { .. }) => {
                    return Err(Fault::Corrupt {
                        what: crate::ports::store::Damaged::Row {
                            store: "acts",
                            key: row.key.clone(),
                        },
                    });
                }
            }
        }
        let seq = rows.rows.iter().map(|r| r.seq).max().unwrap_or(0);
        let book = Book::open(Journal::new(events));
        let mut jobs = self.inner.jobs.borrow_mut();
        match jobs.get_mut(job) {
            Some(open) => {
                open.book = book;
                open.seq = seq;
            }
            None => {
                jobs.insert(
                    job.to_owned(),
                    OpenJob {
                        book,
                        seq,
                        pen: Pen::Unasked,
                    },
                );
            }
        }
        Ok(())
    }

    /// Asks for the right to write to a job.
    pub async fn take_pen(&self, job: &str) {
        let asked = self
            .inner
            .jobs
            .borrow()
            .get(job)
            .map(|o| matches!(o.pen, Pen::Unasked | Pen::Elsewhere));
        if asked != Some(true) {
            return;
        }
        let answer = JobLock::take(job).await;
        self.hold_pen(job, answer);
        self.changed();
    }

    /// Takes the answer to the question for the right to write.
    pub(super) fn hold_pen(&self, job: &str, answer: Result<Option<JobLock>, LockFault>) {
        let pen = match answer {
            Ok(Some(lock)) => Pen::Mine(lock),
            Ok(None) => Pen::Elsewhere,
            Err(LockFault::Unavailable | LockFault::Refused { .. }) => Pen::Unguarded,
        };
        let elsewhere = matches!(pen, Pen::Elsewhere);
        if let Some(open) = self.inner.jobs.borrow_mut().get_mut(job) {
            open.pen = pen;
        }
        if elsewhere {
            self.wait_for_pen(job.to_owned());
        }
    }

    /// Writes as soon as the other tab lets go.
    fn wait_for_pen(&self, job: String) {
        let desk = self.clone();
        spawn_local(async move {
            if let Ok(lock) = JobLock::wait(&job).await {
                // What the other tab wrote comes first.
                let _ = desk.load(&job).await;
                if let Some(open) = desk.inner.jobs.borrow_mut().get_mut(&job) {
                    open.pen = Pen::Mine(lock);
                }
                desk.changed();
            }
        });
    }

    /// The person has read that entries are missing: what is here counts now.
    pub fn accept_loss(&self) {
        let opening = self.inner.standing.borrow_mut().opening.take();
        let (Some(store), Some(Opening::Lost { jobs })) = (self.store(), opening) else {
            return;
        };
        let desk = self.clone();
        spawn_local(async move {
            for lost in jobs {
                if let Err(fault) = store.accept_loss(&lost.job).await {
                    desk.note(NoticeKind::Fault, faults::store(&fault), None);
                }
            }
            desk.changed();
        });
    }

    /// Keeps a half-made entry through whatever happens to the page.
    pub fn keep_draft(&self, key: String, text: String) {
        let Some(store) = self.store() else { return };
        spawn_local(async move {
            let batch = Batch {
                job: String::new(),
                put_draft: Some(DraftRow { key, text }),
                ..Batch::default()
            };
            // A draft that cannot be kept is still on the screen.
            let _ = store.commit(batch).await;
        });
    }

    pub fn drop_draft(&self, key: String) {
        let Some(store) = self.store() else { return };
        spawn_local(async move {
            let _ = store
                .commit(Batch {
                    drop_draft: Some(key),
                    ..Batch::default()
                })
                .await;
        });
    }

    /// The draft kept under a key, if there is one.
    pub async fn draft(&self, key: &str) -> Option<String> {
        let store = self.store()?;
        let rows = store.drafts(key).await.ok()?;
        rows.into_iter()
            .find(|row| row.key == key)
            .map(|row| row.text)
    }
}

fn batch(job: &str, events: &[Event], seq: u32, along: Along) -> Batch {
    let rows = (seq + 1..)
        .zip(events)
        .map(|(seq, e)| ActRow {
            key: e.id.to_string(),
            seq,
            line: codec::encode(e),
        })
        .collect();
    let (photos, thumbs) = along
        .pictures
        .into_iter()
        .map(|p| (p.photo, p.thumb))
        .unzip();
    Batch {
        job: job.to_owned(),
        rows,
        photos,
        thumbs,
        drop_draft: along.drop_draft,
        put_draft: None,
        put_setting: None,
        instead: false,
    }
}

/// Acts that only come along with another.
fn is_small(event: &Event) -> bool {
    matches!(
        event.act,
        Act::ContainerNamed { .. } | Act::StockAdded { .. } | Act::MarkSet { .. }
    )
}
