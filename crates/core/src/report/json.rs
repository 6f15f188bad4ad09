//! The results as JSON, every number in SI units and in full.

use crate::analysis::{Analysis, LineOutcome, ObjectOutcome, RunOutcome};
use crate::comparison::{Comparison, Verdict};
use crate::lab::{Configuration, Lab, Provenance, RunEntry};
use crate::measured::coverage::Probability;
use crate::measured::{Combined, Measured};
use crate::quantity::Quantity;
use serde_json::{Value, json};

/// All results of a lab; problems stand where a result is missing.
pub fn to_json(lab: &Lab, analysis: &Analysis) -> Value {
    let apparatus = lab.apparatus.check();
    json!({
        "format": "whorl-results",
        "version": 1,
        "title": lab.title,
        "provenance": match lab.provenance {
            Provenance::Measured => "measured",
            Provenance::Simulated => "simulated",
        },
        "apparatus_problem": apparatus.as_ref().err().map(ToString::to_string),
        "effective_radius_m": apparatus.ok().and_then(|it| it.effective_radius().ok()).as_ref().map(measured),
        "runs": lab.runs().iter().zip(&analysis.runs).map(|(entry, outcome)| run(entry, outcome)).collect::<Vec<_>>(),
        "lines": analysis.lines.configurations.iter().map(|outcome| line(lab, outcome)).collect::<Vec<_>>(),
        "findings": super::findings::to_json(lab, analysis),
        "objects": analysis.objects.iter().map(|outcome| object(lab, outcome)).collect::<Vec<_>>(),
    })
}

fn put_into(object: &mut Value, name: &str, value: Value) {
    if let Value::Object(fields) = object {
        fields.insert(name.to_owned(), value);
    }
}

/// An infinite number of degrees of freedom is `null`: JSON has no infinity.
fn measured<Q: Quantity>(measured: &Measured<Q>) -> Value {
    json!({
        "value": measured.value().si(),
        "u": measured.standard_uncertainty().si(),
        "degrees_of_freedom": measured.degrees_of_freedom().get(),
    })
}

fn combined<Q: Quantity>(combined: &Combined<Q>) -> Value {
    let total = &combined.total;
    let interval = total.coverage_interval(Probability::P95);
    json!({
        "value": total.value().si(),
        "u_random": combined.random.standard_uncertainty().si(),
        "u_shared": combined.shared.si(),
        "u": total.standard_uncertainty().si(),
        "degrees_of_freedom": total.degrees_of_freedom().get(),
        "coverage_factor": interval.coverage_factor,
        "interval_95": [interval.low.si(), interval.high.si()],
    })
}

fn configuration(configuration: Configuration) -> Value {
    match configuration {
        Configuration::EmptyTable => Value::Null,
        Configuration::Loaded(id) => json!(id.0),
    }
}

fn run(entry: &RunEntry, outcome: &RunOutcome) -> Value {
    let mut found = json!({
        "name": entry.name,
        "object": configuration(entry.configuration),
        "hanging_mass_kg": entry.hanging_mass.map(|mass| mass.0),
    });
    let mut put = |name: &str, value: Value| put_into(&mut found, name, value);
    if let Ok(fit) = &outcome.fit {
        put("readings_fitted", json!(fit.residuals.len()));
        put("acceleration_m_per_s2", measured(&fit.acceleration));
        put("readings_kind", json!(entry.record.key()));
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

fn line(lab: &Lab, outcome: &LineOutcome) -> Value {
    let mut found = json!({
        "object": configuration(outcome.configuration),
        "name": lab.configuration_name(outcome.configuration),
        "runs_left_out": outcome.left_out,
    });
    let mut put = |name: &str, value: Value| put_into(&mut found, name, value);
    match &outcome.inertia {
        Ok(inertia) => {
            let contributions: Vec<Value> = inertia
                .contributions
                .iter()
                .map(|part| {
                    json!({
                        "input": part.input.words(),
                        "moment_of_inertia_kg_m2": part.moment_of_inertia.0,
                        "friction_torque_N_m": part.friction_torque.0,
                    })
                })
                .collect();
            put("moment_of_inertia_kg_m2", combined(&inertia.moment_of_inertia));
            put("friction_torque_N_m", combined(&inertia.friction_torque));
            put("covariance", json!(inertia.line.covariance));
            put("chi_square", json!(inertia.line.chi_square));
            put("degrees_of_freedom", json!(inertia.line.moment_of_inertia.degrees_of_freedom().get()));
            put("residuals_N_m", json!(inertia.line.fit.residuals));
            put("contributions", Value::Array(contributions));
        }
        Err(problem) => put("problem", json!(problem.to_string())),
    }
    found
}

fn object(lab: &Lab, outcome: &ObjectOutcome) -> Value {
    let mut found = json!({
        "object": outcome.id.0,
        "name": lab.configuration_name(Configuration::Loaded(outcome.id)),
        "predicted_kg_m2": outcome.predicted.as_ref().ok().map(|prediction| measured(&prediction.moment_of_inertia)),
        "prediction_problem": outcome.predicted.as_ref().err().map(ToString::to_string),
        "comparison": outcome.comparison.as_ref().and_then(|compared| compared.as_ref().ok()).map(comparison),
    });
    let mut put = |name: &str, value: Value| put_into(&mut found, name, value);
    match &outcome.measured {
        Ok(object) => {
            let contributions: Vec<Value> = object
                .contributions
                .iter()
                .map(|(input, moment)| json!({"input": input.words(), "moment_of_inertia_kg_m2": moment.0}))
                .collect();
            put("moment_of_inertia_kg_m2", combined(&object.moment_of_inertia));
            put("contributions", Value::Array(contributions));
        }
        Err(problem) => put("problem", json!(problem.to_string())),
    }
    found
}

fn comparison(comparison: &Comparison) -> Value {
    json!({
        "difference_kg_m2": measured(&comparison.difference),
        "percent_difference": comparison.percent_difference.as_ref().map(measured),
        "in_standard_uncertainties": comparison.in_standard_uncertainties,
        "interval_95_kg_m2": [comparison.interval.low.0, comparison.interval.high.0],
        "verdict": match comparison.verdict {
            Verdict::Agree => "agree",
            Verdict::AgreeWeakly => "agree-weakly",
            Verdict::Differ => "differ",
            Verdict::Undecided => "undecided",
        },
    })
}
