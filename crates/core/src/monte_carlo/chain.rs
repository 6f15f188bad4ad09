//! One trial: the chain from accelerations to objects, with every input drawn.

use super::Random;
use super::friction::Friction;
use super::model::{Known, Line, Model, Run};
use super::propagation::Trial;
use super::random::Error;
use crate::acceleration::Scale;
use crate::fit::UncertainPoint;
use crate::lab::Configuration;
use crate::torque::Motion;

/// A value with what is known of its error.
#[derive(Clone, Copy)]
struct Input {
    value: f64,
    error: Error,
}

impl Input {
    fn new([value, u]: Known) -> Self {
        Self { value, error: Error::new(u, f64::INFINITY) }
    }

    fn draw(&self, random: &mut Random) -> f64 {
        self.value + self.error.draw(random)
    }
}

/// The apparatus of one trial.
#[derive(Clone, Copy)]
struct Rig {
    /// Rₑ.
    radius: f64,
    gravity: f64,
    travel: f64,
    height: f64,
    balance: f64,
    /// Rₑ over what it was when angles were turned into lengths.
    angle: f64,
    /// I_p/r_p².
    pulley: f64,
}

/// A run with its place in the fit.
struct Placed {
    /// 1 down, −1 up.
    direction: f64,
    scale: Scale,
    mass: f64,
    acceleration: f64,
    error: Error,
    /// B, κ/u²(κ) and 1/u²(κ).
    effect: f64,
    told: f64,
    weight_of_told: f64,
    /// W of York's fit over ΣW; W² u²(x), W² cov, W² u²(y) in the same measure.
    weight: f64,
    xx: f64,
    xy: f64,
    yy: f64,
    /// Of this trial: a before drag, m, what friction and the mass's own error add to τ.
    drawn_acceleration: f64,
    drawn_mass: f64,
    drawn_friction: f64,
    /// Its point.
    x: f64,
    y: f64,
}

/// A configuration.
struct Fitted {
    runs: Vec<Placed>,
    /// F, by which friction's scatter is scaled.
    friction: f64,
    /// Best estimate of I, where each trial starts from.
    best: f64,
    /// I and τ_f of this trial.
    slope: f64,
    intercept: f64,
}

/// A result that follows from the lines.
struct Difference {
    loaded: usize,
    empty: usize,
    predicted: Option<Input>,
}

/// The model, ready for drawing.
pub(super) struct Chain {
    radius: Input,
    string: Input,
    gravity: Input,
    travel: Input,
    height: Input,
    balance: Input,
    pulley: Input,
    pulley_radius: f64,
    /// R + d/2 as written down.
    written: f64,
    hanging_mass: Error,
    friction: Friction,
    drag: Option<Error>,
    lines: Vec<Fitted>,
    objects: Vec<Difference>,
    results: usize,
}

impl Chain {
    pub(super) fn new(model: &Model) -> Self {
        let shared = &model.shared;
        let place = |wanted| model.lines.iter().position(|line| line.configuration == wanted);
        let difference = |object: &super::model::Object| {
            let predicted = object.predicted.map(|it| Input {
                value: it.value[0],
                error: Error::new(it.value[1], it.degrees_of_freedom),
            });
            let loaded = place(Configuration::Loaded(object.id))?;
            Some(Difference { loaded, empty: place(Configuration::EmptyTable)?, predicted })
        };
        let mut chain = Self {
            radius: Input::new(shared.drum_radius),
            string: Input::new(shared.string_diameter),
            gravity: Input::new(shared.gravity),
            travel: Input::new([1.0, shared.travel]),
            height: Input::new([1.0, shared.height]),
            balance: Input::new([1.0, shared.balance]),
            pulley: Input::new(shared.pulley_inertia),
            pulley_radius: shared.pulley_radius,
            written: shared.drum_radius[0] + 0.5 * shared.string_diameter[0],
            hanging_mass: Error::new(shared.hanging_mass, f64::INFINITY),
            friction: Friction::none(),
            drag: model.drag.map(|u| Error::new(u, f64::INFINITY)),
            lines: model.lines.iter().map(Fitted::new).collect(),
            objects: model.objects.iter().filter_map(difference).collect(),
            results: model.targets().len(),
        };
        chain.make_weights(model);
        chain
    }

    /// The same with every input known exactly, but for the weights that its uncertainties gave.
    #[cfg(test)]
    pub(super) fn without_errors(mut self) -> Self {
        let inputs = [
            &mut self.radius,
            &mut self.string,
            &mut self.gravity,
            &mut self.travel,
            &mut self.height,
            &mut self.balance,
            &mut self.pulley,
        ];
        inputs.into_iter().for_each(|input| input.error = Error::None);
        self.lines.iter_mut().flat_map(|line| &mut line.runs).for_each(|run| run.error = Error::None);
        self.objects.iter_mut().flat_map(|it| &mut it.predicted).for_each(|it| it.error = Error::None);
        self.drag = self.drag.map(|_| Error::None);
        Self { hanging_mass: Error::None, friction: Friction::none(), ..self }
    }

    /// The fit's weights from the best estimates; they stay as they are, as they do when first-order
    /// propagation moves an input.
    fn make_weights(&mut self, model: &Model) {
        let rig = self.rig(|input| input.value);
        self.best_estimates(&rig);
        let [scatter, freedom] = model.friction;
        let mut lines = Vec::with_capacity(self.lines.len());
        for (line, of) in self.lines.iter_mut().zip(&model.lines) {
            let points: Vec<UncertainPoint> = line
                .runs
                .iter()
                .zip(&of.runs)
                .map(|(run, of)| run.uncertain(of.acceleration[1], &rig, model.shared.hanging_mass))
                .collect();
            let square = of.friction * of.friction;
            line.weigh(&points, scatter * scatter * square);
            lines.push((points, line.best, square));
        }
        self.friction = Friction::new(&lines, scatter * scatter, freedom);
    }

    /// The points as they were measured.
    fn best_estimates(&mut self, rig: &Rig) {
        for line in &mut self.lines {
            line.slope = line.best;
            for run in &mut line.runs {
                run.drawn_acceleration = run.acceleration;
                run.drawn_mass = run.mass;
                run.drawn_friction = 0.0;
            }
        }
        let b = if self.drag.is_some() { self.drag_found(rig) } else { 0.0 };
        for line in &mut self.lines {
            line.place(rig, b);
        }
    }

    fn rig(&self, mut value: impl FnMut(&Input) -> f64) -> Rig {
        let radius = value(&self.radius) + 0.5 * value(&self.string);
        let travel = value(&self.travel);
        // The pulley's radius is told from the travel.
        let pulley_radius = self.pulley_radius * travel;
        Rig {
            radius,
            gravity: value(&self.gravity),
            travel,
            height: value(&self.height),
            balance: value(&self.balance),
            angle: radius / self.written,
            pulley: value(&self.pulley) / (pulley_radius * pulley_radius),
        }
    }

    /// Weighted mean of b over all runs, with the slopes as they are.
    fn drag_found(&self, rig: &Rig) -> f64 {
        let (mut sum, mut weights) = (0.0, 0.0);
        for line in &self.lines {
            for run in &line.runs {
                let mass = run.mass * rig.balance + rig.pulley;
                let total = line.slope + mass * rig.radius * rig.radius;
                sum += run.told / total;
                weights += run.weight_of_told / (total * total);
            }
        }
        sum / weights
    }

    fn fit(&mut self, rig: &Rig, b: f64) -> bool {
        self.lines.iter_mut().all(|line| line.place(rig, b) && line.fit())
    }

    /// The trial up to the lines; false when its draws are impossible together.
    fn draw_lines(&mut self, random: &mut Random) -> bool {
        let rig = self.rig(|input| input.draw(random));
        let friction = self.friction.draw(random);
        for line in &mut self.lines {
            line.slope = line.best;
            for run in &mut line.runs {
                run.drawn_acceleration = run.acceleration + run.error.draw(random);
                run.drawn_mass = run.mass * rig.balance + self.hanging_mass.draw(random);
                run.drawn_friction = friction * line.friction * random.normal();
            }
        }
        let Some(error) = self.drag else { return self.fit(&rig, 0.0) };
        // Other radii and slopes make another b of the same curvatures.
        let moved = error.draw(random);
        let b = self.drag_found(&rig) + moved;
        if !self.fit(&rig, b) {
            return false;
        }
        let b = self.drag_found(&rig) + moved;
        self.fit(&rig, b)
    }
}

impl Trial for Chain {
    fn results(&self) -> usize {
        self.results
    }

    fn draw(&mut self, random: &mut Random, results: &mut [f64]) {
        if !self.draw_lines(random) {
            results.fill(f64::NAN);
            return;
        }
        let mut places = results.iter_mut();
        let mut put = |value: f64| {
            if let Some(place) = places.next() {
                *place = value;
            }
        };
        for line in &self.lines {
            put(line.slope);
            put(line.intercept);
        }
        let slope = |index: usize| self.lines.get(index).map_or(f64::NAN, |line| line.slope);
        for object in &self.objects {
            let alone = slope(object.loaded) - slope(object.empty);
            put(alone);
            if let Some(predicted) = &object.predicted {
                put(alone - predicted.draw(random));
            }
        }
    }
}

impl Fitted {
    fn new(line: &Line) -> Self {
        let best = line.moment_of_inertia.value;
        Self {
            runs: line.runs.iter().map(Placed::new).collect(),
            friction: line.friction,
            best,
            slope: best,
            intercept: 0.0,
        }
    }

    fn weigh(&mut self, points: &[UncertainPoint], friction: f64) {
        let slope = self.best;
        let weight = |point: &UncertainPoint| {
            let y = point.variance_y + friction;
            1.0 / (y + slope * (slope * point.variance_x - 2.0 * point.covariance))
        };
        let total: f64 = points.iter().map(weight).sum();
        for (run, point) in self.runs.iter_mut().zip(points) {
            run.weight = weight(point) / total;
            let square = run.weight * run.weight;
            run.xx = square * point.variance_x;
            run.xy = square * point.covariance;
            run.yy = square * (point.variance_y + friction);
        }
    }

    /// Torque and angular acceleration of each run ([`crate::torque`]); false when one is impossible.
    fn place(&mut self, rig: &Rig, b: f64) -> bool {
        let mut possible = rig.radius > 0.0;
        let per_radius = 1.0 / rig.radius;
        for run in &mut self.runs {
            let mass = run.drawn_mass;
            let lost = if b == 0.0 {
                0.0
            } else {
                b / (self.slope + (mass + rig.pulley) * rig.radius * rig.radius) * run.effect
            };
            let ratio = match run.scale {
                Scale::Travel => rig.travel,
                Scale::Radius => rig.angle,
                Scale::Height => rig.height,
                Scale::Itself => 1.0,
            };
            let acceleration = (run.drawn_acceleration - lost) * ratio;
            let downwards = run.direction * acceleration;
            possible &= mass > 0.0 && downwards < rig.gravity;
            let tension = mass * (rig.gravity - downwards) - rig.pulley * downwards;
            run.x = acceleration * per_radius;
            run.y = run.direction * tension * rig.radius + run.drawn_friction;
        }
        possible
    }

    /// York's line. With the weights W fixed its equation b ΣWβU = ΣWβV is quadratic in b: put in
    /// β = W [U u²(y) + b V u²(x) − (b U + V) cov] and sort by powers of b.
    fn fit(&mut self) -> bool {
        let (mut mean_x, mut mean_y) = (0.0, 0.0);
        for run in &self.runs {
            mean_x += run.weight * run.x;
            mean_y += run.weight * run.y;
        }
        let (mut square, mut linear, mut constant) = (0.0, 0.0, 0.0);
        for run in &self.runs {
            let (u, v) = (run.x - mean_x, run.y - mean_y);
            let left = run.yy * u - run.xy * v;
            square += u * (run.xx * v - run.xy * u);
            linear += run.yy * u * u - run.xx * v * v;
            constant += v * left;
        }
        // The root that stays finite where x is exact (square = 0).
        let root = (linear * linear + 4.0 * square * constant).sqrt();
        self.slope = 2.0 * constant / (linear + root);
        self.intercept = mean_y - self.slope * mean_x;
        root > 0.0 && self.slope.is_finite()
    }
}

impl Placed {
    fn new(run: &Run) -> Self {
        let [rate, u] = run.rate;
        let weight_of_told = if u > 0.0 { 1.0 / (u * u) } else { 0.0 };
        Self {
            direction: if run.motion == Motion::Rising { -1.0 } else { 1.0 },
            scale: run.scale,
            mass: run.mass,
            acceleration: run.acceleration[0],
            error: Error::new(run.acceleration[1], run.degrees_of_freedom),
            effect: run.effect,
            told: rate * weight_of_told,
            weight_of_told,
            weight: 0.0,
            xx: 0.0,
            xy: 0.0,
            yy: 0.0,
            drawn_acceleration: 0.0,
            drawn_mass: 0.0,
            drawn_friction: 0.0,
            x: 0.0,
            y: 0.0,
        }
    }

    /// The point with its own uncertainties and that of its mass, as [`crate::inertia`] has them.
    fn uncertain(&self, u: f64, rig: &Rig, u_mass: f64) -> UncertainPoint {
        let (u_alpha, u_tau) = (u / rig.radius, (self.mass + rig.pulley) * rig.radius * u);
        let of_mass = (rig.gravity - self.direction * self.x * rig.radius) * rig.radius * u_mass;
        UncertainPoint {
            x: self.x,
            y: self.y,
            variance_x: u_alpha * u_alpha,
            variance_y: u_tau * u_tau + of_mass * of_mass,
            covariance: -u_alpha * u_tau,
        }
    }
}
