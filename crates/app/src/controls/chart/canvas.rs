//! The canvas that plotters draws on.
//!
//! `plotters-canvas` tells the browser the color before each rectangle, as text. A dense chart is thousands of
//! rectangles of one color: here it is told once.

use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
};
use plotters_canvas::CanvasBackend;
use wasm_bindgen::JsCast;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

/// plotters' own canvas, but for rectangles.
pub(super) struct Canvas {
    own: CanvasBackend,
    context: CanvasRenderingContext2d,
    /// The color that the browser was told for the rectangles before.
    told: Option<BackendColor>,
}

type Drawn = Result<(), DrawingErrorKind<<CanvasBackend as DrawingBackend>::ErrorType>>;

impl Canvas {
    /// An empty canvas of so many device pixels; `None` when the browser gives no drawing context.
    pub(super) fn cleared(canvas: &HtmlCanvasElement, (width, height): (u32, u32)) -> Option<Self> {
        let context: CanvasRenderingContext2d = canvas.get_context("2d").ok()??.dyn_into().ok()?;
        // Setting a size, even the same, makes the browser lay out the page.
        if (canvas.width(), canvas.height()) == (width, height) {
            context.clear_rect(0.0, 0.0, f64::from(width), f64::from(height));
        } else {
            canvas.set_width(width);
            canvas.set_height(height);
        }
        Some(Self { own: CanvasBackend::with_canvas_object(canvas.clone())?, context, told: None })
    }

    /// plotters' own canvas, which tells the browser colors of its own.
    fn own(&mut self) -> &mut CanvasBackend {
        self.told = None;
        &mut self.own
    }

    fn tell(&mut self, color: BackendColor) {
        let same =
            |told: &BackendColor| told.rgb == color.rgb && told.alpha.to_bits() == color.alpha.to_bits();
        if self.told.as_ref().is_none_or(|told| !same(told)) {
            let (red, green, blue) = color.rgb;
            self.context.set_fill_style_str(&format!("rgba({red},{green},{blue},{})", color.alpha));
            self.told = Some(color);
        }
    }
}

impl DrawingBackend for Canvas {
    type ErrorType = <CanvasBackend as DrawingBackend>::ErrorType;

    fn get_size(&self) -> (u32, u32) {
        self.own.get_size()
    }

    fn ensure_prepared(&mut self) -> Drawn {
        self.own.ensure_prepared()
    }

    fn present(&mut self) -> Drawn {
        self.own.present()
    }

    fn draw_pixel(&mut self, point: BackendCoord, color: BackendColor) -> Drawn {
        self.own().draw_pixel(point, color)
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        self.own().draw_line(from, to, style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Drawn {
        if !fill {
            return self.own().draw_rect(from, to, style, fill);
        }
        self.tell(style.color());
        let length = |from: i32, to: i32| f64::from(to) - f64::from(from);
        self.context.fill_rect(
            f64::from(from.0),
            f64::from(from.1),
            length(from.0, to.0),
            length(from.1, to.1),
        );
        Ok(())
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        // Strokes have a color apart from that of what is filled.
        self.own.draw_path(path, style)
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        center: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Drawn {
        self.own().draw_circle(center, radius, style, fill)
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        corners: I,
        style: &S,
    ) -> Drawn {
        self.own().fill_polygon(corners, style)
    }

    fn draw_text<S: BackendTextStyle>(&mut self, text: &str, style: &S, at: BackendCoord) -> Drawn {
        self.own().draw_text(text, style, at)
    }
}
