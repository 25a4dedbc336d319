//! Where every part that is glued in or bored for stands, to be set out with a square and a rule.

use design::{Design, Placed, Role};
use glam::DVec3;
use plate::Shape;
use units::Length;

use fit::inside_corner;

/// Heads of the columns.
pub(crate) const HEAD: [&str; 5] =
    ["no", "part", "from the inlet end", "from the front", "above the floor"];
/// From where everything is measured.
pub(crate) const NOTE: &str = "Distances from the inner face of the inlet end wall and of the front wall to the part's \
    near side, and heights of its lower edge above the inside of the bottom; for wall fittings and pipes those of the \
    axis. Below zero is inside the wall or the bottom. Dry-fit before gluing.";

/// Where one part stands, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Setting {
    number: String,
    name: String,
    from_inlet_end: String,
    from_front: String,
    above_floor: String,
}

impl Setting {
    /// The cells of its line, in the order of [`HEAD`].
    pub(crate) fn cells(&self) -> [String; 5] {
        let Self { number, name, from_inlet_end, from_front, above_floor } = self;
        [number, name, from_inlet_end, from_front, above_floor].map(Clone::clone)
    }
}

/// Every leaf, guide, ledge and fitting in its place, and every brace of the rim.
pub(crate) fn of(design: &Design) -> Vec<Setting> {
    let origin = inside_corner(design);
    let mut settings = Vec::new();
    for placed in &design.placed {
        let piece = &design.pieces[placed.piece];
        let show = |at: DVec3, name: &str| {
            let [x, y, z] =
                (at - origin).to_array().map(|mm| Length::mm(mm).show_fine(design.report));
            Setting {
                number: piece.number.clone(),
                name: name.to_owned(),
                from_inlet_end: x,
                from_front: y,
                above_floor: z,
            }
        };
        if is_set_out(piece.role) {
            if let Some(at) = place(&piece.shape, placed) {
                settings.push(show(at, &placed.name));
            }
        } else if let (Role::Rim, Shape::Sheet(plate)) = (piece.role, &piece.shape) {
            for (i, at) in braces(plate).into_iter().enumerate() {
                let at = placed.pose.transform_point3(at);
                settings.push(show(at, &format!("brace {} of the rim", i + 1)));
            }
        }
    }
    settings
}

fn is_set_out(role: Role) -> bool {
    use Role::{DrainPipe, Fitting, GuideChannel, GuideStrip, Leaf, Ledge, WallFitting};
    matches!(role, Leaf | GuideStrip | GuideChannel | Ledge | Fitting | WallFitting | DrainPipe)
}

/// Least corner of a sheet part in the sump's frame; for a body of revolution the lowest point of its axis.
fn place(shape: &Shape, placed: &Placed) -> Option<DVec3> {
    match shape {
        Shape::Sheet(plate) => {
            let [lo, hi] = plate.outline.bounds()?;
            let corners = [lo.extend(0.0), hi.extend(plate.thickness)];
            let [a, b] = corners.map(|corner| placed.pose.transform_point3(corner));
            Some(a.min(b))
        }
        Shape::Turned(turned) => {
            let ends = turned.profile.iter().map(|p| DVec3::new(0.0, 0.0, p.y));
            ends.map(|end| placed.pose.transform_point3(end)).reduce(DVec3::min)
        }
    }
}

/// Least corner of every brace: of what is left between two openings of the rim, in its own frame.
fn braces(rim: &plate::Plate) -> Vec<DVec3> {
    let mut openings: Vec<_> = rim.cuts.iter().filter_map(|cut| cut.contour.bounds()).collect();
    openings.sort_by(|a, b| a[0].x.total_cmp(&b[0].x));
    openings.windows(2).map(|pair| DVec3::new(pair[0][1].x, pair[0][0].y, 0.0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand from `params/seahorse.toml`: the inlet chamber is 220 mm long and its guide strips are 15 mm wide; the
    /// fitting `return line` is bored 300 mm from the front and 290 mm above the floor.
    #[test]
    fn parts_stand_where_the_file_says() {
        let file = params::read(include_str!("../../../../params/seahorse.toml")).file;
        let design = design::resolve(&file.expect("understood")).design.expect("resolved");
        let settings = of(&design);
        let cells = |name: &str| {
            let setting = settings.iter().find(|setting| setting.name == name);
            setting.unwrap_or_else(|| panic!("no `{name}`")).cells()
        };
        assert_eq!(cells("guide strip first 1")[2..], ["205 mm", "0 mm", "0 mm"]);
        assert_eq!(cells("fitting return line")[3..], ["300 mm", "290 mm"]);
        // The brace is 60 mm wide, its middle 790 mm from the inlet end.
        assert_eq!(cells("brace 1 of the rim")[2], "760 mm");
    }
}
