// One period of the stage as an animation to take away: WebM by the browser's own recorder, GIF by a small encoder of our own.
import { gif } from './gif.js';
const FRAMES = 48, SECONDS = 4;

export function takeAway(bench, file) {
  const stem = file.replace(/\.ya?ml$/i, ''), says = words => { const p = document.getElementById('take-says'); if (p) p.textContent = words; };
  document.addEventListener('click', async e => {
    const kind = e.target.id === 'take-webm' ? 'webm' : e.target.id === 'take-gif' ? 'gif' : null;
    const stage = bench.stage;
    if (!kind || !stage.field || !document.body.contains(stage.box)) return;
    if (!(stage.field.head.frequency > 0) && !stage.next) { says('This field stands still; take the picture instead.'); return; }
    e.target.disabled = true;
    try {
      says('Filming one period …');
      const blob = kind === 'webm' ? await webm(stage) : await gifOf(stage, says);
      const a = document.createElement('a');
      a.href = URL.createObjectURL(blob); a.download = `${stem}.${kind}`; a.click();
      setTimeout(() => URL.revokeObjectURL(a.href), 60000);
      says(`Done: ${(blob.size / 1e6).toFixed(1)} MB.`);
    } catch (error) { says('This browser cannot film that: ' + error.message); }
    e.target.disabled = false;
  });
}

// The stage at an instant on a canvas of a given width.
async function still(stage, canvas, share) {
  const c = canvas.getContext('2d');
  if (stage.next) await stage.next(SECONDS / FRAMES);
  stage.phase = 2 * Math.PI * share;
  stage.draw();
  c.drawImage(stage.paint, 0, 0, canvas.width, canvas.height);
}

async function filmed(stage, width, work) {
  const before = { phase: stage.phase, playing: stage.playing, probe: stage.probe };
  stage.play(false); stage.probe = null;
  const canvas = document.createElement('canvas');
  canvas.width = 2 * Math.round(Math.min(width, stage.width) / 2); canvas.height = 2 * Math.round(canvas.width * stage.height / stage.width / 2);
  try { return await work(canvas); } finally { stage.setPhase(before.phase); stage.play(before.playing); }
}

function webm(stage) {
  return filmed(stage, 1280, async canvas => {
    await still(stage, canvas, 0);
    const stream = canvas.captureStream(0), track = stream.getVideoTracks()[0], kind = ['video/webm;codecs=vp9', 'video/webm;codecs=vp8', 'video/webm'].find(k => MediaRecorder.isTypeSupported(k));
    const recorder = new MediaRecorder(stream, { mimeType: kind, videoBitsPerSecond: 6e6 }), parts = [];
    recorder.ondataavailable = e => parts.push(e.data);
    const ended = new Promise(done => recorder.onstop = done);
    recorder.start();
    const start = performance.now();
    for (let k = 0; k <= FRAMES; k++) {
      await still(stage, canvas, k / FRAMES);
      track.requestFrame();
      await new Promise(done => setTimeout(done, Math.max(4, start + 1000 * SECONDS * (k + 1) / FRAMES - performance.now())));
    }
    recorder.stop(); await ended;
    return new Blob(parts, { type: 'video/webm' });
  });
}

function gifOf(stage, says) {
  const count = FRAMES / 2;
  return filmed(stage, 720, async canvas => {
    const frames = [];
    for (let k = 0; k < count; k++) {
      await still(stage, canvas, k / count);
      frames.push(canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data);
      says(`Filming one period: ${k + 1} of ${count}`);
      await new Promise(done => setTimeout(done));
    }
    return new Blob([gif(frames, canvas.width, canvas.height, 100 * SECONDS / count)], { type: 'image/gif' });
  });
}
