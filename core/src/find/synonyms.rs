//! Trade words that name one thing on two sides of the ocean, or in two
//! workshops. Every word of a group finds every other.

use rustc_hash::FxHashMap;

use super::tokens::tokens;

/// Each line is one thing by its several names.
const GROUPS: &[&[&str]] = &[
    &[
        "strip",
        "strip down",
        "dismantle",
        "teardown",
        "tear down",
        "disassemble",
        "take apart",
    ],
    &["refit", "reinstall", "put back"],
    &["overhaul", "recondition", "rebuild"],
    &["renew", "replace"],
    &["spanner", "wrench"],
    &["ring spanner", "box end", "box end wrench"],
    &["allen key", "hex key", "hexagon key"],
    &["tommy bar", "breaker bar"],
    &["circlip", "snap ring"],
    &["split pin", "cotter pin"],
    &["grub screw", "set screw"],
    &["self tapper", "self tapping screw", "sheet metal screw"],
    &[
        "jubilee clip",
        "worm drive hose clip",
        "worm drive clip",
        "hose clip",
        "hose clamp",
    ],
    &["spring clip", "constant tension clamp"],
    &["p clip", "cushion clamp"],
    &["nyloc", "nyloc nut", "prevailing torque nut"],
    &["banjo bolt", "union bolt"],
    &["stretch bolt", "torque to yield"],
    &["thread insert", "insert"],
    &["bonnet", "hood"],
    &["boot", "trunk"],
    &["wing", "fender"],
    &["bulkhead", "firewall"],
    &["sump", "oil pan"],
    &["gearbox", "transmission"],
    &["rocker cover", "valve cover"],
    &["silencer", "muffler"],
    &["inlet", "intake"],
    &["earth", "ground"],
    &["paraffin", "kerosene"],
    &["petrol", "gas", "gasoline"],
    &["tyre", "tire"],
    &["axle stand", "jack stand"],
    &["undertray", "splash shield"],
    &["propshaft", "prop shaft", "driveshaft", "drive shaft"],
    &["slackened", "loosened", "slack"],
    &["hand tight", "finger tight", "started"],
    &["nipped up", "snug"],
    &["locking wire", "safety wire", "safety wired"],
    &["running in", "break in"],
    &["independent check", "duplicate check"],
    &["foreign object", "left inside"],
];

/// A name of one or more words, cut as all words are.
type Name = Vec<String>;

/// The groups, ready to be asked.
#[derive(Clone, Debug)]
pub struct Synonyms {
    groups: Vec<Vec<Name>>,
    /// By the first word of a name: the name's length in words and its group.
    by_first: FxHashMap<String, Vec<(usize, usize)>>,
}

impl Default for Synonyms {
    fn default() -> Self {
        let mut groups = Vec::new();
        let mut by_first: FxHashMap<String, Vec<(usize, usize)>> = FxHashMap::default();
        for (n, group) in GROUPS.iter().enumerate() {
            let names: Vec<Name> = group.iter().map(|it| tokens(it)).collect();
            for name in &names {
                if let Some(first) = name.first() {
                    by_first
                        .entry(first.clone())
                        .or_default()
                        .push((name.len(), n));
                }
            }
            groups.push(names);
        }
        Self { groups, by_first }
    }
}

impl Synonyms {
    /// The longest name that `words` begin with: how many words it takes, and
    /// the other names of its group. Nothing when no name begins there.
    pub fn at<'a>(&'a self, words: &[String]) -> Option<(usize, Vec<&'a Name>)> {
        let first = words.first()?;
        let candidates = self.by_first.get(first)?;
        let (len, group) = candidates
            .iter()
            .filter(|&&(len, group)| {
                let head = words.get(..len);
                head.is_some_and(|head| {
                    self.groups
                        .get(group)
                        .is_some_and(|it| it.iter().any(|n| n == head))
                })
            })
            .max_by_key(|(len, _)| *len)
            .copied()?;
        let head = words.get(..len)?;
        let others = self.groups.get(group)?.iter().filter(|n| *n != head);
        Some((len, others.collect()))
    }

    /// Names of one word, which a misspelling may have meant.
    pub fn single_words(&self) -> impl Iterator<Item = &str> {
        self.groups
            .iter()
            .flatten()
            .filter(|name| name.len() == 1)
            .filter_map(|name| name.first().map(String::as_str))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_leads_to_every_other_of_its_group() {
        let synonyms = Synonyms::default();
        for group in GROUPS {
            for name in *group {
                let words = tokens(name);
                let (len, others) = synonyms.at(&words).unwrap_or_default();
                assert_eq!(len, words.len(), "{name}");
                for other in group.iter().filter(|it| *it != name) {
                    assert!(others.contains(&&tokens(other)), "{name} -> {other}");
                }
            }
        }
    }
}
