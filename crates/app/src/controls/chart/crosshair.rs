//! The crosshair: two lines through a mark of the figure, and what stands there.

use super::Chart;
use crate::dom::{El, el, watch};
use leptos::prelude::*;
use whorl_charts::probe;

/// The two lines, laid over the canvas; moving them draws nothing anew.
pub(super) fn lines(chart: Chart) -> Vec<El> {
    let (upright, flat) = (el("div.upright"), el("div.flat"));
    for line in [&upright, &flat] {
        let _ = line.node().set_attribute("aria-hidden", "true");
    }
    let placed = [upright.clone(), flat.clone()];
    watch(move || {
        let place = chart.map.get().zip(chart.mark.get()).and_then(|(map, (mark, _))| {
            let (x, y) = (map.px_of_x(mark.at.0), map.py_of_y(mark.at.1));
            // Rows of intervals are set apart by layer: only the upright line is exact there.
            map.plot_area().contains(x, y).then_some((map.plot_area(), x, y))
        });
        let ratio = chart.ratio.get();
        let pixels = |device: f64| format!("{:.1}px", device / ratio);
        let boxes = place.map(|(plot, x, y)| {
            let (width, height) = (pixels(plot.width()), pixels(plot.height()));
            let (left, top) = (pixels(plot.left), pixels(plot.top));
            [[pixels(x), top.clone(), "0".to_owned(), height], [left, pixels(y), width, "0".to_owned()]]
        });
        for (index, line) in placed.iter().enumerate() {
            let Some(line) = line.node_as::<web_sys::HtmlElement>() else { continue };
            line.set_hidden(boxes.is_none());
            if let Some(lengths) = boxes.as_ref().and_then(|boxes| boxes.get(index)) {
                for (property, length) in ["left", "top", "width", "height"].into_iter().zip(lengths) {
                    let _ = line.style().set_property(property, length);
                }
            }
        }
    });
    vec![upright, flat]
}

/// What stands at the crosshair. Said aloud where keys moved it; a pointer that passes by does not chatter.
pub(super) fn reading(chart: Chart) -> El {
    let told = move || {
        chart.figure.with(|figure| {
            let (figure, (mark, _)) = figure.as_ref().zip(chart.mark.get())?;
            Some(probe::told(figure, mark))
        })
    };
    let by_keys = move || chart.mark.with(|mark| mark.is_some_and(|(_, by_keys)| by_keys));
    el("p.reading")
        .live_attr("aria-live", move || Some(if by_keys() { "polite" } else { "off" }.to_owned()))
        .live_text(move || told().unwrap_or_default())
}
