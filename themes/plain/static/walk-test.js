// The walk test, one step at a time: answers are kept on this device under the fingerprint of the rig, suspects narrow
// with every answer, and the record goes out as text for the plan. Without this script the page is a form on paper.
"use strict";
(() => {
  const main = document.querySelector("main"), holder = document.getElementById("walk-data");
  if (!main || !holder) return;
  const data = JSON.parse(holder.textContent), finder = walkFinder(data);
  const NAME = `rigbook walk ${data.rig}`;
  const el = (tag, set = {}, ...inside) => {
    const made = document.createElement(tag);
    for (const [k, v] of Object.entries(set)) k in made && k !== "list" ? (made[k] = v) : made.setAttribute(k, v);
    made.append(...inside);
    return made;
  };

  // what is kept: answers by `kind, step, subject`; notes by step; name, date and note of the record
  let kept = { answers: {}, notes: {}, fields: {} };
  try { kept = { ...kept, ...JSON.parse(localStorage.getItem(NAME) || "{}") }; } catch { /* nothing to read here */ }
  const keep = () => { try { localStorage.setItem(NAME, JSON.stringify(kept)); } catch { /* lasts as long as the page */ } };
  const answer = (kind, step, subject, value) => {
    const id = finder.id(kind, step, subject);
    if (value === null) delete kept.answers[id]; else kept.answers[id] = value;
  };
  const said = (kind, step, subject) => kept.answers[finder.id(kind, step, subject)];
  const leaves = [...document.querySelectorAll(".leaf")];
  const redraw = [];
  const changed = () => { keep(); for (const draw of redraw) draw(); };

  // ticks and choices
  function row(kind, step, subject, box, options, place) {
    const select = el("select", { className: "wrong", ariaLabel: `${subject.replace("|", " and ")}: what is wrong` }, el("option", { value: "" }, "or what is wrong …"));
    for (const [value, words] of options) select.append(el("option", { value }, words));
    place.append(select);
    box.addEventListener("change", () => { answer(kind, step, subject, box.checked ? "" : null); changed(); });
    select.addEventListener("change", () => { answer(kind, step, subject, select.value || null); changed(); });
    redraw.push(() => { const v = said(kind, step, subject); box.checked = v === ""; select.value = v || ""; });
  }

  // buttons for boxes that do something else than they must; the tick says that none does
  function several(kind, step, box, subjects, wrong, place) {
    const buttons = subjects.map((subject) => {
      const button = el("button", { type: "button", className: "hit" }, subject);
      button.dataset.word = wrong(subject)[1];
      button.addEventListener("click", () => {
        const on = said(kind, step, subject) !== wrong(subject)[0];
        answer(kind, step, subject, on ? wrong(subject)[0] : null);
        changed();
      });
      redraw.push(() => button.setAttribute("aria-pressed", String(Boolean(said(kind, step, subject)))));
      return button;
    });
    if (place) place.append(el("div", { className: "hits script-only" }, ...buttons));
    box.addEventListener("change", () => {
      for (const s of subjects) if (box.checked ? !said(kind, step, s) : said(kind, step, s) === "") answer(kind, step, s, box.checked ? "" : null);
      changed();
    });
    redraw.push(() => {
      const values = subjects.map((s) => said(kind, step, s));
      box.checked = values.length > 0 && values.every((v) => v === "");
    });
  }

  const boxOptions = ["silent", "quiet", "loud", "thin", "boomy", "dull", "bright"].map((v) => [v, data.values[v]]);
  const names = (place) => [...place.querySelectorAll("[data-hear]")].map((n) => n.dataset.hear);
  for (const part of document.querySelectorAll(".step")) {
    const step = part.dataset.step;
    for (const tr of part.querySelectorAll("tr[data-hear]")) row("hear", step, tr.dataset.hear, tr.querySelector("[data-ok]"), boxOptions, tr.lastElementChild.previousElementSibling);
    for (const tr of part.querySelectorAll("tr[data-silent]")) {
      const cell = tr.querySelector(".boxes");
      several("hear", step, tr.querySelector("[data-ok]"), names(cell), () => ["sounds", "sounds"], cell);
    }
    for (const tr of part.querySelectorAll("tr[data-pair]")) {
      const options = tr.dataset.options.split("|").map((o) => o.split("="));
      row("pair", step, tr.dataset.pair, tr.querySelector("[data-ok]"), options, tr.lastElementChild);
    }
    const fader = part.querySelector(".fader");
    if (fader) {
      const stays = fader.dataset.fader === "stays", word = stays ? ["silent", "falls silent"] : ["sounds", "goes on"];
      several("fader", step, fader.querySelector("[data-ok]"), [...part.querySelectorAll("tr[data-hear]")].map((t) => t.dataset.hear), () => word, fader);
    }
    const note = el("textarea", { rows: 2, value: kept.notes[step] || "" });
    note.addEventListener("input", () => { kept.notes[step] = note.value; keep(); });
    part.append(el("label", { className: "notes-field" }, "Notes ", note));
  }
  const everyBox = [...new Set([...document.querySelectorAll(".step [data-hear], .lines [data-hear]")].map((n) => n.dataset.hear))];
  for (const tr of document.querySelectorAll(".lines tr[data-step]")) {
    const step = tr.dataset.step, cell = tr.querySelector(".boxes"), must = names(cell);
    const box = tr.querySelector("[data-ok]");
    const detail = el("details", { className: "script-only" }, el("summary", {}, "something is wrong"));
    cell.append(detail);
    several("hear", step, box, must, () => ["silent", "silent"], detail);
    const more = el("div", { className: "hits" });
    detail.append(more);
    several("hear", step, el("input", { type: "checkbox" }), everyBox.filter((b) => !must.includes(b)), () => ["sounds", "sounds"], more);
    const down = el("div", { className: "hits" }, "With its fader down: ");
    detail.append(down);
    const pre = (b) => [...cell.querySelectorAll("[data-hear]")].some((n) => n.dataset.hear === b && n.querySelector(".soft"));
    several("fader", step, el("input", { type: "checkbox" }), must, (b) => (pre(b) ? ["silent", "falls silent"] : ["sounds", "goes on"]), down);
    redraw.push(() => { if (Object.keys(kept.answers).some((k) => k.split("\n")[1] === step && kept.answers[k])) detail.open = true; });
  }

  // suspects and the next test, below the step at hand
  const panel = el("section", { className: "finder", hidden: true, ariaLive: "polite", ariaLabel: "What may be wrong" });
  // names in backticks lead to their places
  const linked = (text, places) => text.split("`").map((part, i) =>
    (i % 2 ? (places.get(part) ? el("a", { href: places.get(part) }, part) : el("b", {}, part)) : part));
  function suspectItem(s) {
    const item = el("li");
    s.rows.forEach((r, i) => {
      const places = new Map(r.h);
      item.append(el("strong", {}, i ? (s.both ? "and " : "or ") : "", ...linked(r.w, places)));
      item.append(el("span", {}, "Check: ", ...linked(r.c, places), ". "));
      if (r.l) item.append(el("span", { className: "label" }, `Label: ${r.l}`));
    });
    return item;
  }
  const MOST = 6;
  redraw.push(() => {
    const given = new Map(Object.entries(kept.answers)), left = finder.suspects(given);
    const wrong = [...given.values()].some(Boolean);
    panel.hidden = !wrong;
    panel.replaceChildren();
    if (!wrong) return;
    const tests = [...given].filter(([k, v]) => !["hear", "pair", "fader"].includes(k.split("\n")[0]));
    const both = left.length && left[0].both, unlike = left.length && left[0].misses > 0;
    const head = !left.length ? "No fault of the plan fits what was heard" : both ? "Two faults at once" : left.length === 1 ? "One thing fits" : `${left.length} things fit, first the nearest`;
    panel.append(el("h3", {}, head + (unlike && !both ? ", none of them wholly" : "")));
    panel.append(el("ol", {}, ...left.slice(0, MOST).map(suspectItem)));
    if (left.length > MOST) panel.append(el("p", {}, `and ${left.length - MOST} more`));
    const test = finder.next(given, left);
    if (test) {
      const choices = test.outcomes.map((o) => {
        const button = el("button", { type: "button", className: "hit" }, finder.words(test.thing, o.value));
        button.addEventListener("click", () => { kept.answers[test.thing.id] = o.value; changed(); });
        return button;
      });
      panel.append(el("div", { className: "next" }, el("strong", {}, `Next: ${test.thing.order}`), ...choices));
    }
    for (const [k, v] of tests) {
      const t = finder.thing(k), undo = el("button", { type: "button", className: "hit" }, "take back");
      undo.addEventListener("click", () => { delete kept.answers[k]; changed(); });
      panel.append(el("p", {}, `${t.order || t.subject} ${finder.words(t, v)}. `, undo));
    }
  });

  // the record
  const record = document.getElementById("record");
  const field = (name, words, made) => {
    made.value = kept.fields[name] || "";
    made.addEventListener("input", () => { kept.fields[name] = made.value; keep(); });
    return el("label", { className: "field" }, `${words} `, made);
  };
  const today = () => { const d = new Date(); return [d.getFullYear(), d.getMonth() + 1, d.getDate()].map((n) => String(n).padStart(2, "0")).join("-"); };
  function recordText() {
    const heard = {};
    for (const [k, v] of Object.entries(kept.answers)) {
      const [kind, step, subject] = k.split("\n");
      if (!step || !data.prints[step] || kind === "light") continue;
      heard[step] = heard[step] || [];
      if (v) heard[step].push(`${subject.replace("|", " and ")} ${finder.words(finder.thing(k), v)}${kind === "fader" ? " with the fader down" : ""}`);
    }
    for (const step of Object.keys(kept.notes)) if (kept.notes[step] && heard[step]) heard[step].push(kept.notes[step]);
    const steps = Object.keys(data.prints).filter((s) => heard[s]), q = JSON.stringify, f = kept.fields;
    return ["walk-tests:", `  - date: ${f.date || today()}`, ...(f.by ? [`    by: ${q(f.by)}`] : []),
      `    rig: ${q(steps.map((s) => `${s}:${data.prints[s]}`).join(" "))}`, "    heard:",
      ...steps.map((s) => `      ${s}: ${heard[s].length ? q(heard[s].join("; ")) : "as expected"}`),
      ...(f.text ? [`    text: ${q(f.text)}`] : [])].join("\n") + "\n";
  }
  const save = el("button", { type: "button", className: "big" }, "Save the record");
  save.addEventListener("click", () => {
    const link = el("a", { href: URL.createObjectURL(new Blob([recordText()], { type: "text/yaml" })), download: `walk-test-${kept.fields.date || today()}.yaml` });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  });
  const clear = el("button", { type: "button", className: "big" }, "Forget all answers");
  clear.addEventListener("click", () => {
    if (!confirm("Forget every answer and note of this walk test on this device?")) return;
    kept = { answers: {}, notes: {}, fields: {} };
    for (const t of document.querySelectorAll(".leaf textarea, .leaf input:not([type])")) t.value = "";
    changed();
  });
  record.append(field("by", "Walked by", el("input", { autocomplete: "off" })), field("date", "Date", el("input", { type: "date" })), field("text", "Notes", el("textarea", { rows: 3 })),
    el("p", { className: "script-only" }, "The record is a few lines of text for the plan: put them in under walk-tests. "), el("p", { className: "bar-row script-only" }, save, clear));

  // one step at a time, worked with a thumb
  const where = el("span"), fits = el("button", { type: "button", hidden: true }), all = el("button", { type: "button" }, "show all steps");
  const back = el("button", { type: "button", className: "big", ariaLabel: "Back" }, "←");
  const on = el("button", { type: "button", className: "big next-step" });
  const toggle = el("button", { type: "button", className: "big", ariaExpanded: "false" }, "Sound");
  const sound = el("div", { className: "sound", hidden: true });
  const bar = el("div", { className: "bar script-only", role: "group", ariaLabel: "Steps" }, el("p", { className: "where" }, where, fits, all), sound, el("div", { className: "bar-row" }, back, toggle, on));
  let at = Math.max(0, leaves.findIndex((l) => l.id === location.hash.slice(1) || (location.hash.length > 1 && l.contains(document.getElementById(location.hash.slice(1))))));
  function show(moved) {
    leaves.forEach((l, i) => l.classList.toggle("now", i === at));
    const leaf = leaves[at], rest = leaves[at + 1];
    where.textContent = `${at + 1} of ${leaves.length}: ${leaf.dataset.title}`;
    back.disabled = at === 0;
    on.textContent = rest ? rest.dataset.title : "Done";
    on.disabled = !rest;
    leaf.append(panel);
    prepare(leaf);
    if (moved) {
      history.replaceState(null, "", `#${leaf.id}`);
      const head = leaf.querySelector("h2");
      head.tabIndex = -1;
      head.focus({ preventScroll: true });
      scrollTo(0, main.offsetTop);
    }
  }
  back.addEventListener("click", () => { at = Math.max(0, at - 1); show(true); });
  on.addEventListener("click", () => { at = Math.min(leaves.length - 1, at + 1); show(true); });
  addEventListener("hashchange", () => {
    const target = document.getElementById(location.hash.slice(1)), i = leaves.findIndex((l) => target && l.contains(target));
    if (i >= 0) { at = i; show(false); }
  });
  all.addEventListener("click", () => {
    const one = main.classList.toggle("one-step");
    all.textContent = one ? "show all steps" : "one step at a time";
  });

  fits.addEventListener("click", () => panel.scrollIntoView());
  redraw.push(() => {
    fits.hidden = panel.hidden;
    const n = panel.querySelectorAll("ol > li").length;
    fits.textContent = n ? `what may be wrong: ${n}` : "nothing fits";
  });

  // sound
  const options = (of) => Object.entries(of).map(([value, words]) => el("option", { value }, words));
  const signal = el("select", { id: "walk-signal" }, ...options(walkSound.SIGNALS));
  const side = el("select", { id: "walk-side" }, ...options(walkSound.SIDES));
  const level = el("input", { type: "range", min: -60, max: 0, step: 1, value: walkSound.START_DB });
  const shown = el("output"), plays = el("p", { className: "plays", role: "status" });
  const go = el("button", { type: "button", className: "big" }, "Play");
  const halt = el("button", { type: "button", className: "big halt", hidden: true }, "Stop the sound");
  const say = () => {
    const on = walkSound.on;
    shown.textContent = ` ${String(level.value).replace("-", "−")} dB`;
    go.hidden = Boolean(on);
    halt.hidden = !on;
    const words = on ? `Now playing: ${walkSound.SIGNALS[on]}, ${walkSound.SIDES[walkSound.side]}` : "";
    if (plays.textContent !== words) plays.textContent = words;
    toggle.classList.toggle("on", Boolean(on));
  };
  const play = () => { level.value = walkSound.START_DB; walkSound.start(signal.value, side.value); };
  walkSound.onChange(say);
  go.addEventListener("click", play);
  halt.addEventListener("click", walkSound.stop);
  signal.addEventListener("change", () => { if (walkSound.on) play(); });
  side.addEventListener("change", () => { if (walkSound.on) play(); });
  level.addEventListener("input", () => { walkSound.setLevel(Number(level.value)); say(); });
  toggle.addEventListener("click", () => { sound.hidden = !sound.hidden; toggle.setAttribute("aria-expanded", String(!sound.hidden)); });
  sound.append(el("p", { className: "caution-line" }, "Begins at −40 dB. Loud noise damages hearing: no headphones, nobody at a box, raise slowly."),
    el("label", {}, "Signal ", signal), el("label", {}, "Side ", side), el("label", {}, "Level", shown, level), go);
  sound.after(plays, halt);
  // another step wants another sound: it ends, and the next one begins quiet again
  function prepare(leaf) {
    const wanted = { speech: "pink" }[leaf.dataset.signal] || leaf.dataset.signal;
    walkSound.stop();
    if (!wanted) return;
    signal.value = wanted;
    const step = leaf.dataset.step || "";
    side.value = step.endsWith("-left") ? "left" : step.endsWith("-right") ? "right" : "both";
  }

  main.classList.add("one-step", "live");
  main.append(bar);
  say();
  show(false);
  changed();
})();
