import { Board, INK, rampAt, roundStep, digits, say, parseHead, arrow, text, columns, escape, smallCylinder } from './board.js';
// The stage of a section: a field on curved triangles, drawn in two passes. The first deposits flux function, flux density and current density (as phasors) of every
// pixel once for each field and view; the second lights them for an instant, so that playing a period costs the same however fine the field is.
const DEPOSIT_VERTEX = `#version 300 es
precision highp float; precision highp int; precision highp sampler2D;
layout(location=0) in vec2 corner;
layout(location=1) in ivec3 ends;
layout(location=2) in ivec3 middles;
layout(location=3) in vec4 source;
uniform sampler2D nodes;
uniform vec4 view;
uniform float mirror;
out vec2 place; out vec2 local; out vec4 slopes;
flat out vec4 u01; flat out vec4 u23; flat out vec4 u45; flat out vec4 origin;
vec4 node(int i) { return texelFetch(nodes, ivec2(i & 1023, i >> 10), 0); }
void main() {
  float x = corner.x, e = corner.y, z = 1.0 - x - e;
  vec4 a = node(ends.x), b = node(ends.y), c = node(ends.z), d = node(middles.x), f = node(middles.y), g = node(middles.z);
  place = a.xy*z*(2.0*z-1.0) + b.xy*x*(2.0*x-1.0) + c.xy*e*(2.0*e-1.0) + d.xy*4.0*z*x + f.xy*4.0*x*e + g.xy*4.0*e*z;
  vec2 alongX = a.xy*(1.0-4.0*z) + b.xy*(4.0*x-1.0) + d.xy*4.0*(z-x) + f.xy*4.0*e - g.xy*4.0*e;
  vec2 alongE = a.xy*(1.0-4.0*z) + c.xy*(4.0*e-1.0) - d.xy*4.0*x + f.xy*4.0*x + g.xy*4.0*(z-e);
  slopes = vec4(alongX, alongE);
  u01 = vec4(a.zw, b.zw); u23 = vec4(c.zw, d.zw); u45 = vec4(f.zw, g.zw);
  local = corner; origin = source;
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
uniform sampler2D flux, density, current, ramp;
uniform vec2 size; uniform vec2 phase; uniform vec4 view; uniform float pixel;
uniform float step_; uniform float densityScale; uniform bool isRound; uniform float depth; uniform vec4 layers; uniform float dots;
uniform int boxCount; uniform vec4 boxes[48]; uniform vec2 boxCurrents[48];
out vec4 colour;
const vec3 LIT = vec3(0.114,0.149,0.196), RIM = vec3(0.051,0.067,0.090), MATTER = vec3(0.216,0.251,0.298), LINE = vec3(0.89,0.925,0.973);
const vec3 WARM = vec3(1.0,0.69,0.31), COOL = vec3(0.345,0.651,1.0);
float hatch(vec2 at, float pitch, float width) {
  float d = abs(fract((at.x + at.y)/pitch) - 0.5)*pitch*0.7071;
  return 1.0 - smoothstep(width*0.5, width*0.5 + 0.8*dots, d);
}
void main() {
  ivec2 at = ivec2(gl_FragCoord.xy);
  vec2 psi2 = texelFetch(flux, at, 0).xy;
  vec4 b4 = texelFetch(density, at, 0), j4 = texelFetch(current, at, 0);
  vec2 spot = gl_FragCoord.xy;
  vec2 place = view.xy + (spot - 0.5*size)*pixel;
  float psi = dot(psi2, phase);
  vec2 b = vec2(dot(b4.xy, phase), dot(b4.zw, phase));
  float strength = length(b);
  float j = dot(j4.xy, phase);
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
    for (int i = 0; i < boxCount && kind < 0.5; i++) {
      vec4 box = boxes[i];
      vec2 d = max(abs(place - box.xy) - box.zw, 0.0)/pixel;
      float i_ = dot(boxCurrents[i], phase);
      vec3 tint = i_ > 0.0 ? WARM : COOL;
      float near = dot(d, d)/(dots*dots), close = 1.0/(1.0 + near/110.0), size = min(2.0*min(box.z, box.w)/(pixel*26.0*dots), 1.0);
      // What is small on the stage glows little, so that a row of coils is not one blaze.
      c += tint*size*min(abs(i_), 1.0)*(layers.y > 0.5 ? 0.35 : 1.0)*(0.36*close*close + 0.11/(1.0 + near/1500.0));
    }
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

export function parseField(buffer) {
  const parsed = parseHead(buffer), head = parsed.head;
  let at = parsed.at;
  const nodes = new Float32Array(buffer, at, 4 * head.nodes); at += 16 * head.nodes;
  const triangles = new Int32Array(buffer, at, 6 * head.triangles); at += 24 * head.triangles;
  const sources = new Float32Array(buffer, at, 4 * head.triangles);
  return { head, nodes, triangles, sources };
}

export class Stage extends Board {
  constructor(box) {
    super(box, 'The stage. Arrow keys move it, plus and minus zoom, 0 shows all, P moves a probe, M measures, space plays or holds.');
    this.layers = { flux: true, density: false, current: true, forces: true, names: true };
    this.step = this.even = 0; this.fieldDirty = true; this.slow = 0;
    this.ready = this.prepare();
    this.begin();
  }

  static switches = [['flux', 'Flux lines'], ['density', 'Field strength'], ['current', 'Currents'], ['forces', 'Forces'], ['names', 'Names']];

  prepare() {
    const gl = this.gl = this.paint.getContext('webgl2', { antialias: false, alpha: false, preserveDrawingBuffer: true, powerPreference: 'high-performance' });
    if (!gl || !gl.getExtension('EXT_color_buffer_float')) { this.box.classList.add('blind'); this.gl = null; return false; }
    this.paint.addEventListener('webglcontextlost', e => { e.preventDefault(); this.lost = true; });
    this.paint.addEventListener('webglcontextrestored', () => { this.lost = false; this.prepare(); this.targets = null; if (this.field) this.upload(); });
    this.deposit = program(gl, DEPOSIT_VERTEX, DEPOSIT_FRAGMENT);
    this.light = program(gl, LIGHT_VERTEX, LIGHT_FRAGMENT);
    this.templates = [1, 2, 3].map(n => template(gl, n));
    this.quad = buffer(gl, new Float32Array([-1, -1, 3, -1, -1, 3]));
    this.ends = gl.createBuffer(); this.origin = gl.createBuffer();
    this.nodes = texture(gl);
    this.ramp = texture(gl, gl.LINEAR);
    const bytes = new Uint8Array(4 * 256);
    for (let i = 0; i < 256; i++) bytes.set([...rampAt(i / 255).map(Math.round), 255], 4 * i);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, 256, 1, 0, gl.RGBA, gl.UNSIGNED_BYTE, bytes);
    return true;
  }

  resize() { this.targets = null; this.fieldDirty = true; super.resize(); }

  // Takes a field; the scale of lines and glow stays while a dial turns, so that more current shows as more lines.
  set(field, fresh) {
    const h = field.head, first = !this.field || this.field.head.isRound !== h.isRound;
    const ideal = roundStep((h.mostFlux - h.leastFlux) / (h.isRound ? 15 : 24));
    const keeps = (now, old, least, most) => old > 0 && now / old > least && now / old < most;
    const [least, most] = h.isRefined ? [0.55, 1.9] : [0.2, 4];
    if (fresh || first || !keeps(ideal, this.even, least, most)) this.even = ideal;
    if (fresh || first || !keeps(h.mostFluxDensity, this.densityScale, least, most)) this.densityScale = h.mostFluxDensity || 1;
    if (fresh || first || !keeps(h.mostCurrentDensity, this.currentScale, least, most)) this.currentScale = h.mostCurrentDensity || 1;
    this.field = field;
    if (first || fresh) this.phase = this.playing ? this.phase : h.strongest;
    this.upload();
    if (first || fresh || this.fitted) this.fit(); else this.space();
    this.said.textContent = h.bodies.map(b => `${b.name}: ${b.details.join(', ')}`).join('. ');
    this.waiting = h.stamp;
    if (h.stamp && !h.isRefined) this.moved = performance.now();
    this.tell('phase', this.phase, this.playing);
    this.fieldDirty = this.dirty = true;
    this.tell('field', h);
  }

  upload() {
    const gl = this.gl, f = this.field;
    if (!gl) return;
    const rows = Math.ceil(f.nodes.length / 4096), padded = new Float32Array(rows * 4096);
    padded.set(f.nodes);
    gl.bindTexture(gl.TEXTURE_2D, this.nodes);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, 1024, rows, 0, gl.RGBA, gl.FLOAT, padded);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.ends); gl.bufferData(gl.ARRAY_BUFFER, f.triangles, gl.DYNAMIC_DRAW);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.origin); gl.bufferData(gl.ARRAY_BUFFER, f.sources, gl.DYNAMIC_DRAW);
    this.signs = null;
  }

  // What is looked at first. A sheet far longer than the coils beside it runs off both sides.
  bounds() {
    const h = this.field.head, all = extent(h.bodies), coils = extent(h.bodies.filter(b => b.matter === 3));
    if (h.isRound) { all[0] = -all[1]; return all; }
    const wide = coils[1] - coils[0];
    if (wide > 0 && all[3] - all[2] < 0.4 * (all[1] - all[0]) && all[1] - all[0] > 1.6 * wide) { all[0] = Math.max(all[0], coils[0] - 0.28 * wide); all[1] = Math.min(all[1], coils[1] + 0.28 * wide); }
    return all;
  }

  fit() {
    const [l, r, b, t] = this.bounds(), room = 0.42 * Math.max(r - l, t - b), side = this.layers.names ? 0.2 * this.width : 0;
    const scale = Math.min((this.width - 2 * Math.min(side, 190 * this.textScale)) / (r - l + 0.35 * room), this.height / (t - b + 1.05 * room));
    this.view = { x: 0.5 * (l + r), y: 0.5 * (b + t), scale };
    this.fitted = true; this.fieldDirty = this.dirty = true;
    this.space();
  }

  // So many lines as there is room for where the field is strongest: on a small stage fewer stand for the same flux. Zooming keeps them.
  space() {
    const h = this.field.head, crowded = h.isRound ? 0 : 4.5 * h.depth * this.densityScale / this.view.scale;
    this.step = this.even < crowded ? roundStep(crowded) : this.even;
    this.tell('spaced');
  }

  toScreen(x, y) { const v = this.view; return [this.width / 2 + (x - v.x) * v.scale, this.height / 2 - (y - v.y) * v.scale]; }
  toPlane(sx, sy) { const v = this.view; return [v.x + (sx - this.width / 2) / v.scale, v.y - (sy - this.height / 2) / v.scale]; }

  zoom(factor, sx = this.width / 2, sy = this.height / 2) {
    if (!this.view) return;
    const [x, y] = this.toPlane(sx, sy), v = this.view, [l, r, b, t] = this.bounds(), whole = Math.max(r - l, t - b);
    v.scale = Math.min(Math.max(v.scale * factor, 0.28 * Math.min(this.width, this.height) / whole), 400 * Math.min(this.width, this.height) / whole);
    v.x = x - (sx - this.width / 2) / v.scale; v.y = y + (sy - this.height / 2) / v.scale;
    this.fitted = false; this.fieldDirty = this.dirty = true; this.moved = performance.now();
  }

  pan(dx, dy) { if (!this.view) return; this.view.x -= dx / this.view.scale; this.view.y += dy / this.view.scale; this.fitted = false; this.fieldDirty = this.dirty = true; this.moved = performance.now(); }

  play(on) { this.quality = 1; this.targets = null; this.fieldDirty = true; super.play(on); }

  tick(now) {
    if (!this.field || !this.view || this.lost) return;
    // Playing, turning, panning and zooming draw fewer dots where all of them would cost frames; a moment of rest brings them all back.
    const moves = this.playing || now - (this.moved || 0) < 250;
    if (moves && this.tock) this.adapt(now - this.tock);
    this.tock = moves ? now : null;
    if (this.playing) {
      if (this.last) this.phase = (this.phase + 2 * Math.PI * (now - this.last) / this.period) % (2 * Math.PI);
      this.last = now; this.dirty = true;
      this.tell('phase', this.phase, true);
    }
    if (!moves && this.quality < 1) { this.quality = 1; this.slow = 0; this.targets = null; this.fieldDirty = this.dirty = true; }
    if (this.dirty) this.draw();
  }

  adapt(took) {
    this.slow = 0.8 * this.slow + 0.2 * Math.min(took, 200);
    if (this.slow > 45 && this.quality > 0.4) { this.quality = Math.max(0.4, this.quality - 0.15); this.targets = null; this.fieldDirty = true; this.slow = 25; }
  }

  draw() {
    this.dirty = false;
    if (this.gl) { if (this.fieldDirty || !this.targets) this.fill(); this.shine(); }
    this.ink();
    this.frames++;
    this.gl?.flush();
    this.tell('drawn', this.waiting);
  }

  fill() {
    const gl = this.gl, h = this.field.head;
    this.fieldDirty = false;
    if (!this.targets) {
      const most = 3.7e6, dots = Math.min((devicePixelRatio || 1), Math.sqrt(most / (this.width * this.height))) * this.quality;
      const w = Math.max(Math.round(this.width * dots), 16), ht = Math.max(Math.round(this.height * dots), 16);
      if (this.paint.width !== w || this.paint.height !== ht) { this.paint.width = w; this.paint.height = ht; }
      this.old?.forEach(t => gl.deleteTexture(t)); if (this.frame) gl.deleteFramebuffer(this.frame);
      const make = (inner, format) => { const t = texture(gl); gl.texStorage2D(gl.TEXTURE_2D, 1, inner, w, ht); return t; };
      this.targets = this.old = [make(gl.RG32F), make(gl.RGBA16F), make(gl.RGBA16F)];
      this.frame = gl.createFramebuffer(); gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
      this.targets.forEach((t, i) => gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0 + i, gl.TEXTURE_2D, t, 0));
      this.dots = dots; this.signs = null;
    }
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
    gl.drawBuffers([gl.COLOR_ATTACHMENT0, gl.COLOR_ATTACHMENT1, gl.COLOR_ATTACHMENT2]);
    gl.viewport(0, 0, this.paint.width, this.paint.height);
    for (let i = 0; i < 3; i++) gl.clearBufferfv(gl.COLOR, i, [0, 0, 0, 0]);
    const p = this.deposit, v = this.view;
    gl.useProgram(p.program);
    gl.activeTexture(gl.TEXTURE0); gl.bindTexture(gl.TEXTURE_2D, this.nodes); gl.uniform1i(p.at('nodes'), 0);
    gl.uniform4f(p.at('view'), v.x, v.y, 2 * v.scale / this.width, 2 * v.scale / this.height);
    gl.uniform1i(p.at('isRound'), h.isRound); gl.uniform1f(p.at('depth'), h.depth); gl.uniform2f(p.at('scales'), this.densityScale, this.currentScale);
    const shape = this.templates[h.triangles > 40000 ? 0 : h.triangles > 12000 ? 1 : 2];
    gl.bindBuffer(gl.ARRAY_BUFFER, shape.buffer); gl.enableVertexAttribArray(0); gl.vertexAttribPointer(0, 2, gl.FLOAT, false, 0, 0); gl.vertexAttribDivisor(0, 0);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.ends);
    for (const i of [1, 2]) { gl.enableVertexAttribArray(i); gl.vertexAttribIPointer(i, 3, gl.INT, 24, 12 * (i - 1)); gl.vertexAttribDivisor(i, 1); }
    gl.bindBuffer(gl.ARRAY_BUFFER, this.origin); gl.enableVertexAttribArray(3); gl.vertexAttribPointer(3, 4, gl.FLOAT, false, 0, 0); gl.vertexAttribDivisor(3, 1);
    for (const mirror of h.isRound ? [1, -1] : [1]) { gl.uniform1f(p.at('mirror'), mirror); gl.drawArraysInstanced(gl.TRIANGLES, 0, shape.count, h.triangles); }
    for (const i of [1, 2, 3]) { gl.disableVertexAttribArray(i); gl.vertexAttribDivisor(i, 0); }
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
  }

  shine() {
    const gl = this.gl, p = this.light, h = this.field.head, v = this.view;
    gl.viewport(0, 0, this.paint.width, this.paint.height);
    gl.useProgram(p.program);
    ['flux', 'density', 'current'].forEach((name, i) => { gl.activeTexture(gl.TEXTURE0 + i); gl.bindTexture(gl.TEXTURE_2D, this.targets[i]); gl.uniform1i(p.at(name), i); });
    gl.activeTexture(gl.TEXTURE3); gl.bindTexture(gl.TEXTURE_2D, this.ramp); gl.uniform1i(p.at('ramp'), 3);
    const [c, s] = this.instant();
    gl.uniform2f(p.at('size'), this.paint.width, this.paint.height); gl.uniform2f(p.at('phase'), c, -s);
    gl.uniform4f(p.at('view'), v.x, v.y, 0, 0); gl.uniform1f(p.at('pixel'), 1 / (v.scale * this.dots));
    gl.uniform1f(p.at('step_'), this.step); gl.uniform1f(p.at('densityScale'), this.densityScale); gl.uniform1i(p.at('isRound'), h.isRound); gl.uniform1f(p.at('depth'), h.depth);
    gl.uniform4f(p.at('layers'), this.layers.flux, this.layers.density, this.layers.current, 0); gl.uniform1f(p.at('dots'), Math.max(this.dots * Math.min(this.textScale, 1.6), 0.7));
    const glow = this.glow();
    gl.uniform1i(p.at('boxCount'), glow.count);
    if (glow.count) { gl.uniform4fv(p.at('boxes[0]'), glow.boxes); gl.uniform2fv(p.at('boxCurrents[0]'), glow.currents); }
    gl.bindBuffer(gl.ARRAY_BUFFER, this.quad); gl.enableVertexAttribArray(0); gl.vertexAttribPointer(0, 2, gl.FLOAT, false, 0, 0); gl.vertexAttribDivisor(0, 0);
    gl.drawArrays(gl.TRIANGLES, 0, 3);
  }

  instant() { return this.field.head.frequency > 0 ? [Math.cos(this.phase), Math.sin(this.phase)] : [1, 0]; }

  // Boxes of the windings with their current densities over the scale, both halves when round.
  glow() {
    const boxes = [], currents = [];
    for (const spot of this.spots().filter(s => s.winding)) {
      boxes.push(spot.box[0], spot.box[1], spot.box[2], spot.box[3]); currents.push(spot.re, spot.im);
    }
    const count = Math.min(boxes.length / 4, 48);
    return { count, boxes: new Float32Array(boxes.slice(0, 4 * count)), currents: new Float32Array(currents.slice(0, 2 * count)) };
  }

  // Where · and × stand: rows and columns centred in each outline, with the current density there.
  spots() {
    if (this.signs) return this.signs;
    const h = this.field.head, found = [], pitch = 25 * this.textScale / this.view.scale;
    for (const body of h.bodies) for (const loop of body.loops) {
      let l = Infinity, r = -Infinity, b = Infinity, t = -Infinity;
      for (let i = 0; i < loop.length; i += 2) { l = Math.min(l, loop[i]); r = Math.max(r, loop[i]); b = Math.min(b, loop[i + 1]); t = Math.max(t, loop[i + 1]); }
      const columns = Math.min(Math.max(1, Math.round((r - l) / pitch)), 40), rows = Math.min(Math.max(1, Math.round((t - b) / pitch)), 40);
      const room = 0.42 * Math.min((r - l) / columns, (t - b) / rows), winding = body.matter === 3;
      const places = [];
      for (let i = 0; i < columns; i++) for (let k = 0; k < rows; k++) places.push([l + (i + 0.5) * (r - l) / columns, b + (k + 0.5) * (t - b) / rows]);
      const values = this.currentsAt(places, l, r, b, t);
      const middle = winding ? values.find(v => v) : null;
      for (const side of h.isRound ? [1, -1] : [1]) {
        const sign = h.isRound ? -side : 1;
        // A bent winding glows from where its signs stand, a straight one as the box it is.
        if (middle && bent(loop, (r - l) * (t - b))) places.forEach((p, i) => { const v = values[i]; if (v) found.push({ winding: true, box: [side * p[0], p[1], 0.9 * room, 0.9 * room], re: sign * v[0] / this.currentScale, im: sign * v[1] / this.currentScale }); });
        else if (middle) found.push({ winding: true, box: [side * (l + r) / 2, (b + t) / 2, (r - l) / 2, (t - b) / 2], re: sign * middle[0] / this.currentScale, im: sign * middle[1] / this.currentScale });
        places.forEach((p, i) => { const v = values[i]; if (v && (v[0] || v[1])) found.push({ x: side * p[0], y: p[1], room, re: sign * v[0] / this.currentScale, im: sign * v[1] / this.currentScale }); });
      }
    }
    return this.signs = found;
  }

  currentsAt(places, l, r, b, t) {
    const { nodes: n, triangles: T, sources: s, head } = this.field, values = new Array(places.length).fill(null);
    for (let k = 0; k < head.triangles; k++) {
      if (!s[4 * k + 3] || !(s[4 * k] || s[4 * k + 1] || s[4 * k + 2])) continue;
      const i0 = 4 * T[6 * k], i1 = 4 * T[6 * k + 1], i2 = 4 * T[6 * k + 2];
      const ax = n[i0], ay = n[i0 + 1], bx = n[i1], by = n[i1 + 1], cx = n[i2], cy = n[i2 + 1];
      if (Math.max(ax, bx, cx) < l || Math.min(ax, bx, cx) > r || Math.max(ay, by, cy) < b || Math.min(ay, by, cy) > t) continue;
      const area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
      for (let p = 0; p < places.length; p++) {
        if (values[p]) continue;
        const [x, y] = places[p], xi = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / area, et = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / area;
        if (xi < -1e-4 || et < -1e-4 || xi + et > 1.0001) continue;
        const z = 1 - xi - et, N = [z * (2 * z - 1), xi * (2 * xi - 1), et * (2 * et - 1), 4 * z * xi, 4 * xi * et, 4 * et * z];
        let re = 0, im = 0;
        for (let q = 0; q < 6; q++) { const at = 4 * T[6 * k + q]; re += N[q] * n[at + 2]; im += N[q] * n[at + 3]; }
        const arm = head.isRound ? x : 1;
        values[p] = [s[4 * k] + s[4 * k + 2] * arm * im, s[4 * k + 1] - s[4 * k + 2] * arm * re];
      }
    }
    return values;
  }

  ink() {
    const c = this.pen(), h = this.field.head;
    if (h.isRound) this.axis(c);
    for (const body of h.bodies) this.outline(c, body);
    if (this.layers.current) this.marks(c);
    for (const body of h.bodies) if (body.magnetisedDegrees !== null) this.pole(c, body);
    if (this.layers.forces) for (const body of h.bodies) if (body.force) this.forces(c, body);
    if (this.layers.names) this.names(c);
    this.scaleBar(c);
    if (this.measuring) this.tape(c);
    if (this.probe) this.crosshair(c);
  }

  axis(c) {
    const [x] = this.toScreen(0, 0);
    c.strokeStyle = 'rgba(227,236,248,.35)'; c.lineWidth = 1; c.setLineDash([10, 4, 2, 4]);
    c.beginPath(); c.moveTo(x, 0); c.lineTo(x, this.height); c.stroke(); c.setLineDash([]);
  }

  paths(body) {
    const sides = this.field.head.isRound ? [1, -1] : [1];
    return sides.flatMap(side => body.loops.map(loop => { const p = []; for (let i = 0; i < loop.length; i += 2) p.push(this.toScreen(side * loop[i], loop[i + 1])); return p; }));
  }

  outline(c, body) {
    const held = this.drag?.body === body.name || this.hover === body.name;
    c.strokeStyle = held ? INK.warm : INK.edge; c.lineWidth = (held ? 2.2 : body.matter === 3 ? 1.1 : 1.4) * Math.min(this.textScale, 1.8);
    const shift = this.drag?.body === body.name ? this.drag : null;
    for (const side of this.field.head.isRound ? [1, -1] : [1]) for (const loop of body.loops) {
      c.beginPath();
      let was = null, first = null;
      for (let i = 0; i <= loop.length; i += 2) {
        const at = i % loop.length, x = loop[at], y = loop[at + 1];
        let [sx, sy] = this.toScreen(side * x, y);
        if (shift) { sx += side * shift.sx; sy += shift.sy; }
        // No line along the axis of a round section: matter goes on across it.
        const along = this.field.head.isRound && was !== null && Math.abs(x) < 1e-9 && Math.abs(was) < 1e-9;
        if (was === null || along) c.moveTo(sx, sy); else c.lineTo(sx, sy);
        was = x;
      }
      c.stroke();
    }
  }

  marks(c) {
    const [co, si] = this.instant(), most = 5.4 * this.textScale;
    for (const s of this.spots()) {
      if (s.winding) continue;
      const j = s.re * co - s.im * si, [x, y] = this.toScreen(s.x, s.y), r = Math.min(most, s.room * this.view.scale) * Math.sqrt(Math.min(Math.abs(j), 1));
      if (Math.abs(j) < 0.04 || r < 1.2 || x < -9 || y < -9 || x > this.width + 9 || y > this.height + 9) continue;
      c.fillStyle = j > 0 ? INK.warm : INK.cool; c.strokeStyle = 'rgba(11,14,19,.85)'; c.lineWidth = Math.min(0.8, 0.2 * r);
      c.beginPath(); c.arc(x, y, r, 0, 7); c.fill(); c.stroke();
      if (j > 0) { c.fillStyle = INK.mark; c.beginPath(); c.arc(x, y, 0.3 * r, 0, 7); c.fill(); }
      else { const d = 0.5 * r; c.strokeStyle = INK.mark; c.lineWidth = 0.26 * r; c.beginPath(); c.moveTo(x - d, y - d); c.lineTo(x + d, y + d); c.moveTo(x - d, y + d); c.lineTo(x + d, y - d); c.stroke(); }
    }
  }

  pole(c, body) {
    const turn = body.magnetisedDegrees * Math.PI / 180;
    for (const path of this.paths(body)) {
      const xs = path.map(p => p[0]), ys = path.map(p => p[1]), [ax] = this.toScreen(0, 0);
      const mx = (Math.min(...xs) + Math.max(...xs)) / 2, my = (Math.min(...ys) + Math.max(...ys)) / 2;
      const side = this.field.head.isRound && mx < ax - 1 ? -1 : 1, reach = 0.36 * Math.min(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
      if (reach < 7) continue;
      const dx = side * Math.cos(turn), dy = -Math.sin(turn);
      arrow(c, mx - reach * dx, my - reach * dy, mx + reach * dx, my + reach * dy, INK.text, 2.4 * this.textScale);
      text(c, 'N', mx + reach * dx + 10 * this.textScale * (Math.abs(dy) > 0.5 ? 1 : 0), my + reach * dy - (Math.abs(dy) > 0.5 ? 0 : 8) * this.textScale, 14 * this.textScale, true, INK.text, 'center');
    }
  }

  // Force and weight on one scale, from the middle of the body, beside the axis so that both are seen.
  forces(c, body) {
    const [fx, fy] = body.force, size = Math.hypot(fx, fy), most = Math.max(size, body.weight || 0), k = this.textScale;
    if (!(most > 0)) return;
    const paths = this.paths(body), xs = paths.flat().map(p => p[0]), ys = paths.flat().map(p => p[1]);
    const mx = (Math.min(...xs) + Math.max(...xs)) / 2, top = Math.min(...ys), bottom = Math.max(...ys), reach = 74 * k / most, aside = this.field.head.isRound ? 15 * k : 0;
    if (size * reach > 5) {
      const up = fy >= 0, y0 = Math.abs(fx) > Math.abs(fy) ? (top + bottom) / 2 : up ? top - 5 : bottom + 5;
      arrow(c, mx + aside, y0, mx + aside + fx * reach, y0 - fy * reach, INK.force, 4 * k, true);
      text(c, say.force(size), mx + aside + fx * reach + 10 * k, y0 - fy * reach + (up ? 2 : 4) * k, 13.5 * k, true, INK.force, 'left');
    }
    if (body.weight * reach > 5) {
      arrow(c, mx - aside, bottom + 5, mx - aside, bottom + 5 + body.weight * reach, INK.quiet, 3 * k, true);
      text(c, 'weight ' + say.force(body.weight), mx - aside - 10 * k, bottom + 5 + body.weight * reach, 12 * k, false, INK.quiet, 'right');
    }
  }

  // Parts to the right, windings to the left.
  names(c) {
    const labels = [];
    for (const body of this.field.head.bodies) {
      const paths = this.paths(body);
      if (!paths.length) continue;
      const left = body.matter === 3;
      const boxes = paths.map(p => [Math.min(...p.map(q => q[0])), Math.max(...p.map(q => q[0])), Math.min(...p.map(q => q[1])), Math.max(...p.map(q => q[1]))]);
      const box = left ? boxes.reduce((a, b) => b[0] < a[0] ? b : a) : boxes.reduce((a, b) => b[1] > a[1] ? b : a);
      const foot = [left ? box[0] + Math.min(6, (box[1] - box[0]) / 2) : box[1] - Math.min(6, (box[1] - box[0]) / 2), (box[2] + box[3]) / 2];
      if (foot[1] >= 0 && foot[1] <= this.height) labels.push({ name: body.name, details: body.details, foot, side: left ? 0 : 1 });
    }
    columns(c, labels, this.textScale, this.width, this.height);
  }

  scaleBar(c) {
    const k = this.textScale, most = 0.2 * this.width / this.view.scale, power = Math.pow(10, Math.floor(Math.log10(most)));
    const length = power * [5, 2, 1].find(s => s * power <= most), right = this.width - 18 * k, left = right - length * this.view.scale, y = this.height - 16 * k;
    c.strokeStyle = INK.rim; c.lineWidth = 5; c.beginPath(); c.moveTo(left, y); c.lineTo(right, y); c.stroke();
    c.strokeStyle = INK.text; c.lineWidth = 1.4; c.beginPath(); c.moveTo(left, y - 5); c.lineTo(left, y); c.lineTo(right, y); c.lineTo(right, y - 5); c.stroke();
    text(c, length >= 1 ? digits(length, 2) + ' m' : digits(1000 * length, 2) + ' mm', (left + right) / 2, y - 7 * k, 12.5 * k, false, INK.text, 'center');
  }

  crosshair(c) {
    const [x, y] = this.toScreen(...this.probe), k = this.textScale, at = this.sample(x, y);
    c.strokeStyle = 'rgba(240,244,249,.9)'; c.lineWidth = 1.2;
    if (at && at.b > 0) { const r = 17 * k; arrow(c, x - r * at.dx, y + r * at.dy, x + r * at.dx, y - r * at.dy, INK.text, 2 * k); }
    if (this.isNear(this.cylinder)) smallCylinder(c, x, y, this.cylinder, k);
  }

  // Values under a spot of the stage, from what was deposited there.
  sample(sx, sy) {
    const gl = this.gl;
    if (!gl || !this.targets || sx < 0 || sy < 0 || sx >= this.width || sy >= this.height) return null;
    const px = Math.floor(sx * this.dots), py = Math.floor((this.height - sy) * this.dots), out = [new Float32Array(4), new Float32Array(4)];
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.frame);
    [1, 2].forEach((a, i) => { gl.readBuffer(gl.COLOR_ATTACHMENT0 + a); gl.readPixels(px, py, 1, 1, gl.RGBA, gl.FLOAT, out[i]); });
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    const [c, s] = this.instant(), [d, j] = out;
    if (!(j[3] > 0)) return null;
    const bx = (d[0] * c - d[1] * s) * this.densityScale, by = (d[2] * c - d[3] * s) * this.densityScale, b = Math.hypot(bx, by);
    return { b, dx: b ? bx / b : 0, dy: b ? by / b : 0, j: (j[0] * c - j[1] * s) * this.currentScale, matter: Math.round(j[2]) };
  }

  bodyAt(sx, sy) { return this.bodyIn(...this.toPlane(sx, sy)); }

  bodyIn(x, y) {
    const px = this.field.head.isRound ? Math.abs(x) : x;
    for (const body of [...this.field.head.bodies].reverse()) for (const loop of body.loops) {
      let inside = false;
      for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
        if ((loop[i + 1] > y) !== (loop[j + 1] > y) && px < (loop[j] - loop[i]) * (y - loop[i + 1]) / (loop[j + 1] - loop[i + 1]) + loop[i]) inside = !inside;
      }
      if (inside) return body;
    }
    return null;
  }

  showReadout() {
    if (!this.probe) { this.readout.hidden = true; return; }
    const [x, y] = this.probe, [sx, sy] = this.toScreen(x, y), at = this.sample(sx, sy), round = this.field.head.isRound, body = this.bodyIn(x, y);
    const place = round ? `r ${say.length(Math.abs(x))}, z ${say.length(y)}` : `x ${say.length(x)}, y ${say.length(y)}`;
    const lines = [`<b>${at ? say.density(at.b) : '–'}</b>`, place + (body ? ` · ${escape(body.name)}` : '')];
    if (at && Math.abs(at.j) > 1e-4 * this.currentScale) lines.push(`current ${say.current(Math.abs(at.j))} ${at.j > 0 ? 'towards you' : 'away from you'}`);
    if (this.cylinder?.says && this.isNear(this.cylinder)) lines.push(`<span class="cylinder">${escape(this.cylinder.says)}</span>`);
    this.showAt(lines, sx, sy);
  }

  spot(p) { return this.toScreen(...p); }
  middle() { return [this.view.x, this.view.y]; }
  grip() { return this.field.head.isRound ? 'ns-resize' : 'move'; }
  // Round things move along their axis only.
  carry(sx, sy) { super.carry(sx, sy); if (this.field.head.isRound) this.drag.sx = 0; }
  let(drag) { this.tell('moved', drag.body, drag.sx / this.view.scale, -drag.sy / this.view.scale, 0); }
}

function program(gl, vertex, fragment) {
  const p = gl.createProgram();
  for (const [kind, source] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) { const s = gl.createShader(kind); gl.shaderSource(s, source); gl.compileShader(s); if (!gl.getShaderParameter(s, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(s)); gl.attachShader(p, s); }
  gl.linkProgram(p);
  if (!gl.getProgramParameter(p, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(p));
  const known = {};
  return { program: p, at: name => known[name] ??= gl.getUniformLocation(p, name) };
}

function buffer(gl, values) { const b = gl.createBuffer(); gl.bindBuffer(gl.ARRAY_BUFFER, b); gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW); return b; }

function texture(gl, filter = gl.NEAREST) {
  const t = gl.createTexture(); gl.bindTexture(gl.TEXTURE_2D, t);
  for (const [k, v] of [[gl.TEXTURE_MIN_FILTER, filter], [gl.TEXTURE_MAG_FILTER, filter], [gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE], [gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE]]) gl.texParameteri(gl.TEXTURE_2D, k, v);
  return t;
}

// The reference triangle cut into n² pieces.
function template(gl, n) {
  const v = [];
  for (let i = 0; i < n; i++) for (let j = 0; i + j < n; j++) {
    v.push(i / n, j / n, (i + 1) / n, j / n, i / n, (j + 1) / n);
    if (i + j < n - 1) v.push((i + 1) / n, j / n, (i + 1) / n, (j + 1) / n, i / n, (j + 1) / n);
  }
  return { buffer: buffer(gl, new Float32Array(v)), count: v.length / 2 };
}

// Left, right, bottom and top of some bodies.
function extent(bodies) {
  let l = Infinity, r = -Infinity, b = Infinity, t = -Infinity;
  for (const body of bodies) for (const loop of body.loops) for (let i = 0; i < loop.length; i += 2) { l = Math.min(l, loop[i]); r = Math.max(r, loop[i]); b = Math.min(b, loop[i + 1]); t = Math.max(t, loop[i + 1]); }
  return [l, r, b, t];
}

// Whether an outline fills clearly less than its box.
function bent(loop, box) {
  let area = 0;
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) area += loop[j] * loop[i + 1] - loop[i] * loop[j + 1];
  return Math.abs(area) / 2 < 0.9 * box;
}
