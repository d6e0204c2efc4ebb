//! The drawing of the order: boxes in rows from what goes first to what goes
//! last, and lines between them, as plain geometry that a screen or a printer
//! can use. Rows by the longest way and by what fits side by side, crossings
//! lowered by barycentres (Sugiyama, Tagawa and Toda 1981; from memory), the
//! same every time. To
//! draw from the outermost part to the target, give it the graph reversed.

mod crossings;
mod place;
mod rows;

use super::graph::{Edge, Node, Precedence, Why};
use super::rank_set::RankSet;
use rows::{Item, Rows};

/// Sizes in abstract units; the default is in CSS pixels, three boxes of a
/// thumb's size side by side within 390.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    pub box_w: i32,
    pub box_h: i32,
    /// Between boxes of a row.
    pub gap_x: i32,
    /// Between rows, where the lines run.
    pub gap_y: i32,
    /// Between a line that passes through a row and its neighbours there.
    pub line_gap: i32,
    /// Boxes in a row; what does not fit goes into the next.
    pub most_per_row: usize,
}

impl Default for Style {
    fn default() -> Self {
        Self {
            box_w: 112,
            box_h: 56,
            gap_x: 12,
            gap_y: 32,
            line_gap: 8,
            most_per_row: 3,
        }
    }
}

/// A node's box, by its top left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    pub node: Node,
    /// How many steps the longest way to it has.
    pub layer: u32,
    /// The row it stands in, from the top.
    pub row: u32,
    pub x: i32,
    pub y: i32,
    pub w: i32,
    pub h: i32,
}

/// A constraint as drawn, from `before` to `after`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    pub before: Node,
    pub after: Node,
    pub why: Why,
    /// It runs against the drawing because it closes a cycle.
    pub against: bool,
    pub points: Vec<(i32, i32)>,
}

/// The drawing; everything lies within 0..width and 0..height.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Picture {
    pub width: i32,
    pub height: i32,
    /// By node.
    pub boxes: Vec<Placed>,
    pub lines: Vec<Line>,
}

/// Draws the graph; constraints that follow from others are left out. Sizes
/// below 2, and no boxes in a row, are taken as 2 and 1.
pub fn draw(graph: &Precedence, style: &Style) -> Picture {
    let style = Style {
        box_w: style.box_w.max(2),
        box_h: style.box_h.max(2),
        gap_x: style.gap_x.max(2),
        gap_y: style.gap_y.max(2),
        line_gap: style.line_gap.max(2),
        most_per_row: style.most_per_row.max(1),
    };
    let (kept, against) = forward(graph);
    let turned = against.iter().map(|e| Edge::new(e.after, e.before, e.why));
    let down: Vec<Edge> = kept.iter().copied().chain(turned).collect();
    let Ok(inner) = Precedence::new(graph.node_count(), &down) else {
        return Picture::default();
    };
    let Ok(layer) = inner.levels() else {
        return Picture::default();
    };
    let mut rows = Rows::new(&inner, &layer, style.most_per_row);
    crossings::lower(&mut rows);
    let x = place::centres(&rows, &style);
    geometry(&rows, &x, &layer, &style, &kept, &against)
}

/// Splits the edges into those that a drawing downwards can follow, without
/// what follows from others, and those that close a cycle.
fn forward(graph: &Precedence) -> (Vec<Edge>, Vec<Edge>) {
    if let Ok(kept) = graph.reduction() {
        return (kept, Vec::new());
    }
    let place = forced_places(graph);
    let runs_down = |e: &Edge| place[e.before as usize] < place[e.after as usize];
    let (down, mut against): (Vec<Edge>, Vec<Edge>) = graph.edges().partition(runs_down);
    against.dedup_by_key(|e| (e.before, e.after));
    let kept = Precedence::new(graph.node_count(), &down)
        .ok()
        .and_then(|graph| graph.reduction().ok())
        .unwrap_or_default();
    (kept, against)
}

/// The place of each node in an order that takes the smallest number left
/// whenever a cycle stops it.
fn forced_places(graph: &Precedence) -> Vec<usize> {
    let count = graph.node_count();
    let mut waits = graph.counts_before();
    let mut ready = RankSet::new(count);
    for node in (0..count).filter(|&x| waits[x] == 0) {
        ready.insert(node as Node);
    }
    let mut place = vec![usize::MAX; count];
    let mut unplaced = 0;
    for at in 0..count {
        while unplaced < count && place[unplaced] != usize::MAX {
            unplaced += 1;
        }
        let node = ready.pop_first().unwrap_or(unplaced as Node);
        place[node as usize] = at;
        for &next in graph.after.of(node) {
            let wait = &mut waits[next as usize];
            *wait -= 1;
            if *wait == 0 && place[next as usize] == usize::MAX {
                ready.insert(next);
            }
        }
    }
    place
}

fn geometry(
    rows: &Rows,
    x: &[i32],
    layer: &[u32],
    style: &Style,
    kept: &[Edge],
    against: &[Edge],
) -> Picture {
    let pitch = style.box_h + style.gap_y;
    let top = |item: Item| rows.row_of(item) as i32 * pitch;
    let boxes: Vec<Placed> = (0..layer.len())
        .map(|node| Placed {
            node: node as Node,
            layer: layer[node],
            row: rows.row_of(node) as u32,
            x: x[node] - style.box_w / 2,
            y: top(node),
            w: style.box_w,
            h: style.box_h,
        })
        .collect();
    let run = |from: Node, to: Node| {
        let mut points = vec![(x[from as usize], top(from as usize) + style.box_h)];
        for item in rows.between(from, to) {
            points.push((x[item], top(item)));
            points.push((x[item], top(item) + style.box_h));
        }
        points.push((x[to as usize], top(to as usize)));
        points
    };
    let mut lines: Vec<Line> = Vec::with_capacity(kept.len() + against.len());
    for edge in kept {
        let points = run(edge.before, edge.after);
        lines.push(Line {
            before: edge.before,
            after: edge.after,
            why: edge.why,
            against: false,
            points,
        });
    }
    for edge in against {
        let mut points = run(edge.after, edge.before);
        points.reverse();
        lines.push(Line {
            before: edge.before,
            after: edge.after,
            why: edge.why,
            against: true,
            points,
        });
    }
    let right = boxes
        .iter()
        .map(|b| b.x + b.w)
        .chain(x.iter().copied())
        .max()
        .unwrap_or(0);
    let height = (rows.count() as i32 * pitch - style.gap_y).max(0);
    Picture {
        width: right,
        height,
        boxes,
        lines,
    }
}
