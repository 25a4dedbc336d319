//! What stands and hangs in the chambers: shelves, socks, pipes, equipment, lids.

use design::{Design, Role};

use super::Sump;
use super::cuts::Cut;
use super::frame::{BEHIND, CUT, Frame, rim_mm};
use super::parts::{self, Part};
use crate::plot::paper::{Paper, stroke};

/// Pipes are drawn so far above the rim, mm on paper.
pub(super) const PIPE_OVER_RIM: f64 = 7.0;
/// What is drawn from the back to the front.
const ROLES: [Role; 7] = [
    Role::WallFitting,
    Role::Ledge,
    Role::SockHolder,
    Role::Sock,
    Role::DrainPipe,
    Role::Equipment,
    Role::Lid,
];

fn style(role: Role) -> &'static str {
    match role {
        Role::WallFitting => "fill=\"#d5dade\" stroke=\"#59636b\" stroke-width=\"0.2\"",
        Role::DrainPipe => {
            "fill=\"#eef1f2\" fill-opacity=\"0.75\" stroke=\"#59636b\" stroke-width=\"0.2\""
        }
        Role::Sock => SOCK,
        Role::Equipment => EQUIPMENT,
        Role::SockHolder | Role::Ledge => CUT,
        _ => BEHIND,
    }
}

pub(super) const SOCK: &str = "fill=\"#f3ecd9\" fill-opacity=\"0.55\" stroke=\"#8a7a4d\" stroke-width=\"0.2\" stroke-dasharray=\"0.9 0.5\"";
pub(super) const EQUIPMENT: &str =
    "fill=\"#f6e3c4\" fill-opacity=\"0.8\" stroke=\"#6b4f1d\" stroke-width=\"0.25\"";

/// Pieces of these roles in the row of the cut; shelves and lids in every cut, the rest in the nearest only.
pub(super) fn here(sump: &Sump<'_>, cut: &Cut, roles: &[Role]) -> Vec<Part> {
    let basins = &sump.design.waterworks.basins;
    let mut all = parts::of(sump.design, roles);
    all.retain(|part| {
        let mut p = part.middle();
        if part.role == Role::WallFitting {
            // It goes through a wall: to the chamber before it.
            let outside = sump.design.outside;
            p.x = p.x.clamp(0.02 * outside.x, 0.98 * outside.x);
            p.y = p.y.clamp(0.04 * outside.y, 0.96 * outside.y);
        }
        let is_everywhere = matches!(part.role, Role::SockHolder | Role::Ledge | Role::Lid);
        cut.basins.iter().any(|&i| {
            let b = &basins[i];
            let is_in = b.min.x <= p.x && p.x <= b.max.x && b.min.y <= p.y && p.y <= b.max.y;
            is_in && (is_everywhere || cut.is_nearest(&sump.cuts, i, p.y))
        })
    });
    all
}

/// What reaches over the rim, mm on paper.
pub(super) fn headroom(sump: &Sump<'_>, cut: &Cut) -> f64 {
    let rim = rim_mm(sump.design);
    let over = here(sump, cut, &[Role::Equipment, Role::Lid]).into_iter();
    let over = over.map(|p| (p.hi.z - rim) / sump.scale).fold(0.0, f64::max);
    let has_pipes = !here(sump, cut, &[Role::DrainPipe]).is_empty();
    over.max(if has_pipes { PIPE_OVER_RIM } else { 0.0 }) + 2.0
}

/// Everything that is not a leaf.
pub(super) fn behind(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, frame: &Frame) {
    let cap = rim_mm(sump.design) + PIPE_OVER_RIM * frame.scale;
    for role in ROLES {
        for part in here(sump, cut, &[role]) {
            let top = if role == Role::DrainPipe { part.hi.z.max(cap).min(cap) } else { part.hi.z };
            let (a, b) = (frame.at(part.lo.x, part.lo.z), frame.at(part.hi.x, top));
            if role == Role::WallFitting && is_on_side(sump.design, &part) {
                let size = (part.hi - part.lo).truncate();
                let centre = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
                paper.circle(centre, 0.5 * size.x / frame.scale, style(role));
                continue;
            }
            paper.rect(a, b, style(role));
            if role == Role::SockHolder {
                sock_openings(paper, sump, cut, &part, frame);
            }
            if role == Role::DrainPipe {
                // What runs on upwards is broken off.
                let y = b[1];
                let middle = 0.5 * (a[0] + b[0]);
                let wave = [
                    [a[0] - 0.8, y + 0.4],
                    [middle, y - 0.5],
                    [middle, y + 0.5],
                    [b[0] + 0.8, y - 0.4],
                ];
                paper.path(&wave, false, &stroke("#59636b", 0.2));
            }
        }
    }
}

/// Where socks hang through their shelf.
fn sock_openings(paper: &mut Paper, sump: &Sump<'_>, cut: &Cut, holder: &Part, frame: &Frame) {
    for shelf in &sump.design.waterworks.shelves {
        let half = 0.5 * shelf.diameter_mm;
        for middle in &shelf.middles {
            let is_here = holder.lo.x < middle.x
                && middle.x < holder.hi.x
                && holder.lo.y < middle.y
                && middle.y < holder.hi.y
                && cut.is_nearest(&sump.cuts, shelf.basin, middle.y);
            if is_here {
                let (a, b) = (
                    frame.at(middle.x - half, holder.lo.z),
                    frame.at(middle.x + half, holder.hi.z),
                );
                paper.rect(a, b, "fill=\"#c3cad0\"");
            }
        }
    }
}

/// Through the front or the back rather than through an end.
fn is_on_side(design: &Design, part: &Part) -> bool {
    let p = part.middle();
    let from_end = p.x.min(design.outside.x - p.x);
    let from_side = p.y.min(design.outside.y - p.y);
    from_side < from_end
}
