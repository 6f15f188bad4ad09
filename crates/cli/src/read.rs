//! `whorl read`: what a file of readings was taken for, and why.

use crate::open_lab;
use std::fmt::Write as _;
use std::path::Path;
use whorl_core::intake::{Carries, Intake, Proposal, take_in, to_json};
use whorl_core::lab::Lab;
use whorl_core::readings::{Choices, Confidence, Guess, Layout};

/// Answers a call: files, with options anywhere between them.
pub(crate) fn answer(words: &[&str]) -> Result<String, String> {
    let (mut files, mut choices, mut lab, mut json) = (Vec::new(), Choices::default(), Lab::default(), false);
    let mut words = words.iter().copied();
    while let Some(word) = words.next() {
        let mut value = || words.next().ok_or(format!("{word} needs a value"));
        match word {
            "--json" => json = true,
            "--lab" => lab = open_lab(Path::new(value()?))?,
            "--say" => {
                let said = value()?;
                choices = Choices::from_text(said).ok_or(format!(
                    "“{said}” is not understood; say for example --say \"decimal=comma; 2=velocity cm/s\""
                ))?;
            }
            word if word.starts_with("--") => return Err(format!("there is no option {word}")),
            file => files.push(file),
        }
    }
    if files.is_empty() {
        return Err("name at least one file".to_owned());
    }
    let mut intakes = Vec::new();
    for file in files {
        let bytes = std::fs::read(file).map_err(|error| format!("{file}: {error}"))?;
        let name =
            Path::new(file).file_name().map_or(file.to_owned(), |name| name.to_string_lossy().into_owned());
        intakes.push(take_in(&name, &bytes, &choices, &lab, &mut |_| {}));
    }
    let mut output = String::new();
    if json {
        let all: Vec<_> = intakes.iter().map(to_json).collect();
        let text = serde_json::to_string_pretty(&all).map_err(|error| error.to_string())?;
        writeln!(output, "{text}").map_err(|error| error.to_string())?;
    } else {
        for intake in &intakes {
            told(&mut output, intake).map_err(|error| error.to_string())?;
        }
    }
    Ok(output)
}

fn told(out: &mut String, intake: &Intake) -> std::fmt::Result {
    writeln!(out, "{}  ({} bytes, SHA-256 {})", intake.file, intake.bytes, intake.sha256)?;
    match &intake.layout {
        Err(complaints) => {
            for complaint in complaints.lines() {
                writeln!(out, "  cannot be read: {complaint}")?;
            }
            return writeln!(out);
        }
        Ok(layout) => layout_told(out, layout)?,
    }
    for proposal in &intake.proposals {
        proposal_told(out, proposal)?;
    }
    writeln!(out)
}

fn layout_told(out: &mut String, layout: &Layout) -> std::fmt::Result {
    guess(out, "encoding", layout.encoding.value.words(), &layout.encoding)?;
    guess(out, "between fields", layout.delimiter.value.words(), &layout.delimiter)?;
    guess(out, "decimal mark", layout.decimal.value.words(), &layout.decimal)?;
    for (index, column) in layout.columns.iter().enumerate() {
        let name = format!("column {}", index + 1);
        let heading =
            if column.heading.is_empty() { String::new() } else { format!(" “{}”", column.heading) };
        let words =
            format!("{}{heading}{}", column.role.value.words(), if column.used { "" } else { ", not used" });
        guess(out, &name, &words, &column.role)?;
    }
    for remark in &layout.remarks {
        writeln!(out, "  {remark}")?;
    }
    for question in &layout.questions {
        writeln!(out, "  ? {}", question.words)?;
        for answer in &question.answers {
            let mut said = Choices::default();
            answer.choices.iter().for_each(|choice| said.set(*choice));
            writeln!(out, "      {}: --say \"{}\"", answer.words, said.to_text())?;
        }
    }
    Ok(())
}

fn guess<T>(out: &mut String, name: &str, words: &str, guess: &Guess<T>) -> std::fmt::Result {
    let certainty = if guess.confidence == Confidence::Sure { "" } else { guess.confidence.words() };
    let gap = if certainty.is_empty() { "" } else { ": " };
    writeln!(out, "  {name}: {words} ({certainty}{gap}{})", guess.reason)
}

fn proposal_told(out: &mut String, proposal: &Proposal) -> std::fmt::Result {
    let carries = match &proposal.carries {
        Carries::Known(configuration) => format!("{configuration:?}"),
        Carries::New(name) => format!("“{name}”, which the lab does not have yet"),
        Carries::Untold => "not told".to_owned(),
    };
    let (from, to) = proposal.readings.time_span();
    let seconds = to.0 - from.0;
    writeln!(
        out,
        "  run “{}”: {} {} in {seconds:.4} s",
        proposal.name,
        proposal.readings.count(),
        proposal.readings.kind().noun()
    )?;
    writeln!(out, "    table carries: {carries}")?;
    match proposal.hanging_mass {
        Some(mass) => writeln!(out, "    hanging mass: {} g", (mass.0 * 1e9).round() / 1e6)?,
        None => writeln!(out, "    hanging mass: not told")?,
    }
    match &proposal.first.stretch {
        Some(stretch) => writeln!(out, "    stretch: {:.4} s to {:.4} s", stretch.from().0, stretch.to().0)?,
        None => writeln!(out, "    stretch: all readings")?,
    }
    match &proposal.first.acceleration {
        Ok(shown) => writeln!(out, "    acceleration: {shown}")?,
        Err(missing) => writeln!(out, "    acceleration: not yet; {missing}")?,
    }
    for doubt in proposal.first.doubts.iter().chain(&proposal.remarks) {
        writeln!(out, "    {doubt}")?;
    }
    Ok(())
}
