//! Leaves in their channels and grooves.

use design::{JointKind, Placed, PlacedId, Removable, RemovableKind, Role, Sheet};

use super::channel::{Channel, Kind, LeafBox, channels, partners, pocket_at};
use super::parts::Causes;
use super::{Part, Stack, Subject};

/// What still slides wet, by hand, mm; our judgement.
const SLIDES_MM: f64 = 0.1;
/// By so much a guide must hold a leaf that is pushed to the other side, mm; our judgement: half of the 1 mm that is asked
/// for as drawn.
const HELD_MM: f64 = 0.5;

pub(super) fn stacks(causes: &Causes<'_>) -> Vec<Stack> {
    let design = causes.design;
    let leaves = design.removables.iter().filter(|r| r.kind == RemovableKind::Leaf);
    let loose = leaves.filter_map(|leaf| {
        let standing = leaf.instead_of.map_or(leaf, |id| &design.removables[id]);
        let channels = channels(design, *standing.parts.first()?)?;
        Some(in_channels(causes, leaf, placed(causes, leaf)?, &channels))
    });
    let mut stacks: Vec<Stack> = loose.flatten().collect();
    stacks.extend(glued(causes));
    stacks
}

/// Where a leaf stands, or would.
fn placed<'a>(causes: &Causes<'a>, leaf: &Removable) -> Option<&'a Placed> {
    match (leaf.parts.first(), leaf.spares.first()) {
        (Some(&part), _) => causes.design.placed.get(part),
        (None, Some(&spare)) => causes.design.spares.get(spare),
        _ => None,
    }
}

fn in_channels(
    causes: &Causes<'_>,
    leaf: &Removable,
    placed: &Placed,
    channels: &[Channel; 2],
) -> Vec<Stack> {
    let Some(sheet) = causes.sheet(placed) else { return Vec::new() };
    let fit = Fit { causes, leaf, sheet, place: LeafBox::of(causes.design, placed), channels };
    vec![fit.slides(), fit.fits(), fit.held()]
}

/// A leaf and its channels.
struct Fit<'a> {
    causes: &'a Causes<'a>,
    leaf: &'a Removable,
    sheet: &'a Sheet,
    place: LeafBox,
    channels: &'a [Channel; 2],
}

impl Fit<'_> {
    fn subject(&self, code: &'static str, words: &str) -> Subject {
        let parameter = self.leaf.slot.as_ref().map_or(&self.leaf.parameter, |s| &s.parameter);
        Subject { code, words: format!("{} {words}", self.leaf.name), parameter: parameter.clone() }
    }

    /// Across its thickness, in the narrower of its channels.
    fn slides(&self) -> Stack {
        let (causes, drawn) = (self.causes, self.sheet.thickness_mm());
        let [first, last] = self.channels;
        let channel = if last.width_mm < first.width_mm { last } else { first };
        let mut parts = vec![
            causes.thickness(self.sheet, drawn, -1.0),
            match channel.kind {
                // The second strip is set by the first and a gauge of the channel's width (common practice).
                Kind::Strips => causes.glued("distance of the strips"),
                Kind::Printed => causes.printed_width("width of the printed channel"),
                // Both of its edges are cut in one go by one tool.
                Kind::Groove => causes.cut("width of the groove"),
            },
        ];
        parts.extend(causes.growth_alone(self.sheet, drawn, -1.0));
        let play = causes.file.tolerance.play.to_mm();
        let subject = self.subject("leaf-slides", "in its channels, across its thickness");
        Stack::new(subject, channel.width_mm - drawn, [Some(SLIDES_MM), Some(play)], parts)
    }

    /// Gap at both ends together.
    fn gap_mm(&self) -> f64 {
        let [first, last] = self.channels;
        last.bottom_mm - first.bottom_mm - self.place.length_mm()
    }

    /// What its own ends and the places of its channels add to the gap at its ends.
    fn ends(&self) -> Vec<Part> {
        let causes = self.causes;
        let mut parts =
            vec![causes.cut("one end of the leaf"), causes.cut("other end of the leaf")];
        let is_wall = |channel: &Channel| {
            let role = |host: PlacedId| causes.design.pieces[causes.design.placed[host].piece].role;
            channel.host.is_some_and(|host| role(host) == Role::Wall)
        };
        if self.channels.iter().all(is_wall) {
            // Walls are set against others that are cut to length between them.
            parts.push(causes.glued("distance of the walls"));
        } else {
            parts.push(causes.glued("place of what holds one end"));
            parts.push(causes.glued("place of what holds the other end"));
        }
        parts
    }

    /// Between the bottoms of its channels.
    fn fits(&self) -> Stack {
        let causes = self.causes;
        let mut parts = self.ends();
        for channel in self.channels {
            match channel.kind {
                Kind::Strips => {}
                Kind::Printed => parts.push(causes.printed("back of a printed channel")),
                Kind::Groove => parts.push(causes.cut("depth of a groove")),
            }
        }
        parts.extend(causes.growth(self.sheet, self.place.length_mm(), -1.0));
        let subject = self.subject("leaf-fits", "between the ends of its channels");
        Stack::new(subject, self.gap_mm(), [Some(0.0), None], parts)
    }

    /// In the shallower channel, pushed as far as it goes into the other one.
    fn held(&self) -> Stack {
        let causes = self.causes;
        let [first, last] = self.channels;
        let channel = if last.depth_mm < first.depth_mm { last } else { first };
        let mut parts = self.ends();
        match channel.kind {
            // The bottom of the other channel is the wall itself.
            Kind::Strips => {
                let strip = causes.sheet(&causes.design.placed[channel.guide]);
                let thickness = |sheet| causes.thickness(sheet, channel.depth_mm, 1.0);
                parts.extend(strip.map(thickness));
            }
            Kind::Printed => {
                parts.push(causes.printed("mouth of the printed channel"));
                parts.push(causes.printed("back of the other printed channel"));
            }
            // The mouth of a groove is the wall's face: only the other one's depth counts.
            Kind::Groove => parts.push(causes.cut("depth of the other groove")),
        }
        parts.extend(causes.growth(self.sheet, self.place.length_mm(), 1.0));
        parts.extend(causes.bulge([first.host, last.host]));
        let subject = self.subject("leaf-held", "in one channel when it is pushed into the other");
        Stack::new(subject, channel.depth_mm - self.gap_mm(), [Some(HELD_MM), None], parts)
    }
}

/// Grooves that glued leaves stand in.
fn glued(causes: &Causes<'_>) -> Vec<Stack> {
    let design = causes.design;
    let grooved = |leaf: PlacedId| {
        let placed = &design.placed[leaf];
        let sheet = causes.sheet(placed)?;
        let place = LeafBox::of(design, placed);
        let width = partners(design, leaf, JointKind::Dado).filter_map(|host| {
            let ends = [0, 1].map(|end| place.end(end));
            ends.into_iter().find_map(|end| pocket_at(design, host, end, &place))
        });
        let width = width.map(|groove| groove.width_mm).reduce(f64::min)?;
        let drawn = sheet.thickness_mm();
        let subject = Subject {
            code: "groove-takes",
            words: format!("{} in the grooves that it is glued into", placed.name),
            parameter: placed.parameter.clone(),
        };
        let parts = vec![causes.thickness(sheet, drawn, -1.0), causes.cut("width of the groove")];
        Some(Stack::new(subject, width - drawn, [Some(0.0), None], parts))
    };
    let is_leaf = |placed: &PlacedId| {
        let part = &design.placed[*placed];
        part.loose.is_none() && design.pieces[part.piece].role == Role::Leaf
    };
    (0..design.placed.len()).filter(is_leaf).filter_map(grooved).collect()
}
