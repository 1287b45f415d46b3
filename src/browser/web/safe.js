// SPDX-License-Identifier: Apache-2.0
// Drawings and pages that the engine wrote. It escapes every name; still nothing of them is trusted:
// they are parsed apart, and only elements and attributes of this list are built again.

const elements = new Set(`section h2 h3 h4 p b span dl div dt dd table caption thead tbody tr th td
  details summary ol ul li figure figcaption small em strong code pre
  svg g path text tspan title desc line rect circle ellipse polyline polygon defs marker use`.split(/\s+/));
const attributes = new Set(`class id scope colspan rowspan role tabindex aria-label aria-labelledby
  aria-describedby open viewbox width height d x y x1 y1 x2 y2 cx cy r rx ry dx dy points fill stroke
  stroke-width stroke-dasharray stroke-linecap stroke-linejoin font-size font-weight font-family
  font-style text-anchor dominant-baseline transform direction opacity color preserveaspectratio
  textlength lengthadjust data-path data-subject data-run data-thing xml:space`.split(/\s+/));
const svg = "http://www.w3.org/2000/svg";
const html = "http://www.w3.org/1999/xhtml";

/** Without what is in it; null for what is not on the list. */
function shell(node, made_ids) {
  if (node.nodeType !== Node.ELEMENT_NODE) return null;
  const name = node.localName.toLowerCase();
  if (!elements.has(name) || ![svg, html].includes(node.namespaceURI)) return null;
  const made = document.createElementNS(node.namespaceURI, node.localName);
  for (const { name: key, value } of node.attributes) {
    const low = key.toLowerCase();
    if (!attributes.has(low) || /url\s*\(/i.test(value)) continue;
    if (["id", "aria-labelledby", "aria-describedby"].includes(low))
      made.setAttribute(key, value.split(/\s+/).map((one) => made_ids + one).join(" "));
    else made.setAttribute(key, value);
  }
  return made;
}

function copied(node, made_ids, say) {
  if (node.nodeType === Node.TEXT_NODE) return document.createTextNode(say(node.data));
  const made = shell(node, made_ids);
  made?.append(...[...node.childNodes].map((one) => copied(one, made_ids, say)).filter(Boolean));
  return made;
}

const is_light = (node) => node.nodeType !== Node.ELEMENT_NODE || node.getElementsByTagName("*").length < 80;
/** Steps that put a copy last into `place`, as what is copied may be large; they end with the copy. */
function* put_copy(node, place, made_ids, say) {
  const made = is_light(node) ? copied(node, made_ids, say) : shell(node, made_ids);
  if (!made) return null;
  place.append(made);
  if (is_light(node)) return made;
  for (const one of node.childNodes) {
    yield;
    yield* put_copy(one, made, made_ids, say);
  }
  return made;
}

/** Their own style is left out before they are parsed: the page's policy would complain of it even there. */
const without_style = (text) => text.replace(/<style\b[^>]*>[^]*?<\/style>/gi, "");

/** Steps to a drawing, or null. `ids` goes before each id, so that two of them do not meet; `say` is how its words are shown. */
export function* drawing(text, ids, say) {
  const parsed = new DOMParser().parseFromString(without_style(text), "image/svg+xml");
  const root = parsed.documentElement;
  yield;
  return root.localName === "svg" ? yield* put_copy(root, new DocumentFragment(), ids, say) : null;
}

/** In steps; nothing of such a document runs or is fetched. */
function* read_page(text) {
  const parsed = document.implementation.createHTMLDocument();
  parsed.open();
  for (let at = 0; at < text.length; at += 32768) {
    parsed.write(text.slice(at, at + 32768));
    yield;
  }
  parsed.close();
  return parsed;
}

/** Steps that set into `place` what stands in `main` of a page: each part in place of what stood there before. */
export function* set_page(place, text, ids, say) {
  const parsed = yield* read_page(without_style(text));
  let count = 0;
  for (const one of (parsed.querySelector("main") ?? parsed.body).childNodes) {
    yield;
    const old = place.childNodes[count];
    const made = yield* put_copy(one, old ? new DocumentFragment() : place, ids, say);
    if (!made) continue;
    old?.replaceWith(made);
    ++count;
  }
  while (place.childNodes.length > count) place.lastChild.remove();
}
