// SPDX-License-Identifier: Apache-2.0
// Questions of a screen and their answers, as they come.
import { createContext, useContext, useEffect, useRef, useState } from "./view.js";

export const App = createContext(null);
export const use_app = () => useContext(App);

/** The answer to `request` ({arguments, files} or null), asked again when it changes; the last answer
    stays, marked as old, until the new one is there. */
export function use_answer(request, { slot, lean = "", soon = false, wait = soon ? 0 : 40 } = {}) {
  const { engine } = use_app();
  const [state, set_state] = useState({ answer: null, busy: true, broken: "", key: "" });
  const key = request ? JSON.stringify(request) : "";
  const latest = useRef("");
  latest.current = key;
  useEffect(() => {
    if (!request) {
      engine.cancel(slot);
      return void set_state({ answer: null, busy: false, broken: "", key: "" });
    }
    set_state((old) => ({ ...old, busy: true }));
    const timer = setTimeout(() => {
      engine.ask(request, { slot, lean, soon }).then(
        (answer) => answer && latest.current === key &&
          set_state({ answer, busy: false, broken: "", key }),
        (error) => latest.current === key &&
          set_state({ answer: null, busy: false, broken: error.message, key }));
    }, wait);
    return () => clearTimeout(timer);
  }, [key]);
  useEffect(() => () => engine.cancel(slot), []);
  return state;
}

/** What the engine said when the page was made and says whatever is asked: towns and tables by name. */
export const facts = JSON.parse(document.getElementById("facts").textContent);

export const is_json = (answer) => Boolean(answer?.json) && !answer.json.diagnostics?.length;
