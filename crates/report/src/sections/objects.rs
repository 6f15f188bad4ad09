//! Each object alone, what its shape predicts, and how the two compare.

use super::Sheet;
use crate::document::{Block, Fact, Label, Section, Size};
use crate::math::Math;
use crate::plain::{expanded, factor, freedom, name, number, picture, sentence};
use whorl_charts::figures;
use whorl_core::analysis::ObjectOutcome;
use whorl_core::comparison::Comparison;
use whorl_core::formula::{Symbol, symbol, symbol_of};
use whorl_core::lab::{Configuration, PartEntry};
use whorl_core::measured::Measured;
use whorl_core::measured::coverage::Probability;
use whorl_core::measured::shown::{DisplayUnit, show, show_interval, show_uncertainty};
use whorl_core::quantity::{KilogramMeters2, Meters, Quantity};
use whorl_core::working::{part, prediction_sum};
use whorl_words as words;

const OBJECT: Symbol = symbol_of("I", "object");
const PREDICTED: Symbol = symbol_of("I", "predicted");

/// `None` where nothing was put on the table.
pub(super) fn section(sheet: Sheet<'_>) -> Option<Section> {
    let objects = &sheet.analysis.objects;
    if objects.is_empty() {
        return None;
    }
    let mut blocks = vec![Block::Formulas(vec![(
        words::working::object_why().to_owned(),
        Math::equation(OBJECT, &(symbol_of("I", "loaded") - symbol_of("I", "empty"))),
    )])];
    let figure = figures::comparison(sheet.lab, objects);
    if figure.has_data() {
        let height = 110 + 34 * u32::try_from(objects.len()).unwrap_or(1).min(20);
        blocks.push(Block::Figures(Size::Wide, vec![picture(&figure, 660, height)]));
    }
    for object in objects {
        let own = name(&sheet.lab.configuration_name(Configuration::Loaded(object.id)));
        blocks.push(Block::Subheading(words::line::alone(&own)));
        blocks.extend(one(sheet, object));
    }
    Some(Section { heading: words::report_sheet::objects().to_owned(), blocks })
}

fn one(sheet: Sheet<'_>, object: &ObjectOutcome) -> Vec<Block> {
    let mut facts = Vec::new();
    let mut problems = Vec::new();
    match &object.measured {
        Ok(found) => {
            let moment = &found.moment_of_inertia;
            let unit = DisplayUnit::engineering(moment.total.value());
            facts.push(moment_fact(words::comparison::measured(), OBJECT, &moment.total, unit));
            facts.push(Fact {
                name: Label::words(words::line::coverage_interval()),
                value: show_interval(&moment.total.coverage_interval(Probability::P95), unit),
            });
            facts.push(Fact {
                name: Label::words(words::report_sheet::parts_of_u()),
                value: words::report_sheet::random_and_shared(
                    &show_uncertainty(moment.random.standard_uncertainty().si(), unit),
                    &show_uncertainty(moment.shared.si(), unit),
                ),
            });
        }
        Err(problem) => problems.push(problem.to_string()),
    }
    let entered = sheet.lab.object(object.id).map(|object| object.parts.as_slice()).unwrap_or_default();
    facts.extend(entered.iter().map(described));
    let mut formulas = Vec::new();
    match &object.predicted {
        Ok(prediction) => {
            let total = &prediction.moment_of_inertia;
            facts.push(moment_fact(
                words::comparison::predicted(),
                PREDICTED,
                total,
                DisplayUnit::engineering(total.value()),
            ));
            let several = prediction.parts.len() > 1;
            let steps = prediction.parts.iter().enumerate();
            let steps = steps.map(|(index, (body, moment))| part(body, moment, several.then_some(index)));
            let steps = steps.chain(prediction_sum(prediction));
            formulas.extend(steps.map(|step| (step.words.to_owned(), Math::equation(step.target, &step.formula))));
        }
        Err(problem) => problems.push(problem.to_string()),
    }
    let mut verdict = None;
    match &object.comparison {
        Some(Ok(comparison)) => {
            facts.extend(differences(comparison));
            verdict = Some(comparison.verdict.words().to_owned());
        }
        Some(Err(problem)) => problems.push(problem.to_string()),
        None => {}
    }
    let mut blocks = Vec::new();
    blocks.extend((!formulas.is_empty()).then_some(Block::Formulas(formulas)));
    blocks.extend((!facts.is_empty()).then_some(Block::Facts(facts)));
    blocks.extend(problems.iter().map(|problem| Block::Paragraph(sentence(problem))));
    blocks.extend(verdict.map(Block::Paragraph));
    blocks
}

fn moment_fact(words: &str, own: Symbol, value: &Measured<KilogramMeters2>, unit: DisplayUnit) -> Fact {
    Fact {
        name: Label::words(words).with(Math::symbol(own)).and(" ± U"),
        value: words::report_sheet::with_factor(&expanded(value, unit), &factor(value), &freedom(value)),
    }
}

/// A part as it was measured.
fn described(part: &PartEntry) -> Fact {
    let mut pieces = Vec::new();
    let mut push = |words: &str, shown: String| pieces.push([words, " ", &shown].concat());
    if let Some(mass) = &part.mass {
        push(words::bodies::mass(), show(mass, DisplayUnit::GRAMS).to_string());
    }
    for (dimension, length) in part.shape.dimensions().iter().zip(&part.dimensions) {
        if let Some(length) = length {
            push((dimension.words)(), show::<Meters>(length, DisplayUnit::MILLIMETERS).to_string());
        }
    }
    if let Some(offset) = &part.offset {
        push(words::bodies::distance_of_center(), show(offset, DisplayUnit::MILLIMETERS).to_string());
    }
    let count = part.count.get();
    let shape = part.shape.words();
    let name = if count > 1 { words::report_sheet::several(&count, &shape) } else { shape.to_owned() };
    Fact { name: Label::words(name), value: pieces.join("; ") }
}

fn differences(comparison: &Comparison) -> Vec<Fact> {
    let unit = DisplayUnit::engineering(comparison.predicted.value());
    let mut facts = vec![Fact {
        name: Label::words(words::comparison::difference()).with(Math::symbol(symbol("D"))).and(" ± U"),
        value: words::report_sheet::with_factor(
            &expanded(&comparison.difference, unit),
            &factor(&comparison.difference),
            &freedom(&comparison.difference),
        ),
    }];
    let z = comparison.in_standard_uncertainties.map(|z| number(z, 2));
    let percent = comparison.percent_difference.as_ref();
    if let Some(percent) = percent {
        facts.push(Fact {
            name: Label::words(words::comparison::percent_difference()),
            value: expanded(percent, DisplayUnit::prefixed("%", 0)),
        });
    }
    facts.extend(z.map(|value| Fact { name: Label::words(words::comparison::in_uncertainties()), value }));
    facts
}
