//! The machine that a sheet is cut with, as the file's `cutting` and common practice make it.

use params::{Cutting, Holding, Material, Process};
use units::{Length, Speed};

/// A machine with every default filled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Machine {
    /// What it is.
    pub process: Process,
    /// Width of what it takes away, mm: the cutter's diameter, or the kerf halfway through the sheet.
    pub width_mm: f64,
    /// How much wider its cut is at the upper face than at the lower, mm. Reckoned half to each edge: an edge leans by
    /// half of this, and each of its ends is a quarter of this off the middle.
    pub taper_mm: f64,
    /// How deep it cuts in one pass, mm; infinite where it cuts through at once.
    pub pass_mm: f64,
    /// Depth of engraving, mm.
    pub engraving_mm: f64,
    /// Length and height of the bridges that hold parts, mm, the height as the file gives it; `None` where parts are held
    /// otherwise.
    pub bridge_mm: Option<(f64, Option<f64>)>,
    /// Feed that the file gives, mm/min, least and greatest.
    pub given_feed_mm_min: Option<[f64; 2]>,
    /// Speed between cuts, mm/min.
    pub travel_mm_min: f64,
}

/// Share of the tool's width from one time round a pocket to the next: half the tool (common practice). At half or less
/// nothing can stay standing between two rounds: a place between them is nearer to one of them than the tool's radius.
pub const STEPOVER_SHARE: f64 = 0.5;

/// Narrowest cutter for which feeds are stated, and the widest, mm: 1/8 in and 1/2 in.
const CUTTERS_MM: [f64; 2] = [3.175, 12.7];
/// Feeds for these cutters in acrylic at 18,000 /min and more, mm/min: 75 to 100 and 200 to 300 in/min, as a maker of
/// routers advises (Instructables, "Cutting Acrylic With Your Industrial CNC Router").
const ROUTER_FEEDS_MM_MIN: [[f64; 2]; 2] =
    [[75.0 * 25.4, 100.0 * 25.4], [200.0 * 25.4, 300.0 * 25.4]];
/// A light machine goes at this share of it (our judgement).
const LIGHT_MACHINE: f64 = 0.5;
/// Speed of a CO2 laser of 80 to 150 W through acrylic: `v = k t^-1.6`, v in mm/s, t in mm, for 2 to 20 mm; from memory
/// (common practice: 12 to 30 mm/s in 3 mm, 2 to 4 mm/s in 10 mm).
const LASER_K: [f64; 2] = [70.0, 175.0];
const LASER_EXPONENT: f64 = 1.6;
/// Feed of a panel saw, mm/min; from memory (common practice; 3 to 4 in/s are advised for circular saws).
const SAW_FEED_MM_MIN: [f64; 2] = [3000.0, 8000.0];
/// Feed of a cutter straight down, mm/min; from memory (common practice).
const PLUNGE_MM_MIN: [f64; 2] = [300.0, 1000.0];
/// Height above the sheet at which a cutter travels, mm; common practice.
const CLEARANCE_MM: f64 = 5.0;
/// Time that a beam stands to pierce, s for each mm of sheet; from memory (common practice).
const PIERCE_S_PER_MM: [f64; 2] = [0.05, 0.3];
/// Time to set the fence of a saw and to turn the sheet, min for each cut; from memory (common practice).
const SET_SAW_MIN: [f64; 2] = [0.3, 1.0];
/// Length of a bridge, and its height, mm; from memory (common practice: 5 to 10 mm long, 1 to 2 mm high).
const BRIDGE_LENGTH_MM: f64 = 6.0;
const BRIDGE_HEIGHT_MM: f64 = 1.5;
/// Of thin sheet a bridge is this share high (common practice), and never higher than that (our judgement).
const BRIDGE_SHARE: f64 = 1.0 / 3.0;
const MOST_BRIDGE_SHARE: f64 = 0.5;
/// Feed of engraving, mm/min; from memory (common practice).
const ENGRAVE_MM_MIN: [f64; 2] = [1500.0, 6000.0];

impl Machine {
    /// The machine of a file.
    pub fn new(cutting: &Cutting) -> Self {
        let bare = |speed: Speed| speed.to_mm_per_min();
        let is_router = cutting.process == Process::Router;
        let taper = match cutting.process {
            Process::Laser => cutting.taper.map_or(0.1, Length::to_mm),
            Process::Router | Process::Saw => 0.0,
        };
        let pass_mm = cutting.pass_depth.unwrap_or(cutting.tool).to_mm();
        Self {
            process: cutting.process,
            width_mm: cutting.cut_width().to_mm(),
            taper_mm: taper,
            pass_mm: if is_router { pass_mm } else { f64::INFINITY },
            engraving_mm: cutting.engraving.to_mm(),
            bridge_mm: (is_router && cutting.holding == Holding::Tabs).then(|| {
                let length = cutting.tab_length.map_or(BRIDGE_LENGTH_MM, Length::to_mm);
                (length, cutting.tab_height.map(Length::to_mm))
            }),
            given_feed_mm_min: cutting.feed.map(|feed| feed.map(bare)),
            travel_mm_min: bare(cutting.travel),
        }
    }

    /// How far the middle of the tool runs beside an edge, mm.
    pub fn radius_mm(&self) -> f64 {
        0.5 * self.width_mm
    }

    /// Distance from one time round a pocket to the next, mm.
    pub fn stepover_mm(&self) -> f64 {
        STEPOVER_SHARE * self.width_mm
    }

    /// Whether it can make a floor below a face.
    pub fn cuts_pockets(&self) -> bool {
        self.process == Process::Router
    }

    /// How many times it goes over a cut of this depth.
    pub fn passes(&self, depth_mm: f64) -> u32 {
        if !self.pass_mm.is_finite() {
            return 1;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "sheet of 50 mm at 0.1 mm is 500"
        )]
        let passes = (depth_mm / self.pass_mm - 1e-9).ceil().clamp(1.0, 1000.0) as u32;
        passes
    }

    /// Length and height of a bridge in a sheet of this thickness, mm; `None` where parts are held otherwise.
    pub fn bridge(&self, thickness_mm: f64) -> Option<[f64; 2]> {
        let (length, height) = self.bridge_mm?;
        let height = height.map_or_else(
            || BRIDGE_HEIGHT_MM.min(BRIDGE_SHARE * thickness_mm),
            |height| height.min(MOST_BRIDGE_SHARE * thickness_mm),
        );
        Some([length, height])
    }

    /// Time to lift the tool over a bridge of this height (mm) in a cut of this depth (mm) and to go down again, in each
    /// pass that is deeper than its top, min, least and greatest.
    pub fn lift_min(&self, depth_mm: f64, height_mm: f64) -> [f64; 2] {
        let top = depth_mm - height_mm;
        let depths =
            (1..=self.passes(depth_mm)).map(|k| (f64::from(k) * self.pass_mm).min(depth_mm));
        let way: f64 = depths.map(|depth| 2.0 * (depth - top).max(0.0)).sum();
        [way / PLUNGE_MM_MIN[1], way / PLUNGE_MM_MIN[0]]
    }

    /// Speed through a sheet of this thickness (mm), mm/min, least and greatest; as the file gives it, or by common
    /// practice.
    ///
    /// A router's is taken for every material here (from memory: PVC and polycarbonate are routed much like acrylic). A
    /// laser's is that of acrylic, the only material here that one may cut.
    pub fn feed_mm_min(&self, thickness_mm: f64) -> [f64; 2] {
        if let Some(given) = self.given_feed_mm_min {
            return given;
        }
        match self.process {
            Process::Router => {
                let share = (self.width_mm - CUTTERS_MM[0]) / (CUTTERS_MM[1] - CUTTERS_MM[0]);
                let share = share.clamp(0.0, 1.0);
                let [slow, fast] = ROUTER_FEEDS_MM_MIN;
                let at = |end: usize| slow[end] + share * (fast[end] - slow[end]);
                [LIGHT_MACHINE * at(0), at(1)]
            }
            Process::Laser => LASER_K.map(|k| 60.0 * k / libm::pow(thickness_mm, LASER_EXPONENT)),
            Process::Saw => SAW_FEED_MM_MIN,
        }
    }

    /// Speed of engraving, mm/min, least and greatest.
    pub fn engrave_mm_min(&self) -> [f64; 2] {
        ENGRAVE_MM_MIN
    }

    /// Time to get into the sheet for one cut and out again, min, least and greatest; a cutter plunges anew for each pass.
    pub fn enter_min(&self, depth_mm: f64) -> [f64; 2] {
        match self.process {
            Process::Router => {
                let way =
                    f64::from(self.passes(depth_mm)) * (depth_mm.min(self.pass_mm) + CLEARANCE_MM);
                [way / PLUNGE_MM_MIN[1], way / PLUNGE_MM_MIN[0]]
            }
            Process::Laser => PIERCE_S_PER_MM.map(|s| s * depth_mm / 60.0),
            Process::Saw => SET_SAW_MIN,
        }
    }

    /// What its feed rests on, as a sentence.
    pub fn feed_source(&self, material: Material) -> String {
        if self.given_feed_mm_min.is_some() {
            return "The speed through the sheet is that of `cutting.feed`.".to_owned();
        }
        let practice = match (self.process, material) {
            (Process::Router, Material::CastAcrylic | Material::ExtrudedAcrylic) => {
                "a router's in acrylic, by what a maker of routers advises for cutters of 1/8 to 1/2 in, and half of it for a light machine (our judgement)"
            }
            (Process::Router, _) => {
                "a router's as in acrylic (from memory: other plastics are routed much alike)"
            }
            (Process::Laser, _) => {
                "that of a CO2 laser of 80 to 150 W in acrylic (common practice, from memory)"
            }
            (Process::Saw, _) => "a panel saw's (common practice, from memory)",
        };
        format!("The speed through the sheet is {practice}.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Length;

    fn machine(process: Process) -> Machine {
        Machine::new(&Cutting { process, ..Cutting::default() })
    }

    #[test]
    fn passes_are_counted_up() {
        let router = machine(Process::Router);
        assert_eq!(
            [6.0, 6.0 + 1e-12, 6.1, 12.0, 0.2].map(|depth| router.passes(depth)),
            [1, 1, 2, 2, 1]
        );
        assert_eq!(machine(Process::Laser).passes(20.0), 1);
    }

    #[test]
    fn the_feed_of_the_smallest_and_the_largest_cutter_is_the_published_one() {
        // 75 to 100 in/min for 1/8 in, 200 to 300 in/min for 1/2 in; the least is halved for light machines.
        for (tool, feed) in [(3.175, [37.5, 100.0]), (12.7, [100.0, 300.0]), (25.0, [100.0, 300.0])]
        {
            let cutting = Cutting { tool: Length::mm(tool), ..Cutting::default() };
            let [least, most] = Machine::new(&cutting).feed_mm_min(8.0);
            assert!((least / 25.4 - feed[0]).abs() < 1e-9 && (most / 25.4 - feed[1]).abs() < 1e-9);
        }
    }

    #[test]
    fn only_passes_below_a_bridge_are_lifted() {
        let tabs = Cutting { holding: Holding::Tabs, ..Cutting::default() };
        let router = Machine::new(&tabs);
        assert_eq!(router.bridge(8.0), Some([6.0, 1.5]));
        assert_eq!(router.bridge(3.0), Some([6.0, 1.0]));
        let high = Machine::new(&Cutting { tab_height: Some(Length::mm(6.0)), ..tabs });
        assert_eq!(high.bridge(8.0), Some([6.0, 4.0]));
        assert_eq!(machine(Process::Router).bridge(8.0), None);
        assert_eq!(Machine::new(&tabs.by(Process::Laser)).bridge(8.0), None);
        // 8 mm in passes of 6 and 2 mm: only the second goes below 6.5 mm, 1.5 mm up and down.
        let [least, most] = router.lift_min(8.0, 1.5);
        assert!((least - 3.0 / 1000.0).abs() < 1e-12 && (most - 3.0 / 300.0).abs() < 1e-12);
        // Below 4 mm go both: 2 and 4 mm.
        assert!((router.lift_min(8.0, 4.0)[0] - 2.0 * (2.0 + 4.0) / 1000.0).abs() < 1e-12);
    }

    #[test]
    fn a_laser_is_slower_in_thicker_sheet_and_never_makes_two_passes() {
        let laser = machine(Process::Laser);
        let [thin, thick] = [3.0, 10.0].map(|t| laser.feed_mm_min(t));
        assert!(thin[0] > thick[0] && thin[1] > thick[1] && thin[0] < thin[1]);
        assert!((laser.radius_mm() - 0.1).abs() < 1e-12 && (laser.taper_mm - 0.1).abs() < 1e-12);
    }
}
