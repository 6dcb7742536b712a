// Lights the field of a section on its curved triangles, in passes. The first deposits flux function, flux density and current density (as phasors) of every dot,
// once for each field and view; the second lights them for an instant, so that playing a period costs the same however fine the field is; the ink comes on top as a picture of its own,
// and the marks of the currents under it, so that the whole stage is one opaque layer. Where there is no graphics card candle.js does the same.
// How it looks, also where no card lights it: red, green and blue of 255.
export const LOOK = { lit: [29, 38, 50], rim: [13, 17, 23], matter: [55, 64, 76], grain: [170, 181, 194], line: [227, 236, 248], warm: [255, 176, 79], cool: [88, 166, 255], dark: [11, 14, 19] };
const INKS = `const vec3 ${Object.entries(LOOK).map(([name, rgb]) => `${name.toUpperCase()} = vec3(${rgb.map(v => (v / 255).toFixed(4)).join()})`).join(', ')};`;

const DEPOSIT_VERTEX = `#version 300 es
precision highp float; precision highp int; precision highp sampler2D; precision highp isampler2D;
uniform sampler2D nodes, sources;
uniform isampler2D triangles;
uniform vec4 view;
uniform float mirror;
uniform int first, count;
uniform vec2 corners[27];
out vec2 place; out vec2 local; out vec4 slopes;
flat out vec4 u01; flat out vec4 u23; flat out vec4 u45; flat out vec4 origin;
vec4 node(int i) { return texelFetch(nodes, ivec2(i & 1023, i >> 10), 0); }
void main() {
  int t = first + gl_VertexID/count;
  ivec4 ends = texelFetch(triangles, ivec2((2*t) & 1023, (2*t) >> 10), 0), rest = texelFetch(triangles, ivec2((2*t + 1) & 1023, (2*t + 1) >> 10), 0);
  local = corners[gl_VertexID % count];
  origin = texelFetch(sources, ivec2(t & 1023, t >> 10), 0);
  float x = local.x, e = local.y, z = 1.0 - x - e;
  vec4 a = node(ends.x), b = node(ends.y), c = node(ends.z), d = node(ends.w), f = node(rest.x), g = node(rest.y);
  place = a.xy*z*(2.0*z-1.0) + b.xy*x*(2.0*x-1.0) + c.xy*e*(2.0*e-1.0) + d.xy*4.0*z*x + f.xy*4.0*x*e + g.xy*4.0*e*z;
  vec2 alongX = a.xy*(1.0-4.0*z) + b.xy*(4.0*x-1.0) + d.xy*4.0*(z-x) + f.xy*4.0*e - g.xy*4.0*e;
  vec2 alongE = a.xy*(1.0-4.0*z) + c.xy*(4.0*e-1.0) - d.xy*4.0*x + f.xy*4.0*x + g.xy*4.0*(z-e);
  slopes = vec4(alongX, alongE);
  u01 = vec4(a.zw, b.zw); u23 = vec4(c.zw, d.zw); u45 = vec4(f.zw, g.zw);
  gl_Position = vec4((place.x*mirror - view.x)*view.z, (place.y - view.y)*view.w, 0.0, 1.0);
}`;
const DEPOSIT_FRAGMENT = `#version 300 es
precision highp float;
in vec2 place; in vec2 local; in vec4 slopes;
flat in vec4 u01; flat in vec4 u23; flat in vec4 u45; flat in vec4 origin;
uniform float mirror; uniform bool isRound; uniform float depth; uniform vec2 scales;
// Flux function and current density in one place, since a processor takes longest over fetching; flux density apart.
layout(location=0) out uvec4 laid;
layout(location=1) out uvec2 density;
void main() {
  float x = local.x, e = local.y, z = 1.0 - x - e;
  vec2 a = u01.xy, b = u01.zw, c = u23.xy, d = u23.zw, f = u45.xy, g = u45.zw;
  vec2 u = a*z*(2.0*z-1.0) + b*x*(2.0*x-1.0) + c*e*(2.0*e-1.0) + 4.0*(d*z*x + f*x*e + g*e*z);
  vec2 ux = a*(1.0-4.0*z) + b*(4.0*x-1.0) + 4.0*(d*(z-x) + (f-g)*e);
  vec2 ue = a*(1.0-4.0*z) + c*(4.0*e-1.0) + 4.0*((f-d)*x + g*(z-e));
  float area = slopes.x*slopes.w - slopes.y*slopes.z;
  vec2 dx = (ux*slopes.w - ue*slopes.y)/area, dy = (ue*slopes.x - ux*slopes.z)/area;
  float r = place.x;
  vec2 potential = isRound ? r*u : u;
  vec2 bx = isRound ? -r*dy : dy, by = isRound ? 2.0*u + r*dx : -dx;
  vec2 current = origin.xy + origin.z*vec2(potential.y, -potential.x);
  if (isRound) current *= -mirror;
  laid = uvec4(floatBitsToUint(isRound ? 6.28318530718*r*potential : depth*u), packHalf2x16(current/scales.y), uint(origin.w) + 1u);
  density = uvec2(packHalf2x16(mirror*bx/scales.x), packHalf2x16(by/scales.x));
}`;
const LIGHT_VERTEX = `#version 300 es
layout(location=0) in vec2 corner;
void main() { gl_Position = vec4(corner, 0.0, 1.0); }`;
// A program for each choice of layers.
const LIGHT_FRAGMENT = layers => `#version 300 es
precision highp float; precision highp int; precision highp sampler2D; precision highp usampler2D;
${layers.map(l => `#define ${l}\n`).join('')}
uniform usampler2D laid, density;
uniform sampler2D ramp, glow;
uniform vec2 size; uniform vec2 phase; uniform vec4 view; uniform float pixel;
uniform float step_; uniform float dots;
out vec4 colour;
${INKS}
float hatch(vec2 at, float pitch, float width) {
  float d = abs(fract((at.x + at.y)/pitch) - 0.5)*pitch*0.7071;
  return 1.0 - smoothstep(width*0.5, width*0.5 + 0.8*dots, d);
}
void main() {
  ivec2 at = ivec2(gl_FragCoord.xy);
  float image = 1.0;
#ifdef ROUND
  // The half that was not laid is the image of the other, no nearer to the axis than the first column that was laid.
  float axis = 0.5*size.x - view.x/pixel;
  if (view.z*(gl_FragCoord.x - axis) < 0.0) {
    float column = floor(2.0*axis - gl_FragCoord.x);
    column = view.z > 0.0 ? max(column, ceil(axis - 0.5)) : min(column, floor(axis - 0.5));
    at.x = clamp(int(column), 0, int(size.x) - 1);
    image = -1.0;
  }
#endif
  uvec4 here = texelFetch(laid, at, 0);
  uint kind = here.w;
  vec4 around = texture(glow, gl_FragCoord.xy/size);
  vec3 c = mix(LIT, RIM, around.a);
#ifdef DENSITY
  uvec2 b = texelFetch(density, at, 0).xy;
  float share = sqrt(min(length(vec2(dot(unpackHalf2x16(b.x), phase), dot(unpackHalf2x16(b.y), phase))), 1.0));
  c = mix(c, texelFetch(ramp, ivec2(255.0*share + 0.5, 0), 0).rgb, 0.25 + 0.75*smoothstep(0.0, 0.25, share));
#endif
#ifdef CURRENT
#ifdef DENSITY
  around.rgb *= 0.35;
#endif
  if (kind < 2u) c += around.rgb;
#endif
  if (kind > 1u) {
#ifdef DENSITY
    c = mix(c, MATTER, 0.35);
#else
    c = mix(c, MATTER, 0.88);
#endif
    vec2 grain = gl_FragCoord.xy - (0.5*size - view.xy/pixel);
    float h = kind > 3u ? 0.0 : kind > 2u ? max(hatch(grain, 13.0*dots, 0.9*dots), hatch(grain + vec2(3.6*dots, 0.0), 13.0*dots, 0.9*dots)) : hatch(grain, 7.5*dots, 0.9*dots);
    c = mix(c, GRAIN, 0.30*h);
#ifdef CURRENT
    float j = image*dot(unpackHalf2x16(here.z), phase);
    c = mix(c, j > 0.0 ? WARM : COOL, 0.72*pow(min(abs(j), 1.0), 0.75));
#endif
  }
#ifdef FLUX
  // How near a line is, told by how fast they follow each other from dot to dot.
  float v = dot(uintBitsToFloat(here.xy), phase)/step_;
#ifdef ROUND
  float k = floor(v + 0.5), none = step(0.5, abs(k));
#else
  v -= 0.5;
  float k = floor(v + 0.5), none = 1.0;
#endif
  float slope = length(vec2(dFdx(v), dFdy(v))), away = abs(v - k)/max(slope, 1e-9);
  if (away < 15.0*dots && none*float(kind) > 0.0) {
    float crowd = 1.0 - smoothstep(0.16/dots, 0.42/dots, slope);
    float core = 1.0 - smoothstep(0.42*dots, 0.42*dots + 0.9, away);
    float haze = 0.16*exp(-away*away/(14.0*dots*dots));
    c = mix(c, LINE, crowd*(0.86*core + haze*(1.0 - core)));
  }
#endif
  colour = vec4(c, 1.0);
}`;
// Where fewer dots are lit than the stage has: they are spread over it.
const SPREAD_FRAGMENT = `#version 300 es
precision highp float;
uniform sampler2D lit; uniform vec2 size;
out vec4 colour;
void main() { colour = texture(lit, gl_FragCoord.xy/size); }`;
// The ink, over whatever lies there.
const INK_FRAGMENT = `#version 300 es
precision highp float;
uniform sampler2D ink; uniform vec2 size;
out vec4 colour;
void main() { colour = texelFetch(ink, ivec2(int(gl_FragCoord.x), int(size.y) - 1 - int(gl_FragCoord.y)), 0); }`;
// Marks of the currents: a point towards the reader, a cross away, as large as the root of the current.
const MARK_VERTEX = `#version 300 es
layout(location=0) in vec2 place; layout(location=1) in float room; layout(location=2) in vec2 current;
uniform vec4 view; uniform vec2 phase; uniform float perMetre, most;
out float radius; flat out float towards;
void main() {
  float j = dot(current, phase);
  radius = min(most, room*perMetre)*sqrt(min(abs(j), 1.0)); towards = j;
  bool seen = abs(j) >= 0.04 && radius >= 0.22*most;
  gl_Position = seen ? vec4((place - view.xy)*view.zw, 0.0, 1.0) : vec4(2.0, 2.0, 2.0, 1.0);
  gl_PointSize = 2.0*radius + 3.0;
}`;
const MARK_FRAGMENT = `#version 300 es
precision highp float;
in float radius; flat in float towards;
uniform float dots;
out vec4 colour;
${INKS}
void main() {
  vec2 p = (gl_PointCoord - 0.5)*(2.0*radius + 3.0);
  float d = length(p), rim = min(0.8*dots, 0.2*radius), across = min(abs(p.x - p.y), abs(p.x + p.y))*0.7071, along = max(abs(p.x + p.y), abs(p.x - p.y))*0.7071;
  float inside = towards > 0.0 ? d - 0.3*radius : max(across - 0.13*radius, along - 0.84*radius);
  float dark = max(clamp(0.5 - inside, 0.0, 1.0), 0.85*clamp(0.5 + d - radius + 0.5*rim, 0.0, 1.0));
  float a = clamp(0.5 + radius + 0.5*rim - d, 0.0, 1.0);
  colour = vec4(mix(towards > 0.0 ? WARM : COOL, DARK, dark)*a, a);
}`;
// The glow of the windings round about, and how far the light of the stage has fallen, on a coarse net of dots: there is no edge in them.
const GLOW_FRAGMENT = `#version 300 es
precision highp float;
uniform vec2 size; uniform vec2 phase; uniform vec4 view; uniform float pixel; uniform float dots; uniform float coarse;
uniform int boxCount; uniform vec4 boxes[48]; uniform vec2 boxCurrents[48];
out vec4 colour;
${INKS}
void main() {
  vec2 place = view.xy + (coarse*gl_FragCoord.xy - 0.5*size)*pixel;
  vec2 off = (coarse*gl_FragCoord.xy - 0.5*size)/(0.66*max(size.x, size.y));
  vec3 c = vec3(0.0);
  for (int i = 0; i < boxCount; i++) {
    vec4 box = boxes[i];
    vec2 d = max(abs(place - box.xy) - box.zw, 0.0)/pixel;
    float i_ = dot(boxCurrents[i], phase);
    float near = dot(d, d)/(dots*dots), close = 1.0/(1.0 + near/110.0), size_ = min(2.0*min(box.z, box.w)/(pixel*26.0*dots), 1.0);
    // What is small on the stage glows little, so that a row of coils is not one blaze.
    c += (i_ > 0.0 ? WARM : COOL)*size_*min(abs(i_), 1.0)*(0.36*close*close + 0.11/(1.0 + near/1500.0));
  }
  colour = vec4(c, smoothstep(0.0, 1.0, length(off)));
}`;
const COARSE = 5;

// Straight triangles come whole, curved ones in nine pieces.
export const PATCHES = [pieces(1), pieces(3)];

export class Light {
  constructor(canvas) {
    this.canvas = canvas;
    this.gl = canvas.getContext('webgl2', { antialias: false, alpha: false, powerPreference: 'high-performance' });
    this.gl.getExtension('EXT_color_buffer_float');
    canvas.addEventListener('webglcontextlost', e => { e.preventDefault(); this.lost = true; });
    canvas.addEventListener('webglcontextrestored', () => { this.lost = false; this.prepare(); this.restored?.(); });
    this.prepare();
  }

  prepare() {
    const gl = this.gl;
    this.deposit = program(gl, DEPOSIT_VERTEX, DEPOSIT_FRAGMENT);
    this.lights = {};
    this.halo = program(gl, LIGHT_VERTEX, GLOW_FRAGMENT);
    this.spread = program(gl, LIGHT_VERTEX, SPREAD_FRAGMENT);
    this.mark = program(gl, MARK_VERTEX, MARK_FRAGMENT);
    this.inks = program(gl, LIGHT_VERTEX, INK_FRAGMENT);
    // What a pass takes corner by corner: nothing, one triangle over everything, the marks.
    this.bare = gl.createVertexArray();
    [this.all, this.marks] = [[2], [2, 1, 2]].map(sizes => arrays(gl, sizes));
    this.all.set(new Float32Array([-1, -1, 3, -1, -1, 3]));
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    [this.nodes, this.triangles, this.sources] = [texture(gl), texture(gl), texture(gl)];
    [this.ramp, this.ink] = [texture(gl, gl.LINEAR), texture(gl)];
    this.targets = this.fence = null; this.rooms = [];
  }

  // The colours of the field strength, dark to light: 256 of them, 4 bytes each.
  colours(bytes) { const gl = this.gl; gl.bindTexture(gl.TEXTURE_2D, this.ramp); gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, 256, 1, 0, gl.RGBA, gl.UNSIGNED_BYTE, bytes); }

  // Takes a field, its straight triangles before its curved ones.
  load({ nodes, triangles, sources, head }) {
    const gl = this.gl, order = new Int32Array(head.triangles);
    this.straight = 0;
    let last = head.triangles;
    for (let t = 0; t < head.triangles; t++) order[isStraight(nodes, triangles, 6 * t) ? this.straight++ : --last] = t;
    const ends = new Int32Array(rows(2 * head.triangles) * 4096), origins = new Float32Array(rows(head.triangles) * 4096), places = new Float32Array(rows(head.nodes) * 4096);
    order.forEach((from, to) => { for (let k = 0; k < 6; k++) ends[8 * to + k] = triangles[6 * from + k]; for (let k = 0; k < 4; k++) origins[4 * to + k] = sources[4 * from + k]; });
    places.set(nodes);
    this.count = head.triangles;
    for (const [t, inner, outer, type, data] of [[this.nodes, gl.RGBA32F, gl.RGBA, gl.FLOAT, places], [this.triangles, gl.RGBA32I, gl.RGBA_INTEGER, gl.INT, ends], [this.sources, gl.RGBA32F, gl.RGBA, gl.FLOAT, origins]]) {
      gl.bindTexture(gl.TEXTURE_2D, t);
      gl.texImage2D(gl.TEXTURE_2D, 0, inner, 1024, data.length / 4096, 0, outer, type, data);
    }
  }

  // Makes room for so many dots of light on so large a canvas. True if the light must be laid anew.
  size(width, height, wide, high) {
    const gl = this.gl;
    if (this.canvas.width !== wide || this.canvas.height !== high) { this.canvas.width = wide; this.canvas.height = high; }
    if (this.targets && this.width === width && this.height === height) return false;
    this.width = width; this.height = height;
    for (const { frame, textures } of this.rooms) { gl.deleteFramebuffer(frame); textures.forEach(t => gl.deleteTexture(t)); }
    const room = (kinds, w, h, filter) => {
      const frame = gl.createFramebuffer(), textures = kinds.map(inner => { const t = texture(gl, filter); gl.texStorage2D(gl.TEXTURE_2D, 1, inner, w, h); return t; });
      gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
      textures.forEach((t, i) => gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0 + i, gl.TEXTURE_2D, t, 0));
      return { frame, textures };
    };
    const laid = room([gl.RGBA32UI, gl.RG32UI], width, height), glow = room([gl.RGBA8], Math.ceil(width / COARSE), Math.ceil(height / COARSE), gl.LINEAR), lit = room([gl.RGBA8], width, height, gl.LINEAR);
    this.rooms = [laid, glow, lit];
    [this.targets, this.frame, this.glow, this.glowFrame, this.lit, this.litFrame] = [laid.textures, laid.frame, glow.textures[0], glow.frame, lit.textures[0], lit.frame];
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    return true;
  }

  // Takes the ink: a canvas as large as the stage's own, clear where nothing is drawn.
  draw(canvas) {
    const gl = this.gl;
    gl.bindTexture(gl.TEXTURE_2D, this.ink);
    gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, true);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, gl.RGBA, gl.UNSIGNED_BYTE, canvas);
    gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, false);
  }

  // Takes the marks of currents, five numbers each: place and room in m, current density over its scale as a phasor.
  set(marks) { this.marks.set(marks); }

  // The first pass, of the half of a round section that shows more, the other being its image: centre of the view and what one dot is wide, in m; scales of flux density and current density; length along the hidden direction.
  lay({ x, y, pixel, densityScale, currentScale, isRound, depth }) {
    const gl = this.gl, p = this.deposit, half = 0.5 * this.width * pixel;
    gl.bindVertexArray(this.bare);
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
    gl.drawBuffers([gl.COLOR_ATTACHMENT0, gl.COLOR_ATTACHMENT1]);
    gl.viewport(0, 0, this.width, this.height);
    for (let i = 0; i < 2; i++) gl.clearBufferuiv(gl.COLOR, i, [0, 0, 0, 0]);
    gl.useProgram(p.program);
    ['nodes', 'triangles', 'sources'].forEach((name, i) => { gl.activeTexture(gl.TEXTURE0 + i); gl.bindTexture(gl.TEXTURE_2D, this[name]); gl.uniform1i(p.at(name), i); });
    gl.uniform4f(p.at('view'), x, y, 1 / half, 2 / (this.height * pixel));
    gl.uniform1i(p.at('isRound'), isRound); gl.uniform1f(p.at('depth'), depth); gl.uniform2f(p.at('scales'), densityScale, currentScale);
    gl.uniform1f(p.at('mirror'), sideOf(isRound, x) || 1);
    for (const [first, many, shape] of [[0, this.straight, PATCHES[0]], [this.straight, this.count - this.straight, PATCHES[1]]]) {
      if (!many) continue;
      gl.uniform1i(p.at('first'), first); gl.uniform1i(p.at('count'), shape.length / 2); gl.uniform2fv(p.at('corners[0]'), shape);
      gl.drawArrays(gl.TRIANGLES, 0, shape.length / 2 * many);
    }
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
  }

  // The other passes: an instant as cosine and sine, lines every step of flux, which layers, how thick a line is in dots of light, how large a mark at most in dots of the canvas, and the glow of the windings.
  shine({ x, y, pixel, isRound }, { instant: [c, s], step, layers, dots, mark, glow }) {
    const gl = this.gl, { width, height, canvas } = this, same = width === canvas.width && height === canvas.height;
    const use = (p, array, wide, high) => { gl.bindVertexArray(array); gl.useProgram(p.program); gl.uniform2f(p.at('size'), wide, high); gl.uniform2f(p.at('phase'), c, -s); gl.uniform1f(p.at('pixel'), pixel); gl.uniform1f(p.at('dots'), dots); return p; };
    const take = (p, name, unit, what) => { gl.activeTexture(gl.TEXTURE0 + unit); gl.bindTexture(gl.TEXTURE_2D, what); gl.uniform1i(p.at(name), unit); };
    const upon = (frame, wide, high) => { gl.bindFramebuffer(gl.FRAMEBUFFER, frame); gl.viewport(0, 0, wide, high); };
    let p = use(this.halo, this.all.at, width, height);
    upon(this.glowFrame, Math.ceil(width / COARSE), Math.ceil(height / COARSE));
    const boxes = layers.current ? glow.count : 0;
    gl.uniform4f(p.at('view'), x, y, 0, 0); gl.uniform1f(p.at('coarse'), COARSE); gl.uniform1i(p.at('boxCount'), boxes);
    if (boxes) { gl.uniform4fv(p.at('boxes[0]'), glow.boxes); gl.uniform2fv(p.at('boxCurrents[0]'), glow.currents); }
    gl.drawArrays(gl.TRIANGLES, 0, 3);

    p = use(this.lightOf(layers, isRound), this.all.at, width, height);
    upon(same ? null : this.litFrame, width, height);
    ['laid', 'density'].forEach((name, i) => take(p, name, i, this.targets[i]));
    take(p, 'ramp', 3, this.ramp); take(p, 'glow', 4, this.glow);
    gl.uniform4f(p.at('view'), x, y, sideOf(isRound, x), 0); gl.uniform1f(p.at('step_'), step);
    gl.drawArrays(gl.TRIANGLES, 0, 3);

    upon(null, canvas.width, canvas.height);
    if (!same) {
      p = use(this.spread, this.all.at, canvas.width, canvas.height);
      take(p, 'lit', 4, this.lit);
      gl.drawArrays(gl.TRIANGLES, 0, 3);
    }
    gl.enable(gl.BLEND);
    if (layers.current && this.marks.count) {
      p = use(this.mark, this.marks.at, canvas.width, canvas.height);
      const across = pixel * width, high = pixel * height;
      gl.uniform4f(p.at('view'), x, y, 2 / across, 2 / high); gl.uniform1f(p.at('perMetre'), canvas.width / across); gl.uniform1f(p.at('most'), mark); gl.uniform1f(p.at('dots'), mark / 5.4);
      gl.drawArrays(gl.POINTS, 0, this.marks.count);
    }
    p = use(this.inks, this.all.at, canvas.width, canvas.height);
    take(p, 'ink', 4, this.ink);
    gl.drawArrays(gl.TRIANGLES, 0, 3);
    gl.disable(gl.BLEND);
    if (this.fence) gl.deleteSync(this.fence);
    this.fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
  }

  // The program for some layers of a round or long section.
  lightOf(layers, isRound) {
    const shown = [layers.flux && 'FLUX', layers.density && 'DENSITY', layers.current && 'CURRENT', isRound && 'ROUND'].filter(Boolean);
    return this.lights[shown] ??= program(this.gl, LIGHT_VERTEX, LIGHT_FRAGMENT(shown));
  }

  // Whether all that was asked for has been drawn.
  get isDone() { return !this.fence || this.gl.getSyncParameter(this.fence, this.gl.SYNC_STATUS) === this.gl.SIGNALED; }

  // What was deposited in a dot: flux density and current density over their scales, as phasors, and the matter; null outside the field.
  read(px, py, { x, pixel, isRound }) {
    const image = sideOf(isRound, x) * (x + (px + 0.5 - 0.5 * this.width) * pixel) < 0 ? -1 : 1;
    if (image < 0) px = Math.min(Math.max(Math.floor(this.width - 2 * x / pixel - px - 0.5), 0), this.width - 1);
    const gl = this.gl, out = [new Uint32Array(4), new Uint32Array(4)];
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
    out.forEach((values, i) => { gl.readBuffer(gl.COLOR_ATTACHMENT0 + i); gl.readPixels(px, py, 1, 1, gl.RGBA_INTEGER, gl.UNSIGNED_INT, values); });
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    const [laid, packed] = out;
    if (!laid[3]) return null;
    const density = [...halves(packed[0]), ...halves(packed[1])], current = halves(laid[2]);
    for (const values of [density, current]) { values[0] *= image; values[1] *= image; }
    return { density, current, matter: laid[3] - 1 };
  }
}

export function isStraight(nodes, triangles, at) {
  for (let k = 0; k < 3; k++) {
    const a = 4 * triangles[at + k], b = 4 * triangles[at + (k + 1) % 3], m = 4 * triangles[at + 3 + k];
    const off = Math.abs(nodes[a] + nodes[b] - 2 * nodes[m]) + Math.abs(nodes[a + 1] + nodes[b + 1] - 2 * nodes[m + 1]);
    if (off > 1e-3 * (Math.abs(nodes[a] - nodes[b]) + Math.abs(nodes[a + 1] - nodes[b + 1]))) return false;
  }
  return true;
}

// The side of the axis of a round section that a view shows more of: 1 right, -1 left; 0 where there is no axis.
export function sideOf(isRound, x) { return isRound ? (x < 0 ? -1 : 1) : 0; }

// The two half floats in a word.
function halves(word) {
  return [word & 0xffff, word >>> 16].map(h => { const size = h & 0x7c00 ? (1 + (h & 0x3ff) / 1024) * 2 ** (((h >> 10) & 31) - 15) : (h & 0x3ff) / 1024 * 2 ** -14; return h & 0x8000 ? -size : size; });
}

// Rows of 1024 that hold so many.
function rows(count) { return Math.max(1, Math.ceil(count / 1024)); }

// Corners of the n² pieces of the reference triangle.
function pieces(n) {
  const v = [];
  for (let i = 0; i < n; i++) for (let j = 0; i + j < n; j++) {
    v.push(i / n, j / n, (i + 1) / n, j / n, i / n, (j + 1) / n);
    if (i + j < n - 1) v.push((i + 1) / n, j / n, (i + 1) / n, (j + 1) / n, i / n, (j + 1) / n);
  }
  return new Float32Array(v);
}

function program(gl, vertex, fragment) {
  const p = gl.createProgram();
  for (const [kind, source] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) { const s = gl.createShader(kind); gl.shaderSource(s, source); gl.compileShader(s); if (!gl.getShaderParameter(s, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(s)); gl.attachShader(p, s); }
  gl.linkProgram(p);
  if (!gl.getProgramParameter(p, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(p));
  const known = {};
  return { program: p, at: name => known[name] ??= gl.getUniformLocation(p, name) };
}

// A place for numbers, so many of each kind to a corner.
function arrays(gl, sizes) {
  const at = gl.createVertexArray(), kept = gl.createBuffer(), whole = sizes.reduce((a, b) => a + b);
  gl.bindVertexArray(at); gl.bindBuffer(gl.ARRAY_BUFFER, kept);
  sizes.reduce((from, size, i) => { gl.enableVertexAttribArray(i); gl.vertexAttribPointer(i, size, gl.FLOAT, false, 4 * whole, 4 * from); return from + size; }, 0);
  return { at, count: 0, set(values) { gl.bindBuffer(gl.ARRAY_BUFFER, kept); gl.bufferData(gl.ARRAY_BUFFER, values, gl.DYNAMIC_DRAW); this.count = values.length / whole; } };
}

function texture(gl, filter = gl.NEAREST) {
  const t = gl.createTexture(); gl.bindTexture(gl.TEXTURE_2D, t);
  for (const [k, v] of [[gl.TEXTURE_MIN_FILTER, filter], [gl.TEXTURE_MAG_FILTER, filter], [gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE], [gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE]]) gl.texParameteri(gl.TEXTURE_2D, k, v);
  return t;
}
