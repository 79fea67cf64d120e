// The walk test, one step at a time: answers are kept on this device under the fingerprint of the rig, suspects narrow
// with every answer, and the record goes out as a file for the plan. Without this script the page is a form on paper.
"use strict";
(() => {
  const main = document.querySelector("main"), holder = document.getElementById("walk-data");
  if (!main || !holder) return;
  const data = JSON.parse(holder.textContent), finder = walkFinder(data);
  const el = (tag, set = {}, ...inside) => {
    const made = document.createElement(tag);
    for (const [k, v] of Object.entries(set)) k in made && k !== "list" ? (made[k] = v) : made.setAttribute(k, v);
    made.append(...inside);
    return made;
  };

  const record = walkRecord(data, finder);
  const answer = (kind, step, subject, value) => record.answer(finder.id(kind, step, subject), value);
  const said = (kind, step, subject) => record.said(finder.id(kind, step, subject));
  const needs = (kind, step, subjects) => { for (const s of subjects) record.need(step, finder.id(kind, step, s)); };
  const leaves = [...document.querySelectorAll(".leaf")];
  const redraw = [], refill = [];
  const changed = () => { record.keep(); for (const draw of redraw) draw(); };

  // ticks, and what is wrong: one tap for the likeliest, the rest to choose from
  function row(kind, step, subject, box, options, place) {
    const [[first, says], ...rest] = options, name = subject.replace("|", " & ");
    const button = el("button", { type: "button", className: "hit", ariaLabel: `${name}${apart.colon}${says}` }, says.split(",")[0]);
    const select = el("select", { className: "wrong", ariaLabel: say("{box}: what is wrong", { box: name }) }, el("option", { value: "" }, say("or …")));
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
      redraw.push(() => button.setAttribute("aria-pressed", String(said(kind, step, subject) === value)));
      return button;
    });
    return el("div", { className: "hits script-only" }, el("span", { className: "hint" }, hint), ...made);
  }

  const boxOptions = ["silent", "quiet", "loud", "thin", "boomy", "dull", "bright"].map((v) => [v, data.values[v]]);
  const listed = (cell) => (cell ? cell.textContent.split(", ").map((item) => item.trim().split(/\s+/)) : []);
  const steps = [...document.querySelectorAll(".step")];
  const must = (part) => [...part.querySelectorAll("tr[data-hear]")].map((tr) => tr.dataset.hear);
  const everyBox = [...new Set(steps.flatMap((part) => [...must(part), ...listed(part.querySelector(".hush .boxes")).map(([name]) => name)]))];

  // where nothing is to be heard of an input, its line is one answer
  const ofLine = (tr) => (tr.querySelector(".boxes") ? listed(tr.querySelector(".boxes")).map(([name]) => name) : [""]);
  // what has to be answered before a step is as it must be, known before its controls are made
  for (const part of steps) {
    const step = part.dataset.step, silent = listed(part.querySelector(".hush .boxes")).map(([name]) => name);
    needs("hear", step, [...must(part), ...silent]);
    needs("pair", step, [...part.querySelectorAll("tr[data-pair]")].map((tr) => tr.dataset.pair));
    if (part.querySelector(".fader")) needs("fader", step, must(part));
  }
  for (const tr of document.querySelectorAll(".lines tr[data-step]")) needs("hear", tr.dataset.step, ofLine(tr));

  function makeStep(part) {
    const step = part.dataset.step;
    for (const tr of part.querySelectorAll("tr[data-hear]")) row("hear", step, tr.dataset.hear, tr.querySelector("[data-ok]"), boxOptions, tr.lastElementChild.previousElementSibling);
    for (const tr of part.querySelectorAll("tr[data-silent]")) {
      const cell = tr.querySelector(".boxes"), names = listed(cell).map(([name]) => name);
      tickAll("hear", step, tr.querySelector("[data-ok]"), names);
      cell.replaceChildren(el("span", { className: "listed" }, cell.textContent), buttons("hear", step, names, () => ["sounds", say("sounds")], say("tap what sounds")));
    }
    for (const tr of part.querySelectorAll("tr[data-pair]")) {
      const pair = finder.thing(finder.id("pair", step, tr.dataset.pair)), options = ["hollow", "first-a", "first-b"].map((v) => [v, finder.words(pair, v)]);
      row("pair", step, tr.dataset.pair, tr.querySelector("[data-ok]"), options, tr.lastElementChild);
    }
    const fader = part.querySelector(".fader");
    if (fader) {
      const stays = fader.dataset.fader === "stays", word = stays ? ["silent", say("falls silent")] : ["sounds", say("goes on")];
      tickAll("fader", step, fader.querySelector("[data-ok]"), must(part));
      fader.append(buttons("fader", step, must(part), () => word, stays ? say("tap what falls silent") : say("tap what goes on sounding")));
    }
    const all = el("button", { type: "button", className: "big all-good script-only" }, say("Everything as it must be"));
    all.addEventListener("click", () => { record.allGood(step); changed(); });
    redraw.push(() => { all.hidden = ["good", "wrong"].includes(record.state(step).word); });
    const note = el("textarea", { rows: 2 });
    note.addEventListener("input", () => record.note(step, note.value));
    const fill = () => { note.value = record.kept.notes[step] || ""; };
    refill.push(fill);
    fill();
    part.append(all, el("label", { className: "notes-field" }, say("Notes"), " ", note));
  }

  function makeLine(tr) {
    const step = tr.dataset.step, cell = tr.lastElementChild, boxes = listed(tr.querySelector(".boxes"));
    const names = boxes.map(([name]) => name), stays = new Set(boxes.filter((b) => b.length > 1).map(([name]) => name));
    const detail = el("details", { className: "script-only" }, el("summary", {}, say("something is wrong")));
    tickAll("hear", step, tr.querySelector("[data-ok]"), ofLine(tr));
    cell.append(detail);
    const fill = () => {
      if (detail.children.length > 1) return;
      detail.append(
        buttons("hear", step, names, () => ["silent", say("silent")], say("tap what is silent")),
        buttons("hear", step, names, () => ["hums", say("hums")], say("tap what hums")),
        buttons("hear", step, everyBox.filter((b) => !names.includes(b)), () => ["sounds", say("sounds")], say("tap what sounds and must not")),
        buttons("fader", step, names, (b) => (stays.has(b) ? ["silent", say("falls silent")] : ["sounds", say("goes on")]), say("with its fader down, tap what does not do as it must")));
      for (const draw of redraw) draw();
    };
    detail.addEventListener("toggle", () => { if (detail.open) fill(); });
    redraw.push(() => { if (record.state(step).word === "wrong") detail.open = true; });
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
  const panel = el("section", { className: "finder", hidden: true, ariaLive: "polite", ariaLabel: say("What may be wrong") });
  // names lead to their places
  const linked = (sentence) => finder.parts(sentence).map(([text, place], i) => (i % 2 ? (place ? el("a", { href: place }, text) : el("b", {}, text)) : text));
  function suspectItem(s) {
    const item = el("li");
    s.rows.forEach((r, i) => {
      item.append(el("strong", {}, i ? `${s.both ? say("and") : say("or")} ` : "", ...linked(r.w)));
      item.append(el("span", {}, `${say("Check:")} `, ...linked(r.c), ". "));
      if (r.l) item.append(el("span", { className: "label" }, say("Label: {label}", { label: r.l })));
    });
    return item;
  }
  const MOST = 6, unsure = new Set();
  const probing = (id) => !["hear", "pair", "fader"].includes(id.split("\n")[0]);
  let fit = 0;
  // what was wrong is to be heard again, what was looked at no longer holds
  function mended() {
    for (const [id, v] of Object.entries(record.kept.answers)) if (v || probing(id)) record.answer(id, null);
    unsure.clear();
    changed();
  }
  redraw.push(() => {
    const given = new Map(Object.entries(record.kept.answers)), left = finder.suspects(given);
    const wrong = [...given.values()].some(Boolean);
    panel.hidden = !wrong;
    panel.replaceChildren();
    if (!wrong) return;
    fit = left.length;
    const tests = [...given].filter(([id]) => probing(id));
    const both = left.length && left[0].both, unlike = left.length && left[0].misses > 0;
    const head = !left.length ? say("No fault of the plan fits what was heard") : both ? say("Two faults at once") : left.length === 1 ? say("One thing fits") : say("{n} things fit, first the nearest", { n: left.length });
    panel.append(el("h3", {}, unlike && !both ? say("{what}, none of them wholly", { what: head }) : head));
    const test = finder.next(given, left, unsure);
    if (test) {
      const choices = test.outcomes.map((o) => {
        const button = el("button", { type: "button", className: "hit" }, finder.words(test.thing, o.value));
        button.addEventListener("click", () => { record.answer(test.thing.id, o.value); changed(); });
        return button;
      });
      const skip = el("button", { type: "button", className: "hit" }, say("not sure"));
      skip.addEventListener("click", () => { unsure.add(test.thing.id); changed(); });
      const words = { test: test.thing.order };
      panel.append(el("div", { className: "next" }, el("strong", {}, test.sure ? say("To be sure: {test}", words) : say("Next: {test}", words)), ...choices, skip));
    }
    const open = left.findIndex((s) => s.unsaid), shown = left.slice(0, MOST).map(suspectItem);
    if (open >= 0 && open < MOST) shown[open].prepend(el("span", { className: "soft" }, say("Behind the desk, where the steps tell more than the line check:")));
    panel.append(el("ol", {}, ...shown));
    if (left.length > MOST) panel.append(el("p", {}, say("and {n} more", { n: left.length - MOST })));
    for (const [k, v] of tests) {
      const t = finder.thing(k), undo = el("button", { type: "button", className: "hit" }, say("take back"));
      undo.addEventListener("click", () => { record.answer(k, null); changed(); });
      panel.append(el("p", { className: "tried" }, `${t.order || t.subject} `, el("b", {}, finder.words(t, v)), undo));
    }
    for (const id of unsure) {
      const t = finder.thing(id), undo = el("button", { type: "button", className: "hit" }, say("take back"));
      undo.addEventListener("click", () => { unsure.delete(id); changed(); });
      panel.append(el("p", { className: "tried" }, `${t.order || t.subject} `, el("b", {}, say("not sure")), undo));
    }
    const done = el("button", { type: "button", className: "big" }, say("It is mended: hear again what was wrong"));
    done.addEventListener("click", mended);
    panel.append(done);
  });

  // the record
  const sheet = document.getElementById("record");
  const field = (name, words, made) => {
    made.addEventListener("input", () => { record.kept.fields[name] = made.value; changed(); });
    refill.push(() => { made.value = record.kept.fields[name] || ""; });
    return el("label", { className: "field" }, `${words} `, made);
  };
  const results = el("dl", { className: "results script-only" });
  const stateWords = { none: say("not heard"), good: say("as it must be") };
  const titles = new Map([...document.querySelectorAll("[data-step]")].map((n) => [n.dataset.step, n.dataset.title]));
  redraw.push(() => results.replaceChildren(...[...titles].map(([step, title]) => {
    const s = record.state(step);
    const words = s.word === "wrong" ? s.wrong.join(apart.semicolon) : s.word === "part" ? say("{done} of {of} heard", s) : stateWords[s.word];
    return el("div", { className: `is-${s.word}` }, el("dt", {}, title), el("dd", {}, words));
  })));
  const save = el("button", { type: "button", className: "big" }, say("Save the record"));
  save.addEventListener("click", () => {
    const link = el("a", { href: URL.createObjectURL(new Blob([record.text()], { type: "text/yaml" })), download: record.fileName() });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  });
  const shownText = el("pre", { className: "record-text", tabIndex: 0 }), fileNamed = el("code");
  const asText = el("details", { className: "script-only" }, el("summary", {}, say("the record as text")), el("p", {}, fileNamed), shownText);
  redraw.push(() => {
    shownText.textContent = record.text();
    fileNamed.textContent = record.fileName();
    save.disabled = asText.hidden = !record.text();
  });
  const clear = el("button", { type: "button", className: "big" }, say("Forget all answers"));
  clear.addEventListener("click", () => {
    if (!confirm(say("Forget every answer and note of this walk test on this device?"))) return;
    record.forget();
    again();
  });
  const again = () => { for (const fill of refill) fill(); for (const draw of redraw) draw(); };
  record.onOther(again);
  sheet.append(field("by", say("Walked by"), el("input", { autocomplete: "name" })), field("text", say("Notes"), el("textarea", { rows: 3 })),
    el("p", { className: "script-only" }, say("The record is a small file. Put it beside the plan and leave its name as it is: the next build reads it, and files of several phones lie beside each other.")),
    el("p", { className: "bar-row script-only" }, save, clear), results, asText);

  // one step at a time, worked with a thumb
  const where = el("span"), fits = el("button", { type: "button", hidden: true }), all = el("button", { type: "button" }, say("show all steps"));
  const back = el("button", { type: "button", className: "big", ariaLabel: say("Back") }, document.dir === "rtl" ? "→" : "←");
  const on = el("button", { type: "button", className: "big next-step" });
  const toggle = el("button", { type: "button", className: "big", ariaExpanded: "false" }, say("Sound"));
  const sound = el("div", { className: "sound", hidden: true });
  const bar = el("div", { className: "bar script-only", role: "group", ariaLabel: say("Steps") }, el("p", { className: "where" }, where, fits, all), sound, el("div", { className: "bar-row" }, back, toggle, on));
  let at = Math.max(0, leaves.findIndex((l) => l.id === location.hash.slice(1) || (location.hash.length > 1 && l.contains(document.getElementById(location.hash.slice(1))))));
  function show(moved) {
    make(leaves[at]);
    leaves.forEach((l, i) => l.classList.toggle("now", i === at));
    const leaf = leaves[at], rest = leaves[at + 1];
    // the number is that of the steps: what comes before and after them is no step
    where.textContent = leaf.dataset.step ? say("step {n} of {all}: {title}", { n: steps.indexOf(leaf) + 1, all: steps.length, title: leaf.dataset.title }) : leaf.dataset.title;
    back.disabled = at === 0;
    on.textContent = rest ? rest.dataset.title : say("Done");
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
    all.textContent = one ? say("show all steps") : say("one step at a time");
  });

  fits.addEventListener("click", () => panel.scrollIntoView());
  redraw.push(() => {
    fits.hidden = panel.hidden;
    fits.textContent = fit ? say("what may be wrong: {n}", { n: fit }) : say("nothing fits");
  });

  // sound
  const options = (of) => Object.entries(of).map(([value, words]) => el("option", { value }, words));
  const signal = el("select", { id: "walk-signal" }, ...options(walkSound.SIGNALS));
  const side = el("select", { id: "walk-side" }, ...options(walkSound.SIDES));
  const level = el("input", { type: "range", min: -60, max: 0, step: 1, value: walkSound.START_DB });
  const shown = el("output"), plays = el("p", { className: "plays", role: "status" });
  const go = el("button", { type: "button", className: "big" }, say("Play"));
  const halt = el("button", { type: "button", className: "big halt", hidden: true }, say("Stop the sound"));
  const showSound = () => {
    const on = walkSound.on;
    shown.textContent = ` ${String(level.value).replace("-", "−")} dB`;
    go.hidden = Boolean(on);
    halt.hidden = !on;
    sound.classList.toggle("playing", Boolean(on));
    const words = on ? say("Now playing: {sound}, {side}", { sound: walkSound.SIGNALS[on], side: walkSound.SIDES[walkSound.side] }) : "";
    if (plays.textContent !== words) plays.textContent = words;
    toggle.classList.toggle("on", Boolean(on));
  };
  const play = () => { level.value = walkSound.START_DB; walkSound.start(signal.value, side.value); };
  walkSound.onChange(showSound);
  go.addEventListener("click", play);
  halt.addEventListener("click", walkSound.stop);
  level.addEventListener("input", () => { walkSound.setLevel(Number(level.value)); showSound(); });
  toggle.addEventListener("click", () => { sound.hidden = !sound.hidden; toggle.setAttribute("aria-expanded", String(!sound.hidden)); });
  sound.append(el("p", { className: "caution-line" }, say("Begins at −40 dB. Loud noise damages hearing: no headphones, nobody at a box, raise slowly.")),
    el("label", {}, `${say("Signal")} `, signal), el("label", {}, `${say("Side")} `, side), el("label", { className: "level" }, say("Level"), shown, level), go);
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
  // nothing stays behind the bar, however high it is
  new ResizeObserver(() => document.documentElement.style.setProperty("--bar", `${bar.offsetHeight}px`)).observe(bar);
  showSound();
  show(false);
  again();
})();
