//! From what a design says of its water to a network.

use design::{Into, Waterworks, Way};

use super::parts::Part;
use super::tanks::{self, M_PER_MM};
use super::{Missing, Setting, System, Tanks, leaves, plumbing};
use crate::law::{Law, Mouth};
use crate::network::{Element, Kind, Network, Tank};
use crate::seawater::Water;

/// Water stands this high on a level plate before it runs over its edge, m: the height of a puddle,
/// `2 l sin(θ/2)` with the capillary length `l` of 2.7 mm and a contact angle on acrylic of about 70°
/// (de Gennes, Brochard-Wyart and Quéré, *Capillarity and Wetting Phenomena*, 2004, ch. 2; the angle
/// from memory).
pub(crate) const PUDDLE_M: f64 = 0.003;
/// What one clean sock passes per area of its wall at [`SOCK_HEAD_M`], m/s, unless the file says
/// otherwise: 10 L/h per cm², from memory of makers' ratings.
const SOCK_FLUX_M_S: f64 = 10.0 / 3.6e6 / 1e-4;
/// Head at which a sock's flow is told, m.
const SOCK_HEAD_M: f64 = 0.05;

/// A network while it is put together.
pub(super) struct Builder<'a> {
    pub(super) works: &'a Waterworks,
    pub(super) setting: Setting,
    pub(super) water: Water,
    pub(super) viscosity_m2_s: f64,
    pub(super) tanks: Vec<Tank>,
    pub(super) ids: Tanks,
    elements: Vec<Element>,
    parts: Vec<Part>,
}

impl<'a> System<'a> {
    /// Builds the network of these waterworks with these leaves and settings.
    ///
    /// # Errors
    /// When the file does not tell enough.
    pub fn new(works: &'a Waterworks, setting: Setting) -> Result<Self, Missing> {
        let display = works.display.as_ref().ok_or(Missing::Display)?;
        if !works.lines.iter().any(|line| line.to.is_none()) {
            return Err(Missing::ReturnLine);
        }
        if !works.drains.iter().any(|drain| drain.intake_mm.is_some()) {
            return Err(Missing::Drain);
        }
        let returning = returning(works)?;
        let water =
            Water::new(works.water.temperature.to_celsius(), works.water.salinity.to_g_per_kg())?;
        let (tanks, ids) = tanks::build(works, display, returning);
        let mut b = Builder {
            works,
            setting,
            water,
            viscosity_m2_s: water.kinematic_viscosity(),
            tanks,
            ids,
            elements: Vec::new(),
            parts: Vec::new(),
        };
        leaves::add(&mut b);
        b.add_shelves();
        b.add_covers();
        b.add_rims();
        b.add_seams();
        plumbing::add_display(&mut b, display);
        plumbing::add_drains(&mut b, display);
        plumbing::add_lines(&mut b, display)?;
        plumbing::add_top_up(&mut b);
        plumbing::add_cups(&mut b);
        let evaporation = plumbing::add_evaporation(&mut b, display);
        let order = order(&b);
        Ok(Self {
            works,
            setting: b.setting,
            network: Network { tanks: b.tanks, elements: b.elements },
            parts: b.parts,
            tanks: b.ids,
            order,
            water,
            evaporation_m3_s: evaporation.m3_s,
            evaporation_most_m3_s: evaporation.most_m3_s,
            evaporation_is_computed: evaporation.is_computed,
        })
    }
}

/// The basin whose level is kept, else the one that the pump of the display draws from.
///
/// # Errors
/// When a level is kept in a chamber that the display's pump does not draw from: nothing would keep it.
fn returning(works: &Waterworks) -> Result<usize, Missing> {
    let lines = || works.lines.iter().filter(|line| line.to.is_none());
    let Some(kept) = works.basins.iter().position(|b| b.kept_level_mm.is_some()) else {
        return lines().next().map(|line| line.from).ok_or(Missing::Chamber);
    };
    match lines().next() {
        Some(line) if lines().all(|line| line.from != kept) => Err(Missing::KeptElsewhere {
            kept: works.basins[kept].name.clone(),
            pump: line.pump.clone(),
            drawn: works.basins[line.from].name.clone(),
            parameter: format!("{}.level", works.basins[kept].parameter),
        }),
        _ => Ok(kept),
    }
}

impl Builder<'_> {
    pub(super) fn add(
        &mut self,
        name: String,
        kind: Kind,
        [up, down]: [usize; 2],
        law: Law,
        scale: f64,
        part: Part,
    ) {
        // Two finger holes, two dividers with the same leaf: numbered.
        let is_taken = |name: &String| self.elements.iter().any(|e| e.name == *name);
        let numbered = (2..).map(|n| format!("{name} {n}"));
        let name = std::iter::once(name.clone())
            .chain(numbered)
            .find(|name| !is_taken(name))
            .unwrap_or(name);
        self.elements.push(Element { name, kind, up, down, law, scale, lean: 0.0 });
        self.parts.push(part);
    }

    /// Whether the leaf of this way stands in its place.
    pub(super) fn stands(&self, way: &Way) -> bool {
        match self.setting.leaves.get(&(way.divider.clone(), way.place)) {
            Some(leaf) => *leaf == way.leaf,
            None => way.is_in,
        }
    }

    /// The tank at the end of a pipe.
    pub(super) fn tank_of(&self, end: Into) -> usize {
        match end {
            Into::Basin(basin) => basin,
            Into::Shelf(shelf) => self.ids.shelves[shelf],
        }
    }

    fn add_shelves(&mut self) {
        for (k, shelf) in self.works.shelves.iter().enumerate() {
            let (tank, basin) = (self.ids.shelves[k], shelf.basin);
            let name = &self.works.basins[basin].name;
            let [end, top, diameter] =
                [shelf.sock_end_mm, shelf.top_mm, shelf.diameter_mm].map(|mm| mm * M_PER_MM);
            let socks = f64::from(shelf.socks);
            let perimeter = std::f64::consts::PI * diameter;
            let bottom = 0.25 * std::f64::consts::PI * diameter * diameter;
            let wall = perimeter * (top - end) + bottom;
            let flux = shelf.passes_l_h.map_or(SOCK_FLUX_M_S, |l_h| l_h / 3.6e6 / wall);
            let conductance = flux / SOCK_HEAD_M;
            let cloth = Law::fabric(end, top, socks * perimeter, socks * bottom, conductance);
            let [width, depth] = shelf.bypass_mm.map(|mm| mm * M_PER_MM);
            let bypass = Law::Mouth(Mouth::new(top, width + 2.0 * depth, width * depth));
            let (socks, past) = (format!("socks of {name}"), format!("bypass of {name}"));
            self.add(socks, Kind::Sock, [tank, basin], cloth, 1.0, Part::Socks { shelf: k });
            self.add(past, Kind::Lip, [tank, basin], bypass, 1.0, Part::Bypass { shelf: k });
        }
    }

    fn add_covers(&mut self) {
        for (k, cover) in self.works.covers.iter().enumerate() {
            let (tank, basin) = (self.ids.covers[k], cover.basin);
            let name = &self.works.basins[basin].name;
            let top = cover.top_mm * M_PER_MM;
            let (mut around, mut area) = (0.0, 0.0);
            for &(diameter_mm, count) in &cover.holes {
                #[expect(clippy::cast_precision_loss, reason = "at most ten thousand holes")]
                let (d, n) = (diameter_mm * M_PER_MM, count as f64);
                around += n * std::f64::consts::PI * d;
                area += n * 0.25 * std::f64::consts::PI * d * d;
            }
            let holes = Law::mouth(top, around, area);
            let edge = cover.edge_mm * M_PER_MM;
            let over = Law::crest(top + PUDDLE_M, edge, PUDDLE_M, top, edge);
            let (through, past) =
                (format!("holes in the lid of {name}"), format!("edge of the lid of {name}"));
            let floor = self.ids.sump_floor;
            self.add(through, Kind::Lip, [tank, basin], holes, 1.0, Part::LidHoles { cover: k });
            self.add(past, Kind::Crest, [tank, floor], over, 1.0, Part::LidEdge { cover: k });
        }
    }

    /// Water that rises above the rim runs over all the wall beside it: of a chamber with a shelf, from
    /// above the shelf.
    fn add_rims(&mut self) {
        for (i, basin) in self.works.basins.iter().enumerate() {
            let shelf = self.works.shelves.iter().position(|s| s.basin == i);
            let tank = shelf.map_or(i, |k| self.ids.shelves[k]);
            if basin.wall_run_mm <= 0.0 {
                continue;
            }
            let [rim, run, wall] =
                [basin.rim_mm, basin.wall_run_mm, basin.wall_mm].map(|mm| mm * M_PER_MM);
            let law = Law::crest(rim, run, wall, rim, run);
            let name = format!("rim of {}", basin.name);
            let between = [tank, self.ids.sump_floor];
            self.add(name, Kind::Crest, between, law, 1.0, Part::Rim { tank });
        }
    }

    /// The seam between a chamber's walls and the bottom, opened by the gap that is rehearsed.
    fn add_seams(&mut self) {
        let gap_mm = self.works.rehearsals.seam_gap.to_mm();
        for (i, basin) in self.works.basins.iter().enumerate() {
            if !basin.is_chamber || basin.wall_run_mm <= 0.0 {
                continue;
            }
            let gap = leaves::Gap {
                gap_mm,
                way_through_mm: basin.wall_mm,
                viscosity_m2_s: self.viscosity_m2_s,
            };
            let law = gap.law(0.0, 0.0, 0.0, basin.wall_run_mm * M_PER_MM);
            let name = format!("seam of {}", basin.name);
            let between = [i, self.ids.sump_floor];
            self.add(name, Kind::Opening, between, law, 0.0, Part::Seam { basin: i });
        }
    }
}

/// Tanks in flow order: display, box, socks, basins; without the return chamber, whose level is kept.
fn order(b: &Builder<'_>) -> Vec<usize> {
    let mut order = vec![b.ids.display, b.ids.weir_box];
    order.extend(&b.ids.shelves);
    order.extend((0..b.ids.basins).filter(|&i| i != b.ids.returning));
    order
}
