//! A chart: canvas, summary in words, and the table behind it.

use leptos::html::{Canvas, Div};
use leptos::prelude::*;
use plotters::prelude::IntoDrawingArea;
use plotters_canvas::CanvasBackend;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::HtmlCanvasElement;
use whorl_charts::{Figure, Palette, PixelMap, Style, draw, summary, table};

use super::unique_id;

/// Rows of a chart's table: more than anyone reads, few enough to build at once.
const TABLE_ROWS: usize = 200;
/// A canvas beyond this many device pixels per CSS pixel gains nothing and costs memory.
const SHARPEST: f64 = 3.0;

/// Draws a figure and says it in words; redrawn whenever the figure, the size or the theme changes.
#[component]
pub(crate) fn FigureView(
    /// What to draw.
    #[prop(into)]
    figure: Signal<Figure>,
    /// Height in CSS pixels.
    #[prop(default = 320)]
    height: u32,
    /// Lets a stretch of the x axis be dragged over the chart.
    #[prop(optional)]
    stretch: Option<Dragged>,
) -> impl IntoView {
    let canvas = NodeRef::<Canvas>::new();
    let frame = NodeRef::<Div>::new();
    let summary_id = unique_id("summary");
    let palette = expect_context::<RwSignal<Palette>>();
    let width = RwSignal::new(0.0_f64);
    let map = StoredValue::new(None::<PixelMap>);
    let words = Memo::new(move |_| figure.with(summary));
    let name = move || figure.with(|figure| figure.name.clone());

    watch_width(frame, width);
    Effect::new(move |_| {
        let (Some(canvas), css_width) = (canvas.get(), width.get()) else { return };
        if css_width < 1.0 {
            return;
        }
        let drawn = figure.with(|figure| paint(&canvas, figure, css_width, f64::from(height), palette.get()));
        map.set_value(drawn);
    });

    let drag = stretch.map(|dragged| Drag { canvas, map, dragged, anchor: StoredValue::new(None) });
    view! {
        <figure class="chart">
            <div class="frame" node_ref=frame style:height=format!("{height}px")>
                <canvas
                    node_ref=canvas
                    role="img"
                    aria-label=name
                    aria-describedby=summary_id.clone()
                    class:draggable=drag.is_some()
                    on:pointerdown=move |event| if let Some(drag) = drag { drag.start(&event); }
                    on:pointermove=move |event| if let Some(drag) = drag { drag.go_on(&event); }
                    on:pointerup=move |_| if let Some(drag) = drag { drag.stop(); }
                    on:pointercancel=move |_| if let Some(drag) = drag { drag.stop(); }
                ></canvas>
            </div>
            <figcaption id=summary_id>{words}</figcaption>
            <FigureTable figure=figure/>
        </figure>
    }
}

/// Draws at the device's own resolution; `None` when the browser gives no drawing context.
fn paint(
    canvas: &HtmlCanvasElement,
    figure: &Figure,
    css_width: f64,
    css_height: f64,
    palette: Palette,
) -> Option<PixelMap> {
    let ratio = web_sys::window()?.device_pixel_ratio().clamp(1.0, SHARPEST);
    let pixels = |css: f64| (css * ratio).round().clamp(1.0, 8192.0) as u32;
    canvas.set_width(pixels(css_width));
    canvas.set_height(pixels(css_height));
    let area = CanvasBackend::with_canvas_object(canvas.clone())?.into_drawing_area();
    draw(&area, figure, &Style::canvas(ratio, palette)).ok()
}

/// Keeps `width` at the frame's width in CSS pixels.
fn watch_width(frame: NodeRef<Div>, width: RwSignal<f64>) {
    let kept = StoredValue::new_local(None);
    Effect::new(move |_| {
        let Some(frame) = frame.get() else { return };
        let measured = frame.clone();
        let measure = Closure::<dyn Fn()>::new(move || {
            let now = f64::from(measured.client_width());
            // A change of the page's zoom keeps the width but not the resolution: always tell.
            width.set(now);
        });
        if let Ok(watching) = web_sys::ResizeObserver::new(measure.as_ref().unchecked_ref()) {
            watching.observe(&frame);
            kept.set_value(Some((watching, measure)));
        }
    });
    on_cleanup(move || {
        kept.try_with_value(|kept| {
            if let Some((watching, _)) = kept {
                let watching: &web_sys::ResizeObserver = watching;
                watching.disconnect();
            }
        });
    });
}

/// A stretch of the x axis that can be dragged: where it is, and who hears of it.
#[derive(Clone, Copy)]
pub(crate) struct Dragged {
    pub(crate) now: Signal<Option<(f64, f64)>>,
    pub(crate) on_change: Callback<(f64, f64)>,
}

/// CSS pixels around an end of the stretch within which the pointer takes hold of that end.
const GRIP: f64 = 16.0;

/// A drag in progress: from the anchor to the pointer. The anchor is where the pointer went down,
/// or, when it took hold of one end, the other end.
#[derive(Clone, Copy)]
struct Drag {
    canvas: NodeRef<Canvas>,
    map: StoredValue<Option<PixelMap>>,
    dragged: Dragged,
    anchor: StoredValue<Option<f64>>,
}

impl Drag {
    /// The x value under the pointer, and how much of x a grip covers.
    fn under(self, event: &web_sys::PointerEvent) -> Option<(f64, f64)> {
        let canvas = self.canvas.get_untracked()?;
        let ratio = f64::from(canvas.width()) / f64::from(canvas.client_width().max(1));
        let map = self.map.get_value()?;
        let across = f64::from(event.offset_x()) * ratio;
        let range = map.x_range();
        let x = map.x_at(across).clamp(range.low(), range.high());
        Some((x, (map.x_at(across + GRIP * ratio) - map.x_at(across)).abs()))
    }

    fn start(self, event: &web_sys::PointerEvent) {
        let Some((x, grip)) = self.under(event) else { return };
        if let Some(canvas) = self.canvas.get_untracked() {
            let _ = canvas.set_pointer_capture(event.pointer_id());
        }
        let other_end = self.dragged.now.get_untracked().and_then(|(from, to)| {
            let (to_from, to_to) = ((x - from).abs(), (x - to).abs());
            let (nearest, other) = if to_from < to_to { (to_from, to) } else { (to_to, from) };
            (nearest <= grip).then_some(other)
        });
        self.anchor.set_value(Some(other_end.unwrap_or(x)));
    }

    fn go_on(self, event: &web_sys::PointerEvent) {
        let (Some(anchor), Some((x, _))) = (self.anchor.get_value(), self.under(event)) else { return };
        if (x - anchor).abs() > 0.0 {
            self.dragged.on_change.run((anchor.min(x), anchor.max(x)));
        }
    }

    fn stop(self) {
        self.anchor.set_value(None);
    }
}

#[component]
fn FigureTable(figure: Signal<Figure>) -> impl IntoView {
    let open = RwSignal::new(false);
    let content = move || {
        let table = figure.with(|figure| table(figure, TABLE_ROWS));
        let note = table.note();
        let name = format!("Table: {}", table.caption);
        let head = table.columns.into_iter().map(|column| view! { <th scope="col">{column}</th> }).collect_view();
        let row = |cells: Vec<String>| {
            let cells = cells.into_iter().map(|cell| view! { <td>{cell}</td> }).collect_view();
            view! { <tr>{cells}</tr> }
        };
        let rows = table.rows.into_iter().map(row).collect_view();
        view! {
            <div class="scroll" tabindex="0" role="region" aria-label=name>
                <table>
                    <caption>{table.caption}</caption>
                    <thead><tr>{head}</tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
            {note.map(|note| view! { <p class="hint">{note}</p> })}
        }
    };
    view! {
        <details class="numbers" on:toggle=move |_| open.update(|open| *open = !*open)>
            <summary>"The numbers in this chart"</summary>
            {move || open.get().then(content)}
        </details>
    }
}
