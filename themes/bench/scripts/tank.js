// A tank drawn by month: the slider shows as many figures of each planting, and as tall, as were counted then. Without this
// script four months stand as small drawings.
"use strict";
(() => {
  for (const slide of document.querySelectorAll(".slide[data-months]")) {
    const months = slide.dataset.months.split("|"), input = slide.querySelector("input"), said = slide.querySelector("output");
    const beds = [...slide.parentNode.querySelectorAll(".d-tank g[data-n]")].map(bed => ({
      n: bed.dataset.n.split(" ").map(Number), tall: (bed.dataset.tall || "").split(" ").map(Number),
      uses: [...bed.children].map(use => ({ use, at: use.getAttribute("transform") })),
    }));
    const show = m => {
      said.textContent = months[m];
      input.setAttribute("aria-valuetext", months[m]);
      for (const bed of beds) {
        bed.uses.forEach(({ use, at }, i) => {
          if (i < bed.n[m]) use.removeAttribute("display"); else use.setAttribute("display", "none");
          if (bed.tall.length > 1) use.setAttribute("transform", at + "scale(" + bed.tall[m] / bed.tall[bed.tall.length - 1] + ")");
        });
      }
    };
    input.max = String(months.length - 1);
    input.value = input.max;
    input.addEventListener("input", () => show(Number(input.value)));
    said.textContent = months[months.length - 1];
    slide.hidden = false;
    const stills = slide.parentNode.querySelector(".stills");
    if (stills) stills.classList.add("by-month");
  }
})();
