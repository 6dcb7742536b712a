// Lights the field of a section on its curved triangles, in two passes. The first deposits flux function, flux density and current density (as phasors) of every dot,
// once for each field and view; the second lights them for an instant, so that playing a period costs the same however fine the field is.
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
  // Drawn without instances, which a processor that stands in for a graphics card takes one by one.
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
layout(location=0) out vec2 fluxOut;
layout(location=1) out vec4 densityOut;
layout(location=2) out vec4 currentOut;
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
  fluxOut = isRound ? 6.28318530718*r*potential : depth*u;
  densityOut = vec4(mirror*bx, by)/scales.x;
  currentOut = vec4(current/scales.y, origin.w, 1.0);
}`;
const LIGHT_VERTEX = `#version 300 es
layout(location=0) in vec2 corner;
void main() { gl_Position = vec4(corner, 0.0, 1.0); }`;
const LIGHT_FRAGMENT = `#version 300 es
precision highp float; precision highp sampler2D;
uniform sampler2D flux, density, current, ramp, glow;
uniform vec2 size; uniform vec2 phase; uniform vec4 view; uniform float pixel;
uniform float step_; uniform float densityScale; uniform bool isRound; uniform float depth; uniform vec4 layers; uniform float dots;
out vec4 colour;
const vec3 LIT = vec3(0.114,0.149,0.196), RIM = vec3(0.051,0.067,0.090), MATTER = vec3(0.216,0.251,0.298), LINE = vec3(0.89,0.925,0.973);
const vec3 WARM = vec3(1.0,0.69,0.31), COOL = vec3(0.345,0.651,1.0);
float hatch(vec2 at, float pitch, float width) {
  float d = abs(fract((at.x + at.y)/pitch) - 0.5)*pitch*0.7071;
  return 1.0 - smoothstep(width*0.5, width*0.5 + 0.8*dots, d);
}
void main() {
  ivec2 at = ivec2(gl_FragCoord.xy);
  // The half that was not laid is the image of the other.
  float image = view.z*(view.x + (gl_FragCoord.x - 0.5*size.x)*pixel) < 0.0 ? -1.0 : 1.0;
  if (image < 0.0) {
    // No nearer to the axis than the first column that was laid.
    float axis = 0.5*size.x - view.x/pixel, column = floor(2.0*axis - gl_FragCoord.x);
    column = view.z > 0.0 ? max(column, ceil(axis - 0.5)) : min(column, floor(axis - 0.5));
    at.x = clamp(int(column), 0, int(size.x) - 1);
  }
  vec2 psi2 = texelFetch(flux, at, 0).xy;
  vec4 b4 = texelFetch(density, at, 0), j4 = texelFetch(current, at, 0);
  vec2 spot = gl_FragCoord.xy;
  vec2 place = view.xy + (spot - 0.5*size)*pixel;
  float psi = dot(psi2, phase);
  vec2 b = vec2(dot(b4.xy, phase), dot(b4.zw, phase));
  float strength = length(b);
  float j = image*dot(j4.xy, phase);
  float kind = j4.z;
  vec2 off = (spot - size*vec2(0.5, 0.5))/(0.66*max(size.x, size.y));
  vec3 c = mix(LIT, RIM, smoothstep(0.0, 1.0, length(off)));
  if (layers.y > 0.5) {
    float share = sqrt(min(strength, 1.0));
    c = mix(c, texture(ramp, vec2(share, 0.5)).rgb, 0.25 + 0.75*smoothstep(0.0, 0.25, share));
  }
  if (kind > 0.5) {
    c = mix(c, MATTER, layers.y > 0.5 ? 0.35 : 0.88);
    vec2 grain = spot - (0.5*size - view.xy/pixel);
    float h = kind > 2.5 ? 0.0 : kind > 1.5 ? max(hatch(grain, 13.0*dots, 0.9*dots), hatch(grain + vec2(3.6*dots, 0.0), 13.0*dots, 0.9*dots)) : hatch(grain, 7.5*dots, 0.9*dots);
    c = mix(c, vec3(0.667,0.71,0.761), 0.30*h);
  }
  if (layers.z > 0.5) {
    float s = min(abs(j), 1.0);
    vec3 hot = j > 0.0 ? WARM : COOL;
    c = mix(c, hot, 0.72*pow(s, 0.75)*step(0.5, kind));
    if (kind < 0.5) c += (layers.y > 0.5 ? 0.35 : 1.0)*texture(glow, spot/size).rgb;
  }
  if (layers.x > 0.5 && j4.w > 0.5) {
    float reach = isRound ? 6.28318530718*abs(place.x) : depth;
    float slope = reach*strength*densityScale*pixel/step_;
    float v = psi/step_ - (isRound ? 0.0 : 0.5), k = floor(v + 0.5);
    float away = abs(v - k)/max(slope, 1e-9);
    float crowd = 1.0 - smoothstep(0.16/dots, 0.42/dots, slope);
    float none = (isRound && abs(k) < 0.5) ? 0.0 : 1.0;
    float core = 1.0 - smoothstep(0.42*dots, 0.42*dots + 0.9, away);
    float haze = 0.16*exp(-away*away/(14.0*dots*dots));
    c = mix(c, LINE, none*crowd*(0.86*core + haze*(1.0 - core)));
  }
  colour = vec4(c, 1.0);
}`;
// The glow of the windings round about, on a coarse net of dots: there is no edge in it.
const GLOW_FRAGMENT = `#version 300 es
precision highp float;
uniform vec2 size; uniform vec2 phase; uniform vec4 view; uniform float pixel; uniform float dots; uniform float coarse;
uniform int boxCount; uniform vec4 boxes[48]; uniform vec2 boxCurrents[48];
out vec4 colour;
const vec3 WARM = vec3(1.0,0.69,0.31), COOL = vec3(0.345,0.651,1.0);
void main() {
  vec2 place = view.xy + (coarse*gl_FragCoord.xy - 0.5*size)*pixel;
  vec3 c = vec3(0.0);
  for (int i = 0; i < boxCount; i++) {
    vec4 box = boxes[i];
    vec2 d = max(abs(place - box.xy) - box.zw, 0.0)/pixel;
    float i_ = dot(boxCurrents[i], phase);
    float near = dot(d, d)/(dots*dots), close = 1.0/(1.0 + near/110.0), size_ = min(2.0*min(box.z, box.w)/(pixel*26.0*dots), 1.0);
    // What is small on the stage glows little, so that a row of coils is not one blaze.
    c += (i_ > 0.0 ? WARM : COOL)*size_*min(abs(i_), 1.0)*(0.36*close*close + 0.11/(1.0 + near/1500.0));
  }
  colour = vec4(c, 1.0);
}`;
const COARSE = 5;

// Straight triangles come whole, curved ones in nine pieces.
const WHOLE = pieces(1), CUT = pieces(3);

export class Light {
  constructor(canvas) {
    this.canvas = canvas;
    this.gl = canvas.getContext('webgl2', { antialias: false, alpha: false, powerPreference: 'high-performance' });
    if (!this.gl?.getExtension('EXT_color_buffer_float')) { this.gl = null; return; }
    canvas.addEventListener('webglcontextlost', e => { e.preventDefault(); this.lost = true; });
    canvas.addEventListener('webglcontextrestored', () => { this.lost = false; this.prepare(); this.restored?.(); });
    this.prepare();
  }

  prepare() {
    const gl = this.gl;
    this.deposit = program(gl, DEPOSIT_VERTEX, DEPOSIT_FRAGMENT);
    this.light = program(gl, LIGHT_VERTEX, LIGHT_FRAGMENT);
    this.halo = program(gl, LIGHT_VERTEX, GLOW_FRAGMENT);
    this.quad = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, this.quad); gl.bufferData(gl.ARRAY_BUFFER, new Float32Array([-1, -1, 3, -1, -1, 3]), gl.STATIC_DRAW);
    [this.nodes, this.triangles, this.sources] = [texture(gl), texture(gl), texture(gl)];
    this.ramp = texture(gl, gl.LINEAR);
    this.targets = this.frame = this.fence = this.glow = this.glowFrame = null;
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

  // Makes room for so many dots.
  size(width, height) {
    const gl = this.gl;
    if (this.targets && this.canvas.width === width && this.canvas.height === height) return false;
    this.canvas.width = width; this.canvas.height = height;
    this.targets?.forEach(t => gl.deleteTexture(t)); if (this.frame) gl.deleteFramebuffer(this.frame);
    this.targets = [gl.RG32F, gl.RGBA16F, gl.RGBA16F].map(inner => { const t = texture(gl); gl.texStorage2D(gl.TEXTURE_2D, 1, inner, width, height); return t; });
    this.frame = gl.createFramebuffer(); gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
    this.targets.forEach((t, i) => gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0 + i, gl.TEXTURE_2D, t, 0));
    if (this.glow) { gl.deleteTexture(this.glow); gl.deleteFramebuffer(this.glowFrame); }
    this.glow = texture(gl, gl.LINEAR);
    gl.texStorage2D(gl.TEXTURE_2D, 1, gl.RGBA8, Math.ceil(width / COARSE), Math.ceil(height / COARSE));
    this.glowFrame = gl.createFramebuffer(); gl.bindFramebuffer(gl.FRAMEBUFFER, this.glowFrame);
    gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, this.glow, 0);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    return true;
  }

  // The first pass, of the half of a round section that shows more, the other being its image: centre of the view and what one dot is wide, in m; scales of flux density and current density; length along the hidden direction.
  lay({ x, y, pixel, densityScale, currentScale, isRound, depth }) {
    const gl = this.gl, p = this.deposit, half = 0.5 * this.canvas.width * pixel;
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
    gl.drawBuffers([gl.COLOR_ATTACHMENT0, gl.COLOR_ATTACHMENT1, gl.COLOR_ATTACHMENT2]);
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    for (let i = 0; i < 3; i++) gl.clearBufferfv(gl.COLOR, i, [0, 0, 0, 0]);
    gl.useProgram(p.program);
    ['nodes', 'triangles', 'sources'].forEach((name, i) => { gl.activeTexture(gl.TEXTURE0 + i); gl.bindTexture(gl.TEXTURE_2D, this[name]); gl.uniform1i(p.at(name), i); });
    gl.uniform4f(p.at('view'), x, y, 1 / half, 2 / (this.canvas.height * pixel));
    gl.uniform1i(p.at('isRound'), isRound); gl.uniform1f(p.at('depth'), depth); gl.uniform2f(p.at('scales'), densityScale, currentScale);
    gl.disableVertexAttribArray(0);
    gl.uniform1f(p.at('mirror'), side(isRound, x) || 1);
    for (const [first, many, shape] of [[0, this.straight, WHOLE], [this.straight, this.count - this.straight, CUT]]) {
      if (!many) continue;
      gl.uniform1i(p.at('first'), first); gl.uniform1i(p.at('count'), shape.length / 2); gl.uniform2fv(p.at('corners[0]'), shape);
      gl.drawArrays(gl.TRIANGLES, 0, shape.length / 2 * many);
    }
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
  }

  // The second pass: an instant as cosine and sine, lines every step of flux, which layers, how thick a line is in dots, and the glow of the windings.
  shine({ x, y, pixel, densityScale, isRound, depth }, { instant: [c, s], step, layers, dots, glow }) {
    const gl = this.gl, p = this.light, width = this.canvas.width, height = this.canvas.height;
    const all = q => { gl.useProgram(q.program); gl.uniform2f(q.at('size'), width, height); gl.uniform2f(q.at('phase'), c, -s); gl.uniform4f(q.at('view'), x, y, side(isRound, x), 0); gl.uniform1f(q.at('pixel'), pixel); gl.uniform1f(q.at('dots'), dots); };
    gl.bindBuffer(gl.ARRAY_BUFFER, this.quad); gl.enableVertexAttribArray(0); gl.vertexAttribPointer(0, 2, gl.FLOAT, false, 0, 0);
    if (layers.current) {
      const h = this.halo;
      all(h);
      gl.bindFramebuffer(gl.FRAMEBUFFER, this.glowFrame);
      gl.viewport(0, 0, Math.ceil(width / COARSE), Math.ceil(height / COARSE));
      gl.uniform1f(h.at('coarse'), COARSE); gl.uniform1i(h.at('boxCount'), glow.count);
      if (glow.count) { gl.uniform4fv(h.at('boxes[0]'), glow.boxes); gl.uniform2fv(h.at('boxCurrents[0]'), glow.currents); }
      gl.drawArrays(gl.TRIANGLES, 0, 3);
      gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    }
    gl.viewport(0, 0, width, height);
    all(p);
    ['flux', 'density', 'current'].forEach((name, i) => { gl.activeTexture(gl.TEXTURE0 + i); gl.bindTexture(gl.TEXTURE_2D, this.targets[i]); gl.uniform1i(p.at(name), i); });
    gl.activeTexture(gl.TEXTURE3); gl.bindTexture(gl.TEXTURE_2D, this.ramp); gl.uniform1i(p.at('ramp'), 3);
    gl.activeTexture(gl.TEXTURE4); gl.bindTexture(gl.TEXTURE_2D, this.glow); gl.uniform1i(p.at('glow'), 4);
    gl.uniform1f(p.at('step_'), step); gl.uniform1f(p.at('densityScale'), densityScale); gl.uniform1i(p.at('isRound'), isRound); gl.uniform1f(p.at('depth'), depth);
    gl.uniform4f(p.at('layers'), layers.flux, layers.density, layers.current, 0);
    gl.drawArrays(gl.TRIANGLES, 0, 3);
    if (this.fence) gl.deleteSync(this.fence);
    this.fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    gl.flush();
  }

  // Whether all that was asked for has been drawn.
  get isDone() { return !this.fence || this.gl.getSyncParameter(this.fence, this.gl.SYNC_STATUS) === this.gl.SIGNALED; }

  // What was deposited in a dot: flux density and current density over their scales, as phasors, and the matter; null outside the field.
  read(px, py, { x, pixel, isRound }) {
    const image = side(isRound, x) * (x + (px + 0.5 - 0.5 * this.canvas.width) * pixel) < 0 ? -1 : 1;
    if (image < 0) px = Math.min(Math.max(Math.floor(this.canvas.width - 2 * x / pixel - px - 0.5), 0), this.canvas.width - 1);
    const gl = this.gl, out = [new Float32Array(4), new Float32Array(4)];
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
    out.forEach((values, i) => { gl.readBuffer(gl.COLOR_ATTACHMENT1 + i); gl.readPixels(px, py, 1, 1, gl.RGBA, gl.FLOAT, values); });
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    const [density, current] = out;
    if (!(current[3] > 0)) return null;
    density[0] *= image; density[1] *= image; current[0] *= image; current[1] *= image;
    return { density, current, matter: Math.round(current[2]) };
  }
}

function isStraight(nodes, triangles, at) {
  for (let k = 0; k < 3; k++) {
    const a = 4 * triangles[at + k], b = 4 * triangles[at + (k + 1) % 3], m = 4 * triangles[at + 3 + k];
    const off = Math.abs(nodes[a] + nodes[b] - 2 * nodes[m]) + Math.abs(nodes[a + 1] + nodes[b + 1] - 2 * nodes[m + 1]);
    if (off > 1e-3 * (Math.abs(nodes[a] - nodes[b]) + Math.abs(nodes[a + 1] - nodes[b + 1]))) return false;
  }
  return true;
}

// The side of the axis of a round section that a view shows more of: 1 right, -1 left; 0 where there is no axis.
function side(isRound, x) { return isRound ? (x < 0 ? -1 : 1) : 0; }

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

function texture(gl, filter = gl.NEAREST) {
  const t = gl.createTexture(); gl.bindTexture(gl.TEXTURE_2D, t);
  for (const [k, v] of [[gl.TEXTURE_MIN_FILTER, filter], [gl.TEXTURE_MAG_FILTER, filter], [gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE], [gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE]]) gl.texParameteri(gl.TEXTURE_2D, k, v);
  return t;
}
