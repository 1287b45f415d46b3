import { html } from './view.js'; export const Design = () => html`<p>soon</p>`;
