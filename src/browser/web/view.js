// SPDX-License-Identifier: Apache-2.0
// What every part of the page draws with. Text put in by these is text, whatever it holds.
export { html, render } from "htm/preact";
export { createContext } from "preact";
export { useCallback, useContext, useEffect, useErrorBoundary, useMemo, useRef, useState } from "preact/hooks";
