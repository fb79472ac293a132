// A session that was not planned.

import { copy, longDay, word } from "./page.js";
import { newId } from "./store.js";

const DAYS_BACK = 14;

function dayBefore(date, days) {
  const at = new Date(`${date}T12:00:00Z`);
  at.setUTCDate(at.getUTCDate() - days);
  return at.toISOString().slice(0, 10);
}

export function free(app) {
  app.busy = true;
  const { today } = app;
  let pressed = false;
  const screen = copy("free", {
    text: { fault: null },
    act: {
      begin: async () => {
        const what = screen.querySelector("[data-set=what]").value.trim();
        if (!what) {
          const fault = screen.querySelector("[data-text=fault]");
          fault.textContent = word("write-what");
          fault.hidden = false;
          screen.querySelector("[data-set=what]").focus();
          return;
        }
        if (pressed) return;
        pressed = true;
        const session = { id: newId(), date: screen.querySelector("[data-set=date]").value };
        await app.add(session, "start", { planned: null, free: true, what });
        app.go(`/session/${session.id}`);
      },
    },
  });
  screen.querySelector("[data-set=date]").append(
    ...Array.from({ length: DAYS_BACK }, (_, back) => {
      const date = dayBefore(today, back);
      return new Option(back ? longDay(date) : word("today"), date);
    }));
  return screen;
}
