//! Whole millimetres and whole degrees, where the way stays free with them.

use std::f64::consts::PI;

use glam::{DQuat, DVec3};

use super::exit::Outlet;
use super::sweep::Sweep;
use crate::motion::{Motion, Rigid};

/// Rounded motions that are looked at, at most, for one way.
const MOST_TRIES: u32 = 300;

/// What is rounded to, mm and degrees: whole ones, else tenths.
const GRAINS: [f64; 2] = [1.0, 0.1];

/// Changes smaller than this, mm or rad, are none.
const NONE: f64 = 1e-6;

/// The same way in round measures, as far as it stays free: every measure to whole millimetres and degrees, where that is not
/// free the next whole one, then tenths, then as it was.
pub(crate) fn rounded(sweep: &mut Sweep<'_>, outlet: &Outlet, way: Vec<Motion>) -> Vec<Motion> {
    let Some(first) = way.first() else { return way };
    let start = first.from;
    let mut rounding = Rounding { sweep, outlet, way: &way, tries: 0, done: Vec::new() };
    if rounding.go_on(start) {
        return rounding.done;
    }
    way
}

struct Rounding<'s, 'a, 'w> {
    sweep: &'s mut Sweep<'a>,
    outlet: &'w Outlet,
    way: &'w [Motion],
    tries: u32,
    done: Vec<Motion>,
}

impl Rounding<'_, '_, '_> {
    /// Depth first over the candidates of every move in turn.
    fn go_on(&mut self, at: Rigid) -> bool {
        let Some(wanted) = self.way.get(self.done.len()).copied() else {
            return self.outlet.is_out(self.sweep, &at);
        };
        let is_last = self.done.len() + 1 == self.way.len();
        let candidates = if wanted.angle() > NONE {
            self.turns(at, &wanted)
        } else if is_last {
            last_slides(at, &wanted)
        } else {
            self.slides(at, &wanted)
        };
        for motion in candidates {
            self.tries += 1;
            if self.tries > MOST_TRIES {
                return false;
            }
            if self.sweep.is_free(&motion) {
                self.done.push(motion);
                if self.go_on(motion.to) {
                    return true;
                }
                self.done.pop();
            }
        }
        false
    }

    /// Slides to whole coordinates of the part's middle, counted from its place, beside where it was led; a coordinate that the
    /// move does not change stays as it is now.
    fn slides(&self, at: Rigid, wanted: &Motion) -> Vec<Motion> {
        let by = wanted.to.shift - wanted.from.shift;
        let body = self.sweep.body;
        let now = body.middle(&at) - body.centre;
        let goal = body.middle(&wanted.to) - body.centre;
        let mut found: Vec<(f64, DVec3)> = Vec::new();
        for grain in GRAINS {
            let mut options: Vec<DVec3> = vec![now];
            for axis in 0..3 {
                if by[axis].abs() <= NONE {
                    continue;
                }
                let low = (goal[axis] / grain).floor() * grain;
                options = options
                    .iter()
                    .flat_map(|p| {
                        [low, low + grain, low - grain, low + 2.0 * grain].map(|value| {
                            let mut p = *p;
                            p[axis] = value;
                            p
                        })
                    })
                    .collect();
            }
            let mut options: Vec<(f64, DVec3)> =
                options.into_iter().map(|p| (p.distance(goal), p)).collect();
            options.sort_by(|a, b| a.0.total_cmp(&b.0));
            options.truncate(6);
            found.extend(options);
        }
        let mut exact = now;
        for axis in 0..3 {
            if by[axis].abs() > NONE {
                exact[axis] = goal[axis];
            }
        }
        found.push((0.0, exact));
        found.into_iter().map(|(_, to)| Motion::slide(at, to - now)).collect()
    }

    /// Turns by whole degrees about the part's middle; one about a level axis also with that axis at whole degrees. A turn
    /// while sliding ends where it was led, its middle at whole millimetres.
    fn turns(&self, at: Rigid, wanted: &Motion) -> Vec<Motion> {
        let body = self.sweep.body;
        let change = (wanted.to.turn * wanted.from.turn.inverse()).normalize();
        let change = if change.w < 0.0 { -change } else { change };
        let angle = wanted.angle();
        let axis = change.xyz().normalize_or_zero();
        let now = body.middle(&at);
        let by = body.middle(&wanted.to) - body.middle(&wanted.from);
        if by.length() > NONE {
            let goal = body.middle(&wanted.to);
            let whole = body.centre + (goal - body.centre).round();
            let to = [whole, goal].map(|middle| Rigid {
                turn: wanted.to.turn,
                shift: middle - wanted.to.turn * body.centre,
            });
            return to.map(|to| Motion { from: at, to, pivot: body.centre }).to_vec();
        }
        let mut found = Vec::new();
        let round_axis = level_axis(axis);
        for grain in GRAINS {
            let degrees = angle.to_degrees() / grain;
            let mut options = [-1.0, 0.0, 1.0, 2.0].map(|k| degrees.floor() + k);
            options.sort_by(|a, b| (a - degrees).abs().total_cmp(&(b - degrees).abs()));
            for option in options {
                if option > 0.0 && option * grain <= 180.0 {
                    found.push((round_axis, (option * grain).to_radians()));
                }
            }
        }
        found.extend([(round_axis, angle), (axis, angle)]);
        found
            .into_iter()
            .map(|(axis, angle)| Motion::turn(at, DQuat::from_axis_angle(axis, angle), now))
            .collect()
    }
}

/// An axis that is level, or nearly, at whole degrees; any other as it is.
fn level_axis(axis: DVec3) -> DVec3 {
    if axis.z.abs() > 1e-3 {
        return axis;
    }
    let degrees = (libm::atan2(axis.y, axis.x) * 180.0 / PI).round();
    let (sine, cosine) = libm::sincos(degrees * PI / 180.0);
    // Along the sump and across it exactly.
    let clean = |x: f64| if x.abs() < 1e-12 { 0.0 } else { x };
    DVec3::new(clean(cosine), clean(sine), 0.0)
}

/// The last slide goes on to a whole millimetre.
fn last_slides(at: Rigid, wanted: &Motion) -> Vec<Motion> {
    let by = wanted.to.shift - wanted.from.shift;
    let direction = by.normalize_or_zero();
    // What was rounded before may have left it up to two millimetres short.
    let whole = by.length().ceil();
    [0.0, 1.0, 2.0, 3.0].map(|more| Motion::slide(at, direction * (whole + more))).to_vec()
}
