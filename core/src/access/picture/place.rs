//! Where each item stands in its row: as near to its neighbours above and
//! below as the order and the gaps allow. For one row that is least squares
//! under "not left of the one before", solved exactly by pooling.

use super::Style;
use super::rows::{Item, Rows};

const SWEEPS: usize = 12;

/// The centre of each item, moved so that nothing lies left of 0. Boxes of a
/// row never come closer than the gap, and no row spreads wider than the
/// fullest row must be.
pub(super) fn centres(rows: &Rows, style: &Style) -> Vec<i32> {
    let mut x = vec![0.0f64; rows.items()];
    let offsets: Vec<Vec<f64>> = rows
        .rows
        .iter()
        .map(|row| offsets(rows, row, style))
        .collect();
    for (row, offset) in rows.rows.iter().zip(&offsets) {
        let middle = offset.last().copied().unwrap_or(0.0) / 2.0;
        for (&item, at) in row.iter().zip(offset) {
            x[item] = at - middle;
        }
    }
    let ends = |at: usize| {
        let end = |item: Option<&Item>| item.map_or(0.0, |&x| f64::from(half(rows, x, style)));
        (end(rows.rows[at].first()), end(rows.rows[at].last()))
    };
    let reach = |at: usize| offsets[at].last().copied().unwrap_or(0.0);
    let widest = (0..rows.count())
        .map(|at| ends(at).0 + reach(at) + ends(at).1)
        .fold(0.0, f64::max);
    for sweep in 0..SWEEPS {
        let count = rows.count();
        for step in 0..count {
            // Down by what stands above, up by what stands below, and in the
            // end by both.
            let at = if sweep % 2 == 0 {
                step
            } else {
                count - 1 - step
            };
            let both = sweep + 2 >= SWEEPS;
            let near = Near {
                above: sweep % 2 == 0 || both,
                below: sweep % 2 == 1 || both,
            };
            let room = (
                ends(at).0 - widest / 2.0,
                widest / 2.0 - ends(at).1 - reach(at),
            );
            settle(rows, at, &offsets[at], room, near, &mut x);
        }
    }
    whole(rows, style, &x)
}

fn half(rows: &Rows, item: Item, style: &Style) -> i32 {
    if rows.is_box(item) {
        (style.box_w + 1) / 2
    } else {
        0
    }
}

fn apart(rows: &Rows, left: Item, right: Item, style: &Style) -> i32 {
    let both = rows.is_box(left) && rows.is_box(right);
    let gap = if both { style.gap_x } else { style.line_gap };
    half(rows, left, style) + gap + half(rows, right, style)
}

/// How far each item of a row must at least stand from the first.
fn offsets(rows: &Rows, row: &[Item], style: &Style) -> Vec<f64> {
    let mut offsets = Vec::with_capacity(row.len());
    let mut sum = 0.0;
    for (at, &item) in row.iter().enumerate() {
        if at > 0 {
            sum += f64::from(apart(rows, row[at - 1], item, style));
        }
        offsets.push(sum);
    }
    offsets
}

/// Which neighbours a row follows.
#[derive(Clone, Copy)]
struct Near {
    above: bool,
    below: bool,
}

/// Settles one row. `room` bounds where its first item may stand, so that
/// the row keeps within the width.
fn settle(rows: &Rows, at: usize, offset: &[f64], room: (f64, f64), near: Near, x: &mut [f64]) {
    // Blocks of items pushed together: sum of wishes, weight, first item.
    let mut blocks: Vec<(f64, f64, usize)> = Vec::new();
    let row = &rows.rows[at];
    for (place, &item) in row.iter().enumerate() {
        let (mut sum, mut count) = (0.0, 0.0);
        let above = rows.above[item].iter().filter(|_| near.above);
        for &other in above.chain(rows.below[item].iter().filter(|_| near.below)) {
            sum += x[other];
            count += 1.0;
        }
        // Without a neighbour it stays; a line would rather run straight
        // than a box stand in the middle.
        let (wish, weight) = match (count > 0.0, rows.is_box(item)) {
            (false, _) => (x[item], 0.2),
            (true, true) => (sum / count, 1.0),
            (true, false) => (sum / count, 3.0),
        };
        blocks.push(((wish - offset[place]) * weight, weight, place));
        while let [.., left, right] = blocks[..]
            && left.0 / left.1 > right.0 / right.1
        {
            blocks.truncate(blocks.len() - 2);
            blocks.push((left.0 + right.0, left.1 + right.1, left.2));
        }
    }
    for (at, &(sum, weight, from)) in blocks.iter().enumerate() {
        let to = blocks.get(at + 1).map_or(row.len(), |next| next.2);
        for place in from..to {
            // Clamped, the least squares stay the least within the bounds.
            let first = (sum / weight).min(room.1).max(room.0);
            x[row[place]] = first + offset[place];
        }
    }
}

/// Whole numbers, with the gaps made good that rounding may have taken.
fn whole(rows: &Rows, style: &Style, x: &[f64]) -> Vec<i32> {
    let mut centre: Vec<i32> = x.iter().map(|x| x.round() as i32).collect();
    for row in &rows.rows {
        for at in 1..row.len() {
            let least = centre[row[at - 1]] + apart(rows, row[at - 1], row[at], style);
            centre[row[at]] = centre[row[at]].max(least);
        }
    }
    let left_edge = |item: Item| centre[item] - half(rows, item, style);
    let left = (0..centre.len()).map(left_edge).min().unwrap_or(0);
    centre.iter_mut().for_each(|x| *x -= left);
    centre
}
