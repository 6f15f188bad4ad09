//! Labels of runs and groups inside headings, and names as written.

use super::{heading, told};
use crate::readings::headings::UnitFound;
use crate::readings::headings::labels::mass;

/// Checks lines `heading → name | label | meaning unit`.
fn check(lines: &str) {
    let mut wrong = Vec::new();
    for line in lines.lines().map(str::trim) {
        let (text, expected) = line.split_once('→').unwrap();
        let heading = heading(text.trim());
        let label = heading.label.as_deref().unwrap_or("-");
        let found = format!("{} | {label} | {}", heading.name, told(&heading));
        if found.trim() != expected.trim() {
            wrong.push(format!("{text} → {found} (expected {expected})"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn runs_are_labeled_by_a_word_and_a_number() {
    check(
        "Run 1: v (m/s) → v | Run 1 | Velocity m/s
        v (m/s) run 1 → v | run 1 | Velocity m/s
        Run 1 →  | Run 1 | - -
        Run 1 (s) →  | Run 1 | - s
        Lauf 3 →  | Lauf 3 | - -
        Lauf Nr. 3: Zeit (s) → Zeit | Lauf Nr. 3 | Time s
        Versuch 2 - Zeit in s → Zeit | Versuch 2 | Time s
        Time (s) Run #2 → Time | Run #2 | Time s
        Time [s], Trial B → Time | Trial B | Time s
        t_run1 → t | run1 | Time -
        t_run_2 (s) → t | run_2 | Time s
        run2_time_ms → time | run2 | Time ms
        essai n° 2 →  | essai n° 2 | - -
        Série 1 : temps (s) → temps | Série 1 | Time s
        ensayo 4 | tiempo (s) → tiempo | ensayo 4 | Time s
        prova 2; v (m/s) → v | prova 2 | Velocity m/s
        2. Lauf: ω (rad/s) → ω | 2. Lauf | AngularVelocity rad/s
        1st run time (s) → time | 1st run | Time s
        v (m/s) (Run 2) → v | Run 2 | Velocity m/s
        Messreihe II →  | Messreihe II | - -",
    );
}

#[test]
fn groups_are_labeled_by_the_hanging_mass() {
    check(
        "150 g →  | 150 g | - -
        50g →  | 50g | - -
        0,15 kg →  | 0,15 kg | - -
        12.5 g →  | 12.5 g | - -
        m = 150 g →  | m = 150 g | - -
        ring 50g →  | ring 50g | - -
        ring 150g: t (s) → t | ring 150g | Time s
        empty 50 g | v (m/s) → v | empty 50 g | Velocity m/s
        v (m/s) 50 g → v | 50 g | Velocity m/s
        v (m/s) ring 50 g → v | ring 50 g | Velocity m/s
        t ring 150g → t | ring 150g | Time -
        velocity 50 g → velocity | 50 g | Velocity -
        v (50 g) → v | 50 g | Velocity -
        t_s_ring_150g → t | ring_150g | Time s
        Run 2, 150 g →  | Run 2, 150 g | - -
        Time [s] (ring, 150 g) → Time | ring, 150 g | Time s
        Lauf 1 150 g →  | Lauf 1 150 g | - -",
    );
    assert_eq!(mass("density 5 g/cm"), None);
}

#[test]
fn names_are_numbered_or_stand_beside_a_label() {
    check(
        "v1 → v | 1 | Velocity -
        v_1 → v | 1 | Velocity -
        v₂ → v | 2 | Velocity -
        t.2 → t | 2 | Time -
        velocity 3 → velocity | 3 | Velocity -
        velocity 3 (m/s) → velocity | 3 | Velocity m/s
        Time (s).1 → Time | 1 | Time s
        Time (s)_2 → Time | 2 | Time s
        t_ms.1 → t | 1 | Time ms
        Gate 2 (s) → Gate | 2 | GateTime s
        Gate 1 time (s) → Gate time | 1 | GateTime s
        t2_ms → t | 2 | Time ms
        1: v → v | 1 | Velocity -
        v (1) → v | 1 | Velocity -
        ring: t (s) → t | ring | Time s
        t (s) - brass ring → t | brass ring | Time s
        ring_t → t | ring | Time -
        slate disc v (m/s) → v | slate disc | Velocity m/s
        Data Set 1:Time(s) → Time | Data Set 1 | Time s
        Lichtschranke 1 / s → Lichtschranke | 1 | GateTime s
        Time (s) Gate 1 → Time Gate | 1 | GateTime s
        oak bar | Zeit (s) → Zeit | oak bar | Time s
        t (s) ring → t | ring | Time s",
    );
    let two_lines = heading("ring\nt (s)");
    assert_eq!((two_lines.name.as_str(), two_lines.label.as_deref()), ("t", Some("ring")));
}

#[test]
fn names_stay_as_written() {
    check(
        "Höhe (cm) → Höhe | - | Position cm
        Zeit t in s → Zeit t | - | Time s
        v_m_per_s → v | - | Velocity m/s
        foo: bar → foo: bar | - | - -
        slate disc → slate disc | - | - -
        disc 2 → disc 2 | - | - -
        v_string → v_string | - | Velocity -
        state (1=blocked) → state (1=blocked) | - | State -
        n/min → n | - | Index min
        CH1 → CH1 | - | - -
        \"t (s)\" → t | - | Time s
        room temperature (°C) → room temperature | - | Other ?°C
        # t (s) → t | - | Time s",
    );
}

#[test]
fn a_unit_may_stand_in_the_row_below() {
    let with = |name: &str, cell: &str| told(&heading(name).with_unit(cell));
    assert_eq!(with("Zeit", "s"), "Time s");
    assert_eq!(with("Drehzahl", "1/s"), "AngularVelocity turns/s");
    assert_eq!(with("ω", "(1/s)"), "AngularVelocity 1/s");
    assert_eq!(with("s", "s"), "Time s");
    assert_eq!(with("s", "[m]"), "Position m");
    assert_eq!(with("t (ms)", "s"), "Time ms");
    assert_eq!(with("T", "°C"), "Other ?°C");
    assert_eq!(with("v", "-"), "Velocity -");
    assert!(heading("t").with_unit("Sekunden").decimal_comma_language);
    assert_eq!(heading("t").with_unit("").unit, UnitFound::None);
}
