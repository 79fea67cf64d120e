// The Find field: a combobox with a list (W3C ARIA Authoring Practices). What it finds stands in find-data.js, which is
// read when the field is first used; a script tag reads it, so that it works from a memory stick.
"use strict";
(() => {
  const box = document.querySelector("[data-find]");
  if (!box) return;
  const field = box.querySelector("input"), list = box.querySelector("[role=listbox]"), status = box.querySelector("[role=status]");
  const MOST = 40;
  const LETTERS = { ß: "ss", æ: "ae", œ: "oe", ø: "o", ł: "l", đ: "d", ð: "d", þ: "th", ı: "i" };
  let things = null, asked = false, shown = [], at = -1;
  box.hidden = false;

  // without accents and capitals; signs between words fall away
  const fold = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/[ßæœøłđðþı]/g, (c) => LETTERS[c]);
  const split = (text) => fold(text).split(/[^\p{L}\p{N}]+/u).filter(Boolean);

  const load = () => {
    if (asked) return;
    asked = true;
    const script = document.createElement("script");
    script.src = box.dataset.find;
    script.addEventListener("load", () => {
      const data = window.rigbookFind;
      things = data.rows.map(([sort, text, detail, href, more], order) => {
        const own = split(text), words = [...own, ...split(more)];
        // a step, a line of the line check and a heading say what they are about, they are not called so
        return { sort, text, detail, href, order, name: data.sorts[sort], words, bare: own.join(""), own: ` ${own.join(" ")} `, hay: ` ${words.join(" ")} `, run: words.join(""), about: data.about.includes(sort) };
      });
      if (document.activeElement === field) find();
    });
    script.addEventListener("error", () => { asked = false; tell(say("What can be found could not be read."), true); });
    document.head.append(script);
  };

  // 0 is its name, 1 its name without what it belongs to (a unit, a desk), 2 its name begins so, 3 its name holds these
  // words in a row, 4 so do its other words, 5 what is about it begins so, 6 all are words of it, 7 they begin its words,
  // 8 they stand in it; a number is a word, or begins one
  const NONE = 9, number = (t) => /^\p{N}+$/u.test(t);
  const rank = (thing, tokens, bare) => {
    if (thing.bare === bare) return 0;
    const row = ` ${tokens.join(" ")} `;
    if (!thing.about) {
      if (thing.own.endsWith(row) && !number(bare)) return 1;
      if (thing.bare.startsWith(bare)) return 2;
      if (thing.own.includes(row)) return 3;
    }
    if (thing.hay.includes(row)) return 4;
    if (thing.bare.startsWith(bare)) return 5;
    if (tokens.every((t) => thing.words.includes(t))) return 6;
    if (tokens.every((t) => thing.hay.includes(` ${t}`))) return 7;
    return tokens.every((t) => thing.hay.includes(number(t) ? ` ${t}` : t)) || (!number(bare) && thing.run.includes(bare)) ? 8 : NONE;
  };

  // true where a word becomes the other, or its beginning, by one letter more, less, other, or two changed about
  const slip = (typed, word) => {
    let i = 0;
    while (i < typed.length && typed[i] === word[i]) i += 1;
    const rest = (from, to) => word.slice(to).startsWith(typed.slice(from));
    return rest(i + 1, i + 1) || rest(i + 1, i) || rest(i, i + 1) || (typed[i] === word[i + 1] && typed[i + 1] === word[i] && rest(i + 2, i + 2));
  };

  // what was nearly typed: the words of the book that a word of four letters or more slipped from; numbers are meant
  const nearly = (tokens) => {
    const known = [...new Set(things.flatMap((thing) => thing.words))];
    const meant = tokens.map((t) => (t.length < 4 || number(t) ? null : new Set(known.filter((word) => slip(t, word)))));
    if (!meant.some((words) => words?.size)) return [];
    const fits = (thing, t, n) => (meant[n] ? thing.words.some((word) => meant[n].has(word) || word.startsWith(t)) : thing.words.includes(t));
    const own = (thing) => tokens.filter((t, n) => split(thing.text).some((word) => (meant[n] ? meant[n].has(word) : word === t))).length;
    return things.filter((thing) => tokens.every((t, n) => fits(thing, t, n))).sort((a, b) => own(b) - own(a) || a.sort - b.sort || a.order - b.order);
  };

  const search = (text) => {
    const tokens = split(text), bare = tokens.join("");
    if (!bare) return [[], false];
    const found = things.map((thing) => [rank(thing, tokens, bare), thing]).filter(([r]) => r < NONE)
      .sort(([r, a], [s, b]) => r - s || a.sort - b.sort || a.order - b.order).map(([, thing]) => thing);
    return found.length ? [found, false] : [nearly(tokens), true];
  };

  const make = (tag, attributes, ...inside) => {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...inside);
    return made;
  };

  const find = () => {
    if (!things) return;
    const [found, near] = search(field.value);
    const groups = new Map();
    for (const thing of found.slice(0, MOST)) groups.set(thing.name, [...(groups.get(thing.name) || []), thing]);
    shown = [...groups.values()].flat();
    list.replaceChildren(...(near && found.length ? [make("div", { class: "find-more soft", role: "presentation" }, say("Nothing is called so, {n} nearly", { n: found.length }))] : []), ...[...groups].map(([name, members], g) => make("div", { role: "group", "aria-labelledby": `find-sort-${g}` },
      make("div", { class: "find-sort", id: `find-sort-${g}`, role: "presentation" }, name),
      ...members.map((thing) => {
        const option = make("div", { role: "option", id: `find-${shown.indexOf(thing)}`, class: "find-option", "aria-selected": "false" }, make("b", {}, thing.text));
        if (thing.detail) option.append(" ", make("span", { class: "soft" }, thing.detail));
        return option;
      }))));
    if (found.length > MOST) list.append(make("div", { class: "find-more soft", role: "presentation" }, say("and {n} more", { n: found.length - MOST })));
    open(shown.length > 0);
    select(shown.length ? 0 : -1);
    tell(!split(field.value).length ? "" : !found.length ? say("Nothing found") : near ? say("Nothing is called so, {n} nearly", { n: found.length }) : say("{n} found", { n: found.length }), !found.length);
  };

  // said to those who listen; shown as well where there is no list to see
  const tell = (text, seen) => {
    status.textContent = text;
    status.classList.toggle("quiet", !text || !seen);
  };

  const open = (is) => {
    list.hidden = !is;
    field.setAttribute("aria-expanded", String(is));
    if (!is) { at = -1; field.removeAttribute("aria-activedescendant"); }
  };

  const select = (to) => {
    document.getElementById(`find-${at}`)?.setAttribute("aria-selected", "false");
    at = to;
    if (at < 0) return field.removeAttribute("aria-activedescendant");
    const option = document.getElementById(`find-${at}`);
    option.setAttribute("aria-selected", "true");
    option.scrollIntoView({ block: "nearest" });
    return field.setAttribute("aria-activedescendant", option.id);
  };

  const go = (thing) => {
    open(false);
    field.value = "";
    field.blur();
    location.href = thing.href;
  };

  field.addEventListener("focus", () => { load(); if (field.value) find(); });
  field.addEventListener("input", () => { load(); find(); });
  field.addEventListener("keydown", (event) => {
    if (event.isComposing) return;
    const last = shown.length - 1;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (list.hidden) find();
      else select(event.key === "ArrowDown" ? (at < last ? at + 1 : 0) : (at > 0 ? at - 1 : last));
    } else if (event.key === "Enter" && !list.hidden && shown.length) {
      event.preventDefault();
      go(shown[Math.max(at, 0)]);
    } else if (event.key === "Escape") {
      event.preventDefault();
      if (list.hidden && !field.value) field.blur();
      field.value = "";
      tell("", false);
      open(false);
    }
  });
  list.addEventListener("mousedown", (event) => event.preventDefault());
  list.addEventListener("click", (event) => {
    const option = event.target.closest("[role=option]");
    if (option) go(shown[Number(option.id.slice(5))]);
  });
  box.addEventListener("focusout", (event) => { if (!box.contains(event.relatedTarget)) { tell("", false); open(false); } });
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest?.("input:not([type=checkbox], [type=radio], [type=button]), textarea, select, [contenteditable]");
    if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || typing) return;
    event.preventDefault();
    field.focus();
    field.select();
  });
})();
