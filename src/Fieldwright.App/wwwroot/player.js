// Plays an apparatus that was taken away as one file.
import { STAGES, parse } from './stages.js';
export function play(fields) {
  const box = document.getElementById('stage'), under = document.getElementById('play');
  if (!fields.length) { box.remove(); return; }
  // Frames of one state follow each other.
  const states = [];
  for (const f of fields) {
    const field = parse(Uint8Array.from(atob(f), c => c.charCodeAt(0)).buffer);
    if (states.length && states.at(-1)[0].head.state === field.head.state) states.at(-1).push(field); else states.push([field]);
  }
  const first = states[0][0], films = first.kind === 'box', stage = new STAGES[first.kind](box), alternates = first.head.frequency > 0;
  let at = states[0], frame = 0;
  under.innerHTML = (alternates || films ? '<button type="button" class="key play" aria-pressed="false">Play</button>' : '')
    + (alternates ? '<label class="phase"><span class="unseen">Instant of the period</span><input type="range" min="0" max="360" value="0"></label>' : '')
    + (states.length > 1 ? states.map((f, i) => `<button type="button" class="key" data-field="${i}" aria-pressed="${i === 0}"></button>`).join('') : '')
    + (films || first.kind === 'drawing' ? '' : `<button type="button" class="key small" data-density aria-pressed="false">${first.kind === 'space' ? 'Plane' : 'Field strength'}</button>`)
    + (first.head.says ? '<p class="legend"></p>' : '');
  if (first.head.says) under.querySelector('.legend').textContent = first.head.says;
  under.querySelectorAll('[data-field]').forEach((b, i) => { b.textContent = states[i][0].head.state; b.onclick = () => { at = states[i]; frame = 0; stage.set(at[0], true); under.querySelectorAll('[data-field]').forEach(o => o.setAttribute('aria-pressed', o === b)); }; });
  const density = under.querySelector('[data-density]');
  if (density) density.onclick = () => { stage.layers.density = !stage.layers.density; density.setAttribute('aria-pressed', stage.layers.density); stage.dirty = true; };
  const button = under.querySelector('.play'), phase = under.querySelector('input');
  if (button) {
    button.onclick = () => stage.play(!stage.playing);
    if (phase) phase.oninput = () => { stage.play(false); stage.setPhase(phase.value * Math.PI / 180); };
    stage.on('phase', (radians, playing) => { if (phase) phase.value = Math.round(radians * 180 / Math.PI + 360) % 360; button.textContent = playing ? 'Hold' : 'Play'; button.setAttribute('aria-pressed', playing); });
    stage.on('toggle', () => stage.play(!stage.playing));
  }
  // The frames were taken a twenty-fifth of a second apart; from the last it goes back to the first.
  let due = 0;
  stage.on('fly', () => { const now = performance.now(); setTimeout(() => { frame = (frame + 1) % at.length; stage.set(at[frame], false); }, Math.max(0, due - now)); due = Math.max(due, now) + 40; });
  stage.set(first, true);
}
