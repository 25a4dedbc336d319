//! In a sock holder: what takes the place of a sock.

use glam::DVec3;

use super::{Asked, Place, flange_z};
use crate::draft::Builder;
use crate::frame::pose;
use crate::model::{Loose, Role};
use crate::sock_holder::HOLDER_LIFT_MM;

impl Asked<'_> {
    /// Where the `k`th sock of a chamber's holder hangs, from 1; that sock is in store then, and a smaller one hangs in
    /// what took its place.
    pub(super) fn in_holder(&self, b: &mut Builder<'_>, chamber: &str, k: u32) -> Option<Place> {
        if !self.stand.in_holder {
            return self.cannot(b, "sock");
        }
        let kind = self.wanted.kind.name;
        let Some(i) = b.file.sock_holder.iter().position(|holder| holder.chamber == chamber) else {
            let message = format!(
                "chamber `{chamber}` has no sock holder: this `{kind}` is made, but not shown there"
            );
            let hint = "name a chamber that has a table `[[sock_holder]]`";
            self.not_placed(b, "chamber", message, hint);
            return None;
        };
        let parameter = format!("sock_holder[{i}].sock");
        let mut socks = (0..b.drafts.len())
            .filter(|&d| b.drafts[d].role == Role::Sock && b.drafts[d].parameter == parameter);
        let first = socks.next()?;
        let nth = usize::try_from(k).unwrap_or(usize::MAX).checked_sub(1)?;
        let Some(sock) = std::iter::once(first).chain(socks).nth(nth) else {
            let count = b.file.sock_holder[i].socks;
            let message = format!(
                "the holder of chamber `{chamber}` has no sock {k}: this `{kind}` is made, but not shown there"
            );
            self.not_placed(b, "sock", message, format!("its socks are counted from 1 to {count}"));
            return None;
        };
        let on = b.joints.iter().find(|joint| joint.a == sock)?.b;
        let name = b.drafts[sock].name.clone();
        // It is bought all the same, and hangs there whenever the fitting is taken out.
        (b.drafts[sock].is_only_made, b.drafts[sock].loose) = (true, None);
        // Printed flange down, used flange up: turned over about the x axis, as the rings are.
        let flange = flange_z(&self.wanted.fitting.shape);
        let seat = b.drafts[sock].pose.translation;
        Some(Place {
            pose: pose(DVec3::X, -DVec3::Y, seat + flange * DVec3::Z),
            loose: Some(Loose { lift_mm: HOLDER_LIFT_MM }),
            // As a ring does, it goes with the shelf.
            part_of: Some(b.drafts[on].part_of.unwrap_or(on)),
            notes: vec![format!(
                "hangs in the place of {name}; the smaller sock or cup in it is not drawn"
            )],
            ..Place::on(on)
        })
    }
}
