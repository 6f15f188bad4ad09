//! Any bytes at all, with any choices: readings, or complaints that say where and what to do.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use whorl_core::readings::{Choices, Confidence, ReadingError, Understood, read};
use whorl_fuzz::{choices_and_file, within};

const MOST_COMPLAINTS: usize = 10;

/// Two bytes of a file (a digit and a line end) may be a row with a few numbers.
fn allowed(file: &[u8]) -> usize {
    64 * file.len() + 1_048_576
}

fuzz_target!(|input: &[u8]| -> Corpus {
    let Some((choices, file)) = choices_and_file(input) else { return Corpus::Reject };
    within(allowed(file), || match read_through(file, &choices) {
        Err(complaints) => check_complaints(&complaints, file),
        Ok(understood) => {
            check_understood(&understood, file);
            check_answers(&understood, &choices, file);
        }
    });
    Corpus::Keep
});

/// Reads; the progress told never runs backwards.
fn read_through(file: &[u8], choices: &Choices) -> Result<Understood, Vec<ReadingError>> {
    let mut last = 0.0;
    read(file, choices, &mut |part| {
        assert!((last..=1.0).contains(&part), "progress {part} after {last}");
        last = part;
    })
}

fn check_complaints(complaints: &[ReadingError], file: &[u8]) {
    assert!((1..=MOST_COMPLAINTS).contains(&complaints.len()), "{} complaints", complaints.len());
    for complaint in complaints {
        assert!((1..=file.len() + 1).contains(&complaint.line), "{complaint}");
        assert!((1..=file.len() + 1).contains(&complaint.column), "{complaint}");
    }
}

fn check_understood(understood: &Understood, file: &[u8]) {
    let Understood { layout, runs } = understood;
    assert!(!runs.is_empty() || !layout.questions.is_empty(), "neither runs nor a question");
    for run in runs {
        let (first, last) = run.lines;
        assert!(1 <= first && first <= last && last <= file.len() + 1, "lines {:?}", run.lines);
        assert!(run.hanging_mass.is_none_or(|mass| mass.0.is_finite()), "{:?}", run.hanging_mass);
        let pairs = run.readings.pairs();
        assert!(pairs.iter().all(|&(time, value)| time.is_finite() && value.is_finite()), "{pairs:?}");
        assert!(pairs.is_sorted_by(|a, b| a.0 < b.0), "{pairs:?}");
    }
    let open = layout.columns.iter().any(|column| column.used && column.role.confidence == Confidence::Open);
    assert!(!open || !layout.questions.is_empty(), "a column in use is open and nothing is asked");
}

/// Each answer to the first question settles it.
fn check_answers(understood: &Understood, choices: &Choices, file: &[u8]) {
    let Some(question) = understood.layout.questions.first() else { return };
    assert!(question.answers.len() >= 2, "{question:?}");
    for answer in &question.answers {
        assert!(!answer.choices.is_empty(), "{answer:?}");
        let mut said = choices.clone();
        answer.choices.iter().for_each(|&choice| said.set(choice));
        match read_through(file, &said) {
            Err(complaints) => check_complaints(&complaints, file),
            Ok(understood) => {
                check_understood(&understood, file);
                assert!(!understood.layout.questions.contains(question), "asked again: {question:?}");
            }
        }
    }
}
