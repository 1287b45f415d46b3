// SPDX-License-Identifier: Apache-2.0
// What every part of the page draws with. Text put in by these is text, whatever it holds.
import { options } from "preact";
export { html, render } from "htm/preact";
export { createContext } from "preact";
export { useCallback, useContext, useEffect, useErrorBoundary, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";

/** What `work` changes is drawn before this comes back. */
export function at_once(work) {
  const usual = options.debounceRendering;
  options.debounceRendering = (draw) => draw();
  try {
    work();
  } finally {
    options.debounceRendering = usual;
  }
}
