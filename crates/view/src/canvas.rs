//! Draws the model: what is opaque, then what clear sheet and water take from the light behind them, then lines, then
//! what clear sheet mirrors.
//!
//! Clear sheet multiplies what is behind it, and products do not mind their order: nothing has to be sorted, and nothing
//! flickers when one orbits.

mod figure;
mod picture;
mod programs;
mod shaders;

use std::fmt;
use std::sync::Arc;

use eframe::glow;
use scene::Body;
use three_d::{
    ClearState, Context, CoreError, DepthTexture2D, Interpolation, RenderTarget,
    RenderTargetMultisample, Texture2D, Viewport, Wrapping,
};

use figure::{Figure, Lines};
pub use picture::{Detail, Picture, Pool};
use programs::Programs;

/// What draws.
pub struct Canvas {
    context: Context,
    programs: Programs,
    figures: Vec<Figure>,
    /// The rim of a surface of water, as a square of side one.
    surface: Lines,
    /// What was drawn last, and of what.
    drawn: Option<(Picture, Texture2D)>,
}

impl fmt::Debug for Canvas {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Canvas").field("figures", &self.figures.len()).finish_non_exhaustive()
    }
}

impl Canvas {
    /// Makes ready to draw.
    ///
    /// # Errors
    /// When the graphics driver refuses a program.
    pub fn new(gl: Arc<glow::Context>) -> Result<Self, CoreError> {
        let context = Context::from_gl_context(gl)?;
        let programs = Programs::new(&context)?;
        let corner = |x: f64, y: f64| glam::dvec3(x, y, 1.0);
        let rim =
            vec![corner(0., 0.), corner(1., 0.), corner(1., 1.), corner(0., 1.), corner(0., 0.)];
        let surface = Lines::new(&context, &[rim]);
        Ok(Self { context, programs, figures: Vec::new(), surface, drawn: None })
    }

    /// Takes in the bodies of a model.
    pub fn take<'a>(&mut self, bodies: impl Iterator<Item = &'a Body>) {
        self.figures = bodies.map(|body| Figure::new(&self.context, body)).collect();
        self.drawn = None;
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
        if self.drawn.as_ref().is_none_or(|(drawn, _)| drawn != picture) {
            let old = self.drawn.take().map(|(_, texture)| texture);
            self.drawn = Some((picture.clone(), self.draw(picture, old)?));
        }
        let Some((_, texture)) = &self.drawn else { return Ok(()) };
        let [width, height] = window_px;
        RenderTarget::screen(&self.context, width, height)
            .write_partially(viewport.into(), || {
                self.programs.copy(texture, viewport);
                Ok::<(), CoreError>(())
            })
            .map(|_| ())
    }

    /// Draws into a picture of its own; into the old one, when that is as large.
    fn draw(&self, picture: &Picture, old: Option<Texture2D>) -> Result<Texture2D, CoreError> {
        let [width, height] = picture.drawn_px();
        let clear = ClearState::color_and_depth(1.0, 1.0, 1.0, 1.0, 1.0);
        let render = || {
            self.paint(picture, Viewport::new_at_origo(width, height));
            Ok::<(), CoreError>(())
        };
        let samples = picture.detail.samples();
        if samples > 1 {
            let target =
                RenderTargetMultisample::<[u8; 4], f32>::new(&self.context, width, height, samples);
            target.clear(clear).write(render)?;
            return Ok(target.resolve_color());
        }
        let old = old.filter(|old| (old.width(), old.height()) == (width, height));
        let colours = old.unwrap_or_else(|| {
            Texture2D::new_empty::<[u8; 4]>(
                &self.context,
                width,
                height,
                Interpolation::Linear,
                Interpolation::Linear,
                None,
                Wrapping::ClampToEdge,
                Wrapping::ClampToEdge,
            )
        });
        let depths = DepthTexture2D::new::<f32>(
            &self.context,
            width,
            height,
            Wrapping::ClampToEdge,
            Wrapping::ClampToEdge,
        );
        RenderTarget::new(colours.as_color_target(None), depths.as_depth_target())
            .clear(clear)
            .write(render)?;
        Ok(colours)
    }
}
