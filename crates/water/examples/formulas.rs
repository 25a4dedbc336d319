//! Prints what every formula of this crate gives at many points, one JSON object a line, for judges
//! that compute the same with other people's libraries:
//!
//! `cargo run -p water --example formulas`
//!
//! `{"quantity": "density", "inputs": {"t_c": 25.0, "sp": 35.0}, "ours": 1023.34, "unit": "kg/m3"}`
#![expect(clippy::print_stdout, reason = "it tells what it has computed")]

use serde_json::{Map, Value, json};
use water::evaporation::{Air, carrier, salinity_after_loss, salinity_mixed, shah};
use water::fittings_loss::{Fitting, barb, crane_friction, valve};
use water::law::{Lip, SHARP, Strips};
use water::seawater::{self, ABSOLUTE_PER_PRACTICAL, Water};
use water::{
    Law, PipeLine, PumpCurve, PumpCurveError, SMOOTH_PLASTIC_M, bubbles, friction, submergence,
    weir,
};

const M3_S_PER_L_H: f64 = 1.0 / 3.6e6;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    crests();
    openings();
    mouths();
    pipes()?;
    fittings();
    pumps()?;
    waters()?;
    evaporations();
    risings()?;
    intakes();
    Ok(())
}

fn say(quantity: &str, inputs: &[(&str, f64)], ours: f64, unit: &str) {
    let inputs: Map<String, Value> =
        inputs.iter().map(|&(name, value)| (name.into(), json!(value))).collect();
    println!("{}", json!({ "quantity": quantity, "inputs": inputs, "ours": ours, "unit": unit }));
}

const HEADS_M: [f64; 9] = [0.003, 0.005, 0.01, 0.015, 0.02, 0.03, 0.04, 0.06, 0.1];

fn crests() {
    for i in 0..=20_u32 {
        let ratio = 0.05 * f64::from(i);
        let (alpha, beta) = weir::kindsvater_carter(ratio);
        say("kindsvater_carter_alpha", &[("width_ratio", ratio)], alpha, "1");
        say("kindsvater_carter_beta", &[("width_ratio", ratio)], beta, "1");
        say("villemonte", &[("ratio", ratio)], weir::villemonte(ratio).0, "1");
    }
    for (b, channel, p) in [(0.4, 0.4, 0.25), (0.2, 0.4, 0.25), (0.3, 0.3, 0.15), (0.15, 0.5, 0.2)]
    {
        for h in HEADS_M {
            let measures = [("h_m", h), ("b_m", b), ("channel_m", channel), ("p_m", p)];
            let thin = Law::crest(p, b, 0.0, p, channel).flow(p + h, 0.0, 0.0).q;
            say("crest_thin_free", &measures, thin, "m3/s");
            for r in [0.2, 0.5, 0.8, 0.95] {
                let drowned = Law::crest(p, b, 0.0, p, channel).flow(p + h, p + r * h, 0.0).q;
                say(
                    "crest_thin_drowned",
                    &[&measures[..], &[("ratio", r)]].concat(),
                    drowned,
                    "m3/s",
                );
            }
            for thickness in [0.006, 0.01, 0.015] {
                let thick = Law::crest(p, b, thickness, p, channel).flow(p + h, 0.0, 0.0).q;
                let inputs = [&measures[..], &[("thickness_m", thickness)]].concat();
                say("crest_thick_free", &inputs, thick, "m3/s");
            }
        }
    }
    for h in HEADS_M {
        say("poleni", &[("c", 0.62), ("b_m", 0.4), ("h_m", h)], weir::poleni(0.62, 0.4, h), "m3/s");
        say("doubt_of_crest", &[("h_m", h)], water::law::doubt::of_head(0.05, h).0, "1");
    }
}

fn openings() {
    for (height, width) in [(0.04, 0.2), (0.02, 0.38), (0.0005, 0.3), (0.1, 0.05)] {
        let law = Law::Strips(Strips::rectangle(SHARP, 0.0, height, width));
        for h1 in [0.01, 0.02, 0.04, 0.1, 0.3] {
            for share in [0.0, 0.3, 0.6, 0.9, 0.99] {
                let h2 = share * h1;
                let inputs =
                    [("c", SHARP), ("a_m", height), ("b_m", width), ("h1_m", h1), ("h2_m", h2)];
                say("rectangle", &inputs, law.flow(h1, h2, 0.0).q, "m3/s");
            }
        }
    }
    for d in [0.006, 0.02, 0.05] {
        let law = Law::Strips(Strips::circle(SHARP, 0.0, d, 16));
        for level in [0.0, 0.4 * d, 0.6 * d, d, 4.0 * d] {
            for below in [-1.0, -0.3 * d, 0.3 * d, 0.9 * level] {
                if below < level {
                    let inputs = [("c", SHARP), ("d_m", d), ("h1_m", level), ("h2_m", below)];
                    say("circle", &inputs, law.flow(level, below, 0.0).q, "m3/s");
                }
            }
        }
    }
    for h in [0.01, 0.02, 0.03, 0.035, 0.05] {
        let law = Law::Strips(Strips::comb(0.6, 0.0, 0.03, 0.1, 0.2));
        let inputs = [("c", 0.6), ("tips_m", 0.03), ("slots_m", 0.1), ("whole_m", 0.2), ("h_m", h)];
        say("comb", &inputs, law.flow(h, -1.0, 0.0).q, "m3/s");
    }
    for (h1, h2) in [(0.25, 0.0), (0.25, 0.2), (0.35, 0.05), (0.35, 0.32)] {
        let law = Law::fabric(0.1, 0.3, 0.5, 0.01, 0.02);
        let inputs = [
            ("z0_m", 0.1),
            ("z1_m", 0.3),
            ("p_m", 0.5),
            ("bottom_m2", 0.01),
            ("k", 0.02),
            ("h1_m", h1),
            ("h2_m", h2),
        ];
        say("fabric", &inputs, law.flow(h1, h2, 0.0).q, "m3/s");
    }
}

fn mouths() {
    for d in [0.025, 0.032, 0.04, 0.05, 0.063] {
        for h in HEADS_M {
            say("lip", &[("d_m", d), ("h_m", h)], Lip::mouth(d, h).0, "m3/s");
        }
    }
    for h in HEADS_M {
        for h2 in [-1.0, 0.5 * h, 0.95 * h] {
            let q = Law::mouth(0.0, 0.3, 0.003).flow(h, h2, 0.0).q;
            let inputs = [("c", SHARP), ("p_m", 0.3), ("a_m2", 0.003), ("h1_m", h), ("h2_m", h2)];
            say("mouth", &inputs, q, "m3/s");
        }
    }
}

fn pipes() -> Result<(), Box<dyn std::error::Error>> {
    for rel in [0.0, 1e-5, 5e-5, 1e-4, 1e-3, 1e-2] {
        for re in [100.0, 1000.0, 2000.0, 3000.0, 4000.0, 1e4, 3e4, 1e5, 1e6] {
            let inputs = [("re", re), ("rel", rel)];
            say("darcy", &inputs, friction::darcy(re, rel), "1");
            if re >= friction::TURBULENT {
                say("haaland", &inputs, friction::haaland(re, rel), "1");
                say("colebrook", &inputs, friction::colebrook(re, rel), "1");
            }
        }
    }
    for (bore_m, length_m, loss_k, roughness_m, viscosity_m2_s) in [
        (0.026, 1.2, 2.5, SMOOTH_PLASTIC_M, 1.0034e-6),
        (0.0437, 1.2, 2.5, SMOOTH_PLASTIC_M, 1.0034e-6),
        (0.0574, 1.2, 2.5, SMOOTH_PLASTIC_M, 1.0034e-6),
        (0.016, 3.0, 8.0, 2e-5, 0.937e-6),
        (0.004, 2.0, 2.0, SMOOTH_PLASTIC_M, 0.937e-6),
    ] {
        let line = PipeLine { bore_m, length_m, loss_k, roughness_m, viscosity_m2_s }.checked()?;
        let table = line.flow_table(2.0, water::TABLE_POINTS);
        for head in [0.001, 0.01, 0.05, 0.2, 0.5, 0.8, 1.2, 2.0] {
            let inputs = [
                ("bore_m", bore_m),
                ("length_m", length_m),
                ("loss_k", loss_k),
                ("roughness_m", roughness_m),
                ("nu_m2_s", viscosity_m2_s),
                ("head_m", head),
            ];
            say("pipe_flow", &inputs, line.q_at(head), "m3/s");
            say("pipe_flow_by_table", &inputs, table.at_head(head).0, "m3/s");
        }
    }
    Ok(())
}

fn fittings() {
    for bore in [0.016, 0.0209, 0.0266, 0.032, 0.0409, 0.0525, 0.0627] {
        say("crane_friction", &[("bore_m", bore)], crane_friction(bore), "1");
        for fitting in Fitting::ALL {
            let name = format!("loss_{fitting:?}").to_lowercase();
            say(&name, &[("bore_m", bore)], fitting.loss(bore), "1");
        }
    }
    for share in [0.5, 0.6, 0.7, 0.8, 0.9, 0.95] {
        say(
            "barb",
            &[("barb_m", 0.025 * share), ("bore_m", 0.025)],
            barb(0.025 * share, 0.025),
            "1",
        );
    }
    for i in 1..=20_u32 {
        let open = 0.05 * f64::from(i);
        say("valve", &[("open_share", open)], valve(open), "1");
    }
}

fn pumps() -> Result<(), PumpCurveError> {
    let l_h = [(0.0, 5.0), (2e3, 4.6), (4e3, 3.9), (6e3, 2.8), (8e3, 1.2), (9e3, 0.0)];
    let curve = PumpCurve::new(&l_h.map(|(q, h)| (q * M3_S_PER_L_H, h)))?;
    let box_curve = PumpCurve::from_extremes(9e3 * M3_S_PER_L_H, 5.0)?;
    for i in 0..=60_u32 {
        let q = 150.0 * f64::from(i);
        let slow = curve.at_speed(0.7).head(0.7 * q * M3_S_PER_L_H);
        say("pump_head_pchip", &[("q_l_h", q)], curve.head(q * M3_S_PER_L_H), "m");
        say("pump_head_parabola", &[("q_l_h", q)], box_curve.head(q * M3_S_PER_L_H), "m");
        say("pump_head_at_speed", &[("q_l_h", 0.7 * q), ("speed", 0.7)], slow, "m");
    }
    let line = PipeLine {
        bore_m: 0.0262,
        length_m: 2.5,
        loss_k: 4.0,
        roughness_m: SMOOTH_PLASTIC_M,
        viscosity_m2_s: 0.937_31e-6,
    };
    let table = curve.table(&line, water::TABLE_POINTS);
    for i in 0..=25_u32 {
        let lift = 0.2 * f64::from(i);
        let inputs = [("lift_m", lift)];
        say("operating_point", &inputs, curve.operating_point(lift, &line), "m3/s");
        say("operating_point_by_table", &inputs, table.at(lift).0, "m3/s");
    }
    Ok(())
}

fn waters() -> Result<(), seawater::OutOfRange> {
    for t in [5.0, 10.0, 15.0, 20.0, 22.0, 24.0, 25.0, 26.0, 28.0, 30.0, 35.0] {
        for sp in [0.0, 1.8, 5.0, 10.0, 15.0, 20.0, 30.0, 33.0, 35.0, 38.0] {
            let water = Water::new(t, sp * ABSOLUTE_PER_PRACTICAL)?;
            let inputs = [("t_c", t), ("sp", sp)];
            say("density", &inputs, water.density, "kg/m3");
            say("viscosity", &inputs, water.viscosity_pa_s, "Pa s");
            say("kinematic_viscosity", &inputs, water.kinematic_viscosity(), "m2/s");
            say("surface_tension", &inputs, water.surface_tension, "N/m");
            say("vapour_pressure", &inputs, water.vapour_pressure_pa, "Pa");
            say("salt_per_litre", &inputs, water.salt_per_litre_g(), "g/L");
            say("salt_per_fresh_litre", &inputs, water.salt_per_fresh_litre_g(), "g/L");
        }
    }
    Ok(())
}

fn evaporations() {
    for water_c in [20.0, 24.0, 25.0, 26.0, 28.0] {
        for air_c in [18.0, 20.0, 22.0, 25.0, 28.0] {
            for humidity in [0.3, 0.4, 0.5, 0.6, 0.8] {
                let air = Air { temperature_c: air_c, humidity };
                let inputs = [("water_c", water_c), ("air_c", air_c), ("humidity", humidity)];
                say("evaporation_shah", &inputs, shah(water_c, 0.0, air), "kg/(m2 s)");
                let still = [&inputs[..], &[("speed_m_s", 0.0)]].concat();
                say("evaporation_carrier", &still, carrier(water_c, 0.0, air, 0.0), "kg/(m2 s)");
            }
        }
    }
    for lost in [-20.0, 1.0, 5.0, 20.0] {
        let inputs = [("mass_kg", 307.0), ("sa_g_kg", 35.165_04), ("lost_kg", lost)];
        say("salinity_after_loss", &inputs, salinity_after_loss(307.0, 35.165_04, lost), "g/kg");
    }
    let inputs =
        [("mass_kg", 307.0), ("sa_g_kg", 35.165_04), ("added_kg", 35.0), ("added_g_kg", 36.0)];
    say("salinity_mixed", &inputs, salinity_mixed(307.0, 35.165_04, 35.0, 36.0), "g/kg");
}

fn risings() -> Result<(), seawater::OutOfRange> {
    for (t, sp) in [(25.0, 0.0), (25.0, 35.0), (20.0, 0.0)] {
        let water = Water::new(t, sp * ABSOLUTE_PER_PRACTICAL)?;
        for mm in [0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 1.0, 1.5, 2.0, 3.0, 5.0, 10.0] {
            let inputs = [("t_c", t), ("sp", sp), ("d_m", mm * 1e-3)];
            say("bubble_rise", &inputs, bubbles::rise_speed(mm * 1e-3, &water), "m/s");
            if mm <= 1.0 {
                say(
                    "bubble_rigid_sphere",
                    &inputs,
                    bubbles::rigid_sphere(mm * 1e-3, &water),
                    "m/s",
                );
            } else {
                say("bubble_ellipsoid", &inputs, bubbles::ellipsoid(mm * 1e-3, &water), "m/s");
            }
        }
        for down in [0.005, 0.0208, 0.0694, 0.0868, 0.2] {
            if let Some(d) = bubbles::smallest_rising(down, &water) {
                say(
                    "smallest_rising_bubble",
                    &[("t_c", t), ("sp", sp), ("down_m_s", down)],
                    d,
                    "m",
                );
            }
        }
    }
    Ok(())
}

fn intakes() {
    for d in [0.02, 0.032, 0.04, 0.05, 0.063] {
        for l_h in [1e3, 3e3, 6e3, 1e4] {
            let depth = submergence::intake_depth_m(d, l_h * M3_S_PER_L_H);
            say("intake_depth", &[("d_m", d), ("q_l_h", l_h)], depth, "m");
        }
    }
}
