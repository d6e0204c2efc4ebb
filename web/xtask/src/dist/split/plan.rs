//! What goes into which file: everything that can be reached from outside is
//! first, but not through what web/later.txt names; the rest is second.

use super::graph::Graph;
use rustc_demangle::demangle;
use std::collections::{HashSet, VecDeque};
use std::fmt::Write;
use std::ops::Range;

/// Constant data is taken out of the first file only in runs of at least so
/// many bytes: a run costs a header in both files.
const SHORTEST_RUN: u32 = 24;

const INVOKE: &str = "wasm_bindgen::convert::closures::_::invoke";

/// Which functions are named as second, and which are not after all.
pub struct Patterns<'a> {
    later: Vec<&'a str>,
    but: Vec<&'a str>,
}

impl<'a> Patterns<'a> {
    /// One a line; `!` before what stays first, `#` before a remark.
    pub fn parse(text: &'a str) -> Self {
        let lines = text.lines().map(str::trim);
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        let (but, later): (Vec<_>, Vec<_>) = lines.partition(|line| line.starts_with('!'));
        let but = but.iter().map(|line| line[1..].trim()).collect();
        Self { later, but }
    }

    /// A function of the standard library is named after the types it was made
    /// for, and the linker may have found the same one in use elsewhere.
    fn holds(&self, name: &str) -> bool {
        let library = ["core::", "alloc::", "std::"];
        !library.iter().any(|crate_| name.starts_with(crate_))
            && self.later.iter().any(|part| name.contains(part))
            && !self.but.iter().any(|part| name.contains(part))
    }

    /// Those of `later` that fit nothing: slips, or functions that went into
    /// others.
    fn idle(&self, names: &[String]) -> Vec<&'a str> {
        let fits = |part: &&str| names.iter().any(|name| name.contains(*part));
        self.later
            .iter()
            .copied()
            .filter(|part| !fits(part))
            .collect()
    }
}

/// The division of one file.
pub struct Plan {
    /// Functions of the second file, by the linker's names.
    pub later: HashSet<String>,
    /// Constant data that only the second file needs, by address.
    pub data: Vec<Range<u32>>,
    /// Every function and piece of data: which file, bytes, bytes that it
    /// brings in, name, and through what it was reached first.
    pub report: String,
}

impl Plan {
    pub fn make(graph: &Graph, patterns: &Patterns) -> Self {
        let readable: Vec<String> = graph.nodes.iter().map(|node| plain(&node.name)).collect();
        for part in patterns.idle(&readable) {
            println!("[dist] web/later.txt: nothing is named `{part}`");
        }
        let held: Vec<bool> = graph
            .nodes
            .iter()
            .zip(&readable)
            .map(|(node, name)| {
                // One body may have several names, where the same came out for
                // several functions: then each must fit.
                node.data.is_none()
                    && patterns.holds(name)
                    && node
                        .aliases
                        .iter()
                        .all(|alias| patterns.holds(&plain(alias)))
            })
            .collect();
        // By these the page calls closures; wasm-bindgen takes one for all
        // closures of a kind, whichever file makes them.
        let mut roots = graph.roots.clone();
        roots.extend((0..held.len()).filter(|&node| readable[node].starts_with(INVOKE)));
        let first = Reached::from(graph, &roots, |node| !held[node]);
        let live = Reached::from(graph, &roots, |_| true);

        // A name that two functions share is first if one of them is.
        let mut later: HashSet<String> = HashSet::new();
        let mut kept: HashSet<&str> = HashSet::new();
        for (node, it) in graph.nodes.iter().enumerate() {
            if it.data.is_some() {
                continue;
            }
            if first.through[node].is_some() {
                kept.insert(&it.name);
            } else {
                later.insert(it.name.clone());
            }
        }
        later.retain(|name| !kept.contains(name.as_str()));
        Self {
            later,
            data: second_data(graph, &first),
            report: report(graph, &readable, &first, &live),
        }
    }
}

/// A name as it stands in the source.
fn plain(name: &str) -> String {
    format!("{:#}", demangle(name))
}

/// What can be come by, in the order of coming by it.
struct Reached {
    /// By node: what it was reached through first, itself for a root.
    through: Vec<Option<usize>>,
    order: Vec<usize>,
}

impl Reached {
    fn from(graph: &Graph, roots: &[usize], enter: impl Fn(usize) -> bool) -> Self {
        let mut through = vec![None; graph.nodes.len()];
        let mut order = Vec::new();
        let mut waiting = VecDeque::new();
        for &root in roots {
            if through[root].is_none() {
                through[root] = Some(root);
                waiting.push_back(root);
            }
        }
        while let Some(node) = waiting.pop_front() {
            order.push(node);
            for &to in &graph.nodes[node].to {
                if through[to].is_none() && enter(to) {
                    through[to] = Some(node);
                    waiting.push_back(to);
                }
            }
        }
        Self { through, order }
    }
}

/// Runs of constant data that no piece of the first file overlaps.
fn second_data(graph: &Graph, first: &Reached) -> Vec<Range<u32>> {
    let pieces = |wanted: bool| {
        let mut all: Vec<Range<u32>> = graph
            .nodes
            .iter()
            .enumerate()
            .filter_map(|(node, it)| Some((node, it.data.as_ref()?)))
            .filter(|(node, place)| (place.constant && first.through[*node].is_none()) == wanted)
            .map(|(_, place)| place.bytes.clone())
            .filter(|bytes| !bytes.is_empty())
            .collect();
        all.sort_by_key(|bytes| (bytes.start, bytes.end));
        all
    };
    let mut runs: Vec<Range<u32>> = Vec::new();
    let mut firsts = pieces(false).into_iter().peekable();
    let mut taken = 0;
    for piece in pieces(true) {
        let mut start = piece.start;
        while let Some(one) = firsts.peek() {
            if one.end <= start {
                taken = taken.max(one.end);
                firsts.next();
            } else {
                break;
            }
        }
        start = start.max(taken);
        let end = firsts
            .peek()
            .map_or(piece.end, |one| piece.end.min(one.start));
        if start >= end {
            continue;
        }
        match runs.last_mut() {
            // What lies between two pieces belongs to nobody: it aligns them.
            Some(run) if start <= run.end + 8 && taken <= run.end => {
                run.end = run.end.max(end);
            }
            _ => runs.push(start..end),
        }
    }
    runs.retain(|run| run.end - run.start >= SHORTEST_RUN);
    runs
}

fn report(graph: &Graph, readable: &[String], first: &Reached, live: &Reached) -> String {
    // Bytes that a node brings in: its own and of all that was reached through
    // it.
    let mut brings: Vec<usize> = graph.nodes.iter().map(|node| node.size).collect();
    for &node in first.order.iter().rev() {
        if let Some(through) = first.through[node].filter(|&through| through != node) {
            brings[through] += brings[node];
        }
    }
    let mut nodes: Vec<usize> = live.order.clone();
    nodes.sort_by_key(|&node| (std::cmp::Reverse(brings[node]), node));
    let mut text = String::from("file kind bytes brings name <- through\n");
    for node in nodes {
        let it = &graph.nodes[node];
        let _ = writeln!(
            text,
            "{} {} {:6} {:7} {} <- {}",
            if first.through[node].is_some() { 1 } else { 2 },
            if it.data.is_some() { "data" } else { "code" },
            it.size,
            brings[node],
            readable[node],
            // Of the second file's: whom it was reached through in all.
            first.through[node]
                .or(live.through[node])
                .map_or("", |through| &readable[through]),
        );
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dist::split::graph::{Node, Place};

    fn code(name: &str, to: &[usize]) -> Node {
        Node {
            name: name.to_owned(),
            aliases: Vec::new(),
            size: 40,
            data: None,
            to: to.to_vec(),
        }
    }

    fn data(bytes: Range<u32>, constant: bool) -> Node {
        Node {
            name: format!("data {}", bytes.start),
            aliases: Vec::new(),
            size: (bytes.end - bytes.start) as usize,
            data: Some(Place {
                file: 0..0,
                bytes,
                constant,
            }),
            to: Vec::new(),
        }
    }

    /// start -> {shared, show, 5}, show -> {shared, deep, 5, 6, 7}.
    fn graph() -> Graph {
        Graph {
            nodes: vec![
                code("app::start", &[1, 2, 5]),
                code("app::shared", &[]),
                code("screens::show", &[1, 3, 5, 6, 7]),
                code("core::deep", &[8]),
                code("app::dead", &[]),
                data(1000..1100, true),
                data(1100..1200, true),
                data(1204..1300, true),
                data(1300..1400, false),
            ],
            roots: vec![0],
        }
    }

    #[test]
    fn what_only_second_functions_use_is_second() {
        let plan = Plan::make(&graph(), &Patterns::parse("# remark\nscreens::\n"));
        let mut later: Vec<&str> = plan.later.iter().map(String::as_str).collect();
        later.sort_unstable();
        assert_eq!(later, ["app::dead", "core::deep", "screens::show"]);
        // Joined over what only aligns; neither what both use nor what is
        // written to.
        assert_eq!(plan.data, std::slice::from_ref(&(1100..1300)));
    }

    #[test]
    fn a_line_with_a_mark_keeps_first() {
        let plan = Plan::make(
            &graph(),
            &Patterns::parse("screens::\n!screens::show\napp::sha"),
        );
        assert!(!plan.later.contains("screens::show") && plan.later.contains("app::shared"));
        assert_eq!(plan.data, []);
    }

    #[test]
    fn a_function_with_another_name_elsewhere_is_first() {
        let mut graph = graph();
        graph.nodes[2].aliases.push("kit::button".to_owned());
        let plan = Plan::make(&graph, &Patterns::parse("screens::"));
        assert!(!plan.later.contains("screens::show"));
    }
}
