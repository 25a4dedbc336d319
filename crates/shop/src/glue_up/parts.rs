//! What is glued: the parts, their boxes and masses, and where each joint runs.

use std::collections::BTreeMap;

use design::{Design, Joint, Piece, Placed, PlacedId, Role};
use glam::DVec3;
use plate::{Shape, Tolerance, arrange};

use super::JointId;
use super::block::Block;
use super::rest::Weight;
use super::seam::Patch;

/// Density where none is known, kg/m³: of what is printed, about that of water; our judgement. It only moves the centre
/// of gravity.
const PRINTED_KG_M3: f64 = 1100.0;

/// The glued parts of a design.
#[derive(Debug)]
pub(super) struct Parts<'a> {
    pub(super) design: &'a Design,
    /// Of every placed piece, glued or not.
    pub(super) blocks: Vec<Block>,
    weights: Vec<Weight>,
    /// Where glued joints run; `None` where the parts do not meet as the design says.
    pub(super) patches: BTreeMap<JointId, Option<Patch>>,
}

/// Volume and centre of gravity of a piece with all its openings, in its own frame.
#[derive(Clone, Copy, Debug)]
struct Body {
    volume_mm3: f64,
    middle: DVec3,
}

impl Body {
    /// `None` of a sheet that cannot be arranged; it is found fault with elsewhere.
    fn of(shape: &Shape) -> Option<Self> {
        match shape {
            Shape::Sheet(plate) => {
                let arrangement = arrange(plate, &Tolerance::default()).ok()?;
                let middle = arrangement.centre_of_mass()?;
                Some(Self { volume_mm3: arrangement.volume(), middle })
            }
            Shape::Turned(turned) => {
                let (_, [low, high]) = turned.extent();
                // A body that is turned has it on its axis; how high matters little.
                let middle = DVec3::new(0.0, 0.0, 0.5 * (low + high));
                Some(Self { volume_mm3: turned.volume_mm3(), middle })
            }
        }
    }
}

impl<'a> Parts<'a> {
    pub(super) fn of(design: &'a Design) -> Self {
        let blocks: Vec<Block> =
            (0..design.placed.len()).map(|placed| design.block(placed)).collect();
        let bodies: Vec<Option<Body>> =
            design.pieces.iter().map(|piece| Body::of(&piece.shape)).collect();
        let weight = |(block, placed): (&Block, &Placed)| {
            let density = design.pieces[placed.piece].density_kg_m3.unwrap_or(PRINTED_KG_M3);
            let (volume_mm3, middle) = match bodies[placed.piece] {
                Some(body) => (body.volume_mm3, placed.pose.transform_point3(body.middle)),
                None => (block.size().element_product(), block.middle()),
            };
            Weight { block: *block, mass: volume_mm3 * 1e-9 * density, middle }
        };
        let weights = blocks.iter().zip(&design.placed).map(weight).collect();
        let glued = design.joints.iter().enumerate().filter(|(_, joint)| joint.kind.is_glued());
        let patches =
            glued.map(|(id, joint)| (id, Patch::of(&blocks[joint.a], &blocks[joint.b]))).collect();
        Self { design, blocks, weights, patches }
    }

    pub(super) fn piece(&self, id: PlacedId) -> &'a Piece {
        &self.design.pieces[self.design.placed[id].piece]
    }

    pub(super) fn role(&self, id: PlacedId) -> Role {
        self.piece(id).role
    }

    pub(super) fn joint(&self, id: JointId) -> &'a Joint {
        &self.design.joints[id]
    }

    /// All glued joints.
    pub(super) fn glued(&self) -> impl Iterator<Item = (JointId, &'a Joint)> + '_ {
        self.patches.keys().map(|&id| (id, self.joint(id)))
    }

    /// Glued joints between some parts and others.
    pub(super) fn between(&self, some: &[PlacedId], others: &[PlacedId]) -> Vec<JointId> {
        let joins = |joint: &Joint| {
            let is = |p, q| some.contains(&p) && others.contains(&q);
            is(joint.a, joint.b) || is(joint.b, joint.a)
        };
        self.glued().filter(|(_, joint)| joins(joint)).map(|(id, _)| id).collect()
    }

    pub(super) fn weights(&self, ids: &[PlacedId]) -> Vec<Weight> {
        ids.iter().map(|&id| self.weights[id]).collect()
    }

    /// What some parts weigh together, kg, as far as densities are known.
    pub(super) fn mass_kg(&self, ids: &[PlacedId]) -> f64 {
        ids.iter().map(|&id| self.weights[id].mass).sum()
    }

    pub(super) fn blocks(&self, ids: &[PlacedId]) -> Vec<Block> {
        ids.iter().map(|&id| self.blocks[id]).collect()
    }

    pub(super) fn has_pocket(
        &self,
        id: PlacedId,
        part: &Block,
        lies: impl Fn(&Piece, &Placed, &Block) -> bool,
    ) -> bool {
        lies(self.piece(id), &self.design.placed[id], part)
    }
}
