// SPDX-License-Identifier: Apache-2.0
// Questions of a screen and their answers, as they come.
import { keep_answer, kept_answer } from "./kept.js";
import { createContext, useContext, useEffect, useRef, useState } from "./view.js";

export const App = createContext(null);
export const use_app = () => useContext(App);

const nothing = { answer: null, busy: true, broken: "", key: "" };

/** The answer to `request` ({arguments, files} or null), asked again when it changes; the last answer
    stays, marked as old, until the new one is there. `keep`: the name under which it is kept for the
    next opening; one that was kept has `kept`, when it was, until the engine has answered anew. */
export function use_answer(request, { slot, keep = "", lean = "", soon = false, wait = soon ? 0 : 40 } = {}) {
  const { engine } = use_app();
  const key = request ? JSON.stringify(request) : "";
  const [state, set_state] = useState(() => {
    const found = keep && kept_answer(keep, key);
    return found ? { ...nothing, answer: found.answer, kept: found.at, key } : nothing;
  });
  const latest = useRef("");
  latest.current = key;
  useEffect(() => {
    if (!request) {
      engine.cancel(slot);
      return void set_state({ ...nothing, busy: false });
    }
    set_state((old) => ({ ...old, busy: true }));
    const timer = setTimeout(() => {
      engine.ask(request, { slot, lean, soon }).then((answer) => {
        if (!answer || latest.current !== key) return;
        set_state({ answer, busy: false, broken: "", key });
        if (keep && is_json(answer)) keep_answer(keep, key, answer);
      }, (error) => latest.current === key && set_state({ ...nothing, busy: false, broken: error.message, key }));
    }, wait);
    return () => clearTimeout(timer);
  }, [key]);
  useEffect(() => () => engine.cancel(slot), []);
  return state.kept && state.key !== key ? nothing : state;
}

/** What the engine said when the page was made and says whatever is asked: towns and tables by name. */
export const facts = JSON.parse(document.getElementById("facts").textContent);

/** Whether it answers (what it warns of may stand beside), and refuses nothing. */
export const is_json = (answer) => Boolean(answer?.json) && answer.exit <= 1;
