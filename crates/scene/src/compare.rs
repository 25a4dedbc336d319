//! How alike two pictures are.

use crate::image::Image;

/// What differs between two pictures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// Greatest difference of any channel of any pixel, 0 to 255; 255 for pictures of unlike sizes.
    pub greatest: u8,
    /// Share of the pixels with a channel that differs by more than the tolerance; 1 for pictures of
    /// unlike sizes.
    pub share: f64,
}

impl Image {
    /// Compares pixel by pixel. `tolerance` is the difference of a channel that still counts as equal.
    pub fn compared(&self, other: &Self, tolerance: u8) -> Comparison {
        if self.size != other.size {
            return Comparison { greatest: u8::MAX, share: 1.0 };
        }
        let pixels = self.pixels.chunks_exact(3).zip(other.pixels.chunks_exact(3));
        let differences = pixels.map(|(a, b)| difference(a, b));
        let (greatest, count, all) =
            differences.fold((0, 0_u32, 0_u32), |(greatest, count, all), difference| {
                (difference.max(greatest), count + u32::from(difference > tolerance), all + 1)
            });
        Comparison { greatest, share: f64::from(count) / f64::from(all.max(1)) }
    }

    /// This picture, what differs (ten times, dark for equal) and the other one beside each other: what
    /// a person needs to see why a comparison failed.
    pub fn beside(&self, other: &Self) -> Self {
        let width = self.size[0].max(other.size[0]);
        let height = self.size[1].max(other.size[1]);
        let mut sheet = Self::new([3 * width, height]);
        for y in 0..height {
            for x in 0..width {
                let pair = [self, other].map(|image| image.pixel_within([x, y]));
                let apart = |i: usize| pair[0][i].abs_diff(pair[1][i]).saturating_mul(10);
                for (column, colour) in [(0, pair[0]), (1, [0, 1, 2].map(apart)), (2, pair[1])] {
                    let at = (y * 3 * width + column * width + x) * 3;
                    sheet.pixels[at..at + 3].copy_from_slice(&colour);
                }
            }
        }
        sheet
    }

    fn pixel_within(&self, at: [usize; 2]) -> [u8; 3] {
        let is_inside = at[0] < self.size[0] && at[1] < self.size[1];
        if is_inside { self.pixel(at) } else { [0; 3] }
    }
}

fn difference(a: &[u8], b: &[u8]) -> u8 {
    a.iter().zip(b).map(|(a, b)| a.abs_diff(*b)).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_pixel_in_eight_differs() {
        let a = Image::new([4, 2]);
        let mut b = a.clone();
        b.pixels[4] = 9;
        assert_eq!(a.compared(&b, 8), Comparison { greatest: 9, share: 0.125 });
        assert_eq!(a.compared(&b, 9), Comparison { greatest: 9, share: 0.0 });
        assert_eq!(a.beside(&b).pixel([5, 0]), [0, 90, 0]);
    }

    #[test]
    fn sizes_must_agree() {
        let (a, b) = (Image::new([4, 2]), Image::new([2, 4]));
        assert_eq!(a.compared(&b, 255), Comparison { greatest: 255, share: 1.0 });
        assert_eq!(a.beside(&b).size, [12, 4]);
    }
}
