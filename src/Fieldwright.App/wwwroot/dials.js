// Bench dials: a face that turns under the hand, over a plain range input that serves the keyboard and whoever does not see it.
const SWEEP = 270, START = -135;

export class Dials {
  constructor(box, send) { this.box = box; this.send = send; this.shape = ''; this.dials = []; }

  set(m) {
    const shape = JSON.stringify([m.name, m.states, m.dials?.map(d => [d.text, d.from, d.to, d.saidFrom, d.saidTo])]);
    if (shape !== this.shape) { this.shape = shape; this.build(m); }
    m.dials?.forEach((d, i) => { if (document.activeElement !== this.dials[i]?.input) this.dials[i]?.move(d.now); });
    this.box.querySelectorAll('[data-state]').forEach(b => b.setAttribute('aria-pressed', (b.dataset.state || null) === (m.state ?? null)));
  }

  build(m) {
    this.box.innerHTML = '';
    this.dials = (m.dials ?? []).map((d, i) => this.dial(d, i));
    if (m.states?.length) {
      const group = document.createElement('div');
      group.className = 'states'; group.setAttribute('role', 'group'); group.setAttribute('aria-label', 'States');
      for (const s of [{ name: '', says: 'as the file stands' }, ...m.states]) {
        const b = document.createElement('button');
        b.type = 'button'; b.className = 'key'; b.dataset.state = s.name; b.textContent = s.name || 'as it stands'; b.title = s.says; b.setAttribute('aria-pressed', 'false');
        b.onclick = () => this.send({ t: 'state', name: s.name || null });
        group.append(b);
      }
      this.box.append(group);
    }
    if (this.dials.length) {
      const back = document.createElement('button');
      back.type = 'button'; back.className = 'key small back'; back.textContent = 'Back to the file'; back.onclick = () => this.send({ t: 'back' });
      this.box.append(back);
    }
  }

  dial(d, index) {
    const box = document.createElement('label'), unit = d.saidFrom.replace(/^\S+\s?/, ''), low = parseFloat(d.saidFrom), high = parseFloat(d.saidTo);
    box.className = 'dial';
    const ticks = Array.from({ length: 11 }, (_, k) => { const a = (START + SWEEP * k / 10) * Math.PI / 180, r = k % 5 ? 41 : 38; return `<line x1="${50 + r * Math.sin(a)}" y1="${50 - r * Math.cos(a)}" x2="${50 + 45 * Math.sin(a)}" y2="${50 - 45 * Math.cos(a)}"/>`; }).join('');
    box.innerHTML = `<span class="dial-name"></span><span class="dial-face"><svg viewBox="0 0 100 100" aria-hidden="true"><g class="ticks">${ticks}</g><path class="track" d="${arc(0, 1)}"/><path class="so-far"/><circle class="knob" cx="50" cy="50" r="28"/><g class="pointer"><line x1="50" y1="27" x2="50" y2="41"/></g></svg><input type="range" min="0" max="1000" step="1"></span><output class="dial-value"></output>`;
    box.querySelector('.dial-name').textContent = d.text;
    const input = box.querySelector('input'), value = box.querySelector('output'), pointer = box.querySelector('.pointer'), sofar = box.querySelector('.so-far'), face = box.querySelector('.dial-face');
    input.setAttribute('aria-label', d.text);
    const write = share => {
      const n = low + (high - low) * share, places = Math.max(0, 2 - Math.floor(Math.log10(Math.max(Math.abs(high - low), 1e-9)))), words = `${Number(n.toFixed(Math.min(places, 8)))} ${unit}`.trim();
      value.textContent = words; input.setAttribute('aria-valuetext', words);
      pointer.setAttribute('transform', `rotate(${START + SWEEP * share} 50 50)`); sofar.setAttribute('d', share > 0.003 ? arc(0, share) : '');
    };
    const move = now => { const share = d.to > d.from ? (now - d.from) / (d.to - d.from) : 0; input.value = Math.round(1000 * share); write(share); };
    input.addEventListener('input', () => { const share = input.value / 1000; write(share); this.send({ t: 'turn', dial: index, value: d.from + share * (d.to - d.from), stamp: performance.now() }); });
    const turn = e => {
      const r = face.getBoundingClientRect(), angle = Math.atan2(e.clientX - r.left - r.width / 2, r.top + r.height / 2 - e.clientY) * 180 / Math.PI;
      const share = Math.min(Math.max((angle - START) / SWEEP, 0), 1), now = input.value / 1000;
      // The gap under the face is no bridge from one end to the other.
      if (Math.abs(share - now) > 0.6 && e.type === 'pointermove') return;
      input.value = Math.round(1000 * share); input.dispatchEvent(new Event('input'));
    };
    face.addEventListener('pointerdown', e => { e.preventDefault(); input.focus(); face.setPointerCapture(e.pointerId); turn(e); });
    face.addEventListener('pointermove', e => { if (e.buttons && face.hasPointerCapture(e.pointerId)) turn(e); });
    face.addEventListener('wheel', e => { e.preventDefault(); input.value = +input.value - Math.sign(e.deltaY) * 10; input.dispatchEvent(new Event('input')); }, { passive: false });
    this.box.append(box);
    return { input, move };
  }
}

function arc(from, to) {
  const at = s => { const a = (START + SWEEP * s) * Math.PI / 180; return `${50 + 34 * Math.sin(a)} ${50 - 34 * Math.cos(a)}`; };
  return `M${at(from)}A34 34 0 ${(to - from) * SWEEP > 180 ? 1 : 0} 1 ${at(to)}`;
}
