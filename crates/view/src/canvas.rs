//! Draws the model: what is opaque, then what clear sheet and water take from the light behind them, then lines, then
//! what clear sheet mirrors.
//!
//! Clear sheet multiplies what is behind it, and products do not mind their order: nothing has to be sorted, and nothing
//! flickers when one orbits.

mod figure;
mod picture;
mod programs;
mod resting;
mod shaders;
mod target;

use std::fmt;
use std::sync::Arc;
use std::time::Instant;

use eframe::glow;
use three_d::{Context, CoreError, RenderTarget, ScissorBox, Viewport};

use crate::shape::Shape;
use figure::{Lines, Store};
pub use picture::{Detail, Picture, Pool};
use programs::Programs;
use resting::Resting;
use target::Target;

/// What draws.
pub struct Canvas {
    context: Context,
    programs: Programs,
    store: Store,
    /// The rim of a surface of water, as a square of side one.
    surface: Lines,
    resting: Resting,
    /// Into what is drawn: for each detail its own.
    targets: Vec<Target>,
    /// What was drawn last, and into which of these.
    drawn: Option<(Picture, usize)>,
    /// Whether it waits until the graphics driver is done, to know how long that takes.
    pub is_waiting: bool,
    /// How long the model took to draw, when it waited, ms.
    pub drawn_ms: f64,
}

impl fmt::Debug for Canvas {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Canvas").field("figures", &self.store.figures.len()).finish_non_exhaustive()
    }
}

impl Canvas {
    /// Makes ready to draw.
    ///
    /// # Errors
    /// When the graphics driver refuses a program.
    pub fn new(gl: Arc<glow::Context>) -> Result<Self, CoreError> {
        let context = Context::from_gl_context(gl)?;
        Ok(Self {
            programs: Programs::new(&context)?,
            store: Store::new(&context, Vec::new()),
            surface: figure::surface(&context),
            resting: Resting::new(&context),
            targets: Vec::new(),
            drawn: None,
            is_waiting: false,
            drawn_ms: 0.0,
            context,
        })
    }

    /// Takes in the bodies of a model. Where all are the very same as before, nothing is handed to the graphics driver.
    pub fn take(&mut self, shapes: &[Arc<Shape>]) {
        if !self.store.holds(shapes) {
            self.store = Store::new(&self.context, shapes.to_vec());
            self.resting = Resting::new(&self.context);
            self.drawn = None;
        }
    }

    /// Whether something was drawn that this picture shows otherwise, however finely.
    pub fn shows_another(&self, picture: &Picture) -> bool {
        self.drawn.as_ref().is_some_and(|(drawn, _)| !drawn.is_like(picture))
    }

    /// Puts a picture into a part of the window. It is drawn anew only when it differs from the last.
    ///
    /// # Errors
    /// When drawing fails.
    pub fn show(
        &mut self,
        picture: &Picture,
        viewport: Viewport,
        window_px: [u32; 2],
    ) -> Result<(), CoreError> {
        let begun = self.is_waiting.then(Instant::now);
        let is_new = self.drawn.as_ref().is_none_or(|(drawn, _)| drawn != picture);
        if is_new {
            self.drawn = Some((picture.clone(), self.draw(picture)?));
        }
        let target = self.drawn.as_ref().and_then(|(_, target)| self.targets.get(*target));
        let Some(target) = target else { return Ok(()) };
        let [width, height] = window_px;
        let window = RenderTarget::screen(&self.context, width, height);
        window.write_partially(viewport.into(), || {
            self.programs.copy(&target.colours, viewport);
            Ok::<(), CoreError>(())
        })?;
        if let Some(begun) = begun {
            // What is read must have been drawn.
            let _: Vec<[u8; 4]> = window.read_color_partially(ScissorBox::new_at_origo(1, 1));
            self.drawn_ms = begun.elapsed().as_secs_f64() * 1e3;
        }
        Ok(())
    }

    /// Draws into a target of its own; which one.
    fn draw(&mut self, picture: &Picture) -> Result<usize, CoreError> {
        self.resting.follow(&self.context, &self.store, picture);
        let (size_px, samples) = (picture.drawn_px(), picture.detail.samples());
        // Of other sizes none is kept but those of this window: as many as there are details.
        let known = self.targets.iter().position(|target| target.is_of(size_px, samples));
        let k = known.unwrap_or_else(|| {
            if self.targets.len() == Detail::COUNT {
                self.targets.clear();
            }
            self.targets.push(Target::new(&self.context, size_px, samples));
            self.targets.len() - 1
        });
        let [width, height] = size_px;
        // Taken out while it is drawn into, for the rest of the canvas is read then.
        let mut target = self.targets.swap_remove(k);
        let done = target.draw(|| {
            self.paint(picture, &self.resting, Viewport::new_at_origo(width, height));
        });
        self.targets.push(target);
        done.map(|()| self.targets.len() - 1)
    }
}
