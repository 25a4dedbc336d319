//! Bottom, walls and rim.

use findings::Finding;
use glam::{DVec2, DVec3, dvec2, dvec3};
use params::{CornerJoint, Wall};
use plate::{Contour, Cut, Face, Plate, Shape};

use crate::draft::{Builder, Draft, DraftId};
use crate::frame::{Host, pose};
use crate::gluing::widened_for;
use crate::model::{JointKind, Role, Sheet};

/// The box as built, and what leans on it needs to know.
#[derive(Clone, Debug)]
pub(crate) struct Enclosure {
    /// Outer size, mm.
    pub(crate) outside: DVec3,
    /// Height of the inside of the bottom, mm.
    pub(crate) floor_z: f64,
    /// Height of the walls' upper edge, mm.
    pub(crate) wall_top_z: f64,
    /// Least and greatest inside corner, mm.
    pub(crate) inside: [DVec2; 2],
    pub(crate) bottom: DraftId,
    pub(crate) rim: Option<DraftId>,
    /// Openings of the rim between braces: least and greatest corner, mm.
    pub(crate) rim_openings: Vec<[DVec2; 2]>,
    front: Host,
    back: Host,
    inlet_end: Host,
    far_end: Host,
}

impl Enclosure {
    /// The inner face of a wall.
    pub(crate) fn wall(&self, wall: Wall) -> Host {
        match wall {
            Wall::Front => self.front,
            Wall::Back => self.back,
            Wall::InletEnd => self.inlet_end,
            Wall::FarEnd => self.far_end,
        }
    }

    /// Height of the water space above the inside of the bottom, mm.
    pub(crate) fn inside_height_mm(&self) -> f64 {
        self.wall_top_z - self.floor_z
    }
}

/// Sizes that follow from the file alone.
struct Sizes {
    length: f64,
    width: f64,
    height: f64,
    bottom: Sheet,
    wall: Sheet,
    /// Depth of the steps in bottom and walls, 0 for butt joints.
    bottom_step: f64,
    wall_step: f64,
    /// Width of these steps: for the edge of a wall.
    step_width: f64,
    wall_top: f64,
}

impl Sizes {
    /// Length of an end wall, which stands between the long ones or in their steps.
    fn end_length(&self) -> f64 {
        self.width - 2.0 * (self.wall.thickness_mm() - self.wall_step)
    }

    /// Lengths of front, back, inlet end and far end.
    fn wall_lengths(&self) -> [f64; 4] {
        [self.length, self.length, self.end_length(), self.end_length()]
    }
}

pub(crate) fn build(b: &mut Builder<'_>) -> Option<Enclosure> {
    let sizes = sizes(b)?;
    let bottom = bottom(b, &sizes);
    let [front, back, inlet_end, far_end] = walls(b, &sizes, bottom);
    let (rim, rim_openings) = rim(b, &sizes, [front, back, inlet_end, far_end]);
    let t = sizes.wall.thickness_mm();
    Some(Enclosure {
        outside: dvec3(sizes.length, sizes.width, sizes.height),
        floor_z: sizes.bottom.thickness_mm(),
        wall_top_z: sizes.wall_top,
        inside: [dvec2(t, t), dvec2(sizes.length - t, sizes.width - t)],
        bottom,
        rim,
        rim_openings,
        front,
        back,
        inlet_end,
        far_end,
    })
}

fn sizes(b: &mut Builder<'_>) -> Option<Sizes> {
    let spec = &b.file.enclosure;
    let wall = b.sheet(None);
    let bottom = b.sheet(spec.bottom_sheet.as_ref());
    let rim_thickness = spec.rim.as_ref().map_or(0.0, |r| b.sheet(r.sheet.as_ref()).thickness_mm());
    let [length, width, height] =
        [spec.outside.length, spec.outside.width, spec.outside.height].map(units::Length::to_mm);
    // At most half the sheet stays safe over the whole thickness band: 40 % of the thinnest.
    let step = |sheet: &Sheet| match spec.joint {
        CornerJoint::Butt => 0.0,
        CornerJoint::Rabbet => (4.0 * sheet.band_mm[0]).floor() / 10.0,
    };
    let sizes = Sizes {
        length,
        width,
        height,
        bottom_step: step(&bottom),
        wall_step: step(&wall),
        step_width: widened_for(b, &wall),
        wall_top: height - rim_thickness,
        bottom,
        wall,
    };
    let clear = [
        ("box.outside.length", length - 2.0 * sizes.wall.thickness_mm(), 100.0),
        ("box.outside.width", width - 2.0 * sizes.wall.thickness_mm(), 60.0),
        ("box.outside.height", sizes.wall_top - sizes.bottom.thickness_mm(), 60.0),
    ];
    let mut fits = true;
    for (parameter, left, least) in clear {
        if left < least {
            let message =
                format!("the sheets leave {left:.1} mm inside; at least {least:.0} mm are needed");
            b.find(
                Finding::fails("box-too-small", parameter, message)
                    .with_limit(left, least, "mm")
                    .with_hint("make the box larger or take thinner sheet"),
            );
            fits = false;
        }
    }
    fits.then_some(sizes)
}

fn bottom(b: &mut Builder<'_>, s: &Sizes) -> DraftId {
    let mut plate = Plate::new(
        Contour::rectangle(DVec2::ZERO, dvec2(s.length, s.width)),
        s.bottom.thickness_mm(),
    );
    if s.bottom_step > 0.0 {
        let w = s.step_width;
        let over = 5.0; // Steps run out over the edge, so that the cutter leaves no rib.
        let strips = [
            [dvec2(-over, -over), dvec2(s.length + over, w)],
            [dvec2(-over, s.width - w), dvec2(s.length + over, s.width + over)],
            [dvec2(-over, -over), dvec2(w, s.width + over)],
            [dvec2(s.length - w, -over), dvec2(s.length + over, s.width + over)],
        ];
        plate.cuts.extend(
            strips
                .map(|[lo, hi]| Cut::pocket(Contour::rectangle(lo, hi), Face::Top, s.bottom_step)),
        );
    }
    b.add(Draft::new(Role::Bottom, "bottom", "box", Shape::Sheet(plate)).sheet(&s.bottom))
}

/// Front, back, inlet end, far end. Every wall's own frame looks from inside: its upper face is the
/// inner one, so that all machining is done from one side.
fn walls(b: &mut Builder<'_>, s: &Sizes, bottom: DraftId) -> [Host; 4] {
    let t = s.wall.thickness_mm();
    let z0 = s.bottom.thickness_mm() - s.bottom_step;
    let height = s.wall_top - z0;
    let end_y = t - s.wall_step;
    let step = |plate: &mut Plate, length: f64| {
        if s.wall_step > 0.0 {
            let w = s.step_width;
            for [lo, hi] in [[-5.0, w], [length - w, length + 5.0]] {
                let contour = Contour::rectangle(dvec2(lo, -5.0), dvec2(hi, height + 5.0));
                plate.cuts.push(Cut::pocket(contour, Face::Top, s.wall_step));
            }
        }
    };
    let mut long = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(s.length, height)), t);
    step(&mut long, s.length);
    let end = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(s.end_length(), height)), t);

    let places = [
        ("front wall", &long, pose(-DVec3::X, DVec3::Z, dvec3(s.length, 0.0, z0)), DVec3::Y, t),
        (
            "back wall",
            &long,
            pose(DVec3::X, DVec3::Z, dvec3(0.0, s.width, z0)),
            -DVec3::Y,
            s.width - t,
        ),
        ("inlet end wall", &end, pose(DVec3::Y, DVec3::Z, dvec3(0.0, end_y, z0)), DVec3::X, t),
        (
            "far end wall",
            &end,
            pose(-DVec3::Y, DVec3::Z, dvec3(s.length, s.width - end_y, z0)),
            -DVec3::X,
            s.length - t,
        ),
    ];
    let hosts = places.map(|(name, plate, pose, inward, plane)| {
        let draft = b.add(
            Draft::new(Role::Wall, name, "box", Shape::Sheet(plate.clone()))
                .sheet(&s.wall)
                .pose(pose),
        );
        Host {
            draft,
            inward,
            plane,
            pose,
            band_mm: s.wall.band_mm,
            z: [z0, s.wall_top],
            lifts_out: false,
        }
    });
    glue_walls(b, s, bottom, hosts, height);
    hosts
}

fn glue_walls(b: &mut Builder<'_>, s: &Sizes, bottom: DraftId, walls: [Host; 4], height: f64) {
    let t = s.wall.thickness_mm();
    let kind = if s.bottom_step > 0.0 { JointKind::Rabbet } else { JointKind::Butt };
    for (wall, length) in walls.iter().zip(s.wall_lengths()) {
        b.glue(kind, (wall.draft, bottom), DVec3::NEG_Z, length, t + s.bottom_step);
    }
    let [front, back, inlet_end, far_end] = walls;
    for end in [inlet_end, far_end] {
        for long in [front, back] {
            b.glue(kind, (end.draft, long.draft), -long.inward, height, t + s.wall_step);
        }
    }
}

/// The ring around the top and its openings.
fn rim(b: &mut Builder<'_>, s: &Sizes, walls: [Host; 4]) -> (Option<DraftId>, Vec<[DVec2; 2]>) {
    let open = vec![[
        DVec2::splat(s.wall.thickness_mm()),
        dvec2(s.length, s.width) - s.wall.thickness_mm(),
    ]];
    let Some(spec) = &b.file.enclosure.rim else { return (None, open) };
    let sheet = b.sheet(spec.sheet.as_ref());
    let (frame, corner) = (spec.width.to_mm(), spec.corner.to_mm());
    let Some(gaps) = gaps_between_braces(b, s, frame, corner) else { return (None, open) };

    let mut plate =
        Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(s.length, s.width)), sheet.thickness_mm());
    let openings: Vec<[DVec2; 2]> =
        gaps.iter().map(|&[x0, x1]| [dvec2(x0, frame), dvec2(x1, s.width - frame)]).collect();
    plate.cuts.extend(
        openings.iter().map(|&[lo, hi]| Cut::through(Contour::rounded_rectangle(lo, hi, corner))),
    );
    let pose = pose(DVec3::X, DVec3::Y, dvec3(0.0, 0.0, s.wall_top));
    let rim = b
        .add(Draft::new(Role::Rim, "rim", "box.rim", Shape::Sheet(plate)).sheet(&sheet).pose(pose));
    for (wall, length) in walls.iter().zip(s.wall_lengths()) {
        b.glue(JointKind::Butt, (rim, wall.draft), DVec3::NEG_Z, length, s.wall.thickness_mm());
    }
    (Some(rim), openings)
}

/// The stretches of the rim's opening between braces, along the length; `None` with findings when they do not fit.
fn gaps_between_braces(
    b: &mut Builder<'_>,
    s: &Sizes,
    frame: f64,
    corner: f64,
) -> Option<Vec<[f64; 2]>> {
    let spec = b.file.enclosure.rim.as_ref()?;
    let across = s.width - 2.0 * frame;
    if across < 2.0 * corner + 1.0 || frame < s.wall.thickness_mm() {
        let message = format!(
            "a rim {frame:.0} mm wide with corners of {corner:.0} mm leaves {across:.0} mm across and lies on a wall of {:.1} mm",
            s.wall.thickness_mm()
        );
        b.find(Finding::fails("rim-does-not-fit", "box.rim.width", message).with_hint(
            "the rim must cover the walls and leave more than twice its corner radius across the opening",
        ));
        return None;
    }
    let t = s.wall.thickness_mm();
    let mut braces: Vec<(usize, f64, f64)> = spec
        .braces
        .iter()
        .enumerate()
        .map(|(i, brace)| (i, t + brace.at.to_mm(), brace.width.to_mm()))
        .collect();
    braces.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut gaps = Vec::new();
    let mut from = frame;
    for &(i, at, width) in &braces {
        gaps.push((i, [from, at - 0.5 * width]));
        from = at + 0.5 * width;
    }
    gaps.push((braces.last().map_or(0, |b| b.0), [from, s.length - frame]));
    let mut fits = true;
    for &(i, [x0, x1]) in &gaps {
        if x1 - x0 < 2.0 * corner + 1.0 {
            let message = format!(
                "the brace leaves an opening of {:.0} mm beside it; more than {:.0} mm are needed",
                x1 - x0,
                2.0 * corner
            );
            let parameter = if braces.is_empty() {
                "box.rim.corner".to_owned()
            } else {
                format!("box.rim.braces[{i}].at")
            };
            b.find(
                Finding::fails("brace-does-not-fit", parameter, message)
                    .with_hint("move the brace, or make it or the corners smaller"),
            );
            fits = false;
        }
    }
    fits.then(|| gaps.into_iter().map(|(_, gap)| gap).collect())
}
