// The stage of what has no place in space: its drawing, to be moved and enlarged. It is drawn as SVG, so that its letters stay letters.
import { Board, parseHead } from './board.js';

export function parseDrawing(buffer) { return { head: parseHead(buffer).head }; }

export class DrawnStage extends Board {
  constructor(box) {
    super(box, 'The drawing of the board. Arrow keys move it, plus and minus zoom, 0 shows all.');
    this.layers = {};
    this.sheet = document.createElement('div');
    this.sheet.className = 'sheet-of-stage';
    this.paint.replaceWith(this.sheet);
    this.begin();
  }

  static switches = [];
  static measures = false;
  canProbe = false; free = 'grab';

  set(field, fresh) {
    const first = !this.field;
    this.field = field; this.waiting = field.head.stamp;
    this.sheet.innerHTML = field.head.svg;
    const svg = this.svg = this.sheet.firstElementChild;
    this.whole = [svg.viewBox.baseVal.width, svg.viewBox.baseVal.height];
    svg.removeAttribute('width'); svg.removeAttribute('height');
    if (first || fresh || this.fitted) this.fit();
    this.dirty = true;
    this.tell('field', field.head);
  }

  get all() { return Math.min(this.width / this.whole[0], this.height / this.whole[1]); }
  fit() { this.view = { x: this.whole[0] / 2, y: this.whole[1] / 2, scale: this.all }; this.fitted = true; this.dirty = true; }

  zoom(factor, sx = this.width / 2, sy = this.height / 2) {
    const v = this.view, [x, y] = this.toPlane(sx, sy);
    v.scale = Math.min(Math.max(v.scale * factor, 0.5 * this.all), 12 * this.all);
    v.x = x - (sx - this.width / 2) / v.scale; v.y = y - (sy - this.height / 2) / v.scale;
    this.fitted = false; this.dirty = true;
  }

  pan(dx, dy) { this.view.x -= dx / this.view.scale; this.view.y -= dy / this.view.scale; this.fitted = false; this.dirty = true; }
  toPlane(sx, sy) { const v = this.view; return [v.x + (sx - this.width / 2) / v.scale, v.y + (sy - this.height / 2) / v.scale]; }
  tick() { if (this.dirty && this.view) this.draw(); }

  draw() {
    const v = this.view, w = this.width / v.scale, h = this.height / v.scale;
    this.dirty = false;
    this.svg.setAttribute('viewBox', `${v.x - w / 2} ${v.y - h / 2} ${w} ${h}`);
    this.frames++;
    this.tell('drawn', this.waiting);
  }

  legend() { return `<span>${/<desc>([^<]*)/.exec(this.field.head.svg)?.[1] ?? ''}</span>`; }
}
