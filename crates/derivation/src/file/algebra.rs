//! Steps answered in algebra.

use super::{Context, expression, prose, prose_or_none, symbol, symbol_list};
use crate::derivation::{Balance, ExpressionTask, Form, LimitCase, Slip};
use crate::expression::Expression;
use crate::identity::{Definitions, Verdict, compare};
use crate::prose::Prose;
use crate::rational::{Goes, Limit, Rational};
use crate::symbols::{SymbolId, Symbols};
use whorl_document::Node;
use whorl_words as words;

/// A mistake that can be made wherever its symbols occur: another expression in place of each.
pub(super) struct CommonSlip {
    id: String,
    replace: Vec<(SymbolId, Expression)>,
    say: Prose,
}

pub(super) fn common_slips(node: &Node<'_>, symbols: &Symbols) -> Vec<CommonSlip> {
    node.list(&|node| {
        node.only(&["id", "replace", "say"]);
        let mut replace = Vec::new();
        for (key, value) in node.field("replace").fields() {
            match symbols.find(key) {
                Some(id) => replace.push((id, expression(&value, symbols))),
                None => value.wrong(words::derivations::no_symbol_of_this_name()),
            }
        }
        if replace.is_empty() {
            node.field("replace").wrong(&words::derivations::replacement_expected(&'{', &'}'));
        }
        let say = prose(&node.field("say"), symbols);
        CommonSlip { id: node.field("id").required_text(), replace, say }
    })
}

impl CommonSlip {
    /// What the mistake makes of the answer; `None` when it makes no difference.
    fn applied(&self, answer: &Expression, target: SymbolId, known: &Definitions<'_>) -> Option<Slip> {
        let by = |id: SymbolId| {
            self.replace.iter().find(|(own, _)| *own == id && id != target).map(|(_, other)| other.clone())
        };
        let wrong = answer.replaced(&by);
        (compare(&wrong, answer, known) == Verdict::Different).then(|| Slip {
            id: self.id.clone(),
            answers: vec![wrong],
            say: self.say.clone(),
        })
    }
}

/// The task, and whether later steps may use what it found.
pub(super) fn task(node: &Node<'_>, context: &Context<'_>) -> (ExpressionTask, bool) {
    node.only(&[
        "target",
        "answer",
        "form",
        "symbols",
        "uses",
        "gives",
        "slips",
        "not_slips",
        "limits",
        "balance",
    ]);
    let symbols = context.symbols;
    let target = symbol(&node.field("target"), symbols);
    let answer = expression(&node.field("answer"), symbols);
    let form = match node.field("form").text().as_deref() {
        Some("relation") => Form::Relation,
        None | Some("solved") => Form::Solved,
        Some(_) => {
            node.field("form").wrong(words::derivations::solved_or_relation());
            Form::Solved
        }
    };
    let readable = symbol_list(&node.field("symbols"), symbols).unwrap_or_else(|| symbols.ids().collect());
    let uses = symbol_list(&node.field("uses"), symbols)
        .unwrap_or_else(|| symbols.ids().filter(|id| *id != target && answer.contains(*id)).collect());
    let shown = |id: SymbolId| symbols.shown(id);
    if answer.contains(target) {
        node.field("answer").wrong(&words::derivations::target_in_answer(&shown(target)));
    }
    if let Some((id, _)) = answer.find(&|id| !uses.contains(&id)) {
        node.field("uses").wrong(&words::derivations::symbol_not_in_uses(&shown(id)));
    }
    if let Some(id) = uses.iter().chain([&target]).find(|id| !readable.contains(id)) {
        node.field("symbols").wrong(&words::derivations::symbol_not_readable(&shown(*id)));
    }
    // A definition that speaks of the target would make any answer about it true of itself.
    let known = last_found(context.known, &|id, definition| id != target && !definition.contains(target));
    let mut truths = vec![(target, answer.clone())];
    truths.extend(last_found(context.known, &|id, _| id != target));
    let of_target = context.known.iter().filter(|(id, _)| *id == target);
    let before = of_target.map(|(_, definition)| definition.clone()).collect();
    let definitions: Vec<(SymbolId, &Expression)> =
        known.iter().map(|(id, definition)| (*id, definition)).collect();
    let mut slips = node.field("slips").list(&|slip| own_slip(slip, symbols, &answer, &definitions));
    let unwanted = node.field("not_slips").list(&|item| {
        let id = item.required_text();
        if !context.common_slips.iter().any(|slip| slip.id == id) {
            item.wrong(words::derivations::no_such_slip());
        }
        id
    });
    let wanted = context.common_slips.iter().filter(|slip| !unwanted.contains(&slip.id));
    slips.extend(wanted.filter_map(|slip| slip.applied(&answer, target, &definitions)));
    let limits = node.field("limits").list(&|limit| limit_case(limit, symbols, &answer, &definitions));
    let balance = balance(&node.field("balance"), symbols, target, &answer);
    let gives = node.field("gives").flag().unwrap_or(true);
    (
        ExpressionTask {
            target,
            answer,
            form,
            readable,
            uses,
            known,
            truths,
            before,
            slips,
            limits,
            balance,
        },
        gives,
    )
}

/// The last definition of each symbol that `usable` holds for, in the order they were found.
fn last_found(
    found: &[(SymbolId, Expression)],
    usable: &dyn Fn(SymbolId, &Expression) -> bool,
) -> Vec<(SymbolId, Expression)> {
    let mut kept: Vec<(SymbolId, Expression)> = Vec::new();
    for (id, definition) in found.iter().filter(|(id, definition)| usable(*id, definition)) {
        kept.retain(|(other, _)| other != id);
        kept.push((*id, definition.clone()));
    }
    kept
}

fn own_slip(node: &Node<'_>, symbols: &Symbols, answer: &Expression, known: &Definitions<'_>) -> Slip {
    node.only(&["id", "answers", "say"]);
    let answers = node.field("answers").list(&|item| {
        let wrong = expression(item, symbols);
        if compare(&wrong, answer, known) != Verdict::Different {
            item.wrong(words::derivations::slip_is_right());
        }
        wrong
    });
    if answers.is_empty() {
        node.field("answers").wrong(words::derivations::wrong_answers_expected());
    }
    Slip { id: node.field("id").required_text(), answers, say: prose(&node.field("say"), symbols) }
}

fn limit_case(node: &Node<'_>, symbols: &Symbols, answer: &Expression, known: &Definitions<'_>) -> LimitCase {
    node.only(&["say", "symbol", "to", "should", "ask"]);
    let case = LimitCase {
        say: prose(&node.field("say"), symbols),
        symbol: symbol(&node.field("symbol"), symbols),
        goes: match node.field("to").required_text().as_str() {
            "zero" => Goes::ToZero,
            to => {
                if to != "infinity" {
                    node.field("to").wrong(words::derivations::zero_or_infinity());
                }
                Goes::ToInfinity
            }
        },
        should: expression(&node.field("should"), symbols),
        ask: prose_or_none(&node.field("ask"), symbols),
    };
    let own = Rational::of(answer).map(|answer| answer.limit(case.symbol, case.goes));
    if !matches!(&own, Some(Limit::Finite(own)) if compare(own, &case.should, known) == Verdict::Equal) {
        node.field("should").wrong(words::derivations::other_limit());
    }
    case
}

fn balance(node: &Node<'_>, symbols: &Symbols, target: SymbolId, answer: &Expression) -> Option<Balance> {
    if node.is_missing() {
        return None;
    }
    node.only(&["left", "left_words", "right", "right_words"]);
    let balance = Balance {
        left_words: prose(&node.field("left_words"), symbols),
        left: expression(&node.field("left"), symbols),
        right_words: prose(&node.field("right_words"), symbols),
        right: expression(&node.field("right"), symbols),
    };
    let with_answer = [(target, answer)];
    if compare(&balance.left, &balance.right, &with_answer) != Verdict::Equal {
        node.wrong(words::derivations::unbalanced());
    }
    Some(balance)
}
