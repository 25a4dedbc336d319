//! Guards areas, centroids, second moments, volumes and centres of mass: against closed forms, and
//! against a quadrature that knows nothing of the arrangement.
//!
//! Closed forms: Young, Budynas, Sadegh, "Roark's Formulas for Stress and Strain", 8th ed. (2012),
//! Table A.1 "Properties of sections"; written from memory, confirmed by the quadrature.

use std::f64::consts::PI;

use glam::{DVec2, dvec2, dvec3};
use plate::{Contour, Cut, Face, Plate, Section, Segment, Tolerance, arrange, sample};

fn section(outline: Contour, holes: Vec<Contour>) -> Section {
    let cuts = holes.into_iter().map(Cut::through).collect();
    let plate = Plate { cuts, ..Plate::new(outline, 5.0) };
    let arrangement = arrange(&plate, &Tolerance::default()).expect("an arrangement");
    Section::new(&arrangement).expect("some material")
}

struct Expected {
    area: f64,
    perimeter: f64,
    centroid: DVec2,
    ixx: f64,
    iyy: f64,
    ixy: f64,
}

/// Equal to 1e-12 of the section's own scale.
#[track_caller]
fn check(section: Section, expected: Expected) {
    let size = section.perimeter_mm;
    let close = |ours: f64, theirs: f64, scale: f64| (ours - theirs).abs() < 1e-12 * scale;
    let e = expected;
    assert!(close(section.area_mm2, e.area, size * size), "{section:?}: area {}", e.area);
    assert!(close(section.perimeter_mm, e.perimeter, size), "{section:?}: {}", e.perimeter);
    assert!(section.centroid.distance(e.centroid) < 1e-12 * size, "{section:?}: {}", e.centroid);
    for (ours, theirs) in
        [(section.ixx_mm4, e.ixx), (section.iyy_mm4, e.iyy), (section.ixy_mm4, e.ixy)]
    {
        assert!(close(ours, theirs, size.powi(4)), "{section:?}: {theirs}");
    }
}

#[test]
fn rectangle() {
    let (b, h) = (30.0, 20.0);
    let lo = dvec2(5.0, -7.0);
    check(
        section(Contour::rectangle(lo, lo + dvec2(b, h)), vec![]),
        Expected {
            area: b * h,
            perimeter: 2.0 * (b + h),
            centroid: lo + 0.5 * dvec2(b, h),
            ixx: b * h.powi(3) / 12.0,
            iyy: h * b.powi(3) / 12.0,
            ixy: 0.0,
        },
    );
}

#[test]
fn right_triangle() {
    let (b, h) = (30.0, 20.0);
    let corners = [dvec2(0.0, 0.0), dvec2(b, 0.0), dvec2(0.0, h)];
    check(
        section(Contour::polygon(&corners), vec![]),
        Expected {
            area: 0.5 * b * h,
            perimeter: b + h + b.hypot(h),
            centroid: dvec2(b, h) / 3.0,
            ixx: b * h.powi(3) / 36.0,
            iyy: h * b.powi(3) / 36.0,
            ixy: -(b * h).powi(2) / 72.0,
        },
    );
}

#[test]
fn hollow_circle() {
    let (r, hole) = (10.0_f64, 6.0_f64);
    let centre = dvec2(3.0, 4.0);
    let i = PI / 4.0 * (r.powi(4) - hole.powi(4));
    check(
        section(Contour::circle(centre, r), vec![Contour::circle(centre, hole)]),
        Expected {
            area: PI * (r * r - hole * hole),
            perimeter: 2.0 * PI * (r + hole),
            centroid: centre,
            ixx: i,
            iyy: i,
            ixy: 0.0,
        },
    );
}

#[test]
fn half_circle() {
    let r = 10.0_f64;
    let arc = Segment::arc(DVec2::ZERO, dvec2(r, 0.0), PI);
    check(
        section(Contour(vec![arc, Segment::line(arc.end, arc.start)]), vec![]),
        Expected {
            area: 0.5 * PI * r * r,
            perimeter: (PI + 2.0) * r,
            centroid: dvec2(0.0, 4.0 * r / (3.0 * PI)),
            ixx: (PI / 8.0 - 8.0 / (9.0 * PI)) * r.powi(4),
            iyy: PI / 8.0 * r.powi(4),
            ixy: 0.0,
        },
    );
}

#[test]
fn turning_a_section_keeps_its_principal_moments() {
    let rectangle = Contour::rounded_rectangle(DVec2::ZERO, dvec2(40.0, 10.0), 3.0);
    let level = section(rectangle.clone(), vec![]).principal_moments_mm4();
    for angle in [0.3, 1.0, 2.5] {
        let turned = rectangle.moved(|p| DVec2::from_angle(angle).rotate(p), false);
        let turned = section(turned, vec![]);
        assert!(turned.ixy_mm4.abs() > 1.0, "the axes are not principal any more");
        for (ours, theirs) in turned.principal_moments_mm4().into_iter().zip(level) {
            assert!((ours / theirs - 1.0).abs() < 1e-12, "{ours} {theirs}");
        }
    }
}

#[test]
fn a_flat_arc_keeps_its_digits() {
    // Sagitta 0.005 mm on a chord of 20 mm: the arc is a parabola to 1e-7, two thirds full.
    let (r, half) = (1e4_f64, 10.0_f64);
    let sag = r - (r * r - half * half).sqrt();
    let centre = dvec2(0.0, sag - r);
    let arc = Segment::arc(centre, dvec2(half, 0.0), 2.0 * (half / r).asin());
    let section = section(Contour(vec![arc, Segment::line(arc.end, arc.start)]), vec![]);
    let (b, h) = (2.0 * half, sag);
    // Roark, Table A.1, parabolic segment.
    assert!((section.area_mm2 / (2.0 / 3.0 * b * h) - 1.0).abs() < 1e-6);
    assert!((section.iyy_mm4 / (b.powi(3) * h / 30.0) - 1.0).abs() < 1e-6);
    // Across the chord it is 1e-7 mm⁴, and what is left of the digits is A r² times 1e-16.
    assert!((section.ixx_mm4 - 8.0 / 175.0 * b * h.powi(3)).abs() < 2e-9);
}

#[test]
fn mass_follows_from_volume_and_density() {
    let plate = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(1000.0, 500.0)), 8.0);
    let arrangement = arrange(&plate, &Tolerance::default()).expect("an arrangement");
    // Four litres of 1190 kg/m³.
    assert!((arrangement.mass_kg(1190.0) - 4.76).abs() < 1e-12);
    let centre = arrangement.centre_of_mass().expect("some material");
    assert!(centre.distance(dvec3(500.0, 250.0, 4.0)) < 1e-9);
}

#[test]
fn nothing_has_no_section() {
    let square = Contour::rectangle(DVec2::ZERO, dvec2(10.0, 10.0));
    let plate = Plate { cuts: vec![Cut::through(square.clone())], ..Plate::new(square, 3.0) };
    let arrangement = arrange(&plate, &Tolerance::default()).expect("an arrangement");
    assert_eq!(Section::new(&arrangement), None);
    assert_eq!(arrangement.centre_of_mass(), None);
}

/// `∬ f dA` and the like over what is left of a plate, by level lines.
///
/// Each line is cut where it meets a contour of the input; whether a stretch is inside a contour
/// follows from the number of crossings to its left, and its height from the depths of the cuts.
#[derive(Default)]
struct Quadrature {
    area: f64,
    x: f64,
    y: f64,
    xx: f64,
    yy: f64,
    xy: f64,
    volume: f64,
    volume_z: f64,
}

impl Quadrature {
    fn of(plate: &Plate, lines: u32) -> Self {
        let [lo, hi] = plate.outline.bounds().expect("an outline");
        let dy = (hi.y - lo.y) / f64::from(lines);
        let mut sum = Self::default();
        for i in 0..lines {
            sum.add_line(plate, lo.y + (f64::from(i) + 0.5) * dy, dy);
        }
        sum
    }

    fn add_line(&mut self, plate: &Plate, y: f64, dy: f64) {
        let contours = std::iter::once(&plate.outline).chain(plate.cuts.iter().map(|c| &c.contour));
        let crossings: Vec<Vec<f64>> = contours.map(|c| crossings_with_level(c, y)).collect();
        let mut stops: Vec<f64> = crossings.iter().flatten().copied().collect();
        stops.sort_by(f64::total_cmp);
        for pair in stops.windows(2) {
            let middle = 0.5 * (pair[0] + pair[1]);
            let is_inside = |c: &[f64]| c.iter().filter(|x| **x < middle).count() % 2 == 1;
            if !is_inside(&crossings[0]) {
                continue;
            }
            let (mut bottom, mut top) = (0.0, plate.thickness);
            for (cut, _) in
                plate.cuts.iter().zip(&crossings[1..]).filter(|(_, crossed)| is_inside(crossed))
            {
                match cut.face {
                    Face::Top => top = f64::min(top, plate.thickness - cut.depth),
                    Face::Bottom => bottom = f64::max(bottom, cut.depth),
                }
            }
            if bottom + 1e-9 < top {
                self.add_stretch([pair[0], pair[1]], y, dy, [bottom, top]);
            }
        }
    }

    fn add_stretch(&mut self, [a, b]: [f64; 2], y: f64, dy: f64, [bottom, top]: [f64; 2]) {
        let (length, first) = (b - a, 0.5 * (b * b - a * a));
        self.area += dy * length;
        self.x += dy * first;
        self.y += dy * y * length;
        self.xx += dy * (b.powi(3) - a.powi(3)) / 3.0;
        self.yy += dy * y * y * length;
        self.xy += dy * y * first;
        self.volume += dy * length * (top - bottom);
        self.volume_z += dy * length * 0.5 * (top * top - bottom * bottom);
    }
}

/// Where a contour crosses the line `y`, each piece taken as half open in its own parameter.
fn crossings_with_level(contour: &Contour, y: f64) -> Vec<f64> {
    let mut at = Vec::new();
    for piece in &contour.0 {
        let (p, q) = (piece.start, piece.end);
        match piece.arc {
            None => {
                if (p.y <= y) != (q.y <= y) {
                    at.push(p.x + (y - p.y) / (q.y - p.y) * (q.x - p.x));
                }
            }
            Some(arc) => {
                let r = p.distance(arc.centre);
                let half = r * r - (y - arc.centre.y).powi(2);
                for x in [-half.max(0.0).sqrt(), half.max(0.0).sqrt()] {
                    let spoke = dvec2(x, y - arc.centre.y);
                    let from = p - arc.centre;
                    let turned = (spoke.to_angle() - from.to_angle()) * arc.sweep.signum();
                    if half > 0.0 && turned.rem_euclid(2.0 * PI) < arc.sweep.abs() {
                        at.push(arc.centre.x + x);
                    }
                }
            }
        }
    }
    at
}

#[test]
fn the_quadrature_finds_a_circle_and_its_hole() {
    let plate = Plate {
        cuts: vec![Cut::through(Contour::circle(dvec2(2.0, 1.0), 3.0))],
        ..Plate::new(Contour::circle(dvec2(1.0, 1.0), 10.0), 2.0)
    };
    let sum = Quadrature::of(&plate, 4000);
    assert!((sum.area / (91.0 * PI) - 1.0).abs() < 1e-5, "{}", sum.area);
}

#[test]
fn sample_plates_agree_with_the_quadrature() {
    let mut compared = 0;
    for seed in 0..60 {
        let plate = sample::plate(seed);
        let Ok(arrangement) = arrange(&plate, &Tolerance::default()) else { continue };
        let Some(section) = Section::new(&arrangement) else { continue };
        let sum = Quadrature::of(&plate, 1500);
        let centroid = dvec2(sum.x, sum.y) / sum.area;
        let central = [
            sum.yy - sum.area * centroid.y * centroid.y,
            sum.xx - sum.area * centroid.x * centroid.x,
            sum.xy - sum.area * centroid.x * centroid.y,
        ];
        let ours = [section.ixx_mm4, section.iyy_mm4, section.ixy_mm4];
        let scale = section.ixx_mm4 + section.iyy_mm4;
        // A line may pass just above a level edge: an error of one line in 1500.
        let (limit, size) = (1.5e-3, scale.powf(0.25));
        assert!((sum.area / section.area_mm2 - 1.0).abs() < limit, "seed {seed}: area");
        assert!(centroid.distance(section.centroid) < limit * size, "seed {seed}: centroid");
        for (ours, theirs) in ours.into_iter().zip(central) {
            assert!((ours - theirs).abs() < 2.0 * limit * scale, "seed {seed}: {ours} {theirs}");
        }
        assert!((sum.volume / arrangement.volume() - 1.0).abs() < limit, "seed {seed}: volume");
        let centre = arrangement.centre_of_mass().expect("some material");
        let z = sum.volume_z / sum.volume;
        assert!((centre.z - z).abs() < limit * plate.thickness, "seed {seed}: centre of mass");
        compared += 1;
    }
    assert!(compared > 50, "{compared}");
}
