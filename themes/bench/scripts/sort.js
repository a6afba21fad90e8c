// Tables whose head says so can be sorted by a column. Without this script they stand in the order of the page.
"use strict";
(() => {
  for (const table of document.querySelectorAll("table[data-sortable]")) {
    const heads = [...table.tHead.rows[0].cells], body = table.tBodies[0];
    heads.forEach((head, column) => {
      if (!head.hasAttribute("data-sort")) return;
      const button = document.createElement("button");
      button.type = "button";
      button.className = "sorter";
      button.append(...head.childNodes);
      head.append(button);
      button.addEventListener("click", () => {
        const down = head.getAttribute("aria-sort") !== "descending";
        heads.forEach(h => h.removeAttribute("aria-sort"));
        head.setAttribute("aria-sort", down ? "descending" : "ascending");
        const value = row => Number(row.cells[column].dataset.value || "-1");
        [...body.rows].map((row, at) => ({ row, at })).sort((a, b) => (down ? value(b.row) - value(a.row) : value(a.row) - value(b.row)) || a.at - b.at)
          .forEach(({ row }) => body.append(row));
      });
    });
  }
})();
