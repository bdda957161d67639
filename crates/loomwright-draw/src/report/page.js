// Nothing here is needed to read the page: it sorts tables, opens what is folded, and hides what passes.
(() => {
  const number = (text) => {
    const found = text.trim().replace("−", "-").match(/^[+-]?[0-9.]+(e[+-]?[0-9]+)?/i);
    return found ? parseFloat(found[0]) : NaN;
  };
  for (const head of document.querySelectorAll("table.sorts thead th")) {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const table = head.closest("table");
      const body = table.tBodies[0];
      const column = [...head.parentNode.children].indexOf(head);
      const down = head.getAttribute("aria-sort") === "ascending";
      for (const other of head.parentNode.children) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const key = (row) => row.children[column]?.textContent ?? "";
      const rows = [...body.rows].sort((one, other) => {
        const [a, b] = [key(one), key(other)];
        const [m, n] = [number(a), number(b)];
        // Numbers come before words: mixed they would have no order at all.
        if (Number.isNaN(m) !== Number.isNaN(n)) return Number.isNaN(m) ? 1 : -1;
        return m - n || a.localeCompare(b, undefined, { numeric: true });
      });
      if (down) rows.reverse();
      body.append(...rows);
    });
  }
  const tools = document.querySelector(".tools");
  const tool = (names, acts) => {
    const button = document.createElement("button");
    let on = false;
    button.type = "button";
    button.textContent = names[0];
    button.addEventListener("click", () => {
      on = !on;
      button.textContent = names[on ? 1 : 0];
      acts(on);
    });
    tools.append(button);
  };
  tool(["Open all that is folded", "Fold it again"], (on) => {
    for (const one of document.querySelectorAll("details")) one.open = on;
  });
  tool(["Hide notices", "Show notices"], (on) => {
    for (const one of document.querySelectorAll(".finding.is-notice")) one.classList.toggle("gone", on);
  });
  // A link into something folded opens it.
  const open = () => {
    const found = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    for (let one = found; one; one = one.parentElement) if (one.tagName === "DETAILS") one.open = true;
    if (found) found.scrollIntoView();
  };
  addEventListener("hashchange", open);
  open();
})();
