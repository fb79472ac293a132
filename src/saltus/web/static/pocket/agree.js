// The usual cautions, read and agreed to before the first time.

import { copy, word } from "./page.js";
import { newId } from "./store.js";

export function agree(app) {
  const { cautions, athlete, sessions } = app.bundle;
  const { today } = app;
  const open = cautions.filter(({ agreed }) => !agreed);
  app.busy = true;
  const screen = copy("agree", {
    text: { fault: null },
    show: { minor: athlete.minor },
    list: { cautions: cautions.map(({ text }) => copy("caution", { text: { text } })) },
    act: {
      agree: async () => {
        const ticked = (name) => screen.querySelector(`[data-set=${name}]`).checked;
        if (!ticked("read") || (athlete.minor && !ticked("guardian"))) {
          const fault = screen.querySelector("[data-text=fault]");
          fault.textContent = word("agree-first");
          fault.hidden = false;
          return;
        }
        const session = sessions.find(({ date }) => date === today) ?? { id: newId(), date: today };
        const by = athlete.minor ? "athlete and guardian" : "athlete";
        for (const { id } of open) await app.add(session, "agree", { caution: id, by });
        app.draw();
      },
    },
  });
  return screen;
}
