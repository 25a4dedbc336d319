//! From numbers to pixels and bytes. The only place of the picture where numbers are cut short.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the values are clamped to the target's range first, or a float-to-int cast saturates as wanted"
)]

/// Steps per pixel of [`snapped`] coordinates.
pub(super) const SUBPIXELS: i64 = 256;

/// A coordinate, px, as a whole number of subpixels.
pub(super) fn snapped(x: f64) -> i64 {
    libm::rint(x * SUBPIXELS as f64) as i64
}

/// A coordinate or a step as an index, not below 0.
pub(super) fn index(x: f32) -> usize {
    x as usize
}

/// A coordinate, px, as an index below `end`, or `end` itself.
pub(super) fn index_up_to(x: f64, end: usize) -> usize {
    (x.max(0.0) as usize).min(end)
}

/// A whole number of subpixels as an index into pixels, not below 0.
pub(super) fn pixel_of(subpixels: i64) -> usize {
    subpixels.div_euclid(SUBPIXELS).max(0) as usize
}

/// From 0..=1 to 0..=255.
pub(super) fn byte(share: f64) -> u8 {
    (share.clamp(0.0, 1.0) * 255.0 + 0.5) as u8
}

/// `f64` as the nearest `f32`.
pub(super) fn single(x: f64) -> f32 {
    x as f32
}

/// `2^whole` for a whole number between −126 and 127.
pub(super) fn power_of_two(whole: f32) -> f32 {
    f32::from_bits(((whole as i32 + 127) as u32) << 23)
}

/// A count as a 32-bit index.
pub(super) fn index_32(count: usize) -> u32 {
    debug_assert!(u32::try_from(count).is_ok(), "fewer than 2³² of anything in a picture");
    count as u32
}
