//! Judging an answer in algebra.

use super::{Judgement, Rung, RungKind, dimensions, tries};
use crate::derivation::{Derivation, ExpressionTask, Form, Step};
use crate::expression::{Answer, Expression};
use crate::identity::{self, Definitions, Verdict};
use crate::prose::{HOLES, Prose};
use crate::rational::Rational;
use crate::reading::{Reading, read};
use crate::symbols::SymbolId;
use core::fmt::Display;
use whorl_words as words;

/// What an answer claims.
pub(super) enum Claim<'a> {
    /// The target equals this, which does not contain it.
    Solved(&'a Expression),
    /// An equation that is not solved for the target.
    Equation(&'a Expression, &'a Expression),
}

/// One answer under judgement.
pub(super) struct Case<'a> {
    pub(super) derivation: &'a Derivation,
    pub(super) task: &'a ExpressionTask,
    known: Vec<(SymbolId, &'a Expression)>,
}

pub(super) fn judge(derivation: &Derivation, step: &Step, task: &ExpressionTask, entered: &str) -> Judgement {
    let known = task.known.iter().map(|(id, definition)| (*id, definition)).collect();
    let case = Case { derivation, task, known };
    let Reading { answer, other } = match read(entered, &derivation.symbols, &task.readable) {
        Ok(reading) => reading,
        Err(error) => {
            let rung = Rung::new(RungKind::Reading, Prose::words(error.to_string())).at(error.span);
            return Judgement { accepted: false, answer: None, rungs: vec![rung] };
        }
    };
    match case.verdict(&answer) {
        Ok(()) => return Judgement::accepted(step, Some(answer)),
        Err(Some(rung)) => return Judgement::refused(step, Some(answer), vec![rung]),
        Err(None) => {}
    }
    // Was it only read in another way than it was meant? Then it would be right, or its units would fit.
    let fits = |answer: &Answer| dimensions::complaint(derivation, task, answer).is_none();
    let meant = |other: &Answer| case.verdict(other) == Ok(()) || (fits(other) && !fits(&answer));
    let mut rungs = Vec::new();
    if let Some(other) = other.filter(meant) {
        let [read, meant, ..] = HOLES;
        let text = words::algebra::read_as(&read, &meant);
        let text = Prose::filled(&text, &[Prose::of(answer.clone()), Prose::of(other)]);
        rungs.push(Rung::new(RungKind::Reading, text));
    } else {
        rungs.extend(case.rungs(&answer));
    }
    Judgement::refused(step, Some(answer), rungs)
}

impl Case<'_> {
    fn claim<'a>(&self, answer: &'a Answer) -> Claim<'a> {
        let target = self.task.target;
        match answer {
            Answer::Value(value) => Claim::Solved(value),
            Answer::Equation(left, right) if left.is_symbol(target) && !right.contains(target) => {
                Claim::Solved(right)
            }
            Answer::Equation(left, right) if right.is_symbol(target) && !left.contains(target) => {
                Claim::Solved(left)
            }
            Answer::Equation(left, right) => Claim::Equation(left, right),
        }
    }

    /// Whether the claim says that the target equals `value`.
    fn says(&self, claim: &Claim<'_>, value: &Expression) -> Verdict {
        self.says_with(claim, value, &self.known)
    }

    fn says_with(&self, claim: &Claim<'_>, value: &Expression, known: &Definitions<'_>) -> Verdict {
        match claim {
            Claim::Solved(own) => identity::compare(own, value, known),
            Claim::Equation(left, right) => {
                identity::says_that((left, right), self.task.target, value, known)
            }
        }
    }

    /// Whether it holds, given the right answer and all that was found before.
    fn is_true(&self, answer: &Answer, claim: &Claim<'_>) -> bool {
        let target = Expression::symbol(self.task.target);
        let (left, right) = match answer {
            Answer::Value(value) => (&target, value),
            Answer::Equation(left, right) => (left, right),
        };
        let truths: Vec<(SymbolId, &Expression)> =
            self.task.truths.iter().map(|(id, definition)| (*id, definition)).collect();
        identity::compare(left, right, &truths) == Verdict::Equal
            || self.task.before.iter().any(|found| self.says(claim, found) == Verdict::Equal)
    }

    fn is_unwanted(&self, id: SymbolId) -> bool {
        id != self.task.target && !self.task.uses.contains(&id)
    }

    /// `Ok`: accepted. `Err` with a rung: that alone is to be said. `Err(None)`: wrong.
    fn verdict(&self, answer: &Answer) -> Result<(), Option<Rung>> {
        let target = self.task.target;
        let form = |text: Prose| Err(Some(Rung::new(RungKind::Form, text)));
        let claim = self.claim(answer);
        if let Claim::Equation(left, right) = claim
            && identity::compare(left, right, &[]) == Verdict::Equal
        {
            return form(self.about_target(words::algebra::says_nothing));
        }
        let name = Expression::symbol(target);
        if matches!(answer, Answer::Value(value) if identity::compare(value, &name, &[]) == Verdict::Equal) {
            return form(self.about_target(words::algebra::only_its_name));
        }
        match self.says(&claim, &self.task.answer) {
            Verdict::DividesByZero if self.divides_by_zero(answer) => {
                return form(Prose::words(words::algebra::divides_by_zero()));
            }
            Verdict::Different | Verdict::DividesByZero => return Err(None),
            Verdict::TooLarge => {
                let text = words::algebra::too_large_to_decide();
                return Err(Some(Rung::new(RungKind::Reading, Prose::words(text))));
            }
            Verdict::Equal => {}
        }
        if let Some(rung) = self.unwanted_symbol(answer, words::algebra::right_but_without) {
            return Err(Some(rung));
        }
        match (self.task.form, claim) {
            (Form::Solved, Claim::Equation(..)) => form(self.about_target(words::algebra::solve_for)),
            _ => Ok(()),
        }
    }

    fn divides_by_zero(&self, answer: &Answer) -> bool {
        answer.sides().any(|side| identity::compare(side, side, &self.known) == Verdict::DividesByZero)
    }

    /// A sentence about the target.
    fn about_target(&self, words: fn(&dyn Display) -> String) -> Prose {
        let [target, ..] = HOLES;
        Prose::filled(&words(&target), &[Prose::symbol(self.task.target)])
    }

    /// A symbol that the answer should do without, told in `words` that take it and those wanted.
    fn unwanted_symbol(
        &self,
        answer: &Answer,
        words: fn(&dyn Display, &dyn Display) -> String,
    ) -> Option<Rung> {
        let (id, span) = answer.sides().find_map(|side| side.find(&|id| self.is_unwanted(id)))?;
        let wanted: Vec<String> =
            self.task.uses.iter().map(|id| self.derivation.symbols.shown(*id)).collect();
        let [symbol, ..] = HOLES;
        let text = Prose::filled(&words(&symbol, &wanted.join(", ")), &[Prose::symbol(id)]);
        Some(Rung::new(RungKind::Symbol, text).at(span))
    }

    /// All that can be said about a wrong answer, in order.
    fn rungs(&self, answer: &Answer) -> Vec<Rung> {
        let claim = self.claim(answer);
        // As it stands first: with what is known put in, some mistakes come to the same.
        let made = |known: &Definitions<'_>| {
            let is = |wrong: &Expression| self.says_with(&claim, wrong, known) == Verdict::Equal;
            self.task.slips.iter().find(|slip| slip.answers.iter().any(is))
        };
        let slip = made(&[]).or_else(|| made(&self.known));
        let slip_rung = slip
            .map(|slip| Rung { slip: Some(slip.id.clone()), ..Rung::new(RungKind::Slip, slip.say.clone()) });
        if self.is_true(answer, &claim)
            && let Some(rung) = self.unwanted_symbol(answer, words::algebra::true_but_without)
        {
            return vec![slip_rung.unwrap_or(rung)];
        }
        if slip_rung.is_none() && self.task.form == Form::Relation && matches!(answer, Answer::Value(_)) {
            return vec![Rung::new(RungKind::Form, Prose::words(words::algebra::equation_wanted()))];
        }
        let mut rungs: Vec<Rung> =
            dimensions::complaint(self.derivation, self.task, answer).into_iter().collect();
        let fits = rungs.is_empty();
        let unwanted =
            slip_rung.is_none().then(|| self.unwanted_symbol(answer, words::algebra::not_right_and_without));
        rungs.extend(slip_rung);
        let own = self.solved(&claim);
        if own.is_none() {
            rungs.push(self.unsettled(answer));
        }
        rungs.extend(unwanted.flatten());
        if let Some(own) = own {
            if own.find(&|id| self.is_unwanted(id)).is_none() {
                rungs.extend(self.limits(&own));
            }
            if fits {
                rungs.extend(tries::number(self, &own));
            }
        }
        rungs
    }

    /// An answer that does not say what the target is.
    fn unsettled(&self, answer: &Answer) -> Rung {
        let target = self.task.target;
        let words = match answer {
            Answer::Value(_) => words::algebra::occurs_in_its_value,
            Answer::Equation(left, right) if left.contains(target) || right.contains(target) => {
                words::algebra::cannot_be_found
            }
            Answer::Equation(..) => words::algebra::does_not_occur,
        };
        Rung::new(RungKind::Form, self.about_target(words))
    }

    /// What the claim says the target is, where that can be told.
    fn solved(&self, claim: &Claim<'_>) -> Option<Expression> {
        match claim {
            Claim::Solved(own) => (!own.contains(self.task.target)).then(|| (*own).clone()),
            Claim::Equation(left, right) => {
                Rational::solved(left, right, self.task.target).map(|own| own.to_expression())
            }
        }
    }

    /// Limiting cases in which their expression goes elsewhere than it should.
    fn limits(&self, own: &Expression) -> Option<Rung> {
        self.task.limits.iter().find_map(|case| tries::limit(self, case, own))
    }

    pub(super) fn differs(&self, one: &Expression, other: &Expression) -> bool {
        identity::compare(one, other, &self.known) == Verdict::Different
    }
}
