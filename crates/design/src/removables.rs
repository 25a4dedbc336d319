//! What can be taken out of the sump, and what must be undone before.

use params::{DrainAbove, EquipmentKind};

use crate::draft::{Builder, Draft, DraftId, untaken};
use crate::model::{PlacedId, Role, SpareId};
use crate::surroundings::{SurroundingKind, Surroundings};

/// Index into [`Design::removables`](crate::Design::removables).
pub type RemovableId = usize;

/// Something that is taken out as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Removable {
    /// What it is called, unique: `leaf comb`, `sock inlet 1`.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// What it is.
    pub kind: RemovableKind,
    /// What moves with it. Empty for a leaf that is not in and for a shelf of the cabinet.
    pub parts: Vec<PlacedId>,
    /// Of a leaf that is not in: what moves with it.
    pub spares: Vec<SpareId>,
    /// Of a leaf that is not in: which removable stands in its place.
    pub instead_of: Option<RemovableId>,
    /// Of a leaf: where it stands, or would.
    pub slot: Option<LeafSlot>,
    /// Of a sock: the height from which on it is stiff, in the sump's frame. The bag below is soft and can be
    /// squeezed.
    pub stiff_from_z: Option<f64>,
    /// Small parts that are undone by hand before it moves, and are out of the way then.
    pub undone: Vec<PlacedId>,
    /// The same for a leaf that is not in.
    pub undone_spares: Vec<SpareId>,
    /// What is undone, in words: `take off its 2 knobs and screws`.
    pub undo: Option<String>,
    /// The chamber that the file names it with, if it does.
    pub chamber: Option<String>,
    /// Of a shelf of the cabinet: which of [`Surroundings::things`] it is.
    pub shelf: Option<usize>,
}

/// The place of a leaf in a divider.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeafSlot {
    /// Name of the divider.
    pub divider: String,
    /// Path of the divider's parameter.
    pub parameter: String,
    /// Which leaf of the divider, counted in flow order.
    pub place: usize,
}

/// What a removable is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RemovableKind {
    /// A lift-out leaf, with its door.
    Leaf,
    /// A door, off its leaf.
    Door,
    /// A filter sock.
    Sock,
    /// The shelf that holds socks, with its rings.
    SockHolder,
    /// A loose drain pipe.
    DrainPipe,
    /// A pump, skimmer, heater, probe …
    Equipment,
    /// A lid.
    Lid,
    /// A printed fitting that hangs or stands loose.
    Fitting,
    /// A shelf of the cabinet that can be taken out.
    CabinetShelf,
    /// The sump itself, empty.
    Sump,
}

impl RemovableKind {
    /// The kind in words, for lists.
    pub fn words(self) -> &'static str {
        match self {
            Self::Leaf => "lift-out leaf",
            Self::Door => "door",
            Self::Sock => "filter sock",
            Self::SockHolder => "sock holder",
            Self::DrainPipe => "drain pipe",
            Self::Equipment => "equipment",
            Self::Lid => "lid",
            Self::Fitting => "fitting",
            Self::CabinetShelf => "cabinet shelf",
            Self::Sump => "sump",
        }
    }
}

/// Where the drafts of a builder are in the design that was made of them.
pub(crate) struct Places<'a> {
    /// Of each draft that is in.
    pub(crate) placed: &'a [Option<PlacedId>],
    /// Of each draft that is a spare.
    pub(crate) spares: &'a [Option<SpareId>],
}

/// Collects what can be taken out, in the order in which it was put in, then shelves of the cabinet, and
/// the sump itself last.
///
/// The door of a leaf that is not in is none of its own: it is taken off outside.
pub(crate) fn build(
    b: &Builder<'_>,
    places: &Places<'_>,
    surroundings: Option<&Surroundings>,
) -> Vec<Removable> {
    let mut all: Vec<Removable> = Vec::new();
    let mut of_draft: Vec<Option<RemovableId>> = vec![None; b.drafts.len()];
    for (id, draft) in b.drafts.iter().enumerate() {
        let Some(kind) = kind(draft) else { continue };
        of_draft[id] = Some(all.len());
        let instead_of = draft.spare_for.and_then(|stands_there| of_draft[stands_there]);
        all.push(one(b, places, id, kind, instead_of));
    }
    let shelves = surroundings.iter().flat_map(|s| s.things.iter().enumerate());
    for (i, shelf) in shelves.filter(|(_, t)| t.kind == SurroundingKind::Shelf && t.is_removable) {
        all.push(Removable {
            shelf: Some(i),
            ..plain(shelf.name.clone(), shelf.parameter.clone(), RemovableKind::CabinetShelf)
        });
    }
    let fixed = b.drafts.iter().zip(places.placed).filter(|(draft, _)| draft.loose.is_none());
    let name = untaken("sump", |name| all.iter().any(|r| r.name == name));
    all.push(Removable {
        parts: fixed.filter_map(|(_, place)| *place).collect(),
        ..plain(name, "box".to_owned(), RemovableKind::Sump)
    });
    all
}

fn plain(name: String, parameter: String, kind: RemovableKind) -> Removable {
    Removable {
        name,
        parameter,
        kind,
        parts: Vec::new(),
        spares: Vec::new(),
        instead_of: None,
        slot: None,
        stiff_from_z: None,
        undone: Vec::new(),
        undone_spares: Vec::new(),
        undo: None,
        chamber: None,
        shelf: None,
    }
}

/// What a part is taken out as, if it is what others go with.
fn kind(draft: &Draft) -> Option<RemovableKind> {
    draft.loose?;
    let is_fixed_to_another = draft.part_of.is_some();
    match draft.role {
        Role::Door => (!draft.is_spare).then_some(RemovableKind::Door),
        _ if is_fixed_to_another => None,
        Role::Leaf => Some(RemovableKind::Leaf),
        Role::Sock => Some(RemovableKind::Sock),
        Role::SockHolder => Some(RemovableKind::SockHolder),
        Role::DrainPipe => Some(RemovableKind::DrainPipe),
        Role::Equipment => Some(RemovableKind::Equipment),
        Role::Lid => Some(RemovableKind::Lid),
        Role::Fitting => Some(RemovableKind::Fitting),
        _ => None,
    }
}

fn one(
    b: &Builder<'_>,
    places: &Places<'_>,
    id: DraftId,
    kind: RemovableKind,
    instead_of: Option<RemovableId>,
) -> Removable {
    let draft = &b.drafts[id];
    let (moves, undone) = match kind {
        RemovableKind::Door => (vec![id], clamps(b, draft.part_of)),
        _ => (with_what_is_on(b, id), Vec::new()),
    };
    let in_place = |ids: &[DraftId]| ids.iter().filter_map(|&i| places.placed[i]).collect();
    let spare = |ids: &[DraftId]| ids.iter().filter_map(|&i| places.spares[i]).collect();
    Removable {
        parts: in_place(&moves),
        spares: spare(&moves),
        instead_of,
        slot: draft.slot.clone().filter(|_| kind == RemovableKind::Leaf),
        // The lower face of its flange is the origin of a sock's own frame.
        stiff_from_z: (kind == RemovableKind::Sock).then_some(draft.pose.translation.z),
        undone: in_place(&undone),
        undone_spares: spare(&undone),
        undo: undo_words(b, &undone).or_else(|| undo_of(b, draft, kind)),
        chamber: chamber(b, draft),
        ..plain(draft.name.clone(), draft.parameter.clone(), kind)
    }
}

/// A part and all that is fixed to it.
fn with_what_is_on(b: &Builder<'_>, id: DraftId) -> Vec<DraftId> {
    let on = (0..b.drafts.len()).filter(|&i| b.drafts[i].part_of == Some(id));
    std::iter::once(id).chain(on).collect()
}

/// Screws and knobs that clamp the door of a leaf, and stops that are pushed on the leaf in its way.
fn clamps(b: &Builder<'_>, leaf: Option<DraftId>) -> Vec<DraftId> {
    let is_clamp = |d: &Draft| {
        let is_stop = d.grips == leaf && is_door_stop(b, d);
        let is_clamp = d.part_of == leaf && matches!(d.role, Role::Screw | Role::Knob);
        leaf.is_some() && (is_clamp || is_stop)
    };
    (0..b.drafts.len()).filter(|&i| is_clamp(&b.drafts[i])).collect()
}

fn undo_words(b: &Builder<'_>, undone: &[DraftId]) -> Option<String> {
    let knobs = undone.iter().filter(|&&i| b.drafts[i].role == Role::Knob).count();
    let stops = undone.iter().filter(|&&i| is_door_stop(b, &b.drafts[i])).count();
    let stop = match stops {
        0 => "",
        1 => ", and pull the stop off its leaf",
        _ => ", and pull the stops off its leaf",
    };
    match (undone.len(), knobs) {
        (0, _) => None,
        (_, 1) => Some(format!("take off its knob and screw{stop}")),
        _ => Some(format!("take off its {knobs} knobs and screws{stop}")),
    }
}

fn is_door_stop(b: &Builder<'_>, draft: &Draft) -> bool {
    let fitting = index_in(&draft.parameter, "fitting").and_then(|i| b.file.fitting.get(i));
    fitting.is_some_and(|fitting| fitting.kind == "door-stop")
}

/// What is undone before something that water or current runs through is taken out.
fn undo_of(b: &Builder<'_>, draft: &Draft, kind: RemovableKind) -> Option<String> {
    match kind {
        RemovableKind::DrainPipe => {
            let drain = b.file.drain.get(index_in(&draft.parameter, "drain")?)?;
            let from = match drain.above {
                DrainAbove::Hose => "take its hose off",
                DrainAbove::Rigid => "undo its union above",
            };
            Some(format!("with the pump off and nothing more running down, {from}"))
        }
        RemovableKind::Equipment => {
            let thing = b.file.equipment.get(index_in(&draft.parameter, "equipment")?)?;
            Some(
                match thing.kind {
                    EquipmentKind::Pump => "switch it off, unplug it and take its hose off",
                    EquipmentKind::Heater => "switch it off, unplug it and let it cool down",
                    EquipmentKind::Skimmer | EquipmentKind::Reactor => {
                        "switch its pump off, unplug it and take its hoses off"
                    }
                    EquipmentKind::Probe => "unplug it",
                    EquipmentKind::Other => return None,
                }
                .to_owned(),
            )
        }
        _ => None,
    }
}

/// The chamber that the file names for a part: what stands in a list of the file says it there.
fn chamber(b: &Builder<'_>, draft: &Draft) -> Option<String> {
    let at = |list: &str| index_in(&draft.parameter, list);
    let file = b.file;
    let chamber = match draft.role {
        Role::Sock | Role::SockHolder => &file.sock_holder.get(at("sock_holder")?)?.chamber,
        Role::DrainPipe => &file.drain.get(at("drain")?)?.chamber,
        Role::Equipment => &file.equipment.get(at("equipment")?)?.chamber,
        Role::Lid => &file.lid.get(at("lid")?)?.chamber,
        Role::Fitting => file.fitting.get(at("fitting")?)?.chamber.as_ref()?,
        _ => return None,
    };
    Some(chamber.clone())
}

/// Which entry of a list of the file the path of a parameter leads through: 3 for `drain[3].at` and `drain`.
pub(crate) fn index_in(parameter: &str, list: &str) -> Option<usize> {
    let (index, _) = parameter.strip_prefix(list)?.strip_prefix('[')?.split_once(']')?;
    index.parse().ok()
}
