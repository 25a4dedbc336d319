//! The last step of gluing: printed fittings that are stuck on, when the box is glued and tested. Common practice.

use design::{Design, PlacedId, Role};
use paper::Block;
use shop::glue_up::{Stuck, stuck};
use units::Length;

use super::GuideOf;
use super::beware::Said;
use super::place::bounds;
use crate::prose::{Kind, boxes, chapter, count, table, words};
use crate::safety;

/// The step; nothing where no fitting is stuck on.
pub(super) fn blocks(of: &GuideOf<'_>, said: &mut Said) -> Vec<Block> {
    let design = of.design;
    let all = stuck(design);
    if all.is_empty() {
        return Vec::new();
    }
    let columns = [
        ("no", Kind::Name),
        ("fitting", Kind::Words),
        ("onto", Kind::Words),
        ("where", Kind::Words),
        ("face that is stuck", Kind::Number),
    ];
    let mut blocks = vec![
        chapter("Last step of gluing: fittings that are stuck on"),
        words(format!(
            "{}, once the box is glued, tested and dry again, in this order. They are no part of the box and carry none of \
             its water.",
            count(all.len(), "printed fitting")
        )),
        table(columns, all.iter().map(|stuck| row(design, stuck))),
    ];
    if !said.printed_before() {
        blocks.push(safety::printed(of.file));
    }
    blocks.push(boxes(doing(design, &all)));
    blocks
}

/// How many fittings are stuck on, for the head of the guide; nothing where none is.
pub(super) fn told_before(design: &Design) -> String {
    match stuck(design).len() {
        0 => String::new(),
        n => format!(
            " After the leak test comes one more: {} that {} stuck on.",
            count(n, "printed fitting"),
            if n == 1 { "is" } else { "are" }
        ),
    }
}

fn doing(design: &Design, all: &[Stuck]) -> Vec<String> {
    let is_loose = |stuck: &&Stuck| design.placed[stuck.host].loose.is_some();
    let (loose, fixed): (Vec<&Stuck>, Vec<&Stuck>) = all.iter().partition(is_loose);
    let mut told = vec![
        "Mark each place with tape or a soft pencil, and put the fitting there dry: it must lie flat all over, and what \
         it is to hold must fit."
            .to_owned(),
        "Roughen both faces there with paper of grain 240 or so, no further than the fitting reaches, and wipe them with \
         alcohol that the plastic bears: try it on scrap, for some crack acrylic."
            .to_owned(),
    ];
    if !loose.is_empty() {
        told.push(format!(
            "On {}: out of the box, lying flat, the fitting on top with a small weight on it.",
            fit::listed(&hosts(design, &loose))
        ));
    }
    if !fixed.is_empty() {
        told.push(format!(
            "On {}: turn the empty box until the part lies below, or hold the fitting with tape that goes over it, until the \
             adhesive has set.",
            fit::listed(&hosts(design, &fixed))
        ));
    }
    told.push(
        "Put little adhesive on, press the fitting home, wipe off what comes out, and let it cure as its maker says before \
         water comes to it. Pull at each by hand then."
            .to_owned(),
    );
    told
}

/// What they are stuck to, each once.
fn hosts<'a>(design: &'a Design, all: &[&Stuck]) -> Vec<&'a str> {
    let mut names: Vec<&str> =
        all.iter().map(|stuck| design.placed[stuck.host].name.as_str()).collect();
    names.dedup();
    names
}

fn row(design: &Design, stuck: &Stuck) -> [String; 5] {
    let placed = &design.placed[stuck.fitting];
    let joint = &design.joints[stuck.joint];
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let face = format!("{} × {}", show(joint.length_mm), show(joint.width_mm));
    [
        design.pieces[placed.piece].number.clone(),
        placed.name.clone(),
        design.placed[stuck.host].name.clone(),
        place(design, stuck.fitting, stuck.host),
        face,
    ]
}

/// Where a fitting sits: on what lies flat by its edges, in the box by the inside of the walls and the bottom; on a leaf
/// also in which chamber.
fn place(design: &Design, fitting: PlacedId, host: PlacedId) -> String {
    let [a, b] = bounds(design, fitting);
    let [lo, hi] = bounds(design, host);
    let size = hi - lo;
    let thin = (0..3).min_by(|&i, &j| size[i].total_cmp(&size[j])).unwrap_or(0);
    let is_loose = design.placed[host].loose.is_some();
    let inside = fit::inside_corner(design);
    let (from, names) = if is_loose {
        (lo, ["its edge towards the inlet end", "its edge towards the front", "its lower edge"])
    } else {
        (
            inside,
            [
                "the inside of the inlet end wall",
                "the inside of the front wall",
                "the inside of the bottom",
            ],
        )
    };
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let mut told: Vec<String> = (0..3)
        .filter(|&k| k != thin)
        .map(|k| format!("{} from {}", show(a[k] - from[k]), names[k]))
        .collect();
    let middle = 0.5 * (a + b);
    if thin == 2 {
        let side = if middle.z > hi.z { "on its upper face" } else { "on its lower face" };
        told.push(side.to_owned());
    } else if design.pieces[design.placed[host].piece].role == Role::Leaf {
        let at = middle.truncate();
        let holds = |c: &&design::Chamber| c.min.cmple(at).all() && at.cmple(c.max).all();
        let chamber = design.chambers.iter().find(holds);
        told.extend(chamber.map(|chamber| format!("on the face towards {}", chamber.name)));
    }
    format!("its near side {}", told.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::{demo, of, text};

    /// By hand from `params/fragfarm.toml`: the handle's middle is 60 mm from the lid's corner along it, the ledges' 780 and
    /// 1080 mm from the inside of the inlet end wall, and their upper faces 150 mm above the bottom.
    #[test]
    fn every_fitting_that_is_stuck_on_has_its_place_in_the_last_step() {
        let (file, design, scene) = demo("fragfarm");
        let glue_up = shop::glue_up::GlueUp { steps: Vec::new() };
        let of = of(&file, &design, &scene, &glue_up);
        let told = text(&blocks(&of, &mut Said::default()));
        assert!(
            told.contains("5 printed fittings, once the box is glued, tested and dry"),
            "{told}"
        );
        let rows: Vec<&str> =
            told.lines().filter(|line| line.matches(" | ").count() == 4).collect();
        assert_eq!(rows.len(), 1 + 5, "{told}");
        let far = |row: &str| -> f64 {
            let (_, after) = row.split_once("its near side ").expect("a place");
            after.split(' ').next().expect("a number").parse().expect("a number")
        };
        for id in stuck(&design) {
            let [a, b] = bounds(&design, id.fitting);
            let name = &design.placed[id.fitting].name;
            let row = rows.iter().find(|row| row.contains(&format!("| {name} |"))).expect("told");
            let half = 0.5 * (b - a).x;
            let middle = far(row) + half;
            let wanted = if name.contains("handle") { vec![60.0] } else { vec![780.0, 1080.0] };
            assert!(wanted.iter().any(|w| (middle - w).abs() < 0.1), "{middle}: {row}");
        }
        // The adhesive is warned of once.
        assert_eq!(told.matches("A printed part is not welded").count(), 1, "{told}");
        let mut said = Said::default();
        said.printed_before();
        assert!(!text(&blocks(&of, &mut said)).contains("A printed part is not welded"));
    }

    #[test]
    fn without_any_nothing_is_said() {
        let (file, design, scene) = demo("stuck-leaf");
        let glue_up = shop::glue_up::GlueUp { steps: Vec::new() };
        let of = of(&file, &design, &scene, &glue_up);
        assert!(blocks(&of, &mut Said::default()).is_empty());
        assert_eq!(told_before(&design), "");
    }
}
