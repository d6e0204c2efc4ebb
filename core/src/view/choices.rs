//! Choices of which there may be many: what to call each, and which of them a
//! search leaves.
use rustc_hash::FxHashMap;

use crate::find::synonyms::Synonyms;
use crate::find::tokens::tokens;
use crate::job::{Connection, EndState, Job, Part};
use crate::journal::{PartId, Target};

/// One of many.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What the screen gives back when it is chosen.
    pub id: String,
    pub name: String,
}

/// Stands before the id of a connection among choices of parts.
const HOSE: &str = "hose:";

/// What is named by a choice of what had to be off first.
pub fn needed(id: &str) -> Option<Target> {
    match id.strip_prefix(HOSE) {
        Some(hose) => Some(Target::Connection(hose.parse().ok()?)),
        None => Some(Target::Part(id.parse().ok()?)),
    }
}

/// Hoses and plugs of which an end is off, the last first.
pub(super) fn apart(job: &Job) -> Vec<Choice> {
    let open = |c: &Connection| [&c.a, &c.b].iter().any(|e| e.state == EndState::Parted);
    let open = job.connections.iter().filter(|(_, c)| open(c));
    let mut all: Vec<Choice> = open
        .map(|(id, c)| Choice {
            id: format!("{HOSE}{id}"),
            name: c.name.clone(),
        })
        .collect();
    all.reverse();
    all
}

/// Parts but for these, those that are off first.
pub(super) fn others(job: &Job, but: &[PartId]) -> Vec<Choice> {
    let id = |it: &Choice| it.id.parse::<PartId>().ok();
    let mut all = parts(job, |_| true);
    all.retain(|it| id(it).is_some_and(|id| !but.contains(&id)));
    let off = |it: &Choice| {
        id(it)
            .and_then(|id| job.parts.get(id))
            .is_some_and(Part::off)
    };
    all.sort_by_key(|it| !off(it));
    all
}

/// Parts as choices, the last first. Parts of one name are told apart by where
/// they lie, and where that is the same by which of them came off first.
pub(super) fn parts(job: &Job, wanted: impl Fn(&Part) -> bool) -> Vec<Choice> {
    let mut of_name: FxHashMap<&str, u32> = FxHashMap::default();
    let mut of_both: FxHashMap<(&str, &str), u32> = FxHashMap::default();
    for part in job.parts.rows() {
        *of_name.entry(&part.name).or_default() += 1;
        *of_both.entry((&part.name, &part.lies)).or_default() += 1;
    }
    let mut so_far: FxHashMap<&str, u32> = FxHashMap::default();
    let mut choices = Vec::new();
    for (id, part) in job.parts.iter() {
        let (name, lies) = (part.name.as_str(), part.lies.as_str());
        let at = so_far.entry(name).or_default();
        *at += 1;
        if !wanted(part) {
            continue;
        }
        let alike = of_name.get(name).copied().unwrap_or(1);
        let alone = of_both.get(&(name, lies)) == Some(&1);
        let name = match (alike > 1, !lies.is_empty() && alone) {
            (false, _) => name.to_owned(),
            (true, true) => format!("{name}, {lies}"),
            (true, false) => format!("{name}, {at} of {alike}"),
        };
        let id = id.to_string();
        choices.push(Choice { id, name });
    }
    choices.reverse();
    choices
}

/// What a search leaves: every word asked for begins a word of the name, in
/// the trade words of either dialect. All of them when nothing is asked.
pub fn narrowed(all: &[Choice], asked: &str) -> Vec<Choice> {
    let asked = tokens(asked);
    let synonyms = Synonyms::default();
    let mut phrases = vec![asked.clone()];
    if let Some((_, others)) = synonyms.at(&asked).filter(|(len, _)| *len == asked.len()) {
        phrases.extend(others.into_iter().cloned());
    }
    let fits = |choice: &&Choice| {
        let words = tokens(&choice.name);
        let begins = |it: &String| words.iter().any(|word| word.starts_with(it.as_str()));
        phrases.iter().any(|phrase| phrase.iter().all(begins))
    };
    all.iter().filter(fits).cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_search_takes_the_beginnings_of_words_and_both_dialects() {
        let all: Vec<Choice> = ["silencer", "oil filter housing", "fan housing"]
            .into_iter()
            .map(|name| Choice {
                id: name.to_owned(),
                name: name.to_owned(),
            })
            .collect();
        let found = |asked: &str| -> Vec<String> {
            let left = narrowed(&all, asked);
            left.into_iter().map(|it| it.id).collect()
        };
        assert_eq!(
            found(" "),
            ["silencer", "oil filter housing", "fan housing"]
        );
        assert_eq!(found("hous fil"), ["oil filter housing"]);
        assert_eq!(found("muffler"), ["silencer"]);
        assert_eq!(found("gearbox"), [""; 0]);
    }
}
