//! What of the apparatus is given, and what must be measured.

use super::super::fields;
use super::Choices;
use super::draft::{Readings, Treated};
use super::form::{among, labelled, number};
use crate::controls::hint;
use crate::dom::{El, el};
use leptos::prelude::*;
use whorl_core::lab::ApparatusField;
use whorl_words as words;

/// An entry each. A recorded apparatus stands fast: there is nothing to choose.
pub(super) fn fieldset(choices: Choices) -> El {
    let rows = ApparatusField::ALL.map(|field| row(choices, field)).to_vec();
    el("fieldset")
        .live_flag("hidden", move || choices.draft.with(|draft| draft.readings == Readings::Recorded))
        .with(el("legend").with(words::assigning::apparatus()))
        .with(hint(words::assigning::apparatus_hint()))
        .with(el("div.list.treatments").with(rows))
}

/// Given, without a value yet.
const GIVEN: Treated = Treated::Given { value: None, u: None };

/// What becomes of an entry, whatever its value.
fn kind(treated: Treated) -> Treated {
    match treated {
        Treated::Given { .. } => GIVEN,
        other => other,
    }
}

fn row(choices: Choices, field: ApparatusField) -> El {
    let (name, _, unit) = fields::of(field);
    let now = move || choices.draft.with(|draft| draft.treated(field));
    let set = move |treated: Treated| {
        choices.draft.update(|draft| {
            draft.apparatus.insert(field, treated);
        });
    };
    let chosen = Memo::new(move |_| kind(now()));
    let which = among(
        [
            (Treated::Left, words::assigning::left()),
            (Treated::Measured, words::assigning::measured()),
            (GIVEN, words::assigning::given()),
        ],
        move || chosen.get(),
        set,
    );
    let pair = move || match now() {
        Treated::Given { value, u } => (value, u),
        _ => (None, None),
    };
    let more = move || {
        if chosen.get() != GIVEN {
            return Vec::new();
        }
        untrack(|| {
            let value = number(
                &words::assigning::value_of(&name),
                unit,
                move || pair().0,
                move |value| set(Treated::Given { value, u: untrack(pair).1 }),
            );
            let u = field.has_u().then(|| {
                number(
                    &words::assigning::u_of(&name),
                    unit,
                    move || pair().1,
                    move |u| set(Treated::Given { value: untrack(pair).0, u }),
                )
            });
            core::iter::once(value).chain(u).collect()
        })
    };
    el("div.treated").with(labelled(name, which, None)).with(el("div.sizes").live(more))
}
