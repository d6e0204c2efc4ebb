//! From the middle outwards: lines, rows and edges of covers, so that what is
//! under the part is pressed out towards the ends.

use super::geometry::{Points, at};
use super::recognise;
use std::f64::consts::TAU;

/// Marks as far from the middle as one another, within this part of the mean
/// distance between neighbours, are of one turn of the spiral.
const SAME_TURN: f64 = 0.5;

/// From here on the longer side counts as the way outwards.
const LONGER: f64 = 1.3;

/// Every mark, from the middle outwards. Marks of one turn are gone through
/// around the middle, on from where the last turn ended.
pub(super) fn outwards(points: &Points) -> Vec<usize> {
    let away = distances(points);
    let mut by_distance: Vec<usize> = (0..points.len()).collect();
    by_distance.sort_by(|&a, &b| at(&away, a).total_cmp(&at(&away, b)).then(a.cmp(&b)));

    let turn_width = SAME_TURN * step(&away);
    let mut order: Vec<usize> = Vec::with_capacity(points.len());
    let mut turn: Vec<usize> = Vec::new();
    for &mark in &by_distance {
        let starts_new = turn
            .first()
            .is_some_and(|&first| at(&away, mark) - at(&away, first) > turn_width);
        if starts_new {
            take_turn(points, &mut turn, &mut order);
        }
        turn.push(mark);
    }
    take_turn(points, &mut turn, &mut order);
    order
}

/// How far from the middle each mark is: along a line, along rows, along the
/// longer side of what is clearly longer than wide, or straight out.
fn distances(points: &Points) -> Vec<f64> {
    if recognise::line(points) <= 1.0 {
        return from_middle(points.turned().iter().map(|it| it.0).collect());
    }
    if let Some(rows) = recognise::rows(points).filter(|it| it.misfit <= 1.0) {
        return from_middle(rows.along);
    }
    let rectangle = points.rectangle();
    if rectangle.stretch > LONGER {
        return from_middle(rectangle.marks.iter().map(|it| it.0).collect());
    }
    points.rounded().iter().map(|it| it.0.hypot(it.1)).collect()
}

/// How far each is from half way between the ends.
fn from_middle(along: Vec<f64>) -> Vec<f64> {
    let low = along.iter().copied().fold(f64::INFINITY, f64::min);
    let high = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    along
        .iter()
        .map(|it| (it - (low + high) / 2.0).abs())
        .collect()
}

/// The usual distance from one turn to the next.
fn step(away: &[f64]) -> f64 {
    let mut sorted = away.to_vec();
    sorted.sort_by(f64::total_cmp);
    let reach = sorted.last().copied().unwrap_or(0.0);
    let gaps: Vec<f64> = sorted
        .windows(2)
        .map(|it| at(it, 1) - at(it, 0))
        // What is smaller is a thumb's width within one turn.
        .filter(|it| *it > 0.08 * reach)
        .collect();
    if gaps.is_empty() {
        reach
    } else {
        gaps.iter().sum::<f64>() / gaps.len() as f64
    }
}

/// Empties a turn into the order, clockwise on from the last one done.
fn take_turn(points: &Points, turn: &mut Vec<usize>, order: &mut Vec<usize>) {
    let from = order.last().map_or(0.0, |&it| points.angle(it));
    let onward = |mark: &usize| (points.angle(*mark) - from).rem_euclid(TAU);
    turn.sort_by(|a, b| onward(a).total_cmp(&onward(b)).then(a.cmp(b)));
    order.append(turn);
}
