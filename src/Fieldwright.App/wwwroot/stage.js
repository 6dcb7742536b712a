import { Board, byProcessor, MOST, INK, rampAt, roundStep, digits, say, parseHead, arrow, text, columns, escape, smallCylinder } from './board.js';
import { Light } from './light.js';
import { Candle } from './candle.js';
// The stage of a section: its lit field, with bodies, currents, forces and names in ink on it.

// While something moves a frame should take no longer than this, in ms: dots are given up for it.
const FRAME = 45, FEWEST = 0.5;

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
    this.step = this.even = 0; this.fieldDirty = true; this.live = 1; this.easy = 0;
    this.light = byProcessor() ? new Candle(this.paint) : new Light(this.paint);
    this.light.restored = () => { this.colours(); if (this.field) this.upload(); this.fieldDirty = this.dirty = true; };
    // The ink, on a sheet that is clear elsewhere.
    this.tracing = document.createElement('canvas');
    this.colours();
    this.begin();
  }

  static switches = [['flux', 'Flux lines'], ['density', 'Field strength'], ['current', 'Currents'], ['forces', 'Forces'], ['names', 'Names']];

  colours() {
    const bytes = new Uint8Array(4 * 256);
    for (let i = 0; i < 256; i++) bytes.set([...rampAt(i / 255).map(Math.round), 255], 4 * i);
    this.light.colours(bytes);
  }

  resize() { this.fieldDirty = true; this.signs = null; super.resize(); }

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
    // The sharp picture may come before the coarse one was drawn: it answers the same turn.
    if (!h.isRefined) this.waiting = h.stamp;
    if (h.stamp && !h.isRefined) this.moved = performance.now();
    this.tell('phase', this.phase, this.playing);
    this.fieldDirty = this.dirty = true;
    this.tell('field', h);
  }

  upload() { this.light.load(this.field); this.signs = null; }

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

  setPhase(radians) { this.phase = radians; this.relit = true; this.tell('phase', this.phase, this.playing); }
  play(on) { this.moved = -Infinity; this.quality = 1; this.fieldDirty = true; super.play(on); }

  tick(now) {
    if (!this.field || !this.view || this.light.lost) return;
    // Playing, turning, panning and zooming draw fewer dots where all of them would cost frames; a moment of rest brings them all back.
    const moves = this.playing || now - (this.moved ?? -Infinity) < 400;
    if (!this.isReady(now)) return;
    const quality = moves ? this.live : 1;
    if (quality !== this.quality) { this.quality = quality; this.fieldDirty = this.relit = true; }
    if (this.playing) {
      if (this.last) this.phase = (this.phase + 2 * Math.PI * (now - this.last) / this.period) % (2 * Math.PI);
      this.last = now; this.relit = true;
      this.tell('phase', this.phase, true);
    }
    // Ink changes with the instant only where a probe shows the field's way.
    if (this.relit && this.probe && !(now - this.inked < 150)) this.dirty = true;
    if (this.dirty || this.relit) this.draw(this.dirty);
  }

  // Waits for the frame before, so that frames never queue, and learns from it how many dots can be had.
  isReady(now) {
    if (!this.sent) return true;
    const took = now - this.sent;
    if (!this.light.isDone && took < 2000) return false;
    this.sent = null;
    // A frame that laid the field anew costs more than one that only lit it: the dearest of late counts.
    const wanted = this.quality * Math.sqrt(FRAME / Math.max(took, 1)), live = Math.min(Math.max(wanted, FEWEST), 1);
    if (live < 0.85 * this.live || (live > 1.3 * this.live && ++this.easy > 8)) { this.live = live; this.easy = 0; } else if (live <= this.live) this.easy = 0;
    return true;
  }

  draw(inks = true) {
    this.sent = performance.now();
    if (this.fieldDirty) this.fill();
    if (inks || this.dirty) { this.ink(); this.light.draw(this.tracing); this.inked = this.sent; }
    this.dirty = this.relit = false;
    this.shine();
    this.frames++;
    this.tell('drawn', this.waiting);
  }

  // What both passes go by.
  get scene() { const h = this.field.head, v = this.view; return { x: v.x, y: v.y, pixel: 1 / (v.scale * this.dots), densityScale: this.densityScale, currentScale: this.currentScale, isRound: h.isRound, depth: h.depth }; }

  // Lays the field in so many dots. The ink keeps its own where they are put together by a card, and has those of the light elsewhere.
  fill() {
    const card = this.light instanceof Light, most = Math.min(devicePixelRatio || 1, Math.sqrt((card ? 3.7e6 : MOST) / (this.width * this.height))), dots = this.dots = (card ? most : Math.min(most, 2)) * this.quality;
    const width = Math.max(Math.round(this.width * dots), 16), height = Math.max(Math.round(this.height * dots), 16);
    if (!card && (this.dotsWide !== width || this.dotsHigh !== height)) { this.inkDots = dots; this.dotsWide = width; this.dotsHigh = height; this.dirty = true; }
    this.light.size(width, height, this.dotsWide, this.dotsHigh);
    this.fieldDirty = false;
    this.light.lay(this.scene);
  }

  shine() { this.light.shine(this.scene, { instant: this.instant(), step: this.step, layers: this.layers, mark: 5.4 * this.textScale * this.inkDots, dots: Math.max(this.dots * Math.min(this.textScale, 1.6), 0.7), glow: this.glow() }); }

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
      // In a bent winding they keep to its middle, as far apart as elsewhere.
      const isBent = winding && bent(loop, (r - l) * (t - b)), apart = isBent ? spread(loop, l, r, b, t, Math.min(pitch, 0.5 * Math.max(r - l, t - b))) : null;
      if (apart) places.push(...apart);
      else for (let i = 0; i < columns; i++) for (let k = 0; k < rows; k++) places.push([l + (i + 0.5) * (r - l) / columns, b + (k + 0.5) * (t - b) / rows]);
      const values = this.currentsAt(places, l, r, b, t);
      const middle = winding ? values.find(v => v) : null;
      for (const side of h.isRound ? [1, -1] : [1]) {
        const sign = h.isRound ? -side : 1;
        // A bent winding glows from where its signs stand, a straight one as the box it is.
        if (middle && isBent) places.forEach((p, i) => { const v = values[i]; if (v) found.push({ winding: true, box: [side * p[0], p[1], 0.9 * room, 0.9 * room], re: sign * v[0] / this.currentScale, im: sign * v[1] / this.currentScale }); });
        else if (middle) found.push({ winding: true, box: [side * (l + r) / 2, (b + t) / 2, (r - l) / 2, (t - b) / 2], re: sign * middle[0] / this.currentScale, im: sign * middle[1] / this.currentScale });
        places.forEach((p, i) => { const v = values[i]; if (v && (v[0] || v[1])) found.push({ x: side * p[0], y: p[1], room, re: sign * v[0] / this.currentScale, im: sign * v[1] / this.currentScale }); });
      }
    }
    const marks = found.filter(s => !s.winding);
    this.light.set(new Float32Array(marks.flatMap(s => [s.x, s.y, s.room, s.re, s.im])));
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
    const c = this.pen(this.tracing, false), h = this.field.head;
    c.clearRect(0, 0, this.width, this.height);
    if (h.isRound) this.axis(c);
    for (const body of h.bodies) this.outline(c, body);
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
    if (this.fieldDirty || sx < 0 || sy < 0 || sx >= this.width || sy >= this.height) return null;
    const found = this.light.read(Math.floor(sx * this.dots), Math.floor((this.height - sy) * this.dots), this.scene);
    if (!found) return null;
    const [c, s] = this.instant(), { density: d, current: j, matter } = found;
    const bx = (d[0] * c - d[1] * s) * this.densityScale, by = (d[2] * c - d[3] * s) * this.densityScale, b = Math.hypot(bx, by);
    return { b, dx: b ? bx / b : 0, dy: b ? by / b : 0, j: (j[0] * c - j[1] * s) * this.currentScale, matter };
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

// Places along the middle of an outline, so far apart: at most forty.
function spread(loop, l, r, b, t, apart) {
  const found = [], fine = 0.25 * apart, taken = [];
  for (let x = l + 0.5 * fine; x < r; x += fine) for (let y = b + 0.5 * fine; y < t; y += fine) {
    let inside = false, edge = Infinity;
    for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
      const ax = loop[j], ay = loop[j + 1], dx = loop[i] - ax, dy = loop[i + 1] - ay, along = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1), 0), 1);
      edge = Math.min(edge, Math.hypot(x - ax - along * dx, y - ay - along * dy));
      if ((loop[i + 1] > y) !== (ay > y) && x < (ax - loop[i]) * (y - loop[i + 1]) / (ay - loop[i + 1]) + loop[i]) inside = !inside;
    }
    if (inside) found.push([x, y, edge]);
  }
  found.sort((p, q) => q[2] - p[2]);
  for (const [x, y, edge] of found) if (edge > 0.6 * found[0][2] && taken.length < 40 && taken.every(p => Math.hypot(p[0] - x, p[1] - y) >= 0.9 * apart)) taken.push([x, y]);
  return taken;
}
