// Three short questions before a session, and the warm-up jump where one says something.

import { copy, number, word } from "./page.js";
import { places } from "./places.js";
import { read, typed, unitOf } from "./units.js";

const USUAL_SLEEP_H = 8;

export function before(app, session) {
  app.busy = true;
  const known = session.done.before?.data ?? {};
  let { sleep_hours: sleep = null, soreness = [], pain = [] } = known;
  const { form } = session;
  const asksJump = Boolean(form && !session.items.some(({ exercise }) => exercise === form.exercise));
  const jumped = session.done.others.find(({ data }) => data.exercise === form?.exercise);
  const path = `/session/${session.id}`;
  const still = app.here();

  const onward = () => {
    if (!still()) return;
    const now = app.session(session.id).done;
    const at = now.items.findIndex(({ done }) => !done);
    app.go(at < 0 ? path : `${path}/exercise/${at}`);
  };

  const tellSleep = (change) => {
    sleep = sleep === null ? USUAL_SLEEP_H : Math.min(16, Math.max(0, sleep + change));
    screen.querySelector("[data-text=sleep]").textContent = word("hours", { hours: number(sleep, 1) });
  };

  const screen = copy("before", {
    text: {
      "jump-name": asksJump && form.name ? word("jump-of", { name: form.name }) : word("jump-any"),
      sleep: sleep === null ? word("not-told") : word("hours", { hours: number(sleep, 1) }), fault: null,
    },
    show: { jump: asksJump },
    list: {
      soreness: [places(app.bundle.places, "sore", soreness, (list) => { soreness = list; })],
      pain: [places(app.bundle.places, "pain", pain, (list) => { pain = list; })],
    },
    set: { jump: { value: typed(jumped?.data.jump_m, "length") } },
    act: {
      less: () => tellSleep(-0.5),
      more: () => tellSleep(0.5),
      leave: onward,
      next: async () => {
        const jump = asksJump ? read(screen.querySelector("[data-set=jump]").value, "length") : null;
        if (Number.isNaN(jump)) {
          const fault = screen.querySelector("[data-text=fault]");
          fault.textContent = word("number-wrong");
          fault.hidden = false;
          return;
        }
        await app.add(session, "before", { sleep_hours: sleep, soreness, pain });
        if (jump !== null && jump !== jumped?.data.jump_m) {
          await app.add(session, "set", {
            exercise: form.exercise, item: null, number: 1, reps: 1, jump_m: jump, replaces: jumped?.id ?? null,
          });
        }
        onward();
      },
    },
  });
  for (const each of screen.querySelectorAll("[data-unit=length]")) each.textContent = `(${unitOf("length")})`;
  return screen;
}
