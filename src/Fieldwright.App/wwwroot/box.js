// The stage of a flat box: its discs as they fly, lit by their speed, and beside them how the speeds are spread against what a gas of the same energy would show.
import { Board, INK, rampAt, digits, say, parseHead, text } from './board.js';

export function parseBox(buffer) { const { head, at } = parseHead(buffer); return { head, values: new Float32Array(buffer, at, 5 * head.discs) }; }

const BINS = 18, MEMORY = 400;

export class BoxStage extends Board {
  constructor(box) {
    super(box, 'The stage. Space lets the discs fly or holds them, plus and minus change how fast time passes, M measures.');
    this.layers = { flux: true, names: true }; this.pace = 1; this.spread = []; this.past = [];
    this.begin();
  }

  static switches = [['flux', 'Speeds'], ['names', 'Names']];

  // A frame comes for every moment asked for; nothing is asked for while they are held.
  set(field, fresh) {
    const first = !this.field, h = field.head;
    if (first || fresh || h.fresh || this.field.values.length !== field.values.length) { this.spread = []; this.past = []; }
    this.field = field; this.waiting = h.stamp;
    this.remember(field);
    if (first || fresh) { this.fit(); this.said.textContent = `${h.discs} discs in a box ${say.length(h.box.width)} wide.`; }
    this.dirty = true; this.asked = false; this.arrived?.(); this.arrived = null;
    if (first) { if (!this.still.matches) this.play(true); this.tell('phase', 0, this.playing); }
    this.tell('field', h);
  }

  remember({ head, values }) {
    const small = head.box.radius, speeds = [];
    for (let i = 0; i < values.length; i += 5) if (Math.abs(values[i + 4] - small) < 1e-6) speeds.push(Math.hypot(values[i + 2], values[i + 3]));
    this.spread.push(speeds); if (this.spread.length > MEMORY) this.spread.shift();
    this.past.push([head.now, head.lid ?? NaN, speeds.reduce((s, v) => s + v * v, 0) / Math.max(speeds.length, 1)]); if (this.past.length > 900) this.past.shift();
  }

  // The next frame, so much later.
  next(seconds) { return new Promise(done => { this.arrived = done; this.tell('fly', seconds); }); }

  fit() { this.view = { scale: 1 }; this.fitted = true; this.dirty = true; }
  zoom(f) { this.pace = Math.min(Math.max(this.pace * f, 0.05), 4); this.tell('field', this.field.head); }
  play(on) { this.playing = on; this.last = null; this.asked = false; this.tell('phase', 0, on); }

  tick(now) {
    if (!this.field || !this.view) return;
    // The next moment is asked for when the last one has come; one that was lost is asked for again.
    if (this.playing && (!this.asked || now - this.last > 2000)) {
      const passed = this.last ? (now - this.last) / 1000 : 0.016;
      this.asked = true; this.last = now;
      this.tell('fly', Math.min(0.1, this.pace * Math.min(passed, 0.1)));
    }
    if (this.dirty) this.draw();
  }

  draw() {
    this.dirty = false;
    const { head: h, values: v } = this.field, g = this.lit(0.42), k = this.textScale;
    // No taller than the discs and the lid need.
    let top = h.box.height;
    if (h.lid !== null) { this.ceiling = Math.max(1.25 * h.lid, (this.ceiling || 0) * 0.999); top = Math.min(top, this.ceiling); }
    const side = this.layers.flux ? 0.6 : 0.94, scale = Math.min(side * this.width / h.box.width, 0.88 * this.height / top), left = 0.5 * (side + 0.02) * this.width - 0.5 * h.box.width * scale, base = this.height / 2 + 0.5 * top * scale;
    const X = x => left + x * scale, Y = y => base - y * scale;
    this.at = { left, base, scale };
    const rms = Math.sqrt(this.past.at(-1)[2]) || 1;
    const disc = (i, x) => {
      const [y, vx, vy, r] = [v[i + 1], v[i + 2], v[i + 3], v[i + 4]], speed = Math.hypot(vx, vy) / rms, [cr, cg, cb] = rampAt(0.22 + 0.36 * speed), moment = 1.6 * h.box.radius / rms;
      g.strokeStyle = 'rgba(255,180,84,.55)'; g.lineWidth = Math.max(1, 0.22 * h.box.radius * scale); g.beginPath(); g.moveTo(X(x), Y(y)); g.lineTo(X(x + vx * moment), Y(y + vy * moment)); g.stroke();
      g.fillStyle = `rgb(${cr | 0} ${cg | 0} ${cb | 0})`; g.strokeStyle = 'rgba(240,244,249,.75)'; g.lineWidth = 1; g.beginPath(); g.arc(X(x), Y(y), r * scale, 0, 7); g.fill(); g.stroke();
    };
    // Where the sides are joined, a disc on the joint is seen on both sides of it.
    const joined = h.box.isJoined, w = h.box.width;
    if (joined) { g.save(); g.beginPath(); g.rect(X(0), 0, w * scale, this.height); g.clip(); }
    for (let i = 0; i < v.length; i += 5) {
      const x = v[i], near = 2 * v[i + 4];
      disc(i, x);
      if (joined && (x < near || x > w - near)) disc(i, x < near ? x + w : x - w);
    }
    if (joined) g.restore();
    g.lineCap = 'round';
    const line = (x1, y1, x2, y2, ink, width) => { g.strokeStyle = ink; g.lineWidth = width * k; g.beginPath(); g.moveTo(x1, y1); g.lineTo(x2, y2); g.stroke(); };
    if (joined) g.setLineDash([5 * k, 5 * k]);
    line(X(0), Y(0), X(0), Y(top), INK.edge, joined ? 1 : 2.2); line(X(w), Y(0), X(w), Y(top), INK.edge, joined ? 1 : 2.2);
    g.setLineDash([]);
    line(X(0), Y(h.floor), X(h.box.width), Y(h.floor), h.box.shakes ? INK.warm : INK.edge, h.box.shakes ? 3.4 : 2.2);
    if (h.lid !== null) line(X(0), Y(h.lid), X(h.box.width), Y(h.lid), INK.cool, 4.2); else if (!h.box.isOpen) line(X(0), Y(top), X(h.box.width), Y(top), INK.edge, 2.2);
    this.ink(X, Y, top);
    this.put();
    this.frames++;
    this.tell('drawn', this.waiting);
  }

  ink(X, Y, top) {
    const c = this.ground(), h = this.field.head, k = this.textScale;
    if (this.layers.names) {
      if (h.lid !== null) text(c, `lid ${say.length(h.lid)}`, X(h.box.width) + 10 * k, Y(h.lid) + 5 * k, 14 * k, true, INK.cool, 'left');
      if (h.box.shakes) text(c, 'shaken floor', X(h.box.width) + 10 * k, Y(0) + 5 * k, 14 * k, true, INK.warm, 'left');
      if (h.escaped) text(c, `${h.escaped} have left`, X(0), Y(top) - 10 * k, 14 * k, true, INK.text, 'left');
    }
    if (this.layers.flux) this.speeds(c, k);
    this.tape(c);
  }

  // Columns: how often each speed was met in the last few hundred moments. Line: the spread of speeds of a flat gas with the same mean energy.
  speeds(c, k) {
    const all = this.spread.flat(), square = all.reduce((s, v) => s + v * v, 0) / Math.max(all.length, 1), rms = Math.sqrt(square) || 1, most = 2.6 * rms, step = most / BINS, counts = new Array(BINS).fill(0);
    for (const v of all) if (v < most) counts[Math.floor(v / step)]++;
    const x0 = 0.69 * this.width, x1 = 0.96 * this.width, y1 = 0.8 * this.height, y0 = 0.42 * this.height, gas = v => 2 * v / square * Math.exp(-v * v / square), top = Math.max(gas(rms / Math.SQRT2) * step, ...counts.map(n => n / all.length)) * 1.08;
    text(c, 'How the speeds are spread', x0, y0 - 40 * k, 15 * k, true, INK.text, 'left');
    text(c, `line: a flat gas of the same energy`, x0, y0 - 20 * k, 12.4 * k, false, INK.quiet, 'left');
    counts.forEach((n, i) => { const high = (y1 - y0) * n / Math.max(all.length, 1) / top, w = (x1 - x0) / BINS, [r, g, b] = rampAt(0.22 + 0.36 * (i + 0.5) * step / rms); c.fillStyle = `rgb(${r | 0} ${g | 0} ${b | 0})`; c.fillRect(x0 + i * w + 1, y1 - high, w - 2, high); });
    c.strokeStyle = INK.warm; c.lineWidth = 2.2 * k; c.beginPath(); for (let i = 0; i <= 60; i++) { const v = most * i / 60, y = y1 - (y1 - y0) * gas(v) * step / top; if (i) c.lineTo(x0 + (x1 - x0) * i / 60, y); else c.moveTo(x0, y); } c.stroke();
    c.strokeStyle = INK.leader; c.lineWidth = 1; c.beginPath(); c.moveTo(x0, y1); c.lineTo(x1, y1); c.stroke();
    text(c, '0', x0, y1 + 16 * k, 12.4 * k, false, INK.quiet, 'center'); text(c, most < 1 ? `${Math.round(1000 * most)} mm/s` : `${most.toFixed(1)} m/s`, x1, y1 + 16 * k, 12.4 * k, false, INK.quiet, 'right');
    const m = this.field.head.box.mass;
    text(c, `mean energy ${digits(0.5e6 * m * square, 3)} µJ a disc`, x0, y1 + 38 * k, 13 * k, true, INK.text, 'left');
    text(c, `${digits(this.field.head.now, 3)} s since it was set going`, x0, y1 + 58 * k, 12.4 * k, false, INK.quiet, 'left');
  }

  canProbe = false;
  toPlane(sx, sy) { const a = this.at; return a ? [(sx - a.left) / a.scale, (a.base - sy) / a.scale] : null; }
  spot([x, y]) { const a = this.at; return [a.left + x * a.scale, a.base - y * a.scale]; }

  legend() { return `<span>lighter discs are faster; each tail is the way of the next moment</span><span>time passes ${this.pace === 1 ? 'as it does' : `${digits(this.pace, 2)} times as fast`}</span>`; }
}
