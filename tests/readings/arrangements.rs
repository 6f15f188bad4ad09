//! Several runs in one file, in any arrangement, are read back as the same runs.

use super::corpus::read_as;
use super::truth::{loose_ends, questions, words};
use proptest::prelude::*;
use whorl_core::readings::ReadingKind;

/// How runs stand in a file.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Arrangement {
    /// Side by side, each with its own time, with names above them or without.
    Groups { named: bool },
    /// Side by side behind one column of times.
    OneTime,
    /// Under each other, the heading repeated behind a blank line, with titles or without.
    Stacked { titled: bool },
    /// Under each other; only the clock tells where a run begins.
    ClockStartsAgain,
    /// Under each other, with a column that tells the run.
    RunColumn,
}

use Arrangement::{ClockStartsAgain, Groups, OneTime, RunColumn, Stacked};

/// Runs in steps of the last decimal: times increase from below 1 to above it.
#[derive(Clone, Debug)]
struct File {
    arrangement: Arrangement,
    position: bool,
    delimiter: &'static str,
    comma: bool,
    decimals: u32,
    runs: Vec<Vec<(i64, i64)>>,
}

fn files() -> impl Strategy<Value = File> {
    let arrangement = prop::sample::select(vec![
        Groups { named: false },
        Groups { named: true },
        OneTime,
        Stacked { titled: false },
        Stacked { titled: true },
        ClockStartsAgain,
        RunColumn,
    ]);
    let delimiter = prop::sample::select(vec![",", ";", "\t", "|"]);
    (arrangement, any::<bool>(), delimiter, any::<bool>(), 2_u32..=4).prop_flat_map(
        |(arrangement, position, delimiter, comma, decimals)| {
            let step = 10_i64.pow(decimals);
            let row = (step / 2..step, -5 * step..5 * step);
            prop::collection::vec(prop::collection::vec(row, 8..20), 2..5).prop_map(move |mut runs| {
                for run in &mut runs {
                    let mut time = 0;
                    for (k, row) in run.iter_mut().enumerate() {
                        time += if k == 0 { row.0 - step / 2 } else { row.0 };
                        row.0 = time;
                    }
                }
                if arrangement == OneTime {
                    let shortest = runs.iter().map(Vec::len).min().unwrap();
                    let times: Vec<i64> = runs[0].iter().map(|row| row.0).collect();
                    for run in &mut runs {
                        run.truncate(shortest);
                        run.iter_mut().zip(&times).for_each(|(row, &time)| row.0 = time);
                    }
                }
                File { arrangement, position, delimiter, comma: comma && delimiter != ",", decimals, runs }
            })
        },
    )
}

impl File {
    fn number(&self, steps: i64) -> String {
        let all = format!("{:0width$}", steps.unsigned_abs(), width = self.decimals as usize + 1);
        let (whole, part) = all.split_at(all.len() - self.decimals as usize);
        let (sign, mark) = (if steps < 0 { "-" } else { "" }, if self.comma { ',' } else { '.' });
        format!("{sign}{whole}{mark}{part}")
    }

    fn text(&self) -> String {
        let (name, unit) = if self.position { ("x", "m") } else { ("v", "m/s") };
        let pair = |&(time, value): &(i64, i64)| vec![self.number(time), self.number(value)];
        let head = vec!["t (s)".to_owned(), format!("{name} ({unit})")];
        let line = |fields: Vec<String>| fields.join(self.delimiter) + "\n";
        let lines = |rows: Vec<Vec<String>>| rows.into_iter().map(line).collect::<String>();
        let longest = self.runs.iter().map(Vec::len).max().unwrap();
        let numbered = || self.runs.iter().enumerate().map(|(index, run)| (index + 1, run));
        match self.arrangement {
            Groups { named } => {
                let mut rows = Vec::new();
                if named {
                    rows.push(numbered().flat_map(|(k, _)| [format!("Run {k}"), String::new()]).collect());
                }
                rows.push(self.runs.iter().flat_map(|_| head.clone()).collect());
                let empty = || vec![String::new(); 2];
                rows.extend(
                    (0..longest).map(|k| {
                        self.runs.iter().flat_map(|run| run.get(k).map_or_else(empty, pair)).collect()
                    }),
                );
                lines(rows)
            }
            OneTime => {
                let names = numbered().map(|(k, _)| format!("{name} Run {k} ({unit})"));
                let mut rows = vec![[head[0].clone()].into_iter().chain(names).collect()];
                rows.extend((0..longest).map(|k| {
                    let values = self.runs.iter().map(|run| self.number(run[k].1));
                    [self.number(self.runs[0][k].0)].into_iter().chain(values).collect()
                }));
                lines(rows)
            }
            Stacked { titled } => {
                let block = |(k, run): (usize, &Vec<(i64, i64)>)| {
                    let title = if titled { format!("Run {k}\n") } else { String::new() };
                    title + &line(head.clone()) + &lines(run.iter().map(pair).collect())
                };
                numbered().map(block).collect::<Vec<_>>().join("\n")
            }
            ClockStartsAgain => line(head) + &lines(self.runs.iter().flatten().map(pair).collect()),
            RunColumn => {
                let rows = numbered().flat_map(|(k, run)| {
                    run.iter().map(move |row| [vec![k.to_string()], pair(row)].concat()).collect::<Vec<_>>()
                });
                line([vec!["run".to_owned()], head].concat()) + &lines(rows.collect())
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    #[test]
    fn runs_in_any_arrangement_are_the_same_runs(file in files()) {
        let text = file.text();
        let understood = match read_as(text.as_bytes(), "") {
            Ok(understood) => understood,
            Err(errors) => return Err(TestCaseError::fail(format!("{}\n{text}", words(&errors)))),
        };
        prop_assert_eq!(loose_ends(&understood), Vec::<String>::new());
        prop_assert!(understood.layout.questions.is_empty(), "{}\n{}", questions(&understood), text);
        prop_assert_eq!(understood.runs.len(), file.runs.len(), "{}", text);
        let kind = if file.position { ReadingKind::Position } else { ReadingKind::Velocity };
        let scale = 10_f64.powi(-i32::try_from(file.decimals).unwrap());
        for (k, (found, run)) in understood.runs.iter().zip(&file.runs).enumerate() {
            prop_assert_eq!(found.readings.kind(), kind, "{}", text);
            if matches!(file.arrangement, Groups { named: true } | OneTime | Stacked { titled: true }) {
                prop_assert!(found.label.contains(&format!("Run {}", k + 1)), "“{}”\n{}", found.label, text);
            }
            let pairs = found.readings.pairs();
            prop_assert_eq!(pairs.len(), run.len(), "run {}\n{}", k + 1, text);
            for (&(time, value), &(t, v)) in pairs.iter().zip(run) {
                prop_assert!((time - t as f64 * scale).abs() < 1e-12 * (1.0 + time), "run {}: {} s\n{}", k + 1, time, text);
                prop_assert!((value - v as f64 * scale).abs() < 1e-12 * (1.0 + value.abs()), "run {}: {}\n{}", k + 1, value, text);
            }
        }
    }
}
