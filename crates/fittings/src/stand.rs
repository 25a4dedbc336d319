//! How each kind of fitting stands in a sump: which of its faces lies against what, what it holds, and what its measures follow from.
//!
//! Kinds are drawn as they are printed, so their own frames say nothing of walls; this does. It is data only: who knows a sump puts them
//! into their places.

/// A face of the box around a fitting, in the frame in which it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// At the least x.
    Left,
    /// At the greatest x.
    Right,
    /// At the least y.
    Foot,
    /// At the greatest y.
    Crown,
    /// On the print bed.
    Bed,
    /// Away from the print bed.
    Top,
}

/// How a kind stands; what it has none of, it cannot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// On the face of a wall or leaf.
    pub on_face: Option<OnFace>,
    /// On the upper edge of a wall or leaf.
    pub on_edge: Option<OnEdge>,
    /// On the bottom.
    pub on_bottom: Option<OnBottom>,
    /// On a lid.
    pub on_lid: Option<OnLid>,
    /// In the place of a sock in its holder.
    pub in_holder: bool,
    /// Of a kind that has no place of its own: why.
    pub nowhere: Option<&'static str>,
    /// What it holds, if anything.
    pub holds: Option<Holds>,
    /// A choice among its measures, and how it stands where that is made.
    pub instead: Option<(&'static str, &'static Self)>,
}

/// On the face of a wall or leaf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnFace {
    /// The side that lies on the face.
    pub by: Side,
    /// The side that looks up.
    pub up: Side,
    /// How it is held.
    pub held: Held,
    /// What carries something: the measure by which its upper end is above what it carries.
    pub carries_below_top: Option<&'static str>,
}

/// How a fitting is held on a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// Glued, all of its side on the face.
    Glued,
    /// Pressed into an opening of the sheet by what stands out beyond its flange: there it is drawn a little wider than the
    /// opening, which squeezes it.
    Pressed(Flange),
}

/// Whether the way of the water says on which face of a sheet a flange lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flange {
    /// On the face that the water comes to, which so presses it on.
    Upstream,
    /// On either.
    Either,
}

/// On an upper edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnEdge {
    /// A hook whose profile has the sheet's edge at `y = 0`, from `x = 0` on; its inner leg at greater x.
    Hook,
    /// The same, but its legs are closer than the sheet is thick: it holds by being bent open.
    Grip {
        /// Whether its lower end marks a level.
        tip_marks: bool,
    },
    /// A cap with a groove along x, its first pocket; what it holds is at greater y. Used turned over.
    Cap,
}

/// On a lid, by the side that lay up in printing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnLid {
    /// A round foot on its upper face, glued, or screwed where the choice `screwed` is made.
    Foot,
    /// Plugged into a round hole by what stands out beyond its flange.
    Plug,
}

/// On the bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnBottom {
    /// The side that it stands on.
    pub by: Side,
    /// Whether it is glued there, or stands loose.
    pub is_glued: bool,
    /// For what stacks: the choice among its measures that lets the next one stand on it.
    pub stacks_by: Option<&'static str>,
}

/// What a fitting holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// What is upright and round and goes through it.
    Upright,
    /// What stands on it.
    OnTop,
}

/// How what is longer than the bed is made in pieces: names of its measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InPieces {
    /// What is divided.
    pub length: &'static str,
    /// What only the lowest piece has.
    pub lowest: &'static str,
    /// What only the highest piece has.
    pub highest: &'static str,
}

/// What of a sump a measure follows from where nothing else is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Follows {
    /// The sheet that it is on, at its thickest: so it goes on anywhere.
    Sheet,
    /// The same, but at its thinnest where this choice is made: what is pressed on must hold there.
    SheetOrThinnest(&'static str),
    /// How much that sheet differs in thickness.
    Spread,
    /// The diameter of the drains' pipes.
    Pipe,
    /// The diameter of the probes.
    Probe,
    /// The hole of the sock holder that it sits in.
    SockHole,
    /// The diameter of the round holes of the leaf that it is on.
    RoundHole,
    /// The width of the rectangular opening of the leaf that it is on.
    OpeningWidth,
    /// The height of that opening.
    OpeningHeight,
    /// The radius of that opening's corners.
    OpeningCorner,
    /// The clearance of leaves between strips.
    StripClearance,
}

impl Stand {
    /// Without any place.
    pub const NOWHERE: Self = Self {
        on_face: None,
        on_edge: None,
        on_bottom: None,
        on_lid: None,
        in_holder: false,
        nowhere: None,
        holds: None,
        instead: None,
    };

    /// Glued to a face by one side, another up.
    pub(crate) const fn glued(by: Side, up: Side) -> Self {
        let on_face = OnFace { by, up, held: Held::Glued, carries_below_top: None };
        Self { on_face: Some(on_face), ..Self::NOWHERE }
    }

    /// Pressed into an opening of a sheet.
    pub(crate) const fn pressed(flange: Flange) -> Self {
        let on_face = OnFace {
            by: Side::Top,
            up: Side::Crown,
            held: Held::Pressed(flange),
            carries_below_top: None,
        };
        Self { on_face: Some(on_face), ..Self::NOWHERE }
    }

    /// On an upper edge.
    pub(crate) const fn on_edge(edge: OnEdge) -> Self {
        Self { on_edge: Some(edge), ..Self::NOWHERE }
    }

    /// Without a place of its own, for a reason.
    pub(crate) const fn nowhere(why: &'static str) -> Self {
        Self { nowhere: Some(why), ..Self::NOWHERE }
    }

    /// The same, holding something.
    pub(crate) const fn holding(self, what: Holds) -> Self {
        Self { holds: Some(what), ..self }
    }

    /// How it stands with the choices that are made among its measures.
    pub fn with(&self, is_made: impl Fn(&str) -> bool) -> &Self {
        match self.instead {
            Some((choice, instead)) if is_made(choice) => instead,
            _ => self,
        }
    }

    /// Whether it is glued, with the choices that are made among its measures.
    pub fn is_glued(&self, is_made: impl Fn(&str) -> bool) -> bool {
        let stand = self.with(&is_made);
        stand.on_face.is_some_and(|face| face.held == Held::Glued)
            || stand.on_bottom.is_some_and(|bottom| bottom.is_glued)
            || stand.on_lid == Some(OnLid::Foot) && !is_made("screwed")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kind::{KINDS, Kind, Of};

    fn has_measure(kind: &Kind, name: &str, of: Of) -> bool {
        kind.measures.iter().any(|measure| measure.name == name && measure.of == of)
    }

    #[test]
    fn every_kind_has_a_place_or_says_why_not_and_jigs_have_none() {
        for kind in KINDS {
            let Stand { on_face, on_edge, on_bottom, on_lid, in_holder, nowhere, .. } = kind.stand;
            let has_place = on_face.is_some()
                || on_edge.is_some()
                || on_bottom.is_some()
                || on_lid.is_some()
                || in_holder;
            assert_eq!(has_place || nowhere.is_some(), !kind.is_jig, "{}", kind.name);
            assert!(!(has_place && nowhere.is_some()), "{}", kind.name);
        }
    }

    #[test]
    fn measures_that_stands_name_are_there() {
        for kind in KINDS {
            let stands = [Some(&kind.stand), kind.stand.instead.map(|(_, stand)| stand)];
            for stand in stands.into_iter().flatten() {
                let below = stand.on_face.and_then(|face| face.carries_below_top);
                assert!(below.is_none_or(|name| has_measure(kind, name, Of::Mm)), "{}", kind.name);
                let stacks = stand.on_bottom.and_then(|bottom| bottom.stacks_by);
                assert!(stacks.is_none_or(|name| has_measure(kind, name, Of::Choice)));
                if stand.on_lid == Some(OnLid::Foot) {
                    assert!(has_measure(kind, "screwed", Of::Choice), "{}", kind.name);
                }
            }
            let instead = kind.stand.instead;
            assert!(instead.is_none_or(|(choice, _)| has_measure(kind, choice, Of::Choice)));
            if let Some(InPieces { length, lowest, highest }) = kind.in_pieces {
                assert!(has_measure(kind, length, Of::Mm) && has_measure(kind, highest, Of::Mm));
                assert!(has_measure(kind, lowest, Of::Choice), "{}", kind.name);
            }
            for measure in kind.measures {
                if let Some(Follows::SheetOrThinnest(choice)) = measure.follows {
                    assert!(has_measure(kind, choice, Of::Choice), "{}", kind.name);
                }
                assert!(measure.follows.is_none() || measure.of == Of::Mm, "{}", measure.name);
            }
        }
    }

    #[test]
    fn a_choice_changes_how_it_stands() {
        let stop = Kind::named("door-stop").expect("there");
        let (clip, block) = (stop.stand.with(|_| false), stop.stand.with(|name| name == "glued"));
        assert!(clip.on_edge.is_some() && clip.on_face.is_none());
        assert!(block.on_edge.is_none() && block.on_face.is_some());
        let is_glued = |kind: &str, choice: &str| {
            Kind::named(kind).expect("there").stand.is_glued(|name| name == choice)
        };
        assert!(is_glued("door-stop", "glued") && !is_glued("door-stop", ""));
        assert!(is_glued("guide-channel", "stop") && !is_glued("guide-channel", "pressed"));
        assert!(is_glued("lid-handle", "") && !is_glued("lid-handle", "screwed"));
        assert!(is_glued("egg-crate-ledge", "") && !is_glued("strainer", ""));
    }
}
