//! The same plates built slab by slab with truck's stock builder (splines, sweeps) and meshed with
//! its stock tessellation: a second modeller that shares nothing with ours but the drawing.
use glam::{DVec2, dvec2};
use plate::{Contour, Cut, Face, Plate, Shape};
use solid::checked;
use truck_meshalgo::prelude::{CalcVolume, MeshableShape, MeshedShape};
use truck_modeling::{EuclideanSpace, Point3, Vector3, Wire, builder};

const CHORD_ERROR_MM: f64 = 0.005;

/// Volume of the plate by the stock modeller. Its cuts must not meet each other or the outline.
fn stock_volume_mm3(plate: &Plate) -> f64 {
    let floor = |cut: &Cut| match cut.face {
        Face::Top => (plate.thickness - cut.depth).max(0.0),
        Face::Bottom => cut.depth.min(plate.thickness),
    };
    let mut levels = vec![0.0, plate.thickness];
    levels.extend(plate.cuts.iter().map(floor));
    levels.sort_by(f64::total_cmp);
    let slab = |z: &[f64]| {
        let cuts_through = |cut: &&Cut| match cut.face {
            Face::Top => floor(cut) <= z[0],
            Face::Bottom => z[1] <= floor(cut),
        };
        let holes = plate.cuts.iter().filter(cuts_through).map(|cut| cut.contour.reversed());
        let loops: Vec<Contour> = std::iter::once(plate.outline.clone()).chain(holes).collect();
        slab_volume_mm3(&loops, z)
    };
    levels.windows(2).filter(|z| z[1] - z[0] > 1e-9).map(slab).sum()
}

fn slab_volume_mm3(loops: &[Contour], z: &[f64]) -> f64 {
    let wires: Vec<Wire> = loops.iter().map(|contour| wire(contour, z[0])).collect();
    let face = builder::try_attach_plane(&wires).expect("loops in a plane");
    let slab = builder::tsweep(&face, Vector3::unit_z() * (z[1] - z[0]));
    // Not welded: that takes minutes, and the volume does not need it.
    slab.triangulation(CHORD_ERROR_MM).to_polygon().volume()
}

fn wire(contour: &Contour, z: f64) -> Wire {
    let point = |p: DVec2| Point3::from_vec(Vector3::new(p.x, p.y, z));
    let vertices: Vec<_> = contour.0.iter().map(|s| builder::vertex(point(s.start))).collect();
    let edge = |(k, segment): (usize, &plate::Segment)| {
        let (start, end) = (&vertices[k], &vertices[(k + 1) % vertices.len()]);
        match segment.arc {
            None => builder::line(start, end),
            Some(_) => builder::circle_arc(start, end, point(segment.midpoint())),
        }
    };
    contour.0.iter().enumerate().map(edge).collect()
}

/// Nine fields of 60 mm with a cut in each, different for every number.
fn panel(number: u32) -> Plate {
    let outline =
        Contour::rounded_rectangle(dvec2(0.0, 0.0), dvec2(200.0, 200.0), 3.0 + f64::from(number));
    let mut plate = Plate::new(outline, 5.0 + f64::from(number));
    for field in 0..9 {
        let share = (f64::from(9 * number + field) * 0.618_034).fract();
        let at = dvec2(f64::from(field % 3), f64::from(field / 3)) * 60.0 + 40.0;
        let reach = DVec2::from_angle(6.0 * share) * 8.0;
        let contour = match (field + number) % 4 {
            0 => Contour::circle(at, 3.0 + 20.0 * share),
            1 => Contour::slot(at - reach, at + reach, 2.0 + 10.0 * share),
            2 => Contour::rounded_rectangle(at - 12.0, at + dvec2(10.0, 5.0 + 15.0 * share), 4.0),
            _ => Contour::rectangle(at - 10.0 * share - 1.0, at + 15.0),
        };
        plate.cuts.push(match field % 3 {
            0 => Cut::through(contour),
            1 => Cut::pocket(contour, Face::Top, 1.0 + 3.0 * share),
            _ => Cut::pocket(contour, Face::Bottom, 2.0),
        });
    }
    plate
}

#[test]
fn volumes_agree_with_the_stock_modeller() {
    for number in 0..4 {
        let plate = panel(number);
        let stock = stock_volume_mm3(&plate);
        // Each mesh is within the chord error of the exact solid.
        let limit = CHORD_ERROR_MM * round_area_mm2(&plate);
        let made = checked(&Shape::Sheet(plate), CHORD_ERROR_MM).expect("a sound panel");
        let (exact, mesh) = (made.solid.volume_mm3(), made.mesh.volume_mm3());
        println!("panel {number}: {exact} mm³, stock {stock} mm³, allowed ± {limit}");
        assert!((exact - stock).abs() < limit, "panel {number}");
        assert!((mesh - stock).abs() < 2.0 * limit, "panel {number}");
    }
}

/// Area of all round walls.
fn round_area_mm2(plate: &Plate) -> f64 {
    let arcs = |contour: &Contour| {
        let lengths = contour.0.iter().filter(|s| s.arc.is_some()).map(plate::Segment::length);
        lengths.sum::<f64>()
    };
    let of_cuts = plate.cuts.iter().map(|cut| arcs(&cut.contour) * cut.depth.min(plate.thickness));
    arcs(&plate.outline) * plate.thickness + of_cuts.sum::<f64>()
}
