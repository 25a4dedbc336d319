//! Which moments of the rehearsals press a board hardest: by how much of it they wet, not by the levels alone.

use crate::waters::Head;

/// A moment counts beside another when its push turns about the lower edge by this share more; our judgement.
const MORE: f64 = 0.01;

/// Push of water on a board that stands, for each unit of its width and of the water's weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Push {
    /// All of it, mm².
    pub(crate) thrust: f64,
    /// Its moment about the lower edge, mm³.
    pub(crate) moment: f64,
}

impl Push {
    /// Water at the first level on one face and at the second on the other; `span` is from where to where the board reaches
    /// up, mm.
    pub(crate) fn of([high, low]: [f64; 2], span: [f64; 2]) -> Self {
        let (one, other) = (Self::one_sided(high, span), Self::one_sided(low, span));
        Self { thrust: one.thrust - other.thrust, moment: one.moment - other.moment }
    }

    /// Hydrostatics: `∫ (h − z) dz` and `∫ (z − z₀) (h − z) dz` over what is wet, from the lower edge `z₀` to the level `h`
    /// or the upper edge.
    fn one_sided(level: f64, [lo, hi]: [f64; 2]) -> Self {
        let wet = level.min(hi) - lo;
        if wet <= 0.0 {
            return Self { thrust: 0.0, moment: 0.0 };
        }
        let above = level - lo;
        Self { thrust: wet * (above - 0.5 * wet), moment: wet * wet * (0.5 * above - wet / 3.0) }
    }

    /// Whether it presses or turns harder.
    pub(crate) fn exceeds(&self, other: &Self) -> bool {
        self.thrust > other.thrust || self.moment > other.moment
    }
}

/// Of moments those at which water presses hardest on a board: that with the greatest thrust, and where it is another one that
/// which turns it hardest about its lower edge. What presses no harder than `flow` is none.
pub(crate) fn hardest<'a>(
    heads: impl Iterator<Item = &'a Head>,
    span: [f64; 2],
    flow: &Push,
) -> Vec<&'a Head> {
    let push = |head: &Head| Push::of(head.levels_mm, span);
    let is_more = |head: &&Head| push(head).thrust > 0.0 && push(head).exceeds(flow);
    let heads: Vec<&Head> = heads.filter(is_more).collect();
    let most = |by: fn(Push) -> f64| {
        heads.iter().copied().max_by(|a, b| by(push(a)).total_cmp(&by(push(b))))
    };
    let Some(pressing) = most(|push| push.thrust) else { return Vec::new() };
    let mut all = vec![pressing];
    let turns = |head: &&Head| push(head).moment > (1.0 + MORE) * push(pressing).moment;
    all.extend(most(|push| push.moment).filter(turns));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn head(name: &str, levels_mm: [f64; 2]) -> Head {
        Head { basins: [0, 1], levels_mm, name: name.to_owned() }
    }

    #[track_caller]
    fn names(heads: &[Head], span: [f64; 2]) -> Vec<String> {
        let none = Push { thrust: 0.0, moment: 0.0 };
        hardest(heads.iter(), span, &none).into_iter().map(|head| head.name.clone()).collect()
    }

    /// A wall of water as high as the board: half of the square, at a third from below; and a board wholly under water, which is
    /// pressed by the pressure of its middle, below its middle by `h² / (12 d)`.
    #[test]
    fn pushes_are_those_of_statics() {
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9 * b.abs();
        let push = Push::of([300.0, 0.0], [0.0, 300.0]);
        assert!(near(push.thrust, 45_000.0) && near(push.moment, 45_000.0 * 100.0), "{push:?}");
        let (depth, height) = (150.0, 100.0);
        let push = Push::of([350.0, 100.0], [150.0, 250.0]);
        assert!(near(push.thrust, depth * height), "{push:?}");
        let up = 0.5 * height - height * height / (12.0 * depth);
        assert!(near(push.moment, depth * height * up), "{push:?}");
    }

    /// A drained chamber makes the greatest difference of squares; a door high in the leaf feels only how high water stands.
    #[test]
    fn a_board_chooses_by_its_own_height() {
        let heads = [head("drained", [260.0, 0.0]), head("clogged", [300.0, 215.0])];
        assert_eq!(names(&heads, [0.0, 300.0]), ["drained"]);
        assert_eq!(names(&heads, [210.0, 300.0]), ["clogged"]);
        let [low, high] = [[0.0, 300.0], [210.0, 300.0]].map(|span| {
            let [a, b] = [&heads[0], &heads[1]].map(|h| Push::of(h.levels_mm, span).thrust);
            a - b
        });
        assert!(low > 0.0 && high < 0.0);
    }

    #[test]
    fn what_turns_harder_counts_beside_what_presses_harder() {
        let heads = [head("low", [230.0, 0.0]), head("high", [300.0, 195.0])];
        assert_eq!(names(&heads, [0.0, 300.0]), ["low", "high"]);
        let flow = Push::of([310.0, 0.0], [0.0, 300.0]);
        assert!(hardest(heads.iter(), [0.0, 300.0], &flow).is_empty(), "flow presses harder");
    }
}
