//! The edges that say something the others do not: what a drawing shows.

use super::cycle::Cycle;
use super::graph::{Edge, Precedence};

impl Precedence {
    /// The edges that are left when every edge that follows from others is
    /// dropped; of a pair with several reasons the first is kept. Takes a bit
    /// per pair of nodes: meant for what is drawn, not for the largest jobs.
    pub fn reduction(&self) -> Result<Vec<Edge>, Cycle> {
        let order = self.order()?;
        let mut place = vec![0usize; order.len()];
        for (at, &node) in order.iter().enumerate() {
            place[node as usize] = at;
        }
        let words = order.len().div_ceil(64);
        let mut reach = vec![0u64; words * order.len()];
        let mut kept = Vec::new();
        for &node in order.iter().rev() {
            let mut next: Vec<_> = self.after(node).collect();
            // Nearest in the order first: whatever another successor leads to
            // comes later in the order than that successor.
            next.sort_by_key(|&(after, why)| (place[after as usize], why));
            let own = node as usize * words;
            for (after, why) in next {
                let (word, bit) = (after as usize / 64, after % 64);
                if reach[own + word] >> bit & 1 == 1 {
                    continue;
                }
                kept.push(Edge {
                    before: node,
                    after,
                    why,
                });
                reach[own + word] |= 1 << bit;
                let other = after as usize * words;
                for i in 0..words {
                    let more = reach[other + i];
                    reach[own + i] |= more;
                }
            }
        }
        kept.sort_unstable();
        Ok(kept)
    }
}
