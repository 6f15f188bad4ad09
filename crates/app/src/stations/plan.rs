//! Before the first run: which masses to hang, and what to expect of them.

mod answer;
mod fields;

pub(super) use answer::HEIGHT_PLACE;

use super::runs;
use crate::controls::{aside, disclosure, figure_view, unique_id};
use crate::dom::{El, el};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use std::sync::{Arc, Mutex};
use whorl_charts::figures::planned_lines;
use whorl_core::lab::{Configuration, Lab, ObjectId};
use whorl_core::plan::{Choice, Hung, PlanInput, PlanProblem, USUAL_RUNS, best_masses, reachable};
use whorl_core::quantity::Kilograms;
use whorl_words as words;

/// All that a plan follows from.
#[derive(PartialEq)]
struct Needs {
    /// What is missing or impossible in the lab, or nothing.
    input: Result<PlanInput, PlanProblem>,
    pieces: Vec<Kilograms>,
    holder: Kilograms,
    runs: usize,
    object: String,
}

impl Needs {
    fn of(lab: &Lab, object: ObjectId) -> Self {
        let plan = &lab.plan;
        Self {
            input: PlanInput::from_lab(lab, object),
            pieces: plan.pieces.clone(),
            holder: plan.holder.unwrap_or(Kilograms(0.0)),
            runs: plan.runs.map_or(USUAL_RUNS, |runs| runs.get() as usize),
            object: lab.configuration_name(Configuration::Loaded(object)),
        }
    }
}

/// A plan with what it follows from.
struct Planned {
    needs: Needs,
    hung: Vec<Hung>,
    /// Nothing as long as an entry is missing.
    choice: Option<Result<Choice, PlanProblem>>,
}

impl Planned {
    fn of(needs: Needs) -> Self {
        let hung = reachable(&needs.pieces, needs.holder);
        let masses: Vec<Kilograms> = hung.iter().map(|hung| hung.mass).collect();
        let input = needs.input.as_ref().ok().filter(|_| !masses.is_empty());
        let choice = input.map(|input| best_masses(input, &masses, needs.runs));
        Self { needs, hung, choice }
    }

    /// The plan, where there is one.
    fn found(&self) -> Option<(&PlanInput, &Choice)> {
        Some((self.needs.input.as_ref().ok()?, self.choice.as_ref()?.as_ref().ok()?))
    }
}

/// The plan as it stands, computed again only when something that it needs is another.
#[derive(Clone)]
struct Keeper {
    /// Counts the plans; a list, since the page has memos of lists of numbers already.
    count: Memo<Vec<u32>>,
    planned: Arc<Mutex<Option<Planned>>>,
}

impl Keeper {
    fn new(lab: LabState, object: RwSignal<u32>) -> Self {
        let planned = Arc::new(Mutex::new(None::<Planned>));
        let kept = Arc::clone(&planned);
        let count = Memo::new(move |before: Option<&Vec<u32>>| {
            let needs = lab.read(|lab| Needs::of(lab, chosen(lab, object.get())));
            let before = before.and_then(|before| before.first()).copied().unwrap_or(0);
            let Ok(mut kept) = kept.lock() else { return vec![before] };
            if kept.as_ref().is_some_and(|kept| kept.needs == needs) {
                return vec![before];
            }
            *kept = Some(Planned::of(needs));
            vec![before + 1]
        });
        Self { count, planned }
    }

    /// Reads the plan, and again whenever it is another.
    fn read<T>(&self, reader: impl FnOnce(&Planned) -> Option<T>) -> Option<T> {
        self.count.with(|_| ());
        self.planned.lock().ok()?.as_ref().and_then(reader)
    }

    /// What `words` makes of the plan; nothing while there is none.
    fn view(&self, words: fn(&Planned, &PlanInput, &Choice) -> Vec<El>) -> impl Fn() -> Vec<El> + 'static {
        let keeper = self.clone();
        move || {
            let view =
                |planned: &Planned| planned.found().map(|(input, choice)| words(planned, input, choice));
            keeper.read(view).unwrap_or_default()
        }
    }
}

/// The object that is planned for: the one chosen, or the first.
fn chosen(lab: &Lab, key: u32) -> ObjectId {
    let objects = lab.objects();
    let named = objects.iter().find(|object| object.id.0 == key);
    named.or(objects.first()).map_or(ObjectId(key), |object| object.id)
}

/// The panel; nothing is built or computed before it is opened.
pub(super) fn panel(lab: LabState) -> El {
    let object = RwSignal::new(0);
    disclosure("details.finder.plan", el("summary").with(words::planning::heading()), move || {
        vec![parts::place(Part::Plan, move || Some(vec![(parts::plan()?.open)(lab, object)]))]
    })
}

/// The fields and what follows from them.
pub(crate) fn opened(lab: LabState, object: RwSignal<u32>) -> El {
    let keeper = Keeper::new(lab, object);
    let (fields, wrong) = fields::fields(lab);
    // A plan from entries of which one is left out would not be the plan that the fields ask for.
    let refused = move || wrong.iter().any(|wrong| !wrong.with(String::is_empty));
    let refused_too = refused.clone();
    let (first, second) = (keeper.clone(), keeper.clone());
    let state = move || {
        if refused() {
            answer::mend()
        } else {
            first.read(|planned| Some(answer::state(planned))).unwrap_or_default()
        }
    };
    let none = move || refused_too() || second.read(|planned| planned.found().map(|_| ())).is_none();
    let charted = keeper.clone();
    let figure = move || {
        charted.read(|planned| {
            let (input, choice) = planned.found()?;
            Some(planned_lines(input, &choice.plan, &planned.needs.object))
        })
    };
    let found = el("div.cards")
        .live_flag("hidden", none)
        .with(el("div.cards").live(keeper.view(answer::tables)))
        .with(el("div.cards").live(keeper.view(answer::expected)))
        .with(figure_view(320, None, figure))
        .with(disclosure(
            "details.numbers",
            el("summary").with(words::planning::budget_heading()),
            keeper.view(answer::budgets),
        ))
        .with(disclosure(
            "details.numbers",
            el("summary").with(words::planning::unfit_heading()),
            keeper.view(answer::unfit),
        ));
    el("div.cards")
        .with(aside(words::planning::intro()))
        .with(fields.with(object_field(lab, object)))
        .with(el("div.told").live_rested(state))
        .with(found)
}

/// Which object to plan for, where there are several.
fn object_field(lab: LabState, object: RwSignal<u32>) -> El {
    let id = unique_id("planned");
    let options = move || {
        lab.read(|lab| {
            let now = chosen(lab, object.get());
            let option = |id: ObjectId| {
                let loaded = Configuration::Loaded(id);
                let option =
                    el("option").attr("value", &runs::key(loaded)).with(lab.configuration_name(loaded));
                if id == now { option.attr("selected", "") } else { option }
            };
            lab.objects().iter().map(|entry| option(entry.id)).collect()
        })
    };
    let choose = move |key: String| {
        if let Some(Configuration::Loaded(id)) = runs::from_key(&key) {
            object.set(id.0);
        }
    };
    el("div.field")
        .live_flag("hidden", move || lab.object_keys.with(Vec::len) < 2)
        .with(el("label").attr("for", &id).with(words::planning::object()))
        .with(el("select").attr("id", &id).live(options).on_text("change", choose))
}
