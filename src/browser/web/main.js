// SPDX-License-Identifier: Apache-2.0
// The page: three questions and the whole design. What is asked is kept in the link and, where the
// browser allows it, for the next opening.
import { engine } from "./engine.js";  // first: it starts while the rest is read
import { App } from "./asking.js";
import { Cable } from "./cable.js";
import { Design } from "./design.js";
import { Files, title, words } from "./files.js";
import { from_fragment, is_question, of_kind, to_fragment, with_units } from "./link.js";
import { Numbers, settings_blank } from "./numbers.js";
import { Pack } from "./pack.js";
import { Choice, Fold } from "./pieces.js";
import { note } from "./safety.js";
import { Stay } from "./stay.js";
import { forget, store, stored } from "./stored.js";
import { Later } from "./turns.js";
import { html, render, useCallback, useEffect, useErrorBoundary, useMemo, useRef, useState } from "./view.js";

const screens = [["stay", "Will it last?", Stay], ["cable", "Is this cable right?", Cable],
  ["pack", "What pack does it need?", Pack], ["design", "The whole design", Design]];

/** What the link asks, else what was asked last; about a van that is here. */
function first_question(files) {
  const asked = is_question(location.hash) ? from_fragment(location.hash)
                                           : of_kind(stored("question"));
  return at_home(asked, files);
}
function at_home(asked, files) {
  const van = files.has(asked.van) ? asked.van : files.vans[0] ?? "";
  return { ...asked, van, packs: asked.packs.filter((one) => files.has(one) && files.root(one) === van) };
}

function Settings({ settings, change }) {
  const put = (key) => (value) => change({ ...settings, [key]: value });
  return html`<${Fold} title="Units and look" name="settings">
    <div class="row">
      <${Choice} narrow label="Units" value=${settings.units} change=${put("units")} options=${[["metric", "metric"], ["us", "US"]]} />
      <${Choice} narrow label="Decimals" value=${settings.decimal} change=${put("decimal")} options=${[["point", "point: 0.5"], ["comma", "comma: 0,5"]]} />
      <${Choice} narrow label="Look" value=${settings.look} change=${put("look")} options=${[["auto", "as the device"], ["light", "light"], ["dark", "dark"]]} />
    </div></${Fold}>`;
}

function Link({ question, numbers }) {
  const [said, set_said] = useState("");
  const copy = async () => {
    const link = location.href.split("#")[0] + to_fragment(with_units(question, numbers));
    try {
      await navigator.clipboard.writeText(link);
      set_said("The link is copied.");
    } catch {
      set_said("Copy the address of this page: it holds the question.");
    }
    setTimeout(() => set_said(""), 6000);
  };
  return html`<p class="link"><button type="button" onClick=${copy}>Copy a link to this question</button>
    <span role="status"> ${said}</span></p>`;
}

const bundled = JSON.parse(document.getElementById("bundled").textContent);
function Foot() {
  return html`<footer>
    <p class="note"><b>Safety.</b> ${note} Lithium banks can drive thousands of amperes, and the rules that hold are those
      where the vehicle is built and used.</p>
    ${words.contact && html`<p class="contact">${words.contact}</p>`}
    <p class="screen">Everything is worked out on this device. The page fetches nothing and sends nothing.</p>
    <${Fold} title="What is inside, and its licences" name="screen">
      <p>The calculation is housepower's own, compiled for browsers (Apache-2.0); besides:</p>
      <ul>${bundled.map((one) => html`<li>${one.name} ${one.version}, ${one.license}. ${one.copyright}</li>`)}</ul>
    </${Fold}></footer>`;
}

function Page() {
  const [files, set_files] = useState(() => new Files());
  const [question, set_question] = useState(() => first_question(files));
  const [settings, set_settings] = useState(() => ({ ...settings_blank, ...stored("settings") }));
  const [kept, set_kept] = useState(true);
  const numbers = useMemo(() => new Numbers(settings), [settings]);
  const heading = useRef(null);
  const change_settings = (next) => {
    if (next.units !== settings.units) set_question((old) => with_units(old, numbers));
    set_settings(next);
  };
  const set = useCallback((change) => set_question((old) => ({ ...old, ...change })), []);
  const put_files = useCallback((next) => {
    set_files(next);
    set_kept(next.keep());
    set_question((old) => at_home(old, next));
  }, []);

  useEffect(() => {
    const named = with_units(question, numbers), fragment = to_fragment(named);
    // Browsers refuse too many changes of the address in a short time.
    const timer = setTimeout(() => {
      if (location.hash !== fragment) history.replaceState(null, "", fragment);
      store("question", named);
    }, 300);
    return () => clearTimeout(timer);
  }, [question, numbers]);
  useEffect(() => {
    const heard = () => is_question(location.hash) && location.hash !== to_fragment(with_units(question, numbers)) &&
      set_question(at_home(from_fragment(location.hash), files));
    addEventListener("hashchange", heard);
    return () => removeEventListener("hashchange", heard);
  }, [question, files, numbers]);
  useEffect(() => {
    document.documentElement.dataset.look = settings.look;
    store("settings", settings);
  }, [settings]);
  const [, name, Screen] = screens.find(([key]) => key === question.screen);
  useEffect(() => { document.title = `${name} ${title}`; }, [name]);

  const app = { engine, files, put_files, question, set, numbers, settings, kept };
  return html`<${App.Provider} value=${app}>
    <a class="skip" href="#answers" onClick=${(event) => { event.preventDefault(); heading.current.focus(); }}>To the answer</a>
    <header>
      <p class="brand">${title}</p>
      <nav aria-label="Questions">${screens.map(([key, says]) => html`<a href=${to_fragment({ ...question, screen: key })}
        aria-current=${key === question.screen ? "page" : undefined}
        onClick=${(event) => { event.preventDefault(); set({ screen: key }); }}>${says}</a>`)}</nav>
      <${Settings} settings=${settings} change=${change_settings} />
    </header>
    <main id="answers">
      <h1 tabindex="-1" ref=${heading}>${name}</h1>
      ${words.about && html`<p class="about">${words.about}</p>`}
      ${!kept && html`<p class="problems">This browser keeps nothing here: save your changed files before you close the page.</p>`}
      <${Later} key=${question.screen}><${Screen} /></${Later}>
      <${Link} question=${question} numbers=${numbers} />
    </main>
    <${Later}><${Foot} /></${Later}>
  </${App.Provider}>`;
}

/** A mistake of ours must not leave an empty page; what it is stands in the browser's console, too. */
function Guarded() {
  const [error] = useErrorBoundary((one) => console.error(one));
  const again = () => { forget(); location.hash = ""; location.reload(); };
  if (!error) return html`<${Page} />`;
  return html`<main class="problems" role="alert"><h1>The page has stopped</h1>
    <p>This is a mistake of the page, not yours: ${String(error.message)}</p>
    <p>Your files are kept. The question is not.</p>
    <p><button type="button" onClick=${again}>Start again</button></p></main>`;
}

// In a turn of its own: the browser can do something else between.
setTimeout(() => {
  const place = document.getElementById("page");
  place.replaceChildren();
  render(html`<${Guarded} />`, place);
});
