/**
 * Vertices ride on the mode: `lift` is how far each goes along z at full swing, `tone` its plate's share of the largest motion;
 * `nearer` (m) lifts the ink of an edge off the faces that it parts.
 */
export const vertexShader = /* glsl */ `
attribute float lift;
attribute float tone;
uniform float swing;
uniform float size;
uniform float nearer;
varying vec3 seen;
varying vec3 placed;
varying float share;
void main() {
  vec3 moved = position + vec3(0.0, 0.0, lift * swing * size);
  placed = moved;
  share = tone;
  vec4 inView = modelViewMatrix * vec4(moved, 1.0);
  seen = inView.xyz;
  gl_Position = projectionMatrix * (inView + vec4(0.0, 0.0, nearer, 0.0));
}`;

const cutting = /* glsl */ `
uniform vec4 cut;
varying vec3 placed;
float beforeCut() { return dot(cut.xyz, placed) - cut.w; }`;

/**
 * Paper, inked: tints in the bands of the printed mode sheets, the line of no motion in ink, and the sides that lie away from the
 * lamp hatched by the pen instead of shaded.
 */
export const surfaceShader = /* glsl */ `
uniform vec3 ink;
uniform vec3 base;
uniform vec3 outTints[4];
uniform vec3 inTints[4];
uniform float swing;
uniform float tinted;
uniform float dot_;
varying vec3 seen;
varying float share;
${cutting}
vec3 tint(float w) {
  float m = abs(w);
  if (m < 0.08) return base;
  int band = m < 0.3 ? 0 : m < 0.55 ? 1 : m < 0.8 ? 2 : 3;
  vec3 colour = base;
  for (int i = 0; i < 4; i++) if (i == band) colour = w > 0.0 ? outTints[i] : inTints[i];
  return colour;
}
void main() {
  float d = beforeCut();
  if (d < 0.0) discard;
  vec3 normal = normalize(cross(dFdx(seen), dFdy(seen)));
  if (normal.z < 0.0) normal = -normal;
  float lit = dot(normal, normalize(vec3(-0.42, 0.5, 0.75)));
  vec3 colour = tinted > 0.5 ? tint(share * swing) : base;
  colour = mix(colour, ink, 0.12 * (1.0 - smoothstep(0.2, 0.95, lit)));
  vec2 at = gl_FragCoord.xy / dot_;
  float stroke = abs(fract((at.x + at.y) / 8.5) - 0.5);
  float across = abs(fract((at.x - at.y) / 8.5) - 0.5);
  float hatched = (1.0 - smoothstep(0.05, 0.1, stroke)) * (1.0 - smoothstep(0.5, 0.62, lit));
  float crossed = (1.0 - smoothstep(0.05, 0.1, across)) * (1.0 - smoothstep(0.12, 0.25, lit));
  colour = mix(colour, ink, 0.42 * max(hatched, crossed));
  if (tinted > 0.5) {
    float step_ = fwidth(share);
    float steep = step_ / max(1e-6, length(fwidth(placed.xy)));
    if (steep > 1.2 && abs(share) < 0.8 * step_) colour = ink;
  }
  if (d < 1.6 * fwidth(d)) colour = ink;
  gl_FragColor = vec4(colour, 1.0);
}`;

export const lineShader = /* glsl */ `
uniform vec3 ink;
${cutting}
void main() {
  if (beforeCut() < 0.0) discard;
  gl_FragColor = vec4(ink, 1.0);
}`;
