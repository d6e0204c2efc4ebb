//! The cross pattern on a circle, as ASME PCC-1 lists it for 4 to 24 bolts and
//! 28 (recalled); other counts by the same rule.

/// The order in which `n` bolts, numbered clockwise from 0, are tightened.
///
/// In a multiple of four, bolts go in groups of four: one, its opposite, then
/// the two at right angles. In other even counts they go in opposite pairs; odd
/// counts make a star.
///
/// ```
/// use countback_core::torque::pattern::cross_order;
/// assert_eq!(cross_order(8), [0, 4, 2, 6, 1, 5, 3, 7]);
/// ```
pub fn cross_order(n: usize) -> Vec<usize> {
    if n % 2 == 1 {
        // Every step is nearly half around, and visits all: (n - 1) / 2 has no
        // factor in common with n.
        let step = (n / 2).max(1);
        return (0..n).map(|it| it * step % n).collect();
    }
    let (group, turns): (usize, &[usize]) = if n.is_multiple_of(4) {
        (n / 4, &[0, 2, 1, 3])
    } else {
        (n / 2, &[0, 1])
    };
    spread(group)
        .into_iter()
        .flat_map(|start| turns.iter().map(move |turn| start + turn * group))
        .collect()
}

/// The order in which the groups follow one another: each far from the last.
fn spread(n: usize) -> Vec<usize> {
    match n {
        0 | 1 => (0..n).collect(),
        3 => vec![0, 1, 2],
        // PCC-1 lists 28 bolts so.
        7 => vec![0, 3, 5, 1, 4, 2, 6],
        _ if n.is_multiple_of(2) => spread(n / 2)
            .into_iter()
            .flat_map(|it| [it, it + n / 2])
            .collect(),
        _ => (0..n).step_by(2).chain((1..n).step_by(2)).collect(),
    }
}
