//! Colour and kind of line of each operation in an SVG: calm colours of our own that differ in lightness too, and lines
//! that are told apart where they are printed without colour.

use crate::decimal::decimal;
use crate::layers::{OPENINGS_NAME, OUTLINE_NAME, TOOL_PATH};

/// How the lines of a layer look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Look {
    /// Red, green, blue.
    rgb: [u8; 3],
    /// Lengths of dashes and gaps, in widths of the line; none for a whole line.
    dashes: &'static [f64],
    /// How much wider than a thin line.
    width: f64,
}

/// So many times at least the dashes of a round hole repeat.
const LEAST_PERIODS: f64 = 4.0;

/// The look of a layer, by its name.
pub(super) fn of(layer: &str) -> Look {
    let work = layer.strip_prefix(TOOL_PATH).unwrap_or(layer);
    let is_lower = work.ends_with("lower face");
    let (rgb, dashes, width): ([u8; 3], &[f64], f64) = match work {
        OUTLINE_NAME => ([28, 52, 74], &[], 1.5),
        OPENINGS_NAME => ([178, 88, 52], &[12.0, 4.0], 1.5),
        _ if work.starts_with("pocket") && is_lower => {
            ([92, 110, 40], &[8.0, 3.0, 1.5, 3.0, 1.5, 3.0], 1.0)
        }
        _ if work.starts_with("pocket") => ([132, 150, 66], &[8.0, 3.0, 1.5, 3.0], 1.0),
        _ if work.starts_with("engrave") && is_lower => ([92, 66, 112], &[3.0, 3.0], 1.0),
        _ if work.starts_with("engrave") => ([134, 104, 156], &[], 1.0),
        _ if work.starts_with("bridge") => ([120, 30, 44], &[], 2.0),
        _ => ([138, 144, 148], &[1.0, 3.0], 1.0),
    };
    // What people read is written in whole lines, or small letters would not be read.
    let dashes = if work.starts_with("note") { &[][..] } else { dashes };
    Look { rgb, dashes, width }
}

impl Look {
    /// As attributes of a group whose thin lines are so wide, mm.
    pub(super) fn attributes(self, thin_mm: f64) -> String {
        let [r, g, b] = self.rgb;
        let mm = |widths: f64| decimal(widths * thin_mm, 3);
        let width = mm(self.width);
        let mut text = format!("stroke=\"#{r:02x}{g:02x}{b:02x}\" stroke-width=\"{width}\"");
        if !self.dashes.is_empty() {
            let dashes: Vec<String> = self.dashes.iter().map(|&dash| mm(dash)).collect();
            text += &format!(" stroke-dasharray=\"{}\"", dashes.join(" "));
        }
        text
    }

    /// Dashes of its own for a line so short that those of its group would not show, as an attribute; else nothing.
    pub(super) fn on_short(self, length_mm: f64, thin_mm: f64) -> String {
        let period: f64 = self.dashes.iter().sum();
        if self.dashes.is_empty() || LEAST_PERIODS * period * thin_mm <= length_mm {
            return String::new();
        }
        let unit = length_mm / (LEAST_PERIODS * period);
        let dashes: Vec<String> = self.dashes.iter().map(|&dash| decimal(dash * unit, 3)).collect();
        format!(" stroke-dasharray=\"{}\"", dashes.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LAYERS: [&str; 8] = [
        OUTLINE_NAME,
        OPENINGS_NAME,
        "pocket 4.0 mm from upper face",
        "pocket 2.625 mm from lower face",
        "engrave upper face",
        "engrave lower face",
        "bridge 1.5 mm high not cut",
        "sheet edge not cut",
    ];

    /// Relative luminance as a screen shows it, roughly: Rec. 709 weights on the coded values.
    fn lightness(look: Look) -> f64 {
        let [r, g, b] = look.rgb.map(f64::from);
        (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255.0
    }

    #[test]
    fn no_two_operations_look_alike_with_or_without_colour() {
        for (k, a) in LAYERS.iter().enumerate() {
            for b in &LAYERS[..k] {
                let [a, b] = [of(a), of(b)];
                assert_ne!(a.rgb, b.rgb);
                let is_told_apart = a.dashes != b.dashes
                    || (a.width - b.width).abs() > 0.4
                    || (lightness(a) - lightness(b)).abs() > 0.15;
                assert!(is_told_apart, "{a:?} {b:?}");
            }
        }
    }

    #[test]
    fn dashes_of_a_small_hole_are_short() {
        let look = of(OPENINGS_NAME);
        assert_eq!(look.on_short(100.0, 0.2), "");
        assert_eq!(look.on_short(6.4, 0.2), " stroke-dasharray=\"1.2 0.4\"");
        assert_eq!(of(OUTLINE_NAME).on_short(6.4, 0.2), "");
    }

    #[test]
    fn the_path_of_the_tool_looks_as_what_it_makes() {
        assert_eq!(of("tool path cut through outline"), of(OUTLINE_NAME));
        let outline = of(OUTLINE_NAME).attributes(0.2);
        assert_eq!(outline, "stroke=\"#1c344a\" stroke-width=\"0.3\"");
        assert!(of(OPENINGS_NAME).attributes(0.2).ends_with("stroke-dasharray=\"2.4 0.8\""));
    }
}
