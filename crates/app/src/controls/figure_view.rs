//! A chart: canvas, summary in words, and the table behind it.

use super::stretch_drag::{self, Dragged};
use super::working_view::disclosure;
use super::{scrolled, unique_id};
use crate::browser::theme::Theme;
use crate::dom::{El, el, watch};
use leptos::prelude::*;
use plotters::prelude::IntoDrawingArea;
use plotters_canvas::CanvasBackend;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, HtmlCanvasElement};
use whorl_charts::{Figure, Palette, PixelMap, Style, draw, summary, table};
use whorl_words as words;

/// Rows of a chart's table: more than anyone reads, few enough to build at once.
const TABLE_ROWS: usize = 200;
/// A canvas beyond this many device pixels per CSS pixel gains nothing and costs memory.
const SHARPEST: f64 = 3.0;

/// Where the figure last drawn put its data.
pub(super) type SharedMap = Rc<RefCell<Option<PixelMap>>>;

/// Draws a figure and says it in words; redrawn when the figure, the size or the theme changes.
/// `None` hides the chart. `dragged` lets a stretch of the x axis be dragged over it.
pub(crate) fn figure_view(
    height: u32,
    dragged: Option<Dragged>,
    figure: impl Fn() -> Option<Figure> + Send + Sync + 'static,
) -> El {
    build(height, dragged, Box::new(figure))
}

fn build(height: u32, dragged: Option<Dragged>, figure: Box<dyn Fn() -> Option<Figure> + Send + Sync>) -> El {
    let theme = expect_context::<Theme>();
    let figure = Memo::new(move |_| figure());
    let summary_id = unique_id("summary");
    let name =
        move || figure.with(|figure| figure.as_ref().map(|figure| figure.name.clone()).unwrap_or_default());
    let canvas = el("canvas")
        .attr("role", "img")
        .attr("aria-describedby", &summary_id)
        .live_attr("aria-label", move || Some(name()));
    let frame = el("div.frame").attr("data-height", &height.to_string()).with(canvas.clone());
    set_height(&frame, height);
    let map: SharedMap = Rc::default();
    let canvas = match dragged {
        Some(dragged) => stretch_drag::listen(canvas, Rc::clone(&map), dragged),
        None => canvas,
    };

    let width = RwSignal::new(None::<f64>);
    watch_width(frame.node(), width);
    watch(move || {
        let css_width = width.get().filter(|&width| width >= 1.0);
        let (Some(canvas), Some(css_width)) = (canvas.node_as::<HtmlCanvasElement>(), css_width) else {
            return;
        };
        let drawn = figure.with(|figure| {
            figure
                .as_ref()
                .and_then(|figure| paint(canvas, figure, css_width, f64::from(height), theme.palette()))
        });
        if let Ok(mut map) = map.try_borrow_mut() {
            *map = drawn;
        }
    });

    el("figure.chart")
        .live_flag("hidden", move || figure.with(Option::is_none))
        .with(frame)
        .with(
            el("figcaption.visually-hidden")
                .attr("id", &summary_id)
                .live_text(move || figure.with(|figure| figure.as_ref().map(summary).unwrap_or_default())),
        )
        .with(disclosure("details.numbers", el("summary").with(words::controls::in_words()), move || {
            figure.with(|figure| figure.as_ref().map(in_words_and_numbers).unwrap_or_default())
        }))
}

fn set_height(frame: &El, height: u32) {
    if let Some(frame) = frame.node_as::<web_sys::HtmlElement>() {
        let _ = frame.style().set_property("height", &format!("{height}px"));
    }
}

/// Draws at the device's own resolution; `None` when the browser gives no drawing context.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a canvas’s size")]
fn paint(
    canvas: &HtmlCanvasElement,
    figure: &Figure,
    css_width: f64,
    css_height: f64,
    palette: Palette,
) -> Option<PixelMap> {
    // At least 2: on a coarse screen the browser then smooths what whole pixels would make ragged.
    let ratio = web_sys::window()?.device_pixel_ratio().clamp(2.0, SHARPEST);
    let pixels = |css: f64| (css * ratio).round().clamp(1.0, 8192.0) as u32;
    canvas.set_width(pixels(css_width));
    canvas.set_height(pixels(css_height));
    let area = CanvasBackend::with_canvas_object(canvas.clone())?.into_drawing_area();
    draw(&area, figure, None, &Style::canvas(ratio, palette)).ok()
}

/// Keeps `width` at the frame's width in CSS pixels for as long as the frame stands.
fn watch_width(frame: &Element, width: RwSignal<Option<f64>>) {
    let measured = frame.clone();
    let measure = Closure::<dyn Fn()>::new(move || {
        // Told even when it stays: zooming may keep the width and change the resolution.
        let _ = width.try_set(Some(f64::from(measured.client_width())));
    });
    if let Ok(observer) = web_sys::ResizeObserver::new(measure.as_ref().unchecked_ref()) {
        observer.observe(frame);
        let kept = StoredValue::new_local((observer, measure));
        on_cleanup(move || {
            let _ = kept.try_with_value(|(observer, _)| observer.disconnect());
        });
    }
}

fn in_words_and_numbers(figure: &Figure) -> Vec<El> {
    let table = table(figure, TABLE_ROWS);
    let note = table.note();
    let head = table.columns.iter().map(|column| el("th").attr("scope", "col").with(column.as_str()));
    let row = |cells: &Vec<String>| {
        el("tr").with(cells.iter().map(|cell| el("td").with(cell.as_str())).collect::<Vec<_>>())
    };
    let body = el("table")
        .with(el("caption").with(table.caption.as_str()))
        .with(el("thead").with(el("tr").with(head.collect::<Vec<_>>())))
        .with(el("tbody").with(table.rows.iter().map(row).collect::<Vec<_>>()));
    let numbers = scrolled(&words::controls::table(&table.caption), body);
    let mut content = vec![el("p.aside").with(summary(figure)), numbers];
    content.extend(note.map(|note| el("p.hint").with(note)));
    content
}
