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

  function coloured(svg, values, wide) {
    const copy = svg.cloneNode(true);
    for (const path of copy.querySelectorAll('[class*="fabric-"]')) {
      const letter = [...path.classList].find((name) => name.startsWith("fabric-")).slice(7);
      path.setAttribute("fill", values ? colour.grey(worn[letter]) : worn[letter]);
      path.removeAttribute("data-patch");
    }
    const [, , width, height] = copy.getAttribute("viewBox").split(" ").map(Number);
    const inch = wide ? width / wide : 96;
    for (const name of ["class", "focusable", "aria-labelledby", "data-box", "id"]) copy.removeAttribute(name);
    copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
    copy.setAttribute("width", `${+(width / inch).toFixed(3)}in`);
    copy.setAttribute("height", `${+(height / inch).toFixed(3)}in`);
    return new XMLSerializer().serializeToString(copy) + "\n";
  }

  const isRecipes = () => Object.keys(worn).every((letter) => worn[letter] === block.fabrics[letter].colour);

  // The figures lie in the page in zlib's format: a quarter as long as they are.
  async function figures() {
    const bytes = Uint8Array.from(atob(block.figures), (char) => char.charCodeAt(0));
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
    const text = await new Response(stream).text();
    if (isRecipes()) return text + "\n";
    const data = JSON.parse(text);
    for (const fabric of data.fabrics) fabric.colour = worn[fabric.letter];
    return JSON.stringify(data) + "\n";
  }

  function save(text, name) {
    const kinds = { svg: "image/svg+xml", csv: "text/csv", json: "application/json", toml: "application/toml" };
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: kinds[name.split(".").at(-1)] }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }

  const carried = {
    cloth: () => coloured(document.querySelector("#plate svg"), false, block.wide),
    values: () => coloured(document.querySelector("svg.values"), true, block.wide),
    "cut-list": () => block.cutList.map(([text, letter]) => (letter ? worn[letter] : text)).join(""),
    figures,
    recipe: () => byId("recipe-text").textContent,
  };

  // What has colours is made here, in those shown; where that cannot be, it is taken as it lies beside the page.
  document.querySelectorAll("[data-carried]").forEach((link) => {
    link.addEventListener("click", async (event) => {
      if (link.dataset.carried === "figures" && !("DecompressionStream" in window)) return;
      event.preventDefault();
      save(await carried[link.dataset.carried](), link.getAttribute("href").split("/").at(-1));
    });
  });
  byId("save-quilt").addEventListener("click", () => {
    save(coloured(byId("quilt-picture"), false), `${block.name}-quilt.svg`);
  });
})();
