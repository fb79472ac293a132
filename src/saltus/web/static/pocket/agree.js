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
        const guardian = athlete.minor ? screen.querySelector("[data-set=guardian]").value.trim() : "";
        const fault = (name) => {
          const told = screen.querySelector("[data-text=fault]");
          told.textContent = word(name);
          told.hidden = false;
        };
        if (athlete.minor && !guardian) {
          fault("guardian-first");
          return;
        }
        if (!screen.querySelector("[data-set=read]").checked) {
          fault("agree-first");
          return;
        }
        const session = sessions.find(({ date }) => date === today) ?? { id: newId(), date: today };
        for (const { id } of open) {
          await app.add(session, "agree", { caution: id, by: "athlete", guardian });
        }
        app.draw();
      },
    },
  });
  return screen;
}
