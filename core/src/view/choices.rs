//! Choices of which there may be many: what to call each, and which of them a
//! search leaves.
use rustc_hash::FxHashMap;

use crate::find::synonyms::Synonyms;
use crate::find::tokens::tokens;
use crate::job::{Job, Part};
use crate::journal::*;

/// One of many.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What the screen gives back when it is chosen.
    pub id: String,
    pub name: String,
}

/// Parts as choices, in this order. Parts of one name are told apart by where
/// they lie, and where that is the same by which of them came off first.
pub(super) fn parts<'a>(
    job: &'a Job,
    wanted: impl Fn(&Part) -> bool + 'a,
) -> impl Iterator<Item = Choice> + 'a {
    let mut of_name: FxHashMap<&str, Vec<(PartId, &str)>> = FxHashMap::default();
    for (id, part) in job.parts.iter() {
        let alike = of_name.entry(part.name.as_str()).or_default();
        alike.push((id, part.lies.as_str()));
    }
    let rows = job.parts.iter().rev().filter(move |(_, it)| wanted(it));
    rows.map(move |(id, part)| Choice {
        id: id.to_string(),
        name: match of_name.get(part.name.as_str()) {
            Some(alike) if alike.len() > 1 => told_apart(&part.name, id, alike),
            _ => part.name.clone(),
        },
    })
}

fn told_apart(name: &str, id: PartId, alike: &[(PartId, &str)]) -> String {
    let at = alike.iter().position(|it| it.0 == id).unwrap_or(0);
    let lies = alike.get(at).map_or("", |it| it.1);
    let alone = alike.iter().filter(|it| it.1 == lies).count() == 1;
    match !lies.is_empty() && alone {
        true => format!("{name}, {lies}"),
        false => format!("{name}, {} of {}", at + 1, alike.len()),
    }
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
