"use strict";
(() => {
  const root = document.documentElement;
  const set = document.querySelector(".set");
  const make = (name, attributes, words) => {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    if (words !== undefined) element.textContent = words;
    return element;
  };

  // A switch of which one choice is pressed.
  const choice = (label, options, chosen) => {
    const group = make("div", { class: "switch", role: "group", "aria-label": label });
    options.forEach(([value, words], i) => {
      const button = make("button", { type: "button", "aria-pressed": String(i === 0) }, words);
      button.addEventListener("click", () => {
        for (const b of group.children) b.setAttribute("aria-pressed", String(b === button));
        chosen(value);
      });
      group.append(button);
    });
    set.append(group);
  };

  choice("Look of the page", [["", "as device"], ["light", "light"], ["dark", "dark"]], (look) => {
    if (look) root.dataset.look = look;
    else delete root.dataset.look;
  });

  // What is folded stands open on paper.
  let opened = [];
  window.addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll("details:not([open])")];
    for (const fold of opened) fold.open = true;
  });
  window.addEventListener("afterprint", () => {
    for (const fold of opened) fold.open = false;
  });
})();
