"use strict";
// Finds tags in the lists of tags.js: sheets are [file, number, title, drawing
// number, subject, words], tags are [text, kind, sheet, mark, sheet, mark, ...].
(() => {
  const most = 40; // things that are listed
  // A blank, a colon and a stroke part words alike.
  const plain = s => s.toUpperCase().split(/[\s:\/]+/).filter(w => w !== "");
  const things = new Map(); // by text
  const file = (text, kind, sheet, mark) => {
    if (!things.has(text)) things.set(text, {text, kinds: new Set(), marks: new Map()});
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
    thing.key = plain(thing.text);
    thing.all = thing.key.concat(plain(thing.kind.replace(/,/g, " ")));
    thing.joined = thing.key.join(" ");
  }
  const natural = new Intl.Collator("en", {numeric: true});
  const ordered = [...things.values()].sort((a, b) => natural.compare(a.text, b.text));

  // 0 for the tag itself, 1 for one that begins so, 2 for one that holds all that
  // is typed, 3 for one with all its words, 4 for all its words among what the
  // thing is too, 5 and 6 for parts of words, 7 for all else.
  const rank = (thing, words, typed) => {
    const whole = list => words.every(w => list.includes(w));
    const part = list => words.every(w => list.some(x => x.includes(w)));
    return thing.joined === typed ? 0 : thing.joined.startsWith(typed) ? 1 : thing.joined.includes(typed) ? 2 :
      whole(thing.key) ? 3 : whole(thing.all) ? 4 : part(thing.key) ? 5 : part(thing.all) ? 6 : 7;
  };

  const element = (name, text, parent) => {
    const e = document.createElement(name);
    e.textContent = text;
    parent.append(e);
    return e;
  };

  const found = document.getElementById("found");
  const box = document.getElementById("find");

  function show() {
    const words = plain(box.value), typed = words.join(" ");
    found.replaceChildren();
    if (typed === "") return;
    const ranks = [[], [], [], [], [], [], []];
    for (const thing of ordered) {
      const r = rank(thing, words, typed);
      if (r < ranks.length) ranks[r].push(thing);
    }
    const all = ranks.flat();
    if (all.length === 0) {
      element("p", "No match for " + box.value.trim() + ".", found);
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
