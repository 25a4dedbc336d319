//! What the graphics processor runs. Looks follow those of the pictures that are made without one; what moves is orange and
//! what is picked is blue, as on the page.

/// Faces of bodies: `MODE` 0 opaque, 1 what clear sheet takes from the light behind it, 2 what it mirrors.
const FACE_VERTEX: &str = "
uniform mat4 to_clip; uniform mat4 place;
in vec3 position; in vec3 normal; in vec4 look;
out vec3 pos; out vec3 nor;
#if MODE == 0
uniform vec2 lit;
// Linear light of what moves and of what is picked.
const vec3 MOVES = vec3(0.95, 0.42, 0.06), PICKED = vec3(0.05, 0.17, 0.78);
out vec3 albedo;
#elif MODE == 1
uniform vec2 lit;
out vec3 takes; out float at_rim;
#else
out vec3 hue; out float at_rim;
#endif
void main() {
    vec4 p = place * vec4(position, 1.0);
    pos = p.xyz; nor = mat3(place) * normal;
    gl_Position = to_clip * p;
#if MODE == 0
    albedo = mix(mix(look.rgb * 0.92, MOVES, 0.55 * lit.x), PICKED, 0.55 * lit.y);
#else
    vec3 rgb = look.rgb / max(max(look.r, max(look.g, look.b)), 0.001);
    at_rim = look.a;
#if MODE == 1
    float tinted = min((1.0 - min(rgb.r, min(rgb.g, rgb.b))) * 4.0, 1.0);
    vec3 base = mix(mix(vec3(1.0), rgb, 0.07) * 0.988, rgb * mix(vec3(0.78, 0.81, 0.82), vec3(0.62, 0.84, 0.88), tinted), at_rim);
    // Sheet lets through a power of this: its logarithm is the same all over a face.
    takes = log2(max(base, vec3(1e-4)));
#else
    hue = rgb;
#endif
#endif
}";

/// Colours are linear light until the end. Brightness as bytes follows the power 1/2.2, near enough to sRGB's curve
/// (IEC 61966-2-1), with which products of brightness stay products.
const COMMON: &str = "
uniform vec3 eye; uniform vec3 forward; uniform float parallel; uniform vec4 plane;
vec3 encoded(vec3 c) { return pow(max(c, vec3(0.0)), vec3(1.0 / 2.2)); }
vec3 towards(vec3 p) { return parallel > 0.5 ? -forward : normalize(eye - p); }
float mirrored(float c, float least, float scale) { float x = 1.0 - c; return least + scale * x*x*x*x*x; }
float sky(float z) { return mix(0.62, 1.0, 0.5 * z + 0.5); }
";

const FACE: &str = "
uniform vec2 lit; uniform float night;
in vec3 pos; in vec3 nor;
#if MODE == 0
in vec3 albedo;
#elif MODE == 1
uniform float times;
in vec3 takes; in float at_rim;
#else
in vec3 hue; in float at_rim;
#endif
out vec4 result;
void main() {
    if (dot(plane.xyz, pos) < plane.w) discard;
    vec3 v = towards(pos); vec3 n = normalize(nor);
    bool front = gl_FrontFacing;
    if (dot(n, v) < 0.0) n = -n;
    float c = clamp(dot(n, v), 0.0, 1.0);
#if MODE == 0
    vec3 key = normalize(vec3(-0.42, -0.62, 0.9));
    float lambert = max(dot(n, key), 0.0), fill = max(dot(n, vec3(0.7, -0.35, 0.1)), 0.0);
    float g = max(dot(n, normalize(key + v)), 0.0); g *= g; g *= g; g *= g; g *= g;
    float gloss = g * g * 0.16;
    // Dark bodies would be lost on the dark desk (our judgement).
    vec3 body = albedo + night * vec3(0.10, 0.12, 0.14) * (1.0 - max(albedo.r, max(albedo.g, albedo.b)));
    vec3 light = body * (0.37 + 0.17 * n.z + 0.64 * lambert + 0.10 * fill)
        + vec3(gloss + 0.5 * mirrored(c, 0.02, 0.35));
    // Looking into something cut open one sees the inside of its far faces: an even colour stands for what was cut.
    if (!front) light = body * 0.40;
    result = vec4(encoded(light * mix(1.0, 0.72, night)), 1.0);
#else
    float rim = step(0.5, at_rim);
    float m = mirrored(c, mix(0.012, 0.03, rim), 0.22);
#if MODE == 1
    // The longer the way through, the higher the power; times what is not mirrored; and all of it as bytes at once.
    float way = min(1.0 / max(c, 0.4), 2.5);
    vec3 marked = log2(mix(mix(vec3(1.0), vec3(1.0, 0.80, 0.50), lit.x), vec3(0.66, 0.78, 1.0), lit.y));
    result = vec4(exp2((takes * way + log2(1.0 - m) + marked) * (times / 2.2)), 1.0);
#else
    vec3 r = reflect(-v, n);
    // Screened over what is there: in bytes, so that many sheets behind one another do not turn milky.
    vec3 s = vec3(0.9 * m * sky(r.z)) * mix(1.0, 0.5, night);
    s += night * (rim * hue * 0.10 + vec3(0.012, 0.022, 0.026));
    s += lit.x * vec3(0.10, 0.05, 0.0) + lit.y * vec3(0.0, 0.03, 0.10);
    result = vec4(s, 1.0);
#endif
#endif
}";

/// The two halves of a program for faces.
pub(super) fn face(mode: u8) -> [String; 2] {
    [FACE_VERTEX, &format!("{COMMON}{FACE}")].map(|half| format!("#define MODE {mode}\n{half}"))
}

/// Lines as ribbons of a width in px. Each corner knows both ends of its line, and what ink it is drawn with: that of edges
/// by the colour of their body, that of what is engraved, or that of the rim of water.
pub(super) const LINE_VERTEX: &str = "
uniform mat4 to_clip; uniform mat4 place; uniform vec2 size_px; uniform float line_px;
uniform vec3 eye; uniform vec3 forward; uniform float parallel; uniform float night; uniform vec2 lit;
in vec3 start; in vec3 end; in vec2 corner; in vec4 tint;
out vec3 pos; out vec4 ink;
vec4 ink_of(vec3 rgb, float kind) {
    bool dark = night > 0.5;
    float most = max(max(rgb.r, max(rgb.g, rgb.b)), 0.01);
    if (kind > 2.5) return dark ? vec4(0.42, 0.72, 0.92, 0.85) : vec4(0.13, 0.40, 0.62, 0.75);
    if (kind > 1.5) return dark ? vec4(0.75, 0.88, 0.90, 0.70) : vec4(0.12, 0.28, 0.33, 0.75);
    vec4 edge = kind > 0.5
        ? (dark ? vec4(vec3(0.62, 0.88, 0.92) * rgb / most, 0.85) : vec4(vec3(0.16, 0.42, 0.48) * rgb / most, 0.62))
        : (dark ? vec4(mix(rgb, vec3(0.75), 0.45) * 0.8, 0.55) : vec4(0.32 * rgb + 0.04, 0.66));
    vec4 picked = dark ? vec4(0.66, 0.76, 0.94, 1.0) : vec4(0.11, 0.18, 0.60, 1.0);
    return mix(mix(edge, vec4(0.85, 0.38, 0.03, 1.0), lit.x), picked, lit.y);
}
float width_of(float kind) { return kind > 2.5 ? 1.2 : kind > 1.5 ? 0.8 : 1.0 + 0.6 * max(lit.x, lit.y); }
const float NEAR = 1.0;
// A little nearer than the edge that it is drawn on, mm.
const float BEFORE = 1.5;
void main() {
    float width_px = line_px * width_of(tint.a);
    ink = ink_of(tint.rgb, tint.a);
    vec3 a = (place * vec4(start, 1.0)).xyz, b = (place * vec4(end, 1.0)).xyz;
    if (parallel < 0.5) {
        float da = dot(a - eye, forward), db = dot(b - eye, forward);
        if (da < NEAR && NEAR < db) a = mix(a, b, (NEAR - da) / (db - da));
        if (db < NEAR && NEAR < da) b = mix(b, a, (NEAR - db) / (da - db));
    }
    pos = mix(a, b, corner.x);
    vec3 before = parallel > 0.5 ? -forward : normalize(eye - pos);
    vec4 ca = to_clip * vec4(a, 1.0), cb = to_clip * vec4(b, 1.0);
    vec2 along = cb.xy / cb.w * size_px - ca.xy / ca.w * size_px;
    along = length(along) < 1e-4 ? vec2(1.0, 0.0) : normalize(along);
    vec4 p = to_clip * vec4(pos + before * BEFORE, 1.0);
    p.xy += vec2(-along.y, along.x) * corner.y * width_px / size_px * p.w;
    // Rounded off a little past its ends, so that corners close.
    p.xy += along * (corner.x * 2.0 - 1.0) * 0.5 * width_px / size_px * p.w;
    gl_Position = p;
}";

pub(super) const LINE: &str = "
uniform vec4 plane;
in vec3 pos; in vec4 ink; out vec4 result;
void main() {
    if (dot(plane.xyz, pos) < plane.w) discard;
    result = ink;
}";

/// Water as a box between two corners. `MODE` 0: what its sides take from light, half on the way in and half on the way
/// out, so that what stands in it has half. `MODE` 1: what its surface takes. `MODE` 2: what its surface mirrors.
pub(super) const WATER_VERTEX: &str = "
uniform mat4 to_clip; uniform vec3 least; uniform vec3 greatest;
in vec3 position;
out vec3 pos;
void main() {
    pos = mix(least, greatest, position);
    gl_Position = to_clip * vec4(pos, 1.0);
}";

const WATER: &str = "
uniform vec3 least; uniform vec3 greatest; uniform vec3 takes; uniform float night;
in vec3 pos; out vec4 result;
void main() {
    vec3 v = towards(pos); vec3 d = -v;
#if MODE == 0
    vec3 inv = 1.0 / (d + vec3(equal(d, vec3(0.0))) * 1e-6);
    vec3 a = (least - pos) * inv, b = (greatest - pos) * inv;
    vec3 lo = min(a, b), hi = max(a, b);
    float way = max(min(hi.x, min(hi.y, hi.z)) - max(lo.x, max(lo.y, lo.z)), 0.0);
    result = vec4(encoded(exp(-takes * way * 0.5)), 1.0);
#else
    float m = mirrored(abs(v.z), 0.03, 0.5);
#if MODE == 1
    result = vec4(encoded(vec3(0.80, 0.935, 0.98) * (1.0 - m)), 1.0);
#else
    result = vec4(vec3(0.80, 0.92, 1.0) * m * mix(0.8, 0.6, night) + night * vec3(0.02, 0.07, 0.10), 1.0);
#endif
#endif
}";

pub(super) fn water(mode: u8) -> String {
    format!("#define MODE {mode}\n{COMMON}{WATER}")
}

/// A triangle over the whole picture.
pub(super) const WHOLE_VERTEX: &str = "
in vec2 position; out vec2 at;
void main() { at = 0.5 * position + 0.5; gl_Position = vec4(position, 0.999, 1.0); }";

pub(super) const BACKDROP: &str = "
uniform vec3 above; uniform vec3 below; in vec2 at; out vec4 result;
void main() { result = vec4(mix(below, above, smoothstep(0.0, 1.0, at.y)), 1.0); }";

/// One sample for one pixel, or a smooth mean of the nearest when the picture is coarser than the window.
pub(super) const COPY: &str = "
uniform sampler2D picture; uniform vec2 origin; uniform float is_coarse; in vec2 at; out vec4 result;
void main() {
    result = is_coarse > 0.5
        ? vec4(texture(picture, at).rgb, 1.0)
        : vec4(texelFetch(picture, ivec2(gl_FragCoord.xy - origin), 0).rgb, 1.0);
}";
