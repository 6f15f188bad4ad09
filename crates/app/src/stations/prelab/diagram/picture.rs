//! What a force diagram looks like: the scene, the places, the arrows and their names.

use crate::dom::{El, svg};
use whorl_derivation::diagram::{Arrow, DiagramTask, Direction, LONGEST, Place, SceneShape};

/// A place or a vector in the scene's square.
pub(super) type Point = (f64, f64);

/// How much longer an arrow is drawn per step of its length.
pub(super) const STEP: f64 = 7.0;
/// The length of an arrowhead.
const HEAD: f64 = 3.4;
/// How far arrows at one place that point the same way stand apart.
const APART: f64 = 3.0;
/// How far a name stays away from what it names.
const GAP: f64 = 2.1;
/// One per kind of force, over again when there are more: color alone would not tell them apart.
const DASHES: [&str; 4] = ["none", "2.2 1.2", "0.7 1.1", "3.6 1 0.7 1"];

/// The part of the plane that is shown.
#[derive(Clone, Copy)]
pub(super) struct Bounds {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Bounds {
    pub(super) fn width(self) -> f64 {
        self.right - self.left
    }

    pub(super) fn height(self) -> f64 {
        self.bottom - self.top
    }

    /// The size of letters: always the same share of the width, so a wider view reads as well.
    pub(super) fn letters(self) -> f64 {
        self.width() * 0.041
    }

    fn holding(self, (x, y): Point) -> Self {
        // Above and below, a name may stand beyond the tip.
        Self {
            left: self.left.min(x - 4.0),
            top: self.top.min(y - 8.0),
            right: self.right.max(x + 4.0),
            bottom: self.bottom.max(y + 8.0),
        }
    }
}

/// What has to be in view: the square, every arrow, and every arrow that belongs here at its
/// longest, so that a right diagram keeps its scale while it is drawn.
pub(super) fn bounds(task: &DiagramTask, arrows: &[Arrow]) -> Bounds {
    let longest = task.needed.iter().flat_map(|needed| {
        let (force, direction) = (needed.force, needed.direction);
        needed.places.iter().map(move |&place| Arrow { force, place, direction, length: LONGEST })
    });
    let square = Bounds { left: -4.0, top: -4.0, right: 104.0, bottom: 104.0 };
    longest
        .chain(arrows.iter().copied())
        .filter_map(|arrow| lay_out(task, arrow, 0.0))
        .flat_map(|line| line.along)
        .fold(square, Bounds::holding)
}

/// An arrow as drawn.
struct Line {
    shaft: String,
    head: String,
    /// Places along it, which names have to keep clear of.
    along: Vec<Point>,
    /// From where, and in which direction, its name may stand; best first.
    beside: Vec<(Point, Point)>,
}

/// `slot` counts the arrows before it that it would otherwise hide.
fn lay_out(task: &DiagramTask, arrow: Arrow, slot: f64) -> Option<Line> {
    let place = task.points.get(arrow.place)?;
    let at = (place.x, place.y);
    let length = f64::from(arrow.length);
    Some(if let Some(way) = arrow.direction.vector() {
        let (side, length) = ((-way.1, way.0), length * STEP);
        let other_side = (-side.0, -side.1);
        let start = from(at, side, slot * APART);
        let (tip, middle) = (from(start, way, length), from(start, way, length * 0.6));
        Line {
            shaft: straight(start, from(tip, way, -HEAD * 0.8)),
            head: head(tip, way),
            along: (0..=6).map(|part| from(start, way, length * f64::from(part) / 6.0)).collect(),
            beside: vec![
                (tip, way),
                (middle, side),
                (middle, other_side),
                (tip, side),
                (tip, other_side),
                (start, (-way.0, -way.1)),
                (start, side),
                (start, other_side),
            ],
        }
    } else {
        // Steps small enough to fit, and slots smaller still, so that longer always is further out.
        let radius = 4.0 + 2.8 * length + 1.3 * slot;
        let (shaft, end, way) = arc(at, radius, arrow.direction);
        let beside = [Direction::Up, Direction::Right, Direction::Left, Direction::Down];
        let around = |direction: Direction| direction.vector().map(|way| (from(at, way, radius), way));
        Line {
            shaft,
            head: head(from(end, way, HEAD * 0.8), way),
            along: Direction::ALL.into_iter().filter_map(around).map(|(point, _)| point).collect(),
            beside: beside.into_iter().filter_map(around).collect(),
        }
    })
}

/// The arrows with their names. `preview` is the index of the one being dragged.
pub(super) fn placed(task: &DiagramTask, arrows: &[Arrow], preview: Option<usize>) -> Vec<El> {
    let bounds = bounds(task, arrows);
    let line = |(index, arrow): (usize, &Arrow)| {
        let turns = arrow.direction.turns();
        let hides = |other: &&Arrow| {
            other.place == arrow.place
                && (other.direction == arrow.direction || turns && other.direction.turns())
        };
        let slot = arrows.iter().take(index).filter(hides).count();
        Some((index, *arrow, lay_out(task, *arrow, slot as f64)?))
    };
    let lines: Vec<_> = arrows.iter().enumerate().filter_map(line).collect();
    let of_words = task.scene.shapes.iter().filter_map(|shape| match shape {
        SceneShape::Words { x, y, text } => Some(((*x, *y), size(&[text], bounds.letters()))),
        _ => None,
    });
    let of_lines = lines.iter().flat_map(|(_, _, line)| line.along.iter().map(|point| (*point, (1.0, 1.0))));
    let mut taken: Vec<(Point, Point)> = of_words.chain(of_lines).collect();
    let mut all = Vec::new();
    for (index, arrow, line) in &lines {
        let name = task.forces.get(arrow.force).map(|force| force.name.as_str()).unwrap_or_default();
        let rows = rows(name);
        let half = size(&rows, bounds.letters());
        let middle = free_place(&line.beside, half, bounds, &taken);
        taken.push((middle, half));
        let class = if preview == Some(*index) { "force dragged" } else { "force" };
        let dashes = DASHES.get(arrow.force % DASHES.len()).copied().unwrap_or("none");
        all.push(
            svg("g")
                .attr("class", &format!("{class} of-{}", arrow.force % 3))
                .with(path("shaft", &line.shaft).attr("stroke-dasharray", dashes))
                .with(path("head", &line.head))
                .with(words(&rows, middle, bounds.letters())),
        );
    }
    all
}

/// The place beside the arrow where its name hides least.
fn free_place(beside: &[(Point, Point)], half: Point, bounds: Bounds, taken: &[(Point, Point)]) -> Point {
    let center = |&(anchor, way): &(Point, Point)| {
        let (x, y) = from(anchor, way, half.0 * way.0.abs() + half.1 * way.1.abs() + GAP);
        let x = x.min(bounds.right - half.0).max(bounds.left + half.0);
        (x, y.min(bounds.bottom - half.1).max(bounds.top + half.1))
    };
    let hidden = |&(x, y): &Point| {
        let hides = |((left, top), size): &&(Point, Point)| {
            (left - x).abs() < size.0 + half.0 && (top - y).abs() < size.1 + half.1
        };
        taken.iter().filter(hides).count()
    };
    beside.iter().map(center).min_by_key(hidden).unwrap_or_default()
}

/// A name in one row, or in two when it is long.
fn rows(name: &str) -> Vec<&str> {
    let spaces = name.match_indices(' ').map(|(at, _)| at);
    let middle = spaces.min_by_key(|at| at.abs_diff(name.len() / 2)).filter(|_| name.len() > 12);
    match middle.and_then(|at| name.split_at_checked(at)) {
        Some((first, second)) => vec![first, second.trim_start()],
        None => vec![name],
    }
}

/// Half the width and half the height of rows of words, near enough.
fn size(rows: &[impl AsRef<str>], letters: f64) -> Point {
    let longest = rows.iter().map(|row| row.as_ref().chars().count()).max().unwrap_or_default();
    (longest as f64 * letters * 0.3, rows.len() as f64 * letters * 0.58)
}

fn words(rows: &[impl AsRef<str>], (x, y): Point, letters: f64) -> Vec<El> {
    let first = y - (rows.len() as f64 - 1.0) * letters * 0.55 + letters * 0.35;
    let row = |(number, row): (usize, &_)| {
        let y = first + number as f64 * letters * 1.1;
        let text = svg("text").attr("x", &format!("{x:.1}")).attr("y", &format!("{y:.1}"));
        text.with(AsRef::<str>::as_ref(row))
    };
    rows.iter().enumerate().map(row).collect()
}

/// The scene's shapes and the places where arrows can start.
pub(super) fn scene(task: &DiagramTask) -> Vec<El> {
    let letters = bounds(task, &[]).letters();
    let shape = |shape: &SceneShape| {
        let (class, drawn) = match *shape {
            SceneShape::Rectangle { x, y, width, height } => {
                ("body", format!("M{x:.1} {y:.1}h{width:.1}v{height:.1}h{:.1}z", -width))
            }
            SceneShape::Circle { x, y, radius } => ("body", circle((x, y), radius)),
            SceneShape::Line { from, to } => ("line", straight(from, to)),
            SceneShape::Words { x, y, ref text } => {
                return svg("g").attr("class", "words").with(words(&[text], (x, y), letters));
            }
            SceneShape::Turning { x, y, radius, direction } => {
                let (shaft, end, way) = arc((x, y), radius, direction);
                ("motion", shaft + &barbs(end, way))
            }
            SceneShape::Moving { from: start, to } => {
                let far = apart(start, to).max(f64::EPSILON);
                let way = ((to.0 - start.0) / far, (to.1 - start.1) / far);
                ("motion", straight(start, to) + &barbs(to, way))
            }
        };
        path(class, &drawn)
    };
    let mark = |place: &Place| path("mark", &circle((place.x, place.y), 1.2));
    task.scene.shapes.iter().map(shape).chain(task.points.iter().map(mark)).collect()
}

fn path(class: &str, drawn: &str) -> El {
    svg("path").attr("class", class).attr("d", drawn)
}

fn straight(start: Point, end: Point) -> String {
    format!("M{:.1} {:.1}L{:.1} {:.1}", start.0, start.1, end.0, end.1)
}

fn circle((x, y): Point, radius: f64) -> String {
    let (left, across) = (x - radius, 2.0 * radius);
    let half = format!("a{radius:.1} {radius:.1} 0 0 1 ");
    format!("M{left:.1} {y:.1}{half}{across:.1} 0{half}{:.1} 0z", -across)
}

/// Three quarters of a circle, open below; where it ends and which way it goes there.
fn arc((x, y): Point, radius: f64, direction: Direction) -> (String, Point, Point) {
    let clockwise = direction == Direction::Clockwise;
    let off = core::f64::consts::FRAC_1_SQRT_2;
    let (sense, sweep) = if clockwise { (off, 1) } else { (-off, 0) };
    let (across, down) = (radius * sense, radius * off);
    let end = (x + across, y + down);
    let drawn = format!(
        "M{:.1} {:.1}A{radius:.1} {radius:.1} 0 1 {sweep} {:.1} {:.1}",
        x - across,
        end.1,
        end.0,
        end.1
    );
    (drawn, end, (-sense, off))
}

/// A filled arrowhead.
fn head(tip: Point, way: Point) -> String {
    corner(tip, way, HEAD, HEAD * 0.5) + "z"
}

/// An open arrowhead: motion is not a force and must not look like one.
fn barbs(tip: Point, way: Point) -> String {
    corner(tip, way, HEAD * 0.8, HEAD * 0.5)
}

fn corner(tip: Point, way: Point, back: f64, out: f64) -> String {
    let (foot, side) = (from(tip, way, -back), (-way.1, way.0));
    let (left, right) = (from(foot, side, -out), from(foot, side, out));
    format!("{}L{:.1} {:.1}", straight(left, tip), right.0, right.1)
}

/// The point `far` away from another one.
fn from(point: Point, way: Point, far: f64) -> Point {
    (point.0 + way.0 * far, point.1 + way.1 * far)
}

/// How far apart two points are.
pub(super) fn apart(a: Point, b: Point) -> f64 {
    let (x, y) = (a.0 - b.0, a.1 - b.1);
    (x * x + y * y).sqrt()
}
