//! Kinds of fittings that become parts of the sump.

mod door_stop;
mod drain_cap;
mod eggcrate_ledge;
mod float_holder;
mod hook;
mod hump;
mod level_pointer;
mod lid_clip;
mod lid_handle;
mod nozzle_bracket;
mod probe_holder;
mod reducer;
mod rim_cap;
mod round_strainer;
mod skimmer_foot;
mod strainer;
mod strip_clip;

pub(crate) use door_stop::DOOR_STOP;
pub(crate) use drain_cap::DRAIN_CAP;
pub(crate) use eggcrate_ledge::EGGCRATE_LEDGE;
pub(crate) use float_holder::FLOAT_HOLDER;
pub(crate) use hump::Fit;
pub(crate) use level_pointer::LEVEL_POINTER;
pub(crate) use lid_clip::LID_CLIP;
pub(crate) use lid_handle::LID_HANDLE;
pub(crate) use nozzle_bracket::NOZZLE_BRACKET;
pub(crate) use probe_holder::PROBE_HOLDER;
pub(crate) use reducer::REDUCER;
pub(crate) use round_strainer::ROUND_STRAINER;
pub(crate) use skimmer_foot::SKIMMER_FOOT;
pub(crate) use strainer::STRAINER;
pub use strainer::free_share;
pub(crate) use strip_clip::STRIP_CLIP;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fitting::Fitting;
    use crate::kind::Kind;
    use crate::printer::Printer;
    use crate::testing::{FLAT, holes, outline};
    use plate::Shape;

    fn corners(fitting: &Fitting) -> Vec<[f64; 2]> {
        match &fitting.shape {
            Shape::Sheet(_) => outline(fitting).0.iter().map(|s| s.start.to_array()).collect(),
            Shape::Turned(turned) => turned.profile.iter().map(|p| p.to_array()).collect(),
        }
    }

    /// Walls between corners of the outline or profile that are opposite each other along the first axis.
    #[test]
    fn walls_are_whole_lines_of_every_nozzle() {
        let walls: [(&Kind, &[(usize, usize)]); 7] = [
            (&DOOR_STOP, &[]),
            (&LID_CLIP, &[(0, 3), (5, 6)]),
            (&LEVEL_POINTER, &[]),
            (&FLOAT_HOLDER, &[]),
            (&EGGCRATE_LEDGE, &[(0, 1), (5, 6)]),
            (&REDUCER, &[(7, 4)]),
            (&DRAIN_CAP, &[(5, 4), (6, 3)]),
        ];
        for nozzle_mm in [0.25, 0.4, 0.6, 0.8] {
            let printer = Printer { nozzle_mm, ..FLAT };
            for (kind, pairs) in walls {
                let corners = corners(&kind.made([], &printer).expect(kind.name));
                for &(a, b) in pairs {
                    let lines = (corners[a][0] - corners[b][0]).abs() / nozzle_mm;
                    let is_whole = (lines - lines.round()).abs() < 1e-6 && lines > 1.5;
                    assert!(is_whole, "{} {a} {b}: {lines} lines of {nozzle_mm}", kind.name);
                }
            }
            // Between the two longest upright edges.
            for kind in [&DOOR_STOP, &LEVEL_POINTER] {
                let made = kind.made([], &printer).expect(kind.name);
                let upright =
                    outline(&made).0.iter().filter(|s| (s.start.x - s.end.x).abs() < 1e-9);
                let mut upright: Vec<_> = upright.map(|s| (s.length(), s.start.x)).collect();
                upright.sort_by(|a, b| b.0.total_cmp(&a.0));
                let lines = (upright[0].1 - upright[1].1).abs() / nozzle_mm;
                assert!(
                    (lines - lines.round()).abs() < 1e-6 && lines > 1.5,
                    "{} {lines}",
                    kind.name
                );
            }
            for kind in [&STRAINER, &ROUND_STRAINER] {
                let made = kind.made([], &printer).expect(kind.name);
                let mut middles: Vec<f64> =
                    holes(&made).iter().map(|c| 0.5 * (c.0[1].start.x + c.0[0].start.x)).collect();
                middles.sort_by(f64::total_cmp);
                middles.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
                for pair in middles.windows(2) {
                    let lines = (pair[1] - pair[0] - 3.0) / nozzle_mm;
                    assert!((lines - lines.round()).abs() < 1e-6, "{}: {lines}", kind.name);
                }
            }
        }
    }
}
