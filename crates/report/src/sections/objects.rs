//! Each object alone, what its shape predicts, and how the two compare.

use super::Sheet;
use crate::document::{Block, Fact, Label, Section, Size, Table};
use crate::math::Math;
use crate::plain::{expanded, factor, name, number, picture, sentence};
use whorl_charts::figures;
use whorl_core::analysis::ObjectOutcome;
use whorl_core::formula::{Symbol, symbol, symbol_of};
use whorl_core::lab::{Configuration, PartEntry};
use whorl_core::measured::Measured;
use whorl_core::measured::coverage::Probability;
use whorl_core::measured::shown::{DisplayUnit, show, show_interval};
use whorl_core::quantity::{KilogramMeters2, Meters};
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
    let mut blocks = vec![
        Block::Formulas(vec![(
            words::working::object_why().to_owned(),
            Math::equation(OBJECT, &(symbol_of("I", "loaded") - symbol_of("I", "empty"))),
        )]),
        Block::Table(table(sheet)),
    ];
    let figure = figures::comparison(sheet.lab, objects);
    if figure.has_data() {
        let height = 96 + 30 * u32::try_from(objects.len()).unwrap_or(1).min(20);
        blocks.push(Block::Figures(Size::Wide, vec![picture(&figure, 660, height)]));
    }
    for object in objects {
        let own = name(&sheet.lab.configuration_name(Configuration::Loaded(object.id)));
        blocks.push(Block::Subheading(words::line::alone(&own)));
        blocks.extend(one(sheet, object));
    }
    Some(Section { heading: words::report_sheet::objects().to_owned(), blocks })
}

/// All objects side by side, in one unit, which the caption names.
fn table(sheet: Sheet<'_>) -> Table {
    let objects = &sheet.analysis.objects;
    let values = objects.iter().flat_map(|object| {
        let measured = object.measured.as_ref().ok().map(|found| found.moment_of_inertia.total.value().0);
        let predicted = object.predicted.as_ref().ok().map(|found| found.moment_of_inertia.value().0);
        [measured, predicted].into_iter().flatten()
    });
    let largest = values.fold(0.0_f64, |largest, value| largest.max(value.abs()));
    let unit = DisplayUnit::engineering(KilogramMeters2(largest));
    let bare = DisplayUnit::prefixed("", unit.factor);
    let both = |words: &str, own| Label::words(words).with(Math::symbol(own)).and(" ± U");
    Table {
        caption: words::report_sheet::objects_caption(&unit.caption()),
        head: vec![
            Label::words(words::runs::carries()),
            both(words::comparison::measured(), OBJECT),
            both(words::comparison::predicted(), PREDICTED),
            both(words::comparison::difference(), symbol("D")),
            Label::symbol(Math::symbol(symbol("k"))),
            Label::words("D ± U (%)"),
            Label::words("D/u(D)"),
        ],
        rows: objects.iter().map(|object| row(sheet, object, bare)).collect(),
        numbers_from: 1,
    }
}

fn row(sheet: Sheet<'_>, object: &ObjectOutcome, unit: DisplayUnit) -> Vec<String> {
    let shown = |value: Option<&Measured<KilogramMeters2>>| {
        value.map_or_else(|| "—".to_owned(), |value| expanded(value, unit))
    };
    let measured = object.measured.as_ref().ok().map(|found| &found.moment_of_inertia.total);
    let predicted = object.predicted.as_ref().ok().map(|found| &found.moment_of_inertia);
    let compared = object.comparison.as_ref().and_then(|compared| compared.as_ref().ok());
    let or_none = |text: Option<String>| text.unwrap_or_else(|| "—".to_owned());
    let percent = compared.and_then(|found| found.percent_difference.as_ref());
    vec![
        name(&sheet.lab.configuration_name(Configuration::Loaded(object.id))),
        shown(measured),
        shown(predicted),
        shown(compared.map(|found| &found.difference)),
        or_none(compared.map(|found| factor(&found.difference))),
        or_none(percent.map(|percent| expanded(percent, DisplayUnit::prefixed("", 0)))),
        or_none(compared.and_then(|found| found.in_standard_uncertainties).map(|z| number(z, 2))),
    ]
}

/// How the numbers of one object come about, and what may be claimed.
fn one(sheet: Sheet<'_>, object: &ObjectOutcome) -> Vec<Block> {
    let mut facts = Vec::new();
    let mut problems = Vec::new();
    match &object.measured {
        Ok(found) => {
            let moment = &found.moment_of_inertia;
            let unit = DisplayUnit::engineering(moment.total.value());
            facts.push(Fact {
                name: Label::words(words::line::coverage_interval()),
                value: show_interval(&moment.total.coverage_interval(Probability::P95), unit),
            });
        }
        Err(problem) => problems.push(problem.to_string()),
    }
    let entered = sheet.lab.object(object.id).map(|object| object.parts.as_slice()).unwrap_or_default();
    facts.extend(entered.iter().map(described));
    let mut formulas = Vec::new();
    match &object.predicted {
        Ok(prediction) => {
            let several = prediction.parts.len() > 1;
            let steps = prediction.parts.iter().enumerate();
            let steps = steps.map(|(index, (body, moment))| part(body, moment, several.then_some(index)));
            let steps = steps.chain(prediction_sum(prediction));
            formulas.extend(
                steps.map(|step| (step.words.to_owned(), Math::equation(step.target, &step.formula))),
            );
        }
        Err(problem) => problems.push(problem.to_string()),
    }
    let verdict = match &object.comparison {
        Some(Ok(comparison)) => Some(comparison.verdict.words().to_owned()),
        Some(Err(problem)) => {
            problems.push(problem.to_string());
            None
        }
        None => None,
    };
    let mut blocks = Vec::new();
    blocks.extend((!facts.is_empty()).then_some(Block::Facts(facts)));
    blocks.extend((!formulas.is_empty()).then_some(Block::Formulas(formulas)));
    blocks.extend(problems.iter().map(|problem| Block::Paragraph(sentence(problem))));
    blocks.extend(verdict.map(Block::Paragraph));
    blocks
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
