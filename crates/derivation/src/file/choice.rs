//! Steps answered by choosing.

use super::{prose, prose_or_none};
use crate::derivation::{ChoiceOption, Question, Sketch};
use crate::symbols::Symbols;
use whorl_document::{Node, Wrong};

pub(super) fn questions(node: &Node<'_>, symbols: &Symbols) -> Result<Vec<Question>, Wrong> {
    let mut all: Vec<Question> = Vec::new();
    for item in node.items()? {
        let question = question(&item, symbols)?;
        if all.iter().any(|other| other.id == question.id) {
            return Err(item.field("id").wrong("another question has this id"));
        }
        all.push(question);
    }
    if all.is_empty() { Err(node.wrong("expected a list of questions")) } else { Ok(all) }
}

fn question(node: &Node<'_>, symbols: &Symbols) -> Result<Question, Wrong> {
    node.only(&["id", "ask", "options"])?;
    let mut options: Vec<ChoiceOption> = Vec::new();
    for item in node.field("options").items()? {
        let option = option(&item, symbols)?;
        if options.iter().any(|other| other.id == option.id) {
            return Err(item.field("id").wrong("another option has this id"));
        }
        options.push(option);
    }
    if options.len() < 2 || options.iter().filter(|option| option.right).count() != 1 {
        return Err(node
            .field("options")
            .wrong("expected two or more options, exactly one with \"right\": true"));
    }
    Ok(Question { id: node.field("id").required_text()?, ask: prose(&node.field("ask"), symbols)?, options })
}

fn option(node: &Node<'_>, symbols: &Symbols) -> Result<ChoiceOption, Wrong> {
    node.only(&["id", "say", "sketch", "right", "feedback"])?;
    let right = node.field("right").flag()?.unwrap_or(false);
    let feedback = node.field("feedback");
    Ok(ChoiceOption {
        id: node.field("id").required_text()?,
        say: prose(&node.field("say"), symbols)?,
        sketch: sketch(&node.field("sketch"), symbols)?,
        right,
        // Never “wrong, try again” alone.
        feedback: if right { prose_or_none(&feedback, symbols)? } else { prose(&feedback, symbols)? },
    })
}

fn sketch(node: &Node<'_>, symbols: &Symbols) -> Result<Option<Sketch>, Wrong> {
    if node.is_missing() {
        return Ok(None);
    }
    node.only(&["x", "y", "curves"])?;
    let mut curves = Vec::new();
    for curve in node.field("curves").items()? {
        let mut corners = Vec::new();
        for corner in curve.items()? {
            match corner.numbers()?.as_deref() {
                Some(&[x, y]) if (0.0..=1.0).contains(&x) && (0.0..=1.0).contains(&y) => corners.push((x, y)),
                _ => return Err(corner.wrong("expected [x, y], both from 0 to 1")),
            }
        }
        if corners.len() < 2 {
            return Err(curve.wrong("expected two corners or more"));
        }
        curves.push(corners);
    }
    Ok(Some(Sketch { x: prose(&node.field("x"), symbols)?, y: prose(&node.field("y"), symbols)?, curves }))
}
