//! What watches the same level fires at the same instant, however the rounding falls.

use water::{Element, Event, Kind, Law, Network, Plan, Tank, TransientOptions, transient};

/// Two that watch one level, as the siphons of two drains in one overflow box do. Each halves the inflow's
/// drain when it fires, so the level stops falling as soon as one has fired.
struct Twins {
    at_m: f64,
    fired_s: [Option<f64>; 2],
}

impl Plan for Twins {
    fn watch(&self, levels_m: &[f64], values: &mut Vec<f64>) {
        let value =
            |fired: &Option<f64>| if fired.is_some() { -1.0 } else { self.at_m - levels_m[0] };
        values.extend(self.fired_s.iter().map(value));
    }

    fn fire(&mut self, event: Event, t_s: f64, _levels_m: &[f64], elements: &mut [Element]) {
        if let Event::Watch(k) = event {
            self.fired_s[k] = Some(t_s);
            elements[k].scale = 0.0;
        }
    }
}

#[test]
fn both_of_two_twins_fire() {
    // Many levels, so that the located instant lies now above, now below it by a rounding.
    for i in 0..200_u32 {
        let at_m = 0.2 + 1e-3 * f64::from(i) / 7.0;
        let element = |name: &str, q, [up, down]: [usize; 2]| Element {
            name: name.into(),
            kind: Kind::Given,
            up,
            down,
            law: Law::rate(q, None),
            scale: 1.0,
            lean: 0.0,
        };
        let mut network = Network {
            tanks: vec![
                Tank::prism("box", 0.0, 0.05),
                Tank::sink("below"),
                Tank::prism("above", 0.0, 1.0),
            ],
            elements: vec![
                element("one", 2e-5, [0, 1]),
                element("two", 2e-5, [0, 1]),
                element("inflow", 3e-5, [2, 0]),
            ],
        };
        let volumes = network.volumes(&[0.3, -100.0, 1.0]);
        let mut plan = Twins { at_m, fired_s: [None; 2] };
        let options = TransientOptions::default();
        transient(&mut network, &volumes, 2000.0, &mut plan, &options).expect("sound");
        assert!(
            plan.fired_s[0].is_some() && plan.fired_s[0] == plan.fired_s[1],
            "at {at_m} m: {:?}",
            plan.fired_s
        );
    }
}
