//! Steps answered by choosing.

use super::{prose, prose_or_none};
use crate::derivation::{ChoiceOption, Question, Sketch};
use crate::symbols::Symbols;
use whorl_document::Node;
use whorl_words as words;

pub(super) fn questions(node: &Node<'_>, symbols: &Symbols) -> Vec<Question> {
    let all = node.list(&|item| question(item, symbols));
    complain_about_twins(
        node,
        &mut all.iter().map(|question| question.id.as_str()),
        words::derivations::question_id_taken,
    );
    if all.is_empty() {
        node.wrong(words::derivations::questions_expected());
    }
    all
}

fn complain_about_twins(node: &Node<'_>, ids: &mut dyn Iterator<Item = &str>, taken: fn() -> &'static str) {
    let mut seen = Vec::new();
    for (id, item) in ids.zip(node.items()) {
        if seen.contains(&id) {
            item.field("id").wrong(taken());
        }
        seen.push(id);
    }
}

fn question(node: &Node<'_>, symbols: &Symbols) -> Question {
    node.only(&["id", "ask", "options"]);
    let place = node.field("options");
    let options = place.list(&|item| option(item, symbols));
    complain_about_twins(
        &place,
        &mut options.iter().map(|option| option.id.as_str()),
        words::derivations::option_id_taken,
    );
    if options.len() < 2 || options.iter().filter(|option| option.right).count() != 1 {
        place.wrong(words::derivations::one_right_option());
    }
    Question { id: node.field("id").required_text(), ask: prose(&node.field("ask"), symbols), options }
}

fn option(node: &Node<'_>, symbols: &Symbols) -> ChoiceOption {
    node.only(&["id", "say", "sketch", "right", "feedback"]);
    let right = node.field("right").flag().unwrap_or(false);
    let feedback = node.field("feedback");
    ChoiceOption {
        id: node.field("id").required_text(),
        say: prose(&node.field("say"), symbols),
        sketch: sketch(&node.field("sketch"), symbols),
        right,
        // Never “wrong, try again” alone.
        feedback: if right { prose_or_none(&feedback, symbols) } else { prose(&feedback, symbols) },
    }
}

fn sketch(node: &Node<'_>, symbols: &Symbols) -> Option<Sketch> {
    if node.is_missing() {
        return None;
    }
    node.only(&["x", "y", "curves"]);
    let corner = |corner: &Node<'_>| match corner.numbers().as_deref() {
        Some(&[x, y]) if (0.0..=1.0).contains(&x) && (0.0..=1.0).contains(&y) => (x, y),
        _ => {
            corner.wrong(words::derivations::corner_expected());
            (0.0, 0.0)
        }
    };
    let curves = node.field("curves").list(&|curve| {
        let corners = curve.list(&corner);
        if corners.len() < 2 {
            curve.wrong(words::derivations::two_corners());
        }
        corners
    });
    Some(Sketch { x: prose(&node.field("x"), symbols), y: prose(&node.field("y"), symbols), curves })
}
