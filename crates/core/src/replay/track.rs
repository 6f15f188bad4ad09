//! Travel, velocity and acceleration beside each reading, from a curve through the readings near it.

use crate::fit::{Points, fit_polynomial};

/// Nodes of a track at most: more than a picture or an ear can tell apart.
const MOST_NODES: usize = 600;

/// Readings on each side of a node that its curve goes through: with a pulley of ten spokes one turn of it.
const NEIGHBORS: usize = 5;

/// And all within this time of it, s: a tenth of a second is what an eye follows.
const NEAR_S: f64 = 0.1;

/// The motion at one time.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Node {
    /// s.
    pub(super) time: f64,
    /// m.
    pub(super) travel: f64,
    /// m/s.
    pub(super) velocity: f64,
    /// Its standard uncertainty.
    pub(super) velocity_u: f64,
    /// m/s².
    pub(super) acceleration: f64,
    /// Its standard uncertainty.
    pub(super) acceleration_u: f64,
}

/// A motion as nodes in order of time: one for each reading, and one at each end of the stretch. Invariant: at least
/// two, all numbers finite.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Track {
    nodes: Vec<Node>,
    /// Times of the readings, s.
    times: Vec<f64>,
}

impl Track {
    /// The track through readings (time in s; travel in m, velocity in m/s or acceleration in m/s², as `degree` says:
    /// 2, 1, 0), with the motion in the stretch counted as positive; `None` where there are too few.
    pub(super) fn new(pairs: Vec<(f64, f64)>, degree: usize, stretch: (f64, f64)) -> Option<Self> {
        let mut pairs = condensed(pairs);
        let inside = |time: f64| time >= stretch.0 && time <= stretch.1;
        turn(&mut pairs, degree, inside);
        let mut nodes = Vec::with_capacity(pairs.len() + 2);
        // Before, within, after: no neighborhood reaches over an end of the stretch.
        let start = pairs.partition_point(|pair| pair.0 < stretch.0);
        let end = pairs.partition_point(|pair| pair.0 <= stretch.1).max(start);
        for part in [pairs.get(..start), pairs.get(start..end), pairs.get(end..)].into_iter().flatten() {
            let beside = |index| node(part, index, degree).or_else(|| crude(part, index, degree));
            let mut found: Vec<Node> = (0..part.len()).filter_map(beside).collect();
            if part.first().is_some_and(|pair| inside(pair.0)) {
                add_ends(&mut found, stretch);
            }
            nodes.append(&mut found);
        }
        if degree < 2 {
            sum_up(&mut nodes, stretch.0, degree);
        }
        let finite = |node: &Node| {
            [node.time, node.travel, node.velocity, node.velocity_u, node.acceleration, node.acceleration_u]
                .iter()
                .all(|number| number.is_finite())
        };
        let times = pairs.iter().map(|pair| pair.0).collect();
        (nodes.len() > 1 && nodes.iter().all(finite)).then_some(Self { nodes, times })
    }

    /// The nodes.
    pub(super) fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// Times of the readings, s.
    pub(super) fn times(&self) -> &[f64] {
        &self.times
    }

    /// First and last time, s.
    pub(super) fn span(&self) -> (f64, f64) {
        (self.nodes.first().map_or(0.0, |node| node.time), self.nodes.last().map_or(0.0, |node| node.time))
    }

    /// Between nodes the travel follows the cubic with their velocities (Hermite interpolation), the rest a line.
    pub(super) fn at(&self, time: f64) -> Node {
        let later =
            self.nodes.partition_point(|node| node.time <= time).clamp(1, self.nodes.len().saturating_sub(1));
        let (Some(from), Some(to)) = (self.nodes.get(later - 1), self.nodes.get(later)) else {
            return Node::default();
        };
        let h = to.time - from.time;
        let x = if h > 0.0 { ((time - from.time) / h).clamp(0.0, 1.0) } else { 0.0 };
        let line = |from: f64, to: f64| from + (to - from) * x;
        let (xx, xxx) = (x * x, x * x * x);
        let travel = from.travel * (2.0 * xxx - 3.0 * xx + 1.0)
            + to.travel * (3.0 * xx - 2.0 * xxx)
            + h * (from.velocity * (xxx - 2.0 * xx + x) + to.velocity * (xxx - xx));
        Node {
            time,
            travel,
            velocity: line(from.velocity, to.velocity),
            velocity_u: line(from.velocity_u, to.velocity_u),
            acceleration: line(from.acceleration, to.acceleration),
            acceleration_u: line(from.acceleration_u, to.acceleration_u),
        }
    }
}

/// Puts a node at each end of the stretch, where the curve of the reading next to it goes on to.
fn add_ends(within: &mut Vec<Node>, stretch: (f64, f64)) {
    let moved = |node: &Node, time: f64| {
        let h = time - node.time;
        Node {
            time,
            travel: node.travel + h * (node.velocity + 0.5 * h * node.acceleration),
            velocity: node.velocity + h * node.acceleration,
            ..*node
        }
    };
    let first = within.first().filter(|node| node.time > stretch.0).map(|node| moved(node, stretch.0));
    let last = within.last().filter(|node| node.time < stretch.1).map(|node| moved(node, stretch.1));
    within.splice(0..0, first);
    within.extend(last);
}

/// Means of neighbors where there are more readings than nodes.
fn condensed(pairs: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let together = pairs.len().div_ceil(MOST_NODES);
    if together <= 1 {
        return pairs;
    }
    let mean = |block: &[(f64, f64)]| {
        let count = block.len() as f64;
        let sum = block.iter().fold((0.0, 0.0), |sum, pair| (sum.0 + pair.0, sum.1 + pair.1));
        (sum.0 / count, sum.1 / count)
    };
    pairs.chunks(together).map(mean).collect()
}

/// Counts the motion in the stretch as positive: a logger may count the height, or the table the other way. An
/// acceleration does not tell which way it counts; its mass gets faster.
fn turn(pairs: &mut [(f64, f64)], degree: usize, inside: impl Fn(f64) -> bool) {
    let within: Vec<f64> = pairs.iter().filter(|pair| inside(pair.0)).map(|pair| pair.1).collect();
    let along = match (degree, within.first(), within.last()) {
        (2, Some(first), Some(last)) => last - first,
        _ => within.iter().sum(),
    };
    if along < 0.0 {
        pairs.iter_mut().for_each(|pair| pair.1 = -pair.1);
    }
}

/// The curve of `degree` through the readings about one of them, there; `None` where they are too few for a curve.
fn node(part: &[(f64, f64)], index: usize, degree: usize) -> Option<Node> {
    let &(time, value) = part.get(index)?;
    let near = |pair: &&(f64, f64)| (pair.0 - time).abs() <= NEAR_S;
    let before = part.iter().take(index).rev().take_while(near).count().max(NEIGHBORS).min(index);
    let after = part.iter().skip(index + 1).take_while(near).count().max(NEIGHBORS);
    let neighbors = part.iter().skip(index - before).take(before + 1 + after);
    // Times and values from this reading on: nothing is lost to a clock that started long ago.
    let points: Vec<(f64, f64)> = neighbors.map(|pair| (pair.0 - time, pair.1 - value)).collect();
    if degree == 0 {
        return Some(level(time, value, &points));
    }
    let curve = fit_polynomial(&Points::new(points).ok()?, degree).ok()?;
    let at = -curve.center;
    let coefficient = |power: usize| curve.fit.coefficients.get(power).copied().unwrap_or(0.0);
    let covariance = |row: usize, column: usize| {
        curve.fit.covariance.get(row).and_then(|row| row.get(column)).copied().unwrap_or(0.0)
    };
    if degree == 1 {
        return Some(Node {
            time,
            travel: 0.0,
            velocity: value + curve.value_at(0.0),
            velocity_u: (covariance(0, 0) + at * (2.0 * covariance(0, 1) + at * covariance(1, 1)))
                .max(0.0)
                .sqrt(),
            acceleration: coefficient(1),
            acceleration_u: covariance(1, 1).max(0.0).sqrt(),
        });
    }
    Some(Node {
        time,
        travel: value + curve.value_at(0.0),
        velocity: coefficient(1) + 2.0 * at * coefficient(2),
        velocity_u: (covariance(1, 1) + 4.0 * at * (covariance(1, 2) + at * covariance(2, 2)))
            .max(0.0)
            .sqrt(),
        acceleration: 2.0 * coefficient(2),
        acceleration_u: 2.0 * covariance(2, 2).max(0.0).sqrt(),
    })
}

/// A reading with too few others about it for a curve: its velocity from a neighbor, nothing more.
fn crude(part: &[(f64, f64)], index: usize, degree: usize) -> Option<Node> {
    let &(time, value) = part.get(index)?;
    let other = if index > 0 { part.get(index - 1) } else { part.get(1) };
    let slope = other.map_or(0.0, |other| (value - other.1) / (time - other.0));
    let still = Node { time, ..Node::default() };
    Some(match degree {
        0 => Node { acceleration: value, ..still },
        1 => Node { velocity: value, ..still },
        _ => Node { travel: value, velocity: slope, ..still },
    })
}

/// The mean of accelerations, given less `value`.
fn level(time: f64, value: f64, points: &[(f64, f64)]) -> Node {
    let count = points.len() as f64;
    let mean = points.iter().map(|point| point.1).sum::<f64>() / count;
    let squares = points.iter().map(|point| (point.1 - mean) * (point.1 - mean)).sum::<f64>();
    let variance = squares / (count * (count - 1.0).max(1.0));
    Node { time, acceleration: value + mean, acceleration_u: variance.sqrt(), ..Node::default() }
}

/// Velocities summed to travel and, before that, accelerations to velocities, by trapezoids: both are zero where the
/// stretch begins, an acceleration's fall at rest.
fn sum_up(nodes: &mut [Node], start: f64, degree: usize) {
    let mut before = Node::default();
    for (index, node) in nodes.iter_mut().enumerate() {
        let h = if index == 0 { 0.0 } else { node.time - before.time };
        if degree == 0 {
            node.velocity = before.velocity + 0.5 * h * (before.acceleration + node.acceleration);
        }
        node.travel = before.travel + 0.5 * h * (before.velocity + node.velocity);
        before = *node;
    }
    let first = nodes.iter().find(|node| node.time >= start).copied().unwrap_or_default();
    if degree == 0 {
        let origin = nodes.first().map_or(0.0, |node| node.time);
        for node in nodes.iter_mut() {
            node.velocity -= first.velocity;
            node.travel -= first.velocity * (node.time - origin);
        }
    }
}
