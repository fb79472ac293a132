// Places of the body with a level from 0 to 10: for soreness and for pain.

import { copy, number, word } from "./page.js";

// `names` is the plain list of the bundle: [{value, name}] or words. `kind` is "sore" or "pain";
// `changed` hears the new list.
export function places(names, kind, chosen, changed, { open = false } = {}) {
  let opened = open;
  const root = document.createElement("div");
  const list = names.map((each) => (typeof each === "string" ? { value: each, name: each } : each));
  const nameOf = (value) => list.find((each) => each.value === value)?.name ?? value;

  function draw(focus) {
    const part = copy("places", {
      text: { fault: null, how: word(kind === "pain" ? "how-much" : "how-sore"), low: `0 ${word(`${kind}-0`)}`, high: `10 ${word(`${kind}-10`)}` },
      show: { open: opened, closed: !opened },
      list: {
        chosen: chosen.map(({ place, level }) => {
          const what = word("place-level", { place: nameOf(place), level: number(level) });
          return copy("chosen", {
            text: { what },
            set: { away: { ariaLabel: word("take-away", { what }) } },
            act: { away: () => { chosen = chosen.filter((each) => each.place !== place); changed(chosen); draw("open"); } },
          });
        }),
        levels: Array.from({ length: 11 }, (_, level) =>
          copy("level", { text: { level: number(level) }, act: { choose: () => choose(level) } })),
      },
      act: { open: () => { opened = true; draw("place"); } },
    });
    const select = part.querySelector("[data-set=place]");
    select.append(new Option(word("choose-place"), ""), ...list.map(({ value, name }) => new Option(name, value)));
    part.querySelector("[data-list=levels]").setAttribute("aria-label", word(kind === "pain" ? "how-much" : "how-sore"));
    root.replaceChildren(part);
    if (focus === "place") select.focus();
    if (focus === "open") part.querySelector("[data-do=open]").focus();

    function choose(level) {
      const place = select.value;
      if (!place) {
        const fault = part.querySelector("[data-text=fault]");
        fault.textContent = word("choose-place");
        fault.hidden = false;
        select.focus();
        return;
      }
      chosen = [...chosen.filter((each) => each.place !== place), { place, level }];
      opened = false;
      changed(chosen);
      draw("open");
    }
  }

  draw();
  return root;
}
