// The filters work by style alone; this only says how many lots are left, for those who do not see the list shrink.
(() => {
  const form = document.querySelector("form.filter");
  if (!form) return;
  const out = form.querySelector("output");
  const tell = () => {
    const chosen = [...form.querySelectorAll("select")].some((s) => s.value);
    const left = [...document.querySelectorAll("[data-fit]")].filter((e) => e.getClientRects().length > 0).length;
    out.textContent = !chosen ? "" : left === 0 ? out.dataset.none : out.dataset.some.replace("#", left);
  };
  form.addEventListener("change", tell);
  form.addEventListener("reset", () => setTimeout(tell)); // after the fields are empty again
})();
