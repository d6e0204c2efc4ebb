//! The words of what is logged, each of which can be put right later: names,
//! place words, numbers of holes, watch-outs.
use crate::job::{Command, Job};
use crate::journal::*;
use crate::words;

/// Which of a thing's words is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// Its name, or the place of a fixing in words.
    Name,
    /// Where a part or a container lies.
    Lies,
    /// What was written on a part.
    Note,
    /// The numbers drawn for the places of a fixing.
    Numbers,
    /// Shown again when a fixing goes back.
    Watch,
    /// What it is turned with.
    Tool,
}

/// One of them, as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct WordRow {
    pub what: Target,
    pub word: Word,
    /// What it is the word of.
    pub label: String,
    pub now: String,
    /// How it is typed, where that is not plain.
    pub hint: &'static str,
}

/// All words of a part and what hangs on it, of a fixing, or, for the job, of
/// what is of no part.
pub fn words_of(job: &Job, about: Target) -> Vec<WordRow> {
    let mut rows = Rows(job, Vec::new());
    match about {
        Target::Part(id) => rows.part(id),
        Target::Fixing(id) => rows.fixing(id),
        _ => rows.machine(),
    }
    rows.1
}

/// The job so far, and the rows.
struct Rows<'a>(&'a Job, Vec<WordRow>);

impl Rows<'_> {
    fn row(&mut self, what: Target, word: Word, label: String, now: &str) {
        let hint = match word {
            Word::Numbers => "One a place, as 1, 4, 6; empty for none",
            Word::Watch => "Said again before it goes back",
            _ => "",
        };
        self.1.push(WordRow {
            what,
            word,
            label,
            now: now.to_owned(),
            hint,
        });
    }

    fn name(&mut self, what: Target, kind: &str, now: &str) {
        self.row(what, Word::Name, kind.to_owned(), now);
    }

    fn part(&mut self, id: PartId) {
        let job = self.0;
        let Some(it) = job.parts.get(id) else {
            return;
        };
        let what = Target::Part(id);
        self.name(what, "Its name", &it.name);
        self.row(what, Word::Lies, "Where it lies".to_owned(), &it.lies);
        self.row(
            what,
            Word::Note,
            "What is written on it".to_owned(),
            &it.note,
        );
        for &fixing in &it.fixings {
            self.fixing(fixing);
        }
        let on_it = |c: &&crate::job::Connection| [&c.a, &c.b].iter().any(|e| e.end.on == Some(id));
        let ids = job.connections.iter().filter(|(_, c)| on_it(c));
        let ids: Vec<ConnectionId> = ids.map(|it| it.0).collect();
        for id in ids {
            self.connection(id);
        }
        for &item in &it.items {
            self.item(item);
        }
        for &treatment in &it.treatments {
            self.treatment(treatment);
        }
        for &finding in &it.findings {
            if let Some(f) = job.findings.get(finding) {
                self.name(Target::Finding(finding), "Finding", &f.text);
            }
        }
        let here = |on: Option<PartId>| on == Some(id);
        for (opening, o) in job.openings.iter() {
            if here(o.on) || here(o.shut_by) {
                self.name(Target::Opening(opening), "Opening", &o.name);
            }
        }
    }

    fn fixing(&mut self, id: FixingId) {
        let Some(it) = self.0.fixings.get(id) else {
            return;
        };
        let what = Target::Fixing(id);
        let of = it.spec.labels(it.places.len() as u32);
        let called = |word: &str| format!("{of}: {word}");
        let numbers: Vec<String> = it.numbers.iter().map(u16::to_string).collect();
        self.row(what, Word::Name, called("which place"), &it.place);
        self.row(
            what,
            Word::Numbers,
            called("numbers of its holes"),
            &numbers.join(", "),
        );
        self.row(
            what,
            Word::Watch,
            called("mind, when it goes back"),
            &it.detail.watch,
        );
        self.row(what, Word::Tool, called("tool"), &it.detail.tool);
        for &item in &it.items {
            self.item(item);
        }
        for &treatment in &it.treatments {
            self.treatment(treatment);
        }
    }

    fn connection(&mut self, id: ConnectionId) {
        let Some(it) = self.0.connections.get(id) else {
            return;
        };
        let kind = words::connection_kind(it.kind);
        self.name(Target::Connection(id), &words::capital(kind), &it.name);
        for (side, end) in [(Side::A, &it.a), (Side::B, &it.b)] {
            let what = Target::End(EndId {
                connection: id,
                side,
            });
            let at = match end.end.on {
                Some(part) => words::name(self.0, Target::Part(part)),
                None => "the machine".to_owned(),
            };
            self.name(what, &format!("{}: end on {at}", it.name), &end.end.label);
        }
    }

    fn item(&mut self, id: ItemId) {
        if let Some(it) = self.0.items.get(id) {
            self.name(Target::Item(id), "Used once", &it.name);
        }
    }

    fn treatment(&mut self, id: TreatmentId) {
        if let Some(it) = self.0.treatments.get(id) {
            self.name(Target::Treatment(id), "Put on", &it.treatment.product);
        }
    }

    /// What is of no part: containers, fluids, supplies, what is inside, what
    /// was written on the list to buy.
    fn machine(&mut self) {
        let job = self.0;
        for (id, it) in job.containers.iter() {
            let what = Target::Container(id);
            let kind = words::capital(words::container_kind(it.kind));
            let of = format!("{kind} {}", it.tag);
            self.name(what, &of, &it.name);
            self.row(what, Word::Lies, format!("{of}: where it lies"), &it.lies);
        }
        for (id, it) in job.fluids.iter() {
            self.name(Target::Fluid(id), "Fluid", &it.name);
        }
        for (id, it) in job.supplies.iter() {
            self.name(Target::Supply(id), "Cut off", &it.name);
        }
        for (id, it) in job.openings.iter() {
            if it.on.is_none() && it.shut_by.is_none() {
                self.name(Target::Opening(id), "Opening", &it.name);
            }
        }
        for (id, it) in job.insides.iter() {
            self.name(Target::Inside(id), "Put in", &it.put.name);
        }
        let loose = |c: &crate::job::Connection| c.a.end.on.is_none() && c.b.end.on.is_none();
        let ids = job.connections.iter().filter(|(_, c)| loose(c));
        let ids: Vec<ConnectionId> = ids.map(|it| it.0).collect();
        for id in ids {
            self.connection(id);
        }
        for (id, it) in job.buys.iter() {
            self.name(Target::Buy(id), "To buy", &it.what);
        }
    }
}

/// What keeps a word as it is typed now; none where nothing else is said, or a
/// number cannot be read, which the text then says.
pub fn put_right(job: &Job, row: &WordRow, typed: &str) -> Result<Command, String> {
    let text = typed.trim();
    let gone = || "It is no longer there.".to_owned();
    let act = match (row.what, row.word) {
        (Target::Part(part), word) => {
            let it = job.parts.get(part).ok_or_else(gone)?;
            let keep = |its: Word, now: &String| match its == word {
                true => text.to_owned(),
                false => now.clone(),
            };
            Act::PartDescribed {
                part,
                name: keep(Word::Name, &it.name),
                lies: keep(Word::Lies, &it.lies),
                note: keep(Word::Note, &it.note),
            }
        }
        (Target::Container(container), Word::Lies) => Act::ContainerMoved {
            container,
            lies: text.to_owned(),
        },
        (Target::Fixing(fixing), Word::Numbers) => Act::Numbered {
            fixing,
            numbers: hole_numbers(text)?,
        },
        (Target::Fixing(fixing), word @ (Word::Watch | Word::Tool)) => {
            let mut detail = job.fixings.get(fixing).ok_or_else(gone)?.detail.clone();
            match word {
                Word::Watch => detail.watch = text.to_owned(),
                _ => detail.tool = text.to_owned(),
            }
            Act::FixingDescribed { fixing, detail }
        }
        (what, _) => Act::Named {
            what,
            name: text.to_owned(),
        },
    };
    Ok(Command::Record(act))
}

/// The numbers of holes as they are typed, with commas or blanks between.
///
/// # Errors
/// What cannot be read as a number from 1 to 65,535, or stands twice.
pub fn hole_numbers(text: &str) -> Result<Vec<u16>, String> {
    let mut numbers = Vec::new();
    let typed = text.split(|c: char| c == ',' || c == ';' || c.is_whitespace());
    for it in typed.filter(|it| !it.is_empty()) {
        match it.parse() {
            Ok(0) | Err(_) => return Err(format!("\"{it}\" is no number of a hole.")),
            Ok(n) if numbers.contains(&n) => return Err(format!("Hole {n} stands there twice.")),
            Ok(n) => numbers.push(n),
        }
    }
    Ok(numbers)
}
