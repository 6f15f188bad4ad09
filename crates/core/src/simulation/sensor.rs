//! A sensor that samples at even intervals: angle or angular velocity of the table, or the string's travel or
//! speed.

use super::path::Path;
use super::random::Random;

/// What is sampled, and how well.
#[derive(Clone, Debug, PartialEq)]
pub struct Sensor {
    /// What is sampled.
    pub signal: Signal,
    /// From sample to sample, s; above 0.
    pub interval_s: f64,
    /// Standard deviation of each sample, in the signal's unit.
    pub noise: f64,
    /// Samples are whole multiples of this, in the signal's unit; 0 for none.
    pub resolution: f64,
}

/// A signal with its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// Angle of the table, rad.
    TableAngle,
    /// Angular velocity of the table, rad/s.
    TableRate,
    /// Travel of the string at the pulley, m.
    StringPosition,
    /// Its speed, m/s.
    StringSpeed,
}

impl Sensor {
    /// Time, s, and sample, from the start of a path to its end.
    pub fn record(&self, path: &Path, random: &mut Random) -> Vec<(f64, f64)> {
        let mut samples = Vec::new();
        let mut count = 0.0;
        while count * self.interval_s <= path.end_s() {
            let time_s = count * self.interval_s;
            count += 1.0;
            let Some(moment) = path.moment(time_s) else { break };
            let truth = match self.signal {
                Signal::TableAngle => moment.table_rad,
                Signal::TableRate => moment.table_rad_per_s,
                Signal::StringPosition => moment.string_m,
                Signal::StringSpeed => moment.string_m_per_s,
            };
            let noisy = truth + self.noise * random.normal();
            let sample = if self.resolution > 0.0 {
                (noisy / self.resolution).round() * self.resolution
            } else {
                noisy
            };
            samples.push((time_s, sample));
        }
        samples
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::simulation::course::{Course, Release};
    use crate::simulation::rig::Rig;

    #[test]
    fn each_signal_is_the_motion_s_own() {
        let rig = Rig::default();
        let mut course = Course::new(&rig, 0.0);
        let fall = course.fall(Release::FromRest, 0.8);
        let path = course.finish();
        let (a, radius) = (fall.acceleration_m_per_s2, rig.effective_radius_m());
        let record = |signal| {
            Sensor { signal, interval_s: 0.05, noise: 0.0, resolution: 0.0 }
                .record(&path, &mut Random::new(1))
        };
        for (signal, expected) in [
            (Signal::StringPosition, 0.5 * a),
            (Signal::StringSpeed, a),
            (Signal::TableAngle, 0.5 * a / radius),
            (Signal::TableRate, a / radius),
        ] {
            let samples = record(signal);
            // The last sample lies less than an interval before the end.
            assert!(samples.len() > 20 && samples.last().unwrap().0 > path.end_s() - 0.05);
            let (time, value) = samples[20];
            assert!((time - 1.0).abs() < 1e-15);
            assert!((value - expected).abs() < 1e-13, "{signal:?}: {value}");
        }
    }

    #[test]
    fn noise_and_resolution_are_what_they_are_set_to() {
        let rig = Rig::default();
        let mut course = Course::new(&rig, 0.3);
        course.hold(100.0);
        let path = course.finish();
        let mut sensor =
            Sensor { signal: Signal::StringPosition, interval_s: 0.01, noise: 0.01, resolution: 0.0 };
        let samples = sensor.record(&path, &mut Random::new(2));
        let n = samples.len() as f64;
        let mean = samples.iter().map(|sample| sample.1).sum::<f64>() / n;
        let variance = samples.iter().map(|sample| (sample.1 - mean).powi(2)).sum::<f64>() / n;
        // Five standard deviations of 10001 samples: 5·10 mm/√n of the mean, 5·√(2/n) of the variance.
        assert!((mean - 0.3).abs() < 5e-4 && (variance / 1e-4 - 1.0).abs() < 0.07, "{mean} {variance}");
        sensor.resolution = 0.25;
        assert!(
            sensor.record(&path, &mut Random::new(2)).iter().all(|sample| (sample.1 - 0.25).abs() < 1e-15)
        );
    }
}
