"use strict";
// What can be taken along: the recipe, and drawings in the colours shown.

(() => {
  const said = byId("copied");

  byId("copy").addEventListener("click", async () => {
    const place = byId("recipe-text");
    try {
      await navigator.clipboard.writeText(place.textContent);
      said.textContent = "Copied.";
    } catch {
      getSelection().selectAllChildren(place);
      said.textContent = document.execCommand("copy") ? "Copied." : "It is selected: copy it with your keyboard.";
    }
    setTimeout(() => (said.textContent = ""), 4000);
  });

  function coloured(svg, values) {
    const copy = svg.cloneNode(true);
    for (const path of copy.querySelectorAll('[class*="fabric-"]')) {
      const letter = [...path.classList].find((name) => name.startsWith("fabric-")).slice(7);
      path.setAttribute("fill", values ? colour.grey(worn[letter]) : worn[letter]);
      path.removeAttribute("data-patch");
    }
    const [, , width, height] = copy.getAttribute("viewBox").split(" ").map(Number);
    for (const name of ["class", "focusable", "aria-labelledby", "data-box", "id"]) copy.removeAttribute(name);
    copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
    copy.setAttribute("width", `${width / 96}in`);
    copy.setAttribute("height", `${height / 96}in`);
    return new XMLSerializer().serializeToString(copy) + "\n";
  }

  function save(text, name) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }

  const what = {
    cloth: () => coloured(document.querySelector("#plate svg"), false),
    values: () => coloured(document.querySelector("svg.values"), true),
    quilt: () => coloured(byId("quilt-picture"), false),
  };
  document.querySelectorAll("[data-save]").forEach((button) => {
    button.addEventListener("click", () => save(what[button.dataset.save](), `${block.name}-${button.dataset.save}.svg`));
  });
})();
