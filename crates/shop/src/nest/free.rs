//! The largest free rectangles of a sheet.
//!
//! All maximal free rectangles are kept; they overlap. What is put down is cut out of each that it meets, and pieces
//! that lie within others are dropped (maximal rectangles, after Jylänki 2010, "A thousand ways to pack the bin", section
//! 2.3, its number from memory; a technical report, but the usual reference).

use super::{Rect, Size};

/// What is free.
#[derive(Clone, Debug)]
pub struct Free(Vec<Rect>);

impl Free {
    /// All of a sheet.
    pub fn whole(size: Size) -> Self {
        Self(vec![Rect { x: 0, y: 0, size }])
    }

    /// The rectangles.
    pub fn rects(&self) -> &[Rect] {
        &self.0
    }

    /// Adds rectangles that are free within what was taken: an opening.
    pub fn extend(&mut self, rects: impl IntoIterator<Item = Rect>) {
        self.0.extend(rects);
    }

    /// Takes one of them out, and puts others in its place that part what is left of it.
    pub(super) fn replace(&mut self, which: usize, by: impl Iterator<Item = Rect>) {
        self.0.swap_remove(which);
        self.0.extend(by);
    }

    /// Takes a rectangle out of all that is free.
    pub fn take_away(&mut self, rect: Rect) {
        let mut pieces = Vec::new();
        self.0.retain(|free| {
            if !free.overlaps(rect) {
                return true;
            }
            pieces.extend(beside(*free, rect));
            false
        });
        // A rectangle that was free before lies in none of the new pieces: it would have lain in what they are cut from.
        let old = self.0.len();
        for (k, piece) in pieces.iter().enumerate() {
            let holds = |other: &Rect| other.contains(*piece);
            let of_old = self.0[..old].iter().any(holds);
            let is_other =
                |(j, other): (usize, &Rect)| j != k && holds(other) && (other != piece || j < k);
            if !of_old && !pieces.iter().enumerate().any(is_other) {
                self.0.push(*piece);
            }
        }
    }

    /// The largest by area that is of use; of equals the lowest, then the leftmost.
    pub fn largest(&self, is_of_use: impl Fn(Rect) -> bool) -> Option<Rect> {
        let all = self.0.iter().copied().filter(|rect| is_of_use(*rect));
        all.min_by_key(|free| (-free.size.area(), free.y, free.x, free.size))
    }
}

/// The largest rectangles in what is left of a free one beside one that is taken; they overlap.
fn beside(free: Rect, taken: Rect) -> impl Iterator<Item = Rect> {
    let (across, up) = ([free.x, free.right()], [free.y, free.top()]);
    let sides = [
        Rect::between([across[0], taken.x], up),
        Rect::between([taken.right(), across[1]], up),
        Rect::between(across, [up[0], taken.y]),
        Rect::between(across, [taken.top(), up[1]]),
    ];
    sides.into_iter().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SIDE: i32 = 12;

    fn rects() -> impl Strategy<Value = Vec<Rect>> {
        let one = (0..SIDE, 0..SIDE, 1..6, 1..6).prop_map(|(x, y, width, height)| Rect {
            x,
            y,
            size: Size { width, height },
        });
        prop::collection::vec(one, 0..8)
    }

    fn has(rect: &Rect, x: i32, y: i32) -> bool {
        rect.contains(Rect { x, y, size: Size { width: 1, height: 1 } })
    }

    proptest! {
        #[test]
        fn a_square_is_free_when_nothing_was_put_on_it(taken in rects()) {
            let mut free = Free::whole(Size { width: SIDE, height: SIDE });
            for rect in &taken {
                free.take_away(*rect);
            }
            for (x, y) in (0..SIDE).flat_map(|x| (0..SIDE).map(move |y| (x, y))) {
                let is_free = free.rects().iter().any(|rect| has(rect, x, y));
                prop_assert_eq!(is_free, !taken.iter().any(|rect| has(rect, x, y)), "{} {}", x, y);
            }
        }

        #[test]
        fn no_free_rectangle_lies_in_another(taken in rects()) {
            let mut free = Free::whole(Size { width: SIDE, height: SIDE });
            for rect in &taken {
                free.take_away(*rect);
            }
            for (k, a) in free.rects().iter().enumerate() {
                for b in free.rects().iter().skip(k + 1) {
                    prop_assert!(!a.contains(*b) && !b.contains(*a), "{:?} {:?}", a, b);
                }
            }
        }
    }
}
