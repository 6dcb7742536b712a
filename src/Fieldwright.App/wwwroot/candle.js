// Lights the field of a section without a graphics card, as light.js does with one and in the same words: the same colours, lines and marks, reckoned dot by dot by the processor.
// A processor that imitates a card takes about ten times as long over the same dots, and much longer still over every triangle.
import { LOOK, PATCHES, isStraight, sideOf } from './light.js';

// Dots to a cell of the glow along each side.
const CELL = 8;

export class Candle {
  constructor(canvas) { this.canvas = canvas; this.pen = canvas.getContext('2d', { alpha: false }); this.marks = []; }

  get isDone() { return true; }

  colours(bytes) { this.ramp = bytes; }

  // Takes a field: of every triangle the six numbers of u as a quadratic over its own coordinates, real and imaginary; and the straight pieces it is drawn in, curved ones in nine.
  load({ nodes, triangles, sources, head }) {
    const count = head.triangles, shapes = this.shapes = new Float64Array(12 * count), owners = [], kinds = [];
    for (let t = 0; t < count; t++) {
      for (let part = 0; part < 2; part++) {
        const u = k => nodes[4 * triangles[6 * t + k] + 2 + part], u0 = u(0), u1 = u(1), u2 = u(2), u3 = u(3), u4 = u(4), u5 = u(5), at = 12 * t + 6 * part;
        shapes[at] = u0; shapes[at + 1] = 4 * u3 - 3 * u0 - u1; shapes[at + 2] = 4 * u5 - 3 * u0 - u2; shapes[at + 3] = 2 * (u0 + u1) - 4 * u3; shapes[at + 4] = 4 * (u0 - u3 + u4 - u5); shapes[at + 5] = 2 * (u0 + u2) - 4 * u5;
      }
      const kind = isStraight(nodes, triangles, 6 * t) ? 0 : 1;
      for (let k = PATCHES[kind].length / 6; k > 0; k--) { owners.push(t); kinds.push(6 * (k - 1) + (kind << 16)); }
    }
    Object.assign(this, { nodes, triangles, sources, owners: Int32Array.from(owners), kinds: Int32Array.from(kinds), maps: new Float64Array(6 * owners.length) });
  }

  // Makes room for so many dots; canvas and light have the same.
  size(width, height) {
    if (this.width === width && this.height === height) return;
    this.canvas.width = this.width = width; this.canvas.height = this.height = height;
    const all = width * height;
    this.image = new ImageData(width, height); this.dots = new Uint32Array(this.image.data.buffer);
    for (const name of ['re', 'im', 'jr', 'ji', 'now']) this[name] = new Float32Array(all);
    this.piece = new Int32Array(all); this.kind = new Uint8Array(all); this.grain = new Uint8Array(all); this.lines = new Uint8Array(all);
    this.hall = new Uint32Array(all); this.still = new Uint32Array(all); this.strength = null; this.inked = new Uint8Array(Math.ceil(width / CELL) * height); this.ink = null; this.boxes = null;
    const reach = 0.66 * Math.max(width, height);
    for (let y = 0, i = 0; y < height; y++) for (let x = 0; x < width; x++, i++) { const off = smooth(0, reach, Math.hypot(x + 0.5 - width / 2, y + 0.5 - height / 2)); this.hall[i] = packed(...LOOK.lit.map((v, k) => v + (LOOK.rim[k] - v) * off)); }
  }

  // Takes the ink: a canvas as large as the light's.
  draw(canvas) {
    const { width, height } = this, data = this.ink = canvas.getContext('2d').getImageData(0, 0, width, height).data, any = new Uint32Array(data.buffer), inked = this.inked.fill(0), row = Math.ceil(width / CELL);
    for (let y = 0, i = 0; y < height; y++) for (let x = 0; x < width; x++, i++) if (any[i]) inked[y * row + (x / CELL | 0)] = 1;
  }

  set(marks) { this.marks = marks; }

  // Every dot's flux function and the piece it lies in, of the half of a round section that shows more.
  lay({ x, y, pixel, isRound, depth, currentScale, densityScale }) {
    const { width, height, nodes, triangles, owners, kinds, maps, shapes, sources, re, im, jr, ji, piece, kind } = this, mirror = sideOf(isRound, x) || 1, X = new Float64Array(3), Y = new Float64Array(3);
    Object.assign(this, { isRound, depth, mirror, currentScale, densityScale, pixel, left: width / 2 - x / pixel, axis: y });
    piece.fill(0); kind.fill(0); re.fill(0); im.fill(0); this.baked = this.strength = null;
    const metre = mirror / pixel, left = this.left, base = height / 2 + y / pixel;
    for (let p = 0; p < owners.length; p++) {
      const t = owners[p], curved = kinds[p] >> 16, at = kinds[p] & 0xffff, corners = PATCHES[curved], six = 6 * t;
      for (let k = 0; k < 3; k++) {
        if (!curved) { const n = 4 * triangles[six + k]; X[k] = left + nodes[n] * metre; Y[k] = base - nodes[n + 1] / pixel; continue; }
        const a = corners[at + 2 * k], e = corners[at + 2 * k + 1], z = 1 - a - e, N = [z * (2 * z - 1), a * (2 * a - 1), e * (2 * e - 1), 4 * z * a, 4 * a * e, 4 * e * z];
        let sx = 0, sy = 0;
        for (let q = 0; q < 6; q++) { const n = 4 * triangles[six + q]; sx += N[q] * nodes[n]; sy += N[q] * nodes[n + 1]; }
        X[k] = left + sx * metre; Y[k] = base - sy / pixel;
      }
      const top = Math.min(Y[0], Y[1], Y[2]), bottom = Math.max(Y[0], Y[1], Y[2]);
      const first = Math.max(Math.ceil(top - 0.5), 0), last = Math.min(Math.ceil(bottom - 0.5), height);
      if (first >= last || Math.max(X[0], X[1], X[2]) < 0 || Math.min(X[0], X[1], X[2]) > width) continue;
      const a0 = corners[at], e0 = corners[at + 1], a1 = corners[at + 2] - a0, a2 = corners[at + 4] - a0, e1 = corners[at + 3] - e0, e2 = corners[at + 5] - e0;
      const x1 = X[1] - X[0], x2 = X[2] - X[0], y1 = Y[1] - Y[0], y2 = Y[2] - Y[0], area = x1 * y2 - x2 * y1;
      if (area === 0) continue;
      const ax = (a1 * y2 - a2 * y1) / area, ay = (a2 * x1 - a1 * x2) / area, ex = (e1 * y2 - e2 * y1) / area, ey = (e2 * x1 - e1 * x2) / area;
      const m = 6 * p; maps[m] = a0 - ax * X[0] - ay * Y[0]; maps[m + 1] = ax; maps[m + 2] = ay; maps[m + 3] = e0 - ex * X[0] - ey * Y[0]; maps[m + 4] = ex; maps[m + 5] = ey;
      const s = 12 * t, p0 = shapes[s], p1 = shapes[s + 1], p2 = shapes[s + 2], p3 = shapes[s + 3], p4 = shapes[s + 4], p5 = shapes[s + 5], q0 = shapes[s + 6], q1 = shapes[s + 7], q2 = shapes[s + 8], q3 = shapes[s + 9], q4 = shapes[s + 10], q5 = shapes[s + 11];
      const matter = sources[4 * t + 3], sr = sources[4 * t] / currentScale, si = sources[4 * t + 1] / currentScale, lag = sources[4 * t + 2] / currentScale;
      for (let j = first; j < last; j++) {
        const yy = j + 0.5;
        let from = Infinity, to = -Infinity;
        for (let k = 0; k < 3; k++) {
          // An edge meets a row at the same place whichever of its triangles asks.
          const i0 = k, i1 = k === 2 ? 0 : k + 1, up = Y[i0] < Y[i1] || (Y[i0] === Y[i1] && X[i0] < X[i1]) ? i0 : i1, down = up === i0 ? i1 : i0;
          if (!(yy >= Y[up] && yy < Y[down])) continue;
          const cut = X[up] + (yy - Y[up]) * (X[down] - X[up]) / (Y[down] - Y[up]);
          if (cut < from) from = cut;
          if (cut > to) to = cut;
        }
        const start = Math.max(Math.ceil(from - 0.5), 0), end = Math.min(Math.ceil(to - 0.5), width);
        let a = maps[m] + ax * (start + 0.5) + ay * yy, e = maps[m + 3] + ex * (start + 0.5) + ey * yy;
        for (let i = start, d = j * width + start; i < end; i++, d++, a += ax, e += ex) {
          const r = (i + 0.5 - left) * pixel, reach = isRound ? 6.28318530718 * r * r : depth;
          re[d] = reach * (p0 + a * (p1 + p3 * a + p4 * e) + e * (p2 + p5 * e));
          im[d] = reach * (q0 + a * (q1 + q3 * a + q4 * e) + e * (q2 + q5 * e));
          piece[d] = p + 1;
          if (!matter) continue;
          // Current density as source − jωσA.
          const slow = lag / (isRound ? 6.28318530718 * Math.abs(r) : depth);
          kind[d] = matter; jr[d] = sr + slow * im[d]; ji[d] = si - slow * re[d];
        }
      }
    }
  }

  // Flux density in a dot that was laid: real and imaginary part along x and y, in T, into four numbers.
  densityAt(d, i, j, out) {
    const p = this.piece[d] - 1, m = 6 * p, s = 12 * this.owners[p], { maps, shapes } = this, ax = maps[m + 1], ay = maps[m + 2], ex = maps[m + 4], ey = maps[m + 5];
    const a = maps[m] + ax * (i + 0.5) + ay * (j + 0.5), e = maps[m + 3] + ex * (i + 0.5) + ey * (j + 0.5), right = this.mirror / this.pixel, up = -1 / this.pixel, r = Math.abs((i + 0.5 - this.left) * this.pixel);
    for (let part = 0; part < 2; part++) {
      const q = s + 6 * part, ua = shapes[q + 1] + 2 * shapes[q + 3] * a + shapes[q + 4] * e, ue = shapes[q + 2] + shapes[q + 4] * a + 2 * shapes[q + 5] * e;
      const ux = right * (ua * ax + ue * ex), uy = up * (ua * ay + ue * ey);
      if (this.isRound) { const u = shapes[q] + a * (shapes[q + 1] + shapes[q + 3] * a + shapes[q + 4] * e) + e * (shapes[q + 2] + shapes[q + 5] * e); out[part] = -this.mirror * r * uy; out[2 + part] = 2 * u + r * ux; }
      else { out[part] = uy; out[2 + part] = -ux; }
    }
  }

  // The column that a column shows: its own, or the one of which it is the image, no nearer to the axis than the first that was laid.
  columns() {
    const { width, left, mirror, isRound } = this, from = new Int32Array(width);
    for (let i = 0; i < width; i++) {
      from[i] = i;
      if (!isRound || mirror * (i + 0.5 - left) >= 0) continue;
      const column = Math.floor(2 * left - i - 0.5);
      from[i] = Math.min(Math.max(mirror > 0 ? Math.max(column, Math.ceil(left - 0.5)) : Math.min(column, Math.floor(left - 0.5)), 0), width - 1);
    }
    return from;
  }

  // An instant as cosine and sine, lines every step of flux, which layers, how thick a line is and how large a mark at most in dots, and the glow of the windings.
  shine({ x, y, pixel }, { instant: [c, s], step, layers, dots, mark, glow }) {
    const from = this.columns();
    if (layers.flux) this.rule(c, s, step, dots);
    if (layers.current) this.halo(x, y, pixel, dots, glow, c, s);
    if (this.baked !== `${layers.density} ${dots}`) this.bake(from, x, y, pixel, dots, layers.density);
    if (layers.density) { this.strength ??= this.strengths(); this.map(from, c, s); }
    this.light(from, c, s, layers);
    if (layers.current) this.stamp(x, y, pixel, mark, c, s);
    if (this.ink) this.over(this.image.data);
    this.pen.putImageData(this.image, 0, 0);
  }

  // First and last but one column that was laid.
  get laid() { const { width, left, mirror, isRound } = this; return [isRound && mirror > 0 ? Math.max(Math.ceil(left - 0.5), 0) : 0, isRound && mirror < 0 ? Math.min(Math.floor(left - 0.5) + 1, width) : width]; }

  // How much of a line is in every dot that was laid, of 255: told by how fast they follow each other from dot to dot.
  rule(c, s, step, dots) {
    const { width, height, re, im, piece, now, lines, isRound } = this, [first, last] = this.laid, off = isRound ? 0 : 0.5, near = 15 * dots, bright = new Float32Array(241), co = c / step, si = s / step;
    for (let j = 0; j < height; j++) for (let d = j * width + first, end = j * width + last; d < end; d++) now[d] = re[d] * co - im[d] * si - off;
    for (let k = 0; k <= 240; k++) { const away = near * k / 240, core = 1 - smooth(0.42 * dots, 0.42 * dots + 0.9, away); bright[k] = 255 * (0.86 * core + 0.16 * Math.exp(-away * away / (14 * dots * dots)) * (1 - core)); }
    for (let j = 0; j < height; j++) {
      const above = j > 0 ? width : 0, below = j < height - 1 ? width : 0, high = above && below ? 0.5 : 1;
      for (let i = first, d = j * width + i; i < last; i++, d++) {
        lines[d] = 0;
        const v = now[d], k = Math.floor(v + 0.5), apart = v > k ? v - k : k - v;
        if (piece[d] === 0 || (isRound && k === 0)) continue;
        const l = i > first ? 1 : 0, r = i < last - 1 ? 1 : 0, dx = (now[d + r] - now[d - l]) * (l + r === 2 ? 0.5 : 1), dy = (now[d + below] - now[d - above]) * high, square = dx * dx + dy * dy;
        if (apart * apart >= near * near * square) continue;
        const slope = Math.sqrt(square);
        if (slope * dots < 0.42) lines[d] = bright[apart / slope / near * 240 | 0] * (slope * dots <= 0.16 ? 1 : 1 - smooth(0.16 / dots, 0.42 / dots, slope));
      }
    }
  }

  // What does not change with the instant: the hall's light and the matter in it.
  bake(from, x, y, pixel, dots, density) {
    const { width, height, kind, still, grain, left, hall } = this, edge = 0.9 * dots, soft = 0.8 * dots, bottom = height / 2 - y / pixel, share = density ? 0.35 : 0.88;
    const hatch = (at, pitch) => { const q = at / pitch, d = Math.abs(q - Math.floor(q) - 0.5) * pitch * 0.7071; return 1 - smooth(edge * 0.5, edge * 0.5 + soft, d); };
    still.set(hall);
    for (let j = 0, d = 0; j < height; j++) for (let i = 0; i < width; i++, d++) {
      const k = kind[j * width + from[i]];
      if (!k) continue;
      // Measured as a card does it, from the bottom.
      const along = i + 0.5 - left + height - j - 0.5 - bottom, h = 0.3 * (k === 3 ? 0 : k === 2 ? Math.max(hatch(along, 13 * dots), hatch(along + 3.6 * dots, 13 * dots)) : hatch(along, 7.5 * dots));
      grain[d] = 255 * h;
      still[d] = packed(...[0, 1, 2].map(n => { const v = hall[d] >> 8 * n & 255, w = v + (LOOK.matter[n] - v) * share; return w + (LOOK.grain[n] - w) * h; }));
    }
    this.baked = `${density} ${dots}`;
  }

  // Flux density of every dot that was laid, over its scale: real and imaginary part along x and y.
  strengths() {
    const { width, height, piece, densityScale } = this, [first, last] = this.laid, all = new Float32Array(4 * width * height), b = new Float64Array(4);
    for (let j = 0; j < height; j++) for (let i = first, d = j * width + i; i < last; i++, d++) if (piece[d]) { this.densityAt(d, i, j, b); for (let k = 0; k < 4; k++) all[4 * d + k] = b[k] / densityScale; }
    return all;
  }

  // The field strength as colour, with the matter quietly in it.
  map(from, c, s) {
    const { width, height, piece, kind, still, hall, grain, strength, ramp } = this, { matter, grain: fine } = LOOK, mixed = [0, 0, 0];
    for (let j = 0, d = 0; j < height; j++) for (let i = 0; i < width; i++, d++) {
      const q = j * width + from[i];
      if (!piece[q]) { still[d] = hall[d]; continue; }
      const bx = strength[4 * q] * c - strength[4 * q + 1] * s, by = strength[4 * q + 2] * c - strength[4 * q + 3] * s, share = Math.sqrt(Math.min(Math.sqrt(bx * bx + by * by), 1)), at = 4 * Math.round(255 * share), w = share >= 0.25 ? 1 : 0.25 + 0.75 * smooth(0, 0.25, share);
      if (w === 1 && !kind[q]) { still[d] = 0xff000000 | ramp[at + 2] << 16 | ramp[at + 1] << 8 | ramp[at]; continue; }
      for (let n = 0; n < 3; n++) {
        let v = hall[d] >> 8 * n & 255;
        v += (ramp[at + n] - v) * w;
        if (kind[q]) { v += (matter[n] - v) * 0.35; v += (fine[n] - v) * grain[d] / 255; }
        mixed[n] = v;
      }
      still[d] = packed(mixed[0], mixed[1], mixed[2]);
    }
  }

  // What does not change, with currents and lines on it.
  light(from, c, s, layers) {
    const { width, height, kind, jr, ji, lines, still, dots, isRound, left } = this, cells = Math.ceil(width / CELL), row = new Float32Array(3 * (cells + 1)), hot = new Float32Array(257), { line, warm, cool } = LOOK;
    const currents = !!layers.current, flux = !!layers.flux, dark = !layers.density, dim = layers.density ? 0.35 : 1;
    for (let k = 0; k <= 256; k++) hot[k] = 0.72 * Math.pow(k / 256, 0.75);
    for (let j = 0; j < height; j++) {
      const base = j * width;
      if (currents) this.haloRow(j, row, dim);
      for (let cell = 0, i = 0; cell < cells; cell++) {
        const h = 3 * cell, sr = (row[h + 3] - row[h]) / CELL, sg = (row[h + 4] - row[h + 1]) / CELL, sb = (row[h + 5] - row[h + 2]) / CELL, end = Math.min(i + CELL, width);
        let hr = row[h] + 0.5 * sr, hg = row[h + 1] + 0.5 * sg, hb = row[h + 2] + 0.5 * sb;
        for (; i < end; i++, hr += sr, hg += sg, hb += sb) {
          const d = base + i, q = base + from[i], w = flux ? lines[q] : 0, matter = kind[q];
          // Half a step keeps slow slopes from breaking into bands where they are cut to whole steps.
          if (dark && !matter && !w) { dots[d] = still[d] + ((hb + 0.5 | 0) << 16 | (hg + 0.5 | 0) << 8 | (hr + 0.5 | 0)); continue; }
          const was = still[d];
          let r = was & 255, g = was >> 8 & 255, b = was >> 16 & 255;
          if (!matter) { r = Math.min(r + hr, 255); g = Math.min(g + hg, 255); b = Math.min(b + hb, 255); }
          else if (currents) {
            const flow = (isRound && i + 0.5 > left ? -1 : 1) * (jr[q] * c - ji[q] * s), size = flow > 0 ? flow : -flow, share = hot[size < 1 ? size * 256 | 0 : 256], ink = flow > 0 ? warm : cool;
            r += (ink[0] - r) * share; g += (ink[1] - g) * share; b += (ink[2] - b) * share;
          }
          if (w) { const share = w / 255; r += (line[0] - r) * share; g += (line[1] - g) * share; b += (line[2] - b) * share; }
          dots[d] = 0xff000000 | (b + 0.5) << 16 | (g + 0.5) << 8 | (r + 0.5);
        }
      }
    }
  }

  // The glow of the windings round about in the corners of the cells: how much each winding gives does not change with the instant.
  halo(x, y, pixel, dots, { count, boxes, currents }, c, s) {
    const columns = Math.ceil(this.width / CELL) + 1, rows = Math.ceil(this.height / CELL) + 1, size = columns * rows, key = [x, y, pixel, dots, this.width, ...boxes].join();
    if (this.given?.key !== key) {
      const shares = this.given = { key, of: Array.from({ length: count }, () => new Float32Array(size)) };
      for (let k = 0; k < count; k++) {
        const [bx, by, wide, high] = boxes.subarray(4 * k, 4 * k + 4), small = Math.min(2 * Math.min(wide, high) / (pixel * 26 * dots), 1);
        for (let j = 0, at = 0; j < rows; j++) for (let i = 0; i < columns; i++, at++) {
          const dx = Math.max(Math.abs(x + (i * CELL - this.width / 2) * pixel - bx) - wide, 0) / pixel, dy = Math.max(Math.abs(y + (this.height / 2 - j * CELL) * pixel - by) - high, 0) / pixel, near = (dx * dx + dy * dy) / (dots * dots), close = 1 / (1 + near / 110);
          // What is small on the stage glows little, so that a row of coils is not one blaze.
          shares.of[k][at] = small * (0.36 * close * close + 0.11 / (1 + near / 1500));
        }
      }
    }
    const all = this.glows = this.glows?.length === 3 * size ? this.glows.fill(0) : new Float32Array(3 * size);
    this.given.of.forEach((share, k) => {
      const now = currents[2 * k] * c - currents[2 * k + 1] * s, [r, g, b] = (now > 0 ? LOOK.warm : LOOK.cool).map(v => v * Math.min(Math.abs(now), 1));
      if (now) for (let i = 0, at = 0; i < size; i++, at += 3) { all[at] += share[i] * r; all[at + 1] += share[i] * g; all[at + 2] += share[i] * b; }
    });
    return all;
  }

  // The glow along a row of dots, at the corners of its cells; on the hall it never runs over.
  haloRow(j, row, dim) {
    const at = (j + 0.5) / CELL, k = Math.floor(at), f = at - k, wide = 3 * (Math.ceil(this.width / CELL) + 1), from = k * wide;
    for (let i = 0; i < wide; i++) row[i] = Math.min(dim * (this.glows[from + i] * (1 - f) + this.glows[from + wide + i] * f), 200);
  }

  // Marks of the currents: a point towards the reader, a cross away, as large as the root of the current.
  stamp(x, y, pixel, most, c, s) {
    const { width, height, marks } = this, out = this.image.data, dots = most / 5.4, { warm, cool, dark } = LOOK;
    for (let m = 0; m < marks.length; m += 5) {
      const j = marks[m + 3] * c - marks[m + 4] * s, radius = Math.min(most, marks[m + 2] / pixel) * Math.sqrt(Math.min(Math.abs(j), 1));
      if (Math.abs(j) < 0.04 || radius < 0.22 * most) continue;
      const cx = width / 2 + (marks[m] - x) / pixel, cy = height / 2 - (marks[m + 1] - y) / pixel, rim = Math.min(0.8 * dots, 0.2 * radius), reach = radius + 1.5, ink = j > 0 ? warm : cool;
      for (let b = Math.max(Math.floor(cy - reach), 0); b < Math.min(cy + reach, height); b++) for (let a = Math.max(Math.floor(cx - reach), 0); a < Math.min(cx + reach, width); a++) {
        const px = a + 0.5 - cx, py = b + 0.5 - cy, d = Math.hypot(px, py), full = within(radius + 0.5 * rim - d);
        if (full === 0) continue;
        const inside = j > 0 ? d - 0.3 * radius : Math.max(0.7071 * Math.min(Math.abs(px - py), Math.abs(px + py)) - 0.13 * radius, 0.7071 * Math.max(Math.abs(px - py), Math.abs(px + py)) - 0.84 * radius);
        const shade = Math.max(within(-inside), 0.85 * within(d - radius + 0.5 * rim)), at = 4 * (b * width + a);
        for (let k = 0; k < 3; k++) out[at + k] += (ink[k] + (dark[k] - ink[k]) * shade - out[at + k]) * full;
      }
    }
  }

  // The ink, over whatever lies there.
  over(out) {
    const { width, height, ink, inked } = this, cells = Math.ceil(width / CELL);
    for (let j = 0, cell = 0; j < height; j++) for (let k = 0; k < cells; k++, cell++) {
      if (!inked[cell]) continue;
      for (let i = k * CELL, end = Math.min(i + CELL, width), at = 4 * (j * width + i); i < end; i++, at += 4) {
        const a = ink[at + 3] / 255;
        if (a) { out[at] += (ink[at] - out[at]) * a; out[at + 1] += (ink[at + 1] - out[at + 1]) * a; out[at + 2] += (ink[at + 2] - out[at + 2]) * a; }
      }
    }
  }

  // What was laid in a dot, counted from the bottom: flux density and current density over their scales, as phasors, and the matter; null outside the field.
  read(px, py) {
    const { width, height, isRound, left, mirror } = this, i = this.columns()[px], j = height - 1 - py, d = j * width + i;
    if (!this.piece[d]) return null;
    const b = new Float64Array(4), right = px + 0.5 > left, image = isRound && right !== mirror > 0 ? -1 : 1, sense = isRound && right ? -1 : 1;
    this.densityAt(d, i, j, b);
    return { density: [image * b[0], image * b[1], b[2], b[3]].map(v => v / this.densityScale), current: this.kind[d] ? [sense * this.jr[d], sense * this.ji[d]] : [0, 0], matter: this.kind[d] };
  }
}

function packed(r, g, b) { return 0xff000000 | (b + 0.5) << 16 | (g + 0.5) << 8 | (r + 0.5); }

function smooth(from, to, at) { const share = Math.min(Math.max((at - from) / (to - from), 0), 1); return share * share * (3 - 2 * share); }

// How much of a dot lies within an edge so far away.
function within(distance) { return Math.min(Math.max(0.5 + distance, 0), 1); }
