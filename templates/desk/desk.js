// The desk: asks for its state, which is given as soon as it is news, and shows it. Nothing is changed from
// here; what is looked at stands in the address, so that it is the same after a reload.

import { showChanges, showChoices, showDesigns, showMessages, showPiece } from "/lists.js";
import { countChanged, current, markPiece, setScreen, setZoom, showPages, spotOf, step, toNextChange, toPage } from "/pages.js";

const byId = (id) => document.getElementById(id);
const look = Object.fromEntries(new URLSearchParams(location.hash.slice(1)));
let asking = null;
let state = null;
let facts = { name: null, pieces: {} };
let open = null;

function choose(what) {
  if (what.design && what.design !== look.design) {
    delete look.paper;
    delete look.language;
    closePiece();
    byId("pages").scrollTo({ top: 0, behavior: "instant" });
  }
  Object.assign(look, what);
  history.replaceState(null, "", `#${new URLSearchParams(look)}`);
  asking?.abort();
}

/** Asks for the state, again and again: each answer waits until there is news. */
async function ask() {
  let after = 0;
  let seen = JSON.stringify(look);
  for (;;) {
    const now = JSON.stringify(look);
    if (now !== seen) [seen, after] = [now, 0];
    asking = new AbortController();
    try {
      const query = new URLSearchParams({ ...look, after: String(after) });
      const answer = await fetch(`/desk.json?${query}`, { signal: asking.signal, cache: "no-store" });
      if (!answer.ok) throw new Error(answer.statusText);
      const next = await answer.json();
      after = next.version;
      await show(next);
      if (next.over) after = 0;
    } catch (fault) {
      if (fault.name === "AbortError") continue;
      tell("bad", "pressfoot watch has ended. Start it again, and this page goes on.");
      await new Promise((done) => setTimeout(done, 1000));
      after = 0;
    }
  }
}

function tell(kind, words) {
  const status = byId("status");
  if (status.textContent !== words) status.textContent = words;
  status.dataset.state = kind;
}

function tellStatus(design) {
  if (!design) return tell("busy", "Waiting for a design");
  const { view, working } = state;
  const own = working?.design === design.key;
  if (own && working.what === "pages") return tell("busy", "Setting the pages");
  if (own) return tell("busy", view?.fresh ? "These pages are new; the proof is under way" : "Being made and proofed");
  if (design.verdict === "being made") return tell("busy", "Waiting for its turn");
  if (view?.fresh && !view.settled && design.verdict !== "not made") return tell("busy", "Setting the pages as they are printed");
  const bad = design.verdict !== "passed its proof";
  return tell(bad ? "bad" : "good", bad ? `This design is ${design.verdict}` : "Passed its proof");
}

function tellStale(design) {
  const { view, working } = state;
  const stale = byId("stale");
  const busy = working?.design === design?.key && working?.what === "pages";
  const old = Boolean(view) && !view.fresh && !busy;
  byId("pages").classList.toggle("is-stale", old);
  const words = old ? "These pages are older than the files: they could not be set again. See the messages."
    : view?.rough ? "The layouts on cloth are drawn roughly until the build is done." : "";
  stale.hidden = words === "";
  stale.classList.toggle("is-aside", !old);
  stale.textContent = words;
}

async function loadFacts(name) {
  if (!name || facts.name === name) return;
  const answer = await fetch(`/kept/${name}`);
  if (answer.ok) facts = { name, pieces: await answer.json() };
}

async function show(next) {
  state = next;
  const design = state.designs.find((one) => one.key === state.design);
  const title = design?.title ?? "No design yet";
  if (byId("title").textContent !== title) byId("title").textContent = title;
  document.title = `${design?.errors ? "● " : ""}${title} – pressfoot`;
  showDesigns(state, choose);
  showChoices(state, choose);
  showMessages(state, (page) => toPage(page - 1));
  showChanges(state.view, (piece) => spotOf(piece)?.click());
  showPages(state.view, choosePiece);
  byId("compare").disabled = !state.view?.compared;
  byId("next-change").disabled = countChanged() === 0;
  tellStale(design);
  tellStatus(design);
  document.body.dataset.version = String(state.version);
  document.body.dataset.fresh = String(Boolean(state.view?.fresh));
  if (open) {
    await loadFacts(state.view?.facts);
    tellPiece();
  }
}

async function choosePiece(piece, sizes, from) {
  open = { piece, sizes, from };
  await loadFacts(state.view?.facts);
  tellPiece();
  byId("piece").focus({ preventScroll: true });
}

function tellPiece() {
  const piece = facts.pieces[open.piece];
  if (!piece) return closePiece();
  showPiece(piece, open.sizes);
  byId("piece").hidden = false;
  markPiece(open.piece);
}

function closePiece() {
  const from = open && spotOf(open.piece);
  byId("piece").hidden = true;
  open = null;
  markPiece(null);
  from?.focus({ preventScroll: true });
}

function compare() {
  const button = byId("compare");
  if (button.disabled) return;
  const on = button.getAttribute("aria-pressed") !== "true";
  button.setAttribute("aria-pressed", String(on));
  byId("pages").classList.toggle("comparing", on);
}

function calibrate() {
  const section = byId("calibration");
  section.hidden = !section.hidden;
  byId("rule").setAttribute("aria-expanded", String(!section.hidden));
  if (!section.hidden) byId("screen").focus();
}

function keep(key, value) {
  try { localStorage.setItem(key, value); } catch { /* a browser that keeps nothing asks again */ }
}

function kept(key) {
  try { return localStorage.getItem(key); } catch { return null; }
}

const ACTIONS = {
  smaller: () => step(-1),
  larger: () => step(1),
  fit: () => setZoom("fit"),
  "true-size": () => setZoom(1),
  rule: calibrate,
  compare,
  "next-change": toNextChange,
  previous: () => toPage(current() - 1),
  next: () => toPage(current() + 1),
  close: closePiece,
};
for (const [id, action] of Object.entries(ACTIONS)) byId(id).addEventListener("click", () => action());

const KEYS = {
  j: ACTIONS.next, k: ACTIONS.previous, "+": ACTIONS.larger, "=": ACTIONS.larger, "-": ACTIONS.smaller,
  0: ACTIONS.fit, 1: ACTIONS["true-size"], c: compare, d: toNextChange, Escape: () => open && closePiece(),
  m: () => { byId("messages-head").setAttribute("tabindex", "-1"); byId("messages-head").focus(); },
};
document.addEventListener("keydown", (event) => {
  const typing = event.target.matches("input, textarea, select");
  if (event.ctrlKey || event.metaKey || event.altKey || typing && event.key !== "Escape") return;
  const action = KEYS[event.key];
  if (!action) return;
  event.preventDefault();
  action();
});

byId("screen").addEventListener("input", (event) => {
  setScreen(Number(event.target.value) / 100);
  keep("screen", event.target.value);
});
const known = Number(kept("screen")) || 100;
byId("screen").value = String(known);
setScreen(known / 100);
ask();
