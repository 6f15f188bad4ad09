//! The run's velocity against time, uncovered as the moment goes on: drawn once, with a veil over what is still to come.

use super::player::Player;
use crate::browser::theme::Theme;
use crate::controls::{frame_width, paint_whole};
use crate::dom::{El, el, watch};
use leptos::prelude::*;
use web_sys::{HtmlCanvasElement, HtmlElement};
use whorl_charts::{Figure, PixelMap, summary};
use whorl_words as words;

/// CSS pixels.
const HEIGHT: u32 = 260;

/// The graph of a figure over time.
pub(super) fn graph(figure: Figure, player: Player) -> El {
    let theme = expect_context::<Theme>();
    let map = RwSignal::new(None::<(PixelMap, f64)>);
    let canvas = el("canvas")
        .attr("role", "img")
        .attr("aria-label", &format!("{}. {}", figure.name, summary(&figure)));
    let veil = el("div.veil").attr("aria-hidden", "true").with(el("span").with(words::replay::now()));
    let frame = el("div.frame").with(canvas.clone()).with(veil.clone());
    if let Some(frame) = frame.node_as::<HtmlElement>() {
        let _ = frame.style().set_property("height", &format!("{HEIGHT}px"));
    }
    let width = frame_width(&frame);
    watch(move || {
        let (Some(canvas), Some(width)) = (canvas.node_as::<HtmlCanvasElement>(), width.get()) else {
            return;
        };
        map.set(paint_whole(canvas, &figure, (width, f64::from(HEIGHT)), theme.palette()));
    });
    watch(move || {
        let (Some((map, ratio)), Some(veil)) = (map.get(), veil.node_as::<HtmlElement>()) else { return };
        let plot = map.plot_area();
        let left = map.px_of_x(player.now.get()).clamp(plot.left, plot.right) / ratio;
        let set = |name: &str, value: f64| drop(veil.style().set_property(name, &format!("{value:.1}px")));
        set("left", left);
        set("width", plot.right / ratio - left);
        set("top", plot.top / ratio);
        set("height", plot.height() / ratio);
    });
    el("div.chart.growing").with(frame)
}
