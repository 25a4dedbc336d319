//! Guards the order of removals in a shaft with real boxes, through the planner itself.

use glam::{DVec3, dvec3};

use super::super::*;
use crate::convex::Convex;
use crate::plan::{Body, Effort, Space, is_free, plan};
use crate::world::{Exits, Window};

/// Boxes in a shaft 100 mm wide and deep and 300 mm high, open above.
struct Shaft {
    walls: Vec<Convex>,
    boxes: Vec<Convex>,
    exits: Exits,
}

impl Shaft {
    fn new(boxes: &[[DVec3; 2]]) -> Self {
        let wall = |from: [f64; 3], to: [f64; 3]| {
            Convex::block([DVec3::from_array(from), DVec3::from_array(to)])
        };
        let walls = vec![
            wall([-10.0, -10.0, -10.0], [110.0, 110.0, 0.0]),
            wall([-10.0, -10.0, 0.0], [0.0, 110.0, 300.0]),
            wall([100.0, -10.0, 0.0], [110.0, 110.0, 300.0]),
            wall([0.0, -10.0, 0.0], [100.0, 0.0, 300.0]),
            wall([0.0, 100.0, 0.0], [100.0, 110.0, 300.0]),
        ];
        let window = Window {
            centre: dvec3(50.0, 50.0, 300.0),
            u: DVec3::X,
            v: DVec3::Y,
            half_u: 50.0,
            half_v: 50.0,
        };
        let exits = Exits {
            rim_z: 300.0,
            rim: vec![window],
            doors: Vec::new(),
            room: [DVec3::splat(-500.0), DVec3::splat(900.0)],
        };
        Self { walls, boxes: boxes.iter().copied().map(Convex::block).collect(), exits }
    }

    fn around(&self, which: RemovableId, gone: &[bool]) -> Vec<Convex> {
        let others = self.boxes.iter().enumerate().filter(|(k, _)| *k != which && !gone[*k]);
        self.walls.iter().chain(others.map(|(_, piece)| piece)).cloned().collect()
    }

    fn body(&self, which: RemovableId) -> Body {
        Body::new(std::slice::from_ref(&self.boxes[which]))
    }
}

impl Search for Shaft {
    fn count(&self) -> usize {
        self.boxes.len()
    }
    fn instead_of(&self, _: RemovableId) -> Option<RemovableId> {
        None
    }
    fn wholes(&self, _: RemovableId) -> &[RemovableId] {
        &[]
    }
    fn is_last(&self, _: RemovableId) -> bool {
        false
    }
    fn way(&self, which: RemovableId, gone: &[bool], tries: Tries) -> Verdict {
        let around = self.around(which, gone);
        let steps = if tries == Tries::Plain { 0 } else { 2_000 };
        plan(&Space::plain(&around, &self.exits), &self.body(which), Effort { steps, seed: 1 })
    }
    fn holds(&self, which: RemovableId, gone: &[bool], way: &[Motion]) -> bool {
        self.is_free(which, gone, way)
    }
    fn is_free(&self, which: RemovableId, gone: &[bool], way: &[Motion]) -> bool {
        let around = self.around(which, gone);
        let space = Space::plain(&around, &self.exits);
        way.iter().all(|motion| is_free(&space, &self.body(which), motion))
    }
}

fn layer(z: f64) -> [DVec3; 2] {
    [dvec3(1.0, 1.0, z), dvec3(99.0, 99.0, z + 40.0)]
}

fn orders(shaft: &Shaft) -> Vec<Vec<RemovableId>> {
    let names = |known: &Known| known.order.iter().map(|out| out.which).collect();
    all(shaft).1.iter().map(names).collect()
}

#[test]
fn layers_come_off_from_the_top() {
    let shaft = Shaft::new(&[layer(0.0), layer(41.0), layer(82.0)]);
    assert_eq!(orders(&shaft), [vec![2, 1, 0], vec![2, 1], vec![2]]);
}

#[test]
fn a_box_beside_the_pile_stays() {
    // 1 lies on 0; 2 stands beside both.
    let half = |x: f64, z: f64| [dvec3(x, 1.0, z), dvec3(x + 45.0, 99.0, z + 60.0)];
    let shaft = Shaft::new(&[half(1.0, 0.0), half(1.0, 61.0), half(52.0, 0.0)]);
    assert_eq!(orders(&shaft), [vec![1, 0], vec![1], vec![2]]);
}

#[test]
fn what_is_free_stays_free_when_more_is_gone() {
    let shaft = Shaft::new(&[layer(0.0), layer(41.0), layer(82.0), layer(123.0)]);
    for known in all(&shaft).1 {
        let mut gone = vec![false; shaft.count()];
        for out in &known.order {
            for more in 0..1_usize << shaft.count() {
                let with_more: Vec<bool> = gone
                    .iter()
                    .enumerate()
                    .map(|(k, is_gone)| *is_gone || more >> k & 1 == 1)
                    .collect();
                assert!(shaft.is_free(out.which, &with_more, &out.way));
            }
            take(&shaft, out.which, &mut gone);
        }
    }
}
