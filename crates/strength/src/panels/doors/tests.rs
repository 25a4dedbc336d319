//! Guards which water pushes doors: each way, at every place, by levels that may stand higher than the door.

use design::Role;

use super::*;
use crate::panel::{DoorAt, Duration};
use crate::sample::changed;
use crate::{Head, Levels};

/// The plain sump's door at all its places; its leaf is 280 mm high, and it lies towards the middle chamber.
fn of(changes: &[(&str, &str)], waters: &Waters, way: Way) -> Vec<Placing> {
    let (file, design) = changed(changes);
    let is_door = |p: &PlacedId| design.pieces[design.placed[*p].piece].role == Role::Door;
    let door = (0..design.placed.len()).find(is_door).expect("a door");
    placings(&file, &design, waters, door, way).expect("it hangs")
}

/// Levels in flow of inlet, middle and return, with 5 mm of doubt either way, and heads of rehearsals.
fn waters(running: [f64; 3], heads: Vec<Head>) -> Waters {
    let level = |mm: f64| Levels {
        running_mm: mm + 5.0,
        running_low_mm: mm - 5.0,
        highest_mm: mm + 5.0,
        highest_in: String::new(),
    };
    Waters { density_kg_m3: 1025.0, basins: running.map(level).to_vec(), heads }
}

fn head(basins: [usize; 2], levels_mm: [f64; 2]) -> Head {
    Head { basins, levels_mm, name: "a power cut".to_owned() }
}

/// The higher level, the lower one, and for how long, of each load.
fn loads(placing: &Placing) -> Vec<(f64, f64, Duration)> {
    let load =
        |b: &Bearing| (b.before_mm.max(b.behind_mm), b.before_mm.min(b.behind_mm), b.duration);
    placing.bearings.iter().map(load).collect()
}

#[test]
fn it_is_pressed_on_by_flow_and_rehearsals_with_water_above_its_edge() {
    let waters = waters([260.0, 250.0, 120.0], vec![head([1, 2], [270.0, 20.0])]);
    let placings = of(&[], &waters, Way::On);
    let all: Vec<DoorAt> = placings.iter().map(|placing| placing.set.at).collect();
    assert_eq!(all, [DoorAt::AsSet, DoorAt::Lowest, DoorAt::Highest]);
    for placing in &placings {
        let want = [
            (255.0, 115.0, Duration::Years),
            (270.0, 20.0, Duration::Days),
            (280.0, 0.0, Duration::Hours),
        ];
        assert_eq!(loads(placing), want);
        let sides: Vec<bool> = placing.bearings.iter().map(|b| b.before_mm > b.behind_mm).collect();
        assert!(sides.iter().all(|&side| side == sides[0]), "all press the same way");
    }
    // The other way only a leaf that is filled on its other side alone pushes it off.
    let off = of(&[], &waters, Way::Off);
    assert_eq!(loads(&off[0]), [(280.0, 0.0, Duration::Hours)]);
}

/// Of a rehearsal's moments each place takes that which presses it hardest: as low as it goes, a chamber drained beside one that
/// is half full; as high as it goes, water that stands high on both sides.
#[test]
fn each_place_takes_the_moment_that_presses_it_hardest() {
    let heads = vec![head([2, 1], [170.0, 20.0]), head([2, 1], [262.0, 170.0])];
    let changes = [("lowest = 160", "lowest = 120"), ("bottom = 120", "bottom = 110")];
    let placings = of(&changes, &waters([200.0, 200.0, 100.0], heads), Way::Off);
    let days = |at: DoorAt| {
        let placing = placings.iter().find(|placing| placing.set.at == at).expect("a place");
        let days = loads(placing).into_iter().filter(|load| load.2 == Duration::Days);
        days.map(|load| load.0).collect::<Vec<_>>()
    };
    assert_eq!(days(DoorAt::Highest), [262.0]);
    assert_eq!(days(DoorAt::Lowest), [170.0]);
}

/// Where no level is known, flow may push for years that way that the door's side says.
#[test]
fn without_levels_flow_pushes_it_for_years_by_its_side() {
    let none = Waters { density_kg_m3: 1025.0, ..Waters::default() };
    let down = [("highest = 210", "highest = 210\nside = \"downstream\"")];
    let duration = |changes: &[(&str, &str)], way: Way| loads(&of(changes, &none, way)[0])[0].2;
    assert_eq!(duration(&[], Way::On), Duration::Years);
    assert_eq!(duration(&[], Way::Off), Duration::Hours);
    assert_eq!(duration(&down, Way::On), Duration::Hours);
    assert_eq!(duration(&down, Way::Off), Duration::Years);
}
