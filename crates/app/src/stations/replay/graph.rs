//! The run's velocity against time, uncovered as the moment goes on: drawn once, with a veil over what is still to come.

use super::film::{Part, follow, set_style};
use super::player::Player;
use crate::browser::theme::Theme;
use crate::controls::{frame_width, paint_whole};
use crate::dom::{El, el, watch};
use leptos::prelude::*;
use std::rc::Rc;
use web_sys::HtmlCanvasElement;
use whorl_charts::{Figure, PixelMap, summary};
use whorl_core::replay::Replay;

/// CSS pixels.
const HEIGHT: u32 = 260;

/// The graph of a figure over time.
pub(super) fn graph(figure: Figure, replay: &Rc<Replay>, player: Player) -> El {
    let theme = expect_context::<Theme>();
    let map = RwSignal::new(None::<(PixelMap, f64)>);
    let canvas = el("canvas")
        .attr("role", "img")
        .attr("aria-label", &format!("{}. {}", figure.name, summary(&figure)));
    let veil = el("div.veil");
    let cover = el("div.cover").attr("aria-hidden", "true").with(veil.clone());
    let frame = el("div.frame").with(canvas.clone()).with(cover.clone());
    set_style(frame.node(), "height", &format!("{HEIGHT}px"));
    let width = frame_width(&frame);
    watch(move || {
        let (Some(canvas), Some(width)) = (canvas.node_as::<HtmlCanvasElement>(), width.get()) else {
            return;
        };
        map.set(paint_whole(canvas, &figure, (width, f64::from(HEIGHT)), theme.palette()));
    });
    let uncovered = move |time: f64| {
        map.with_untracked(|map| {
            let (map, _) = map.as_ref()?;
            let plot = map.plot_area();
            Some(((map.px_of_x(time) - plot.left) / (plot.right - plot.left)).clamp(0.0, 1.0))
        })
    };
    let part = Part::moved(&veil, move |moment| {
        format!("translateX({:.2}%)", 100.0 * uncovered(moment.time.0).unwrap_or(0.0))
    });
    follow(replay, player, vec![part], move || {
        let Some((map, ratio)) = map.get() else { return };
        let plot = map.plot_area();
        let set = |name: &str, value: f64| set_style(cover.node(), name, &format!("{:.1}px", value / ratio));
        set("left", plot.left);
        set("width", plot.right - plot.left);
        set("top", plot.top);
        set("height", plot.height());
    });
    el("div.chart.growing").with(frame)
}
