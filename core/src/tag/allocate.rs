//! Choice of the next free tag code.
//!
//! The codes are dealt in blocks of a hundred. A phone starts at a block drawn
//! from its own id and goes on from block to block in its own stride, so that
//! two phones at work on one machine, not having met for a while, rarely write
//! the same code: a chance of one in ninety while each stays within its first
//! hundred tags. A code met twice is not lost, only ambiguous: both places are
//! known, and the person is asked.

use super::code::TagCode;
use std::collections::BTreeSet;

/// Blocks 10 to 99: a code never starts with a nought, which the hand drops.
const BLOCKS: u64 = 90;
const FIRST_BLOCK: u64 = 10;
const BLOCK_SIZE: u64 = 100;

/// Strides that visit all ninety blocks before coming round.
const STRIDES: [u64; 24] = [
    1, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 49, 53, 59, 61, 67, 71, 73, 77, 79, 83, 89,
];

/// The order in which one phone goes through the blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DeviceBlocks {
    start: u64,
    stride: u64,
}

impl DeviceBlocks {
    /// From any number that is random between phones, such as part of the
    /// device id. The same number always gives the same order.
    pub fn from_seed(seed: u64) -> Self {
        // Ids may share their upper or lower bits: mix before taking remainders
        // (the finaliser of SplitMix64).
        let mut mixed = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        let pick = (mixed / BLOCKS) as usize % STRIDES.len();
        Self {
            start: mixed % BLOCKS,
            stride: STRIDES.get(pick).copied().unwrap_or(1),
        }
    }

    /// Every payload there is, in the order this phone takes them.
    fn payloads(self) -> impl Iterator<Item = u16> {
        (0..BLOCKS).flat_map(move |turn| {
            let block = FIRST_BLOCK + (self.start + turn * self.stride) % BLOCKS;
            (0..BLOCK_SIZE).map(move |serial| (block * BLOCK_SIZE + serial) as u16)
        })
    }
}

/// Every code that may be given out is in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AllTagsUsed;

/// The next code for this phone that is not in `used`, which holds the codes of
/// all of the person's jobs. Codes that turn into another valid one when the tag
/// hangs upside down are never given out.
///
/// # Errors
/// [`AllTagsUsed`] when nothing is left.
pub fn allocate(used: &BTreeSet<TagCode>, device: DeviceBlocks) -> Result<TagCode, AllTagsUsed> {
    device
        .payloads()
        .filter_map(TagCode::from_payload)
        .find(|code| !used.contains(code) && code.upside_down().is_none())
        .ok_or(AllTagsUsed)
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use super::*;

    fn take(n: usize, seed: u64) -> BTreeSet<TagCode> {
        let mut used = BTreeSet::new();
        for _ in 0..n {
            used.insert(allocate(&used, DeviceBlocks::from_seed(seed)).expect("codes are left"));
        }
        used
    }

    #[test]
    fn codes_are_unique_until_all_are_given_out() {
        let mut used = BTreeSet::new();
        while let Ok(code) = allocate(&used, DeviceBlocks::from_seed(used.len() as u64)) {
            assert!(used.insert(code), "{code} was given out twice");
            assert!(code.payload() >= 1_000);
        }
        assert!(used.len() > 8_800, "{}", used.len());
        assert!(
            used.iter()
                .all(|code| code.upside_down().is_none_or(|it| !used.contains(&it)))
        );
    }

    #[test]
    fn two_phones_that_have_not_met_rarely_collide() {
        let phones: Vec<_> = (0..300).map(|seed| take(60, seed)).collect();
        let mut pairs = 0;
        let mut clashing = 0;
        for (n, one) in phones.iter().enumerate() {
            for other in phones.iter().skip(n + 1) {
                pairs += 1;
                clashing += usize::from(!one.is_disjoint(other));
            }
        }
        // Expected 1 in 90; a bound of 1 in 60 leaves room for the draw.
        assert!(clashing * 60 < pairs, "{clashing} of {pairs}");
    }
}
