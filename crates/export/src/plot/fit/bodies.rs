//! The outlines of everything, from the back to the front of the drawing, and their names.

use design::{Design, Role, SurroundingKind};
use glam::{DVec2, DVec3};

use super::Sheet;
use super::outline::Outline;
use super::view::{Frame, View};
use crate::plot::naming::{Near, name_in, name_near};
use crate::plot::paper::{Area, Paper};

/// What kinds of things look alike; drawn in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// The clear inside of the cabinet.
    Inside,
    /// Walls of the cabinet, cut.
    Cabinet,
    /// An opening in a wall that is cut.
    Gap,
    /// An opening in a wall that is not drawn.
    Door,
    /// Posts, shelves and what else is fixed in the cabinet.
    Fixed,
    /// The bottom of the sump.
    Bottom,
    /// Its walls, cut.
    Wall,
    /// Shelves, ledges and guides in it.
    Inner,
    /// Leaves and doors.
    Leaf,
    /// Filter socks.
    Sock,
    /// Pipes and fittings.
    Pipe,
    /// Pumps, skimmers …
    Equipment,
    /// Openings of the rim.
    Rim,
    /// What is kept free for service.
    Service,
}

impl Kind {
    pub(super) const ALL: [Self; 14] = [
        Self::Inside,
        Self::Cabinet,
        Self::Gap,
        Self::Door,
        Self::Fixed,
        Self::Bottom,
        Self::Wall,
        Self::Inner,
        Self::Leaf,
        Self::Sock,
        Self::Pipe,
        Self::Equipment,
        Self::Rim,
        Self::Service,
    ];

    /// SVG attributes.
    pub(super) fn style(self) -> &'static str {
        match self {
            Self::Inside => "fill=\"#faf8f3\"",
            Self::Cabinet => "fill=\"#d9cdb6\" stroke=\"#8a7a5c\" stroke-width=\"0.18\"",
            Self::Gap => {
                "fill=\"#ffffff\" stroke=\"#8a7a5c\" stroke-width=\"0.18\" stroke-dasharray=\"1.6 0.6\""
            }
            Self::Door => {
                "fill=\"none\" stroke=\"#8a7a5c\" stroke-width=\"0.25\" stroke-dasharray=\"3 0.8 0.6 0.8\""
            }
            Self::Fixed => "fill=\"#ebe4d6\" stroke=\"#8a7a5c\" stroke-width=\"0.18\"",
            Self::Bottom => "fill=\"#eef4f6\" stroke=\"#7d95a0\" stroke-width=\"0.15\"",
            Self::Wall => "fill=\"#8fa7b1\" stroke=\"#4f6670\" stroke-width=\"0.15\"",
            Self::Inner => {
                "fill=\"#cfdde2\" fill-opacity=\"0.7\" stroke=\"#7d95a0\" stroke-width=\"0.12\""
            }
            Self::Leaf => "fill=\"#4e93a8\" stroke=\"#245666\" stroke-width=\"0.15\"",
            Self::Sock => {
                "fill=\"#f3ecd9\" fill-opacity=\"0.6\" stroke=\"#8a7a4d\" stroke-width=\"0.18\""
            }
            Self::Pipe => {
                "fill=\"#e4e6e8\" fill-opacity=\"0.8\" stroke=\"#59636b\" stroke-width=\"0.18\""
            }
            Self::Equipment => {
                "fill=\"#f0d6a8\" fill-opacity=\"0.75\" stroke=\"#6b4f1d\" stroke-width=\"0.22\""
            }
            Self::Rim => {
                "fill=\"none\" stroke=\"#245666\" stroke-width=\"0.2\" stroke-dasharray=\"2 0.7\""
            }
            Self::Service => {
                "fill=\"none\" stroke=\"#a3541a\" stroke-width=\"0.18\" stroke-dasharray=\"0.9 0.6\""
            }
        }
    }

    /// What the key says.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Inside => "inside of the cabinet",
            Self::Cabinet => "cabinet, cut",
            Self::Gap => "its opening",
            Self::Door => "opening in a wall that is not drawn",
            Self::Fixed => "fixed in the cabinet",
            Self::Bottom => "bottom",
            Self::Wall => "wall of the sump",
            Self::Inner => "shelf, guide",
            Self::Leaf => "leaf, door",
            Self::Sock => "sock",
            Self::Pipe => "pipe, fitting",
            Self::Equipment => "equipment",
            Self::Rim => "opening of the rim",
            Self::Service => "kept free for service",
        }
    }
}

/// A thing in the drawing.
#[derive(Clone, Debug)]
pub(super) struct Thing {
    pub(super) kind: Kind,
    /// When it is worth one.
    name: Option<String>,
    outline: Outline,
    /// How near it is to the eye, mm.
    near: f64,
}

/// Everything, in the order in which it is drawn.
pub(super) fn all(sheet: &Sheet<'_>) -> Vec<Thing> {
    let mut things = around(sheet);
    things.extend(sump(sheet.design, sheet.view));
    things.sort_by(|a, b| a.kind.cmp(&b.kind).then(a.near.total_cmp(&b.near)));
    things
}

fn sump(design: &Design, view: View) -> Vec<Thing> {
    let mut things = Vec::new();
    for placed in &design.placed {
        let piece = &design.pieces[placed.piece];
        let mut outline = Outline::of(&piece.shape, placed.pose, view);
        let service = placed.service.iter().map(|space| Thing {
            kind: Kind::Service,
            name: None,
            outline: Outline::block(*space, view),
            near: 0.0,
        });
        // Room that shows no larger than the thing itself only makes its outline look dashed.
        things.extend(service.filter(|room| !is_same(room.outline.bounds(), outline.bounds())));
        let Some(kind) = kind(piece.role, view) else { continue };
        if piece.role == Role::Wall && view == View::Side && is_broad(&outline, design, view) {
            continue;
        }
        let near = placed.pose.translation.dot(view.towards());
        if piece.role == Role::Rim && view == View::Plan {
            let opening = |points| Thing {
                kind,
                name: None,
                outline: Outline { points, holes: Vec::new() },
                near,
            };
            things.extend(outline.holes.drain(..).map(opening));
            continue;
        }
        let is_named = matches!(
            piece.role,
            Role::Leaf | Role::Sock | Role::SockHolder | Role::DrainPipe | Role::Equipment
        );
        let is_main = piece.body_of.is_none();
        let name = (is_named && is_main).then(|| placed.name.clone());
        things.push(Thing { kind, name, outline, near });
    }
    things
}

/// Whether two boxes differ by no more than a line is wide.
fn is_same(a: [DVec2; 2], b: [DVec2; 2]) -> bool {
    const LINE_MM: f64 = 0.5;
    a[0].distance(b[0]).max(a[1].distance(b[1])) < LINE_MM
}

/// A wall that one looks at, and not along.
fn is_broad(outline: &Outline, design: &Design, view: View) -> bool {
    let [lo, hi] = outline.bounds();
    let whole = view.flat(design.outside);
    (hi - lo).cmpgt(0.5 * whole).all()
}

/// `None` for what is not drawn: lids hide what is below them.
fn kind(role: Role, view: View) -> Option<Kind> {
    Some(match role {
        Role::Bottom if view == View::Plan => Kind::Bottom,
        Role::Bottom | Role::Wall => Kind::Wall,
        Role::Rim if view == View::Plan => Kind::Rim,
        Role::Rim => Kind::Wall,
        Role::Lid if view == View::Plan => return None,
        Role::Leaf | Role::Door => Kind::Leaf,
        Role::Sock => Kind::Sock,
        Role::WallFitting | Role::DrainPipe => Kind::Pipe,
        Role::Equipment => Kind::Equipment,
        Role::GuideStrip
        | Role::GuideChannel
        | Role::SockHolder
        | Role::Ledge
        | Role::SockRing
        | Role::Knob
        | Role::Fitting
        | Role::Jig
        | Role::Screw
        | Role::Lid => Kind::Inner,
    })
}

fn around(sheet: &Sheet<'_>) -> Vec<Thing> {
    let Some(around) = &sheet.design.surroundings else { return Vec::new() };
    let view = sheet.view;
    let [least, most] = around.inside;
    let mut things = vec![Thing {
        kind: Kind::Inside,
        name: None,
        outline: Outline::block(around.inside, view),
        near: 0.0,
    }];
    for thing in &around.things {
        let outline = Outline::of(&thing.shape, thing.pose, view);
        let [lo, hi] = outline.bounds();
        let is_beside = {
            let [least, most] = [least, most].map(|p| view.flat(p));
            hi.cmple(least + 0.01).any() || (most - 0.01).cmple(lo).any()
        };
        let kind = match thing.kind {
            // Walls that one looks at hide what is behind them.
            SurroundingKind::Panel if !is_beside => continue,
            SurroundingKind::Mat if view == View::Plan => continue,
            SurroundingKind::Panel | SurroundingKind::Mat => Kind::Cabinet,
            SurroundingKind::PipeAbove => Kind::Pipe,
            SurroundingKind::Post | SurroundingKind::Shelf | SurroundingKind::Fixture => {
                Kind::Fixed
            }
        };
        let name = (kind == Kind::Fixed).then(|| thing.name.clone());
        let near = thing.pose.translation.dot(view.towards());
        things.push(Thing { kind, name, outline, near });
    }
    for opening in &around.openings {
        let is_along = match view {
            View::Plan => true,
            View::Side => opening.out.x.abs() > 0.5,
        };
        let kind = if is_along { Kind::Gap } else { Kind::Door };
        let outline = Outline::block(opening.gap, view);
        things.push(Thing { kind, name: None, outline, near: 0.0 });
    }
    things
}

/// Least and greatest corner of the sump, the cabinet, and what stands out of them.
pub(super) fn extent(sheet: &Sheet<'_>, things: &[Thing]) -> [DVec2; 2] {
    let whole = sheet.view.flat(sheet.design.outside);
    let start = [sheet.view.flat(DVec3::ZERO), whole];
    let all = things.iter().filter(|t| t.kind != Kind::Pipe).map(|t| t.outline.bounds());
    let [lo, hi] = all.fold(start, |[lo, hi], [a, b]| [lo.min(a), hi.max(b)]);
    // Pipes run on upwards, however long they are.
    let pipes = things.iter().filter(|t| t.kind == Kind::Pipe).map(|t| t.outline.bounds());
    pipes.fold([lo, hi], |[lo, hi], [a, b]| {
        let most = hi.max(whole + 0.25 * whole.max_element());
        [lo.min(a), hi.max(b.min(most))]
    })
}

pub(super) fn draw(paper: &mut Paper, things: &[Thing], frame: &Frame) {
    for thing in things {
        let on_paper = |points: &[DVec2]| points.iter().map(|p| frame.at(*p)).collect::<Vec<_>>();
        paper.path(&on_paper(&thing.outline.points), true, thing.kind.style());
        for hole in &thing.outline.holes {
            if matches!(thing.kind, Kind::Pipe | Kind::Inner | Kind::Sock) {
                let style = "fill=\"#ffffff\" fill-opacity=\"0.6\" stroke=\"#7d95a0\" stroke-width=\"0.12\"";
                paper.path(&on_paper(hole), true, style);
            }
        }
    }
}

/// Names what is worth a name, in it or beside it; the names that found no room.
pub(super) fn names(
    paper: &mut Paper,
    things: &[Thing],
    frame: &Frame,
    [lo, hi]: [DVec2; 2],
) -> Vec<String> {
    const SIZE: f64 = 2.2;
    let area = |t: &Thing| {
        let [a, b] = t.outline.bounds().map(|p| frame.at(p));
        Area::between(a, b)
    };
    let inside = Area::between(frame.at(lo), frame.at(hi)).grown(4.0);
    let mut named: Vec<(&str, Area)> =
        things.iter().filter_map(|t| Some((t.name.as_deref()?, area(t)))).collect();
    let solid = |t: &&Thing| {
        matches!(t.kind, Kind::Leaf | Kind::Equipment | Kind::Pipe | Kind::Sock | Kind::Fixed)
    };
    let bodies: Vec<Area> = things.iter().filter(solid).map(area).collect();
    // The narrow ones have least choice.
    let width = |a: &Area| (a.max[0] - a.min[0]).min(a.max[1] - a.min[1]);
    named.sort_by(|a, b| width(&a.1).total_cmp(&width(&b.1)));
    named.retain(|(name, outline)| {
        let near = |off, longest| Near {
            size: SIZE,
            outline,
            inside: &inside,
            off,
            longest,
            has_dot: true,
        };
        let is_named = name_in(paper, name, SIZE, outline, &bodies)
            || name_near(paper, name, &near(&bodies, 18.0))
            || name_near(paper, name, &near(&[], 18.0))
            || name_near(paper, name, &near(&[], 50.0));
        !is_named
    });
    named.into_iter().map(|(name, _)| name.to_owned()).collect()
}
