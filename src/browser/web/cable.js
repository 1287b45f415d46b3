import { html } from './view.js'; export const Cable = () => html`<p>soon</p>`;
