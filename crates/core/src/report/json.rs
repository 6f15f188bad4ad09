//! The results as JSON, every number in SI units and in full.

mod run;

use crate::analysis::{Analysis, LineOutcome, ObjectOutcome, Together};
use crate::comparison::{Comparison, Criterion, Judgement, Verdict};
use crate::inertia::{BudgetRow, DragFound, Inertia};
use crate::lab::{Configuration, Lab, Provenance, RunId};
use crate::measured::coverage::Probability;
use crate::measured::{Combined, Measured};
use crate::quantity::Quantity;
use run::run;
use serde_json::{Value, json};

/// All results of a lab; problems stand where a result is missing.
pub fn to_json(lab: &Lab, analysis: &Analysis) -> Value {
    let apparatus = lab.apparatus.check();
    let together = analysis.lines.together.as_ref();
    let shared = |part: fn(&Together) -> Value| together.map(part);
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
        "friction_scatter": shared(|it| json!(it.friction_scatter.0)),
        "degrees_of_freedom": shared(|it| json!(it.degrees_of_freedom)),
        "chi_square": shared(|it| json!(it.chi_square)),
        "drag": together.and_then(|it| it.drag.as_ref()).map(drag),
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

fn drag(found: &DragFound) -> Value {
    json!({
        "coefficient_N_m_s": {
            "value": found.coefficient.0,
            "u": found.uncertainty.0,
            "degrees_of_freedom": found.degrees_of_freedom,
        },
        "runs": found.runs,
        "corrected": found.corrected,
    })
}

/// Rows of a budget; `unit` is that of the contributions.
fn budget(rows: &[BudgetRow], unit: &str) -> Value {
    let mut list = Vec::with_capacity(rows.len());
    for row in rows {
        let mut found = json!({"source": row.source.words(), "share": row.share});
        put_into(&mut found, &format!("contribution_{unit}"), json!(row.contribution));
        list.push(found);
    }
    Value::Array(list)
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

fn line(lab: &Lab, outcome: &LineOutcome) -> Value {
    let mut found = json!({
        "object": configuration(outcome.configuration),
        "name": lab.configuration_name(outcome.configuration),
        "runs_left_out": outcome.left_out,
    });
    let mut put = |name: &str, value: Value| put_into(&mut found, name, value);
    match &outcome.inertia {
        Ok(inertia) => {
            let (line, drawn) = (&inertia.line, &inertia.line.drawn);
            let freedom = line.moment_of_inertia.degrees_of_freedom().get();
            put("friction_scatter_N_m", json!(inertia.friction_scatter.0));
            put("moment_of_inertia_kg_m2", combined(&inertia.moment_of_inertia));
            put("friction_torque_N_m", combined(&inertia.friction_torque));
            put("covariance_kg_m2_N_m", json!(line.covariance));
            put("chi_square", json!(line.chi_square));
            put("degrees_of_freedom", json!(freedom));
            put(
                "weighted_fit",
                json!({
                    "mean_angular_acceleration_rad_per_s2": line.fit.mean_x,
                    "mean_torque_N_m": line.fit.mean_y,
                    "sum_alpha_alpha_per_kg2_m4": line.fit.sum_xx,
                    "sum_alpha_torque_per_kg_m2": line.fit.sum_xy,
                }),
            );
            put("points", points(lab, &outcome.used, inertia));
            put(
                "drawn_line",
                json!({
                    "moment_of_inertia_kg_m2":
                        plain(drawn.slope, drawn.slope_uncertainty, drawn.degrees_of_freedom),
                    "friction_torque_N_m":
                        plain(drawn.intercept, drawn.intercept_uncertainty, drawn.degrees_of_freedom),
                }),
            );
            for (name, value) in parts(inertia) {
                put(name, value);
            }
        }
        Err(problem) => put("problem", json!(problem.to_string())),
    }
    found
}

/// A value with the textbook uncertainty of an ordinary fit.
fn plain(value: f64, u: f64, degrees_of_freedom: usize) -> Value {
    json!({"value": value, "u": u, "degrees_of_freedom": degrees_of_freedom as f64})
}

/// The points of a line, with drag taken out.
fn points(lab: &Lab, used: &[RunId], inertia: &Inertia) -> Value {
    let (line, fit) = (&inertia.line, &inertia.line.fit);
    let residuals = fit.residuals.iter().zip(&fit.residual_variances);
    let rows = line.points.iter().zip(residuals).zip(used).map(|((point, (residual, variance)), run)| {
        json!({
            "run": lab.run(*run).map(|run| run.name.as_str()),
            "angular_acceleration_rad_per_s2": point.angular_acceleration.value().0,
            "torque_N_m": point.torque.value().0,
            "residual_N_m": residual,
            "residual_u_N_m": variance.sqrt(),
        })
    });
    rows.collect()
}

/// Where the uncertainty of a line comes from.
fn parts(inertia: &Inertia) -> [(&'static str, Value); 5] {
    let part = |name: &str, words: &str, of_inertia: f64, of_friction: f64| {
        let mut found = json!({"moment_of_inertia_kg_m2": of_inertia, "friction_torque_N_m": of_friction});
        put_into(&mut found, name, json!(words));
        found
    };
    let scatter = inertia.scatter.iter().map(|it| part("source", it.0.words(), it.1, it.2)).collect();
    let shared = inertia
        .contributions
        .iter()
        .map(|it| part("input", it.input.words(), it.moment_of_inertia.0, it.friction_torque.0))
        .collect();
    let drag = json!({
        "moment_of_inertia_kg_m2": inertia.drag.0.0,
        "friction_torque_N_m": inertia.drag.1.0,
    });
    [
        ("scatter", scatter),
        ("drag_contribution", drag),
        ("contributions", shared),
        ("moment_of_inertia_budget", budget(&inertia.budget(), "kg_m2")),
        ("friction_torque_budget", budget(&inertia.friction_budget(), "N_m")),
    ]
}

fn object(lab: &Lab, outcome: &ObjectOutcome) -> Value {
    let mut found = json!({
        "object": outcome.id.0,
        "name": lab.configuration_name(Configuration::Loaded(outcome.id)),
        "predicted_kg_m2": outcome.predicted.as_ref().ok().map(|prediction| measured(&prediction.moment_of_inertia)),
        "prediction_problem": outcome.predicted.as_ref().err().map(ToString::to_string),
        "comparison": outcome.comparison.as_ref().and_then(|compared| compared.as_ref().ok()).map(|compared| comparison(lab, compared)),
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
            let scatter = object.scatter.iter();
            let scatter = scatter.map(
                |(source, moment)| json!({"source": source.words(), "moment_of_inertia_kg_m2": moment.0}),
            );
            put("scatter", scatter.collect());
            put("contributions", Value::Array(contributions));
            put("budget", budget(&object.budget(), "kg_m2"));
        }
        Err(problem) => put("problem", json!(problem.to_string())),
    }
    found
}

fn comparison(lab: &Lab, comparison: &Comparison) -> Value {
    let mut found = json!({
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
    });
    if let Some(fields) = found.as_object_mut().filter(|_| lab.assignment().is_some()) {
        fields.insert("asked_for".to_owned(), asked_for(lab.criterion(), comparison));
    }
    found
}

/// What an instructor counts as agreement, and whether it is.
fn asked_for(criterion: Criterion, comparison: &Comparison) -> Value {
    let judgement = criterion.judge(comparison);
    json!({
        "agreement": match criterion {
            Criterion::Interval => "interval",
            Criterion::NormalizedError => "normalized-error",
            Criterion::Percent(_) => "percent",
        },
        "found": judgement.map(|judgement| judgement.found),
        "limit": judgement.map(|judgement| judgement.limit),
        "agrees": judgement.map(Judgement::agrees),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::analyze;
    use crate::quantity::Meters;
    use whorl_words::{DecimalMark, use_decimal_mark};

    #[test]
    fn programs_read_points_whatever_people_read() {
        let mut lab = Lab::default();
        let length = |value: f64| Measured::new(Meters(value), Meters(2e-5)).ok();
        lab.apparatus.drum_radius = length(0.025);
        lab.apparatus.string_diameter = length(0.001);
        let written = || to_json(&lab, &analyze(&lab)).to_string();
        let with_point = written();
        use_decimal_mark(DecimalMark::Comma);
        let with_comma = written();
        use_decimal_mark(DecimalMark::Point);
        assert!(with_point.contains("0.0255"), "{with_point}");
        assert_eq!(with_comma, with_point);
    }
}
