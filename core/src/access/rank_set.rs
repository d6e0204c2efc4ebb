//! A set of small numbers that gives its smallest at once: bits in words,
//! words marked in bits of the level above. Constant work per act, however
//! many nodes, where a heap would take more with each.

#[derive(Clone, Debug)]
pub(super) struct RankSet {
    /// levels[0] holds the members; a bit of levels[k+1] says that the word
    /// of levels[k] with that number is not empty. The last has one word.
    levels: Vec<Vec<u64>>,
}

impl RankSet {
    pub(super) fn new(size: usize) -> Self {
        let mut levels = Vec::new();
        let mut words = size.div_ceil(64).max(1);
        levels.push(vec![0; words]);
        while words > 1 {
            words = words.div_ceil(64);
            levels.push(vec![0; words]);
        }
        Self { levels }
    }

    #[inline]
    pub(super) fn insert(&mut self, rank: u32) {
        let mut at = rank as usize;
        for level in &mut self.levels {
            let word = &mut level[at / 64];
            let was = *word;
            *word |= 1 << (at % 64);
            if was != 0 {
                break;
            }
            at /= 64;
        }
    }

    #[inline]
    pub(super) fn remove(&mut self, rank: u32) {
        let mut at = rank as usize;
        for level in &mut self.levels {
            let word = &mut level[at / 64];
            *word &= !(1 << (at % 64));
            if *word != 0 {
                break;
            }
            at /= 64;
        }
    }

    pub(super) fn contains(&self, rank: u32) -> bool {
        let at = rank as usize;
        self.levels[0]
            .get(at / 64)
            .is_some_and(|word| word >> (at % 64) & 1 == 1)
    }

    #[inline]
    pub(super) fn pop_first(&mut self) -> Option<u32> {
        let mut at = 0usize;
        for level in self.levels.iter().rev() {
            let word = level[at];
            if word == 0 {
                return None;
            }
            at = at * 64 + word.trailing_zeros() as usize;
        }
        self.remove(at as u32);
        Some(at as u32)
    }

    /// Members, rising.
    pub(super) fn iter(&self) -> impl Iterator<Item = u32> + '_ {
        self.levels[0].iter().enumerate().flat_map(|(at, &word)| {
            let mut rest = word;
            std::iter::from_fn(move || {
                if rest == 0 {
                    return None;
                }
                let bit = rest.trailing_zeros();
                rest &= rest - 1;
                Some(at as u32 * 64 + bit)
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::RankSet;

    #[test]
    fn gives_back_what_was_put_in_smallest_first() {
        let mut set = RankSet::new(300_000);
        let mut kept: Vec<u32> = (0..400u32)
            .map(|i| i.wrapping_mul(2_654_435_761) % 300_000)
            .collect();
        for &rank in &kept {
            set.insert(rank);
        }
        set.remove(kept[7]);
        assert!(!set.contains(kept[7]) && set.contains(kept[8]));
        kept.remove(7);
        kept.sort_unstable();
        kept.dedup();
        assert_eq!(set.iter().collect::<Vec<_>>(), kept);
        let drained: Vec<u32> = std::iter::from_fn(|| set.pop_first()).collect();
        assert_eq!(drained, kept);
    }
}
