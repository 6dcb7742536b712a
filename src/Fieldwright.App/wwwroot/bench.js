// One window: its socket, its stage, its dials; everything else hangs on these.
import { Stage, parseField, rampCss, say } from './stage.js';
import { underboard } from './underboard.js';
import { Dials } from './dials.js';
import { Editor } from './editor.js';
import { Show } from './show.js';
import { takeAway } from './take.js';

export function open(key, file) { return new Bench(key, file); }

class Bench {
  constructor(key, file) {
    this.file = file;
    const stage = this.stage = new Stage(document.getElementById('stage'));
    stage.canDrag = true;
    this.dials = new Dials(document.getElementById('dials'), message => this.send(message));
    this.under = underboard(document.getElementById('under'), stage, { rampCss, say });
    this.editor = new Editor(document.getElementById('editor'), document.getElementById('slips'), file, message => this.send(message));
    this.show = new Show(this);
    takeAway(stage, file);
    let asked = 0;
    stage.on('probe', (x, y) => { const now = performance.now(); clearTimeout(this.asking); this.asking = setTimeout(() => this.send({ t: 'probe', x, y }), now - asked > 150 ? 0 : 120); asked = now; });
    stage.on('moved', (name, dx, dy) => this.send({ t: 'drag', id: 1, name, dx, dy }));
    stage.on('drawn', stamp => { if (stamp) { this.latency = performance.now() - stamp; stage.waiting = 0; this.latencies?.push(this.latency); } });
    document.getElementById('show').addEventListener('click', () => this.show.open());
    this.keys = e => {
      if (e.ctrlKey || e.metaKey || e.altKey || /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName) || e.target.isContentEditable) return;
      if (e.key === 's' || e.key === 'S') { e.preventDefault(); this.show.open(); }
    };
    document.addEventListener('keydown', this.keys);
    const socket = this.socket = new WebSocket(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/desk?key=${key}`);
    socket.binaryType = 'arraybuffer';
    socket.onmessage = e => this.take(e.data);
    socket.onclose = () => this.lost();
    window.bench = this;
  }

  send(message) { if (this.socket.readyState === WebSocket.OPEN) this.socket.send(JSON.stringify(message)); }

  take(data) {
    if (data instanceof ArrayBuffer) {
      const field = parseField(data);
      if (field.head.forShow) this.show.keep(field);
      else { this.stage.set(field, this.fresh); this.fresh = false; this.show.live(field); }
      return;
    }
    const m = JSON.parse(data);
    switch (m.t) {
      case 'text': case 'updates': case 'pushed': case 'unsaved': case 'mistakes': case 'edit': this.editor.take(m); break;
      case 'dials': this.fresh = this.state !== m.state; this.state = m.state; this.dials.set(m); this.editor.known = m.known; this.show.about(m); break;
      case 'verdicts': this.show.verdicts(m.items); break;
      case 'probe': this.stage.setCylinder(m); break;
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
    document.removeEventListener('keydown', this.keys);
    this.socket.close(); this.stage.close(); this.editor.close(); this.show.close();
  }
}
