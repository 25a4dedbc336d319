//! Which position serves each joint, so that a part is held before it hangs.

use glam::DVec3;

use super::super::JointId;
use super::Serves;

/// For each joint the best of what serves it in these positions, taken in their order; `None` where one is not served.
///
/// A part that could rest on a joint while it is made does so, unless another of its joints holds it by then: one that it
/// rested on while that was made, in an earlier position or in the same, before this one. No joint holds itself.
pub(super) fn chosen<'a>(
    served: &'a [(JointId, Vec<Serves>)],
    positions: &[DVec3],
) -> Option<Vec<&'a Serves>> {
    let place = |serves: &Serves| positions.iter().position(|down| down.dot(serves.down) > 0.5);
    let best = |all: &'a [Serves], must_rest: bool| {
        let fits = |s: &&Serves| place(s).is_some() && (s.is_resting() || !must_rest);
        all.iter().filter(fits).min_by_key(|serves| serves.drawback())
    };
    let mut chosen =
        served.iter().map(|(_, all)| best(all, false)).collect::<Option<Vec<&Serves>>>()?;
    // Each time round one more joint is rested on, so it comes to an end.
    while let Some(hangs) = hanging(served, &chosen, place) {
        chosen[hangs] = best(&served[hangs].1, true)?;
    }
    Some(chosen)
}

/// The first joint at which the part could rest and does not, with nothing that holds it by then.
fn hanging(
    served: &[(JointId, Vec<Serves>)],
    chosen: &[&Serves],
    place: impl Fn(&Serves) -> Option<usize>,
) -> Option<usize> {
    let is_held_by =
        |at: Option<usize>| chosen.iter().any(|other| other.is_resting() && place(other) <= at);
    chosen.iter().zip(served).position(|(serves, (_, all))| {
        !serves.is_resting() && all.iter().any(Serves::is_resting) && !is_held_by(place(serves))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn serves(down: DVec3, rank: usize) -> Serves {
        Serves { down, tip_deg: 45.0, seams: Vec::new(), rank }
    }

    #[test]
    fn no_joint_holds_itself() {
        // It could rest in the first position, which is not among those that are taken.
        let joint = vec![(0, vec![serves(DVec3::NEG_Z, 0), serves(DVec3::Y, 2)])];
        assert!(chosen(&joint, &[DVec3::Y]).is_none());
        assert_eq!(chosen(&joint, &[DVec3::NEG_Z, DVec3::Y]).unwrap()[0].rank, 0);
    }

    #[test]
    fn what_holds_is_made_before() {
        let two = |first: DVec3, second: DVec3| {
            vec![(0, vec![serves(first, 0)]), (1, vec![serves(second, 2), serves(DVec3::X, 0)])]
        };
        let ranks =
            |served: &[(JointId, Vec<Serves>)], positions: &[DVec3]| -> Option<Vec<usize>> {
                Some(chosen(served, positions)?.iter().map(|s| s.rank).collect())
            };
        // Held by the first joint, made earlier or in the same position.
        let later = two(DVec3::NEG_Z, DVec3::Y);
        assert_eq!(ranks(&later, &[DVec3::NEG_Z, DVec3::Y]), Some(vec![0, 2]));
        let same = two(DVec3::Y, DVec3::Y);
        assert_eq!(ranks(&same, &[DVec3::Y]), Some(vec![0, 2]));
        // Made later, it does not hold.
        let earlier = two(DVec3::Y, DVec3::NEG_Z);
        assert_eq!(ranks(&earlier, &[DVec3::NEG_Z, DVec3::Y]), None);
        assert_eq!(ranks(&earlier, &[DVec3::NEG_Z, DVec3::X, DVec3::Y]), Some(vec![0, 0]));
    }
}
