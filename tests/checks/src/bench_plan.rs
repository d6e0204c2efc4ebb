//! Bench rows of the planner, native: replanning after one act, the plan of a
//! large job from nothing, and the plain order against petgraph's topological
//! sort of the same graph in the same run. Build with optimisation, else the
//! figures mean nothing.

use std::hint::black_box;
use std::time::Instant;

use countback_core::access::{Edge, GraphError, Planner, Precedence, Why};
use petgraph::algo::toposort;
use petgraph::graph::{DiGraph, NodeIndex};

use crate::random_graphs::{Seeded, acyclic};

/// One line of the bench table: less is better in all of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub name: &'static str,
    pub value: f64,
    pub unit: &'static str,
    pub limit: f64,
    /// What the value was compared with in the same run, in its own unit; of a
    /// ratio of times, in milliseconds.
    pub floor: Option<f64>,
}

const ROUNDS: usize = 41;

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
}

fn timed<T>(work: impl FnOnce() -> T) -> f64 {
    let start = Instant::now();
    black_box(work());
    start.elapsed().as_secs_f64() * 1e3
}

/// A job half done: its constraints, its priorities (the reverse of the order
/// in which things came off), and what is done.
struct Job {
    count: usize,
    edges: Vec<Edge>,
    priority: Vec<u32>,
    done: Vec<u32>,
}

fn job(count: usize, links: usize) -> Result<Job, GraphError> {
    let mut seeded = Seeded::new(count as u64);
    let edges = acyclic(&mut seeded, count, links);
    let mut priority: Vec<u32> = (0..count as u32).collect();
    seeded.shuffle(&mut priority);
    let order = Precedence::new(count, &edges)?
        .order_by(&priority)
        .unwrap_or_default();
    let done = order[..order.len() / 2].to_vec();
    Ok(Job {
        count,
        edges,
        priority,
        done,
    })
}

impl Job {
    fn planner(&self) -> Result<Planner, GraphError> {
        let graph = Precedence::new(self.count, &self.edges)?;
        Ok(Planner::with_done(graph, &self.priority, &self.done))
    }

    /// The dearest kind of act, each with the whole plan after it: put back,
    /// taken back, and a constraint learned.
    fn replan_ms(&self) -> Result<f64, GraphError> {
        let mut planner = self.planner()?;
        let Some(&node) = planner.ready().first() else {
            return Ok(f64::NAN);
        };
        let (mut done, mut undone, mut learned) = (Vec::new(), Vec::new(), Vec::new());
        for round in 0..ROUNDS {
            done.push(timed(|| (planner.set_done(node), planner.plan())));
            undone.push(timed(|| (planner.set_undone(node), planner.plan())));
            let last = self.edges[round % self.edges.len()];
            let edge = Edge::new(last.before, last.after, Why::Stated);
            let mut result = Ok(());
            learned.push(timed(|| {
                result = planner.add_edges(&[edge]);
                planner.plan()
            }));
            result?;
        }
        Ok(median(done).max(median(undone)).max(median(learned)))
    }

    /// Everything from the bare constraints: graph, marks, order, what is
    /// buried, and what holds each thing back.
    fn plan_ms(&self) -> Result<f64, GraphError> {
        self.planner()?;
        let times = (0..ROUNDS).map(|_| {
            timed(|| {
                let planner = self.planner().ok()?;
                let blocked: usize = (0..self.count as u32)
                    .map(|x| planner.blocked_by(x).len())
                    .sum();
                Some((planner.plan(), blocked))
            })
        });
        Ok(median(times.collect()))
    }

    /// The plain order, and petgraph's topological sort, of the same graph.
    fn order_ms(&self) -> Result<(f64, f64), GraphError> {
        let own = Precedence::new(self.count, &self.edges)?;
        let mut other: DiGraph<(), Why> = DiGraph::with_capacity(self.count, self.edges.len());
        for _ in 0..self.count {
            other.add_node(());
        }
        for edge in &self.edges {
            let (from, to) = (edge.before as usize, edge.after as usize);
            other.add_edge(NodeIndex::new(from), NodeIndex::new(to), edge.why);
        }
        let (mut ours, mut theirs) = (Vec::new(), Vec::new());
        for _ in 0..ROUNDS {
            ours.push(timed(|| own.order()));
            theirs.push(timed(|| toposort(&other, None)));
        }
        Ok((median(ours), median(theirs)))
    }
}

/// Measures all rows of the planner.
pub fn rows() -> Result<Vec<Row>, GraphError> {
    let (small, large) = (job(1_000, 5_000)?, job(10_000, 50_000)?);
    let (own, petgraph) = large.order_ms()?;
    let (_, petgraph_1k) = small.order_ms()?;
    let (replan_1k, replan_10k) = (small.replan_ms()?, large.replan_ms()?);
    let row = |name, value, unit, limit, floor| Row {
        name,
        value,
        unit,
        limit,
        floor,
    };
    Ok(vec![
        row("replan_1k_ms", replan_1k, "ms", 2.0, None),
        row("replan_10k_ms", replan_10k, "ms", 40.0, None),
        // Ten times the job. What leaves the nearest cache grows by more than
        // ten, a plain topological sort as well: that is the floor.
        row(
            "replan_growth",
            replan_10k / replan_1k,
            "times",
            petgraph / petgraph_1k,
            Some(petgraph / petgraph_1k),
        ),
        row("toposort_ratio", own / petgraph, "x", 1.2, Some(petgraph)),
        row("plan_graph_10k_ms", large.plan_ms()?, "ms", 50.0, None),
    ])
}

/// The rows as a JSON array.
pub fn json(rows: &[Row]) -> String {
    let lines: Vec<String> = rows
        .iter()
        .map(|row| {
            let floor = row.floor.map_or("null".to_owned(), |ms| format!("{ms:.4}"));
            format!(
                "{{\"name\":\"{}\",\"value\":{:.4},\"unit\":\"{}\",\"limit\":{},\
                 \"at_least\":false,\"floor\":{floor}}}",
                row.name, row.value, row.unit, row.limit
            )
        })
        .collect();
    format!("[{}]", lines.join(",\n "))
}
