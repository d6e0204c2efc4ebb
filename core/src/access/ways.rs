//! Ways in: what has to come off to get at a thing when there is more than
//! one way, and which way is the least work. A requirement that several parts
//! of a way share is counted once, which is what makes the question hard; it
//! is answered by search with proven bounds (`search`, `bound`).
//!
//! Exact up to [`EXACT_UP_TO`] things that matter to the question, what is
//! said to be [`small`](Ways::small) not counted. Above that the search stops after a set amount of work and the answer is never
//! worse than either of
//! - the sum of getting at each requirement by itself, shared ones counted
//!   again each time, and
//! - the least work times the number of things on the list that cost
//!   anything;
//!
//! and it carries `at_least`, a proven floor, so that the gap is known.

mod bound;
mod rules;
mod search;

use super::graph::{Node, Precedence};
use rules::Rules;

/// Up to this many things that a way may touch the answer is always exact.
pub const EXACT_UP_TO: usize = 60;
/// With those that are small, up to this many.
const WITH_SMALL: usize = 400;

/// Search effort above [`EXACT_UP_TO`], in looks at a rule: a fraction of a
/// second on a phone.
pub const EFFORT: u64 = 20_000_000;

/// What it takes to get one thing off. Each is clamped to 65,535 so that sums
/// never overflow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weight {
    pub acts: u32,
    /// In whatever unit of time the caller keeps to.
    pub minutes: u32,
}

/// What is to be least; the other one decides between equals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    Acts,
    Minutes,
}

/// A way in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// What to take off, in an order that works, the target not among it.
    pub take_off: Vec<Node>,
    pub acts: u64,
    pub minutes: u64,
    /// No way is less than this, in the measure asked for.
    pub at_least: u64,
    /// Whether this is proven to be the least.
    pub exact: bool,
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WaysError {
    NodeOutOfRange {
        node: Node,
        count: usize,
    },
    /// Every way to the target comes round to itself; one such round is
    /// named, each needing the next and the last the first.
    NeedsItself {
        round: Vec<Node>,
    },
}

/// What must be off to get at each thing: all of `must`, and, where there are
/// alternatives, all of any one of them.
///
/// ```
/// use countback_core::access::ways::{Measure, Ways};
/// // 0 is reached by taking off 1 and 2, or 3 alone; 3 needs 4 off first.
/// let mut ways = Ways::new(5);
/// ways.alternative(0, &[1, 2])?;
/// ways.alternative(0, &[3])?;
/// ways.must(3, 4)?;
/// ways.must(1, 4)?;
/// let way = ways.least_work(0, &[], &[], Measure::Acts)?;
/// assert_eq!(way.take_off, [4, 3]);
/// # Ok::<(), countback_core::access::ways::WaysError>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ways {
    must: Vec<Vec<Node>>,
    alternatives: Vec<Vec<Vec<Node>>>,
    small: Vec<bool>,
}

impl Ways {
    /// `count` things, each lying open.
    pub fn new(count: usize) -> Self {
        Self {
            must: vec![Vec::new(); count],
            alternatives: vec![Vec::new(); count],
            small: vec![false; count],
        }
    }

    /// The ways of taking off that a put-back order tells: what goes back
    /// after a thing must be off before it.
    pub fn from_precedence(graph: &Precedence) -> Self {
        let mut ways = Self::new(graph.node_count());
        for edge in graph.edges() {
            ways.must[edge.before as usize].push(edge.after);
        }
        ways
    }

    pub fn node_count(&self) -> usize {
        self.must.len()
    }

    /// Says that `first` must be off before `node` by whatever way.
    pub fn must(&mut self, node: Node, first: Node) -> Result<(), WaysError> {
        self.check(&[node, first])?;
        self.must[node as usize].push(first);
        Ok(())
    }

    /// Says that a thing is a small one, which goes with others and leaves
    /// little to choose, as the hoses and bolts of parts do: it does not count
    /// toward [`EXACT_UP_TO`].
    pub fn small(&mut self, node: Node) {
        if let Some(small) = self.small.get_mut(node as usize) {
            *small = true;
        }
    }

    /// Adds one way to `node`: all of `first` off. With several, any one
    /// will do.
    pub fn alternative(&mut self, node: Node, first: &[Node]) -> Result<(), WaysError> {
        self.check(&[node])?;
        self.check(first)?;
        self.alternatives[node as usize].push(first.to_vec());
        Ok(())
    }

    fn check(&self, nodes: &[Node]) -> Result<(), WaysError> {
        let count = self.node_count();
        match nodes.iter().find(|&&x| x as usize >= count) {
            Some(&node) => Err(WaysError::NodeOutOfRange { node, count }),
            None => Ok(()),
        }
    }

    /// What must be off first, one set for each way, as told.
    pub fn ways_to(&self, node: Node) -> Vec<Vec<Node>> {
        let must = &self.must[node as usize];
        let either = &self.alternatives[node as usize];
        if either.is_empty() {
            return vec![must.clone()];
        }
        either
            .iter()
            .map(|one| must.iter().chain(one).copied().collect())
            .collect()
    }

    /// Whether `node` can be got at with nothing taken off that is not off
    /// already.
    pub fn is_open(&self, node: Node, off: impl Fn(Node) -> bool) -> bool {
        let all = |set: &Vec<Node>| set.iter().all(|&x| off(x));
        let either = self.alternatives.get(node as usize);
        self.must.get(node as usize).is_none_or(all)
            && either.is_none_or(|ways| ways.is_empty() || ways.iter().any(all))
    }

    /// The least work to get at `target`. What is marked in `off` is off
    /// already and costs nothing; marks and weights that are not given mean
    /// on, one act and no time. The target's own weight does not count.
    pub fn least_work(
        &self,
        target: Node,
        off: &[bool],
        weights: &[Weight],
        measure: Measure,
    ) -> Result<Way, WaysError> {
        self.least_work_within(target, off, weights, measure, EFFORT)
    }

    /// As [`Ways::least_work`], with the search effort that larger questions
    /// may take; 0 gives the quick answer. Questions of up to
    /// [`EXACT_UP_TO`] things are searched to the end whatever it says.
    pub fn least_work_within(
        &self,
        target: Node,
        off: &[bool],
        weights: &[Weight],
        measure: Measure,
        effort: u64,
    ) -> Result<Way, WaysError> {
        self.check(&[target])?;
        let cost = |node: Node| {
            let weight = weight_of(weights, node);
            let (acts, minutes) = (u64::from(weight.acts), u64::from(weight.minutes));
            match measure {
                Measure::Acts => acts << 32 | minutes,
                Measure::Minutes => minutes << 32 | acts,
            }
        };
        let (take_off, at_least, exact) = match self.only_way(target, off) {
            Some(take_off) => (take_off, None, true),
            None => {
                let rules = Rules::toward(self, target, off, cost)?;
                let found = search::least(&rules, effort);
                let mut take_off = rules.workable(&found.used);
                take_off.retain(|&x| x != target);
                (take_off, Some(found.at_least >> 32), found.exact)
            }
        };
        let sum = |of: fn(Weight) -> u32| {
            take_off
                .iter()
                .map(|&x| u64::from(of(weight_of(weights, x))))
                .sum()
        };
        let (acts, minutes): (u64, u64) = (sum(|w| w.acts), sum(|w| w.minutes));
        let own = match measure {
            Measure::Acts => acts,
            Measure::Minutes => minutes,
        };
        Ok(Way {
            take_off,
            acts,
            minutes,
            at_least: at_least.unwrap_or(own),
            exact,
        })
    }

    /// The way to `target` where nothing on it has an alternative, found by
    /// walking; `None` where something has, or comes round to itself.
    fn only_way(&self, target: Node, off: &[bool]) -> Option<Vec<Node>> {
        const ENTERED: u8 = 1;
        const LEFT: u8 = 2;
        let mut mark = vec![0u8; self.node_count()];
        let mut take_off = Vec::new();
        let mut walk = vec![(target, 0)];
        while let Some((node, next)) = walk.pop() {
            if next == 0 {
                if !self.alternatives[node as usize].is_empty() {
                    return None;
                }
                mark[node as usize] = ENTERED;
            }
            let Some(&first) = self.must[node as usize].get(next) else {
                mark[node as usize] = LEFT;
                take_off.push(node);
                continue;
            };
            walk.push((node, next + 1));
            let is_off = off.get(first as usize).copied().unwrap_or(false);
            match mark[first as usize] {
                ENTERED => return None,
                0 if !is_off => walk.push((first, 0)),
                _ => {}
            }
        }
        take_off.pop();
        Some(take_off)
    }
}

fn weight_of(weights: &[Weight], node: Node) -> Weight {
    let given = weights.get(node as usize).copied();
    let weight = given.unwrap_or(Weight {
        acts: 1,
        minutes: 0,
    });
    Weight {
        acts: weight.acts.min(0xffff),
        minutes: weight.minutes.min(0xffff),
    }
}
