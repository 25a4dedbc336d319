//! The programs that draw, and the passes of a picture.

use std::ops::Range;

use fit::Rigid;
use glam::{DMat4, DVec3, dvec3};
use three_d::{
    Blend, BlendEquationType, BlendMultiplierType, Context, CoreError, Cull, DepthTest, Mat4,
    Program, RenderStates, Texture2D, Vec2, Vec3, Vec4, VertexBuffer, Viewport, WriteMask, vec2,
    vec3,
};

use super::Canvas;
use super::figure::{Lines, single};
use super::picture::{Picture, Pool};
use super::resting::{NOT_LIT, Resting, Stray};
use super::shaders;

/// Everything that was handed to the graphics driver once.
pub(super) struct Programs {
    faces: [Program; 3],
    waters: [Program; 3],
    line: Program,
    backdrop: Program,
    copy: Program,
    whole: VertexBuffer<Vec2>,
    cube: VertexBuffer<Vec3>,
    top: VertexBuffer<Vec3>,
}

/// What a pass does with what is there already.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Pass {
    Opaque,
    /// What is there is multiplied.
    Filter,
    /// Light over it, never more than white.
    Screen,
    /// As ink on paper.
    Ink,
}

impl Pass {
    fn states(self) -> RenderStates {
        use BlendMultiplierType::{
            One, OneMinusDstColor, OneMinusSrcAlpha, SrcAlpha, SrcColor, Zero,
        };
        let blend = |source, destination| RenderStates {
            write_mask: WriteMask::COLOR,
            depth_test: DepthTest::LessOrEqual,
            cull: Cull::None,
            blend: Blend::Enabled {
                source_rgb_multiplier: source,
                source_alpha_multiplier: Zero,
                destination_rgb_multiplier: destination,
                destination_alpha_multiplier: One,
                rgb_equation: BlendEquationType::Add,
                alpha_equation: BlendEquationType::Add,
            },
        };
        match self {
            Self::Opaque => RenderStates::default(),
            Self::Filter => blend(Zero, SrcColor),
            Self::Screen => RenderStates { cull: Cull::Back, ..blend(OneMinusDstColor, One) },
            Self::Ink => blend(SrcAlpha, OneMinusSrcAlpha),
        }
    }
}

impl Programs {
    pub(super) fn new(context: &Context) -> Result<Self, CoreError> {
        let face = |mode| {
            let [vertex, fragment] = shaders::face(mode);
            Program::from_source(context, &vertex, &fragment)
        };
        let water =
            |mode| Program::from_source(context, shaders::WATER_VERTEX, &shaders::water(mode));
        let whole = |source| Program::from_source(context, shaders::WHOLE_VERTEX, source);
        let (cube, top) = cube();
        Ok(Self {
            faces: [face(0)?, face(1)?, face(2)?],
            waters: [water(0)?, water(1)?, water(2)?],
            line: Program::from_source(context, shaders::LINE_VERTEX, shaders::LINE)?,
            backdrop: whole(shaders::BACKDROP)?,
            copy: whole(shaders::COPY)?,
            whole: VertexBuffer::new_with_data(
                context,
                &[vec2(-1.0, -1.0), vec2(3.0, -1.0), vec2(-1.0, 3.0)],
            ),
            cube: VertexBuffer::new_with_data(context, &cube),
            top: VertexBuffer::new_with_data(context, &top),
        })
    }

    /// A picture that was drawn onto the window.
    pub(super) fn copy(&self, picture: &Texture2D, viewport: Viewport) {
        self.copy.use_texture("picture", picture);
        let is_coarse = [picture.width(), picture.height()] != [viewport.width, viewport.height];
        self.copy.use_uniform("is_coarse", if is_coarse { 1.0_f32 } else { 0.0 });
        let [x, y] = [viewport.x, viewport.y].map(|px| i16::try_from(px).unwrap_or(0));
        self.copy.use_uniform("origin", vec2(f32::from(x), f32::from(y)));
        self.copy.use_vertex_attribute("position", &self.whole);
        let states = RenderStates { depth_test: DepthTest::Always, ..flat() };
        self.copy.draw_arrays(states, viewport, 3);
    }
}

fn flat() -> RenderStates {
    RenderStates { write_mask: WriteMask::COLOR, ..RenderStates::default() }
}

/// A cube of side one by its sides and underside, seen from outside counter-clockwise, and its top.
fn cube() -> (Vec<Vec3>, Vec<Vec3>) {
    let face = |origin: DVec3, u: DVec3, v: DVec3| {
        let (a, b, c, d) = (origin, origin + u, origin + u + v, origin + v);
        [a, b, c, a, c, d].map(single)
    };
    let (x, y, z, o) = (DVec3::X, DVec3::Y, DVec3::Z, DVec3::ZERO);
    let top = face(z, x, y);
    let sides = [face(o, x, z), face(y, z, x), face(o, z, y), face(x, y, z), face(o, y, x), top];
    (sides.concat(), top.to_vec())
}

impl Canvas {
    /// All passes of a picture.
    pub(super) fn paint(&self, picture: &Picture, resting: &Resting, viewport: Viewport) {
        self.backdrop(picture, viewport);
        let faces = |pass: Pass, mode: usize| self.faces(picture, resting, viewport, pass, mode);
        faces(Pass::Opaque, 0);
        for pool in &picture.pools {
            self.water(picture, viewport, Pass::Filter, 0, pool);
        }
        faces(Pass::Filter, 1);
        for pool in picture.pools.iter().filter(|pool| pool.has_surface) {
            self.water(picture, viewport, Pass::Filter, 1, pool);
        }
        self.lines(picture, resting, viewport);
        faces(Pass::Screen, 2);
        for pool in picture.pools.iter().filter(|pool| pool.has_surface) {
            self.water(picture, viewport, Pass::Screen, 2, pool);
        }
    }

    fn backdrop(&self, picture: &Picture, viewport: Viewport) {
        let [above, below] = if picture.is_dark {
            [vec3(0.13, 0.15, 0.17), vec3(0.085, 0.10, 0.115)]
        } else {
            [vec3(0.985, 0.985, 0.98), vec3(0.905, 0.92, 0.93)]
        };
        let Programs { backdrop, whole, .. } = &self.programs;
        backdrop.use_uniform("above", above);
        backdrop.use_uniform("below", below);
        backdrop.use_vertex_attribute("position", whole);
        let states = RenderStates { depth_test: DepthTest::Always, ..flat() };
        backdrop.draw_arrays(states, viewport, 3);
    }

    /// Opaque faces (`mode` 0) or clear ones: those that rest at once, and what is elsewhere or picked out one by one.
    fn faces(
        &self,
        picture: &Picture,
        resting: &Resting,
        viewport: Viewport,
        pass: Pass,
        mode: usize,
    ) {
        let program = &self.programs.faces[mode];
        let states = pass.states();
        // Of a sheet's two broad faces the one towards the eye takes from light for both.
        let once = if mode == 0 { states } else { RenderStates { cull: Cull::Back, ..states } };
        sight(program, picture);
        program.use_uniform_if_required("plane", plane(picture));
        program.use_uniform_if_required("night", night(picture));
        let ready = |place: Rigid, lit: [f32; 2], times: f32| {
            program.use_uniform("place", matrix(place));
            program.use_uniform_if_required("lit", Vec2::from(lit));
            program.use_uniform_if_required("times", times);
            program.use_vertex_attribute("position", &self.store.faces.positions);
            program.use_vertex_attribute("normal", &self.store.faces.normals);
            program.use_vertex_attribute("look", &self.store.faces.looks);
        };
        let rest = if mode == 0 { &resting.opaque } else { &resting.clear };
        for (elements, states, times) in [(&rest[0], once, 2.0), (&rest[1], states, 1.0)] {
            if elements.count() > 0 {
                ready(Rigid::HOME, NOT_LIT, times);
                program.draw_elements(states, viewport, elements);
            }
        }
        let all = &self.store.faces.triangles.buffer;
        for Stray { thing, place, lit } in &resting.strays {
            let figure = &self.store.figures[*thing];
            let parts = [(&figure.broad, once, 2.0), (&figure.rims, states, 1.0)];
            for (range, states, times) in
                parts.into_iter().filter(|_| figure.is_clear == (mode > 0))
            {
                let [first, count] = part(range);
                if count > 0 {
                    ready(*place, *lit, times);
                    program.draw_subset_of_elements(states, viewport, all, first, count);
                }
            }
        }
    }

    fn water(&self, picture: &Picture, viewport: Viewport, pass: Pass, mode: usize, pool: &Pool) {
        // A hair smaller than its place, so that it does not lie in the faces of what holds it.
        let hair = DVec3::splat(0.3);
        let [least, greatest] = pool.corners;
        let (least, greatest) = (least + hair, greatest - hair);
        if !least.cmplt(greatest).all() {
            return;
        }
        let program = &self.programs.waters[mode];
        let corners = if mode == 0 { &self.programs.cube } else { &self.programs.top };
        sight(program, picture);
        program.use_uniform("least", single(least));
        program.use_uniform("greatest", single(greatest));
        program.use_uniform_if_required("takes", single(WATER / picture.box_mm.max(1.0)));
        program.use_uniform_if_required("night", night(picture));
        program.use_vertex_attribute("position", corners);
        // A surface is seen from below too.
        let states = RenderStates { cull: Cull::None, ..pass.states() };
        program.draw_arrays(states, viewport, corners.vertex_count());
    }

    fn lines(&self, picture: &Picture, resting: &Resting, viewport: Viewport) {
        let program = &self.programs.line;
        let states = Pass::Ink.states();
        sight(program, picture);
        let [width, height] = picture.size_px.map(|px| u16::try_from(px).unwrap_or(u16::MAX));
        program.use_uniform("size_px", vec2(f32::from(width), f32::from(height)));
        program.use_uniform("line_px", picture.line_px);
        program.use_uniform("plane", plane(picture));
        program.use_uniform("night", night(picture));
        let ready = |lines: &Lines, place: Mat4, lit: [f32; 2]| {
            program.use_uniform("place", place);
            program.use_uniform("lit", Vec2::from(lit));
            program.use_vertex_attribute("start", &lines.starts);
            program.use_vertex_attribute("end", &lines.ends);
            program.use_vertex_attribute("corner", &lines.corners);
            program.use_vertex_attribute("tint", &lines.inks);
        };
        let all = &self.store.lines;
        if resting.lines.count() > 0 {
            ready(all, matrix(Rigid::HOME), NOT_LIT);
            program.draw_elements(states, viewport, &resting.lines);
        }
        for Stray { thing, place, lit } in &resting.strays {
            let [first, count] = part(&self.store.figures[*thing].lines);
            if count > 0 {
                ready(all, matrix(*place), *lit);
                let triangles = &all.triangles.buffer;
                program.draw_subset_of_elements(states, viewport, triangles, first, count);
            }
        }
        for pool in picture.pools.iter().filter(|pool| pool.has_surface) {
            let [least, greatest] = pool.corners;
            let at = DMat4::from_translation(least) * DMat4::from_scale(greatest - least);
            ready(&self.surface, at.as_mat4().to_cols_array_2d().into(), NOT_LIT);
            program.draw_elements(states, viewport, &self.surface.triangles.buffer);
        }
    }
}

/// Where a part of all indices begins, bytes, and how many they are.
fn part(range: &Range<usize>) -> [u32; 2] {
    [range.start * size_of::<u32>(), range.len()].map(|n| u32::try_from(n).unwrap_or(0))
}

/// What water takes from light over the length of the box, as in the pictures.
const WATER: DVec3 = dvec3(1.75, 0.52, 0.20);

/// Where one looks from.
fn sight(program: &Program, picture: &Picture) {
    program.use_uniform("to_clip", Mat4::from(picture.to_clip()));
    program.use_uniform_if_required("eye", single(picture.eye()));
    program.use_uniform_if_required("forward", single(picture.forward()));
    program.use_uniform_if_required("parallel", if picture.is_parallel() { 1.0_f32 } else { 0.0 });
}

fn plane(picture: &Picture) -> Vec4 {
    let plane = picture.plane.inwards.extend(picture.plane.least);
    plane.as_vec4().to_array().into()
}

fn night(picture: &Picture) -> f32 {
    if picture.is_dark { 1.0 } else { 0.0 }
}

fn matrix(place: Rigid) -> Mat4 {
    let matrix = DMat4::from_rotation_translation(place.turn, place.shift);
    matrix.as_mat4().to_cols_array_2d().into()
}
