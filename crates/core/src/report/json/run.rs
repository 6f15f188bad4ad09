//! One run among the results.

use super::{configuration, measured, plain, put_into};
use crate::acceleration::{AccelerationFit, ByHandFit, Curve, EdgeFit, Sampled, SampledFit, Slowing};
use crate::analysis::RunOutcome;
use crate::lab::{RunEntry, Source};
use serde_json::{Value, json};

pub(super) fn run(entry: &RunEntry, outcome: &RunOutcome) -> Value {
    let mut found = json!({
        "name": entry.name,
        "object": configuration(entry.configuration),
        "hanging_mass_kg": entry.hanging_mass.map(|mass| mass.0),
        "motion": entry.motion.key(),
        "record_kind": entry.record.key(),
        "source": entry.source.as_ref().map(source),
    });
    let mut put = |name: &str, value: Value| put_into(&mut found, name, value);
    if let Ok(fit) = &outcome.fit {
        put("readings_fitted", json!(fit.residuals.len()));
        put("stretch_used_s", json!(outcome.stretch.map(|stretch| [stretch.from().0, stretch.to().0])));
        put("acceleration_m_per_s2", measured(&fit.acceleration));
        put("proportional_to", json!(fit.scale.key()));
        put("fit", curve(fit));
        put("slowing", json!(fit.slowing().map(slowing)));
        put(
            "drawn_line",
            json!(fit.drawn.as_ref().map(|line| json!({
                "acceleration_m_per_s2":
                    plain(line.slope, line.slope_uncertainty, line.degrees_of_freedom),
            }))),
        );
    }
    match &outcome.point {
        Ok(placed) => {
            put("acceleration_u_shared", json!(placed.acceleration.shared.0));
            put("tension_N", json!(placed.point.tension.0));
            put("torque_N_m", measured(&placed.point.torque));
            put("torque_u_shared", json!(placed.torque.shared.0));
            put("angular_acceleration_rad_per_s2", measured(&placed.point.angular_acceleration));
            put("angular_acceleration_u_shared", json!(placed.angular_acceleration.shared.0));
        }
        Err(problem) => put("problem", json!(problem.to_string())),
    }
    found
}

fn source(source: &Source) -> Value {
    json!({
        "file": source.file,
        "bytes": source.bytes,
        "sha256": source.sha256,
        "run": source.run,
        "remarks": source.remarks,
    })
}

fn curve(fit: &AccelerationFit) -> Value {
    match &fit.curve {
        Curve::Edges(fit) => edges(fit),
        Curve::Sampled(fit) => sampled(fit),
        Curve::ByHand(fit) => by_hand(fit),
        Curve::Entered => json!({"curve": "entered"}),
    }
}

fn edges(fit: &EdgeFit) -> Value {
    let test = fit.offset_test.as_ref().map(|test| {
        json!({"f": test.f, "numerator_degrees": test.numerator, "denominator_degrees": test.denominator})
    });
    json!({
        "curve": "edge-times",
        "edges": fit.residuals.len(),
        "travel_per_edge_m": fit.pitch.0,
        "first_time_s": fit.first_time.0,
        "first_velocity_m_per_s": fit.first_velocity.0,
        "crossover_m_per_s": fit.crossover.0,
        "clock_noise_s": fit.clock_noise.0,
        "position_noise_m": fit.position_noise.0,
        "spoke_offsets_m": fit.offsets.iter().map(|offset| offset.0).collect::<Vec<_>>(),
        "spoke_offsets_test": test,
        "spoke_tolerance_counts": fit.tolerance_counts,
    })
}

fn sampled(fit: &SampledFit) -> Value {
    // Coefficient k belongs to the k-th power of the time since the middle.
    let (curve, quantity) = match fit.quantity {
        Sampled::Velocity => ("line-through-velocities", "m_per_s"),
        Sampled::Position => ("parabola-through-positions", "m"),
        Sampled::Acceleration => ("level-through-accelerations", "m_per_s2"),
    };
    let mut found = json!({
        "curve": curve,
        "middle_s": fit.center,
        "neighbor_correlation": fit.neighbor_correlation,
    });
    put_into(&mut found, &format!("coefficients_{quantity}_per_s_to_k"), json!(fit.coefficients));
    put_into(&mut found, &format!("standard_deviation_{quantity}"), json!(fit.standard_deviation));
    found
}

fn by_hand(fit: &ByHandFit) -> Value {
    let freedom = fit.times.len().saturating_sub(1);
    json!({
        "curve": "fall-from-rest",
        "drop_height_m": fit.height.0,
        "mean_time_s": plain(fit.mean.0, fit.mean_uncertainty.0, freedom),
        "standard_deviation_s": fit.standard_deviation.0,
    })
}

fn slowing(found: &Slowing) -> Value {
    json!({
        "rate_per_s": plain(found.rate, found.rate_uncertainty, found.degrees_of_freedom),
        "effect_m_per_s": found.effect,
    })
}
