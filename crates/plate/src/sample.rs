//! Test data: random parts, the same for the same seed on every machine.
//!
//! They hold what panels hold (rounded outlines, holes, slots, windows, combs, grooves that run
//! out, rabbets along edges, blind and crossing pockets on both faces), and more coincidences than
//! people draw: three quarters of the plates lie on a grid. Most can be made; the rest are there to
//! be refused, or reported as defects, by name.

use std::f64::consts::TAU;

use glam::{DVec2, dvec2};

use crate::contour::Contour;
use crate::dice::Dice;
use crate::plate::{Cut, Engraving, Face, Plate};
use crate::turned::Turned;

/// A random plate of 60 to 400 mm, 3 to 15 mm thick, with up to ten kinds of cuts.
pub fn plate(seed: u64) -> Plate {
    let mut maker = Maker::new(seed);
    let mut plate = Plate::new(maker.outline(), maker.thickness);
    for _ in 0..=maker.dice.below(9) {
        let cuts = maker.cuts();
        plate.cuts.extend(cuts);
    }
    if maker.dice.chance(30) {
        plate.engravings.push(maker.engraving());
    }
    plate
}

/// A random body of revolution: a ring, or a rod, with steps, cones and perhaps a bore.
pub fn turned(seed: u64) -> Turned {
    let mut dice = Dice::new(seed);
    let bore = if dice.chance(40) { 0.0 } else { dice.between(2.0, 30.0) };
    let mut outer = vec![dvec2(bore + dice.between(2.0, 20.0), 0.0)];
    let mut z = 0.0;
    for bands_above in (0..=dice.below(4)).rev() {
        let r = outer[outer.len() - 1].x;
        z += dice.between(1.0, 20.0);
        // Up a wall or along a cone; then perhaps a level step to the next.
        let top = if dice.chance(60) { r } else { bore + dice.between(1.0, 25.0) };
        outer.push(dvec2(top, z));
        if bands_above > 0 && dice.chance(50) {
            outer.push(dvec2(bore + dice.between(1.0, 25.0), z));
        }
    }
    let mut profile = vec![dvec2(bore, 0.0)];
    profile.extend(outer);
    profile.push(dvec2(bore, z));
    Turned { profile }
}

struct Maker {
    dice: Dice,
    /// Coordinates are multiples of this; 0: any.
    grid: f64,
    /// Whether cuts may be turned by any angle.
    turns: bool,
    size: DVec2,
    thickness: f64,
}

impl Maker {
    fn new(seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let (grid, turns) =
            [(5.0, false), (0.5, false), (1.0, true), (0.0, true)][dice.pick(&[0, 1, 2, 3])];
        let mut maker = Self { dice, grid, turns, size: DVec2::ZERO, thickness: 0.0 };
        maker.size = dvec2(maker.length(60.0, 400.0), maker.length(60.0, 250.0));
        let nominal = maker.dice.pick(&[3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0]);
        // Sheet as ordered, or as measured.
        maker.thickness =
            if maker.dice.chance(50) { nominal } else { maker.dice.between(0.9, 1.05) * nominal };
        maker
    }

    fn length(&mut self, lo: f64, hi: f64) -> f64 {
        let length = self.dice.between(lo, hi);
        if self.grid > 0.0 { (length / self.grid).round().max(1.0) * self.grid } else { length }
    }

    /// A place on the sheet, up to `over` beyond its edges.
    fn place(&mut self, over: f64) -> DVec2 {
        let at = dvec2(
            self.dice.between(-over, self.size.x + over),
            self.dice.between(-over, self.size.y + over),
        );
        if self.grid > 0.0 { (at / self.grid).round() * self.grid } else { at }
    }

    fn outline(&mut self) -> Contour {
        let (w, h) = (self.size.x, self.size.y);
        let radius = self.length(1.0, 20.0);
        let bite = dvec2(self.length(0.2 * w, 0.5 * w), self.length(0.2 * h, 0.5 * h));
        let round = |corners: &[(f64, f64)]| {
            let r = radius.min(0.2 * w).min(0.2 * h);
            let corners: Vec<_> = corners.iter().map(|&(x, y)| (dvec2(x, y), r)).collect();
            Contour::rounded_polygon(&corners)
        };
        match self.dice.below(6) {
            0 | 1 => Contour::rounded_rectangle(DVec2::ZERO, self.size, radius),
            2 => Contour::rectangle(DVec2::ZERO, self.size),
            3 => round(&[
                (0., 0.),
                (w, 0.),
                (w, h - bite.y),
                (w - bite.x, h - bite.y),
                (w - bite.x, h),
                (0., h),
            ]),
            4 => round(&[(0., 0.), (w, 0.), (w - 0.5 * bite.x, h), (0.5 * bite.x, h)]),
            _ => Contour::polygon(&[
                dvec2(0., 0.),
                dvec2(w, 0.),
                dvec2(w, h),
                dvec2(bite.x, h),
                dvec2(0., bite.y),
            ]),
        }
    }

    /// One cut, or a row of equal ones.
    fn cuts(&mut self) -> Vec<Cut> {
        match self.dice.below(10) {
            0 => vec![Cut::through(self.circle())],
            1 => vec![Cut::through(self.slot())],
            2 => vec![Cut::through(self.window())],
            3 => vec![self.pocket(Self::circle)],
            4 => vec![self.pocket(Self::slot)],
            5 => vec![self.pocket(Self::window)],
            6 => vec![self.groove()],
            7 => vec![self.rabbet()],
            8 => self.counterbore(),
            _ => self.comb(),
        }
    }

    fn pocket(&mut self, contour: fn(&mut Self) -> Contour) -> Cut {
        let contour = contour(self);
        let face = if self.dice.chance(60) { Face::Top } else { Face::Bottom };
        Cut::pocket(contour, face, self.depth())
    }

    /// A share of the thickness that joinery would use, or any depth.
    fn depth(&mut self) -> f64 {
        let share = self.dice.pick(&[0.25, 1.0 / 3.0, 0.5, 0.75]);
        if self.dice.chance(70) {
            share * self.thickness
        } else {
            self.dice.between(0.5, self.thickness + 0.5)
        }
    }

    fn circle(&mut self) -> Contour {
        let radius = self.length(1.0, 25.0);
        Contour::circle(self.place(10.0), radius)
    }

    fn slot(&mut self) -> Contour {
        let radius = self.length(1.0, 10.0);
        let reach = DVec2::X * self.length(5.0, 80.0);
        let at = self.place(10.0);
        self.turned(Contour::slot(at, at + reach, radius), at)
    }

    fn window(&mut self) -> Contour {
        let size = dvec2(self.length(5.0, 100.0), self.length(5.0, 60.0));
        let radius = self.length(0.0, 8.0).min(0.5 * size.min_element());
        let at = self.place(10.0);
        let radius = if self.dice.chance(70) { radius } else { 0.0 };
        self.turned(Contour::rounded_rectangle(at, at + size, radius), at)
    }

    /// Right across the sheet, running out on both sides.
    fn groove(&mut self) -> Cut {
        let width = self.length(3.0, 12.0);
        let at = self.place(0.0);
        let across = if self.dice.chance(50) {
            Contour::rectangle(dvec2(-10.0, at.y), dvec2(self.size.x + 10.0, at.y + width))
        } else {
            Contour::rectangle(dvec2(at.x, -10.0), dvec2(at.x + width, self.size.y + 10.0))
        };
        let contour = self.turned(across, 0.5 * self.size);
        self.pocket_of(contour)
    }

    /// Along one edge; its contour hangs over the outline or ends on it.
    fn rabbet(&mut self) -> Cut {
        let width = self.length(3.0, 12.0);
        let over = if self.dice.chance(50) { 5.0 } else { 0.0 };
        let (lo, hi) = (DVec2::splat(-over), self.size + over);
        let contour = match self.dice.below(4) {
            0 => Contour::rectangle(lo, dvec2(width, hi.y)),
            1 => Contour::rectangle(dvec2(self.size.x - width, lo.y), hi),
            2 => Contour::rectangle(lo, dvec2(hi.x, width)),
            _ => Contour::rectangle(dvec2(lo.x, self.size.y - width), hi),
        };
        self.pocket_of(contour)
    }

    fn pocket_of(&mut self, contour: Contour) -> Cut {
        let face = if self.dice.chance(50) { Face::Top } else { Face::Bottom };
        Cut::pocket(contour, face, self.depth())
    }

    /// A hole with a wider pocket about it.
    fn counterbore(&mut self) -> Vec<Cut> {
        let (at, radius) = (self.place(0.0), self.length(2.0, 12.0));
        let wider = radius + self.length(1.0, 6.0);
        let pocket = self.pocket_of(Contour::circle(at, wider));
        vec![Cut::through(Contour::circle(at, radius)), pocket]
    }

    /// Equal gaps in the upper edge.
    fn comb(&mut self) -> Vec<Cut> {
        let (gap, tooth) = (self.length(2.0, 8.0), self.length(2.0, 10.0));
        let depth = self.length(5.0, 0.5 * self.size.y);
        let first = self.length(1.0, 0.4 * self.size.x);
        let starts = (0..12_u8).map(|i| first + f64::from(i) * (gap + tooth));
        let inside = starts.take_while(|x| x + gap + 1.0 < self.size.x);
        let bottom = self.size.y - depth;
        let rounded = self.dice.chance(50);
        let cut = |x: f64| {
            let (lo, hi) = (dvec2(x, bottom), dvec2(x + gap, self.size.y + 5.0));
            let contour = if rounded {
                Contour::slot(dvec2(x + 0.5 * gap, bottom), dvec2(x + 0.5 * gap, hi.y), 0.5 * gap)
            } else {
                Contour::rectangle(lo, hi)
            };
            Cut::through(contour)
        };
        inside.map(cut).collect()
    }

    fn turned(&mut self, contour: Contour, about: DVec2) -> Contour {
        if !self.turns || self.dice.chance(50) {
            return contour;
        }
        let turn = DVec2::from_angle(self.dice.between(0.0, TAU));
        contour.moved(|p| about + turn.rotate(p - about), false)
    }

    fn engraving(&mut self) -> Engraving {
        let stroke = (0..3).map(|_| self.place(0.0)).collect();
        Engraving { face: Face::Top, strokes: vec![stroke] }
    }
}
