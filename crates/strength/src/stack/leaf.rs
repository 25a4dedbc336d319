//! Leaves in their channels and grooves.

use design::tolerance::{HELD_AT_WORST_MM, SLIDES_MM};
use design::{JointKind, Placed, PlacedId, Removable, RemovableKind, Role, Sheet};
use params::GuideKind;

use super::channel::{Channel, LeafBox, channels, partners, pocket_at};
use super::parts::{Along, Causes, certain};
use super::{Part, Stack, StackCode, Subject, bent};
use crate::panel::Duration;

/// A leaf's bow is looked at in so many steps of height.
const HEIGHTS: u32 = 8;

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
    let place = LeafBox::of(causes.design, placed);
    let fit = Fit { causes, leaf, sheet, place, channels, part: leaf.parts.first().copied() };
    vec![fit.slides(), fit.fits(), fit.held()]
}

/// A leaf and its channels.
struct Fit<'a> {
    causes: &'a Causes<'a>,
    leaf: &'a Removable,
    sheet: &'a Sheet,
    place: LeafBox,
    channels: &'a [Channel; 2],
    /// The leaf where it stands; `None` of a spare, of which it is not known how it bends.
    part: Option<PlacedId>,
}

impl Fit<'_> {
    fn subject(&self, code: StackCode, words: &str) -> Subject {
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
                GuideKind::Strips => causes.glued("distance of the strips"),
                GuideKind::Printed => causes.printed_width("width of the printed channel"),
                // Both of its edges are cut in one go by one tool.
                GuideKind::Groove => causes.cut(channel.guide, "width of the groove"),
            },
        ];
        parts.extend(causes.growth_alone(self.sheet, drawn, -1.0));
        let turned = |lasts: bool| self.bow(lasts).map_or(0.0, |bow| bow.turn * channel.depth_mm);
        if self.bow(true).is_some() {
            let words = "turn of the leaf's ends as it bows under water";
            parts.push(certain(words, [-turned(true), 0.0]));
        }
        let play = causes.file.tolerance.play.to_mm();
        let subject = self.subject(StackCode::LeafSlides, "in its channels, across its thickness");
        Stack::new(subject, channel.width_mm - drawn, [Some(SLIDES_MM), Some(play)], parts)
            .with_brief(self.under().0, self.under().1, turned(false) - turned(true))
            .in_guide(channel.kind)
            .of_sheet(&self.sheet.name)
    }

    /// How its own bow draws its ends together and turns them, under loads that last or under the worst of all: where its
    /// channels hold it. Above them its ends are free, and how far it leans there moves nothing in its channels.
    fn bow(&self, lasts: bool) -> Option<Bow> {
        let part = self.part?;
        let bent = self.causes.bent(part, lasts)?;
        let to_leaf = self.causes.design.placed[part].pose.inverse();
        let length_mm = self.place.length_mm();
        let [first, last] = self.channels;
        let low = first.z_mm[0].min(last.z_mm[0]);
        let high = first.z_mm[1].max(last.z_mm[1]);
        let line = |k: u32| {
            let z = low + f64::from(k) / f64::from(HEIGHTS) * (high - low);
            [0, 1].map(|end| {
                let mut point = self.place.end(end);
                point.z = z;
                to_leaf.transform_point3(point).truncate()
            })
        };
        let bow_mm = (0..=HEIGHTS).map(|k| bent.most_along(line(k), false)).fold(0.0, f64::max);
        Some(Bow {
            shorter_mm: bent::shortening_mm(bow_mm, length_mm),
            turn: bent::turn(bow_mm, length_mm),
        })
    }

    /// Under what it bows most, in words, and for how long.
    fn under(&self) -> (&str, Duration) {
        let bent = self.part.and_then(|part| self.causes.bent(part, false));
        bent.map_or(("water to the rim", Duration::Hours), |bent| (bent.words(), bent.duration()))
    }

    /// Where its channels hold on to what they are glued to.
    fn along(&self) -> [Along; 2] {
        [0, 1].map(|end| {
            let [mut low, mut high] = [self.place.end(end); 2];
            [low.z, high.z] = self.channels[end].z_mm;
            (self.channels[end].host, [low, high])
        })
    }

    /// What bulging walls and its own bow take from the hold at its ends.
    fn bends(&self, lasts: bool) -> Vec<Part> {
        let bulge = self.causes.bulge(&self.along(), lasts);
        let bow = self.bow(lasts).map(|bow| {
            let words = "the leaf's ends drawn together as it bows under water";
            certain(words, [-bow.shorter_mm, 0.0])
        });
        bulge.into_iter().chain(bow).collect()
    }

    /// Gap at both ends together.
    fn gap_mm(&self) -> f64 {
        let [first, last] = self.channels;
        last.bottom_mm - first.bottom_mm - self.place.length_mm()
    }

    /// What its own ends and the places of its channels add to the gap at its ends.
    fn ends(&self) -> Vec<Part> {
        let causes = self.causes;
        let mut parts = ["one end of the leaf", "other end of the leaf"]
            .map(|end| causes.cut_from(self.sheet, end))
            .to_vec();
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
                GuideKind::Strips => {}
                GuideKind::Printed => parts.push(causes.printed("back of a printed channel")),
                GuideKind::Groove => parts.push(causes.cut(channel.guide, "depth of a groove")),
            }
        }
        parts.extend(causes.growth(self.sheet, self.place.length_mm(), -1.0));
        let subject = self.subject(StackCode::LeafFits, "between the ends of its channels");
        Stack::new(subject, self.gap_mm(), [Some(0.0), None], parts).in_guide(self.channels[0].kind)
    }

    /// In the shallower channel, pushed as far as it goes into the other one.
    fn held(&self) -> Stack {
        let causes = self.causes;
        let [first, last] = self.channels;
        let (channel, other) =
            if last.depth_mm < first.depth_mm { (last, first) } else { (first, last) };
        let mut parts = self.ends();
        match channel.kind {
            // The bottom of the other channel is the wall itself.
            GuideKind::Strips => {
                let strip = causes.sheet(&causes.design.placed[channel.guide]);
                let thickness = |sheet| causes.thickness(sheet, channel.depth_mm, 1.0);
                parts.extend(strip.map(thickness));
            }
            GuideKind::Printed => {
                parts.push(causes.printed("mouth of the printed channel"));
                parts.push(causes.printed("back of the other printed channel"));
            }
            // The mouth of a groove is the wall's face: only the other one's depth counts.
            GuideKind::Groove => parts.push(causes.cut(other.guide, "depth of the other groove")),
        }
        parts.extend(causes.growth(self.sheet, self.place.length_mm(), 1.0));
        parts.push(causes.swollen_box(self.place.length_mm() + self.gap_mm()));
        parts.extend(self.bends(true));
        let less = |lasts: bool| -self.bends(lasts).iter().map(|part| part.mm[0]).sum::<f64>();
        let words = match self.part {
            Some(_) => "in one channel when it is pushed into the other",
            None => {
                "in one channel when it is pushed into the other (its own bow not counted: it is not in its slot)"
            }
        };
        let subject = self.subject(StackCode::LeafHeld, words);
        Stack::new(subject, channel.depth_mm - self.gap_mm(), [Some(HELD_AT_WORST_MM), None], parts)
            .with_brief(self.under().0, self.under().1, less(false) - less(true))
            .in_guide(channel.kind)
    }
}

/// What the bow of a leaf does to its ends.
struct Bow {
    /// How much nearer they come, mm.
    shorter_mm: f64,
    /// By how much they turn, rad.
    turn: f64,
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
        let groove = width.min_by(|a, b| a.width_mm.total_cmp(&b.width_mm))?;
        let drawn = sheet.thickness_mm();
        let subject = Subject {
            code: StackCode::GrooveTakes,
            words: format!("{} in the grooves that it is glued into", placed.name),
            parameter: placed.parameter.clone(),
        };
        let parts = vec![
            causes.thickness(sheet, drawn, -1.0),
            causes.cut(groove.guide, "width of the groove"),
        ];
        let most = params::Material::SOLVENT_FILLS_MM;
        let stack = Stack::new(subject, groove.width_mm - drawn, [Some(0.0), Some(most)], parts);
        Some(stack.of_sheet(&sheet.name))
    };
    let is_leaf = |placed: &PlacedId| {
        let part = &design.placed[*placed];
        part.loose.is_none() && design.pieces[part.piece].role == Role::Leaf
    };
    (0..design.placed.len()).filter(is_leaf).filter_map(grooved).collect()
}
