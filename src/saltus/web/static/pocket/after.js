// How hard it was, how long it took, and remarks.

import { copy, number, word, hasWord } from "./page.js";
import { minutes } from "./session.js";
import { read } from "./units.js";

export function after(app, session) {
  app.busy = true;
  const known = session.done.after?.data ?? {};
  let effort = known.effort ?? null;
  const clock = session.date === app.today ? minutes(session.done, session.entries) : null;
  const told = known.minutes ?? clock;

  const levels = Array.from({ length: 11 }, (_, level) =>
    copy("level", { text: { level: number(level) }, act: { choose: () => choose(level) } }));

  const name = (level) => {
    let at = level;
    while (at > 0 && !hasWord(`effort-${at}`)) at -= 1;
    return word(`effort-${at}`);
  };

  function choose(level) {
    effort = level;
    levels.forEach((button, i) => { button.ariaPressed = String(i === level); });
    const said = screen.querySelector("[data-text=word]");
    said.hidden = false;
    said.textContent = `${number(level)}: ${name(level)}`;
  }

  const field = (which) => screen.querySelector(`[data-set=${which}]`);
  const screen = copy("after", {
    text: { word: null, fault: null, low: `${number(0)} ${word("effort-0")}`, high: `${number(10)} ${word("effort-10")}` },
    show: { landings: !session.items.length },
    list: { levels },
    set: {
      minutes: { value: told === null ? "" : number(told, 0) },
      landings: { value: known.landings == null ? "" : number(known.landings, 0) },
      note: { value: known.note ?? "" },
    },
    act: {
      keep: async () => {
        const [time, landings] = ["minutes", "landings"].map((which) => read(field(which).value, "plain"));
        if (Number.isNaN(time) || Number.isNaN(landings)) {
          const fault = screen.querySelector("[data-text=fault]");
          fault.textContent = word("number-wrong");
          fault.hidden = false;
          return;
        }
        const still = app.here();
        const data = { effort, minutes: time, note: field("note").value.trim() };
        if (landings !== null) data.landings = Math.round(landings);
        await app.add(session, "after", data);
        app.rest.stop();
        if (still()) app.go(`/session/${session.id}`);
      },
    },
  });
  if (effort !== null) choose(effort);
  else levels.forEach((button) => { button.ariaPressed = "false"; });
  return screen;
}
