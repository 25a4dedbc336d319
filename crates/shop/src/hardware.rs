//! What is bought and printed beside the sheet, with how many of each, and what is used up in gluing.

use design::{Design, JointKind, PieceId, Role};
use glam::DVec2;
use params::DrainDuty;
use plate::Shape;
use units::Length;

use crate::estimate::shown_fluid;
use crate::glue_up::{Bond, NEEDLE_MM, bond, plastic, solvent_ml};

/// One line of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareItem {
    /// Number in the parts list; empty for what is no part of the design.
    pub number: String,
    /// What it is.
    pub name: String,
    /// How many.
    pub quantity: usize,
    /// How one comes by it.
    pub origin: Origin,
    /// What to mind when buying or printing it.
    pub notes: Vec<String>,
    /// The part, where it is one.
    pub piece: Option<PieceId>,
}

/// How one comes by a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// Printed.
    Printed,
    /// Bought.
    Bought,
    /// Stands in the sump and is usually there already: a pump, a skimmer.
    Equipment,
    /// Not described in the file, but needed to run it (common practice).
    Beside,
}

impl Origin {
    /// In words, for lists.
    pub fn words(self) -> &'static str {
        match self {
            Self::Printed => "printed",
            Self::Bought => "bought",
            Self::Equipment => "equipment",
            Self::Beside => "beside",
        }
    }
}

/// Everything that is not sheet: printed first, then bought, then equipment, then what is needed beside.
pub fn hardware(design: &Design) -> Vec<HardwareItem> {
    let pieces = design.pieces.iter().enumerate();
    let own = pieces.filter(|(_, piece)| !piece.role.is_sheet() && piece.body_of.is_none());
    let mut items: Vec<HardwareItem> = own
        .map(|(id, piece)| HardwareItem {
            number: piece.number.clone(),
            name: piece.name.clone(),
            quantity: piece.quantity,
            origin: origin(piece.role),
            notes: notes(design, id),
            piece: Some(id),
        })
        .collect();
    items.extend(beside(design));
    items.sort_by_key(|item| item.origin);
    items
}

fn origin(role: Role) -> Origin {
    match role {
        Role::Equipment => Origin::Equipment,
        _ if role.is_printed() => Origin::Printed,
        _ => Origin::Bought,
    }
}

/// Its size where the name has none, what the design says of it, and advice.
fn notes(design: &Design, id: PieceId) -> Vec<String> {
    let piece = &design.pieces[id];
    let own = piece.notes.iter().cloned();
    let mut notes: Vec<String> = match piece.role {
        Role::WallFitting => fitting_size(design, id).into_iter().chain(own).collect(),
        _ => own.collect(),
    };
    let has_figure = |words: &String| words.contains(|c: char| c.is_ascii_digit());
    let is_sized = has_figure(&piece.name) || notes.iter().any(has_figure);
    if origin(piece.role) == Origin::Bought && !is_sized {
        notes.push(NO_SIZE.to_owned());
    }
    notes.extend(advice(piece.role));
    if piece.role == Role::Fitting && piece.only_made > 0 {
        notes.push(match piece.only_made {
            n if n == piece.quantity => "no place in the sump is given".to_owned(),
            n => format!("{n} of them to spare"),
        });
    }
    notes
}

/// Where the file does not say how large a bought thing is.
const NO_SIZE: &str = "size not given in the file";
/// So near to a hole's middle a fitting's axis is in it, mm.
const ON_AXIS_MM: f64 = 1.0;

/// The hole that a fitting goes through and its flange. Its thread or bore is in no file.
fn fitting_size(design: &Design, id: PieceId) -> Option<String> {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let Shape::Turned(turned) = &design.pieces[id].shape else { return None };
    let placed = design.placed.iter().find(|placed| placed.piece == id)?;
    let flange = 2.0 * turned.extent().0;
    let hole = design.placed.iter().find_map(|wall| {
        let Shape::Sheet(plate) = &design.pieces[wall.piece].shape else { return None };
        let middle = wall.pose.inverse().transform_point3(placed.pose.translation).truncate();
        let is_around = |[lo, hi]: &[DVec2; 2]| (0.5 * (*lo + *hi)).distance(middle) < ON_AXIS_MM;
        let touches = wall.pose.matrix3.z_axis.dot(placed.pose.matrix3.z_axis).abs() > 0.5
            && (wall.pose.inverse().transform_point3(placed.pose.translation).z
                - 0.5 * plate.thickness)
                .abs()
                < plate.thickness;
        let through = plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness);
        let hole = through.filter_map(|cut| cut.contour.bounds()).find(is_around)?;
        touches.then(|| (hole[1] - hole[0]).max_element())
    })?;
    // Rounded, as the walls' poses are not exact.
    let hole = (hole * 1e3).round() / 1e3;
    Some(format!(
        "for a hole of {}, flange {} across; its thread or bore: {NO_SIZE}",
        show(hole),
        show(flange)
    ))
}

/// Common practice.
fn advice(role: Role) -> Option<String> {
    let words = match role {
        Role::Screw => "plastic (nylon); metal corrodes in salt water",
        Role::WallFitting => {
            "with its gasket on the wet side; tightened by hand and a quarter turn"
        }
        Role::GuideChannel | Role::SockRing | Role::Knob | Role::Fitting => {
            "a filament that is known to be safe for animals; printed with no metal dust or glow pigments"
        }
        _ => return None,
    };
    Some(words.to_owned())
}

/// What a running sump needs and no file describes.
fn beside(design: &Design) -> Vec<HardwareItem> {
    let works = &design.waterworks;
    let item = |name: String, quantity: usize, note: &str| HardwareItem {
        number: String::new(),
        name,
        quantity,
        origin: Origin::Beside,
        notes: vec![note.to_owned()],
        piece: None,
    };
    let mains = works.drains.iter().filter(|drain| drain.duty == DrainDuty::Main);
    let valves = mains.map(|drain| {
        item(
            format!("gate valve for drain {}", drain.name),
            1,
            "turns finely, which a ball valve does not; above the sump, within reach",
        )
    });
    let unions = works.lines.iter().map(|line| {
        item(
            format!("union for the line of {}", line.pump),
            1,
            "so that the pump comes out without cutting pipe",
        )
    });
    valves.chain(unions).collect()
}

/// Something that is used up or worn while a sump is glued, and must be bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supply {
    /// What it is.
    pub name: String,
    /// How much or how many; empty where nobody reckons it.
    pub amount: String,
    /// What to mind when buying it.
    pub note: String,
}

/// What must be bought for gluing beside the parts, common practice but for the amounts. Nothing where nothing is glued.
pub fn supplies(design: &Design) -> Vec<Supply> {
    // Printed fittings are stuck on with the adhesive that printed guides are glued with.
    let is_bonded = |kind: JointKind| kind.is_glued() || kind == JointKind::Stuck;
    let glued = || (0..design.joints.len()).filter(|&id| is_bonded(design.joints[id].kind));
    if glued().next().is_none() {
        return Vec::new();
    }
    let mut bonds: Vec<Bond> = glued().map(|id| bond(design, id)).collect();
    bonds.sort();
    bonds.dedup();
    let supply = |name: &str, amount: String, note: &str| Supply {
        name: name.to_owned(),
        amount,
        note: note.to_owned(),
    };
    let mut all = Vec::new();
    let ml = solvent_ml(design);
    if ml[1] > 0.0 {
        all.push(supply(
            "thin solvent cement for your sheet",
            shown_fluid(ml, design.report),
            "what evaporates and goes astray included (our judgement: a film of 0.05 to 0.2 mm in every joint, two to four \
             times over); its maker names your plastic",
        ));
        all.push(supply(
            "squeeze bottle with a blunt needle",
            "1".to_owned(),
            &format!(
                "needle about {} long; a spare needle, as they clog",
                Length::mm(NEEDLE_MM).show(design.report)
            ),
        ));
    }
    let seam_mm = |kind: Bond| -> f64 {
        glued().filter(|&id| bond(design, id) == kind).map(|id| design.joints[id].length_mm).sum()
    };
    for kind in bonds {
        let seam =
            format!("for {} of joint", Length::mm(seam_mm(kind).round()).show(design.report));
        match kind {
            Bond::Solvent(_) => {}
            Bond::Mixed(a, b) => all.push(supply(
                &format!("cement for {} and {}", plastic(a), plastic(b)),
                seam,
                "one whose maker names both plastics",
            )),
            Bond::Printed => all.push(supply(
                "adhesive for printed parts",
                seam,
                "two-part epoxy, as the notes of each printed part tell for its filament and sheet; safe for animals once cured, and \
                 its maker names both plastics (common practice); cyanoacrylate only holds a part until that is hard",
            )),
        }
    }
    for (name, amount, note) in [
        ("masking tape", "", "takes the place of clamps"),
        ("sandpaper of 220 and 320 grit", "", "on a flat block; a scraper beside it"),
        ("lint-free cloth, kitchen paper", "", "for edges, and for the leak test"),
        ("gloves that the data sheet of the cement names", "", "and gloves against cuts"),
        (
            "goggles, a dust mask of class FFP2 or N95",
            "",
            "the mask is for sanding; it stops no vapour",
        ),
    ] {
        all.push(supply(name, amount.to_owned(), note));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEMOS: [&str; 5] = [
        include_str!("../../../params/brook.toml"),
        include_str!("../../../params/fragfarm.toml"),
        include_str!("../../../params/mangrove.toml"),
        include_str!("../../../params/seahorse.toml"),
        include_str!("../../../params/stuck-leaf.toml"),
    ];

    fn resolved(text: &str) -> Design {
        let file = params::read(text).file.expect("understood");
        design::resolve(&file).design.expect("resolved")
    }

    #[test]
    fn everything_that_is_no_sheet_is_listed_once() {
        for text in DEMOS {
            let design = resolved(text);
            let items = hardware(&design);
            let listed: usize =
                items.iter().filter(|i| i.piece.is_some()).map(|i| i.quantity).sum();
            let wanted: usize = design
                .pieces
                .iter()
                .filter(|p| !p.role.is_sheet() && p.body_of.is_none())
                .map(|p| p.quantity)
                .sum();
            assert_eq!(listed, wanted, "{}", design.title);
            let count = |role: Role| -> usize {
                let of = |id: PieceId| design.pieces[id].role == role;
                items.iter().filter(|i| i.piece.is_some_and(of)).map(|i| i.quantity).sum()
            };
            // A door is held by as many screws as it has knobs.
            assert_eq!(count(Role::Knob), count(Role::Screw), "{}", design.title);
        }
    }

    #[test]
    fn what_is_bought_has_a_size_or_is_said_to_have_none() {
        for text in DEMOS {
            let file = params::read(text).file.expect("understood");
            let design = resolved(text);
            let show = |length: Length| length.show(design.report);
            let items = hardware(&design);
            for fitting in &file.wall_fitting {
                let name = format!("fitting {}", fitting.name);
                let item = items.iter().find(|item| item.name == name).expect("listed");
                // By the file alone.
                let size = format!(
                    "for a hole of {}, flange {} across",
                    show(fitting.hole),
                    show(fitting.flange)
                );
                assert!(item.notes[0].starts_with(&size), "{:?} without {size}", item.notes);
            }
            for item in items.iter().filter(|item| item.origin == Origin::Bought) {
                let words = format!("{} {}", item.name, item.notes.join(" "));
                let has_figure = words.contains(|c: char| c.is_ascii_digit());
                assert!(has_figure || words.contains(NO_SIZE), "{words}");
            }
        }
    }

    #[test]
    fn what_is_used_up_goes_by_the_joints() {
        let names = |k: usize| -> Vec<String> {
            supplies(&resolved(DEMOS[k])).into_iter().map(|supply| supply.name).collect()
        };
        let has = |names: &[String], what: &str| names.iter().any(|name| name.contains(what));
        // Printed channels in the first, sheet alone in the fourth.
        let [brook, seahorse] = [0, 3].map(names);
        assert!(has(&brook, "solvent") && has(&brook, "adhesive for printed parts"));
        assert!(has(&seahorse, "solvent") && !has(&seahorse, "adhesive"));
        let supply = &supplies(&resolved(DEMOS[3]))[0];
        assert!(supply.amount.ends_with(" mL") && supply.amount.contains(" to "), "{supply:?}");
    }

    #[test]
    fn a_siphon_needs_a_valve_that_turns_finely() {
        let items = hardware(&resolved(DEMOS[1]));
        let valves = items.iter().filter(|item| item.name.starts_with("gate valve"));
        assert_eq!(valves.count(), 2);
        assert!(items.windows(2).all(|pair| pair[0].origin <= pair[1].origin));
    }
}
