//! Station 1: safety, drum, string, pulley, gravity.

use super::StationFrame;
use crate::controls::{Entry, MeasuredField, Note, Problem, WorkingView, measured, measured_text, pair, unique_id};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::EntryUnit;
use whorl_core::gravity;
use whorl_core::lab::ApparatusEntry;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Meters, MetersPerSecond2, Quantity, Ratio};
use whorl_core::working;

#[component]
pub(crate) fn Apparatus() -> impl IntoView {
    let lab = expect_context::<LabState>();
    view! {
        <StationFrame index=0 purpose="Measure what all runs share. Give each number with its standard uncertainty u, so the result can say how far it may be trusted.">
            <Safety/>
            <div class="fields">
                <LengthField
                    label="drum radius"
                    symbol="R"
                    hint="The drum under the table: measure its diameter with calipers and halve it."
                    get=|entry| entry.drum_radius
                    set=|entry, length| entry.drum_radius = length
                />
                <LengthField
                    label="string diameter"
                    symbol="d"
                    hint="Lay ten turns side by side and divide their width by ten."
                    get=|entry| entry.string_diameter
                    set=|entry, length| entry.string_diameter = length
                />
                <LengthField
                    label="travel per spoke"
                    symbol="s"
                    hint="How far the string moves from one spoke to the next. Needed for gate times only."
                    get=|entry| entry.travel_per_spoke
                    set=|entry, length| entry.travel_per_spoke = length
                />
                <SpokesField/>
                <GravityField/>
                <MassScaleField/>
            </div>
            <GravityFinder/>
            {move || {
                lab.apparatus.with(|apparatus| match apparatus {
                    Ok(apparatus) => {
                        let radius = apparatus.effective_radius().ok();
                        let text = radius.map(|radius| measured_text(&radius, DisplayUnit::MILLIMETERS));
                        view! {
                            <p class="outcome">"Effective radius " <i>"R"</i><sub>"e"</sub> " = " {text}</p>
                        }.into_any()
                    }
                    Err(problem) => view! { <Problem text=problem.to_string()/> }.into_any(),
                })
            }}
            <WorkingView
                of="the effective radius"
                steps=Signal::derive(move || {
                    lab.apparatus.with(|apparatus| apparatus.iter().map(working::effective_radius).collect::<Vec<_>>())
                })
            />
            <Notes/>
        </StationFrame>
    }
}

#[component]
fn Safety() -> impl IntoView {
    view! {
        <section class="safety" aria-labelledby="safety-heading">
            <h3 id="safety-heading">"Before anything moves"</h3>
            <ul>
                <li>"Your instructor and your school’s rules come first. Ask before you start, and stop when told."</li>
                <li>"The hanging mass falls: keep feet and hands out from under it and lay a soft pad where it lands."</li>
                <li>"String and drum pinch and wrap: keep fingers away while the string is taut or the table turns."</li>
                <li>"Tie back long hair; no loose sleeves, scarves, lanyards or necklaces."</li>
                <li>"Fix every load to the table so it cannot slide off, and turn it slowly by hand first."</li>
                <li>"Wear eye protection. Never add mass beyond what the string and your instructor allow."</li>
            </ul>
        </section>
    }
}

#[component]
fn LengthField(
    label: &'static str,
    symbol: &'static str,
    hint: &'static str,
    get: fn(&ApparatusEntry) -> Option<Measured<Meters>>,
    set: fn(&mut ApparatusEntry, Option<Measured<Meters>>),
) -> impl IntoView {
    let lab = expect_context::<LabState>();
    view! {
        <MeasuredField
            label=label
            symbol=symbol
            hint=hint
            unit=EntryUnit::MILLIMETERS
            value=Signal::derive(move || lab.read(|lab| pair(get(&lab.apparatus).as_ref())))
            on_change=move |entered| lab.set_apparatus(|entry| set(entry, measured(entered)))
        />
    }
}

#[component]
fn GravityField() -> impl IntoView {
    let lab = expect_context::<LabState>();
    view! {
        <MeasuredField
            label="local gravity"
            symbol="g"
            hint="The default covers everywhere at sea level. Your latitude below makes it sharper."
            unit=EntryUnit::METERS_PER_SECOND2
            value=Signal::derive(move || lab.read(|lab| pair(lab.apparatus.gravity.as_ref())))
            on_change=move |entered| lab.set_apparatus(|entry| entry.gravity = measured(entered))
        />
    }
}

#[component]
fn SpokesField() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let (id, note) = (unique_id("spokes"), unique_id("note"));
    let problem = RwSignal::new(None);
    let set = move |entered: Option<f64>| {
        let whole = entered.filter(|count| count.fract() == 0.0 && (1.0..=1000.0).contains(count));
        if entered.is_some() && whole.is_none() {
            problem.set(Some("enter a whole number from 1 to 1000".to_owned()));
        }
        // In range, so nothing is cut off.
        let spokes = whole.and_then(|count| std::num::NonZeroU32::new(count as u32));
        lab.set_apparatus(|entry| entry.spokes = spokes);
    };
    let pulley = move || {
        let radius = lab.read(|lab| lab.apparatus.pulley_radius())?;
        Some(format!("The string runs on the pulley at {}.", show_number(radius.si(), DisplayUnit::MILLIMETERS, 4)))
    };
    view! {
        <div class="field">
            <label for=id.clone()>"spokes of the pulley " <i>"N"</i></label>
            <span class="pair">
                <Entry
                    id=id
                    unit=EntryUnit::plain("")
                    value=Signal::derive(move || {
                        lab.read(|lab| lab.apparatus.spokes.map(|spokes| f64::from(spokes.get())))
                    })
                    on_change=set
                    problem=problem
                    described_by=note.clone()
                />
            </span>
            <span class="note" id=note>
                <span class="problem" role="status">{move || problem.get()}</span>
                <span class="hint">"With the travel per spoke it gives the pulley’s radius, a check on both. " {pulley}</span>
            </span>
        </div>
    }
}

#[component]
fn MassScaleField() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let (id, note) = (unique_id("mass-scale"), unique_id("note"));
    let problem = RwSignal::new(None);
    let set = move |entered: Option<f64>| {
        lab.set_apparatus(|entry| entry.mass_scale_uncertainty = Ratio(entered.unwrap_or(0.0)));
    };
    view! {
        <div class="field">
            <label for=id.clone()>"uncertainty shared by all hanging masses"</label>
            <span class="pair">
                <Entry
                    id=id
                    unit=EntryUnit::PERCENT
                    value=Signal::derive(move || Some(lab.read(|lab| lab.apparatus.mass_scale_uncertainty.0)))
                    on_change=set
                    least=0.0
                    problem=problem
                    described_by=note.clone()
                />
                <span class="unit">"%"</span>
            </span>
            <span class="note" id=note>
                <span class="problem" role="status">{move || problem.get()}</span>
                <span class="hint">"One balance weighed them all: its standard uncertainty in percent."</span>
            </span>
        </div>
    }
}

/// Works out g from latitude and height.
#[component]
fn GravityFinder() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let latitude = RwSignal::new(None::<f64>);
    let height = RwSignal::new(Some(0.0_f64));
    let (latitude_problem, height_problem) = (RwSignal::new(None), RwSignal::new(None));
    let (latitude_id, height_id, note) = (unique_id("latitude"), unique_id("height"), unique_id("note"));
    let found = move || gravity::at(latitude.get()?, height.get()?);
    // Rocks below move g by a few 10⁻⁴ m/s²: common practice, no source.
    let use_it = move |_| {
        let entered = untrack(found).and_then(|g| Measured::new(g, MetersPerSecond2(3e-4)).ok());
        if entered.is_some() {
            lab.set_apparatus(|entry| entry.gravity = entered);
        }
    };
    view! {
        <details class="finder">
            <summary>"Find g from latitude and height"</summary>
            <div class="fields">
                <div class="field">
                    <label for=latitude_id.clone()>"latitude (north or south)"</label>
                    <span class="pair">
                        <Entry id=latitude_id unit=EntryUnit::plain("°") value=latitude on_change=move |entered| latitude.set(entered) problem=latitude_problem described_by=note.clone()/>
                        <span class="unit">"°"</span>
                    </span>
                </div>
                <div class="field">
                    <label for=height_id.clone()>"height above sea level"</label>
                    <span class="pair">
                        <Entry id=height_id unit=EntryUnit::plain("m") value=height on_change=move |entered| height.set(entered) problem=height_problem described_by=note.clone()/>
                        <span class="unit">"m"</span>
                    </span>
                </div>
            </div>
            <p id=note role="status">
                {move || match found() {
                    Some(g) => format!("g = {}, u = 0.0003 m/s²", show_number(g.si(), DisplayUnit::si::<MetersPerSecond2>(), 5)),
                    None => "Enter a latitude from 0 to 90° and a height from −500 to 9000 m.".to_owned(),
                }}
            </p>
            <button on:click=use_it disabled=move || found().is_none()>"Use this g"</button>
            <Note>"Normal gravity of the GRS80 ellipsoid (Moritz 1980) less 3.086 × 10⁻⁶ s⁻² times the height."</Note>
        </details>
    }
}

#[component]
fn Notes() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let id = unique_id("notes");
    view! {
        <div class="field wide">
            <label for=id.clone()>"Notes: who, when, what else matters"</label>
            <textarea
                id=id
                rows="3"
                prop:value=move || lab.read(|lab| lab.notes.clone())
                on:change:target=move |event| lab.set_notes(event.target().value())
            ></textarea>
        </div>
    }
}
