//! Where on a part there is most room for a label.

use glam::{DVec2, dvec2};

use crate::contour::Contour;
use crate::flat::FlatPattern;
use crate::segment::Segment;

/// Places along each side that are looked at first, and how often the best of them is then refined.
const GRID: u32 = 24;
const REFINED: usize = 6;

impl FlatPattern {
    /// A place on the material that lies far from all its edges and from what is engraved, and how far (mm); `None` of a
    /// part without material.
    ///
    /// The best of a grid is refined by looking around it, so another place may have a little more room; the same
    /// pattern always has the same place.
    pub fn roomiest_place(&self) -> Option<(DVec2, f64)> {
        let boxes = self.through.iter().filter_map(Contour::bounds);
        let [lo, hi] = boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])?;
        let step = (hi - lo) / f64::from(GRID);
        let places = (0..GRID).flat_map(|i| (0..GRID).map(move |j| (i, j)));
        let middle = |(i, j): (u32, u32)| lo + step * dvec2(f64::from(i) + 0.5, f64::from(j) + 0.5);
        let mut best = self.roomiest_of(places.map(middle))?;
        let mut reach = step;
        for _ in 0..REFINED {
            let around = [-1.0, 0.0, 1.0].into_iter();
            let around = around.flat_map(|x| [-1.0, 0.0, 1.0].map(|y| dvec2(x, y)));
            let centre = best.0;
            let near = self.roomiest_of(around.map(|offset| centre + 0.5 * reach * offset));
            best = near.filter(|near| best.1 < near.1).unwrap_or(best);
            reach *= 0.6;
        }
        Some(best)
    }

    fn roomiest_of(&self, places: impl Iterator<Item = DVec2>) -> Option<(DVec2, f64)> {
        let rooms = places.filter(|p| self.through.iter().map(|l| l.winding(*p)).sum::<i32>() > 0);
        let rooms = rooms.map(|p| (p, self.room_at(p)));
        // The first of equals, so that the answer does not hang on rounding more than it must.
        rooms.fold(None, |best: Option<(DVec2, f64)>, room| match best {
            Some(best) if room.1 <= best.1 + 1e-9 => Some(best),
            _ => Some(room),
        })
    }

    /// Distance to the nearest edge or engraved stroke, mm.
    fn room_at(&self, p: DVec2) -> f64 {
        let pieces = self.through.iter().flat_map(|contour| &contour.0);
        let edges = pieces.map(|piece| piece.distance(p));
        let strokes = self.engravings.iter().flat_map(|engraving| &engraving.strokes);
        let lines = strokes.flat_map(|stroke| stroke.windows(2));
        let lines = lines.map(|ends| Segment::line(ends[0], ends[1]).distance(p));
        edges.chain(lines).fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::{Engraving, Face};

    fn pattern(through: Vec<Contour>) -> FlatPattern {
        FlatPattern { through, pockets: vec![], engravings: vec![] }
    }

    #[test]
    fn a_label_lies_in_the_middle_of_a_plain_part() {
        let part = pattern(vec![Contour::rectangle(dvec2(0.0, 0.0), dvec2(300.0, 100.0))]);
        let (at, room) = part.roomiest_place().expect("there is material");
        assert!((at.y - 50.0).abs() < 1.0 && 49.0 < room && room <= 50.0, "{at}, {room}");
    }

    #[test]
    fn a_label_keeps_off_a_scale() {
        let mut part = pattern(vec![Contour::rectangle(dvec2(0.0, 0.0), dvec2(300.0, 100.0))]);
        let scale = vec![dvec2(150.0, 5.0), dvec2(150.0, 95.0)];
        part.engravings.push(Engraving { face: Face::Top, strokes: vec![scale] });
        let (at, room) = part.roomiest_place().expect("there is material");
        assert!(45.0 < (at.x - 150.0).abs() && 45.0 < room, "{at}, {room}");
    }

    #[test]
    fn a_label_of_a_frame_lies_on_the_frame() {
        let hole = Contour::rectangle(dvec2(40.0, 40.0), dvec2(360.0, 160.0)).reversed();
        let part = pattern(vec![Contour::rectangle(dvec2(0.0, 0.0), dvec2(400.0, 200.0)), hole]);
        let (at, room) = part.roomiest_place().expect("there is material");
        let is_on_frame = at.x < 40.0 || 360.0 < at.x || at.y < 40.0 || 160.0 < at.y;
        assert!(is_on_frame && 18.0 < room && room <= 23.5, "{at}, {room}");
    }
}
