// One window: its socket, its stage, its dials; everything else hangs on these.
import { STAGES, parse } from './stages.js';
import { underboard } from './underboard.js';
import { Dials } from './dials.js';
import { Editor } from './editor.js';
import { Show } from './show.js';
import { takeAway } from './take.js';

export function open(key, file) { return new Bench(key, file); }

class Bench {
  constructor(key, file) {
    this.file = file;
    this.dials = new Dials(document.getElementById('dials'), message => this.send(message));
    this.editor = new Editor(document.getElementById('editor'), document.getElementById('slips'), file, message => this.send(message));
    this.show = new Show(this);
    takeAway(this, file);
    this.mount('section');
    document.getElementById('show').addEventListener('click', () => this.show.open());
    this.keys = e => {
      if (e.altKey || /^(TEXTAREA|SELECT)$/.test(e.target.tagName) || e.target.isContentEditable || (e.target.tagName === 'INPUT' && e.target.type !== 'range')) return;
      // Whatever moved last is taken back wherever the hand is, not in the text only.
      const key = e.key.toLowerCase();
      if ((e.ctrlKey || e.metaKey) && (key === 'z' || key === 'y')) { e.preventDefault(); if (key === 'y' || e.shiftKey) this.editor.redo(); else this.editor.undo(); return; }
      if (e.ctrlKey || e.metaKey || e.target.tagName === 'INPUT') return;
      if (e.key === 's' || e.key === 'S') { e.preventDefault(); this.show.open(); }
    };
    document.addEventListener('keydown', this.keys);
    // What is printed is fetched when it is, as the dials stand: printing waits for nothing that comes later.
    this.print = () => {
      const paper = document.getElementById('paper'), ask = new XMLHttpRequest();
      try { ask.open('GET', `/take/picture.svg?key=${key}&light=1&phase=${Math.round((this.stage.phase || 0) * 180 / Math.PI)}`, false); ask.send(); } catch { return; }
      paper.innerHTML = ask.status === 200 ? ask.responseText.replace(/^<\?xml.*?\?>/, '') : '';
    };
    addEventListener('beforeprint', this.print);
    const socket = this.socket = new WebSocket(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/desk?key=${key}`);
    socket.binaryType = 'arraybuffer';
    socket.onmessage = e => this.take(e.data);
    socket.onclose = () => this.lost();
    window.bench = this;
  }

  // Whether all is there and nothing will move under the hand: text, dials and a sharp stage.
  get settled() { const h = this.stage.field?.head; return !!h && !!this.stage.view && (h.isRefined || this.kind === 'box') && !!this.editor.view && this.dials.shape !== ''; }

  // Another kind of apparatus has another kind of stage.
  mount(kind) {
    if (this.kind === kind) return;
    this.show.end();
    this.stage?.close();
    const box = document.getElementById('stage');
    box.replaceChildren();
    this.kind = kind;
    const stage = this.stage = new STAGES[kind](box);
    stage.canDrag = true;
    underboard(document.getElementById('under'), stage);
    let asked = 0;
    stage.on('probe', (x, y) => { const now = performance.now(); clearTimeout(this.asking); this.asking = setTimeout(() => this.send({ t: 'probe', x, y }), now - asked > 150 ? 0 : 120); asked = now; });
    stage.on('moved', (name, dx, dy, dz) => this.send({ t: 'drag', id: 1, name, dx, dy, dz }));
    stage.on('plane', (axis, at) => this.send({ t: 'plane', axis, at }));
    stage.on('fly', seconds => this.send({ t: 'fly', seconds }));
    stage.on('drawn', stamp => { if (stamp) { this.latency = performance.now() - stamp; stage.waiting = 0; this.latencies?.push(this.latency); } });
  }

  send(message) { if (this.socket.readyState === WebSocket.OPEN) this.socket.send(JSON.stringify(message)); }

  take(data) {
    if (data instanceof ArrayBuffer) {
      const field = parse(data);
      if (field.kind === 'slice') { this.stage.setSlice?.(field.head.slice); return; }
      if (field.head.forShow) { this.show.keep(field); return; }
      this.mount(field.kind);
      document.getElementById('stage').classList.remove('none');
      // While a prepared state is shown, what the dials say waits behind it.
      if (!this.show.holds) { this.stage.set(field, this.fresh); this.fresh = false; }
      this.show.live(field);
      return;
    }
    const m = JSON.parse(data);
    switch (m.t) {
      case 'text': case 'updates': case 'pushed': case 'unsaved': case 'mistakes': case 'edit': this.editor.take(m); break;
      case 'dials': this.fresh = this.state !== m.state; this.state = m.state; this.dials.set(m); this.editor.known = m.known; this.show.about(m); break;
      case 'verdicts': this.show.verdicts(m.items); break;
      case 'probe': this.stage.setCylinder(m); break;
      case 'spot': this.stage.setSpot?.(m); break;
      case 'nostage': document.getElementById('stage').classList.add('none'); document.getElementById('stage').dataset.why = m.why; break;
      case 'working': this.working = m.what; break;
    }
  }

  // The server went: what was typed is kept, and the page comes back when the server does.
  async lost() {
    if (this.closed) return;
    document.getElementById('components-reconnect-modal').classList.add('shown');
    this.editor.keep();
    while (!this.closed) {
      await new Promise(done => setTimeout(done, 700));
      try { if ((await fetch('/alive', { cache: 'no-store' })).ok) { location.reload(); return; } } catch { /* not yet */ }
    }
  }

  focus(id) { document.getElementById(id)?.focus(); }

  close() {
    this.closed = true;
    document.removeEventListener('keydown', this.keys); removeEventListener('beforeprint', this.print);
    this.socket.close(); this.stage.close(); this.editor.close(); this.show.close();
  }
}
