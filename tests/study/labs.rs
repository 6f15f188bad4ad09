//! Whole labs: error of the moments of inertia against the bound, coverage, drag.

use crate::{Check, parallel, percent};
use core::num::NonZeroU32;
use whorl_core::analysis::{Analysis, analyze};
use whorl_core::lab::{ApparatusEntry, Configuration, Lab, Record, RunEntry, RunId};
use whorl_core::measured::coverage::Probability;
use whorl_core::measured::{Combined, Measured};
use whorl_core::quantity::{Kilograms, Meters, MetersPerSecond2, Quantity, Ratio, Seconds};
use whorl_core::readings::Readings;
use whorl_core::runs::Stretch;
use whorl_core::simulation::lab::{
    ConfigurationPlan, LabPlan, SharedUncertainties, SimulatedLab, evenly_spaced, lab,
};
use whorl_core::simulation::random::Random;
use whorl_core::torque::Motion;

/// The apparatus of a simulated lab as a group would enter it.
pub fn apparatus(made: &SimulatedLab, spokes: usize) -> ApparatusEntry {
    let (written, u) = (&made.written, &made.written.uncertainties);
    let length = |value: f64, u: f64| Measured::new(Meters(value), Meters(u)).ok();
    let gravity =
        Measured::new(MetersPerSecond2(written.gravity_m_per_s2), MetersPerSecond2(u.gravity_m_per_s2));
    ApparatusEntry {
        drum_radius: length(written.drum_radius_m, u.drum_radius_m),
        string_diameter: length(written.string_diameter_m, u.string_diameter_m),
        travel_per_spoke: length(written.travel_per_spoke_m, u.travel_per_spoke_m),
        gravity: gravity.ok(),
        mass_scale_uncertainty: Ratio(u.mass_scale),
        spokes: u32::try_from(spokes).ok().and_then(NonZeroU32::new),
        ..ApparatusEntry::default()
    }
}

/// A simulated lab as a group would enter it, with the stretch inside each fall.
pub fn entered(made: &SimulatedLab, spokes: usize) -> Lab {
    let mut lab = Lab::default();
    lab.apparatus = apparatus(made, spokes);
    let object = lab.add_object("slate disc".to_owned(), Vec::new());
    for (number, run) in made.runs.iter().enumerate() {
        let configuration = match run.configuration {
            whorl_core::simulation::lab::Configuration::Empty => Configuration::EmptyTable,
            whorl_core::simulation::lab::Configuration::Loaded => Configuration::Loaded(object),
        };
        let times: Vec<Seconds> = run.gate_times_s.iter().copied().map(Seconds).collect();
        let fall = &run.gate_times_s[run.fall.clone()];
        // One edge of safety at each end.
        let stretch = Stretch::new(Seconds(fall[1]), Seconds(fall[fall.len() - 2]));
        lab.add_run(RunEntry {
            id: RunId(0),
            name: format!("run {}", number + 1),
            configuration,
            hanging_mass: Some(Kilograms(run.written_mass_kg)),
            motion: Motion::Falling,
            stretch,
            record: Record::Readings(Readings::from_gate_times(&times).unwrap()),
            source: None,
        });
    }
    lab
}

/// Error and interval of one result of one lab.
#[derive(Clone, Copy)]
struct Found {
    error: f64,
    held: bool,
    /// Reported standard uncertainty, and of it the part that scatters.
    u: f64,
    u_random: f64,
}

fn found<Q: Quantity>(result: &Combined<Q>, truth: f64) -> Found {
    let interval = result.total.coverage_interval(Probability::P95);
    Found {
        error: result.total.value().si() - truth,
        held: (interval.low.si()..=interval.high.si()).contains(&truth),
        u: result.total.standard_uncertainty().si(),
        u_random: result.random.standard_uncertainty().si(),
    }
}

/// Table and object of one lab.
fn results(made: &SimulatedLab, analysis: &Analysis) -> [Found; 2] {
    let table = analysis.lines.inertia(Configuration::EmptyTable).unwrap();
    let object = analysis.objects[0].measured.as_ref().unwrap();
    [
        found(&table.moment_of_inertia, made.table_inertia_kg_m2),
        found(&object.moment_of_inertia, made.object_inertia_kg_m2),
    ]
}

/// Variance of I_table and I_object that no unbiased line can beat: weighted least squares with the true
/// variances, friction scatter and all.
fn bounds(plan: &LabPlan, made: &SimulatedLab) -> [f64; 2] {
    use whorl_core::simulation::lab::Configuration::{Empty, Loaded};
    let radius = plan.rig.drum_radius_m + 0.5 * plan.rig.string_diameter_m;
    let variance = |configuration, inertia: f64, friction: f64| {
        let (mut w, mut wx, mut wxx) = (0.0, 0.0, 0.0);
        for run in made.runs.iter().filter(|run| run.configuration == configuration) {
            let alpha = run.true_acceleration_m_per_s2 / radius;
            // What the readings add to the friction's scatter: 0.006 % of a with 20 µm of string noise.
            let own =
                (run.written_mass_kg * radius + inertia / radius) * 6e-5 * run.true_acceleration_m_per_s2;
            let weight = 1.0 / ((plan.friction_scatter * friction).powi(2) + own * own);
            w += weight;
            wx += weight * alpha;
            wxx += weight * alpha * alpha;
        }
        w / (w * wxx - wx * wx)
    };
    let table = variance(Empty, made.table_inertia_kg_m2, made.empty_friction_n_m);
    let total = made.table_inertia_kg_m2 + made.object_inertia_kg_m2;
    [table, table + variance(Loaded, total, made.loaded_friction_n_m)]
}

/// Typical uncertainties of a school's apparatus.
pub fn shared() -> SharedUncertainties {
    SharedUncertainties {
        drum_radius_m: 5e-5,
        string_diameter_m: 5e-5,
        travel_per_spoke_m: 3e-5,
        gravity_m_per_s2: 0.003,
        mass_scale: 5e-4,
    }
}

/// The plain lab with `count` masses for each table.
pub fn with_masses(count: usize) -> LabPlan {
    LabPlan {
        empty: ConfigurationPlan { friction_n_m: 1e-3, masses_kg: evenly_spaced(0.02, 0.14, count) },
        loaded: ConfigurationPlan { friction_n_m: 1.4e-3, masses_kg: evenly_spaced(0.05, 0.3, count) },
        ..LabPlan::default()
    }
}

/// The plain lab with viscous friction b, in N·m·s.
pub fn with_drag(b: f64) -> LabPlan {
    let mut plan = LabPlan::default();
    plan.rig.friction.viscous_n_m_s = b;
    plan
}

/// Rows of the table, `count` labs each.
pub fn rows(count: usize) -> Vec<Check> {
    let with_shared = |plan: LabPlan| LabPlan { shared: shared(), ..plan };
    let cases: [(&str, LabPlan); 9] = [
        ("friction scatter 3 %, 4 masses", with_masses(4)),
        ("friction scatter 3 %, 6 masses", with_masses(6)),
        ("friction scatter 3 %, 8 masses", with_masses(8)),
        ("and what runs share uncertain, 4 masses", with_shared(with_masses(4))),
        ("and what runs share uncertain, 6 masses", with_shared(with_masses(6))),
        ("and what runs share uncertain, 8 masses", with_shared(with_masses(8))),
        ("drag 1e-5 N·m·s", with_drag(1e-5)),
        ("drag 1e-5 N·m·s, all uncertain", with_shared(with_drag(1e-5))),
        ("spokes 0.5 %, all uncertain", LabPlan { spoke_error: 0.005, ..with_shared(with_masses(6)) }),
    ];
    rows_of(&cases, count)
}

/// Two of the rows: friction that scatters, and drag.
pub fn quick_rows(count: usize) -> Vec<Check> {
    rows_of(
        &[("friction scatter 3 %, 6 masses", with_masses(6)), ("drag 1e-5 N·m·s", with_drag(1e-5))],
        count,
    )
}

fn rows_of(cases: &[(&str, LabPlan)], count: usize) -> Vec<Check> {
    let mut checks = Vec::new();
    for (name, plan) in cases {
        let labs = parallel::map(count, |index| {
            let made = lab(plan, &mut Random::new(5000 + index as u64));
            let analysis = analyze(&entered(&made, plan.rig.pulley.spokes));
            (results(&made, &analysis), bounds(plan, &made))
        });
        let truths = [plan.table_inertia_kg_m2, plan.object_inertia_kg_m2];
        for (which, (what, truth)) in ["I_table", "I_object"].into_iter().zip(truths).enumerate() {
            let of = |part: &dyn Fn(&Found, f64) -> f64| {
                labs.iter().map(|lab| part(&lab.0[which], lab.1[which])).sum::<f64>() / labs.len() as f64
            };
            let held = labs.iter().filter(|lab| lab.0[which].held).count();
            checks.push(Check::between(
                format!("{what}, {name}: coverage %"),
                percent(held, labs.len()),
                93.0,
                97.0,
            ));
            let uncertain = plan.shared != SharedUncertainties::default();
            let drag = plan.rig.friction.viscous_n_m_s > 0.0;
            if !uncertain && !drag {
                let efficiency = of(&|_, bound| bound) / of(&|found, _| found.error * found.error);
                checks.push(Check::between(format!("{what}, {name}: efficiency"), efficiency, 0.90, 1.2));
            }
            if drag && !uncertain {
                let most = if which == 0 { 0.06 } else { 0.02 };
                let bias = 100.0 * of(&|found, _| found.error) / truth;
                checks.push(Check::between(format!("{what}, {name}: bias %"), bias, -most, most));
            }
            let rms = 100.0 * of(&|found, _| found.error * found.error).sqrt() / truth;
            let u = 100.0 * of(&|found, _| found.u * found.u).sqrt() / truth;
            let random = 100.0 * of(&|found, _| found.u_random * found.u_random).sqrt() / truth;
            let words = format!("   {what}: RMS error %, u reported {u:.3} %, of it random {random:.3} %");
            checks.push(Check::at_most(words, rms, f64::INFINITY));
        }
    }
    checks
}
