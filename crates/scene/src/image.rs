//! Pixels, and their PNG.

use crate::Error;

/// The nearest whole number of pixels.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths on a sheet are positive and smaller than 2^53"
)]
pub(crate) fn whole_px(px: f64) -> usize {
    px.max(0.0).round() as usize
}

/// A picture: rows from above, three bytes (red, green, blue; sRGB) per pixel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Image {
    /// Width and height, px.
    pub size: [usize; 2],
    /// `3 · width · height` bytes.
    pub pixels: Vec<u8>,
}

impl Image {
    /// A black picture.
    pub fn new(size: [usize; 2]) -> Self {
        Self { size, pixels: vec![0; size[0] * size[1] * 3] }
    }

    /// The three bytes of a pixel; `x` and `y` count from the upper left corner and must lie inside.
    pub fn pixel(&self, [x, y]: [usize; 2]) -> [u8; 3] {
        let at = (y * self.size[0] + x) * 3;
        [self.pixels[at], self.pixels[at + 1], self.pixels[at + 2]]
    }

    /// Puts a smaller picture over this one; what hangs over its sides is left out.
    pub(crate) fn put(&mut self, other: &Self, [left, top]: [usize; 2]) {
        let columns = other.size[0].min(self.size[0].saturating_sub(left));
        let rows = other.size[1].min(self.size[1].saturating_sub(top));
        for y in 0..rows {
            let to = ((top + y) * self.size[0] + left) * 3;
            let from = y * other.size[0] * 3;
            self.pixels[to..to + 3 * columns]
                .copy_from_slice(&other.pixels[from..from + 3 * columns]);
        }
    }

    /// As a PNG file (PNG Specification, third edition, W3C 2025: 8 bits, truecolour, sRGB).
    ///
    /// # Errors
    /// When the picture has no pixels or a side is too long for the format.
    pub fn to_png(&self) -> Result<Vec<u8>, Error> {
        let [width, height] = self.size;
        let refused = || Error::Size { width, height };
        let side = |n: usize| u32::try_from(n).ok().filter(|&n| n > 0).ok_or_else(refused);
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, side(width)?, side(height)?);
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_source_srgb(png::SrgbRenderingIntent::Perceptual);
        encoder.set_compression(png::Compression::Fast);
        let mut writer = encoder.write_header().map_err(Error::Write)?;
        writer.write_image_data(&self.pixels).map_err(Error::Write)?;
        writer.finish().map_err(Error::Write)?;
        Ok(bytes)
    }

    /// From a PNG file with 8 bits per channel, with or without transparency, which is dropped.
    ///
    /// # Errors
    /// When it is not such a file.
    pub fn from_png(bytes: &[u8]) -> Result<Self, Error> {
        let decoder = png::Decoder::new(std::io::Cursor::new(bytes));
        let mut reader = decoder.read_info().map_err(Error::Read)?;
        let length = reader.output_buffer_size().ok_or(Error::Depth)?;
        let mut raw = vec![0; length];
        let info = reader.next_frame(&mut raw).map_err(Error::Read)?;
        let size = [info.width as usize, info.height as usize];
        let raw = &raw[..info.buffer_size()];
        let pixels = match (info.color_type, info.bit_depth) {
            (png::ColorType::Rgb, png::BitDepth::Eight) => raw.to_vec(),
            (png::ColorType::Rgba, png::BitDepth::Eight) => {
                raw.chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]).collect()
            }
            _ => return Err(Error::Depth),
        };
        Ok(Self { size, pixels })
    }
}
