// The stage of bodies anywhere in space: solids, lines of the field and one plane through it, turned by the hand. Plain 2-D ink, drawn from far to near.
import { Board, INK, rampAt, digits, say, parseHead, arrow, text, columns, escape, smallCylinder } from './board.js';

const AXES = ['x', 'y', 'z'], UPON = [[1, 2], [0, 2], [0, 1]];

// Also reads a plane that comes alone.
export function parseSpace(buffer) {
  const { head, at } = parseHead(buffer);
  let from = at;
  const take = count => { const part = new Float32Array(buffer, from, count); from += 4 * count; return part; };
  for (const instant of head.instants ?? []) instant.lines = instant.counts.map(n => take(4 * n));
  head.slice.values = take(6 * head.slice.columns * head.slice.rows);
  return { head };
}

export class SpaceStage extends Board {
  constructor(box) {
    super(box, 'The stage. Arrow keys turn the view, with shift they move it; a body is carried along the plane by the pointer; plus and minus zoom, 0 shows all, P moves a probe over the plane, M measures on it, space plays or holds.');
    this.layers = { flux: true, density: false, current: true, forces: true, names: true };
    this.begin();
  }

  static switches = [['flux', 'Field lines'], ['density', 'Plane'], ['current', 'Currents'], ['forces', 'Forces'], ['names', 'Names']];

  set(field, fresh) {
    const first = !this.field, h = field.head;
    this.field = field;
    if (first || fresh) { this.phase = this.playing ? this.phase : h.strongest; }
    this.strength = Math.max(...h.instants.flatMap(i => i.lines.map(l => { let m = 0; for (let k = 3; k < l.length; k += 4) m = Math.max(m, l[k]); return m; })), 1e-12);
    this.current = Math.max(...h.bodies.map(b => Math.hypot(...b.current)), 1e-12);
    for (const b of h.bodies) this.prepare(b);
    // How far things reach, an iron plane left out.
    const near = h.bodies.filter(b => !b.flat);
    this.low = [0, 1, 2].map(i => Math.min(...near.map(b => least(b.points, i)))); this.high = [0, 1, 2].map(i => Math.max(...near.map(b => -least(b.points, i, -1))));
    if (!near.length) { this.low = h.least; this.high = h.most; }
    this.most = Math.hypot(...[0, 1, 2].map(i => this.high[i] - this.low[i])) || 0.1;
    this.scaleSlice();
    if (first || fresh || this.fitted) this.fit(first || fresh);
    this.said.textContent = h.bodies.map(b => `${b.name}: ${b.details.join(', ')}`).join('. ');
    this.waiting = h.stamp;
    this.dirty = true;
    this.tell('phase', this.phase, this.playing);
    this.tell('field', h);
  }

  // Normals and middles of the faces, once.
  prepare(b) {
    const p = b.points, n = b.faces.length / 4;
    b.normals = new Float64Array(3 * n); b.middles = new Float64Array(3 * n);
    for (let f = 0; f < n; f++) {
      const [i, j, k, l] = [0, 1, 2, 3].map(q => 3 * b.faces[4 * f + q]), u = [0, 1, 2].map(q => p[k + q] - p[i + q]), v = [0, 1, 2].map(q => p[l + q] - p[j + q]), c = cross(u, v), s = Math.hypot(...c) || 1;
      for (let q = 0; q < 3; q++) { b.normals[3 * f + q] = c[q] / s; b.middles[3 * f + q] = (p[i + q] + p[j + q] + p[k + q] + p[l + q]) / 4; }
    }
    b.flat = b.matter === 2 && p.every((z, i) => i % 3 !== 2 || z === p[2]);
  }

  setSlice(slice) { this.field.head.slice = slice; this.scaleSlice(); this.probe = null; this.readout.hidden = true; this.dirty = true; this.tell('field', this.field.head); }

  // What is stronger than nearly everything else on the plane, as next to a wire, does not set its scale.
  scaleSlice() {
    const v = this.field.head.slice.values, sizes = [];
    for (let i = 0; i < v.length; i += 6) sizes.push(Math.hypot(v[i], v[i + 1], v[i + 2], v[i + 3], v[i + 4], v[i + 5]));
    this.densityScale = sizes.sort((a, b) => a - b)[Math.floor(0.97 * (sizes.length - 1))] || 1;
  }

  fit(turn) {
    const h = this.field.head, bodies = h.bodies.filter(b => !b.flat);
    if (turn || !this.view) this.view = { yaw: -0.62, pitch: 0.42, centre: this.low.map((l, i) => (l + this.high[i]) / 2) };
    this.turned();
    let across = 1e-6, high = 1e-6;
    for (const b of bodies) for (let i = 0; i < b.points.length; i += 3) { const q = this.local(b.points, i); across = Math.max(across, Math.abs(q[0])); high = Math.max(high, Math.abs(q[1])); }
    this.view.scale = Math.min(0.235 * this.width / across, 0.29 * this.height / high);
    this.view.dx = this.view.dy = 0;
    this.fitted = true; this.dirty = true;
  }

  turned() { const v = this.view, [sy, cy, sp, cp] = [Math.sin(v.yaw), Math.cos(v.yaw), Math.sin(v.pitch), Math.cos(v.pitch)]; v.right = [cy, sy, 0]; v.to = [sy * cp, -cy * cp, sp]; v.up = cross(v.to, v.right); this.dirty = true; }

  // Right, up and towards the reader, in m from the middle.
  local(p, i = 0) { const v = this.view, x = p[i] - v.centre[0], y = p[i + 1] - v.centre[1], z = p[i + 2] - v.centre[2]; return [x * v.right[0] + y * v.right[1] + z * v.right[2], x * v.up[0] + y * v.up[1] + z * v.up[2], x * v.to[0] + y * v.to[1] + z * v.to[2]]; }

  // On the screen, a little smaller the farther it is.
  toScreen(p, i = 0) { const v = this.view, [x, y, z] = this.local(p, i), s = v.scale / (1 - 0.16 * z / Math.max(this.most, 1e-9)); return [this.width / 2 + v.dx + x * s, this.height / 2 + v.dy - y * s, z]; }

  // Where the ray under a spot of the screen meets the plane; the perspective is undone by a few rounds.
  toPlane(sx, sy, level = this.field.head.slice.at) {
    const v = this.view, n = this.field.head.slice.axis;
    let z = 0, p = null;
    if (Math.abs(v.to[n]) < 0.03) return null;
    for (let k = 0; k < 8; k++) {
      const size = v.scale / (1 - 0.16 * z / this.most), x = (sx - this.width / 2 - v.dx) / size, y = (this.height / 2 + v.dy - sy) / size;
      const at = [0, 1, 2].map(q => v.centre[q] + x * v.right[q] + y * v.up[q]), t = (level - at[n]) / v.to[n];
      z = t; p = at.map((a, q) => a + t * v.to[q]);
    }
    return [p[UPON[n][0]], p[UPON[n][1]]];
  }
  onPlane(u, w) { const s = this.field.head.slice, p = [0, 0, 0]; p[s.axis] = s.at; p[UPON[s.axis][0]] = u; p[UPON[s.axis][1]] = w; return p; }

  zoom(factor) { if (this.view) { this.view.scale *= factor; this.fitted = false; this.dirty = true; } }
  pan(dx, dy) { if (this.view) { this.view.dx += dx; this.view.dy += dy; this.fitted = false; this.dirty = true; } }
  turn(dx, dy) { if (this.view) { this.view.yaw += dx; this.view.pitch = Math.min(Math.max(this.view.pitch + dy, -1.45), 1.45); this.turned(); } }

  tick(now) {
    if (!this.field || !this.view) return;
    if (this.playing) { if (this.last) this.phase = (this.phase + 2 * Math.PI * (now - this.last) / this.period) % (2 * Math.PI); this.last = now; this.dirty = true; this.tell('phase', this.phase, true); }
    if (this.dirty) this.draw();
  }

  instant() {
    const all = this.field.head.instants;
    if (all.length < 2) return all[0];
    const turn = 2 * Math.PI, k = Math.round(((this.phase % turn) + turn) % turn / turn * all.length) % all.length;
    return all[k];
  }

  draw() {
    this.dirty = false;
    const h = this.field.head, g = this.lit(), alternates = h.frequency > 0, co = alternates ? Math.cos(this.phase) : 1, si = alternates ? Math.sin(this.phase) : 0;
    const things = [];
    for (const b of h.bodies) this.faces(b, (b.current[0] * co - b.current[1] * si) / this.current, things);
    if (this.layers.density) this.slice(co, si, things); else this.frame(things);
    if (this.layers.flux) this.lines(co, si, things);
    // Far to near; a plane that everything stands on comes first.
    things.sort((a, b) => a.z - b.z);
    for (const t of things) t.draw(g);
    this.ink();
    this.put();
    this.frames++;
    this.tell('drawn', this.waiting);
  }

  faces(b, i, things) {
    const v = this.view, n = b.faces.length / 4, spots = new Array(b.points.length / 3);
    const held = this.drag?.body === b.name, shift = held ? this.drag.shift : null, edged = held || this.hover === b.name;
    for (let p = 0; p < spots.length; p++) spots[p] = shift ? this.toScreen(shift.map((d, q) => b.points[3 * p + q] + d)) : this.toScreen(b.points, 3 * p);
    for (let f = 0; f < n; f++) {
      const facing = b.normals[3 * f] * v.to[0] + b.normals[3 * f + 1] * v.to[1] + b.normals[3 * f + 2] * v.to[2];
      if (facing <= 0 && !b.flat) continue;
      const q = [0, 1, 2, 3].map(k => spots[b.faces[4 * f + k]]), light = 0.42 + 0.58 * (0.55 * Math.max(b.normals[3 * f + 2], 0) + 0.45 * Math.abs(facing));
      let tint = [40 * light + 14, 47 * light + 16, 57 * light + 20];
      if (b.matter === 3) tint = [48 * light + 10, 44 * light + 12, 42 * light + 14];
      if (this.layers.current && b.along.length) {
        const towards = i * (b.along[3 * f] * v.to[0] + b.along[3 * f + 1] * v.to[1] + b.along[3 * f + 2] * v.to[2]), share = 0.9 * Math.sqrt(Math.min(Math.abs(towards), 1)), ink = towards > 0 ? [255, 176, 79] : [88, 166, 255];
        tint = tint.map((t, k) => t + share * (light * ink[k] - t));
      }
      const fill = `rgb(${tint.map(Math.round).join(' ')})`, z = (q[0][2] + q[1][2] + q[2][2] + q[3][2]) / 4 - (b.flat ? 1e3 : 0);
      things.push({ z, draw: g => {
        g.beginPath(); q.forEach(([x, y], k) => k ? g.lineTo(x, y) : g.moveTo(x, y)); g.closePath();
        g.fillStyle = fill; g.fill();
        g.strokeStyle = b.flat ? 'rgba(205,214,224,.10)' : edged ? 'rgba(255,180,84,.75)' : fill; g.lineWidth = b.flat || edged ? 1 : 0.8; g.stroke();
      } });
    }
  }

  lines(co, si, things) {
    const instant = this.instant(), shared = this.field.head.instants.length < 2 && this.field.head.frequency > 0;
    // Where all swing together the lines keep their shape and only dim.
    const dim = shared ? Math.abs(Math.cos(this.phase - this.field.head.strongest)) : 1, sign = shared && Math.cos(this.phase - this.field.head.strongest) < 0 ? -1 : 1;
    for (const line of instant.lines) {
      let was = null;
      const n = line.length / 4, arrowAt = Math.floor(n / 3);
      for (let k = 0; k < n; k++) {
        const at = this.toScreen(line, 4 * k);
        if (was) {
          const a = was, share = Math.sqrt(line[4 * k + 3] / this.strength), near = 0.5 + 0.5 * Math.min(Math.max(0.5 + at[2] / this.most, 0), 1), alpha = Math.min((0.16 + 1.6 * share) * near, 0.95) * (0.12 + 0.88 * dim);
          things.push({ z: (a[2] + at[2]) / 2, draw: g => { g.strokeStyle = `rgba(227,236,248,${alpha.toFixed(3)})`; g.lineWidth = 1.15 * Math.min(this.textScale, 1.8); g.beginPath(); g.moveTo(a[0], a[1]); g.lineTo(at[0], at[1]); g.stroke(); if (k === arrowAt) this.head(g, a, at, sign, alpha); } });
        }
        was = at;
      }
    }
  }

  head(g, a, b, sign, alpha) {
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (l < 0.5) return;
    const dx = sign * (b[0] - a[0]) / l, dy = sign * (b[1] - a[1]) / l, s = 4.4 * this.textScale;
    g.fillStyle = `rgba(227,236,248,${Math.min(1, alpha + 0.15).toFixed(3)})`; g.beginPath(); g.moveTo(b[0] + s * dx, b[1] + s * dy); g.lineTo(b[0] - s * dx - 0.6 * s * dy, b[1] - s * dy + 0.6 * s * dx); g.lineTo(b[0] - s * dx + 0.6 * s * dy, b[1] - s * dy - 0.6 * s * dx); g.fill();
  }

  // Strength over the plane, stronger lighter, with little arrows of the field in it: a backdrop that bodies and lines stand before.
  slice(co, si, things) {
    const s = this.field.head.slice, { columns: nx, rows: ny, values: v } = s, du = (s.toU - s.fromU) / (nx - 1), dv = (s.toV - s.fromV) / (ny - 1), [iu, iv] = UPON[s.axis];
    const spot = (i, j) => this.toScreen(this.onPlane(s.fromU + i * du, s.fromV + j * dv));
    const grid = []; for (let j = 0; j < ny; j++) for (let i = 0; i < nx; i++) grid.push(spot(i, j));
    for (let j = 0; j + 1 < ny; j++) for (let i = 0; i + 1 < nx; i++) {
      let size = 0;
      for (let c = 0; c < 3; c++) { let m = 0; for (const at of [j * nx + i, j * nx + i + 1, (j + 1) * nx + i, (j + 1) * nx + i + 1]) m += (v[6 * at + 2 * c] * co - v[6 * at + 2 * c + 1] * si) / 4; size += m * m; }
      const share = Math.sqrt(Math.min(Math.sqrt(size) / this.densityScale, 1)), [r, g_, b] = rampAt(share), q = [grid[j * nx + i], grid[j * nx + i + 1], grid[(j + 1) * nx + i + 1], grid[(j + 1) * nx + i]];
      const fill = `rgba(${r | 0},${g_ | 0},${b | 0},${(0.5 + 0.32 * share).toFixed(2)})`;
      things.push({ z: -1e2, draw: g => { g.fillStyle = fill; g.beginPath(); q.forEach(([x, y], k) => k ? g.lineTo(x, y) : g.moveTo(x, y)); g.closePath(); g.fill(); } });
    }
    for (let j = 1; j < ny - 1; j += 3) for (let i = 1; i < nx - 1; i += 3) {
      const at = 6 * (j * nx + i), b = [0, 1, 2].map(c => v[at + 2 * c] * co - v[at + 2 * c + 1] * si), inside = Math.hypot(b[iu], b[iv]);
      if (!(inside > 0)) continue;
      const from = this.onPlane(s.fromU + i * du, s.fromV + j * dv), to = [...from], reach = 1.15 * du * Math.min(Math.pow(inside / this.densityScale, 0.3), 1);
      to[iu] += reach * b[iu] / inside; to[iv] += reach * b[iv] / inside;
      const a = this.toScreen(from), c = this.toScreen(to);
      things.push({ z: -99, draw: g => { g.strokeStyle = 'rgba(240,244,249,.8)'; g.lineWidth = 1.1; g.beginPath(); g.moveTo(a[0], a[1]); g.lineTo(c[0], c[1]); g.stroke(); this.head(g, a, c, 1, 0.6); } });
    }
  }

  // Where the plane lies, when it is not lit.
  frame(things) {
    const s = this.field.head.slice, corners = [[s.fromU, s.fromV], [s.toU, s.fromV], [s.toU, s.toV], [s.fromU, s.toV], [s.fromU, s.fromV]].map(([u, w]) => this.toScreen(this.onPlane(u, w)));
    things.push({ z: -1e2, draw: g => { g.strokeStyle = 'rgba(139,152,168,.35)'; g.lineWidth = 1; g.setLineDash([3, 6]); g.beginPath(); corners.forEach(([x, y], k) => k ? g.lineTo(x, y) : g.moveTo(x, y)); g.stroke(); g.setLineDash([]); } });
  }

  ink() {
    const c = this.ground(), h = this.field.head, k = this.textScale;
    for (const p of h.probes) { const [x, y] = this.toScreen(p.at); c.strokeStyle = INK.text; c.lineWidth = 1.4 * k; c.beginPath(); c.moveTo(x - 6 * k, y); c.lineTo(x + 6 * k, y); c.moveTo(x, y - 6 * k); c.lineTo(x, y + 6 * k); c.stroke(); }
    for (const b of h.bodies) if (b.magnetised) { const r = 0.09 * this.most, a = b.centre.map((q, i) => q - r * b.magnetised[i]), to = b.centre.map((q, i) => q + r * b.magnetised[i]), [x1, y1] = this.toScreen(a), [x2, y2] = this.toScreen(to); arrow(c, x1, y1, x2, y2, INK.text, 2.2 * k, true); text(c, 'N', x2 + 6 * k, y2 - 4 * k, 14 * k, true, INK.text, 'left'); }
    if (this.layers.forces) for (const b of h.bodies) this.force(c, b, k);
    if (this.layers.names) {
      const labels = [...h.bodies.map(b => ({ name: b.name, details: b.details, foot: this.toScreen(b.centre), side: b.matter === 3 ? 0 : 1 })), ...h.probes.map(p => ({ name: p.name, details: [], foot: this.toScreen(p.at), side: 1 }))];
      // A coil is met at its wire, not in its hole.
      for (const l of labels) { const b = h.bodies.find(o => o.name === l.name); if (b?.matter === 3) l.foot = leftmost(b, this); }
      columns(c, labels.filter(l => l.foot[1] > 0 && l.foot[1] < this.height), k, this.width, this.height);
    }
    this.compass(c, k);
    if (this.drag?.shift) text(c, UPON[h.slice.axis].map(a => `${AXES[a]} ${this.drag.shift[a] < 0 ? '' : '+'}${say.length(this.drag.shift[a])}`).join(', '), this.drag.x + 16 * k, this.drag.y - 14 * k, 14 * k, true, INK.warm, 'left');
    if (this.measuring) this.tape(c);
    if (this.probe) this.crosshair(c, k);
  }

  force(c, b, k) {
    const size = b.force ? Math.hypot(...b.force) : 0, most = Math.max(size, b.weight || 0);
    if (!(most > 0)) return;
    const draw = (f, words, ink, width) => {
      const reach = 0.34 * this.most / most, to = b.centre.map((q, i) => q + reach * f[i]), [x1, y1] = this.toScreen(b.centre), [x2, y2] = this.toScreen(to);
      if (Math.hypot(x2 - x1, y2 - y1) < 5) return;
      arrow(c, x1, y1, x2, y2, ink, width * k, true); text(c, words, x2 + 9 * k, y2 + 4 * k, 13 * k, true, ink, 'left');
    };
    if (b.force) draw(b.force, say.force(size), INK.force, 4);
    if (b.weight) draw([0, 0, -b.weight], 'weight ' + say.force(b.weight), INK.quiet, 3);
  }

  // Which way the axes point.
  compass(c, k) {
    const x0 = this.width - 52 * k, y0 = this.height - 46 * k, v = this.view, r = 26 * k;
    AXES.forEach((name, i) => { const dx = v.right[i] * r, dy = -v.up[i] * r; c.globalAlpha = 0.45 + 0.35 * (1 + v.to[i]) / 2; arrow(c, x0, y0, x0 + dx, y0 + dy, INK.edge, 1.4 * k); text(c, name, x0 + 1.32 * dx, y0 + 1.32 * dy + 4 * k, 12.5 * k, true, INK.text, 'center'); c.globalAlpha = 1; });
  }

  crosshair(c, k) {
    const [x, y] = this.toScreen(this.onPlane(...this.probe)), w = this.cylinder;
    c.strokeStyle = 'rgba(240,244,249,.9)'; c.lineWidth = 1.2; c.beginPath(); c.arc(x, y, 5 * k, 0, 7); c.stroke();
    // Seen square on the plane the arrows of the small cylinder mean what they show.
    if (this.isNear(w)) smallCylinder(c, x, y, w, k);
  }

  setSpot(spot) { this.spot = spot; this.showReadout(); }

  showReadout() {
    if (!this.probe) { this.readout.hidden = true; return; }
    const h = this.field.head, s = h.slice, p = this.onPlane(...this.probe), [sx, sy] = this.toScreen(p), lines = [], co = h.frequency > 0 ? Math.cos(this.phase) : 1, si = h.frequency > 0 ? Math.sin(this.phase) : 0;
    if (this.spot && this.isNear(this.spot)) { const b = this.spot.b, now = [0, 1, 2].map(i => b[2 * i] * co - b[2 * i + 1] * si); lines.push(`<b>${say.density(Math.hypot(...now))}</b>`, AXES.map((a, i) => `${a} ${say.density(now[i])}`).join(', ')); }
    lines.push('at ' + AXES.map((a, i) => `${a} ${say.length(p[i])}`).join(', '));
    if (this.cylinder?.says && this.isNear(this.cylinder)) lines.push(`<span class="cylinder">${escape(this.cylinder.says)}${h.frequency > 0 ? ` Its axis along ${AXES[s.axis]}.` : ''}</span>`);
    this.showAt(lines, sx, sy);
  }

  spot(p) { return this.toScreen(this.onPlane(...p)); }
  middle() { const s = this.field.head.slice; return [(s.fromU + s.toU) / 2, (s.fromV + s.toV) / 2]; }
  free = 'grab';
  pull(dx, dy, pans) { if (pans) this.pan(dx, dy); else this.turn(-0.008 * dx, 0.008 * dy); }
  steer([x, y], moves) { if (moves) this.pan(40 * x, -40 * y); else this.turn(0.09 * x, 0.09 * y); }
  probeAt(sx, sy) { const s = this.field.head.slice, at = this.toPlane(sx, sy); return at && at[0] >= s.fromU && at[0] <= s.toU && at[1] >= s.fromV && at[1] <= s.toV ? at : null; }

  // The nearest body with a face under a spot; an iron plane is no such thing.
  bodyAt(sx, sy) {
    let found = null, near = -Infinity;
    for (const b of this.field.head.bodies) {
      if (b.flat) continue;
      for (let f = 0; f < b.faces.length; f += 4) {
        const q = [0, 1, 2, 3].map(k => this.toScreen(b.points, 3 * b.faces[f + k]));
        let inside = false;
        for (let i = 0, j = 3; i < 4; j = i++) if ((q[i][1] > sy) !== (q[j][1] > sy) && sx < (q[j][0] - q[i][0]) * (sy - q[i][1]) / (q[j][1] - q[i][1]) + q[i][0]) inside = !inside;
        const z = (q[0][2] + q[2][2]) / 2;
        if (inside && z > near) { near = z; found = b; }
      }
    }
    return found;
  }

  // A body carried by the hand keeps to the direction of the plane: the two axes that lie in it.
  carry(sx, sy) {
    super.carry(sx, sy);
    const n = this.field.head.slice.axis, at = this.field.head.bodies.find(b => b.name === this.drag.body).centre[n], from = this.toPlane(this.drag.fromX, this.drag.fromY, at), to = this.toPlane(sx, sy, at);
    if (!from || !to) return;
    this.drag.shift = [0, 0, 0];
    UPON[n].forEach((axis, k) => { this.drag.shift[axis] = Math.round(1e4 * (to[k] - from[k])) / 1e4; });
  }
  let(drag) { if (drag.shift) this.tell('moved', drag.body, ...drag.shift); }

  legend() {
    const h = this.field.head;
    return '<span>lines through points spread evenly over coils and poles</span>' + (h.bodies.some(b => b.along.length) ? '<span><i class="towards"></i>towards you</span><span><i class="away"></i>away from you</span>' : '');
  }

  // A plane square to one axis, moved along it.
  extras(box) {
    box.innerHTML = `<div class="switches" role="group" aria-label="The plane is square to">${AXES.map((a, i) => `<button type="button" class="key small" data-axis="${i}" aria-pressed="false">plane across ${a}</button>`).join('')}</div><label class="phase"><span class="unseen">Where the plane lies</span><input type="range" min="0" max="1000" step="1"></label><output class="degrees"></output>`;
    const at = box.querySelector('input'), out = box.querySelector('output'), range = i => { const room = 0.25 * this.most; return [this.low[i] - room, this.high[i] + room]; };
    const write = () => { const s = this.field?.head.slice; if (!s) return; const [lo, hi] = range(s.axis); if (document.activeElement !== at) at.value = 1000 * (s.at - lo) / (hi - lo); out.textContent = `${AXES[s.axis]} ${say.length(s.at)}`; at.setAttribute('aria-valuetext', out.textContent); box.querySelectorAll('[data-axis]').forEach((b, i) => b.setAttribute('aria-pressed', i === s.axis)); };
    box.querySelectorAll('[data-axis]').forEach((b, i) => b.onclick = () => { const [lo, hi] = range(i); this.tell('plane', i, (lo + hi) / 2); });
    at.oninput = () => { const i = this.field.head.slice.axis, [lo, hi] = range(i); this.tell('plane', i, lo + (hi - lo) * at.value / 1000); };
    return write;
  }
}

function leftmost(b, stage) { let best = null; for (let i = 0; i < b.points.length; i += 3) { const p = stage.toScreen(b.points, i); if (!best || p[0] < best[0]) best = p; } return best; }
function least(points, i, sign = 1) { let m = Infinity; for (let k = i; k < points.length; k += 3) m = Math.min(m, sign * points[k]); return m; }
function cross(a, b) { return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]; }
