//! A motion: where string and table are at every moment of a record.

/// Motion from the start of a record to its end, as pieces that follow each other in time.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Path {
    pieces: Vec<Piece>,
}

/// String and table at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Travel of the string at the pulley, m; falling counts up.
    pub string_m: f64,
    /// Its speed, m/s.
    pub string_m_per_s: f64,
    /// Angle of the table, rad; unwinding counts up.
    pub table_rad: f64,
    /// Angular velocity of the table, rad/s.
    pub table_rad_per_s: f64,
}

/// A stretch of time in which the string does not turn back.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub(super) from_s: f64,
    pub(super) duration_s: f64,
    pub(super) string: Polynomial,
    pub(super) table: Polynomial,
}

/// Place, speed and acceleration of one coordinate.
#[derive(Clone, Copy, Debug)]
pub(super) struct Knot {
    pub(super) place: f64,
    pub(super) rate: f64,
    pub(super) acceleration: f64,
}

/// c₀ + c₁ x + … + c₅ x⁵, where x runs from 0 to 1 through the piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Polynomial([f64; 6]);

impl Polynomial {
    /// Rest.
    pub(super) fn rest(place: f64) -> Self {
        Self([place, 0.0, 0.0, 0.0, 0.0, 0.0])
    }

    /// Constant acceleration for a time.
    pub(super) fn uniform(start: Knot, duration_s: f64) -> Self {
        let h = duration_s;
        Self([start.place, start.rate * h, 0.5 * start.acceleration * h * h, 0.0, 0.0, 0.0])
    }

    /// The quintic with these places, speeds and accelerations at both ends (Hermite interpolation). Of a
    /// smooth motion it misses h⁶ · x⁽⁶⁾/46080 at most.
    pub(super) fn through(start: Knot, end: Knot, duration_s: f64) -> Self {
        let h = duration_s;
        let [c0, c1, c2] = [start.place, start.rate * h, 0.5 * start.acceleration * h * h];
        // What the parabola of the start lacks at the end: place, slope, curvature.
        let place = end.place - (c0 + c1 + c2);
        let slope = end.rate * h - (c1 + 2.0 * c2);
        let curvature = end.acceleration * h * h - 2.0 * c2;
        Self([
            c0,
            c1,
            c2,
            10.0 * place - 4.0 * slope + 0.5 * curvature,
            -15.0 * place + 7.0 * slope - curvature,
            6.0 * place - 3.0 * slope + 0.5 * curvature,
        ])
    }

    /// From rest to rest with the least jerk (Flash and Hogan, *The coordination of arm movements*, J.
    /// Neurosci. 5 (1985) 1688): a smooth hand.
    pub(super) fn hand(from: f64, to: f64) -> Self {
        let way = to - from;
        Self([from, 0.0, 0.0, 10.0 * way, -15.0 * way, 6.0 * way])
    }

    pub(super) fn at(&self, x: f64) -> f64 {
        let [c0, c1, c2, c3, c4, c5] = self.0;
        c0 + x * (c1 + x * (c2 + x * (c3 + x * (c4 + x * c5))))
    }

    /// Change per x.
    pub(super) fn slope_at(&self, x: f64) -> f64 {
        let [_, c1, c2, c3, c4, c5] = self.0;
        c1 + x * (2.0 * c2 + x * (3.0 * c3 + x * (4.0 * c4 + x * 5.0 * c5)))
    }

    /// Change of the slope per x.
    pub(super) fn curvature_at(&self, x: f64) -> f64 {
        let [_, _, c2, c3, c4, c5] = self.0;
        2.0 * c2 + x * (6.0 * c3 + x * (12.0 * c4 + x * 20.0 * c5))
    }

    /// The x at which a motion that does not turn back passes `place`, which lies between its ends.
    pub(super) fn passes(&self, place: f64) -> f64 {
        let [c0, c1, c2, c3, c4, c5] = self.0;
        let way = place - c0;
        if [c3, c4, c5].iter().all(|coefficient| *coefficient == 0.0) {
            // The root without cancellation: x = 2 way/(√(c₁² + 4 c₂ way) + c₁), for a fall from rest too.
            let root = (c1 * c1 + 4.0 * c2 * way).max(0.0).sqrt();
            let divisor = if way < 0.0 { c1 - root } else { c1 + root };
            return if divisor == 0.0 { 0.0 } else { 2.0 * way / divisor };
        }
        // Newton's method, kept in a bracket that halves whenever it would be left.
        let rising = self.at(1.0) > c0;
        let (mut low, mut high) = (0.0, 1.0);
        let mut x = 0.5;
        for _ in 0..80 {
            let miss = self.at(x) - place;
            if (miss > 0.0) == rising {
                high = x;
            } else {
                low = x;
            }
            let newton = x - miss / self.slope_at(x);
            let next = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
            let step = (next - x).abs();
            x = next;
            if step <= 1e-16 || high - low <= f64::EPSILON {
                break;
            }
        }
        x
    }
}

impl Piece {
    pub(super) fn time_s(&self, x: f64) -> f64 {
        self.from_s + self.duration_s * x
    }

    fn moment(&self, time_s: f64) -> Moment {
        let x = ((time_s - self.from_s) / self.duration_s).clamp(0.0, 1.0);
        Moment {
            string_m: self.string.at(x),
            string_m_per_s: self.string.slope_at(x) / self.duration_s,
            table_rad: self.table.at(x),
            table_rad_per_s: self.table.slope_at(x) / self.duration_s,
        }
    }
}

impl Path {
    /// Takes on the next piece; one of no duration is left out.
    pub(super) fn push(&mut self, piece: Piece) {
        if piece.duration_s > 0.0 {
            self.pieces.push(piece);
        }
    }

    pub(super) fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// When the record ends, s from its start; 0 for an empty path.
    pub fn end_s(&self) -> f64 {
        self.pieces.last().map_or(0.0, |piece| piece.time_s(1.0))
    }

    /// Moments after `from_s` and before `to_s` at which the string turns back, s.
    pub fn turning_points_s(&self, from_s: f64, to_s: f64) -> Vec<f64> {
        let mut last = 0.0;
        let mut turns = Vec::new();
        for piece in &self.pieces {
            let way_m = piece.string.at(1.0) - piece.string.at(0.0);
            if way_m == 0.0 {
                continue;
            }
            let inside = piece.from_s > from_s && piece.from_s < to_s;
            if inside && last * way_m < 0.0 {
                turns.push(piece.from_s);
            }
            last = way_m;
        }
        turns
    }

    /// String and table at a moment; before the start and after the end, as there. `None` for an empty path.
    pub fn moment(&self, time_s: f64) -> Option<Moment> {
        let later = self.pieces.partition_point(|piece| piece.from_s <= time_s);
        self.pieces.get(later.saturating_sub(1)).map(|piece| piece.moment(time_s))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn knot(place: f64, rate: f64, acceleration: f64) -> Knot {
        Knot { place, rate, acceleration }
    }

    #[test]
    fn a_quintic_is_met_exactly() {
        // x(t) = 2 − t + 3t² − t³ + ½t⁴ + ¼t⁵ from t = 0 to 2.
        let place = |t: f64| 2.0 - t + 3.0 * t.powi(2) - t.powi(3) + 0.5 * t.powi(4) + 0.25 * t.powi(5);
        let rate = |t: f64| -1.0 + 6.0 * t - 3.0 * t.powi(2) + 2.0 * t.powi(3) + 1.25 * t.powi(4);
        let acceleration = |t: f64| 6.0 - 6.0 * t + 6.0 * t.powi(2) + 5.0 * t.powi(3);
        let end = |t| knot(place(t), rate(t), acceleration(t));
        let curve = Polynomial::through(end(0.0), end(2.0), 2.0);
        for k in 0..=10 {
            let x = f64::from(k) / 10.0;
            assert!((curve.at(x) - place(2.0 * x)).abs() < 1e-13);
            assert!((curve.slope_at(x) - 2.0 * rate(2.0 * x)).abs() < 1e-12);
        }
    }

    #[test]
    fn every_place_is_passed_where_the_curve_is() {
        let curves = [
            Polynomial::uniform(knot(0.0, 0.0, 0.4), 2.0),
            Polynomial::uniform(knot(1.0, -0.1, -0.4), 2.0),
            Polynomial::uniform(knot(0.2, 1.0, -0.5), 2.0),
            Polynomial::uniform(knot(0.2, 0.3, 0.0), 2.0),
            Polynomial::hand(0.9, 0.0),
            Polynomial::hand(0.0, 0.9),
            Polynomial::through(knot(0.0, 0.0, 0.4), knot(0.7, 0.6, 0.2), 2.0),
        ];
        for curve in curves {
            let (from, to) = (curve.at(0.0), curve.at(1.0));
            for k in 1..100 {
                let place = from + (to - from) * f64::from(k) / 100.0;
                let x = curve.passes(place);
                assert!((0.0..=1.0).contains(&x), "{curve:?}: {x}");
                // Rounding of terms up to 13.5.
                assert!((curve.at(x) - place).abs() < 4e-15, "{curve:?}: {place}");
            }
        }
    }

    #[test]
    fn a_moment_lies_in_its_own_piece() {
        let mut path = Path::default();
        let still = Polynomial::rest(0.0);
        path.push(Piece { from_s: 0.0, duration_s: 0.0, string: still, table: still });
        path.push(Piece { from_s: 0.0, duration_s: 2.0, string: still, table: still });
        let falling = Polynomial::uniform(knot(0.0, 0.0, 0.4), 1.0);
        let turning = Polynomial::uniform(knot(0.0, 0.0, 16.0), 1.0);
        path.push(Piece { from_s: 2.0, duration_s: 1.0, string: falling, table: turning });
        assert_eq!(path.pieces().len(), 2);
        assert!((path.end_s() - 3.0).abs() < 1e-15);
        assert!(path.moment(1.0).unwrap().string_m_per_s.abs() < 1e-300);
        let moment = path.moment(2.5).unwrap();
        assert!((moment.string_m - 0.05).abs() < 1e-15 && (moment.string_m_per_s - 0.2).abs() < 1e-15);
        assert!((moment.table_rad - 2.0).abs() < 1e-15 && (moment.table_rad_per_s - 8.0).abs() < 1e-14);
        assert!((path.moment(9.0).unwrap().string_m - 0.2).abs() < 1e-15);
        assert_eq!(Path::default().moment(0.0), None);
    }
}
