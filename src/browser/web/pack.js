import { html } from './view.js'; export const Pack = () => html`<p>soon</p>`;
