// What stands under the stage: playing or holding, what is shown, the tape measure, the key to colours.
import { escape, rampCss, say } from './board.js';

export function underboard(box, stage) {
  box.innerHTML = `
    <div class="instant"><button type="button" class="key play" aria-pressed="false">Play</button>
      <label class="phase"><span class="unseen">Instant of the period</span><input type="range" min="0" max="360" step="1" value="0"></label><output class="degrees"></output></div>
    <div class="switches" role="group" aria-label="Shown on the stage">
      ${stage.constructor.switches.map(([k, t]) => `<button type="button" class="key small" data-layer="${k}" aria-pressed="${stage.layers[k]}">${t}</button>`).join('')}
      <button type="button" class="key small tool" aria-pressed="false"${stage.constructor.measures ? '' : ' hidden'}>Tape measure</button><button type="button" class="key small whole">Show all</button></div>
    <div class="extras" hidden></div>
    <p class="legend"></p>`;
  const play = box.querySelector('.play'), phase = box.querySelector('.instant input'), degrees = box.querySelector('.instant output'), legend = box.querySelector('.legend'), tool = box.querySelector('.tool'), extras = box.querySelector('.extras');
  const moves = stage.constructor.name === 'BoxStage';
  const more = stage.extras?.(extras);
  extras.hidden = !more;
  play.onclick = () => stage.play(!stage.playing);
  phase.oninput = () => { stage.play(false); stage.setPhase(phase.value * Math.PI / 180); };
  phase.parentElement.hidden = degrees.hidden = moves;
  box.querySelectorAll('[data-layer]').forEach(b => b.onclick = () => { const on = stage.layers[b.dataset.layer] = !stage.layers[b.dataset.layer]; b.setAttribute('aria-pressed', on); stage.dirty = true; legends(); });
  const pick = name => { stage.tool = name; if (name === 'probe') stage.measuring = null; tool.setAttribute('aria-pressed', name === 'measure'); stage.dirty = true; };
  tool.onclick = () => pick(stage.tool === 'measure' ? 'probe' : 'measure');
  box.querySelector('.whole').onclick = () => stage.fit(true);
  function legends() {
    const h = stage.field?.head;
    if (!h) return;
    more?.();
    box.querySelector('.instant').hidden = !moves && !(h.frequency > 0);
    const ramp = stage.layers.density ? `<span><i class="ramp" style="background:${rampCss()}"></i>0 … ${say.density(stage.densityScale)}</span>` : '';
    const words = stage.legend ? stage.legend() + ramp
      : (h.says ? `<span class="says">${escape(h.says)}</span>` : '') + `<span>${stage.step > 0 && h.mostFlux > h.leastFlux ? `${say.flux(stage.step)} between neighbouring lines` : 'no field'}</span>`
        + (h.mostCurrentDensity > 0 ? '<span><i class="towards"></i>towards you</span><span><i class="away"></i>away from you</span>' : '') + ramp
        + `<span class="unknowns">${h.unknownCount.toLocaleString('en')} unknowns${h.isRefined ? ', refined' : ''}</span>`;
    if (words !== legend.dataset.words) { legend.innerHTML = words; legend.dataset.words = words; }
  }
  stage.on('field', legends);
  stage.on('spaced', legends);
  stage.on('phase', (radians, playing) => {
    const d = Math.round(radians * 180 / Math.PI + 360) % 360;
    if (document.activeElement !== phase || playing) phase.value = d;
    degrees.textContent = d + '°';
    if (play.getAttribute('aria-pressed') !== String(playing)) { play.setAttribute('aria-pressed', playing); play.textContent = playing ? 'Hold' : 'Play'; }
    document.querySelectorAll('[data-phase]').forEach(a => a.href = a.href.replace(/&phase=-?\d+|$/, '&phase=' + d));
  });
  stage.on('tool', pick);
  stage.on('toggle', () => stage.play(!stage.playing));
}
