// Plays an apparatus that was taken away as one file.
import { Stage, parseField, say } from './stage.js';
export function play(fields) {
  const box = document.getElementById('stage'), under = document.getElementById('play');
  if (!fields.length) { box.remove(); return; }
  const kept = fields.map(f => { const bytes = Uint8Array.from(atob(f), c => c.charCodeAt(0)); return parseField(bytes.buffer); });
  const stage = new Stage(box), alternates = kept[0].head.frequency > 0;
  under.innerHTML = (alternates ? '<button type="button" class="key play" aria-pressed="false">Play</button><label class="phase"><span class="unseen">Instant of the period</span><input type="range" min="0" max="360" value="0"></label>' : '')
    + (kept.length > 1 ? kept.map((f, i) => `<button type="button" class="key" data-field="${i}" aria-pressed="${i === 0}"></button>`).join('') : '') + '<button type="button" class="key small" data-density aria-pressed="false">Field strength</button>';
  under.querySelectorAll('[data-field]').forEach((b, i) => { b.textContent = kept[i].head.state; b.onclick = () => { stage.set(kept[i], true); under.querySelectorAll('[data-field]').forEach(o => o.setAttribute('aria-pressed', o === b)); }; });
  const density = under.querySelector('[data-density]');
  density.onclick = () => { stage.layers.density = !stage.layers.density; density.setAttribute('aria-pressed', stage.layers.density); stage.dirty = true; };
  const button = under.querySelector('.play'), phase = under.querySelector('input');
  if (button) {
    button.onclick = () => stage.play(!stage.playing);
    phase.oninput = () => { stage.play(false); stage.setPhase(phase.value * Math.PI / 180); };
    stage.on('phase', (radians, playing) => { phase.value = Math.round(radians * 180 / Math.PI + 360) % 360; button.textContent = playing ? 'Hold' : 'Play'; button.setAttribute('aria-pressed', playing); });
    stage.on('toggle', () => stage.play(!stage.playing));
  }
  stage.set(kept[0], true);
}
