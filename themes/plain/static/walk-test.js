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

  // ticks, and what is wrong: one tap for the likeliest, the rest to choose from
  function row(kind, step, subject, box, options, place) {
    const [[first, says], ...rest] = options, name = subject.replace("|", " and ");
    const button = el("button", { type: "button", className: "hit", ariaLabel: `${name}: ${says}` }, says.split(",")[0]);
    const select = el("select", { className: "wrong", ariaLabel: `${name}: what is wrong` }, el("option", { value: "" }, "or …"));
    for (const [value, words] of rest) select.append(el("option", { value }, words));
    place.append(el("div", { className: "hits script-only" }, button, select));
    const set = (value) => { answer(kind, step, subject, value); changed(); };
    box.addEventListener("change", () => set(box.checked ? "" : null));
    button.addEventListener("click", () => set(said(kind, step, subject) === first ? null : first));
    select.addEventListener("change", () => set(select.value || null));
    redraw.push(() => {
      const v = said(kind, step, subject);
      box.checked = v === "";
      button.setAttribute("aria-pressed", String(v === first));
      select.value = v && v !== first ? v : "";
    });
  }

  // one tick for several boxes: none of them does anything else than it must
  function tickAll(kind, step, box, subjects) {
    box.addEventListener("change", () => {
      for (const s of subjects) if (box.checked ? !said(kind, step, s) : said(kind, step, s) === "") answer(kind, step, s, box.checked ? "" : null);
      changed();
    });
    redraw.push(() => {
      const values = subjects.map((s) => said(kind, step, s));
      box.checked = values.length > 0 && values.every((v) => v === "");
    });
  }

  // buttons for boxes that do something else than they must; `wrong` gives what that is, and its word
  function buttons(kind, step, subjects, wrong, hint) {
    const made = subjects.map((subject) => {
      const [value, word] = wrong(subject), button = el("button", { type: "button", className: "hit" }, subject);
      button.dataset.word = word;
      button.addEventListener("click", () => { answer(kind, step, subject, said(kind, step, subject) === value ? null : value); changed(); });
      redraw.push(() => button.setAttribute("aria-pressed", String(Boolean(said(kind, step, subject)))));
      return button;
    });
    return el("div", { className: "hits script-only" }, el("span", { className: "hint" }, hint), ...made);
  }

  const boxOptions = ["silent", "quiet", "loud", "thin", "boomy", "dull", "bright"].map((v) => [v, data.values[v]]);
  const listed = (cell) => (cell ? cell.textContent.split(", ").map((item) => item.trim().split(/\s+/)) : []);
  const steps = [...document.querySelectorAll(".step")];
  const must = (part) => [...part.querySelectorAll("tr[data-hear]")].map((tr) => tr.dataset.hear);
  const everyBox = [...new Set(steps.flatMap((part) => [...must(part), ...listed(part.querySelector(".hush .boxes")).map(([name]) => name)]))];

  function makeStep(part) {
    const step = part.dataset.step;
    for (const tr of part.querySelectorAll("tr[data-hear]")) row("hear", step, tr.dataset.hear, tr.querySelector("[data-ok]"), boxOptions, tr.lastElementChild.previousElementSibling);
    for (const tr of part.querySelectorAll("tr[data-silent]")) {
      const cell = tr.querySelector(".boxes"), names = listed(cell).map(([name]) => name);
      tickAll("hear", step, tr.querySelector("[data-ok]"), names);
      cell.replaceChildren(el("span", { className: "listed" }, cell.textContent), buttons("hear", step, names, () => ["sounds", "sounds"], "tap what sounds"));
    }
    for (const tr of part.querySelectorAll("tr[data-pair]")) {
      const pair = finder.thing(finder.id("pair", step, tr.dataset.pair)), options = ["hollow", "first-a", "first-b"].map((v) => [v, finder.words(pair, v)]);
      row("pair", step, tr.dataset.pair, tr.querySelector("[data-ok]"), options, tr.lastElementChild);
    }
    const fader = part.querySelector(".fader");
    if (fader) {
      const stays = fader.dataset.fader === "stays", word = stays ? ["silent", "falls silent"] : ["sounds", "goes on"];
      tickAll("fader", step, fader.querySelector("[data-ok]"), must(part));
      fader.append(buttons("fader", step, must(part), () => word, stays ? "tap what falls silent" : "tap what goes on sounding"));
    }
    const note = el("textarea", { rows: 2, value: kept.notes[step] || "" });
    note.addEventListener("input", () => { kept.notes[step] = note.value; keep(); });
    part.append(el("label", { className: "notes-field" }, "Notes ", note));
  }

  function makeLine(tr) {
    const step = tr.dataset.step, cell = tr.lastElementChild, boxes = listed(tr.querySelector(".boxes"));
    const names = boxes.map(([name]) => name), stays = new Set(boxes.filter((b) => b.length > 1).map(([name]) => name));
    const detail = el("details", { className: "script-only" }, el("summary", {}, "something is wrong"));
    tickAll("hear", step, tr.querySelector("[data-ok]"), names);
    cell.append(detail);
    const fill = () => {
      if (detail.children.length > 1) return;
      detail.append(
        buttons("hear", step, names, () => ["silent", "silent"], "tap what is silent"),
        buttons("hear", step, everyBox.filter((b) => !names.includes(b)), () => ["sounds", "sounds"], "tap what sounds and must not"),
        buttons("fader", step, names, (b) => (stays.has(b) ? ["silent", "falls silent"] : ["sounds", "goes on"]), "with its fader down, tap what does not do as it must"));
      for (const draw of redraw) draw();
    };
    detail.addEventListener("toggle", () => { if (detail.open) fill(); });
    if (Object.keys(kept.answers).some((k) => k.split("\n")[1] === step && kept.answers[k])) detail.open = true;
  }

  // the controls of a step are made when it is first shown: a big rig has thousands
  const made = new Set();
  function make(leaf) {
    if (made.has(leaf)) return;
    made.add(leaf);
    if (leaf.matches(".step")) makeStep(leaf);
    for (const tr of leaf.querySelectorAll(".lines tr[data-step]")) makeLine(tr);
    for (const draw of redraw) draw();
  }

  // suspects and the next test, below the step at hand
  const panel = el("section", { className: "finder", hidden: true, ariaLive: "polite", ariaLabel: "What may be wrong" });
  // names lead to their places
  const linked = (sentence) => finder.parts(sentence).map(([text, place], i) => (i % 2 ? (place ? el("a", { href: place }, text) : el("b", {}, text)) : text));
  function suspectItem(s) {
    const item = el("li");
    s.rows.forEach((r, i) => {
      item.append(el("strong", {}, i ? (s.both ? "and " : "or ") : "", ...linked(r.w)));
      item.append(el("span", {}, "Check: ", ...linked(r.c), ". "));
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
    make(leaves[at]);
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
    if (!one) leaves.forEach(make);
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
