"use strict";
// Finds tags in the lists of tags.js: sheets are [file, number, title, drawing
// number, subject, words], tags are [text, kind, sheet, mark, sheet, mark, ...].
(() => {
  const most = 40; // things that are listed
  const plain = s => s.toUpperCase().replace(/\s+/g, "");
  const things = new Map(); // by text
  const file = (text, kind, sheet, mark) => {
    if (!things.has(text)) things.set(text, {text, key: plain(text), kinds: new Set(), marks: new Map()});
    const thing = things.get(text);
    thing.kinds.add(kind);
    if (!thing.marks.get(sheet)) thing.marks.set(sheet, mark);
  };
  sheets.forEach((s, i) => {
    if (s[4] !== "") file(s[4], s[5], i, "");
  });
  for (const [text, kind, ...at] of tags) {
    for (let i = 0; i < at.length; i += 2) file(text, kind, at[i], at[i + 1]);
  }
  sheets.forEach((s, i) => file(s[3], s[2], i, ""));
  for (const thing of things.values()) {
    thing.kind = [...thing.kinds].join(", ");
    thing.words = plain(thing.kind);
  }

  // 0 for the tag itself, 1 for a tag that begins so, 2 for one that holds it, 3
  // for what is described so, 4 for all else.
  const rank = (thing, typed) => thing.key === typed ? 0 : thing.key.startsWith(typed) ? 1 : thing.key.includes(typed) ? 2 :
    thing.words.includes(typed) ? 3 : 4;

  const element = (name, text, parent) => {
    const e = document.createElement(name);
    e.textContent = text;
    parent.append(e);
    return e;
  };

  const found = document.getElementById("found");
  const box = document.getElementById("find");

  function show() {
    const typed = plain(box.value);
    found.replaceChildren();
    if (typed === "") return;
    const ranks = [[], [], [], []];
    for (const thing of things.values()) {
      const r = rank(thing, typed);
      if (r < ranks.length) ranks[r].push(thing);
    }
    const all = ranks.flat();
    if (all.length === 0) {
      element("p", "Nothing is tagged " + box.value.trim() + ".", found);
      return;
    }
    const list = element("dl", "", found);
    for (const thing of all.slice(0, most)) {
      const head = element("dt", thing.text + " ", list);
      element("span", thing.kind, head);
      const row = element("dd", "", list);
      for (const [i, mark] of [...thing.marks].sort((a, b) => a[0] - b[0])) {
        const [file, number, title] = sheets[i];
        const a = element("a", number + "  " + title, row);
        a.href = encodeURI(file) + (mark === "" ? "" : "#" + encodeURIComponent(mark));
      }
    }
    if (all.length > most) element("p", "and " + (all.length - most) + " more: type more of the tag", found);
  }

  box.value = new URLSearchParams(location.search).get("find") || box.value;
  box.addEventListener("input", show);
  // Enter opens the first sheet.
  box.form.addEventListener("submit", e => {
    e.preventDefault();
    const first = found.querySelector("a");
    if (first) location.href = first.href;
  });
  show();
})();
