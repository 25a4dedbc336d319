//! What a picture is drawn into before it comes onto the window.

use three_d::{
    ClearState, Context, CoreError, DepthTexture2D, Interpolation, RenderTarget,
    RenderTargetMultisample, Texture2D, Wrapping,
};

/// Colours with depths behind them, of one size, kept from frame to frame.
pub(super) struct Target {
    size_px: [u32; 2],
    pub(super) colours: Texture2D,
    kind: Kind,
}

enum Kind {
    Plain(DepthTexture2D),
    /// Several samples a pixel.
    Smooth(RenderTargetMultisample<[u8; 4], f32>, u32),
}

impl Target {
    pub(super) fn new(context: &Context, size_px: [u32; 2], samples: u32) -> Self {
        let [width, height] = size_px;
        let (linear, clamp) = (Interpolation::Linear, Wrapping::ClampToEdge);
        let colours = Texture2D::new_empty::<[u8; 4]>(
            context, width, height, linear, linear, None, clamp, clamp,
        );
        let kind = if samples > 1 {
            let smooth = RenderTargetMultisample::new(context, width, height, samples);
            Kind::Smooth(smooth, samples)
        } else {
            Kind::Plain(DepthTexture2D::new::<f32>(context, width, height, clamp, clamp))
        };
        Self { size_px, colours, kind }
    }

    /// Whether it is one of so many pixels and samples.
    pub(super) fn is_of(&self, size_px: [u32; 2], samples: u32) -> bool {
        let own = match &self.kind {
            Kind::Plain(_) => 1,
            Kind::Smooth(_, samples) => *samples,
        };
        self.size_px == size_px && own == samples
    }

    /// Draws into it.
    pub(super) fn draw(&mut self, render: impl FnOnce()) -> Result<(), CoreError> {
        let clear = ClearState::color_and_depth(1.0, 1.0, 1.0, 1.0, 1.0);
        let render = || {
            render();
            Ok::<(), CoreError>(())
        };
        match &mut self.kind {
            Kind::Plain(depths) => {
                let colours = self.colours.as_color_target(None);
                RenderTarget::new(colours, depths.as_depth_target()).clear(clear).write(render)?;
            }
            Kind::Smooth(smooth, _) => {
                smooth.clear(clear).write(render)?;
                smooth.resolve_color_to(&self.colours.as_color_target(None));
            }
        }
        Ok(())
    }
}
