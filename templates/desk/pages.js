// The pages: each a drawing under a name made from what it holds, so that only a page that changed is
// asked for; its place, its size, and the spots of the pieces on it.

import { make } from "/lists.js";

const PIXELS_OF_A_MILLIMETRE = 96 / 25.4;
// a page that fills a wide window is hard to read
const LARGEST_FIT = 1.25;
const STEPS = [0.25, 0.33, 0.5, 0.67, 0.75, 0.9, 1, 1.25, 1.5, 2, 3, 4];

const room = document.getElementById("pages");
const stack = document.getElementById("stack");
const zoomShown = document.getElementById("zoom");
const placeShown = document.getElementById("place");

let pages = [];
let zoom = "fit";
let screen = 1;
let chosen = null;
let spotsShown = "";
let onPiece = () => {};

/** Draws a page once it comes near, and at once if it is in sight. */
const near = new IntersectionObserver((entries) => {
  for (const entry of entries) {
    const page = pages.find((one) => one.element === entry.target);
    if (!page) continue;
    page.near = entry.isIntersecting;
    if (page.near) load(page);
  }
}, { root: room, rootMargin: "120% 0px" });

const inSight = new IntersectionObserver(() => tellPlace(), { root: room, threshold: [0, 0.25, 0.5, 0.75, 1] });

function picture(kind, name, words) {
  return make("img", { class: kind, src: `/kept/${name}`, alt: words, draggable: "false" });
}

/** Waits until a drawing is there, or will not come; unlike decode() also in a window that nobody looks at. */
function arrived(image) {
  if (image.complete) return null;
  return new Promise((done) => {
    image.addEventListener("load", done, { once: true });
    image.addEventListener("error", done, { once: true });
  });
}

/** Shows the drawing that a page should have; until it is there the one before stays. */
async function load(page) {
  const { name, before } = page.wanted;
  if (page.loading === name && page.loadingBefore === before) return;
  page.loading = name;
  page.loadingBefore = before;
  const words = `Page ${page.wanted.label}: ${page.wanted.words}`;
  const changed = before !== null && before !== name;
  const fresh = picture("new", name, words);
  const old = changed ? picture("old", before, "") : null;
  // what cannot be drawn leaves its place white; the next state asks again
  await Promise.all([arrived(fresh), old && arrived(old)]);
  if (page.loading !== name || page.loadingBefore !== before) return;
  page.sheet.querySelectorAll("img, .wash").forEach((element) => element.remove());
  page.sheet.prepend(...(old ? [old, make("div", { class: "wash" })] : []), fresh);
  page.element.dataset.shown = name;
}

function build(index) {
  const sheet = make("div", { class: "sheet" });
  const spots = make("div", { class: "spots" });
  sheet.append(spots);
  const folio = make("h2", { class: "folio" });
  const element = make("article", { class: "page", tabindex: "-1", "data-index": String(index) }, folio, sheet);
  const page = { element, sheet, spots, folio, wanted: {}, near: false };
  stack.append(element);
  near.observe(element);
  inSight.observe(element);
  return page;
}

/** Shows the pages of a view. */
export function showPages(view, choose) {
  onPiece = choose;
  const list = view?.pages ?? [];
  while (pages.length > list.length) {
    const gone = pages.pop();
    near.unobserve(gone.element);
    inSight.unobserve(gone.element);
    gone.element.remove();
  }
  while (pages.length < list.length) pages.push(build(pages.length));
  list.forEach((wanted, index) => {
    const page = pages[index];
    page.wanted = wanted;
    const changed = view.compared && wanted.before !== wanted.name;
    page.element.classList.toggle("is-changed", changed);
    page.element.classList.toggle("has-old", changed && wanted.before !== null);
    page.element.dataset.name = wanted.name;
    page.element.setAttribute("aria-label", `Page ${index + 1} of ${list.length}`);
    const mark = changed ? make("span", { class: "changed" }, wanted.before === null ? "new" : "changed") : "";
    page.folio.replaceChildren(wanted.label, mark);
    page.sheet.style.setProperty("--wide", wanted.size_mm[0]);
    page.sheet.style.setProperty("--high", wanted.size_mm[1]);
    if (page.near || index === 0) load(page);
  });
  showSpots(view);
  apply();
  tellPlace();
}

const SVG = "http://www.w3.org/2000/svg";

/** The cut lines of a piece, over its place. */
function outline(spot) {
  const [, , wide, high] = spot.box_mm;
  const drawing = document.createElementNS(SVG, "svg");
  drawing.setAttribute("viewBox", `0 0 ${wide} ${high}`);
  drawing.setAttribute("preserveAspectRatio", "none");
  drawing.setAttribute("aria-hidden", "true");
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("d", spot.outline);
  drawing.append(path);
  return drawing;
}

function showSpots(view) {
  const text = JSON.stringify([pages.length, view?.plates ?? []]);
  if (spotsShown === text) return;
  spotsShown = text;
  const focused = document.activeElement?.dataset?.spot;
  pages.forEach((page) => page.spots.replaceChildren());
  // the largest first, so that a piece within another is reached
  const area = (spot) => spot.box_mm[2] * spot.box_mm[3];
  for (const spot of [...(view?.plates ?? [])].sort((a, b) => area(b) - area(a))) {
    const page = pages[spot.page];
    if (!page) continue;
    const [wide, high] = view.pages[spot.page].size_mm;
    const [x, y, w, h] = spot.box_mm;
    const key = `${spot.page} ${spot.piece} ${spot.sizes.join(" ")}`;
    const button = make("button", {
      type: "button", "data-spot": key, "data-piece": spot.piece, "aria-pressed": "false",
      "aria-label": `${spot.title}, ${spot.size_titles.join(", ")}`, title: spot.title,
      onclick: () => onPiece(spot.piece, spot.sizes, button),
    });
    for (const [side, share] of [["left", x / wide], ["top", y / high], ["width", w / wide], ["height", h / high]]) {
      button.style.setProperty(side, `${100 * share}%`);
    }
    button.append(outline(spot));
    page.spots.append(button);
    if (key === focused) button.focus({ preventScroll: true });
  }
  markPiece(chosen);
}

/** Marks the piece that is told of. */
export function markPiece(key) {
  chosen = key;
  stack.querySelectorAll("[data-piece]").forEach((spot) => spot.setAttribute("aria-pressed", String(spot.dataset.piece === key)));
}

/** The first spot of a piece. */
export const spotOf = (key) => stack.querySelector(`[data-piece="${CSS.escape(key)}"]`);

function widest() {
  return Math.max(100, ...pages.map((page) => page.wanted.size_mm[0]));
}

function factor() {
  if (zoom !== "fit") return zoom;
  const free = room.clientWidth - 48;
  const filling = free / (widest() * PIXELS_OF_A_MILLIMETRE * screen);
  return Math.max(0.1, Math.min(LARGEST_FIT, filling));
}

function apply() {
  const shown = factor();
  stack.style.setProperty("--mm", PIXELS_OF_A_MILLIMETRE * screen * shown);
  zoomShown.textContent = `${Math.round(100 * shown)} %`;
  document.getElementById("fit").setAttribute("aria-pressed", String(zoom === "fit"));
  document.getElementById("true-size").setAttribute("aria-pressed", String(zoom === 1));
}

/** Keeps the page that is read where it is while sizes change. */
function keeping(change) {
  const page = pages[current()];
  const before = page?.element.getBoundingClientRect();
  const top = room.getBoundingClientRect().top;
  const share = before ? (top - before.top) / before.height : 0;
  change();
  if (!page) return;
  const after = page.element.getBoundingClientRect();
  room.scrollBy({ top: after.top - top + share * after.height, behavior: "instant" });
}

export function setZoom(wanted) {
  keeping(() => { zoom = wanted; apply(); });
}

export function step(by) {
  const now = factor();
  const larger = STEPS.find((one) => one > now * 1.01) ?? STEPS.at(-1);
  const smaller = STEPS.findLast((one) => one < now * 0.99) ?? STEPS[0];
  setZoom(by > 0 ? larger : smaller);
}

/** What a millimetre of this screen is, beside what browsers take it for. */
export function setScreen(share) {
  screen = share;
  document.getElementById("fifty").style.setProperty("width", `${50 * PIXELS_OF_A_MILLIMETRE * share}px`);
  keeping(apply);
}

/** The page that is read: the first that reaches below the middle of the upper half. */
export function current() {
  const box = room.getBoundingClientRect();
  const line = box.top + box.height / 3;
  const index = pages.findIndex((page) => page.element.getBoundingClientRect().bottom > line);
  return index < 0 ? pages.length - 1 : index;
}

function tellPlace() {
  placeShown.textContent = pages.length ? `${current() + 1} of ${pages.length}` : "–";
}

export function toPage(index, focus = true) {
  const page = pages[Math.max(0, Math.min(pages.length - 1, index))];
  if (!page) return;
  page.element.scrollIntoView({ block: "start" });
  if (focus) page.element.focus({ preventScroll: true });
}

/** The next page that changed, after the one that is read and then from the first. */
export function toNextChange() {
  const changed = pages.map((page, index) => [page, index]).filter(([page]) => page.element.classList.contains("is-changed"));
  const next = changed.find(([, index]) => index > current()) ?? changed[0];
  if (next) toPage(next[1]);
  return changed.length;
}

export const countChanged = () => stack.querySelectorAll(".is-changed").length;

new ResizeObserver(() => { if (zoom === "fit") keeping(apply); }).observe(room);
room.addEventListener("scroll", tellPlace, { passive: true });
