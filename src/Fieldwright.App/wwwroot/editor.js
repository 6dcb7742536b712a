// The file as text: every change goes to the server within a moment, changes of other windows come in, and none is lost.
import {
  EditorState, ChangeSet, EditorView, keymap, lineNumbers, highlightActiveLine, drawSelection, hoverTooltip, history, historyKeymap, defaultKeymap,
  syntaxHighlighting, HighlightStyle, indentOnInput, bracketMatching, yaml, setDiagnostics, lintGutter, lintKeymap, autocompletion, completionKeymap,
  searchKeymap, collab, sendableUpdates, receiveUpdates, getSyncedVersion, tags, undo, redo,
} from './codemirror.js';
import { Words } from './words.js';

const look = EditorView.theme({
  '&': { backgroundColor: 'transparent', color: '#dfe6ee', height: '100%', fontSize: '0.94rem' },
  '.cm-content': { caretColor: '#ffb454', fontFamily: 'ui-monospace, "DejaVu Sans Mono", "Liberation Mono", monospace', padding: '0.6rem 0' },
  '.cm-gutters': { backgroundColor: 'transparent', color: '#8b98a8', border: 'none' },
  '.cm-activeLine, .cm-activeLineGutter': { backgroundColor: 'rgba(255,180,84,.07)' },
  '&.cm-focused .cm-cursor': { borderLeftColor: '#ffb454', borderLeftWidth: '2px' },
  '&.cm-focused .cm-selectionBackground, .cm-selectionBackground': { backgroundColor: 'rgba(88,166,255,.28) !important' },
  '.cm-tooltip': { backgroundColor: '#1d2632', color: '#f0f4f9', border: '1px solid #4a5766', borderRadius: '6px', maxWidth: '30rem' },
  '.cm-tooltip .cm-help': { padding: '0.45rem 0.7rem', lineHeight: 1.4 },
  '.cm-tooltip-autocomplete ul li[aria-selected]': { backgroundColor: '#36506e', color: '#fff' },
  '.cm-diagnostic': { borderLeft: '4px solid #ff8f70', padding: '0.4rem 0.7rem' },
  '.cm-diagnosticAction': { backgroundColor: '#ffb454', color: '#0b0e13', borderRadius: '4px', padding: '0.15rem 0.5rem' },
  '.cm-panels': { backgroundColor: '#141a22', color: '#f0f4f9' },
}, { dark: true });
const colours = syntaxHighlighting(HighlightStyle.define([
  { tag: [tags.propertyName, tags.definition(tags.propertyName)], color: '#9cc9ff' }, { tag: tags.comment, color: '#93a1b1', fontStyle: 'italic' },
  { tag: [tags.string, tags.content], color: '#ffd9a3' }, { tag: [tags.separator, tags.punctuation, tags.squareBracket, tags.brace], color: '#a3afbd' }, { tag: tags.number, color: '#ffd9a3' },
]));

export class Editor {
  constructor(box, slips, file, send) {
    Object.assign(this, { box, slips, file, send });
    this.words = new Words();
    this.id = Math.random().toString(36).slice(2);
    this.flying = false;
  }

  take(m) {
    switch (m.t) {
      case 'text': this.start(m); break;
      case 'updates': this.receive(m); break;
      case 'pushed': this.flying = false; this.push(); break;
      case 'unsaved': this.flying = false; this.unsaved = m.why; this.showSlips(); setTimeout(() => this.push(), 2000); break;
      case 'mistakes': this.mistakes = m.items; this.underline(); break;
      case 'edit': if (m.changes.length && this.view) this.view.dispatch({ changes: m.changes, userEvent: 'move.thing', scrollIntoView: true, selection: { anchor: m.changes[0].from } }); break;
    }
  }

  start({ text, version }) {
    if (this.view) return;
    const state = EditorState.create({
      doc: text,
      extensions: [
        lineNumbers(), highlightActiveLine(), drawSelection(), history({ minDepth: 100000 }), indentOnInput(), bracketMatching(), yaml(), colours, look, lintGutter(), EditorView.lineWrapping,
        collab({ startVersion: version, clientID: this.id }),
        autocompletion({ override: [c => this.words.complete(c, this.known)], icons: false }),
        hoverTooltip((view, pos) => this.words.help(view.state, pos)),
        keymap.of([...completionKeymap, ...defaultKeymap, ...historyKeymap, ...searchKeymap, ...lintKeymap]),
        EditorView.contentAttributes.of({ 'aria-label': 'Text of the apparatus file' }),
        EditorView.updateListener.of(u => { if (u.docChanged) this.soon(); }),
      ],
    });
    this.view = new EditorView({ state, parent: this.box });
    // What scrolls must be reachable by keyboard.
    this.view.scrollDOM.tabIndex = 0;
    this.synced = text;
    this.restore(text);
    this.underline();
  }

  // What was done to the text, on the stage or by typing, is taken back or done again.
  undo() { return !!this.view && undo(this.view); }
  redo() { return !!this.view && redo(this.view); }

  soon() { clearTimeout(this.timer); this.timer = setTimeout(() => this.push(), 120); }

  push() {
    if (!this.view || this.flying) return;
    const updates = sendableUpdates(this.view.state);
    if (!updates.length) return;
    this.flying = true;
    this.send({ t: 'push', version: getSyncedVersion(this.view.state), updates: updates.map(u => ({ clientID: u.clientID, changes: u.changes.toJSON() })) });
  }

  receive({ from, updates }) {
    if (!this.view) return;
    const have = getSyncedVersion(this.view.state), fresh = updates.slice(Math.max(0, have - from));
    if (!fresh.length) return;
    this.unsaved = null;
    this.view.dispatch(receiveUpdates(this.view.state, fresh.map(u => ({ clientID: u.clientID, changes: ChangeSet.fromJSON(u.changes) }))));
    if (!sendableUpdates(this.view.state).length) { this.synced = this.view.state.doc.toString(); this.forget(); }
  }

  // What has not reached the server outlives it in the browser, and is brought in when the page comes back.
  get key() { return 'fieldwright unsent ' + this.file; }
  keep() { if (this.view && sendableUpdates(this.view.state).length) localStorage.setItem(this.key, JSON.stringify({ synced: this.synced, text: this.view.state.doc.toString() })); }
  forget() { localStorage.removeItem(this.key); }
  restore(text) {
    const kept = JSON.parse(localStorage.getItem(this.key) ?? 'null');
    this.forget();
    if (!kept || kept.text === text) return;
    const mine = between(kept.synced, kept.text), theirs = between(kept.synced, text);
    const mineSet = ChangeSet.of(mine, kept.synced.length), theirSet = ChangeSet.of(theirs, kept.synced.length);
    this.view.dispatch({ changes: mineSet.map(theirSet, true) });
  }

  underline() {
    if (!this.view || !this.mistakes) return;
    const doc = this.view.state.doc;
    const found = this.mistakes.map(m => {
      const line = doc.line(Math.min(Math.max(m.line, 1), doc.lines)), from = Math.min(line.from + m.column - 1, line.to);
      const to = Math.max(from + (/^[^\s,\]}:#][^,\]}:#\n]*/.exec(line.text.slice(from - line.from))?.[0].trimEnd().length ?? 1), Math.min(from + 1, line.to));
      const message = `${sentence(m.finding)}${m.expectation ? ' Expected ' + m.expectation.replace(/\.$/, '') + '.' : ''}${m.nearestWord ? ` Nearest: ${m.nearestWord}.` : ''}`;
      const actions = m.nearestWord ? [{ name: `Write “${m.nearestWord}”`, apply: (view, a, b) => view.dispatch({ changes: { from: a, to: b, insert: m.nearestWord } }) }] : [];
      return { from, to: Math.max(to, from), severity: 'error', message, actions, line: m.line };
    });
    this.view.dispatch(setDiagnostics(this.view.state, found));
    this.found = found;
    this.showSlips();
  }

  showSlips() {
    const items = (this.found ?? []).map(f => `<li><button type="button" class="slip-go" data-at="${f.from}">line ${f.line}</button> ${plain(f.message)}</li>`);
    if (this.unsaved) items.unshift(`<li>Not saved: ${plain(this.unsaved)}</li>`);
    const high = this.slips.offsetHeight;
    this.slips.innerHTML = items.length ? `<ul>${items.join('')}</ul>` : '<p class="quiet">The file is right, and saved.</p>';
    // What is said below must not hide what is being typed.
    if (this.slips.offsetHeight > high && this.view.hasFocus) requestAnimationFrame(() => this.view.dispatch({ effects: EditorView.scrollIntoView(this.view.state.selection.main.head, { y: 'nearest', yMargin: 24 }) }));
    this.slips.querySelectorAll('.slip-go').forEach(b => b.onclick = () => { this.view.dispatch({ selection: { anchor: Math.min(+b.dataset.at, this.view.state.doc.length) }, scrollIntoView: true }); this.view.focus(); });
  }

  close() { this.push(); this.view?.destroy(); }
}

function between(a, b) {
  let s = 0, e = 0;
  const most = Math.min(a.length, b.length);
  while (s < most && a[s] === b[s]) s++;
  while (e < most - s && a[a.length - 1 - e] === b[b.length - 1 - e]) e++;
  return { from: s, to: a.length - e, insert: b.slice(s, b.length - e) };
}
function sentence(words) { const w = words.trim().replace(/\.$/, ''); return w.charAt(0).toUpperCase() + w.slice(1) + '.'; }
function plain(words) { const d = document.createElement('span'); d.textContent = words; return d.innerHTML; }
