// SPDX-License-Identifier: Apache-2.0
// The design's text: undo, find, completion and hover from the schema, and problems at their lines. It
// stands in a shadow root, where the editor's own style is a sheet of the script's and no element that
// the page's policy would refuse.
import { autocompletion, closeBrackets, completionKeymap } from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
import { HighlightStyle, StreamLanguage, bracketMatching, syntaxHighlighting } from "@codemirror/language";
import { toml } from "@codemirror/legacy-modes/mode/toml";
import { lintGutter, lintKeymap, setDiagnostics } from "@codemirror/lint";
import { highlightSelectionMatches, searchKeymap, openSearchPanel } from "@codemirror/search";
import { EditorState, StateEffect } from "@codemirror/state";
import { EditorView, drawSelection, highlightActiveLine, hoverTooltip, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";
import { completions, meaning_at } from "./completing.js";
import { in_turns } from "./turns.js";
import { html, useEffect, useRef } from "./view.js";

const look = EditorView.theme({
  "&": { fontSize: "0.9rem", border: "1px solid var(--quiet)", backgroundColor: "var(--paper)", color: "var(--ink)", height: "100%" },
  ".cm-content": { caretColor: "var(--ink)" },
  ".cm-scroller": { fontFamily: 'ui-monospace, "DejaVu Sans Mono", monospace', lineHeight: "1.45" },
  ".cm-gutters": { backgroundColor: "var(--soft)", color: "var(--quiet)", borderRight: "1px solid var(--rule)" },
  ".cm-activeLine, .cm-activeLineGutter": { backgroundColor: "var(--soft)" },
  ".cm-cursor": { borderLeftColor: "var(--ink)", borderLeftWidth: "2px" },
  "&.cm-focused": { outline: "3px solid var(--line-1)", outlineOffset: "1px" },
  "&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground": { backgroundColor: "color-mix(in srgb, var(--line-1) 35%, transparent)" },
  ".cm-tooltip, .cm-panels": { backgroundColor: "var(--paper)", color: "var(--ink)", border: "1px solid var(--quiet)" },
  ".cm-tooltip.cm-completionInfo, .cm-says": { padding: "0.3rem 0.5rem", maxWidth: "24rem" },
  ".cm-tooltip-autocomplete > ul > li[aria-selected]": { backgroundColor: "var(--deed)", color: "var(--deed-ink)" },
  ".cm-diagnostic": { color: "var(--ink)" },
  ".cm-panel input, .cm-panel button": { color: "var(--ink)", backgroundColor: "var(--paper)", backgroundImage: "none", border: "1px solid var(--quiet)", font: "inherit" },
});
const inks = HighlightStyle.define([
  { tag: tags.comment, color: "var(--quiet)", fontStyle: "italic" },
  { tag: [tags.propertyName, tags.definition(tags.propertyName)], color: "var(--line-1)" },
  { tag: [tags.string, tags.number, tags.bool, tags.atom], color: "var(--line-0)" },
  { tag: [tags.heading, tags.typeName, tags.keyword], color: "var(--line-2)", fontWeight: "700" },
]);

/** Where an engine's place (line and column from 1) lies, to the end of its word. */
function span(doc, { line = 1, column = 1 }) {
  const at = doc.line(Math.min(Math.max(line, 1), doc.lines));
  const from = Math.min(at.from + Math.max(column - 1, 0), at.to);
  const word = /^(?:"[^"]*"|[^\s,\]}]+)/.exec(at.text.slice(from - at.from))?.[0].length ?? 0;
  return { from, to: Math.min(Math.max(from + word, from), at.to) };
}

const kept = new Map();  // editors' states by file, so that undo survives a look at another

export function Editor({ name, text, change, problems, schema_of, jump }) {
  const host = useRef(null), view = useRef(null), latest = useRef({});
  latest.current = { change, schema_of, name };
  const waiting = useRef(0), shown = useRef(""), marked = useRef(false), whole = useRef(false);

  useEffect(() => {
    const root = host.current.shadowRoot ?? host.current.attachShadow({ mode: "open" });
    view.current = new EditorView({ root, parent: root, state: state_for() });
    view.current.scrollDOM.tabIndex = 0;  // it scrolls: keys reach it
    return () => view.current.destroy();
  }, []);

  useEffect(() => {
    if (shown.current !== name) view.current.setState(state_for());
    const call_off = whole.current ? () => {} : in_turns(rest());
    return () => {
      call_off();
      clearTimeout(waiting.current);
      if (whole.current) kept.set(name, view.current.state);
    };
  }, [name]);

  useEffect(() => {  // changed from outside: put back, or another pack was saved over it
    const now = view.current.state.doc.toString();
    if (now !== text && !waiting.current)
      view.current.dispatch({ changes: { from: 0, to: now.length, insert: text } });
  }, [text]);

  useEffect(() => {
    if (!problems.length && !marked.current) return;
    marked.current = true;  // from then on marks are taken away, too
    const doc = view.current.state.doc;
    view.current.dispatch(setDiagnostics(view.current.state, problems.map((one) => ({
      ...span(doc, one), severity: one.severity, message: one.message })).sort((a, b) => a.from - b.from)));
  }, [problems, name]);

  useEffect(() => {
    if (!jump || jump.file !== name) return;
    const { from } = span(view.current.state.doc, jump);
    view.current.dispatch({ selection: { anchor: from }, effects: EditorView.scrollIntoView(from, { y: "center" }) });
    view.current.focus();
  }, [jump, name]);

  /** Of the file that is to be seen: as it was left, where its text is still the same. */
  function state_for() {
    const old = kept.get(name);
    shown.current = name;
    whole.current = old?.doc.toString() === text;
    return whole.current ? old : state_of(text, name);
  }
  /** What the text can do without for a moment: all at once would hold the page up. */
  function* rest() {
    const add = (...extensions) => view.current.dispatch({ effects: StateEffect.appendConfig.of(extensions) });
    yield add(StreamLanguage.define(toml), syntaxHighlighting(inks));
    yield add(drawSelection(), highlightActiveLine());
    yield add(lintGutter(), bracketMatching(), closeBrackets(), highlightSelectionMatches());
    add(autocompletion({ override: [completions(() => latest.current.schema_of())] }),
      hoverTooltip(async (_, at) => {
        const schema = await latest.current.schema_of();
        const found = schema && meaning_at(schema, view.current.state.doc.toString(), at);
        return found && { pos: found.from, end: found.to, above: true, create() {
          const dom = document.createElement("div");
          dom.className = "cm-says";
          dom.textContent = `${found.name}: ${found.says}`;
          return { dom };
        } };
      }));
    whole.current = true;
  }
  function state_of(doc, file) {
    return EditorState.create({ doc, extensions: [
      lineNumbers(), history(), look,
      // Tab leaves the text, as keys must not be caught there.
      keymap.of([...completionKeymap, ...searchKeymap, ...lintKeymap, ...historyKeymap, ...defaultKeymap]),
      EditorView.lineWrapping,
      EditorView.contentAttributes.of({ "aria-label": `Text of ${file}`, spellcheck: "false" }),
      EditorView.updateListener.of((update) => {
        if (!update.docChanged) return;
        clearTimeout(waiting.current);
        waiting.current = setTimeout(() => {
          waiting.current = 0;
          latest.current.change(update.state.doc.toString());
        }, 200);
      }),
    ] });
  }
  return html`<div class="editor" ref=${host}></div>
    <p class="deeds"><button type="button" class="small" onClick=${() => openSearchPanel(view.current)}>Find in the text</button></p>`;
}
