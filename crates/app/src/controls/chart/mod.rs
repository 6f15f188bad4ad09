//! A chart: canvas, crosshair, tools, summary in words, and the table behind it.
//!
//! ```text
//! figure ─┬─ canvas, redrawn when the figure, the part shown, the size or the theme changes
//!         ├─ crosshair and its reading      a pointer or the arrow keys
//!         ├─ tools                          enlarge, move, listen, save
//!         └─ words and numbers
//! ```

mod canvas;
mod crosshair;
mod keys;
mod pointer;
mod tools;

pub(crate) use tools::tools;

use super::working_view::disclosure;
use super::{scrolled, unique_id};
use crate::browser::seen::near_view;
use crate::browser::theme::Theme;
use crate::dom::{El, el, watch};
use crate::parts::{self, Part};
use canvas::Canvas;
use leptos::prelude::*;
use plotters::prelude::IntoDrawingArea;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, HtmlCanvasElement};
use whorl_charts::probe::Mark;
use whorl_charts::{Figure, Palette, PixelMap, Style, Window, draw, summary, table};
use whorl_words as words;

/// Rows of a chart's table: more than anyone reads, few enough to build at once.
const TABLE_ROWS: usize = 200;
/// A canvas beyond this many device pixels per CSS pixel gains nothing and costs memory.
const SHARPEST: f64 = 3.0;

/// A stretch of the x axis that can be dragged: where it is, and who hears of it.
pub(crate) struct Dragged {
    /// The stretch now.
    pub(crate) now: Box<dyn Fn() -> Option<(f64, f64)>>,
    /// Hears of every move: from, to.
    pub(crate) on_change: Box<dyn Fn(f64, f64)>,
}

/// What a chart on the page knows of itself.
#[derive(Clone, Copy)]
pub(crate) struct Chart {
    figure: Memo<Option<Figure>>,
    /// All of it.
    whole: Memo<Option<Window>>,
    /// The part shown; `None` is all of it.
    window: RwSignal<Option<Window>>,
    /// Where the crosshair is, and whether keys put it there: then it is said aloud.
    mark: RwSignal<Option<(Mark, bool)>>,
    /// Where the figure last drawn put its data, in device pixels.
    map: RwSignal<Option<PixelMap>>,
    /// Device pixels per CSS pixel.
    ratio: RwSignal<f64>,
}

impl Chart {
    /// Reads the figure once.
    fn once<T>(self, reader: impl FnOnce(&Figure) -> T) -> Option<T> {
        self.figure.with_untracked(|figure| figure.as_ref().map(reader))
    }

    /// Shows another part.
    fn look(self, change: impl FnOnce(Window, Window) -> Window) {
        let Some(whole) = self.whole.get_untracked() else { return };
        let now = self.window.get_untracked();
        let window = change(now.unwrap_or(whole), whole);
        let next = (!window.is_whole(whole)).then_some(window);
        if next != now {
            self.window.set(next);
        }
    }

    /// Enlarges about the crosshair, or about the middle.
    fn enlarge(self, times: f64) {
        let at = self.mark.get_untracked().map(|(mark, _)| mark.at);
        self.look(|window, whole| {
            let middle = |range: whorl_charts::ranges::Range| f64::midpoint(range.low(), range.high());
            let at = at.unwrap_or_else(|| (middle(window.x()), middle(window.y())));
            window.enlarged(times, at, whole)
        });
    }
}

/// Draws a figure and says it in words. `None` hides the chart. `dragged` lets a stretch of the x axis be dragged
/// over it.
pub(crate) fn figure_view(
    height: u32,
    dragged: Option<Dragged>,
    figure: impl Fn() -> Option<Figure> + Send + Sync + 'static,
) -> El {
    build(height, dragged, Box::new(figure))
}

fn build(height: u32, dragged: Option<Dragged>, figure: Box<dyn Fn() -> Option<Figure> + Send + Sync>) -> El {
    let figure = Memo::new(move |_| figure());
    let chart = Chart {
        figure,
        whole: Memo::new(move |_| figure.with(|figure| figure.as_ref().map(Window::whole))),
        window: RwSignal::new(None),
        mark: RwSignal::new(None),
        map: RwSignal::new(None),
        ratio: RwSignal::new(1.0),
    };
    let [summary_id, help_id] = [unique_id("summary"), unique_id("keys")];
    let name = move || {
        chart.figure.with(|figure| figure.as_ref().map(|figure| figure.name.clone()).unwrap_or_default())
    };
    let canvas = el("canvas")
        .attr("role", "img")
        .attr("aria-describedby", &summary_id)
        .live_attr("aria-label", move || Some(name()));
    let frame = el("div.frame")
        .attr("tabindex", "0")
        .attr("role", "application")
        .attr("aria-describedby", &help_id)
        .live_attr("aria-label", move || Some(words::chart::keys_of(&name())))
        .with(canvas.clone());
    set_height(&frame, height);
    let frame = pointer::listen(keys::listen(frame, chart), canvas.clone(), chart, dragged);
    draw_when_changed(&frame, &canvas, chart, height);

    el("figure.chart")
        .live_attr("aria-label", move || Some(name()))
        .live_flag("hidden", move || chart.figure.with(Option::is_none))
        .with(frame.with(crosshair::lines(chart)))
        .with(crosshair::reading(chart))
        .with(el("p.visually-hidden").attr("id", &help_id).with(words::chart::keys()))
        .with(
            el("figcaption.visually-hidden").attr("id", &summary_id).live_text(move || {
                chart.figure.with(|figure| figure.as_ref().map(summary).unwrap_or_default())
            }),
        )
        .with(disclosure("details.numbers", el("summary").with(words::controls::in_words()), move || {
            vec![parts::place(Part::Details, move || {
                Some(vec![numbers_of(chart, parts::details()?.chart_numbers)])
            })]
        }))
        .with(disclosure("details.tools", el("summary").with(words::chart::tools()), move || {
            vec![parts::place(Part::Details, move || Some((parts::details()?.chart_tools)(chart, height)))]
        }))
}

fn numbers_of(chart: Chart, view: fn(&Figure) -> Vec<El>) -> El {
    el("div").live(move || chart.figure.with(|figure| figure.as_ref().map(view).unwrap_or_default()))
}

fn set_height(frame: &El, height: u32) {
    if let Some(frame) = frame.node_as::<web_sys::HtmlElement>() {
        let _ = frame.style().set_property("height", &format!("{height}px"));
    }
}

/// Draws whatever has changed, once it is in view: drawing is most of the work that a key leads to, and most charts
/// are out of view while it is typed.
fn draw_when_changed(frame: &El, canvas: &El, chart: Chart, height: u32) {
    let theme = expect_context::<Theme>();
    let width = frame_width(frame);
    let near = near_view(frame);
    let stale = RwSignal::new(true);
    watch(move || {
        chart.figure.track();
        chart.window.track();
        width.track();
        theme.palette();
        stale.set(true);
    });
    let canvas = canvas.clone();
    let redraw = move || {
        let css_width = width.get().filter(|&width| width >= 1.0);
        let (Some(canvas), Some(css_width)) = (canvas.node_as::<HtmlCanvasElement>(), css_width) else {
            return;
        };
        let ratio = device_ratio();
        let style = Style::canvas(ratio, theme.palette());
        let drawn = chart.figure.with(|figure| {
            let figure = figure.as_ref()?;
            let whole = chart.whole.get();
            let part = chart.window.get().zip(whole).map(|(window, whole)| window.within(whole)).or(whole);
            paint(canvas, figure, part, (css_width, f64::from(height)), &style)
        });
        chart.ratio.set(ratio);
        chart.map.set(drawn);
    };
    watch(move || {
        if stale.get() && (near.get() || theme.on_paper()) {
            stale.set(false);
            untrack(&redraw);
        }
    });
}

/// Draws at the style's own resolution; `None` when the browser gives no drawing context.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a canvas’s size")]
fn paint(
    canvas: &HtmlCanvasElement,
    figure: &Figure,
    part: Option<Window>,
    css_size: (f64, f64),
    style: &Style,
) -> Option<PixelMap> {
    let pixels = |css: f64| (css * style.scale).round().clamp(1.0, 8192.0) as u32;
    let area = Canvas::cleared(canvas, (pixels(css_size.0), pixels(css_size.1)))?.into_drawing_area();
    draw(&area, figure, part, style).ok()
}

/// Draws all of a figure on a canvas of this size in CSS pixels; gives where its data lie and the device pixels per CSS
/// pixel.
pub(crate) fn paint_whole(
    canvas: &HtmlCanvasElement,
    figure: &Figure,
    css_size: (f64, f64),
    palette: Palette,
) -> Option<(PixelMap, f64)> {
    let ratio = device_ratio();
    let map = paint(canvas, figure, None, css_size, &Style::canvas(ratio, palette))?;
    Some((map, ratio))
}

/// At least 2: on a coarse screen the browser then smooths what whole pixels would make ragged.
fn device_ratio() -> f64 {
    window().device_pixel_ratio().clamp(2.0, SHARPEST)
}

/// The width of a frame in CSS pixels, once it has one, and whenever it changes.
pub(crate) fn frame_width(frame: &El) -> RwSignal<Option<f64>> {
    let width = RwSignal::new(None::<f64>);
    watch_width(frame.node(), width);
    width
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

/// A figure in words and numbers.
pub(crate) fn in_words_and_numbers(figure: &Figure) -> Vec<El> {
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
