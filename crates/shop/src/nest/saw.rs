//! In which order a saw cuts what lies so that every cut goes straight through.
//!
//! Any cut that meets no part is as good as another: what lies so that a saw can cut it, still does on both sides of
//! the cut. So the tree of cuts is found without going back. Of the cuts that there are, the one is made first that sets the
//! largest rest free.

use super::{Rect, Size};

/// One cut, as wide as the blade, through all of the piece that it is made in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// What the blade takes away.
    pub blade: Rect,
    /// Whether it runs along y.
    pub is_upright: bool,
    /// How many cuts lie above it in the tree of cuts: 0 for the first.
    pub depth: usize,
}

/// The cuts in their order, and the rests that nothing lies on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sawn {
    /// Each after those that set its piece free.
    pub cuts: Vec<Cut>,
    /// What is left over.
    pub rests: Vec<Rect>,
}

/// Cuts parts out of a sheet; `None` when no cut goes straight through without meeting a part. `blade`: its width.
pub fn cuts(sheet: Size, parts: &[Rect], blade: i32) -> Option<Sawn> {
    let mut sawn = Sawn::default();
    sawn.part(Rect { x: 0, y: 0, size: sheet }, parts, blade, 0).then_some(sawn)
}

impl Sawn {
    fn part(&mut self, piece: Rect, parts: &[Rect], blade: i32, depth: usize) -> bool {
        match parts {
            [] => {
                self.rests.push(piece);
                return true;
            }
            [one] if *one == piece => return true,
            _ => {}
        }
        let Some(choice) = best(piece, parts, blade) else { return false };
        self.cuts.push(Cut { depth, ..choice.cut });
        choice.sides.into_iter().flatten().all(|side| {
            let within: Vec<Rect> =
                parts.iter().copied().filter(|part| side.contains(*part)).collect();
            self.part(side, &within, blade, depth + 1)
        })
    }
}

/// A cut with what lies on both sides of it.
struct Choice {
    cut: Cut,
    sides: [Option<Rect>; 2],
}

/// Whether a cut runs through a part; a blade may have no width.
fn meets(part: Rect, cut: Cut) -> bool {
    let Cut { blade, is_upright, .. } = cut;
    if is_upright {
        part.x < blade.right() && blade.x < part.right()
    } else {
        part.y < blade.top() && blade.y < part.top()
    }
}

/// The cut that sets the largest rest free, or else the first that there is.
fn best(piece: Rect, parts: &[Rect], blade: i32) -> Option<Choice> {
    let all = parts.iter().flat_map(|part| {
        let across = [(true, part.right()), (true, part.x - blade)];
        across.into_iter().chain([(false, part.top()), (false, part.y - blade)])
    });
    let mut best: Option<(i64, Choice)> = None;
    for (is_upright, at) in all {
        let Some(choice) = cut(piece, is_upright, at, blade) else { continue };
        if parts.iter().any(|part| meets(*part, choice.cut)) {
            continue;
        }
        let is_rest = |side: &Rect| !parts.iter().any(|part| part.overlaps(*side));
        let rests = choice.sides.iter().flatten().filter(|side| is_rest(side));
        let rest = rests.map(|side| side.size.area()).max().unwrap_or(0);
        if best.as_ref().is_none_or(|(most, _)| *most < rest) {
            best = Some((rest, choice));
        }
    }
    best.map(|(_, best)| best)
}

/// A cut through a piece; `None` when the blade would miss it. At an edge of the piece it may run partly in air.
fn cut(piece: Rect, is_upright: bool, at: i32, width: i32) -> Option<Choice> {
    let (across, up) = ([piece.x, piece.right()], [piece.y, piece.top()]);
    let [from, to] = if is_upright { across } else { up };
    if to <= at || at + width <= from {
        return None;
    }
    let rect = |ends: [i32; 2]| {
        if is_upright { Rect::between(ends, up) } else { Rect::between(across, ends) }
    };
    let size = piece.size;
    let blade = if is_upright {
        Rect { x: at, size: Size { width, ..size }, ..piece }
    } else {
        Rect { y: at, size: Size { height: width, ..size }, ..piece }
    };
    let cut = Cut { blade, is_upright, depth: 0 };
    Some(Choice { cut, sides: [rect([from, at]), rect([at + width, to])] })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(x: i32, y: i32, width: i32, height: i32) -> Rect {
        Rect { x, y, size: Size { width, height } }
    }

    #[test]
    fn a_part_in_the_middle_takes_four_cuts() {
        let sawn = cuts(Size { width: 100, height: 60 }, &[rect(20, 10, 30, 20)], 3).unwrap();
        assert_eq!(sawn.cuts.len(), 4);
        assert_eq!(sawn.cuts[0].blade, rect(50, 0, 3, 60), "47 × 60 are left");
        assert_eq!(sawn.rests.iter().map(|rest| rest.size.area()).max(), Some(47 * 60));
    }

    #[test]
    fn a_pinwheel_cannot_be_sawn() {
        let parts =
            [rect(0, 0, 20, 10), rect(21, 0, 10, 20), rect(11, 21, 20, 10), rect(0, 11, 10, 20)];
        assert_eq!(cuts(Size { width: 31, height: 31 }, &parts, 1), None);
    }

    #[test]
    fn parts_that_share_a_cut_need_no_other() {
        let parts = [rect(0, 0, 48, 20), rect(52, 0, 48, 20)];
        let sawn = cuts(Size { width: 100, height: 20 }, &parts, 4).unwrap();
        assert_eq!(sawn.cuts.len(), 1);
        assert_eq!(sawn.rests, []);
    }
}
