//! Parts made by hand, each with a volume from school geometry: the solid is closed and oriented,
//! and solid and mesh have that volume.
use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Shape, Turned};
use solid::{Checked, FaceCounts, checked};
use std::f64::consts::PI;

const CHORD_ERROR_MM: f64 = 0.02;

#[track_caller]
fn check(shape: Shape, volume_mm3: f64, [plane, cylinder, cone]: [usize; 3]) -> Checked {
    let made = checked(&shape, CHORD_ERROR_MM).expect("a sound part");
    assert!(
        (made.solid.volume_mm3() / volume_mm3 - 1.0).abs() < 1e-12,
        "{} mm³",
        made.solid.volume_mm3()
    );
    assert_eq!(made.solid.brep().face_counts(), FaceCounts { plane, cylinder, cone });
    assert!(made.mesh.is_closed());
    assert_eq!(made.mesh.normals.len(), made.mesh.triangles.len());
    made
}

fn sheet(outline: Contour, thickness: f64, cuts: Vec<Cut>) -> Shape {
    Shape::Sheet(Plate { cuts, ..Plate::new(outline, thickness) })
}

fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Contour {
    Contour::rectangle(dvec2(x0, y0), dvec2(x1, y1))
}

fn turned(profile: &[(f64, f64)]) -> Shape {
    Shape::Turned(Turned { profile: profile.iter().map(|&p| DVec2::from(p)).collect() })
}

#[test]
fn plain_sheet() {
    let made = check(sheet(rectangle(0., 0., 100., 50.), 6., vec![]), 30_000., [6, 0, 0]);
    assert_eq!(made.mesh.positions.len(), 8);
    assert_eq!(made.mesh.triangles.len(), 12);
    assert_eq!(made.mesh.lines.len(), 12);
    assert!((made.mesh.volume_mm3() - 30_000.).abs() < 1e-9);
}

#[test]
fn round_hole() {
    let cuts = vec![Cut::through(Contour::circle(dvec2(30., 25.), 10.))];
    let made = check(sheet(rectangle(0., 0., 100., 50.), 6., cuts), 30_000. - 600. * PI, [6, 2, 0]);
    // Twelve straight edges, four half circles; the two seams of the hole are not seen.
    assert_eq!(made.mesh.lines.len(), 16);
}

#[test]
fn slot_passes_smoothly_from_flat_to_round() {
    let cuts = vec![Cut::through(Contour::slot(dvec2(30., 25.), dvec2(60., 25.), 4.))];
    let made = check(
        sheet(rectangle(0., 0., 100., 50.), 6., cuts),
        30_000. - 6. * (240. + 16. * PI),
        [8, 2, 0],
    );
    assert_eq!(made.mesh.lines.len(), 12 + 8);
}

#[test]
fn pocket_from_the_bottom() {
    let cuts = vec![Cut::pocket(rectangle(10., 10., 40., 30.), Face::Bottom, 2.)];
    check(sheet(rectangle(0., 0., 100., 50.), 6., cuts), 30_000. - 1200., [11, 0, 0]);
}

#[test]
fn rabbet_along_an_edge() {
    let cuts = vec![Cut::pocket(rectangle(90., -5., 105., 55.), Face::Top, 2.)];
    // Two ends of the sheet are split where the rabbet begins.
    check(sheet(rectangle(0., 0., 100., 50.), 6., cuts), 30_000. - 1000., [10, 0, 0]);
}

#[test]
fn grooves_that_cross_on_both_faces() {
    let cuts = vec![
        Cut::pocket(rectangle(40., -1., 60., 101.), Face::Top, 3.),
        Cut::pocket(rectangle(-1., 40., 101., 60.), Face::Bottom, 2.),
    ];
    let volume = 60_000. - 20. * 100. * 3. - 20. * 100. * 2.;
    check(sheet(rectangle(0., 0., 100., 100.), 6., cuts), volume, [30, 0, 0]);
}

#[test]
fn groove_that_ends_round_and_meets_a_deeper_pocket() {
    let cuts = vec![
        Cut::pocket(Contour::slot(dvec2(20., 25.), dvec2(60., 25.), 4.), Face::Top, 2.),
        Cut::pocket(rectangle(60., 15., 80., 35.), Face::Top, 4.),
    ];
    // The slot's round end lies in the pocket.
    let volume = 30_000. - 2. * (40. * 8. + 8. * PI) - 4. * 400.;
    let made =
        checked(&sheet(rectangle(0., 0., 100., 50.), 6., cuts), CHORD_ERROR_MM).expect("sound");
    assert!((made.solid.volume_mm3() / volume - 1.0).abs() < 1e-12);
}

#[test]
fn pockets_of_two_depths_meet_in_a_corner() {
    // The floor between them touches itself there; the solid is sound.
    let cuts = vec![
        Cut::pocket(rectangle(10., 10., 30., 30.), Face::Top, 2.),
        Cut::pocket(rectangle(30., 30., 50., 50.), Face::Bottom, 3.),
    ];
    check(sheet(rectangle(0., 0., 60., 60.), 6., cuts), 21_600. - 800. - 1200., [16, 0, 0]);
}

#[test]
fn rods_pipes_and_cones() {
    check(Shape::Turned(Turned::cylinder(20., 7.)), 700. * PI, [2, 2, 0]);
    let pipe = check(Shape::Turned(Turned::pipe(20., 16., 50.)), 1800. * PI, [2, 4, 0]);
    assert_eq!(pipe.mesh.lines.len(), 8);
    check(turned(&[(0., 0.), (3., 0.), (0., 4.)]), 12. * PI, [1, 0, 2]);
    // A ring with a flange and a bevelled nose.
    let ring = [(10., 0.), (25., 0.), (25., 3.), (14., 3.), (14., 10.), (13., 12.), (10., 12.)];
    let frustum = PI * 2. / 3. * (196. + 14. * 13. + 169.);
    check(turned(&ring), PI * (625. * 3. + 196. * 7. - 1200.) + frustum, [3, 6, 2]);
}

#[test]
fn bounds_reach_to_the_bulge_of_an_arc() {
    let shape = sheet(Contour::slot(dvec2(0., 0.), dvec2(10., 0.), 4.), 3., vec![]);
    let made = checked(&shape, 0.1).expect("a sound part");
    let [lo, hi] = made.solid.bounds();
    assert!((lo - glam::dvec3(-4., -4., 0.)).length() < 1e-12, "{lo}");
    assert!((hi - glam::dvec3(14., 4., 3.)).length() < 1e-12, "{hi}");
}

#[test]
fn contact_in_a_corner_is_refused_by_name() {
    let cuts = vec![
        Cut::through(rectangle(10., 10., 20., 20.)),
        Cut::through(rectangle(20., 20., 30., 30.)),
    ];
    let error = checked(&sheet(rectangle(0., 0., 50., 50.), 6., cuts), 0.1).expect_err("pinched");
    assert!(matches!(error, solid::Error::Defect(plate::Defect::Pinch { .. })), "{error}");
}

#[test]
fn senseless_chord_errors_are_refused() {
    let shape = Shape::Turned(Turned::cylinder(20., 7.));
    for chord_error_mm in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let error = checked(&shape, chord_error_mm).expect_err("no length");
        assert!(matches!(error, solid::Error::ChordError { .. }), "{error}");
    }
}

#[test]
fn arcs_closer_than_the_chord_error_are_meshed_finer_or_refused() {
    // A ring 0.02 mm wide. Its two circles begin at different places, so that coarse chords cross.
    let turn = DVec2::from_angle(0.1);
    let hole = Contour::circle(DVec2::ZERO, 20.).moved(|p| turn.rotate(p), false);
    let ring = sheet(Contour::circle(DVec2::ZERO, 20.02), 6., vec![Cut::through(hole)]);
    let made = checked(&ring, 0.1).expect("meshed at 0.01 mm");
    assert!(made.mesh.triangles.len() > 4 * 2 * 70, "{}", made.mesh.triangles.len());
    let error = checked(&ring, 1.0).expect_err("chords cross at 0.1 mm");
    assert!(matches!(error, solid::Error::Unmeshable { .. }), "{error}");
    assert!(error.to_string().contains("even at a chord error of 1.0e-1 mm"), "{error}");
}
