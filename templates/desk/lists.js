// The lists beside the pages: designs, papers, languages, messages, changes, and what is told of a piece.

/** An element with attributes, properties that begin with `on`, and children; texts stay texts. */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

const byId = (id) => document.getElementById(id);

/** Puts `children` in the place of what is in an element; what had the focus there has it again. */
function fill(element, children) {
  const focused = element.contains(document.activeElement) ? document.activeElement.dataset.key : null;
  element.replaceChildren(...children);
  if (focused) element.querySelector(`[data-key="${CSS.escape(focused)}"]`)?.focus();
}

const counted = (count, one) => (count === 1 ? `1 ${one}` : `${count} ${one}s`);

function verdict(design, working) {
  const parts = [];
  if (working?.design === design.key && design.verdict === "being made") {
    parts.push(working.what === "pages" ? "setting its pages" : "being made and proofed");
  } else if (design.verdict === "being made") parts.push("waiting");
  else parts.push(design.verdict);
  if (design.errors) parts.push(counted(design.errors, "error"));
  if (design.warnings) parts.push(counted(design.warnings, "warning"));
  return parts.join(", ");
}

export function showDesigns(state, choose) {
  const item = (design) => {
    const bad = design.errors > 0 || ["not made", "not proofed"].includes(design.verdict);
    const good = design.verdict === "passed its proof";
    return make("li", {}, make("button", {
      type: "button", "data-key": design.key, "aria-current": String(design.key === state.design),
      onclick: () => choose({ design: design.key }),
    },
    make("span", { class: "name" }, design.title),
    make("span", { class: `verdict${bad ? " bad" : good ? " good" : ""}` }, verdict(design, state.working))));
  };
  fill(byId("designs"), state.designs.map(item));
}

const LANGUAGES = new Intl.DisplayNames(["en"], { type: "language" });
const named = (tag) => { try { return LANGUAGES.of(tag); } catch { return tag; } };

export function showChoices(state, choose) {
  const design = state.designs.find((one) => one.key === state.design);
  const chip = (kind, key, words) => make("button", {
    type: "button", "data-key": key, "aria-pressed": String(state.looked[kind] === key),
    onclick: () => choose({ [kind]: key }),
  }, words);
  fill(byId("papers"), (design?.papers ?? []).map((paper) => chip("paper", paper.key, paper.name)));
  const languages = design?.languages ?? [];
  fill(byId("languages"), languages.map((tag) => chip("language", tag, named(tag))));
  byId("languages-room").hidden = languages.length < 2;
}

function excerpt(lines) {
  const line = (one) => make("span", { class: `line${one.marked === undefined ? "" : " here"}` },
    make("span", { class: "number", "aria-hidden": "true" }, String(one.line)),
    ...(one.marked === undefined ? [one.text] : [one.before, make("mark", {}, one.marked), one.after]));
  return make("pre", { class: "excerpt", tabindex: "0", "aria-label": "The lines of the file" }, lines.map(line));
}

function message(one, toPage) {
  const place = one.file && `${one.file}${one.line ? `:${one.line}:${one.column}` : ""}`;
  return make("li", { class: `message ${one.level}`, "data-code": one.code },
    make("p", {}, make("span", { class: "level" }, `${one.level[0].toUpperCase()}${one.level.slice(1)}. `), one.message),
    place && make("p", { class: "at" }, place, " ", make("code", {}, one.code)),
    !place && make("p", { class: "at" }, make("code", {}, one.code)),
    one.page && make("p", { class: "at" }, make("button", { type: "button", onclick: () => toPage(one.page) }, `Page ${one.page}`)),
    one.excerpt.length > 0 && (one.level === "note"
      ? make("details", {}, make("summary", {}, "Lines"), excerpt(one.excerpt)) : excerpt(one.excerpt)),
    one.remedy && make("p", { class: "remedy" }, one.remedy),
  );
}

const WEIGHT = { error: 0, warning: 1, note: 2 };

export function showMessages(state, toPage) {
  const list = [...(state.messages ?? [])].sort((a, b) => WEIGHT[a.level] - WEIGHT[b.level]);
  const text = JSON.stringify(list);
  const element = byId("messages");
  if (element.dataset.shown !== text) {
    element.dataset.shown = text;
    element.replaceChildren(...list.map((one) => message(one, toPage)));
    // of a long line the place is shown
    element.querySelectorAll("mark").forEach((mark) => {
      const lines = mark.closest("pre");
      lines.scrollLeft = Math.max(0, mark.offsetLeft + mark.offsetWidth - 0.8 * lines.clientWidth);
    });
  }
  const about = byId("messages-about");
  if (list.length === 0) about.textContent = state.proofed ? "Nothing was found." : "Nothing so far.";
  else about.textContent = state.proofed ? "" : "Before the proof; more may come.";
}

export function showChanges(view, toPiece) {
  const list = view?.changes ?? [];
  byId("changes-room").hidden = list.length === 0;
  fill(byId("changes"), list.map((one) => make("li", {}, one.piece
    ? make("button", { type: "button", "data-key": one.words, onclick: () => toPiece(one.piece) }, one.words)
    : one.words)));
}

function table(heads, rows) {
  const head = make("tr", {}, heads.map((words) => make("th", { scope: "col" }, words)));
  const row = ([first, ...rest]) => make("tr", {}, make("th", { scope: "row" }, first), rest.map((cell) => make("td", {}, cell)));
  return make("table", {}, make("thead", {}, head), make("tbody", {}, rows.map(row)));
}

/** A length in two units, each of which stays together. */
function measure(text) {
  const [, first, other] = text.match(/^(.*?) (\(.*\))$/) ?? [null, text, ""];
  const part = (words) => make("span", { class: "length" }, words);
  return other ? make("span", {}, part(first), " ", part(other)) : part(first);
}

function seams(list) {
  return list.map((seam) => {
    const eased = seam.eased_percent ? `${seam.eased_percent > 0 ? "+" : "−"}${Math.abs(seam.eased_percent)} %` : "even";
    const off = seam.gap_mm ? make("span", { class: "off" }, ` off by ${seam.gap_mm} mm`) : null;
    return [make("span", {}, seam.edge, " to ", seam.to), make("span", {}, measure(seam.length), " to ", measure(seam.to_length)), make("span", {}, eased, off ?? "")];
  });
}

/** What is told of a piece, with the sizes that are looked at. */
export function showPiece(piece, sizes) {
  byId("piece-head").textContent = `${piece.number} ${piece.title}`;
  const shown = piece.sizes.filter((size) => sizes.includes(size.size));
  const parts = [];
  if (piece.note) parts.push(make("p", { class: "note" }, piece.note));
  if (piece.cuts.length > 0) {
    parts.push(make("h3", {}, "Cut"), table(["Cloth", "Pieces"],
      piece.cuts.map((cut) => [cut.cloth, `${cut.count}${cut.mirrored ? ", half of them mirrored" : ""}`])));
  }
  for (const size of shown) {
    if (piece.sizes.length > 1) parts.push(make("h3", {}, size.title));
    parts.push(make("p", { class: "aside" }, "Cut line ", measure(size.wide), " wide, ", measure(size.high), " high, ",
      measure(size.round), " round"));
    parts.push(make("h3", {}, "Edges"), table(["Edge", "Length", "Allowance"],
      size.edges.map((edge) => [edge.name, measure(edge.length), edge.allowance ? measure(edge.allowance) : "none"])));
    if (size.seams.length > 0) parts.push(make("h3", {}, "Seams"), table(["Seam", "Lengths", "Easing"], seams(size.seams)));
    if (size.notches.length > 0) {
      parts.push(make("h3", {}, "Notches"), table(["Notch", "Edge", "From its start"],
        size.notches.map((notch) => [notch.name, notch.edge, measure(notch.at)])));
    }
  }
  byId("piece-body").replaceChildren(...parts);
}
