// Pages work without this. With it a page shows what is new by itself, and what came of a form has the focus.
(() => {
  "use strict";
  const every = 15000;
  const said = document.getElementById("said");
  if (said) { said.focus(); }

  const main = () => document.getElementById("main");
  // Nothing is taken away from under somebody who types or has opened something.
  const isBusy = () => {
    const active = document.activeElement;
    return (active && active.closest("form, details, .scroll") !== null)
      || document.querySelector("main details[open] form") !== null
      || [...document.querySelectorAll("main form:not(.filter) input:not([type=hidden]), main form:not(.filter) select")].some(i => i.value !== (i.defaultValue ?? [...i.options].find(o => o.defaultSelected)?.value ?? ""));
  };

  const look = async () => {
    const stamp = main()?.dataset.stamp;
    if (!stamp || document.hidden || isBusy()) { return; }
    const now = await (await fetch("/api/stamp", { headers: { accept: "application/json" } })).json();
    if (now.stamp === stamp || isBusy()) { return; }
    const page = await fetch(location.href, { headers: { accept: "text/html" } });
    if (!page.ok || page.redirected) { return; }
    const fresh = new DOMParser().parseFromString(await page.text(), "text/html").getElementById("main");
    if (fresh && !isBusy()) { main().replaceWith(document.adoptNode(fresh)); }
  };

  setInterval(() => look().catch(() => { /* The Board is away; the page stands as it is, and is looked after again. */ }), every);
})();
