//! Fewer crossings: each row is sorted by where its neighbours stand, down and
//! up in turns, then neighbours change places where that helps. The best seen
//! is kept.

use super::rows::{Item, Rows};

const SWEEPS: usize = 16;

pub(super) fn lower(rows: &mut Rows) {
    let mut best = rows.rows.clone();
    let mut fewest = count(rows);
    for sweep in 0..SWEEPS {
        if fewest == 0 {
            break;
        }
        let downwards = sweep % 2 == 0;
        sort_by_neighbours(rows, downwards);
        swap_where_better(rows);
        let crossings = count(rows);
        if crossings < fewest {
            fewest = crossings;
            best.clone_from(&rows.rows);
        }
    }
    rows.rows = best;
}

fn places(rows: &Rows) -> Vec<usize> {
    let mut place = vec![0; rows.items()];
    for row in &rows.rows {
        for (at, &item) in row.iter().enumerate() {
            place[item] = at;
        }
    }
    place
}

fn sort_by_neighbours(rows: &mut Rows, downwards: bool) {
    let mut place = places(rows);
    let count = rows.count();
    for step in 1..count {
        let at = if downwards { step } else { count - 1 - step };
        let mut row = std::mem::take(&mut rows.rows[at]);
        let near = if downwards { &rows.above } else { &rows.below };
        let middle = |item: Item| {
            let list = &near[item];
            if list.is_empty() {
                return place[item] as f64;
            }
            list.iter().map(|&x| place[x] as f64).sum::<f64>() / list.len() as f64
        };
        row.sort_by(|&a, &b| {
            middle(a)
                .total_cmp(&middle(b))
                .then(place[a].cmp(&place[b]))
        });
        for (to, &item) in row.iter().enumerate() {
            place[item] = to;
        }
        rows.rows[at] = row;
    }
}

fn swap_where_better(rows: &mut Rows) {
    let mut place = places(rows);
    for at in 0..rows.count() {
        for _ in 0..4 {
            let mut better = false;
            for left in 0..rows.rows[at].len().saturating_sub(1) {
                let (a, b) = (rows.rows[at][left], rows.rows[at][left + 1]);
                let gain = |near: &Vec<Vec<Item>>| {
                    let (mut as_is, mut swapped) = (0i64, 0i64);
                    for &x in &near[a] {
                        for &y in &near[b] {
                            as_is += i64::from(place[x] > place[y]);
                            swapped += i64::from(place[y] > place[x]);
                        }
                    }
                    as_is - swapped
                };
                if gain(&rows.above) + gain(&rows.below) > 0 {
                    rows.rows[at].swap(left, left + 1);
                    place.swap(a, b);
                    better = true;
                }
            }
            if !better {
                break;
            }
        }
    }
}

/// Crossings of the lines between each row and the next.
pub(super) fn count(rows: &Rows) -> usize {
    let place = places(rows);
    let mut crossings = 0;
    for (at, row) in rows.rows.iter().enumerate() {
        let width = rows.rows.get(at + 1).map_or(0, Vec::len);
        // Counts, for each line in turn, those before it that end further
        // right (a tree of partial sums).
        let mut tree = vec![0usize; width + 1];
        let mut passed = 0;
        for &item in row {
            let mut ends: Vec<usize> = rows.below[item].iter().map(|&x| place[x]).collect();
            ends.sort_unstable();
            for &end in &ends {
                let (mut not_right, mut i) = (0, end + 1);
                while i > 0 {
                    not_right += tree[i];
                    i -= i & i.wrapping_neg();
                }
                crossings += passed - not_right;
            }
            for &end in &ends {
                passed += 1;
                let mut i = end + 1;
                while i <= width {
                    tree[i] += 1;
                    i += i & i.wrapping_neg();
                }
            }
        }
    }
    crossings
}

#[cfg(test)]
mod tests {
    use super::super::super::graph::{Edge, GraphError, Precedence, Why};
    use super::super::rows::Rows;
    use super::{count, lower};

    #[test]
    fn counts_and_removes_a_crossing() -> Result<(), GraphError> {
        let edges = [(0, 3), (1, 2)].map(|(b, a)| Edge::new(b, a, Why::Stated));
        let graph = Precedence::new(4, &edges)?;
        let mut rows = Rows::new(&graph, &[0, 0, 1, 1], 4);
        rows.rows = vec![vec![0, 1], vec![2, 3]];
        assert_eq!(count(&rows), 1);
        lower(&mut rows);
        assert_eq!(count(&rows), 0);
        Ok(())
    }
}
