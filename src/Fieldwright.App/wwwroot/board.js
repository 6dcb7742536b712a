// What every stage shares: its canvases, its clock, its ink, what it tells the bench. Then: how numbers and words are set.
export const INK = { edge: '#cdd6e0', text: '#f0f4f9', quiet: '#b4bfcc', leader: '#8b98a8', warm: '#ffb454', cool: '#58a6ff', mark: '#0b0e13', rim: '#10151c', force: '#8fe3c2' };

// Even to the eye in OKLab, dark to light, so that it reads without colour too.
const RAMP = [[0x12, 0x17, 0x20], [0x2c, 0x33, 0x63], [0x63, 0x4c, 0x93], [0xa8, 0x7d, 0xb5], [0xdf, 0xbf, 0xd6], [0xf8, 0xef, 0xf4]];

export function rampCss() { return `linear-gradient(90deg, ${[0, .2, .4, .6, .8, 1].map(t => `rgb(${rampAt(t).map(v => Math.round(v)).join(' ')}) ${100 * t * t}%`).join(', ')})`; }

export function rampAt(share) {
  const at = Math.min(Math.max(share, 0), 1) * (RAMP.length - 1), k = Math.min(Math.floor(at), RAMP.length - 2), f = at - k;
  return RAMP[k].map((v, i) => v + f * (RAMP[k + 1][i] - v));
}

export function roundStep(about) {
  if (!(about > 0)) return 1;
  const power = Math.pow(10, Math.floor(Math.log10(about)));
  return power * [1, 1.5, 2, 3, 5, 7, 10].reduce((a, b) => Math.abs(Math.log(about / power / b)) < Math.abs(Math.log(about / power / a)) ? b : a);
}

export function digits(value, count) {
  if (value === 0) return '0';
  const places = Math.max(0, count - 1 - Math.floor(Math.log10(Math.abs(value))));
  return (places > 8 ? value.toExponential(count - 1) : Number(value.toFixed(places)).toString()).replace('-', '−');
}

export const say = {
  flux: wb => Math.abs(wb) >= 1e-3 ? digits(wb * 1e3, 3) + ' mWb' : Math.abs(wb) >= 1e-6 ? digits(wb * 1e6, 3) + ' µWb' : digits(wb * 1e9, 3) + ' nWb',
  density: t => Math.abs(t) >= 0.1 ? digits(t, 3) + ' T' : Math.abs(t) >= 1e-4 ? digits(t * 1e3, 3) + ' mT' : digits(t * 1e6, 3) + ' µT',
  current: a => digits(a * 1e-6, 3) + ' A/mm²',
  length: m => Math.abs(m) >= 1 ? digits(m, 4) + ' m' : (1000 * m).toFixed(1).replace('-', '−') + ' mm',
  force: n => Math.abs(n) >= 0.1 ? digits(n, 3) + ' N' : Math.abs(n) >= 1e-4 ? digits(n * 1e3, 3) + ' mN' : Math.abs(n) >= 1e-9 ? digits(n * 1e6, 3) + ' µN' : '0 N',
};

// Dots a canvas has at most.
export const MOST = 9e6;

// Whether there is no graphics card to draw with, or a processor that imitates one: then everything is drawn by the processor straight away, which takes it a tenth of the time.
let stands = null;
export function byProcessor() {
  if (stands !== null) return stands;
  const gl = document.createElement('canvas').getContext('webgl2'), known = gl?.getExtension('WEBGL_debug_renderer_info');
  stands = !gl?.getExtension('EXT_color_buffer_float') || /swiftshader|llvmpipe|softpipe|software|basic render/i.test(known ? gl.getParameter(known.UNMASKED_RENDERER_WEBGL) : gl.getParameter(gl.RENDERER));
  gl?.getExtension('WEBGL_lose_context')?.loseContext();
  return stands;
}

// A message's header, and where its numbers begin.
export function parseHead(buffer) {
  const length = new DataView(buffer).getInt32(0, true);
  return { head: JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length))), at: 4 + length };
}

export class Board {
  constructor(box, keys) {
    this.box = box;
    this.paint = document.createElement('canvas');
    // Takes what the hand does; it is never drawn.
    this.over = document.createElement('div');
    this.over.className = 'over';
    this.readout = document.createElement('div');
    this.readout.className = 'readout'; this.readout.hidden = true; this.readout.setAttribute('role', 'status');
    this.said = document.createElement('p'); this.said.className = 'unseen'; this.said.id = box.id + '-said';
    this.over.tabIndex = 0;
    this.over.setAttribute('role', 'application');
    this.over.setAttribute('aria-roledescription', 'stage');
    this.over.setAttribute('aria-label', keys);
    this.over.setAttribute('aria-describedby', this.said.id);
    box.append(this.paint, this.over, this.readout, this.said);
    this.phase = 0; this.playing = false; this.period = 4000; this.quality = 1; this.textScale = 1;
    this.view = null; this.field = null; this.tool = 'probe'; this.probe = null; this.measuring = null; this.dirty = true;
    this.listeners = {}; this.frames = 0; this.drag = null;
    this.still = matchMedia('(prefers-reduced-motion: reduce)');
  }

  // Called when all is there.
  begin() {
    this.watch = new ResizeObserver(() => this.resize()); this.watch.observe(this.box);
    this.hand();
    this.resize();
    const tick = now => { if (this.ended) return; this.tick(now); requestAnimationFrame(tick); };
    requestAnimationFrame(tick);
  }

  on(name, listener) { this.listeners[name] = listener; return this; }
  tell(name, ...words) { this.listeners[name]?.(...words); }
  close() { this.ended = true; this.watch?.disconnect(); }

  measure() {
    this.width = Math.max(this.box.clientWidth, 50); this.height = Math.max(this.box.clientHeight, 50);
    const dots = this.inkDots = Math.min(devicePixelRatio || 1, 2, Math.sqrt(MOST / (this.width * this.height)));
    this.dotsWide = Math.round(this.width * dots); this.dotsHigh = Math.round(this.height * dots);
    this.textScale = Math.min(Math.max(Math.min(this.width / 860, this.height / 520), 0.98), 2.6) * (this.big ? 1.35 : 1);
  }

  resize() { this.measure(); this.dirty = true; if (this.fitted && this.field) this.fit(); this.tick(performance.now()); }

  play(on) { this.playing = on && this.field?.head.frequency > 0; this.dirty = true; this.last = null; this.tell('phase', this.phase, this.playing); }
  setPhase(radians) { this.phase = radians; this.dirty = true; this.tell('phase', this.phase, this.playing); }

  // Ready to draw on a canvas, in the stage's own lengths.
  pen(canvas, opaque = true) {
    if (canvas.width !== this.dotsWide || canvas.height !== this.dotsHigh) { canvas.width = this.dotsWide; canvas.height = this.dotsHigh; }
    const c = canvas.getContext('2d', { alpha: !opaque, willReadFrequently: byProcessor() });
    c.setTransform(this.inkDots, 0, 0, this.inkDots, 0, 0);
    c.lineJoin = c.lineCap = 'round';
    return c;
  }

  // What the hand and the keys do on every stage. A stage says where on it a spot of the screen lies (toPlane, null for nowhere) and where a place is seen (spot), what a drag takes hold of (grab) and does (pull, let),
  // what arrow keys do when no probe is out (steer), and whether it has a probe (canProbe).
  hand() {
    const o = this.over, spot = e => { const r = o.getBoundingClientRect(); return [e.clientX - r.left, e.clientY - r.top]; };
    const ready = () => this.field && this.view;
    o.addEventListener('wheel', e => { e.preventDefault(); if (ready()) this.zoom(Math.exp(-0.0016 * e.deltaY * (e.deltaMode ? 18 : 1)), ...spot(e)); }, { passive: false });
    o.addEventListener('dblclick', () => ready() && this.fit(true));
    o.addEventListener('pointerdown', e => {
      if (!ready() || e.button > 1) return;
      const [sx, sy] = spot(e);
      o.setPointerCapture(e.pointerId);
      if (this.tool === 'measure') { const at = this.toPlane(sx, sy); if (at) this.measuring = [at, null]; this.dirty = true; return; }
      this.drag = { x: sx, y: sy, fromX: sx, fromY: sy, sx: 0, sy: 0, pans: e.shiftKey || e.button === 1 };
      this.drag.body = this.canDrag && !this.drag.pans ? this.bodyAt(sx, sy)?.name ?? null : null;
    });
    o.addEventListener('pointermove', e => {
      if (!ready()) return;
      const [sx, sy] = spot(e);
      if (this.tool === 'measure' && this.measuring && e.buttons) { const at = this.toPlane(sx, sy); if (at) this.measuring[1] = at; this.dirty = true; return; }
      if (this.drag) {
        this.readout.hidden = true;
        this.probe = null;
        if (this.drag.body) this.carry(sx, sy); else this.pull(sx - this.drag.x, sy - this.drag.y, this.drag.pans);
        this.drag.x = sx; this.drag.y = sy; this.dirty = true;
        return;
      }
      const body = this.canDrag && this.tool !== 'measure' ? this.bodyAt(sx, sy) : null;
      if (this.hover !== (body?.name ?? null)) { this.hover = body?.name ?? null; this.dirty = true; }
      o.style.cursor = this.tool === 'measure' ? 'crosshair' : body ? this.grip() : this.free;
      if (this.silent || !this.canProbe || this.keyProbe) return;
      const at = this.probeAt(sx, sy);
      if (at) this.setProbe(...at); else if (this.probe) this.unprobe();
    });
    o.addEventListener('pointerup', () => {
      const drag = this.drag; this.drag = null; this.dirty = true;
      if (drag?.body && Math.hypot(drag.sx, drag.sy) > 2) this.let(drag);
    });
    o.addEventListener('pointercancel', () => { this.drag = null; this.dirty = true; });
    o.addEventListener('pointerleave', () => { this.hover = null; this.dirty = true; if (!this.keyProbe) this.unprobe(); });
    o.addEventListener('keydown', e => this.key(e));
    o.addEventListener('blur', () => { this.keyProbe = false; });
  }

  key(e) {
    if (!this.field || !this.view || e.ctrlKey || e.metaKey || e.altKey) return;
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key], letter = e.key.toLowerCase();
    if (way && this.keyProbe) { const step = (e.shiftKey ? 1 : 12) / this.view.scale; this.setProbe(this.probe[0] + way[0] * step, this.probe[1] + way[1] * step); }
    else if (way) this.steer(way, e.shiftKey);
    else if (e.key === '+' || e.key === '=') this.zoom(1.2);
    else if (e.key === '-') this.zoom(1 / 1.2);
    else if (e.key === '0') this.fit(true);
    else if (letter === 'p' && this.canProbe) { this.keyProbe = !this.keyProbe; if (this.keyProbe) this.setProbe(...(this.probe ?? this.middle())); else this.unprobe(); }
    else if (letter === 'm' && this.constructor.measures) {
      if (this.keyProbe) { this.measuring = this.measuring?.[0] && !this.measuring[1] ? [this.measuring[0], [...this.probe]] : [[...this.probe], null]; this.dirty = true; }
      else this.tell('tool', this.tool === 'measure' ? 'probe' : 'measure');
    }
    else if (e.key === ' ') this.tell('toggle');
    else return;
    e.preventDefault();
  }

  static measures = true;
  canProbe = true; free = 'default'; keyProbe = false; hover = null;
  grip() { return 'move'; }
  bodyAt() { return null; }
  carry(sx, sy) { this.drag.sx = sx - this.drag.fromX; this.drag.sy = sy - this.drag.fromY; }
  let() {}
  pull(dx, dy) { this.pan(dx, dy); }
  pan() {}
  steer([x, y], fine) { const step = fine ? 4 : 48; this.pan(-x * step, y * step); }
  probeAt(sx, sy) { return this.toPlane(sx, sy); }
  setProbe(x, y) { this.probe = [x, y]; this.dirty = true; this.tell('probe', x, y); this.showReadout(); }
  unprobe() { this.probe = null; this.readout.hidden = true; this.dirty = true; }
  // Whether what the server said of a place is said of where the probe is now.
  isNear(answer) { return !!answer && !!this.probe && Math.hypot(answer.x - this.probe[0], answer.y - this.probe[1]) * this.view.scale < 3; }
  setCylinder(answer) { this.cylinder = answer; this.dirty = true; this.showReadout(); }
  showReadout() {}

  tape(c) {
    if (!this.measuring?.[0]) return;
    const [a, b] = this.measuring, [x1, y1] = this.spot(a), [x2, y2] = this.spot(b || a), k = this.textScale;
    c.strokeStyle = c.fillStyle = INK.warm; c.lineWidth = 2 * k; c.beginPath(); c.moveTo(x1, y1); c.lineTo(x2, y2); c.stroke();
    for (const [x, y] of [[x1, y1], [x2, y2]]) { c.beginPath(); c.arc(x, y, 4 * k, 0, 7); c.fill(); }
    if (b) text(c, say.length(Math.hypot(b[0] - a[0], b[1] - a[1])), (x1 + x2) / 2, (y1 + y2) / 2 - 9 * k, 15 * k, true, INK.warm, 'center');
  }

  // The canvas of stages that are drawn flat, with the hall's light on it. Where a processor draws, it does so on a sheet of its own and puts the whole on the stage at once.
  lit(share = 0.5) {
    const c = this.ground(), key = `${this.dotsWide} ${this.dotsHigh} ${share}`;
    if (this.hall?.key !== key) {
      this.hall = document.createElement('canvas'); this.hall.key = key;
      const g = this.pen(this.hall), light = g.createRadialGradient(share * this.width, this.height / 2, 0, share * this.width, this.height / 2, 0.66 * Math.max(this.width, this.height));
      light.addColorStop(0, '#1d2632'); light.addColorStop(1, '#0d1117'); g.fillStyle = light; g.fillRect(0, 0, this.width, this.height);
    }
    c.drawImage(this.hall, 0, 0, this.width, this.height);
    return c;
  }

  ground() { return this.pen(byProcessor() ? this.easel ??= document.createElement('canvas') : this.paint); }

  // What was drawn since the hall was lit, on the stage.
  put() {
    if (!this.easel) return;
    const { width, height } = this.easel;
    if (this.paint.width !== width || this.paint.height !== height) { this.paint.width = width; this.paint.height = height; }
    this.paint.getContext('2d', { alpha: false }).putImageData(this.easel.getContext('2d').getImageData(0, 0, width, height), 0, 0);
  }

  showAt(lines, sx, sy) {
    this.readout.innerHTML = lines.join('<br>');
    this.readout.hidden = false;
    const w = this.readout.offsetWidth, h = this.readout.offsetHeight;
    this.readout.style.transform = `translate(${Math.min(Math.max(sx + 24 + w > this.width ? sx - w - 24 : sx + 24, 4), this.width - w - 4)}px, ${Math.min(Math.max(sy - h - 14, 4), this.height - h - 4)}px)`;
  }
}

export function arrow(c, x1, y1, x2, y2, colour, width, haloed) {
  const length = Math.hypot(x2 - x1, y2 - y1);
  if (length < 1) return;
  const dx = (x2 - x1) / length, dy = (y2 - y1) / length, head = Math.min(3.4 * width + 3, length);
  const draw = (style, grow) => {
    c.strokeStyle = c.fillStyle = style; c.lineWidth = width + grow;
    c.beginPath(); c.moveTo(x1, y1); c.lineTo(x2 - head * dx, y2 - head * dy); c.stroke();
    c.beginPath(); c.moveTo(x2 + grow * dx, y2 + grow * dy); c.lineTo(x2 - head * dx - (0.5 * head + grow) * dy, y2 - head * dy + (0.5 * head + grow) * dx); c.lineTo(x2 - head * dx + (0.5 * head + grow) * dy, y2 - head * dy - (0.5 * head + grow) * dx); c.closePath(); c.fill();
  };
  if (haloed) draw('rgba(16,21,28,.8)', 3);
  draw(colour, 0);
}

function font(size, bold) { return `${bold ? 700 : 400} ${size}px Lato, "Source Sans 3", sans-serif`; }
export function textWidth(c, words, size, bold) { c.font = font(size, bold); return c.measureText(words).width; }
export function text(c, words, x, y, size, bold, colour, align) {
  c.font = font(size, bold); c.textAlign = align; c.lineJoin = 'round';
  c.strokeStyle = 'rgba(13,17,23,.82)'; c.lineWidth = 0.28 * size; c.strokeText(words, x, y);
  c.fillStyle = colour; c.fillText(words, x, y);
}
export function wrap(c, words, size, width) {
  const lines = [];
  for (const word of words.split(' ')) { if (lines.length && textWidth(c, lines.at(-1) + ' ' + word, size, false) <= width) lines[lines.length - 1] += ' ' + word; else lines.push(word); }
  return lines;
}

// Labels in two columns at the edges: a name, what is said of it, and a quiet line to the foot it belongs to.
export function columns(c, labels, k, width, height) {
  const size = 15 * k, small = 12.4 * k;
  for (const side of [0, 1]) {
    const column = labels.filter(l => l.side === side);
    for (const label of column) { label.lines = label.details.flatMap(d => wrap(c, d, small, 158 * k)); label.height = size + label.lines.length * small * 1.3 + 12 * k; }
    column.sort((a, b) => a.foot[1] - b.foot[1] || a.foot[0] - b.foot[0]);
    let y = 10;
    for (const label of column) { label.y = Math.max(y, label.foot[1] - size); y = label.y + label.height; }
    let over = y - (height - 10);
    for (let i = column.length - 1; i >= 0 && over > 0; i--) { const room = column[i].y - (i ? column[i - 1].y + column[i - 1].height : 10); column.slice(i).forEach(l => l.y -= Math.min(over, Math.max(room, 0))); over -= Math.max(room, 0); }
    const x = side ? width - 14 * k : 14 * k, align = side ? 'right' : 'left';
    for (const label of column) {
      const w = textWidth(c, label.name, size, true), edge = side ? x - w - 8 * k : x + w + 8 * k, base = label.y + size;
      c.strokeStyle = INK.leader; c.lineWidth = 1; c.globalAlpha = .75;
      c.beginPath(); c.moveTo(edge, base - 5 * k); c.lineTo(side ? edge - 12 * k : edge + 12 * k, base - 5 * k); c.lineTo(label.foot[0], label.foot[1]); c.stroke();
      c.fillStyle = INK.text; c.beginPath(); c.arc(label.foot[0], label.foot[1], 2.2 * k, 0, 7); c.fill(); c.globalAlpha = 1;
      const wide = Math.max(w, ...label.lines.map(l => textWidth(c, l, small, false))) + 14 * k;
      c.fillStyle = 'rgba(16,21,28,.62)'; c.beginPath(); c.roundRect(side ? x - wide + 7 * k : x - 7 * k, label.y - 4 * k, wide, label.height, 6 * k); c.fill();
      text(c, label.name, x, base, size, true, INK.text, align);
      label.lines.forEach((line, i) => text(c, line, x, base + (i + 1) * small * 1.3, small, false, INK.quiet, align));
    }
  }
}

export function escape(words) { return words.replace(/[&<>"]/g, c => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' }[c])); }

// A small cylinder seen end on: its spin as a curved arrow, its push as a straight one.
export function smallCylinder(c, x, y, w, k) {
  const r = 9 * k;
  c.fillStyle = 'rgba(57,66,78,.95)'; c.strokeStyle = INK.force; c.lineWidth = 1.6 * k;
  c.beginPath(); c.arc(x, y, r, 0, 7); c.fill(); c.stroke();
  const roundness = w.major > 0 ? w.minor / w.major : 0, size = Math.hypot(...w.push);
  if (roundness > 0.02) {
    const sense = w.torque > 0 ? -1 : 1, sweep = 1.2 + 4 * Math.min(roundness, 1), from = -Math.PI / 2, to = from + sense * sweep;
    c.strokeStyle = INK.force; c.lineWidth = 2 * k; c.beginPath(); c.arc(x, y, r + 6 * k, from, to, sense < 0); c.stroke();
    const px = x + (r + 6 * k) * Math.cos(to), py = y + (r + 6 * k) * Math.sin(to);
    arrow(c, px + sense * 2 * Math.sin(to), py - sense * 2 * Math.cos(to), px - sense * 5 * k * Math.sin(to), py + sense * 5 * k * Math.cos(to), INK.force, 2 * k);
  }
  if (size > 0) arrow(c, x, y, x + 40 * k * w.push[0] / size, y - 40 * k * w.push[1] / size, INK.force, 2.4 * k, true);
}
