// The show: the stage and what is said to the audience, nothing else; driven by keys or a presenter's clicker.
export class Show {
  constructor(bench) {
    this.bench = bench; this.kept = new Map(); this.items = []; this.states = []; this.at = 0; this.black = false;
    this.box = document.createElement('div');
    this.box.className = 'show'; this.box.hidden = true; this.box.tabIndex = -1;
    this.box.setAttribute('role', 'dialog'); this.box.setAttribute('aria-modal', 'true'); this.box.setAttribute('aria-label', 'Show. Arrow keys or the clicker step, B darkens, space plays, Escape ends.');
    this.box.innerHTML = '<div class="show-stage"></div><div class="show-words"><p class="show-name"></p><h2 class="show-state"></h2><ul class="show-claims"></ul></div><div class="show-steps" aria-hidden="true"></div><p class="unseen" role="status"></p>';
    document.body.append(this.box);
    this.keys = e => this.key(e);
    this.left = () => { if (!document.fullscreenElement && this.isOpen && this.wasFull) this.end(); };
    document.addEventListener('fullscreenchange', this.left);
  }

  about(m) { this.name = m.name ?? ''; this.states = (m.states ?? []).map(s => s.name); if (this.isOpen) this.render(); else this.kept.clear(); }
  verdicts(items) { this.items = items ?? []; if (this.isOpen) this.render(); }
  keep(field) { this.kept.set(field.head.state, field); if (this.isOpen && this.step().state === field.head.state) this.place(); }
  live(field) { this.last = field; if (this.isOpen && !this.states.length && this.bench.kind !== 'box') this.place(); }
  get holds() { return this.isOpen && this.states.length > 0 && this.bench.kind !== 'box'; }

  // Each state comes on with its name; each click then says one of its claims.
  steps() {
    const states = this.states.length ? this.states : [null], steps = [];
    for (const state of states) {
      const own = this.items.filter(i => (i.state ?? null) === state || (i.state === null && !this.states.length));
      steps.push({ state, said: 0, own });
      own.forEach((_, k) => steps.push({ state, said: k + 1, own }));
    }
    return steps;
  }
  step() { const all = this.steps(); return all[Math.min(this.at, all.length - 1)]; }

  open() {
    if (this.isOpen) return;
    this.isOpen = true; this.at = 0; this.black = false;
    this.back = document.activeElement;
    const stage = this.bench.stage;
    this.before = { names: stage.layers.names, playing: stage.playing, phase: stage.phase };
    this.box.hidden = false;
    document.getElementById('bench').inert = true; document.querySelector('header.bar').inert = true;
    this.home = stage.box;
    for (const child of [...this.home.children]) this.box.firstChild.append(child);
    stage.box = this.box.firstChild; stage.big = true; stage.silent = true; stage.canDrag = false; stage.fitted = true; stage.probe = null; stage.readout.hidden = true; stage.resize();
    this.watch = new ResizeObserver(() => stage.resize()); this.watch.observe(this.box.firstChild);
    addEventListener('keydown', this.keys, true);
    this.box.addEventListener('click', this.click = () => this.go(1));
    this.box.focus();
    this.box.requestFullscreen?.().then(() => { this.wasFull = true; }).catch(() => { /* shown in the window then */ });
    this.bench.send({ t: 'show' });
    if (!stage.still.matches) stage.play(true);
    this.render(); this.place();
  }

  end() {
    if (!this.isOpen) return;
    this.isOpen = false;
    const stage = this.bench.stage;
    removeEventListener('keydown', this.keys, true); this.box.removeEventListener('click', this.click); this.watch.disconnect();
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    this.wasFull = false;
    for (const child of [...this.box.firstChild.children]) this.home.append(child);
    stage.box = this.home; stage.big = false; stage.silent = false; stage.canDrag = true; stage.period = 4000; if (this.bench.kind === 'box') this.bench.send({ t: 'state', name: this.bench.state ?? null }); stage.fitted = true;
    this.box.hidden = true; this.box.classList.remove('black');
    document.getElementById('bench').inert = false; document.querySelector('header.bar').inert = false;
    stage.play(this.before.playing); stage.resize();
    if (this.last) stage.set(this.last, true);
    (this.back ?? document.getElementById('show'))?.focus();
  }

  key(e) {
    const ways = { PageDown: 1, ArrowRight: 1, ArrowDown: 1, Enter: 1, PageUp: -1, ArrowLeft: -1, ArrowUp: -1 };
    if (ways[e.key]) this.go(ways[e.key]);
    else if (e.key === ' ') this.bench.stage.play(!this.bench.stage.playing);
    else if (e.key === 'b' || e.key === 'B' || e.key === '.') { this.black = !this.black; this.box.classList.toggle('black', this.black); this.tell(this.black ? 'dark' : this.caption()); }
    else if (e.key === 'Home') { this.at = 0; this.go(0); }
    else if (e.key === '+' || e.key === '-') this.bench.stage.period = Math.min(Math.max(this.bench.stage.period * (e.key === '-' ? 1.5 : 1 / 1.5), 800), 30000);
    else if (e.key === 'Escape') this.end();
    else if (e.key === 'Tab') { /* nothing else to go to */ }
    else return;
    e.preventDefault(); e.stopPropagation();
  }

  go(way) {
    if (this.black && way) { this.black = false; this.box.classList.remove('black'); }
    const was = this.step().state;
    this.at = Math.min(Math.max(this.at + way, 0), this.steps().length - 1);
    this.render();
    if (this.step().state !== was || way === 0) this.place();
  }

  caption() { const s = this.step(); return [s.state ?? this.name, ...s.own.slice(0, s.said).map(i => `${i.say}: ${i.word}`)].join('. '); }
  tell(words) { this.box.querySelector('[role=status]').textContent = words; }

  render() {
    const s = this.step(), all = this.steps();
    this.box.querySelector('.show-name').textContent = s.state ? this.name : '';
    this.box.querySelector('.show-state').textContent = s.state ?? this.name;
    const list = this.box.querySelector('.show-claims');
    list.replaceChildren(...s.own.slice(0, s.said).map((item, i) => {
      const li = document.createElement('li'), lamp = document.createElement('span'), words = document.createElement('span'), answer = document.createElement('span');
      lamp.className = `lamp lamp-${item.outcome}`; lamp.setAttribute('aria-hidden', 'true'); words.textContent = item.say; answer.className = 'show-answer'; answer.textContent = item.answer;
      li.append(lamp, words, answer); if (i === s.said - 1) li.className = 'now';
      return li;
    }));
    list.lastElementChild?.scrollIntoView({ block: 'nearest' });
    this.box.querySelector('.show-steps').innerHTML = all.map((_, i) => `<i class="${i === this.at ? 'on' : ''}"></i>`).join('');
    this.tell(this.caption());
  }

  // The field of the state if it is there; until then the last frame is held.
  place() {
    const state = this.step().state;
    // A box is not prepared: its discs fly on from state to state.
    if (this.bench.kind === 'box') { this.bench.send({ t: 'state', name: state }); this.bench.stage.play(true); this.box.dataset.shown = state ?? ''; return; }
    const field = state === null ? this.last : this.kept.get(state) ?? null;
    if (field) { this.bench.stage.set(field, true); this.bench.stage.play(this.bench.stage.playing || !this.bench.stage.still.matches); }
    this.box.dataset.shown = field ? state ?? '' : 'held';
  }

  close() { this.end(); document.removeEventListener('fullscreenchange', this.left); this.box.remove(); }
}
