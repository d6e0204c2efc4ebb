//! Asking the index: each word or trade name asked for is a concept that a
//! record meets well, less well or not at all; records that meet more of them
//! come first, and among those the better by a BM25-like weight.

use rustc_hash::FxHashMap;

use super::build::{Index, Posting, letters_of};
use super::size::Asked;
use super::tokens::tokens;
use super::{Found, Hit, How, Matched};

const SYNONYM: f32 = 0.9;
const PREFIX: f32 = 0.75;
/// For one slip; two slips halve it.
const SPELLING: f32 = 0.6;

/// Shorter words are too like each other for a slip to be told.
const LEAST_SPELT: usize = 4;
/// From this length on, two slips are allowed.
const LONG: usize = 8;
const LEAST_PREFIX: usize = 2;

/// BM25: how fast more of a word stops counting, and how much length matters.
const K: f32 = 1.2;
const B: f32 = 0.5;

/// Terms that must all be in a record, and what that is worth.
struct Meets {
    terms: Vec<usize>,
    worth: f32,
    how: How,
}

/// One thing asked for and the ways to meet it.
struct Concept {
    asked: String,
    options: Vec<Meets>,
}

impl Index {
    /// Answers a question with up to `limit` hits.
    pub fn find(&self, question: &str, limit: usize) -> Found {
        let tag = self.tag(question);
        let size = Asked::read(question);
        let words = match &size {
            Some((_, rest)) => rest.clone(),
            None => tokens(question),
        };
        let concepts = self.concepts(&words);
        let mut scores = Scores::default();
        if let Some((asked, _)) = &size {
            for it in &self.sized {
                if let Some((_, worth)) = asked.meets(it) {
                    scores.meet(it.doc, worth * 5.0);
                }
            }
            scores.next();
        }
        for concept in &concepts {
            for option in &concept.options {
                self.meet(option, &mut scores);
            }
            scores.next();
        }
        let asked = concepts.len() + usize::from(size.is_some());
        let size = size.map(|it| it.0);
        let hits = scores
            .best(asked, limit)
            .into_iter()
            .filter_map(|(doc, score)| self.hit(doc, score, size.as_ref(), &concepts))
            .collect();
        Found { hits, tag }
    }

    fn concepts(&self, words: &[String]) -> Vec<Concept> {
        let mut concepts = Vec::new();
        let mut at = 0;
        while let Some(rest) = words.get(at..).filter(|it| !it.is_empty()) {
            let (taken, others) = self.synonyms.at(rest).unwrap_or((1, Vec::new()));
            let name = rest.get(..taken).unwrap_or(rest);
            let mut options = Vec::new();
            self.add_name(name, 1.0, How::Exact, &mut options);
            for other in others {
                self.add_name(other, SYNONYM, How::Synonym, &mut options);
            }
            if let [word] = name {
                self.add_prefixes(word, &mut options);
                if !options.iter().any(|it| it.how == How::Exact) {
                    self.add_misspelt(word, &mut options);
                }
            }
            concepts.push(Concept {
                asked: name.join(" "),
                options,
            });
            at += taken;
        }
        concepts
    }

    fn term(&self, word: &str) -> Option<usize> {
        self.terms.binary_search_by(|it| (**it).cmp(word)).ok()
    }

    fn add_name(&self, name: &[String], worth: f32, how: How, options: &mut Vec<Meets>) {
        let terms: Option<Vec<usize>> = name.iter().map(|it| self.term(it)).collect();
        if let Some(terms) = terms {
            options.push(Meets { terms, worth, how });
        }
    }

    fn add_prefixes(&self, word: &str, options: &mut Vec<Meets>) {
        if word.len() < LEAST_PREFIX {
            return;
        }
        let from = self.terms.partition_point(|it| **it < *word);
        let longer = self.terms.iter().enumerate().skip(from);
        for (n, term) in longer.take_while(|(_, it)| it.starts_with(word)) {
            if **term == *word {
                continue;
            }
            // The more of the word was given, the surer.
            let part = word.len() as f32 / term.len() as f32;
            options.push(Meets {
                terms: vec![n],
                worth: PREFIX * (0.5 + 0.5 * part),
                how: How::Prefix,
            });
        }
    }

    /// Words one or two slips away: in the records, or in the trade's names.
    fn add_misspelt(&self, word: &str, options: &mut Vec<Meets>) {
        if word.len() < LEAST_SPELT || word.bytes().any(|b| b.is_ascii_digit()) {
            return;
        }
        let most = if word.len() >= LONG { 2 } else { 1 };
        let letters = letters_of(word);
        let near = |other: &str, of: u32| {
            // Each slip changes at most two of the letters that occur.
            if other.len().abs_diff(word.len()) > most
                || (of ^ letters).count_ones() as usize > 2 * most
            {
                return None;
            }
            let slips = strsim::osa_distance(word, other);
            (1..=most).contains(&slips).then(|| SPELLING / slips as f32)
        };
        for (n, (term, &of)) in self.terms.iter().zip(&self.letters).enumerate() {
            if let Some(worth) = near(term, of) {
                options.push(Meets {
                    terms: vec![n],
                    worth,
                    how: How::Spelling,
                });
            }
        }
        for name in self.synonyms.single_words() {
            let Some(worth) = near(name, letters_of(name)) else {
                continue;
            };
            let others = self.synonyms.at(&[name.to_owned()]);
            for other in others.map(|it| it.1).unwrap_or_default() {
                self.add_name(other, worth * SYNONYM, How::Spelling, options);
            }
        }
    }

    fn postings_of(&self, term: usize) -> &[Posting] {
        let start = self.starts.get(term).copied().unwrap_or_default() as usize;
        let end = self.starts.get(term + 1).copied().unwrap_or_default() as usize;
        self.postings.get(start..end).unwrap_or_default()
    }

    /// BM25 of one word in one record.
    fn weight(&self, posting: Posting, among: usize) -> f32 {
        let n = self.docs.len() as f32;
        let among = among as f32;
        let rare = (1.0 + (n - among + 0.5) / (among + 0.5)).ln();
        let len = self.docs.get(posting.doc as usize).map_or(0.0, |it| it.len);
        let norm = K * (1.0 - B + B * len / self.mean_len);
        rare * posting.weight * (K + 1.0) / (posting.weight + norm)
    }

    fn meet(&self, option: &Meets, scores: &mut Scores) {
        let Some((&first, more)) = option.terms.split_first() else {
            return;
        };
        let postings = self.postings_of(first);
        for &posting in postings {
            let mut weight = self.weight(posting, postings.len());
            let all = more.iter().all(|&term| {
                let others = self.postings_of(term);
                match others.binary_search_by_key(&posting.doc, |it| it.doc) {
                    Ok(at) => {
                        let other = others.get(at).copied().unwrap_or(posting);
                        weight += self.weight(other, others.len());
                        true
                    }
                    Err(_) => false,
                }
            });
            if all {
                scores.meet(posting.doc, weight * option.worth);
            }
        }
    }

    fn hit(&self, doc: u32, score: f32, size: Option<&Asked>, concepts: &[Concept]) -> Option<Hit> {
        let it = self.docs.get(doc as usize)?;
        let mut why = Vec::new();
        if let Some(asked) = size
            && let Ok(at) = self.sized.binary_search_by_key(&doc, |it| it.doc)
            && let Some(sized) = self.sized.get(at)
            && let Some((how, _)) = asked.meets(sized)
        {
            let found = match (how, sized.thread) {
                (How::ThreadOfHead, Some(thread)) => thread.short_name(),
                _ => sized.head.map_or_else(|| asked.label(), |it| it.label()),
            };
            why.push(Matched {
                asked: asked.label(),
                found,
                how,
            });
        }
        for concept in concepts {
            let there = |term: &usize| {
                self.postings_of(*term)
                    .binary_search_by_key(&doc, |it| it.doc)
                    .is_ok()
            };
            let best = concept
                .options
                .iter()
                .filter(|it| it.terms.iter().all(there))
                .max_by(|a, b| a.worth.total_cmp(&b.worth));
            if let Some(option) = best {
                let found: Vec<&str> = option
                    .terms
                    .iter()
                    .filter_map(|&term| self.terms.get(term).map(|it| &**it))
                    .collect();
                why.push(Matched {
                    asked: concept.asked.clone(),
                    found: found.join(" "),
                    how: option.how,
                });
            }
        }
        Some(Hit {
            job: it.job,
            what: it.what,
            photo: it.photo,
            note: it.note,
            why,
            score,
        })
    }
}

/// Scores of the records met so far.
#[derive(Default)]
struct Scores {
    /// Score, and how many concepts are met.
    sums: FxHashMap<u32, (f32, u32)>,
    /// The best for the concept at hand.
    best: FxHashMap<u32, f32>,
}

impl Scores {
    fn meet(&mut self, doc: u32, score: f32) {
        let best = self.best.entry(doc).or_default();
        *best = best.max(score);
    }
    /// Closes a concept.
    fn next(&mut self) {
        for (doc, score) in self.best.drain() {
            let sum = self.sums.entry(doc).or_default();
            sum.0 += score;
            sum.1 += 1;
        }
    }
    /// The best records. Those that meet less than half of what was asked are
    /// left out.
    fn best(self, asked: usize, limit: usize) -> Vec<(u32, f32)> {
        let mut all: Vec<(u32, f32)> = self
            .sums
            .into_iter()
            .filter(|(_, (_, met))| *met as usize * 2 >= asked)
            .map(|(doc, (score, met))| {
                let part = met as f32 / asked.max(1) as f32;
                (doc, score * part * part)
            })
            .collect();
        let better = |a: &(u32, f32), b: &(u32, f32)| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0));
        if all.len() > limit && limit > 0 {
            all.select_nth_unstable_by(limit - 1, better);
        }
        all.truncate(limit);
        all.sort_by(better);
        all
    }
}
