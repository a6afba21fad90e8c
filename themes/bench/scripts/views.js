// The first and the last photo of a view, one over the other: the handle uncovers one or the other, by pointer or keys. Without
// this script all photos stand side by side.
"use strict";
(() => {
  for (const pair of document.querySelectorAll(".pair")) {
    const input = pair.querySelector("input"), last = pair.querySelectorAll("img")[1];
    const show = () => {
      last.style.setProperty("--at", input.value / 100);
      input.setAttribute("aria-valuetext", input.value + " % " + input.dataset.first + ", " + (100 - input.value) + " % " + input.dataset.last);
    };
    input.addEventListener("input", show);
    show();
    pair.hidden = false;
  }
})();
