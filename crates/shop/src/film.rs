//! Coloured film behind a wall: what is cut from the roll, what for holes, what it costs.

use design::{Design, PlacedId, Role};
use glam::{DVec2, DVec3};
use params::{Background, File, Wall};
use plate::Shape;

/// Film for the background.
#[derive(Clone, Debug, PartialEq)]
pub struct Film {
    /// A panel for each wall, in the order of the file.
    pub panels: Vec<FilmPanel>,
    /// Area of all panels with their bleed, m².
    pub area_m2: f64,
    /// Width of the roll, mm.
    pub roll_width_mm: f64,
    /// Length of the roll that they are cut from, mm.
    pub roll_length_mm: f64,
    /// What the film costs, least and greatest: by the area of the panels, and by that of the roll; `None` without a
    /// price.
    pub price: Option<[f64; 2]>,
    /// Hours to put it on by two people, least and greatest.
    pub hours: [f64; 2],
    /// What a shop asks for that, beside the film; `None` without a rate.
    pub work_price: Option<[f64; 2]>,
}

/// Film for one wall.
#[derive(Clone, Debug, PartialEq)]
pub struct FilmPanel {
    /// Which wall.
    pub wall: Wall,
    /// The wall.
    pub part: PlacedId,
    /// Width and height of the wall's outer face, mm.
    pub face_mm: DVec2,
    /// Width and height to cut, with bleed on every side, mm.
    pub size_mm: DVec2,
    /// Holes in it.
    pub cut_outs: Vec<CutOut>,
    /// How many strips it is made of: more than one where neither side fits across the roll.
    pub strips: usize,
}

/// A hole in the film around a hole in the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct CutOut {
    /// What goes through it: a fitting's name; empty for a hole without one.
    pub what: String,
    /// Its middle from the lower left corner of the wall's outer face as it is seen from outside, mm.
    pub middle_mm: DVec2,
    /// Width and height of the hole in the wall, mm.
    pub hole_mm: DVec2,
    /// Width and height to cut out of the film, mm.
    pub cut_mm: DVec2,
    /// Whether it is a circle; else a rectangle is cut out around the hole, whatever its shape.
    pub is_round: bool,
}

/// Price of film in retail, US dollars a square foot; common practice.
pub const RETAIL_USD_SQ_FT: f64 = 7.0;
/// Years that film stays as it is outdoors; common practice.
pub const OUTDOOR_YEARS: u32 = 7;
/// How far strips of film lie over each other, mm; common practice.
pub const STRIP_OVERLAP_MM: f64 = 10.0;
/// Hours for one wall by two people, least and greatest; our judgement.
const HOURS_PER_WALL: [f64; 2] = [0.5, 1.0];

/// The film of the file's background; `None` where it has none, or the walls are not there.
pub fn film(file: &File, design: &Design) -> Option<Film> {
    let spec = file.background.as_ref()?;
    let mut walls = spec.walls.clone();
    walls.dedup();
    let panels: Vec<FilmPanel> =
        walls.into_iter().filter_map(|wall| panel(design, spec, wall)).collect();
    if panels.is_empty() {
        return None;
    }
    let roll = spec.roll.to_mm();
    let area_m2 = panels.iter().map(|p| p.size_mm.x * p.size_mm.y * 1e-6).sum();
    let roll_length_mm = roll_length(&panels, roll);
    let price = spec.price_of_m2().map(|m2| [m2 * area_m2, m2 * roll * roll_length_mm * 1e-6]);
    #[expect(clippy::cast_precision_loss, reason = "at most four walls")]
    let hours = HOURS_PER_WALL.map(|h| h * panels.len() as f64);
    let work_price = spec.shop_hour.map(|rate| hours.map(|h| h * rate));
    Some(Film { panels, area_m2, roll_width_mm: roll, roll_length_mm, price, hours, work_price })
}

/// What a wall is called among the parts, and the direction into the sump.
fn known_as(wall: Wall) -> (&'static str, DVec3) {
    match wall {
        Wall::Front => ("front wall", DVec3::Y),
        Wall::Back => ("back wall", DVec3::NEG_Y),
        Wall::InletEnd => ("inlet end wall", DVec3::X),
        Wall::FarEnd => ("far end wall", DVec3::NEG_X),
    }
}

fn panel(design: &Design, spec: &Background, wall: Wall) -> Option<FilmPanel> {
    let (name, inward) = known_as(wall);
    let is_it = |id: &usize| {
        let placed = &design.placed[*id];
        placed.name == name && design.pieces[placed.piece].role == Role::Wall
    };
    let part = (0..design.placed.len()).find(is_it)?;
    let placed = &design.placed[part];
    let Shape::Sheet(plate) = &design.pieces[placed.piece].shape else { return None };
    let [lo, hi] = plate.outline.bounds()?;
    // Seen from outside, looking in.
    let right = inward.cross(DVec3::Z);
    let seen = |p: DVec2| {
        let p = placed.pose.transform_point3(p.extend(0.0));
        DVec2::new(p.dot(right), p.z)
    };
    let (a, b) = (seen(lo), seen(hi));
    let (corner, face_mm) = (a.min(b), (a - b).abs());
    let holes = plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness);
    let cut_outs = holes.filter_map(|cut| {
        let [lo, hi] = cut.contour.bounds()?;
        let is_round = cut.contour.as_circle().is_some();
        let middle = 0.5 * (lo + hi);
        let at = placed.pose.transform_point3(middle.extend(0.0));
        let fitting = fitting_at(design, at, inward);
        let hole_mm = (seen(hi) - seen(lo)).abs();
        let flange_mm = fitting.map_or(0.0, |(_, flange)| 2.0 * flange);
        Some(CutOut {
            what: fitting.map_or(String::new(), |(name, _)| name.to_owned()),
            middle_mm: seen(middle) - corner,
            hole_mm,
            cut_mm: hole_mm.max(DVec2::splat(flange_mm)) + 2.0 * spec.around_holes.to_mm(),
            is_round,
        })
    });
    let size_mm = face_mm + 2.0 * spec.bleed.to_mm();
    let across = size_mm.min_element();
    let roll = spec.roll.to_mm();
    Some(FilmPanel {
        wall,
        part,
        face_mm,
        size_mm,
        cut_outs: cut_outs.collect(),
        strips: strips(across, roll),
    })
}

/// The wall fitting whose axis runs through a point, and the radius of its flange, mm.
fn fitting_at(design: &Design, at: DVec3, inward: DVec3) -> Option<(&str, f64)> {
    /// Axes this near are one, mm.
    const SAME_MM: f64 = 0.5;
    design.placed.iter().find_map(|placed| {
        let piece = &design.pieces[placed.piece];
        let Shape::Turned(turned) = &piece.shape else { return None };
        let off = at - placed.pose.translation;
        let is_on_axis = (off - inward * off.dot(inward)).length() < SAME_MM;
        (piece.role == Role::WallFitting && is_on_axis)
            .then(|| (placed.name.as_str(), turned.extent().0))
    })
}

/// How many strips cover a width.
fn strips(across_mm: f64, roll_mm: f64) -> usize {
    let mut n = 1_u16;
    while across_mm > f64::from(n) * roll_mm - f64::from(n - 1) * STRIP_OVERLAP_MM && n < 1000 {
        n += 1;
    }
    usize::from(n)
}

/// Length of roll that all panels are cut from: in rows across the roll, the longest first.
fn roll_length(panels: &[FilmPanel], roll_mm: f64) -> f64 {
    let mut pieces: Vec<DVec2> = Vec::new();
    for panel in panels {
        let (long, short) = (panel.size_mm.max_element(), panel.size_mm.min_element());
        if panel.strips > 1 {
            pieces.extend(std::iter::repeat_n(DVec2::new(long, roll_mm), panel.strips));
        } else if long <= roll_mm {
            // Across the roll it takes the least of its length.
            pieces.push(DVec2::new(short, long));
        } else {
            pieces.push(DVec2::new(long, short));
        }
    }
    pieces.sort_by(|a, b| b.x.total_cmp(&a.x));
    let mut rows: Vec<(f64, f64)> = Vec::new();
    for piece in pieces {
        match rows.iter_mut().find(|(_, used)| used + piece.y <= roll_mm) {
            Some((_, used)) => *used += piece.y,
            None => rows.push((piece.x, piece.y)),
        }
    }
    rows.iter().map(|(length, _)| length).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seahorse(background: &str) -> (File, Design) {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/seahorse.toml");
        let text = std::fs::read_to_string(path).unwrap();
        let at = text.find("[background]");
        let text = match at {
            Some(at) => {
                let end = text[at + 1..].find("\n[").map_or(text.len(), |k| at + 1 + k);
                text.replace(&text[at..end], background)
            }
            None => format!("{text}\n{background}"),
        };
        let file = params::read(&text).file.unwrap();
        let design = design::resolve(&file).design.unwrap();
        (file, design)
    }

    #[test]
    fn a_square_foot_costs_what_it_costs_in_square_metres() {
        // 1 ft² = 0.09290304 m² (international foot, 0.3048 m).
        assert!((RETAIL_USD_SQ_FT / 0.092_903_04 - 75.347).abs() < 1e-3);
    }

    #[test]
    fn a_panel_is_as_large_as_the_wall_and_its_bleed() {
        let (file, design) = seahorse(
            "[background]\nwalls = [\"back\", \"far-end\"]\nbleed = 12\nroll = 1000\nprice_m2 = 75.0\nshop_hour = 60.0\n",
        );
        let film = film(&file, &design).unwrap();
        let [back, end] = &film.panels[..] else { panic!("two walls") };
        // Wall, bottom and rim stand on each other.
        let rim = design.pieces.iter().find(|piece| piece.role == Role::Rim);
        let rim = rim.map_or(0.0, |piece| match &piece.shape {
            Shape::Sheet(plate) => plate.thickness,
            Shape::Turned(_) => 0.0,
        });
        let height = design.outside.z - design.floor_z - rim;
        assert!((back.face_mm.x - design.outside.x).abs() < 1e-9);
        assert!((back.size_mm - back.face_mm - 24.0).length() < 1e-9);
        assert!((back.face_mm.y - height).abs() < 1e-9);
        let area = (back.size_mm.x * back.size_mm.y + end.size_mm.x * end.size_mm.y) * 1e-6;
        assert!((film.area_m2 - area).abs() < 1e-12);
        // Side by side across a roll of a metre.
        let rows_fit =
            back.size_mm.y + end.size_mm.y <= 1000.0 || end.size_mm.max_element() <= 1000.0;
        assert!(rows_fit && film.roll_length_mm >= back.size_mm.x);
        let [least, most] = film.price.unwrap();
        assert!((least - 75.0 * area).abs() < 1e-9 && least < most);
        assert_eq!(film.work_price, Some([60.0, 120.0]));
    }

    #[test]
    fn flanges_seal_on_bare_sheet() {
        let (file, design) = seahorse(
            "[background]\nwalls = [\"front\", \"back\", \"inlet-end\", \"far-end\"]\naround_holes = 5\n",
        );
        let film = film(&file, &design).unwrap();
        let cut_outs: Vec<&CutOut> = film.panels.iter().flat_map(|p| &p.cut_outs).collect();
        assert_eq!(cut_outs.len(), file.wall_fitting.len());
        for spec in &file.wall_fitting {
            let cut_out = cut_outs.iter().find(|c| c.what.contains(&spec.name)).unwrap();
            assert!((cut_out.hole_mm - spec.hole.to_mm()).length() < 1e-9 && cut_out.is_round);
            assert!((cut_out.cut_mm - spec.flange.to_mm() - 10.0).length() < 1e-9);
        }
    }

    #[test]
    fn a_hole_that_is_no_circle_has_a_rectangle_cut_out_around_it() {
        let (file, mut design) = seahorse("[background]\nwalls = [\"back\"]\naround_holes = 5\n");
        let before = film(&file, &design).unwrap().panels[0].cut_outs.len();
        let wall = design.placed.iter().find(|placed| placed.name == "back wall").unwrap().piece;
        let Shape::Sheet(plate) = &mut design.pieces[wall].shape else { panic!("a sheet") };
        let [lo, _] = plate.outline.bounds().unwrap();
        let hole = plate::Contour::rectangle(lo + 30.0, lo + DVec2::new(70.0, 50.0));
        let depth = plate.thickness;
        plate.cuts.push(plate::Cut { contour: hole, face: plate::Face::Top, depth });
        let film = film(&file, &design).unwrap();
        let cut_outs = &film.panels[0].cut_outs;
        assert_eq!(cut_outs.len(), before + 1);
        let rectangle = cut_outs.iter().find(|cut_out| !cut_out.is_round).unwrap();
        assert!((rectangle.hole_mm - DVec2::new(40.0, 20.0)).length() < 1e-9, "{rectangle:?}");
        assert!((rectangle.cut_mm - DVec2::new(50.0, 30.0)).length() < 1e-9, "{rectangle:?}");
    }

    #[test]
    fn holes_are_where_they_are_seen_from_outside() {
        let (file, design) =
            seahorse("[background]\nwalls = [\"front\", \"back\", \"inlet-end\", \"far-end\"]\n");
        let film = film(&file, &design).unwrap();
        for panel in &film.panels {
            for cut_out in &panel.cut_outs {
                let spec =
                    file.wall_fitting.iter().find(|f| cut_out.what.contains(&f.name)).unwrap();
                let wall = &design.placed[panel.part];
                // From the inside of the inlet end, or of the front, to the wall's own ends.
                let thickness = 8.0_f64;
                let along = match panel.wall {
                    Wall::Front => thickness + spec.at.to_mm(),
                    Wall::Back => design.outside.x - thickness - spec.at.to_mm(),
                    Wall::FarEnd => {
                        thickness + spec.at.to_mm()
                            - wall
                                .pose
                                .translation
                                .y
                                .min(design.outside.y - wall.pose.translation.y)
                    }
                    Wall::InletEnd => {
                        panel.face_mm.x - (thickness + spec.at.to_mm() - wall.pose.translation.y)
                    }
                };
                assert!((cut_out.middle_mm.x - along).abs() < 0.5, "{panel:?} {along}");
            }
        }
    }

    #[test]
    fn what_is_wider_than_the_roll_is_made_of_strips() {
        assert_eq!([1000.0, 1001.0, 1990.0, 1991.0].map(|w| strips(w, 1000.0)), [1, 2, 2, 3]);
    }
}
