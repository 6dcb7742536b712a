// GIF89a: one palette for all frames (median cut over what they hold), Floyd–Steinberg left out so that still parts stay still.
export function gif(frames, width, height, hundredths) {
  const palette = paletteOf(frames), nearest = new Map(), out = [];
  const u16 = v => out.push(v & 255, v >> 8 & 255);
  out.push(...'GIF89a'.split('').map(c => c.charCodeAt(0))); u16(width); u16(height); out.push(0xf7, 0, 0);
  for (let i = 0; i < 256; i++) out.push(...(palette[i] ?? [0, 0, 0]));
  out.push(0x21, 0xff, 11, ...'NETSCAPE2.0'.split('').map(c => c.charCodeAt(0)), 3, 1, 0, 0, 0);
  const chunks = [new Uint8Array(out)];
  for (const frame of frames) {
    const head = [0x21, 0xf9, 4, 4]; head.push(Math.round(hundredths) & 255, Math.round(hundredths) >> 8, 0, 0, 0x2c, 0, 0, 0, 0, width & 255, width >> 8, height & 255, height >> 8, 0, 8);
    chunks.push(new Uint8Array(head));
    const indices = new Uint8Array(width * height);
    for (let i = 0; i < indices.length; i++) {
      const key = frame[4 * i] >> 2 << 12 | frame[4 * i + 1] >> 2 << 6 | frame[4 * i + 2] >> 2;
      let index = nearest.get(key);
      if (index === undefined) nearest.set(key, index = closest(palette, frame[4 * i], frame[4 * i + 1], frame[4 * i + 2]));
      indices[i] = index;
    }
    chunks.push(...squeeze(indices));
  }
  chunks.push(new Uint8Array([0x3b]));
  const whole = new Uint8Array(chunks.reduce((n, c) => n + c.length, 0));
  let at = 0;
  for (const c of chunks) { whole.set(c, at); at += c.length; }
  return whole;
}

function paletteOf(frames) {
  const counts = new Map();
  for (const f of frames) for (let i = 0; i < f.length; i += 28) { const k = f[i] >> 3 << 10 | f[i + 1] >> 3 << 5 | f[i + 2] >> 3; counts.set(k, (counts.get(k) ?? 0) + 1); }
  let boxes = [[...counts].map(([k, n]) => [(k >> 10) * 8 + 4, (k >> 5 & 31) * 8 + 4, (k & 31) * 8 + 4, n])];
  const span = box => [0, 1, 2].map(a => { let l = 255, h = 0; for (const c of box) { if (c[a] < l) l = c[a]; if (c[a] > h) h = c[a]; } return h - l; });
  while (boxes.length < 256) {
    let best = -1, most = 0;
    boxes.forEach((b, i) => { const s = b.length > 1 ? Math.max(...span(b)) * Math.sqrt(b.reduce((n, c) => n + c[3], 0)) : 0; if (s > most) { most = s; best = i; } });
    if (best < 0) break;
    const box = boxes[best], s = span(box), axis = s.indexOf(Math.max(...s));
    box.sort((a, b) => a[axis] - b[axis]);
    const half = box.reduce((n, c) => n + c[3], 0) / 2;
    let sum = 0, cut = 1;
    for (let i = 0; i < box.length - 1; i++) { sum += box[i][3]; cut = i + 1; if (sum >= half) break; }
    boxes.splice(best, 1, box.slice(0, cut), box.slice(cut));
  }
  return boxes.map(b => { const n = b.reduce((s, c) => s + c[3], 0); return [0, 1, 2].map(a => Math.round(b.reduce((s, c) => s + c[a] * c[3], 0) / n)); });
}

function closest(palette, r, g, b) {
  let best = 0, least = Infinity;
  for (let i = 0; i < palette.length; i++) { const d = 2 * (palette[i][0] - r) ** 2 + 4 * (palette[i][1] - g) ** 2 + 3 * (palette[i][2] - b) ** 2; if (d < least) { least = d; best = i; } }
  return best;
}

// Lempel–Ziv–Welch as the format has it: codes grow from 9 to 12 bits, in blocks of 255 bytes.
function squeeze(indices) {
  const bytes = [], blocks = [];
  let bits = 0, count = 0, size = 9, next = 258, table = new Map();
  const put = code => { bits |= code << count; count += size; while (count >= 8) { bytes.push(bits & 255); bits >>>= 8; count -= 8; } };
  put(256);
  let prefix = indices[0];
  for (let i = 1; i < indices.length; i++) {
    const key = prefix << 8 | indices[i], known = table.get(key);
    if (known !== undefined) { prefix = known; continue; }
    put(prefix);
    if (next < 4096) { table.set(key, next); if (next === 1 << size && size < 12) size++; next++; }
    else { put(256); table = new Map(); size = 9; next = 258; }
    prefix = indices[i];
  }
  put(prefix); put(257);
  if (count > 0) bytes.push(bits & 255);
  for (let i = 0; i < bytes.length; i += 255) { const part = bytes.slice(i, i + 255); blocks.push(new Uint8Array([part.length, ...part])); }
  blocks.push(new Uint8Array([0]));
  return blocks;
}
