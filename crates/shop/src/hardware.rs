//! What is bought and printed beside the sheet, with how many of each.

use design::{Design, PieceId, Role};
use params::DrainDuty;

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
            notes: piece.notes.iter().cloned().chain(advice(piece.role)).collect(),
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

/// Common practice.
fn advice(role: Role) -> Option<String> {
    let words = match role {
        Role::Screw => "plastic (nylon); metal corrodes in salt water",
        Role::WallFitting => {
            "with its gasket on the wet side; tightened by hand and a quarter turn"
        }
        Role::GuideChannel | Role::SockRing | Role::Knob => {
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
    fn a_siphon_needs_a_valve_that_turns_finely() {
        let items = hardware(&resolved(DEMOS[1]));
        let valves = items.iter().filter(|item| item.name.starts_with("gate valve"));
        assert_eq!(valves.count(), 2);
        assert!(items.windows(2).all(|pair| pair[0].origin <= pair[1].origin));
    }
}
