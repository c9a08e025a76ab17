"use strict";
// The block in other colours, and as other eyes see it.

const block = JSON.parse(byId("block-data").textContent);
const worn = {}; // the colour each fabric is shown in, by its letter

(() => {
  const letters = Object.keys(block.fabrics);
  const told = byId("alike").innerHTML;
  const root = document.documentElement;

  const listed = (items) => (items.length < 2 ? items.join("") : items.slice(0, -1).join(", ") + " and " + items.at(-1));

  function warn() {
    const place = byId("alike");
    if (letters.every((letter) => worn[letter] === block.fabrics[letter].colour)) {
      if (place.innerHTML !== told) place.innerHTML = told;
      return;
    }
    const list = document.createElement("ul");
    list.className = "warnings";
    for (const [a, b] of block.pairs) {
      const sights = [];
      for (const [sight, words] of Object.entries(block.sights)) {
        const matrix = block.matrices[sight];
        const apart = colour.difference(colour.seen(worn[a], matrix), colour.seen(worn[b], matrix));
        if (apart < block.limit) sights.push(`${words} (${apart.toFixed(1)})`);
      }
      if (!sights.length) continue;
      const item = document.createElement("li");
      const strong = document.createElement("strong");
      strong.textContent = "Hard to tell apart:";
      item.append(strong, " ", named(a), " and ", named(b), `, which meet at a seam, to ${listed(sights)}.`);
      list.append(item);
    }
    if (list.children.length) place.replaceChildren(list);
    else {
      const words = document.createElement("p");
      words.textContent = "Every two fabrics that meet at a seam can be told apart: by usual eyes, and by eyes without red, green or blue cones.";
      place.replaceChildren(words);
    }
  }

  function named(letter) {
    const name = document.createElement("bdi");
    name.textContent = `${letter} ${block.fabrics[letter].name}`;
    return name;
  }

  function show() {
    for (const letter of letters) {
      root.style.setProperty(`--${letter}`, worn[letter]);
      root.style.setProperty(`--value-${letter}`, colour.grey(worn[letter]));
      byId(`colour-${letter}`).value = worn[letter];
      const select = byId(`cloth-${letter}`);
      const own = [...select.options].find((option) => option.value === worn[letter]);
      if (select.value !== worn[letter]) select.value = own ? worn[letter] : "";
      document.querySelectorAll(`[data-recipe-colour="${letter}"]`).forEach((place) => (place.textContent = worn[letter]));
    }
    byId("recolour-back").disabled = letters.every((letter) => worn[letter] === block.fabrics[letter].colour);
    warn();
  }

  function wear(changes) {
    Object.assign(worn, changes);
    kept.set(Object.fromEntries(
      letters.map((letter) => [letter, worn[letter] === block.fabrics[letter].colour ? "" : worn[letter].slice(1)])
    ));
    show();
  }

  function restore() {
    for (const letter of letters) {
      const text = kept.get(letter);
      worn[letter] = /^[0-9a-f]{6}$/i.test(text) ? "#" + text.toLowerCase() : block.fabrics[letter].colour;
    }
    show();
    const sight = Object.hasOwn(block.sights, kept.get("sight")) ? kept.get("sight") : "usual";
    byId("sight").value = sight;
    look(sight);
  }

  function look(sight) {
    root.className = [...root.classList].filter((name) => !name.startsWith("sight-")).join(" ");
    if (sight !== "usual") root.classList.add(`sight-${sight}`);
  }

  for (const letter of letters) {
    byId(`colour-${letter}`).addEventListener("input", (event) => wear({ [letter]: event.target.value }));
    byId(`cloth-${letter}`).addEventListener("change", (event) => {
      if (event.target.value) wear({ [letter]: event.target.value });
      else byId(`colour-${letter}`).focus();
    });
  }
  byId("recolour-back").addEventListener("click", () => {
    wear(Object.fromEntries(letters.map((letter) => [letter, block.fabrics[letter].colour])));
    byId("sight").focus();
  });
  byId("sight").addEventListener("change", (event) => {
    kept.set({ sight: event.target.value === "usual" ? "" : event.target.value });
    look(event.target.value);
  });
  kept.whenChanged(restore);
  restore();
})();
