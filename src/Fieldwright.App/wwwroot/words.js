// What may stand where in the file: read from the published schema, so that a new word completes and explains itself.
import { syntaxTree } from './codemirror.js';

export class Words {
  constructor() { this.ready = fetch('/words.json').then(r => r.json()).then(s => this.schema = s).catch(() => null); }

  // Every schema that may rule a place: combinations are opened up and references followed.
  open(s, seen = new Set()) {
    if (!s || typeof s !== 'object' || seen.has(s)) return [];
    seen.add(s);
    const more = [...(s.oneOf ?? []), ...(s.anyOf ?? []), ...(s.allOf ?? [])];
    if (s.$ref) more.push(this.follow(s.$ref));
    return [s, ...more.flatMap(m => this.open(m, seen))];
  }

  follow(ref) { return decodeURIComponent(ref).replace(/^#\//, '').split('/').reduce((at, k) => at?.[k], this.schema); }

  at(path) {
    return path.reduce((schemas, key) => schemas.flatMap(s => {
      const next = typeof key === 'number' ? s.items : s.properties?.[key] ?? (s.additionalProperties && typeof s.additionalProperties === 'object' ? s.additionalProperties : null);
      return next ? this.open(next) : [];
    }), this.open(this.schema));
  }

  // Keys that lead to a position, and whether it stands in a key or in a value.
  place(state, pos) {
    const line = state.doc.lineAt(pos), path = [];
    let node = syntaxTree(state).resolveInner(pos, -1), inKey = null, word = '';
    for (let at = node; at; at = at.parent) {
      if (at.name === 'Pair') {
        const key = at.getChild('Key'), name = key && state.doc.sliceString(key.from, key.to);
        if (inKey === null) inKey = key ? pos <= key.to : true;
        if (key && pos <= key.to && path.length === 0) word = name; else if (name) path.unshift(name.trim());
      } else if (at.name === 'BlockSequence' || at.name === 'FlowSequence') path.unshift(0);
    }
    // On a fresh line the tree knows nothing yet: the indentation tells.
    if (/^\s*[\w ]*$/.test(line.text.slice(0, pos - line.from))) {
      const indent = /^\s*/.exec(line.text)[0].length, found = [];
      let below = indent;
      for (let n = line.number - 1; n >= 1 && below > 0; n--) {
        const l = state.doc.line(n).text, m = /^(\s*)(- )?([^:#{[]+):/.exec(l);
        if (!m || !l.trim()) continue;
        const own = m[1].length + (m[2]?.length ?? 0);
        if (own < below) { found.unshift(m[3].trim()); if (m[2]) found.unshift(0); below = m[1].length; }
        else if (m[2] && own === below) { found.unshift(0); below = m[1].length; }
      }
      return { path: found, inKey: true };
    }
    return { path, inKey: inKey ?? true, word };
  }

  complete(context, known) {
    if (!this.schema) return null;
    const text = context.matchBefore(/[\p{L}\p{N}][\p{L}\p{N} .-]*/u);
    if (!text && !context.explicit) return null;
    const from = text ? text.from : context.pos, { path, inKey } = this.place(context.state, context.pos), options = new Map();
    const add = (label, info, apply = label, type) => { if (!options.has(label))
      // Of equally good matches the shorter comes first: what is typed in full must not be beaten by what starts like it.
      options.set(label, { label, info, apply, type, boost: -Math.min(label.length, 99) / 2 }); };
    if (inKey) for (const s of this.at(path)) for (const [key, value] of Object.entries(s.properties ?? {})) add(key, this.describe(value), key + ': ', 'property');
    else {
      for (const s of this.at(path)) { s.enum?.forEach(v => v !== null && add(String(v), s.description)); if (s.const !== undefined) add(String(s.const), s.description); s.examples?.forEach(v => add(String(v), 'an example')); }
      const last = path.filter(p => p !== 0).at(-1), parent = path.slice(0, -1);
      if (last === 'shape') for (const s of this.at(parent)) { const c = s.properties?.shape?.const; if (c) add(c, s.description); }
      if (last === 'measure') known?.measures?.forEach(m => add(m.text, `${m.meaning} [${m.unit || 'a number'}]`));
      if (last === 'of') known?.materials?.forEach(m => add(m));
      if (last === 'feeds' || last === 'on') known?.windings?.forEach(m => add(m));
      if (last === 'in') known?.states?.forEach(m => add(m));
    }
    if (inKey && ['dials', 'doubts'].includes(path.at(-1))) known?.inputs?.forEach(i => add(i, undefined, i + ': '));
    return options.size ? { from, options: [...options.values()], validFor: /^[\p{L}\p{N} .-]*$/u } : null;
  }

  describe(value) { return this.open(value).map(s => s.description).find(Boolean); }

  async help(state, pos) {
    await this.ready;
    if (!this.schema) return null;
    let node = syntaxTree(state).resolveInner(pos, 1);
    while (node && node.name !== 'Key') node = node.parent;
    if (!node) return null;
    const name = state.doc.sliceString(node.from, node.to).trim(), { path } = this.place(state, node.from + 1);
    const found = this.at(path).map(s => s.properties?.[name]).filter(Boolean);
    const about = found.map(f => this.describe(f)).find(Boolean);
    if (!about) return null;
    const example = found.flatMap(f => this.open(f)).flatMap(s => s.examples ?? (s.enum ? [s.enum.filter(v => v !== null).join(', ')] : []))[0];
    return { pos: node.from, end: node.to, above: true, create() { const dom = document.createElement('div'); dom.className = 'cm-help'; const b = document.createElement('b'); b.textContent = name; dom.append(b, ' ' + about + (example ? ` Such as ${example}.` : '')); return { dom }; } };
  }
}
