//! The planner alone as WASM, without glue: the page times what it calls. A job
//! half done as in the native bench, and the three kinds of act, each with the
//! whole plan after it. Beside it what the Put back screen works out, rows and
//! words and all, from a job of as many parts and constraints.
use std::cell::RefCell;

use countback_core::access::{Edge, Planner, Precedence, Why};

#[allow(dead_code)]
#[path = "../../checks/src/random_graphs.rs"]
mod random_graphs;

#[path = "../../checks/src/big_order.rs"]
mod big_order;

use big_order::BigOrder;
use random_graphs::{Seeded, acyclic};

struct Job {
    planner: Planner,
    edges: Vec<Edge>,
    /// The part put back last.
    part: u32,
    /// Constraints learned.
    learned: usize,
}

thread_local! {
    static JOB: RefCell<Option<Job>> = const { RefCell::new(None) };
    static BIG: RefCell<Option<BigOrder>> = const { RefCell::new(None) };
}

/// Makes a job of `count` parts and `links` constraints, half of it done; says
/// how many parts are left, 0 when it could not be made.
#[unsafe(no_mangle)]
pub extern "C" fn prepare(count: u32, links: u32) -> u32 {
    let (count, links) = (count as usize, links as usize);
    let mut seeded = Seeded::new(count as u64);
    let edges = acyclic(&mut seeded, count, links);
    let mut priority: Vec<u32> = (0..count as u32).collect();
    seeded.shuffle(&mut priority);
    let Ok(graph) = Precedence::new(count, &edges) else {
        return 0;
    };
    let order = graph.order_by(&priority).unwrap_or_default();
    let done = order.get(..order.len() / 2).unwrap_or_default();
    let planner = Planner::with_done(graph, &priority, done);
    let left = planner.plan().order.len() as u32;
    JOB.set(Some(Job {
        planner,
        edges,
        part: 0,
        learned: 0,
    }));
    left
}

/// Puts the first that can go back (0), takes it back again (1), or learns a
/// constraint (2), and plans anew; says how many parts are left.
#[unsafe(no_mangle)]
pub extern "C" fn act(kind: u32) -> u32 {
    JOB.with_borrow_mut(|job| {
        let Some(job) = job else { return 0 };
        match kind {
            0 => {
                job.part = job.planner.ready().first().copied().unwrap_or(0);
                job.planner.set_done(job.part);
            }
            1 => {
                job.planner.set_undone(job.part);
            }
            _ => {
                let edge = job.edges.get(job.learned % job.edges.len().max(1));
                job.learned += 1;
                if let Some(edge) = edge {
                    let more = Edge::new(edge.before, edge.after, Why::Stated);
                    if job.planner.add_edges(&[more]).is_err() {
                        return 0;
                    }
                }
            }
        }
        job.planner.plan().order.len() as u32
    })
}

/// Makes a job of acts, half of it back; says how many parts are not.
#[unsafe(no_mangle)]
pub extern "C" fn take_off(count: u32, links: u32) -> u32 {
    let big = BigOrder::new(count as usize, links as usize);
    let page = big.page();
    BIG.set(Some(big));
    (page.n_parts - page.n_back) as u32
}

/// Puts what is next back and makes it fast.
#[unsafe(no_mangle)]
pub extern "C" fn go_on() {
    BIG.with_borrow_mut(|big| big.as_mut().map(BigOrder::go_on));
}

/// What the screen shows; says how many parts are not back.
#[unsafe(no_mangle)]
pub extern "C" fn put_back() -> u32 {
    BIG.with_borrow(|big| {
        let page = big.as_ref().map(BigOrder::page).unwrap_or_default();
        (page.n_parts - page.n_back) as u32
    })
}
