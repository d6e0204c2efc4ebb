//! What is half typed in a sheet of the entry being made and is not in it yet:
//! kept letter by letter, for its job and for the part that it is of, so that it
//! is not found in another. It goes when the entry is logged or emptied.
use yew::AttrValue;

use super::alone::Alones;
use crate::app::{Desk, the_desk};

/// The sheets that keep what is half typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    Connection,
    Item,
    /// What is logged by itself; what of it is of a part says so itself.
    Alone,
}

#[cfg(test)]
const ALL: [Of; 3] = [Of::Connection, Of::Item, Of::Alone];

impl Of {
    /// Where it is kept.
    fn key(self, job: &str) -> String {
        let sheet = match self {
            Self::Connection => "hose",
            Self::Item => "gasket",
            Self::Alone => "alone",
        };
        format!("{job}/off/{sheet}")
    }
}

/// One sheet of one job's entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Half {
    of: Of,
    job: AttrValue,
    part: AttrValue,
}

impl Half {
    /// `part` is the name of the part being logged; empty where there is none.
    pub fn new(of: Of, job: &AttrValue, part: impl Into<AttrValue>) -> Self {
        let (job, part) = (job.clone(), part.into());
        Self { of, job, part }
    }

    pub fn keep(&self, text: &str) {
        the_desk().keep_typed(&self.of.key(&self.job), &packed(&self.part, text));
    }

    /// What was typed there, if it was of this part.
    pub fn kept(&self) -> Option<String> {
        let kept = the_desk().typed(&self.of.key(&self.job))?;
        unpacked(&self.part, &kept).map(str::to_owned)
    }

    pub fn forget(&self) {
        self.keep("");
    }
}

/// The entry was logged or thrown away.
pub fn forget_all(desk: &Desk, job: &str) {
    for of in [Of::Connection, Of::Item] {
        desk.keep_typed(&of.key(job), "");
    }
    // A rag or a fluid is of no part.
    let alone = Half::new(Of::Alone, &job.to_owned().into(), "");
    if let Some(kept) = alone.kept() {
        alone.keep(&Alones::from_text(&kept, "").to_text(""));
    }
}

/// The part's name on the first line, then the text; empty where that is.
fn packed(part: &str, text: &str) -> String {
    match text.is_empty() {
        true => String::new(),
        false => format!("{}\n{text}", part.trim()),
    }
}

fn unpacked<'a>(part: &str, kept: &'a str) -> Option<&'a str> {
    let (of, text) = kept.split_once('\n')?;
    (of == part.trim()).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_half_typed_is_found_in_its_own_job_and_part_alone() {
        let kept = packed("pump ", "top hose\nand more");
        assert_eq!(unpacked("pump", &kept), Some("top hose\nand more"));
        assert_eq!(unpacked("alternator", &kept), None);
        assert_eq!(unpacked("", &kept), None);
        assert_eq!(packed("pump", ""), "");
        let keys = |job| ALL.map(|of| of.key(job));
        for (n, key) in keys("a").iter().enumerate() {
            assert!(!keys("b").contains(key));
            assert_eq!(keys("a").iter().position(|it| it == key), Some(n));
        }
    }
}
