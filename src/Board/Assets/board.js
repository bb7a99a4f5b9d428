// Pages work without this. With it a page shows what is new by itself, and what came of a form has the focus.
(() => {
  "use strict";
  const every = 15000;
  const said = document.getElementById("said");
  if (said) { said.focus(); }

  const main = () => document.getElementById("main");
  // Nothing is taken away from under somebody who is at it, has opened something, typed, or was just told that something was not done.
  const isBusy = () => {
    const active = document.activeElement;
    return (active && active !== main() && active.id !== "said" && main()?.contains(active))
      || document.querySelector("main details[open], #said.refused") !== null
      || [...document.querySelectorAll("main form:not(.filter) input:not([type=hidden]), main form:not(.filter) select")].some(i => i.value !== (i.defaultValue ?? [...i.options].find(o => o.defaultSelected)?.value ?? ""));
  };

  const look = async () => {
    const stamp = main()?.dataset.stamp;
    if (!stamp || document.hidden || isBusy()) { return; }
    const now = await (await fetch("/api/stamp?of=" + main().dataset.of, { headers: { accept: "application/json" } })).json();
    if (now.stamp === stamp || isBusy()) { return; }
    const page = await fetch(location.href, { headers: { accept: "text/html" } });
    if (!page.ok || page.redirected) { return; }
    const fresh = new DOMParser().parseFromString(await page.text(), "text/html").getElementById("main");
    if (fresh && !isBusy()) { main().replaceWith(document.adoptNode(fresh)); followPointer(); }
  };

  // The values under the pointer: the row of the table below the chart whose days lie there.
  const followPointer = () => document.querySelectorAll("figure.chart").forEach(figure => {
    const svg = figure.querySelector("svg"), rows = [...figure.querySelectorAll("tr[data-left]")];
    if (!svg || rows.length === 0 || figure.dataset.followed) { return; }
    figure.dataset.followed = "yes";
    const heads = [...figure.querySelectorAll("thead th")].slice(1).map(h => h.textContent);
    const readout = figure.insertBefore(document.createElement("p"), figure.firstChild);
    readout.className = "readout";
    readout.setAttribute("aria-hidden", "true");
    readout.textContent = "Point at the chart to read its values.";
    const guide = svg.parentElement.appendChild(document.createElement("div"));
    guide.className = "guide";
    guide.hidden = true;
    svg.addEventListener("pointermove", e => {
      const box = svg.getBoundingClientRect(), width = svg.viewBox.baseVal.width, x = (e.clientX - box.left) / box.width * width;
      const row = rows.find(r => x >= +r.dataset.left && x < +r.dataset.right);
      guide.hidden = !row;
      if (!row) { return; }
      guide.style.left = `${(+row.dataset.left + +row.dataset.right) / 2 / width * box.width + svg.offsetLeft}px`;
      guide.style.height = `${box.height}px`;
      const cells = [...row.cells].map(c => c.textContent);
      readout.textContent = cells[0] + ": " + heads.map((h, i) => cells[i + 1] ? `${h} ${cells[i + 1]}` : null).filter(t => t).join("; ");
    });
    svg.addEventListener("pointerleave", () => { guide.hidden = true; });
  });
  followPointer();

  setInterval(() => look().catch(() => { /* The Board is away; the page stands as it is, and is looked after again. */ }), every);
})();
