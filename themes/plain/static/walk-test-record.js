// What was heard, as it is kept on this device and as it goes out: one entry a day in a file of the plan's language.
// Answers stay with the fingerprint of their step: after a change to the plan, only what it touches is forgotten.
"use strict";
const walkRecord = (data, finder) => {
  const NAME = `rigbook walk ${document.documentElement.dataset.key}`, HEARD = ["hear", "pair", "fader"];
  const shelf = (work) => { try { return work(localStorage); } catch { return null; /* a private window keeps nothing */ } };
  const stepOf = (id) => id.split("\n")[1];
  // a few letters that tell this device's files from those of another
  const made = () => [...crypto.getRandomValues(new Uint8Array(2))].map((n) => n.toString(16).padStart(2, "0")).join("");
  const tag = shelf((s) => s.getItem("rigbook phone")) || made();
  shelf((s) => s.setItem("rigbook phone", tag));

  const needs = new Map();  // step -> what has to be answered before it is as expected
  let kept;

  function load() {
    const old = shelf((s) => JSON.parse(s.getItem(NAME))) || {}, was = old.prints || {};
    const holds = (step) => (step in data.prints ? was[step] === data.prints[step] : old.rig === data.rig);
    const sift = (what, step) => Object.fromEntries(Object.entries(what || {}).filter(([k]) => holds(step(k))));
    kept = { answers: sift(old.answers, stepOf), notes: sift(old.notes, (k) => k), times: sift(old.times, (k) => k), fields: old.fields || {} };
  }
  load();

  const keep = () => shelf((s) => s.setItem(NAME, JSON.stringify({ ...kept, rig: data.rig, prints: data.prints })));
  const said = (id) => kept.answers[id];
  function answer(id, value) {
    if (value === null) delete kept.answers[id]; else kept.answers[id] = value;
    kept.times[stepOf(id)] = Date.now();
  }
  function note(step, text) {
    if (text) kept.notes[step] = text; else delete kept.notes[step];
    kept.times[step] = kept.times[step] || Date.now();
    keep();
  }

  const need = (step, id) => needs.set(step, [...(needs.get(step) || []), id]);
  // everything as it must be that was not said to be otherwise
  const allGood = (step) => { for (const id of needs.get(step) || []) if (!said(id)) answer(id, ""); };

  // of a step: `none` answered, `part`, `good`, or `wrong` with what was heard
  function state(step) {
    const ids = needs.get(step) || [], done = ids.filter((id) => said(id) !== undefined).length, wrong = [];
    for (const [id, value] of Object.entries(kept.answers)) {
      const [kind, play, subject] = id.split("\n");
      if (play !== step || !value || !HEARD.includes(kind)) continue;
      const words = `${subject.replace("|", " & ")} ${finder.words(finder.thing(id), value)}`;
      wrong.push(kind === "fader" ? say("{what} with the fader down", { what: words }) : words);
    }
    const word = wrong.length ? "wrong" : !done ? "none" : done < ids.length ? "part" : "good";
    return { word, done, of: ids.length, wrong };
  }

  const two = (n) => String(n).padStart(2, "0");
  const day = (t) => `${t.getFullYear()}-${two(t.getMonth() + 1)}-${two(t.getDate())}`;
  const time = (t) => `${two(t.getHours())}:${two(t.getMinutes())}`;
  const who = () => kept.fields.by || say("phone {tag}", { tag });
  const q = JSON.stringify;  // YAML reads its double quotes in the same way

  // steps that were heard, by the day on which they last were
  function days() {
    const found = new Map();
    for (const step of Object.keys(data.prints)) {
      if (state(step).word === "none") continue;
      const at = new Date(kept.times[step] || Date.now());
      if (!found.has(day(at))) found.set(day(at), []);
      found.get(day(at)).push([at, step]);
    }
    return [...found].sort().map(([date, rows]) => ({ date, time: time(rows.map((r) => r[0]).reduce((a, b) => (a > b ? a : b))), steps: rows.map((r) => r[1]) }));
  }

  // what stands behind a step: `as expected` is a word of the language, all else is for people
  function result(step) {
    const s = state(step);
    if (s.word === "good") return "as expected";
    return q(s.word === "wrong" ? s.wrong.join(apart.semicolon) : say("not finished, {done} of {of} heard", s));
  }

  function entry({ date, time: at, steps }, last) {
    const notes = [last ? kept.fields.text : "", ...steps.filter((s) => kept.notes[s]).map((s) => `${s}: ${kept.notes[s]}`)].filter(Boolean);
    return [`  - date: ${date}`, `    time: ${at}`, `    by: ${q(who())}`,
      `    rig: ${q(steps.map((s) => `${s}:${data.prints[s]}`).join(" "))}`, "    heard:",
      ...steps.map((s) => `      ${/^[\w.-]+$/.test(s) ? s : q(s)}: ${result(s)}`),
      ...(notes.length ? [`    text: ${q(notes.join("\n\n"))}`] : [])];
  }

  function text() {
    const all = days();
    return all.length ? ["plan: 1", "walk-tests:", ...all.flatMap((d, i) => entry(d, i === all.length - 1))].join("\n") + "\n" : "";
  }

  // unlike that of any other phone, and of this one an hour ago
  function fileName() {
    const last = days().at(-1);
    return last ? `${data.plan}.walk-${last.date}-${last.time.replace(":", "")}-${tag}.yaml` : "";
  }

  function forget() {
    kept = { answers: {}, notes: {}, times: {}, fields: { by: kept.fields.by } };
    keep();
  }

  // another window of this device wrote: its answers are the newer ones
  const onOther = (then) => addEventListener("storage", (e) => { if (e.key === NAME) { load(); then(); } });

  return { id: finder.id, get kept() { return kept; }, keep, said, answer, note, need, allGood, state, text, fileName, forget, onOther };
};
