// What stands under the stage: playing or holding the period, what is shown, the tape measure, the key to colours.
export function underboard(box, stage, { rampCss, say }) {
  box.innerHTML = `
    <div class="instant"><button type="button" class="key play" aria-pressed="false">Play</button>
      <label class="phase"><span class="unseen">Instant of the period</span><input type="range" min="0" max="360" step="1" value="0"></label><output class="degrees"></output></div>
    <div class="switches" role="group" aria-label="Shown on the stage">
      ${[['flux', 'Flux lines'], ['density', 'Field strength'], ['current', 'Currents'], ['forces', 'Forces'], ['names', 'Names']].map(([k, t]) => `<button type="button" class="key small" data-layer="${k}" aria-pressed="${stage.layers[k]}">${t}</button>`).join('')}
      <button type="button" class="key small tool" aria-pressed="false">Tape measure</button><button type="button" class="key small whole">Show all</button></div>
    <p class="legend"></p>`;
  const play = box.querySelector('.play'), phase = box.querySelector('input'), degrees = box.querySelector('output'), legend = box.querySelector('.legend'), tool = box.querySelector('.tool');
  play.onclick = () => stage.play(!stage.playing);
  phase.oninput = () => { stage.play(false); stage.setPhase(phase.value * Math.PI / 180); };
  box.querySelectorAll('[data-layer]').forEach(b => b.onclick = () => { const on = stage.layers[b.dataset.layer] = !stage.layers[b.dataset.layer]; b.setAttribute('aria-pressed', on); stage.dirty = true; if (b.dataset.layer === 'density') legends(); });
  const pick = name => { stage.tool = name; if (name === 'probe') stage.measuring = null; tool.setAttribute('aria-pressed', name === 'measure'); stage.dirty = true; };
  tool.onclick = () => pick(stage.tool === 'measure' ? 'probe' : 'measure');
  box.querySelector('.whole').onclick = () => stage.fit();
  function legends() {
    const h = stage.field?.head;
    if (!h) return;
    const flux = stage.step > 0 && h.mostFlux > h.leastFlux ? `${say.flux(stage.step)} between neighbouring lines` : 'no field';
    legend.innerHTML = `<span>${flux}</span>` + (h.mostCurrentDensity > 0 ? `<span><i class="towards"></i>towards you</span><span><i class="away"></i>away from you</span>` : '')
      + (stage.layers.density ? `<span><i class="ramp" style="background:${rampCss()}"></i>0 … ${say.density(stage.densityScale)}</span>` : '')
      + `<span class="unknowns">${h.unknownCount.toLocaleString('en')} unknowns${h.isRefined ? ', refined' : ''}</span>`;
    const still = !(h.frequency > 0);
    box.querySelector('.instant').hidden = still;
  }
  stage.on('field', legends);
  stage.on('phase', (radians, playing) => {
    const d = Math.round(radians * 180 / Math.PI + 360) % 360;
    if (document.activeElement !== phase || playing) phase.value = d;
    degrees.textContent = d + '°';
    if (play.getAttribute('aria-pressed') !== String(playing)) { play.setAttribute('aria-pressed', playing); play.textContent = playing ? 'Hold' : 'Play'; }
    document.querySelectorAll('[data-phase]').forEach(a => a.href = a.href.replace(/&phase=-?\d+|$/, '&phase=' + d));
  });
  stage.on('tool', pick);
  stage.on('toggle', () => stage.play(!stage.playing));
  return { legends };
}
