// On the other pages of an athlete: signing out takes along what the phone shows without a signal.

import { forget } from "./leaving.js";

for (const form of document.querySelectorAll("form.sign-out")) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    forget().finally(() => form.submit());
  });
}
