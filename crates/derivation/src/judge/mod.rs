//! An answer to a step → [`Judgement`]: whether it is accepted and, if not, a ladder of help.
//!
//! The rungs go from the least telling to the most: what is wrong with the form or the units, a
//! mistake that is recognized, a limiting case of *their* expression, numbers put into it, hints,
//! the worked step. A page shows one rung at a time.

mod algebra;
mod dimensions;
mod tries;

pub use dimensions::quantity_of;

use crate::derivation::{Derivation, Question, Step, Task};
use crate::diagram::{Arrow, DiagramTask, Direction, LONGEST};
use crate::expression::{Answer, Span};
use crate::prose::{HOLES, Prose};
use serde_json::{Value, json};
use whorl_words as words;

/// What an answer comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// Whether the step is done.
    pub accepted: bool,
    /// What was understood, where it is algebra that could be read.
    pub answer: Option<Answer>,
    /// What is said. Never empty: the first is said at once, the others when asked for.
    pub rungs: Vec<Rung>,
}

/// One piece of feedback.
#[derive(Clone, Debug, PartialEq)]
pub struct Rung {
    /// What kind of feedback it is.
    pub kind: RungKind,
    /// Which mistake was recognized, where one was.
    pub slip: Option<String>,
    /// The sentences.
    pub text: Prose,
    /// The characters it is about.
    pub span: Option<Span>,
}

/// Kinds of feedback, in the order in which they are given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RungKind {
    /// Accepted: what it means.
    Meaning,
    /// It cannot be read, or was read in a way that is probably not meant.
    Reading,
    /// Right or not, it does not have the form asked for.
    Form,
    /// The units do not fit.
    Dimension,
    /// A recognized mistake.
    Slip,
    /// A symbol that the answer should do without.
    Symbol,
    /// A limiting case.
    Limit,
    /// Numbers put in.
    Number,
    /// A hint.
    Hint,
    /// The worked step.
    Worked,
}

impl RungKind {
    /// As it stands in reports.
    pub fn key(self) -> &'static str {
        match self {
            Self::Meaning => "meaning",
            Self::Reading => "reading",
            Self::Form => "form",
            Self::Dimension => "dimension",
            Self::Slip => "slip",
            Self::Symbol => "symbol",
            Self::Limit => "limit",
            Self::Number => "number",
            Self::Hint => "hint",
            Self::Worked => "worked",
        }
    }

    /// Whether asking for it is recorded as help.
    pub fn is_help(self) -> bool {
        self >= Self::Hint
    }
}

impl Rung {
    fn new(kind: RungKind, text: Prose) -> Self {
        Self { kind, slip: None, text, span: None }
    }

    fn at(self, span: Span) -> Self {
        Self { span: Some(span), ..self }
    }
}

impl Judgement {
    fn accepted(step: &Step, answer: Option<Answer>) -> Self {
        Self { accepted: true, answer, rungs: vec![Rung::new(RungKind::Meaning, step.meaning.clone())] }
    }

    /// Refused, with the step's own hints behind what is said about this answer.
    fn refused(step: &Step, answer: Option<Answer>, about_it: Vec<Rung>) -> Self {
        let hints = step.hints.iter().map(|hint| Rung::new(RungKind::Hint, hint.clone()));
        let worked = step.worked.iter().map(|worked| Rung::new(RungKind::Worked, worked.clone()));
        let mut rungs = about_it;
        rungs.extend(hints.chain(worked));
        if rungs.is_empty() {
            rungs.push(Rung::new(RungKind::Hint, Prose::words(words::algebra::does_not_follow())));
        }
        Self { accepted: false, answer, rungs }
    }

    /// As JSON, for programs.
    pub fn to_json(&self, derivation: &Derivation) -> Value {
        let shown = |prose: &Prose| prose.shown(&derivation.symbols);
        let rung = |rung: &Rung| {
            let span = rung.span.as_ref().map(|span| json!([span.start, span.end]));
            json!({"kind": rung.kind.key(), "slip": rung.slip, "text": shown(&rung.text), "characters": span})
        };
        let first = self.rungs.first();
        json!({
            "accepted": self.accepted,
            "understood": self.answer.as_ref().map(|answer| answer.shown(&derivation.symbols)),
            "kind": first.map(|rung| rung.kind.key()),
            "text": first.map(|rung| shown(&rung.text)),
            "ladder": self.rungs.iter().map(rung).collect::<Vec<_>>(),
        })
    }
}

/// What is entered in a step, as text: algebra; `{"question": "option"}`; or a list of arrows
/// `{"force", "at", "direction", "length"}`.
pub fn judge(derivation: &Derivation, step: &Step, entered: &str) -> Judgement {
    match &step.task {
        Task::Expression(task) => algebra::judge(derivation, step, task, entered),
        Task::Choice(questions) => match chosen(questions, entered) {
            Ok(chosen) => judge_choice(step, questions, &chosen),
            Err(problem) => unreadable(step, problem),
        },
        Task::Diagram(task) => match arrows(task, entered) {
            Ok(arrows) => judge_diagram(step, task, &arrows),
            Err(problem) => unreadable(step, problem),
        },
    }
}

fn unreadable(step: &Step, problem: String) -> Judgement {
    Judgement::refused(step, None, vec![Rung::new(RungKind::Reading, Prose::words(problem))])
}

fn judge_choice(step: &Step, questions: &[Question], chosen: &[Option<usize>]) -> Judgement {
    // What is missing is said first.
    let mut about_it = Vec::new();
    let mut wrong = Vec::new();
    for (question, chosen) in questions.iter().zip(chosen) {
        let Some(option) = chosen.and_then(|index| question.options.get(index)) else {
            let [hole, ..] = HOLES;
            let say = words::algebra::nothing_chosen(&hole);
            about_it
                .push(Rung::new(RungKind::Form, Prose::filled(&say, core::slice::from_ref(&question.ask))));
            continue;
        };
        if !option.right {
            let slip = Some(format!("{}: {}", question.id, option.id));
            wrong.push(Rung { slip, ..Rung::new(RungKind::Slip, option.feedback.clone()) });
        }
    }
    about_it.append(&mut wrong);
    if about_it.is_empty() {
        Judgement::accepted(step, None)
    } else {
        Judgement::refused(step, None, about_it)
    }
}

fn judge_diagram(step: &Step, task: &DiagramTask, arrows: &[Arrow]) -> Judgement {
    let rung = |(fault, text): (crate::diagram::DiagramFault, Prose)| Rung {
        slip: Some(fault.key().to_owned()),
        ..Rung::new(RungKind::Slip, text)
    };
    if arrows.is_empty() {
        let say = words::algebra::no_arrow();
        return Judgement::refused(step, None, vec![Rung::new(RungKind::Form, Prose::words(say))]);
    }
    let about_it: Vec<Rung> = task.faults(arrows).into_iter().map(rung).collect();
    if about_it.is_empty() {
        Judgement::accepted(step, None)
    } else {
        Judgement::refused(step, None, about_it)
    }
}

/// The options chosen, as `{"question": "option"}`; with one question its option alone will do.
///
/// # Errors
/// Says which question or option is unknown.
pub fn chosen(questions: &[Question], entered: &str) -> Result<Vec<Option<usize>>, String> {
    if entered.trim().is_empty() {
        return Ok(vec![None; questions.len()]);
    }
    let known = |question: &Question| {
        question.options.iter().map(|option| option.id.as_str()).collect::<Vec<_>>().join(", ")
    };
    let option_of = |question: &Question, id: &str| {
        let found = question.options.iter().position(|option| option.id == id);
        found.ok_or_else(|| words::algebra::no_such_option(&question.id, &id, &known(question)))
    };
    if let ([only], false) = (questions, entered.trim_start().starts_with('{')) {
        return option_of(only, entered.trim()).map(|option| vec![Some(option)]);
    }
    let document: Value = serde_json::from_str(entered)
        .map_err(|_| words::algebra::options_expected(&"{\"question\": \"option\"}"))?;
    let fields = document.as_object().into_iter().flatten();
    for (name, _) in fields {
        if !questions.iter().any(|question| question.id == *name) {
            let all: Vec<&str> = questions.iter().map(|question| question.id.as_str()).collect();
            return Err(words::algebra::no_such_question(name, &all.join(", ")));
        }
    }
    let of = |question: &Question| match document.get(&question.id).and_then(Value::as_str) {
        None => Ok(None),
        Some(id) => option_of(question, id).map(Some),
    };
    questions.iter().map(of).collect()
}

/// The options chosen as [`chosen`] reads them.
pub fn write_chosen(questions: &[Question], chosen: &[Option<usize>]) -> String {
    let mut pairs = Vec::new();
    for (question, chosen) in questions.iter().zip(chosen) {
        if let Some(option) = chosen.and_then(|chosen| question.options.get(chosen)) {
            pairs.push(format!("{}:{}", quoted(&question.id), quoted(&option.id)));
        }
    }
    format!("{{{}}}", pairs.join(","))
}

/// Text as JSON. Only text: writing whole values brings along what writes numbers, 10 kB of the page.
fn quoted(text: &str) -> String {
    // A text always has a JSON form.
    serde_json::to_string(text).unwrap_or_default()
}

/// The arrows in `[{"force": …, "at": …, "direction": …, "length": …}]`.
///
/// # Errors
/// Says which arrow cannot be read and what was expected.
pub fn arrows(task: &DiagramTask, entered: &str) -> Result<Vec<Arrow>, String> {
    if entered.trim().is_empty() {
        return Ok(Vec::new());
    }
    let document: Value = serde_json::from_str(entered).unwrap_or_default();
    let fields = "{\"force\", \"at\", \"direction\", \"length\"}";
    let items = document.as_array().ok_or_else(|| words::algebra::arrows_expected(&fields))?;
    let arrow = |(index, item): (usize, &Value)| {
        let text = |name: &str| item.get(name).and_then(Value::as_str).unwrap_or_default();
        let number = index + 1;
        let force = task.forces.iter().position(|force| force.id == text("force"));
        let place = task.points.iter().position(|place| place.id == text("at"));
        let direction = Direction::from_key(text("direction"));
        let length = item.get("length").and_then(Value::as_u64).and_then(|length| u8::try_from(length).ok());
        Ok(Arrow {
            force: force.ok_or_else(|| words::algebra::no_such_force(&number))?,
            place: place.ok_or_else(|| words::algebra::no_such_place(&number))?,
            direction: direction.ok_or_else(|| words::algebra::no_such_direction(&number))?,
            length: length
                .filter(|length| (1..=LONGEST).contains(length))
                .ok_or_else(|| words::algebra::length_expected(&number, &LONGEST))?,
        })
    };
    items.iter().enumerate().map(arrow).collect()
}

/// The arrows as [`arrows`] reads them.
pub fn write_arrows(task: &DiagramTask, arrows: &[Arrow]) -> String {
    let mut all = Vec::new();
    for arrow in arrows {
        if let (Some(force), Some(place)) = (task.forces.get(arrow.force), task.points.get(arrow.place)) {
            all.push(format!(
                "{{\"force\":{},\"at\":{},\"direction\":\"{}\",\"length\":{}}}",
                quoted(&force.id),
                quoted(&place.id),
                arrow.direction.key(),
                arrow.length
            ));
        }
    }
    format!("[{}]", all.join(","))
}

#[cfg(test)]
mod tests;
